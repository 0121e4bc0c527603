// Vectors whose memory begins at a cache line, so that no vector of a table straddles two.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <new>
#include <vector>

namespace faultodds::detail {

inline constexpr std::size_t cache_line = 64;  ///< bytes

template <typename T>
struct CacheLineAllocator {
  using value_type = T;

  CacheLineAllocator() = default;
  template <typename U>
  CacheLineAllocator(const CacheLineAllocator<U>&) noexcept {}

  [[nodiscard]] T* allocate(std::size_t count) {
    return static_cast<T*>(::operator new (count * sizeof(T), std::align_val_t{cache_line}));
  }
  void deallocate(T* memory, std::size_t) noexcept { ::operator delete (memory, std::align_val_t{cache_line}); }

  bool operator==(const CacheLineAllocator&) const noexcept { return true; }
};

/// The first place at or after this one, counted in doubles, where a cache line begins.
[[nodiscard]] constexpr std::size_t next_cache_line(std::size_t place) {
  constexpr std::size_t line = cache_line / sizeof(double);
  return (place + line - 1) / line * line;
}

using AlignedDoubles = std::vector<double, CacheLineAllocator<double>>;

}  // namespace faultodds::detail

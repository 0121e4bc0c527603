// SPDX-License-Identifier: BSD-3-Clause
#include "allocations.hpp"

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <new>

namespace {

std::atomic<std::size_t> count{0};
std::atomic<std::size_t> in_use{0};
std::atomic<std::size_t> peak{0};

/// Lies before each block, as far back as the block's alignment requires.
struct Header {
  void* begin = nullptr;  // of what the system gave
  std::size_t bytes = 0;
};

void note(std::size_t bytes) {
  count.fetch_add(1, std::memory_order_relaxed);
  const std::size_t now = in_use.fetch_add(bytes, std::memory_order_relaxed) + bytes;
  std::size_t before = peak.load(std::memory_order_relaxed);
  while (before < now && !peak.compare_exchange_weak(before, now, std::memory_order_relaxed)) {
  }
}

void* counted(std::size_t bytes, std::size_t alignment) {
  const std::size_t room = std::max(alignment, sizeof(Header));
  const std::size_t whole = (bytes + room + alignment - 1) / alignment * alignment;
  auto* const begin = static_cast<char*>(whole < bytes ? nullptr : std::aligned_alloc(alignment, whole));
  if (begin == nullptr) throw std::bad_alloc();
  note(bytes);
  ::new (begin + room - sizeof(Header)) Header{begin, bytes};
  return begin + room;
}

void give_back(void* memory) noexcept {
  if (memory == nullptr) return;
  const Header header = *std::launder(reinterpret_cast<Header*>(static_cast<char*>(memory) - sizeof(Header)));
  in_use.fetch_sub(header.bytes, std::memory_order_relaxed);
  std::free(header.begin);
}

}  // namespace

// The other forms of new and delete call these.
void* operator new(std::size_t bytes) { return counted(bytes, __STDCPP_DEFAULT_NEW_ALIGNMENT__); }
void* operator new(std::size_t bytes, std::align_val_t alignment) {
  return counted(bytes, std::max<std::size_t>(static_cast<std::size_t>(alignment), __STDCPP_DEFAULT_NEW_ALIGNMENT__));
}
void operator delete(void* memory) noexcept { give_back(memory); }
void operator delete(void* memory, std::size_t) noexcept { give_back(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { give_back(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { give_back(memory); }

namespace faultodds_benchmarks {

std::size_t allocations_so_far() { return count.load(std::memory_order_relaxed); }
std::size_t bytes_in_use() { return in_use.load(std::memory_order_relaxed); }
std::size_t peak_bytes() { return peak.load(std::memory_order_relaxed); }
void start_peak() { peak.store(bytes_in_use(), std::memory_order_relaxed); }

}  // namespace faultodds_benchmarks

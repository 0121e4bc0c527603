#include "allocations.hpp"

#include <atomic>
#include <cstdlib>
#include <new>

namespace {

std::atomic<std::size_t> count{0};

void* counted(void* memory) {
  if (memory == nullptr) throw std::bad_alloc();
  count.fetch_add(1, std::memory_order_relaxed);
  return memory;
}

std::size_t whole_pieces(std::size_t bytes, std::size_t alignment) {
  return (bytes + alignment - 1) / alignment * alignment;
}

}  // namespace

// The other forms of new and delete call these.
void* operator new(std::size_t bytes) { return counted(std::malloc(bytes == 0 ? 1 : bytes)); }
void* operator new(std::size_t bytes, std::align_val_t alignment) {
  const auto whole = static_cast<std::size_t>(alignment);
  return counted(std::aligned_alloc(whole, whole_pieces(bytes == 0 ? 1 : bytes, whole)));
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }

namespace faultodds_benchmarks {

std::size_t allocations_so_far() { return count.load(std::memory_order_relaxed); }

}  // namespace faultodds_benchmarks

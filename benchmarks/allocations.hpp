// Counts what the program asks of the heap.
#pragma once

#include <cstddef>

namespace faultodds_benchmarks {

/// Calls of operator new so far, by all threads. The program's operator new is replaced to count them.
[[nodiscard]] std::size_t allocations_so_far();

}  // namespace faultodds_benchmarks

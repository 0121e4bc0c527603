// Counts what the program asks of the heap.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>

namespace faultodds_benchmarks {

// The program's operator new is replaced to count; by all threads.

/// Calls of operator new so far.
[[nodiscard]] std::size_t allocations_so_far();
/// Bytes asked for and not given back yet.
[[nodiscard]] std::size_t bytes_in_use();
/// The most bytes in use at once since the last call of start_peak, or since the program began.
[[nodiscard]] std::size_t peak_bytes();
void start_peak();

}  // namespace faultodds_benchmarks

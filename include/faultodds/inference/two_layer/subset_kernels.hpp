// What the loops of two-layer sums (subset_chain.hpp) work on: a small sparse matrix, the same for many places of a
// long vector.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>

namespace faultodds::detail {

/// A matrix by results, each of which has a run of coefficients. All offsets are in doubles, and whatever is there
/// is a vector of lanes.
struct SubsetSweep {
  std::size_t places = 1;                        ///< one, or an even number
  const std::uint32_t* result_places = nullptr;  ///< by place: added to `results`
  const std::uint32_t* source_places = nullptr;  ///< by place: added to `sources`
  std::size_t run_count = 0;
  const std::uint32_t* runs = nullptr;     ///< by result, and the end: its first coefficient
  const std::uint32_t* results = nullptr;  ///< by result
  const std::uint32_t* sources = nullptr;  ///< by coefficient
  const double* from = nullptr;            ///< at the sources
  const double* with = nullptr;            ///< sum_subsets: coefficients; two_layer_slopes: at the results
  double* to = nullptr;  ///< sum_subsets: at the results; two_layer_slopes: by coefficient; overwritten
};

}  // namespace faultodds::detail

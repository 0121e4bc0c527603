// The order in which variables are eliminated: it decides how large the tables of exact inference become.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/model/stop.hpp"

namespace faultodds {

/// An elimination order and what it costs.
struct EliminationOrder {
  std::vector<std::size_t> order;  ///< every variable once, the first eliminated first
  double total_entries = 0.0;      ///< table entries of all maximal elimination cliques together
  double largest = 0.0;            ///< table entries of the largest one
};

/// How long to search. All of it is counted, never timed, so that the same input gives the same order.
struct OrderEffort {
  std::size_t tries = 24;  ///< at least, and at least one
  std::uint64_t seed = 1;  ///< of the noise
  /// Tries go on while their steps (a few instructions, some two nanoseconds) stay below this number for each table
  /// entry of the best order so far: searching may cost about as much as filling the tables. 0: no further tries.
  double steps_per_entry = 0.0;
  double max_steps = 1.5e9;  ///< no further tries beyond this
  /// No further tries either if, after the best order was found, eight times the steps to it and this many more have
  /// brought no better one.
  double steps_without_success = 5.0e7;
};

/// The best elimination order found of the variables 0 .. state_counts.size() - 1, which are joined wherever they share
/// a scope. Variables of `last` come after all others. Vertices whose neighbours are all joined (simplicial ones) go
/// first, which never costs anything; then min-fill (Rose 1972) in even tries and min-fill with each fill edge weighted
/// by the logarithms of its ends' state counts (Kjaerulff 1990) in odd ones. The first two tries are plain; in the
/// others each vertex has its scores multiplied by exp(temperature x Gumbel noise), and after some tries from nothing
/// two out of three keep a beginning of the best order. A try ends as soon as it is dearer than the best so far. Throws
/// Stopped.
[[nodiscard]] EliminationOrder find_order(std::span<const std::size_t> state_counts,
                                          std::span<const std::vector<std::size_t>> scopes,
                                          std::span<const std::size_t> last, const OrderEffort& effort,
                                          const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/inference/network/elimination_order.ipp"

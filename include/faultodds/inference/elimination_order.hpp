// The order in which variables are eliminated: it decides how large the tables of exact inference become.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace faultodds {

/// An elimination order and what it costs.
struct EliminationOrder {
  std::vector<std::size_t> order;  ///< every variable once, the first eliminated first
  double total_entries = 0.0;      ///< table entries of all maximal elimination cliques together
  double largest = 0.0;            ///< table entries of the largest one
};

/// The best of `tries` elimination orders of the variables 0 .. state_counts.size() - 1, which are joined wherever they
/// share a scope. Variables of `last` come after all others. Vertices whose neighbours are all joined (simplicial ones)
/// go first, which never costs anything; then min-fill (Rose 1972) in even tries and min-fill with each fill edge
/// weighted by the logarithms of its ends' state counts (Kjaerulff 1990) in odd ones. The first two tries are plain; in
/// the others scores are multiplied by exp(temperature x Gumbel noise). A try ends as soon as it is dearer than the
/// best so far. The same arguments give the same order. At least one try is made.
[[nodiscard]] EliminationOrder find_order(std::span<const std::size_t> state_counts,
                                          std::span<const std::vector<std::size_t>> scopes,
                                          std::span<const std::size_t> last, std::size_t tries, std::uint64_t seed);

}  // namespace faultodds

#include "faultodds/inference/elimination_order.ipp"

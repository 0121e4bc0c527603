// The shape of a junction tree: which cliques, joined how. No tables yet.
// Lauritzen & Spiegelhalter 1988; Jensen, Lauritzen & Olesen 1990.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "faultodds/inference/network/elimination_order.hpp"
#include "faultodds/inference/network/network.hpp"

namespace faultodds {

struct Clique {
  std::vector<std::size_t> slots;      ///< ascending
  std::size_t parent = no_slot;        ///< index of a clique; no_slot for the root
  std::vector<std::size_t> children;   ///< indices of cliques, ascending
  std::vector<std::size_t> separator;  ///< slots shared with the parent, ascending
};

/// A rooted tree of cliques with the running intersection property. Children come after their parents in `cliques`.
struct TreeShape {
  std::vector<Clique> cliques;
};

/// What a junction tree costs, known before its tables are made.
struct CostEstimate {
  std::size_t cliques = 0;
  std::size_t width = 0;        ///< variables of the largest clique, less one
  double largest_clique = 0.0;  ///< table entries of the largest clique
  double entries = 0.0;         ///< table entries of all cliques
  double bytes = 0.0;           ///< of all tables
  double operations = 0.0;      ///< multiplications and additions of one full propagation, about
};

/// The tree of `network` under `order` (all slots, first eliminated first), the largest clique as root. No clique has
/// more than a dozen children: beyond that some of them gather the others, so that products stay within range.
[[nodiscard]] TreeShape make_tree_shape(const Network& network, std::span<const std::size_t> order);

/// Cost of a tree; doubles throughout, because honest sizes can exceed every integer type.
[[nodiscard]] CostEstimate estimate_cost(const TreeShape& tree, std::span<const std::size_t> state_counts);

}  // namespace faultodds

#include "faultodds/inference/junction_tree/tree_shape.ipp"

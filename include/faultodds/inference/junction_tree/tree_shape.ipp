// Bodies of tree_shape.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <numeric>

#include "faultodds/inference/junction_tree/tree_shape.hpp"
#include "faultodds/inference/network/factor.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

inline constexpr std::size_t max_children = 12;

using SlotSet = std::vector<std::size_t>;

inline SlotSet common(const SlotSet& a, const SlotSet& b) {
  SlotSet both;
  std::set_intersection(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(both));
  return both;
}

/// The sets {slot} + neighbours at the time of elimination, and each set's parent: the set of its next eliminated
/// member.
struct EliminationSets {
  std::vector<SlotSet> sets;         // by position in the order
  std::vector<std::size_t> parents;  // positions; no_slot for the last of a component
};

inline EliminationSets eliminate_slots(const Network& network, std::span<const std::size_t> order) {
  const std::size_t n = order.size();
  std::vector<std::size_t> position(network.state_counts.size(), 0);
  for (std::size_t i = 0; i < n; ++i) position[order[i]] = i;
  EliminationSets result{std::vector<SlotSet>(n), std::vector<std::size_t>(n, no_slot)};
  for (const Potential& factor : network.factors) {
    if (factor.scope.empty()) continue;
    const auto first = std::min_element(factor.scope.begin(), factor.scope.end(),
                                        [&](std::size_t a, std::size_t b) { return position[a] < position[b]; });
    SlotSet& set = result.sets[position[*first]];
    set.insert(set.end(), factor.scope.begin(), factor.scope.end());
  }
  for (std::size_t i = 0; i < n; ++i) {
    SlotSet& set = result.sets[i];
    set.push_back(order[i]);
    std::sort(set.begin(), set.end());
    set.erase(std::unique(set.begin(), set.end()), set.end());
    std::size_t next = no_slot;
    for (const std::size_t slot : set) {
      if (slot != order[i] && (next == no_slot || position[slot] < position[next])) next = slot;
    }
    if (next == no_slot) continue;
    result.parents[i] = position[next];
    SlotSet& heir = result.sets[position[next]];
    for (const std::size_t slot : set) {
      if (slot != order[i]) heir.push_back(slot);
    }
  }
  return result;
}

/// Undirected tree over maximal sets.
struct PlainTree {
  std::vector<SlotSet> cliques;
  std::vector<std::vector<std::size_t>> neighbours;
};

inline PlainTree keep_maximal(const EliminationSets& elimination) {
  const std::size_t n = elimination.sets.size();
  std::vector<std::size_t> holder(n);  // the position whose set holds this one
  std::iota(holder.begin(), holder.end(), std::size_t{0});
  std::vector<std::size_t> parents = elimination.parents;
  for (std::size_t i = 0; i < n; ++i) {
    if (holder[i] != i) continue;
    while (parents[i] != no_slot && holder[parents[i]] == parents[i]) {
      const SlotSet& above = elimination.sets[parents[i]];
      if (!std::includes(elimination.sets[i].begin(), elimination.sets[i].end(), above.begin(), above.end())) break;
      holder[parents[i]] = i;
      parents[i] = parents[parents[i]];
    }
  }
  std::vector<std::size_t> index(n, no_slot);
  PlainTree tree;
  for (std::size_t i = 0; i < n; ++i) {
    if (holder[i] != i) continue;
    index[i] = tree.cliques.size();
    tree.cliques.push_back(elimination.sets[i]);
  }
  tree.neighbours.resize(tree.cliques.size());
  for (std::size_t i = 0; i < n; ++i) {
    if (holder[i] != i || parents[i] == no_slot) continue;
    std::size_t above = parents[i];
    while (holder[above] != above) above = holder[above];
    if (above == i) continue;
    tree.neighbours[index[i]].push_back(index[above]);
    tree.neighbours[index[above]].push_back(index[i]);
  }
  return tree;
}

/// Joins separate components at the root with empty separators, then directs all edges away from it.
class Rooting {
 public:
  Rooting(PlainTree tree, std::span<const std::size_t> state_counts) : tree_(std::move(tree)) {
    std::size_t root = 0;
    for (std::size_t c = 1; c < tree_.cliques.size(); ++c) {
      if (entries_of(tree_.cliques[c], state_counts) > entries_of(tree_.cliques[root], state_counts)) root = c;
    }
    seen_.assign(tree_.cliques.size(), false);
    visit(root);
    for (std::size_t c = 0; c < tree_.cliques.size(); ++c) {
      if (seen_[c]) continue;
      tree_.neighbours[root].push_back(c);
      tree_.neighbours[c].push_back(root);
      visit(c);
    }
    hang_lower(root, state_counts);
    direct(root);
  }

  TreeShape take() { return std::move(result_); }

 private:
  void visit(std::size_t start) {
    std::vector<std::size_t> open{start};
    seen_[start] = true;
    while (!open.empty()) {
      const std::size_t c = open.back();
      open.pop_back();
      for (const std::size_t d : tree_.neighbours[c]) {
        if (seen_[d]) continue;
        seen_[d] = true;
        open.push_back(d);
      }
    }
  }

  /// Hangs each clique under a smaller one that also holds its separator if there is one at most half as large: a
  /// message costs in proportion to the tables it is sent between.
  void hang_lower(std::size_t root, std::span<const std::size_t> state_counts) {
    std::vector<std::size_t> order{root};
    std::vector<std::size_t> parent(tree_.cliques.size(), no_slot);
    std::vector<double> size;
    for (const SlotSet& clique : tree_.cliques) size.push_back(entries_of(clique, state_counts));
    for (std::size_t i = 0; i < order.size(); ++i) {
      for (const std::size_t neighbour : tree_.neighbours[order[i]]) {
        if (neighbour == parent[order[i]]) continue;
        parent[neighbour] = order[i];
        order.push_back(neighbour);
      }
    }
    for (std::size_t i = 1; i < order.size(); ++i) {
      const std::size_t clique = order[i];
      const std::size_t above = parent[clique];
      const std::size_t lower = smallest_beyond(clique, above, size);
      if (2.0 * size[lower] > size[above]) continue;
      std::erase(tree_.neighbours[above], clique);
      std::replace(tree_.neighbours[clique].begin(), tree_.neighbours[clique].end(), above, lower);
      tree_.neighbours[lower].push_back(clique);
    }
  }

  /// The smallest clique that holds what `clique` shares with its neighbour `above`, on that side of it.
  [[nodiscard]] std::size_t smallest_beyond(std::size_t clique, std::size_t above,
                                            const std::vector<double>& size) const {
    static constexpr std::size_t max_seen = 256;
    const SlotSet shared = common(tree_.cliques[clique], tree_.cliques[above]);
    struct Hop {
      std::size_t clique;
      std::size_t from;
    };
    std::vector<Hop> hops{{above, clique}};
    std::size_t smallest = above;
    for (std::size_t i = 0; i < hops.size() && hops.size() < max_seen; ++i) {
      for (const std::size_t next : tree_.neighbours[hops[i].clique]) {
        const SlotSet& slots = tree_.cliques[next];
        if (next == hops[i].from || !std::includes(slots.begin(), slots.end(), shared.begin(), shared.end())) continue;
        hops.push_back({next, hops[i].clique});
        if (size[next] < size[smallest]) smallest = next;
      }
    }
    return smallest;
  }

  void add(SlotSet slots, std::size_t parent) {
    Clique clique;
    clique.slots = std::move(slots);
    clique.parent = parent;
    if (parent != no_slot) {
      clique.separator = common(clique.slots, result_.cliques[parent].slots);
      result_.cliques[parent].children.push_back(result_.cliques.size());
    }
    result_.cliques.push_back(std::move(clique));
  }

  struct Pending {
    std::size_t clique;
    std::size_t parent;
  };

  /// Breadth first, so that parents come before children.
  void direct(std::size_t root) {
    placed_.assign(tree_.cliques.size(), false);
    placed_[root] = true;
    queue_.push_back({root, no_slot});
    std::size_t next = 0;
    while (next < queue_.size()) {  // attach() adds to the queue
      const Pending pending = queue_[next++];
      const std::size_t here = result_.cliques.size();
      add(tree_.cliques[pending.clique], pending.parent);
      attach(take_neighbours(pending.clique), here);
    }
  }

  std::vector<std::size_t> take_neighbours(std::size_t clique) {
    std::vector<std::size_t> taken;
    for (const std::size_t neighbour : tree_.neighbours[clique]) {
      if (placed_[neighbour]) continue;
      placed_[neighbour] = true;
      taken.push_back(neighbour);
    }
    return taken;
  }

  /// Hangs cliques under `parent`. If they are too many they are grouped by what they share with it, and each group
  /// hangs under one of its own that holds all that is shared, or under a relay made for it.
  void attach(std::vector<std::size_t> children, std::size_t parent) {
    if (children.size() <= max_children) {
      for (const std::size_t child : children) queue_.push_back({child, parent});
      return;
    }
    const SlotSet parent_slots = result_.cliques[parent].slots;
    sort_stably(children, [&](std::size_t a, std::size_t b) {
      return common(tree_.cliques[a], parent_slots) < common(tree_.cliques[b], parent_slots);
    });
    const std::size_t groups = max_children / 2;
    for (std::size_t g = 0; g < groups; ++g) {
      attach_group({children.begin() + static_cast<std::ptrdiff_t>(g * children.size() / groups),
                    children.begin() + static_cast<std::ptrdiff_t>((g + 1) * children.size() / groups)},
                   parent);
    }
  }

  void attach_group(std::vector<std::size_t> group, std::size_t parent) {
    SlotSet shared;
    for (const std::size_t member : group) {
      const SlotSet part = common(tree_.cliques[member], result_.cliques[parent].slots);
      shared.insert(shared.end(), part.begin(), part.end());
    }
    std::sort(shared.begin(), shared.end());
    shared.erase(std::unique(shared.begin(), shared.end()), shared.end());
    const auto head = std::find_if(group.begin(), group.end(), [&](std::size_t member) {
      const SlotSet& slots = tree_.cliques[member];
      return std::includes(slots.begin(), slots.end(), shared.begin(), shared.end());
    });
    const std::size_t here = result_.cliques.size();
    if (head == group.end()) {
      add(std::move(shared), parent);
    } else {
      const std::size_t chosen = *head;
      group.erase(head);
      add(tree_.cliques[chosen], parent);
      const std::vector<std::size_t> own = take_neighbours(chosen);
      group.insert(group.end(), own.begin(), own.end());
    }
    attach(std::move(group), here);
  }

  PlainTree tree_;
  std::vector<bool> seen_;
  std::vector<bool> placed_;
  std::vector<Pending> queue_;
  TreeShape result_;
};

}  // namespace detail

inline TreeShape make_tree_shape(const Network& network, std::span<const std::size_t> order) {
  if (order.empty()) return TreeShape{{Clique{}}};
  return detail::Rooting(detail::keep_maximal(detail::eliminate_slots(network, order)), network.state_counts).take();
}

inline CostEstimate estimate_cost(const TreeShape& tree, std::span<const std::size_t> state_counts) {
  CostEstimate cost;
  cost.cliques = tree.cliques.size();
  for (const Clique& clique : tree.cliques) {
    const double size = entries_of(clique.slots, state_counts);
    if (!clique.slots.empty()) cost.width = std::max(cost.width, clique.slots.size() - 1);
    cost.largest_clique = std::max(cost.largest_clique, size);
    cost.entries += size;
    const auto messages = static_cast<double>(clique.children.size() + (clique.parent == no_slot ? 0U : 1U));
    cost.operations += size * 2.0 * (messages + 2.0);
  }
  cost.bytes = cost.entries * static_cast<double>(sizeof(double));
  return cost;
}

}  // namespace faultodds

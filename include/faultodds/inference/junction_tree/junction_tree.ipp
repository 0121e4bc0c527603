// Bodies of junction_tree.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "faultodds/inference/junction_tree/building.ipp"
#include "faultodds/inference/junction_tree/junction_tree.hpp"
#include "faultodds/inference/junction_tree/walk.hpp"

namespace faultodds {
namespace detail {

inline constexpr double max_offset = 4.0e9;  ///< offsets are 32 bits wide

/// New places for the entries of a table of which only some granules of `unit` entries are used.
class Renumbering {
 public:
  Renumbering(std::size_t size, std::size_t unit) : unit_(unit), used_(size / unit, false) {}

  void use(std::size_t entry) { used_[entry / unit_] = true; }
  /// Call once, after all uses. Returns the number of entries that remain, at least one granule.
  std::size_t close() {
    std::uint32_t next = 0;
    for (const bool used : used_) {
      place_.push_back(next);
      if (used) ++next;
    }
    if (next > 0) {
      for (std::uint32_t& place : place_) place = std::min(place, next - 1);
    }
    return std::max<std::size_t>(next, 1) * unit_;
  }
  [[nodiscard]] bool used(std::size_t entry) const { return used_[entry / unit_]; }
  /// The new place of an entry; some place within range where it is not used, for it is met by zeros only.
  [[nodiscard]] std::uint32_t operator()(std::uint32_t entry) const {
    const auto unit = static_cast<std::uint32_t>(unit_);
    return place_[entry / unit] * unit + entry % unit;
  }

 private:
  std::size_t unit_;
  std::vector<bool> used_;
  std::vector<std::uint32_t> place_;
};

}  // namespace detail

inline double JunctionTree::bytes_needed(const Network& network, std::span<const std::size_t> order) {
  return bytes_needed(network, make_tree_shape(network, order));
}

inline double JunctionTree::bytes_needed(const Network& network, const TreeShape& tree) {
  double entries = 0.0;
  double largest = 0.0;
  for (const Clique& clique : tree.cliques) {
    const double table = entries_of(clique.slots, network.state_counts);
    largest = std::max(largest, table);
    entries += table + entries_of(clique.separator, network.state_counts);
  }
  double factors = 0.0;
  for (const Potential& factor : network.factors) factors += static_cast<double>(factor.values.size());
  // Factors are needed while tables are filled; then, clique by clique, a table's belief and which entries are
  // possible.
  const double beside = std::max(factors * sizeof(double), largest * (sizeof(double) + sizeof(std::uint8_t)));
  return entries * sizeof(double) + beside + bytes_beside_tables * static_cast<double>(tree.cliques.size());
}

inline JunctionTree::JunctionTree(Network network, std::span<const std::size_t> order, double memory_limit_bytes,
                                  const Stop& stop, detail::Memo* layouts)
    : state_counts_(std::move(network.state_counts)), slot_of_(std::move(network.slot_of)) {
  network.state_counts = state_counts_;
  const TreeShape tree = make_tree_shape(network, order);
  const double needed = bytes_needed(network, tree);
  if (needed > memory_limit_bytes || estimate_cost(tree, state_counts_).largest_clique > detail::max_offset) {
    throw TooLarge(
        "the junction tree", needed, std::min(memory_limit_bytes, detail::max_offset * sizeof(double)),
        "raise the memory limit, settle more findings first, simplify the model, condition on some variables, or "
        "estimate by sampling");
  }
  take_shape(tree);
  Building building;
  building.stop = stop;
  building.layouts = layouts;
  for (const Node& node : nodes_) {
    building.messages.emplace_back(detail::count_entries(node.shape.separator, state_counts_), 0.0);
  }
  building.tables.resize(nodes_.size());
  building.inverses.resize(nodes_.size());
  building.clique_factors.resize(nodes_.size());
  {
    const std::vector<Potential> factors = std::move(network.factors);  // not needed beyond this block
    const std::vector<std::vector<const Potential*>> factors_of = share_out(factors);
    for (std::size_t c = nodes_.size(); c-- > 0;) fill(c, factors_of[c], building);
  }
  building.messages[0] = {1.0};
  for (std::size_t c = 0; c < nodes_.size(); ++c) believe(c, building);
  place_hosts();
  address_messages(building);
  for (std::size_t c = 0; c < nodes_.size(); ++c) {
    Node& node = nodes_[c];
    address_hosts(node);
    for (std::size_t i = 0; i < node.clique_factors.size(); ++i) {
      address_clique_factor(node, node.clique_factors[i], building.clique_factors[c][i]);
    }
    std::size_t entries = node.table.size() + node.unit_inverse.size();
    for (const CliqueFactor& clique_factor : node.clique_factors) entries += clique_factor.values.size();
    bytes_ += static_cast<double>(entries * sizeof(double) + node.offsets.size() * sizeof(std::uint32_t));
  }
  count_scratch();
}

/// Cliques, and each slot's host: the smallest clique that holds it.
inline void JunctionTree::take_shape(const TreeShape& tree) {
  const std::size_t slots = state_counts_.size();
  host_of_.assign(slots, no_slot);
  state_begin_.assign(slots + 1, 0);
  for (std::size_t slot = 0; slot < slots; ++slot) {
    state_begin_[slot + 1] = state_begin_[slot] + detail::whole_vectors(state_counts_[slot]);
  }
  std::vector<double> host_size(slots, std::numeric_limits<double>::infinity());
  nodes_.resize(tree.cliques.size());
  for (std::size_t c = 0; c < nodes_.size(); ++c) {
    nodes_[c].shape = tree.cliques[c];
    const double size = entries_of(tree.cliques[c].slots, state_counts_);
    for (const std::size_t slot : tree.cliques[c].slots) {
      if (size >= host_size[slot]) continue;
      host_size[slot] = size;
      host_of_[slot] = c;
    }
  }
}

inline void JunctionTree::place_hosts() {
  for (Node& node : nodes_) node.columns = 1 + node.shape.children.size();
  for (std::size_t slot = 0; slot < state_counts_.size(); ++slot) {
    Node& node = nodes_[host_of_[slot]];
    const bool inner = detail::holds(node.layout.inner, slot);
    node.hosts.push_back({slot, inner ? 0 : node.columns++, state_counts_[slot], state_begin_[slot]});
    if (inner) ++node.inner_hosts;
  }
  for (Node& node : nodes_) {
    for (CliqueFactor& clique_factor : node.clique_factors) clique_factor.column = node.columns++;
  }
}

/// Gives each factor to the smallest clique that holds it.
inline std::vector<std::vector<const Potential*>> JunctionTree::share_out(const std::vector<Potential>& factors) const {
  std::vector<std::vector<std::size_t>> cliques_of(state_counts_.size());
  for (std::size_t c = 0; c < nodes_.size(); ++c) {
    for (const std::size_t slot : nodes_[c].shape.slots) cliques_of[slot].push_back(c);
  }
  std::vector<std::vector<const Potential*>> shares(nodes_.size());
  for (const Potential& factor : factors) {
    if (factor.scope.empty()) {
      shares[0].push_back(&factor);
      continue;
    }
    const std::size_t rarest =
        *std::min_element(factor.scope.begin(), factor.scope.end(),
                          [&](std::size_t a, std::size_t b) { return cliques_of[a].size() < cliques_of[b].size(); });
    std::size_t best = no_slot;
    double best_size = 0.0;
    for (const std::size_t c : cliques_of[rarest]) {
      const std::vector<std::size_t>& slots = nodes_[c].shape.slots;
      const bool holds_all = std::all_of(factor.scope.begin(), factor.scope.end(), [&](std::size_t slot) {
        return std::binary_search(slots.begin(), slots.end(), slot);
      });
      if (!holds_all) continue;
      const double size = entries_of(slots, state_counts_);
      if (best != no_slot && size >= best_size) continue;
      best = c;
      best_size = size;
    }
    shares[best].push_back(&factor);
  }
  return shares;
}

/// Messages keep only the entries that are possible without findings; sides and offsets follow.
inline void JunctionTree::address_messages(const Building& building) {
  for (Node& node : nodes_) {
    node.offsets.assign(node.layout.blocks * node.columns, 0);
    total_messages_ = detail::next_cache_line(total_messages_);
    node.message.begin = total_messages_;
    const auto index = static_cast<std::size_t>(&node - nodes_.data());
    const detail::Slots& separator = node.shape.separator;
    const detail::Layout& above = nodes_[node.shape.parent == no_slot ? 0 : node.shape.parent].layout;
    const detail::Form form = detail::message_form(above, node.layout, separator, state_counts_);
    detail::Renumbering place(form.size, form.granule);
    auto belief = building.messages[index].begin();
    detail::walk(separator, state_counts_, detail::strides_of(form, separator), [&](std::size_t entry) {
      if (*belief++ > 0.0) place.use(entry);
    });
    node.message.size = detail::whole_vectors(place.close());
    if (!building.inverses[index].empty()) {
      node.unit_inverse.assign(node.message.size, 0.0);
      auto inverse = building.inverses[index].begin();
      detail::walk(separator, state_counts_, detail::strides_of(form, separator), [&](std::size_t entry) {
        if (place.used(entry)) node.unit_inverse[place(static_cast<std::uint32_t>(entry))] = *inverse;
        ++inverse;
      });
    }
    total_messages_ += node.message.size;

    const auto meet = [&](Node& at, std::size_t column, detail::Side& side) {
      detail::Addressing addressing = detail::address(at.layout, separator, form, state_counts_);
      side = std::move(addressing.side);
      std::vector<std::uint32_t> entries = detail::block_entries(at.layout, addressing.form, state_counts_);
      if (side.straight()) {
        for (std::uint32_t& entry : entries) entry = place(entry);
      } else {
        detail::Renumbering copy_place(addressing.form.size, addressing.form.granule);
        for (const std::uint32_t entry : entries) copy_place.use(entry);
        std::vector<std::uint32_t> source(copy_place.close());
        for (std::uint32_t entry = 0; entry < addressing.form.size; ++entry) {
          if (copy_place.used(entry)) source[copy_place(entry)] = place(side.source[entry]);
        }
        side.source = std::move(source);
        for (std::uint32_t& entry : entries) entry = copy_place(entry);
        total_copies_ = detail::next_cache_line(total_copies_);
        side.begin = total_copies_;
        total_copies_ += side.source.size();
      }
      for (std::size_t block = 0; block < entries.size(); ++block)
        at.offsets[block * at.columns + column] = entries[block];
    };
    meet(node, 0, node.message.below);
    if (node.shape.parent == no_slot) continue;
    Node& parent = nodes_[node.shape.parent];
    const auto child = std::find(parent.shape.children.begin(), parent.shape.children.end(), index);
    meet(parent, 1 + static_cast<std::size_t>(child - parent.shape.children.begin()), node.message.above);
  }
}

inline void JunctionTree::address_hosts(Node& node) {
  const std::size_t entries = detail::count_entries(node.layout.inner, state_counts_);
  for (Host& host : node.hosts) {
    if (host.inner()) {
      const detail::Form block = detail::dense_form(node.layout.inner, state_counts_);
      host.stride = detail::strides_of(block, {host.slot})[0];
      host.rounds = entries / (host.stride * host.states);
      continue;
    }
    set_offsets(node, host.column, detail::dense_form({host.slot}, state_counts_));
  }
}

/// Offsets of the node's blocks in the column of a table of this form.
inline void JunctionTree::set_offsets(Node& node, std::size_t column, const detail::Form& form) {
  const std::vector<std::uint32_t> of_block = detail::block_entries(node.layout, form, state_counts_);
  for (std::size_t block = 0; block < of_block.size(); ++block) {
    node.offsets[block * node.columns + column] = of_block[block];
  }
}

inline void JunctionTree::address_clique_factor(Node& node, CliqueFactor& clique_factor, const Potential& dense) {
  const detail::Form form = detail::own_form(node.layout, dense.scope, state_counts_);
  const detail::Form from = detail::dense_form(dense.scope, state_counts_);
  clique_factor.vector = form.granule > 1;
  clique_factor.values.assign(form.size, 0.0);
  std::vector<std::size_t> source;
  detail::walk(form.slots, state_counts_, detail::strides_of(from, form.slots),
               [&](std::size_t entry) { source.push_back(entry); });
  auto next = source.begin();
  detail::walk(form.slots, state_counts_, form.strides,
               [&](std::size_t entry) { clique_factor.values[entry] = dense.values[*next++]; });
  set_offsets(node, clique_factor.column, form);
}

inline void JunctionTree::count_scratch() {
  for (Node& node : nodes_) {
    node.lanes_begin = total_lanes_;
    if (node.inner_hosts > 0) total_lanes_ += node.layout.width;
    std::size_t sums = node.message.below.source.size();
    std::size_t from_children = 0;
    for (const std::size_t child : node.shape.children) from_children += nodes_[child].message.above.source.size();
    sums = std::max(sums, from_children);
    max_sums_ = std::max(max_sums_, sums);
    max_columns_ = std::max(max_columns_, node.columns);
  }
}

}  // namespace faultodds

// Bodies of plan.hpp.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "faultodds/inference/plan.hpp"

namespace faultodds {
namespace detail {

/// A factor's values with its scope brought into ascending order.
inline Potential ascending(const Potential& factor, std::span<const std::size_t> state_counts) {
  Potential result{factor.scope, {}};
  std::sort(result.scope.begin(), result.scope.end());
  if (result.scope == factor.scope) return factor;
  result.values.reserve(factor.values.size());
  walk(result.scope, state_counts, strides_in(factor.scope, result.scope, state_counts),
       [&](std::size_t index) { result.values.push_back(factor.values[index]); });
  return result;
}

/// Scales by a power of two so that the largest value is about one. Returns the exponent taken out.
inline int take_exponent(double* values, std::size_t size, int tolerated) {
  double largest = 0.0;
  for (std::size_t i = 0; i < size; ++i) largest = std::max(largest, values[i]);
  if (largest == 0.0) return 0;
  const int exponent = std::ilogb(largest);
  if (std::abs(exponent) <= tolerated) return 0;
  const double scale = std::ldexp(1.0, -exponent / 2);
  const double rest = std::ldexp(1.0, -exponent - (-exponent / 2));
  for (std::size_t i = 0; i < size; ++i) values[i] = values[i] * scale * rest;
  return exponent;
}

/// Below this, beside a largest value of about one, a message counts as zero: its reciprocal would overflow.
inline constexpr double smallest_message = 1e-300;

/// values = 1 / values, with 1/0 = 0 (it only ever meets zeros).
inline void invert(double* values, std::size_t size) {
  for (std::size_t i = 0; i < size; ++i) values[i] = values[i] < smallest_message ? 0.0 : 1.0 / values[i];
}

/// Ones in the block's entries, zeros in its padding.
inline std::vector<double> unit_table(const Layout& layout, std::size_t block_entries) {
  std::vector<double> table(layout.table_size(), 1.0);
  if (block_entries == layout.width) return table;
  for (std::size_t block = 0; block < layout.blocks; ++block) {
    const auto begin = table.begin() + static_cast<std::ptrdiff_t>(block * layout.width);
    std::fill(begin + static_cast<std::ptrdiff_t>(block_entries), begin + static_cast<std::ptrdiff_t>(layout.width),
              0.0);
  }
  return table;
}

/// Removes the operands after the first `count`.
inline void keep_columns(Layout& layout, std::size_t count) {
  const std::size_t columns = layout.operands.size();
  for (std::size_t block = 0; block < layout.blocks; ++block) {
    for (std::size_t column = 0; column < count; ++column) {
      layout.offsets[block * count + column] = layout.offsets[block * columns + column];
    }
  }
  layout.operands.resize(count);
  layout.offsets.resize(layout.blocks * count);
  layout.offsets.shrink_to_fit();
}

/// True where some entry of the block is positive together with the spread-out belief of the parent's separator.
inline bool block_lives(const Layout& layout, const std::vector<double>& table, std::size_t block,
                        const double* belief) {
  const double* entries = table.data() + block * layout.width;
  const double* above = belief == nullptr ? nullptr : belief + layout.offsets_of(block)[0];
  for (std::size_t lane = 0; lane < layout.width; ++lane) {
    const double weight = above == nullptr ? 1.0 : layout.operands[0].vector ? above[lane] : above[0];
    if (entries[lane] > 0.0 && weight > 0.0) return true;
  }
  return false;
}

inline void keep_living_blocks(Layout& layout, std::vector<double>& table, const double* belief) {
  const std::size_t columns = layout.operands.size();
  std::vector<std::uint32_t> kept;
  for (std::size_t block = 0; block < layout.blocks; ++block) {
    if (block_lives(layout, table, block, belief)) kept.push_back(static_cast<std::uint32_t>(block));
  }
  if (kept.size() == layout.blocks) return;
  for (std::size_t to = 0; to < kept.size(); ++to) {
    const std::size_t from = kept[to];
    std::copy_n(table.begin() + static_cast<std::ptrdiff_t>(from * layout.width), layout.width,
                table.begin() + static_cast<std::ptrdiff_t>(to * layout.width));
    std::copy_n(layout.offsets.begin() + static_cast<std::ptrdiff_t>(from * columns), columns,
                layout.offsets.begin() + static_cast<std::ptrdiff_t>(to * columns));
  }
  layout.blocks = kept.size();
  layout.kept = std::move(kept);
  table.resize(layout.table_size());
  table.shrink_to_fit();
  layout.offsets.resize(layout.blocks * columns);
  layout.offsets.shrink_to_fit();
}

}  // namespace detail

/// Memory used while compiling.
struct Plan::Scratch {
  std::vector<double> messages;
  std::vector<std::vector<double>> spread;  // by column
  std::vector<double> sums;
  detail::Parts<detail::Input> inputs;
  detail::Parts<detail::Output> outputs;

  const double* spread_out(const detail::Layout& layout, std::size_t column, const double* values) {
    if (spread.size() <= column) spread.resize(column + 1);
    spread[column].resize(layout.operands[column].spread);
    return detail::spread_out(layout.operands[column], values, spread[column].data());
  }
};

inline Plan::Plan(const Network& network, std::span<const std::size_t> order)
    : state_counts_(network.state_counts), slot_of_(network.slot_of) {
  place_homes(make_clique_tree(network, order));
}

inline double Plan::bytes_needed(const Network& network, std::span<const std::size_t> order) {
  return Plan(network, order).measure().bytes;
}

inline Plan::Plan(Network network, std::span<const std::size_t> order, double memory_limit_bytes, Checkpoint checkpoint)
    : Plan(network, order) {
  checkpoint_ = std::move(checkpoint);
  static constexpr double most_entries = 4.0e9;  // offsets are 32 bits wide
  const Largest largest = measure();
  if (largest.bytes > memory_limit_bytes || largest.block_entries > most_entries) {
    throw TooLarge("the junction tree", largest.bytes, std::min(memory_limit_bytes, most_entries * sizeof(double)),
                   "raise the memory limit, settle more findings first, or simplify the model");
  }
  for (Potential& factor : network.factors) factor = detail::ascending(factor, state_counts_);
  const std::vector<std::vector<const Potential*>> factors_of = share_out(network.factors);
  Scratch scratch;
  scratch.messages.resize(total_messages_);
  for (std::size_t c = nodes_.size(); c-- > 0;) build(c, factors_of[c], scratch);
  drop_blocks(scratch);
  narrow_messages(scratch.messages);
}

inline Plan::Scopes Plan::operand_scopes(std::size_t index) const {
  const Node& node = nodes_[index];
  Scopes scopes{node.shape.separator};
  for (const std::size_t child : node.shape.children) scopes.push_back(nodes_[child].shape.separator);
  for (const Home& home : node.homes) scopes.push_back({home.slot});
  return scopes;
}

inline Plan::Largest Plan::measure() const {
  Largest largest;
  for (std::size_t c = 0; c < nodes_.size(); ++c) {
    const Scopes scopes = operand_scopes(c);
    const std::vector<std::size_t> inner = detail::choose_inner(nodes_[c].shape, state_counts_, scopes);
    const double block = detail::size_of(inner, state_counts_);
    const double width = std::ceil(block / static_cast<double>(detail::lanes)) * static_cast<double>(detail::lanes);
    const double blocks = detail::size_of(nodes_[c].shape.slots, state_counts_) / block;
    largest.bytes += blocks * (width * sizeof(double) + static_cast<double>(scopes.size()) * sizeof(std::uint32_t));
    largest.block_entries = std::max(largest.block_entries, blocks * width);
  }
  return largest;
}

/// Gives each factor (scope ascending) to the smallest clique that holds it.
inline std::vector<std::vector<const Potential*>> Plan::share_out(const std::vector<Potential>& factors) const {
  std::vector<std::vector<std::size_t>> cliques_of(state_counts_.size());
  for (std::size_t c = 0; c < nodes_.size(); ++c) {
    for (const std::size_t slot : nodes_[c].shape.slots) cliques_of[slot].push_back(c);
  }
  std::vector<std::vector<const Potential*>> shares(nodes_.size());
  for (const Potential& factor : factors) {
    std::size_t best = factor.scope.empty() ? 0 : no_slot;
    double best_size = 0.0;
    if (!factor.scope.empty()) {
      const std::size_t rarest =
          *std::min_element(factor.scope.begin(), factor.scope.end(),
                            [&](std::size_t a, std::size_t b) { return cliques_of[a].size() < cliques_of[b].size(); });
      for (const std::size_t c : cliques_of[rarest]) {
        const std::vector<std::size_t>& slots = nodes_[c].shape.slots;
        if (!std::includes(slots.begin(), slots.end(), factor.scope.begin(), factor.scope.end())) continue;
        const double size = detail::size_of(slots, state_counts_);
        if (best != no_slot && size >= best_size) continue;
        best = c;
        best_size = size;
      }
    }
    shares[best].push_back(&factor);
  }
  return shares;
}

inline void Plan::place_homes(const CliqueTree& tree) {
  const std::size_t slots = state_counts_.size();
  home_of_.assign(slots, no_slot);
  state_begin_.assign(slots + 1, 0);
  for (std::size_t slot = 0; slot < slots; ++slot) state_begin_[slot + 1] = state_begin_[slot] + state_counts_[slot];
  std::vector<double> home_size(slots, std::numeric_limits<double>::infinity());
  for (std::size_t c = 0; c < tree.cliques.size(); ++c) {
    Node node;
    node.shape = tree.cliques[c];
    const double size = detail::size_of(node.shape.slots, state_counts_);
    for (const std::size_t slot : node.shape.slots) {
      if (size >= home_size[slot]) continue;
      home_size[slot] = size;
      home_of_[slot] = c;
    }
    for (std::size_t child = 0; child < node.shape.children.size(); ++child) node.child_columns.push_back(child + 1);
    node.message_begin = total_messages_;
    node.message_size = detail::count_states(node.shape.separator, state_counts_);
    total_messages_ += node.message_size;
    nodes_.push_back(std::move(node));
  }
  for (std::size_t slot = 0; slot < slots; ++slot) {
    Node& node = nodes_[home_of_[slot]];
    node.homes.push_back({slot, 1 + node.child_columns.size() + node.homes.size()});
  }
}

inline void Plan::build(std::size_t index, const std::vector<const Potential*>& factors, Scratch& scratch) {
  pass_checkpoint();
  Node& node = nodes_[index];
  Scopes scopes = operand_scopes(index);
  const std::size_t columns = scopes.size();
  std::vector<double> constants;
  std::vector<const Potential*> tables;
  for (const Potential* factor : factors) {
    if (factor->scope.empty()) {
      constants.push_back(factor->values[0]);
    } else {
      tables.push_back(factor);
      scopes.push_back(factor->scope);
    }
  }
  node.layout = detail::make_layout(node.shape, state_counts_, scopes);
  const detail::Layout& layout = node.layout;
  node.table = detail::unit_table(layout, detail::count_states(layout.inner, state_counts_));
  scratch.inputs.clear();
  const auto enter = [&](std::size_t column, const double* values) {
    scratch.inputs.add(layout, {column, scratch.spread_out(layout, column, values)});
  };
  for (std::size_t i = 0; i < tables.size(); ++i) enter(columns + i, tables[i]->values.data());
  for (std::size_t i = 0; i < node.shape.children.size(); ++i) {
    enter(node.child_columns[i], scratch.messages.data() + nodes_[node.shape.children[i]].message_begin);
  }
  detail::multiply_in(layout, node.table.data(), scratch.inputs);
  for (const double constant : constants) log_constant_ += std::log(constant);

  double* message = scratch.messages.data() + node.message_begin;
  scratch.sums.assign(layout.operands[0].spread, 0.0);
  scratch.inputs.clear();
  scratch.outputs.clear();
  scratch.outputs.add(layout, {0, scratch.sums.data()});
  detail::sweep(layout, node.table.data(), 1.0, scratch.inputs, scratch.outputs);
  detail::gather_up(layout.operands[0], scratch.sums.data(), message);
  std::vector<double> inverse(message, message + node.message_size);
  detail::invert(inverse.data(), inverse.size());
  scratch.inputs.add(layout, {0, scratch.spread_out(layout, 0, inverse.data())});
  detail::multiply_in(layout, node.table.data(), scratch.inputs);
  if (index == 0) {
    log_constant_ += std::log(message[0]);
  } else {
    log_constant_ += detail::take_exponent(message, node.message_size, 0) * std::numbers::ln2;
  }
  detail::keep_columns(node.layout, columns);
}

inline void Plan::drop_blocks(Scratch& scratch) {
  scratch.messages[nodes_[0].message_begin] = 1.0;
  for (Node& node : nodes_) {
    const double* belief = scratch.spread_out(node.layout, 0, scratch.messages.data() + node.message_begin);
    detail::keep_living_blocks(node.layout, node.table, belief);
    bytes_ +=
        static_cast<double>(node.table.size() * sizeof(double) + node.layout.offsets.size() * sizeof(std::uint32_t));
    scratch.inputs.clear();
    scratch.outputs.clear();
    scratch.inputs.add(node.layout, {0, belief});
    std::vector<std::vector<double>> sums;
    for (const std::size_t column : node.child_columns) {
      sums.emplace_back(node.layout.operands[column].spread, 0.0);
      scratch.outputs.add(node.layout, {column, sums.back().data()});
    }
    detail::sweep(node.layout, node.table.data(), 1.0, scratch.inputs, scratch.outputs);
    for (std::size_t i = 0; i < sums.size(); ++i) {
      const Node& child = nodes_[node.shape.children[i]];
      detail::gather_up(node.layout.operands[node.child_columns[i]], sums[i].data(),
                        scratch.messages.data() + child.message_begin);
    }
  }
}

/// Messages hold only the separator states that are possible without findings (`beliefs`, as drop_blocks leaves them).
inline void Plan::narrow_messages(const std::vector<double>& beliefs) {
  total_messages_ = 0;
  for (Node& node : nodes_) {
    std::vector<std::uint32_t> place(node.message_size);
    std::uint32_t support = 0;
    for (std::size_t s = 0; s < place.size(); ++s) support += beliefs[node.message_begin + s] > 0.0 ? 1U : 0U;
    std::uint32_t next = 0;
    for (std::size_t s = 0; s < place.size(); ++s) place[s] = beliefs[node.message_begin + s] > 0.0 ? next++ : support;
    detail::keep_support(node.layout, 0, place, support);
    if (node.shape.parent != no_slot) {
      Node& above = nodes_[node.shape.parent];
      const auto child = std::find(above.shape.children.begin(), above.shape.children.end(),
                                   static_cast<std::size_t>(&node - nodes_.data()));
      detail::keep_support(above.layout,
                           above.child_columns[static_cast<std::size_t>(child - above.shape.children.begin())], place,
                           support);
    }
    node.message_begin = total_messages_;
    node.message_size = support;
    total_messages_ += support;
  }
}

}  // namespace faultodds

// Bodies of propagation.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <utility>

#include "faultodds/inference/junction_tree/propagation.hpp"
#include "faultodds/inference/junction_tree/scaling.hpp"
#include "faultodds/inference/junction_tree/walk.hpp"

namespace faultodds {

inline void Propagation::Operands::clear() {
  scalar_inputs.clear();
  vector_inputs.clear();
  scalar_outputs.clear();
  vector_outputs.clear();
}

inline Propagation::Propagation(std::shared_ptr<const JunctionTree> tree)
    : tree_(std::move(tree)),
      weights_(tree_->total_states(), 1.0),
      weighted_(tree_->state_counts().size(), 0),
      hard_(tree_->state_counts().size(), 0),
      findings_in_(tree_->nodes().size(), 0),
      open_in_(tree_->nodes().size(), 0),
      weighted_lanes_(tree_->nodes().size(), 0),
      stale_(tree_->nodes().size(), 0),
      visited_(tree_->nodes().size(), Visit::none),
      lane_weights_(tree_->total_lanes(), 1.0),
      up_(tree_->total_messages(), 0.0),
      inverse_(tree_->total_messages(), 0.0),
      down_(tree_->total_messages(), 0.0),
      copies_(tree_->total_copies(), 0.0),
      sums_(tree_->max_sums(), 0.0),
      exponent_(tree_->nodes().size(), 0),
      marginals_(tree_->total_states(), 0.0) {
  path_.reserve(tree_->nodes().size());
  operands_.scalar_inputs.reserve(tree_->max_columns());
  operands_.vector_inputs.reserve(tree_->max_columns());
  operands_.scalar_outputs.reserve(tree_->max_columns());
  operands_.vector_outputs.reserve(tree_->max_columns());
  for (std::size_t c = open_in_.size(); c-- > 0;) {
    const JunctionTree::Node& node = tree_->nodes()[c];
    open_in_[c] += static_cast<std::uint32_t>(node.hosts.size());
    if (c > 0) open_in_[node.shape.parent] += open_in_[c];
  }
}

inline void Propagation::set_weights(std::size_t slot, std::span<const double> weights) {
  const auto known = weights_.begin() + static_cast<std::ptrdiff_t>(tree_->state_begin(slot));
  if (weighted_[slot] != 0 && std::equal(weights.begin(), weights.end(), known)) return;
  std::copy(weights.begin(), weights.end(), known);
  const auto positive = std::count_if(weights.begin(), weights.end(), [](double weight) { return weight > 0.0; });
  count_findings(slot, true, positive == 1);
  if (positive == 1) {
    double* marginal = marginals_.data() + tree_->state_begin(slot);
    for (const double weight : weights) *marginal++ = weight > 0.0 ? 1.0 : 0.0;
  }
  touch(slot);
}

inline void Propagation::clear_weights(std::size_t slot) {
  if (weighted_[slot] == 0) return;
  count_findings(slot, false, false);
  touch(slot);
}

/// Keeps the counts of all cliques from the slot's host to the root.
inline void Propagation::count_findings(std::size_t slot, bool weighted, bool hard) {
  const std::uint32_t findings = (weighted ? 1U : 0U) - weighted_[slot];  // may wrap around, and back when added
  const std::uint32_t open = hard_[slot] - (hard ? 1U : 0U);
  weighted_[slot] = weighted ? 1 : 0;
  hard_[slot] = hard ? 1 : 0;
  if (findings == 0 && open == 0) return;
  for (std::size_t c = tree_->host_of(slot); c != no_slot; c = tree_->nodes()[c].shape.parent) {
    findings_in_[c] += findings;
    open_in_[c] += open;
  }
}

inline void Propagation::clear_all() {
  for (std::size_t slot = 0; slot < weighted_.size(); ++slot) clear_weights(slot);
}

inline void Propagation::touch(std::size_t slot) {
  const JunctionTree::Node& host = tree_->nodes()[tree_->host_of(slot)];
  if (host.inner_hosts > 0) weigh_lanes(host);
  for (std::size_t c = tree_->host_of(slot); c != no_slot && stale_[c] == 0; c = tree_->nodes()[c].shape.parent) {
    stale_[c] = 1;
  }
  std::fill(visited_.begin(), visited_.end(), Visit::none);
}

inline void Propagation::weigh_lanes(const JunctionTree::Node& node) {
  double* lanes = lane_weights_.data() + node.lanes_begin;
  std::uint32_t weighted = 0;
  for (const JunctionTree::Host& host : node.hosts) {
    if (!host.inner() || weighted_[host.slot] == 0) continue;
    if (weighted++ == 0) std::fill(lanes, lanes + node.layout.width, 1.0);
    const double* weights = weights_.data() + host.begin;
    std::size_t lane = 0;
    for (std::size_t round = 0; round < host.rounds; ++round) {
      for (std::size_t state = 0; state < host.states; ++state) {
        for (std::size_t i = 0; i < host.stride; ++i) lanes[lane++] *= weights[state];
      }
    }
  }
  weighted_lanes_[index_of(node)] = weighted;
}

/// Enters what comes into a clique from below: messages and findings.
inline void Propagation::enter(const JunctionTree::Node& node) {
  operands_.clear();
  std::size_t column = 0;
  for (const std::size_t child : node.shape.children) {
    ++column;
    if (findings_in_[child] == 0) continue;
    const JunctionTree::Message& message = tree_->nodes()[child].message;
    const double* values = message.above.straight() ? up_.data() + message.begin : copies_.data() + message.above.begin;
    operands_.add(message.above.vector, detail::Input{values, column});
  }
  for (const JunctionTree::Host& host : node.hosts) {
    if (host.inner() || weighted_[host.slot] == 0) continue;
    operands_.add(false, detail::Input{weights_.data() + host.begin, host.column});
  }
  for (const JunctionTree::CliqueFactor& clique_factor : node.clique_factors) {
    operands_.add(clique_factor.vector, detail::Input{clique_factor.values.data(), clique_factor.column});
  }
}

/// Enters the message from the parent.
inline void Propagation::enter_down(const JunctionTree::Node& node) {
  const JunctionTree::Message& message = node.message;
  const double* values = message.below.straight() ? down_.data() + message.begin : copies_.data() + message.below.begin;
  operands_.add(message.below.vector, detail::Input{values, 0});
}

/// Asks for the messages to the children, those with nothing unknown behind them perhaps left out, and for marginals.
inline void Propagation::ask_below(const JunctionTree::Node& node, Visit wanted) {
  double* sums = sums_.data();
  std::size_t column = 0;
  for (const std::size_t child : node.shape.children) {
    ++column;
    if (open_in_[child] == 0 && wanted != Visit::everywhere) continue;
    const JunctionTree::Message& message = tree_->nodes()[child].message;
    const bool straight = message.above.straight();
    const std::size_t size = straight ? message.size : message.above.source.size();
    double* target = straight ? down_.data() + message.begin : sums;
    if (!straight) sums += size;
    std::fill_n(target, size, 0.0);
    operands_.add(message.above.vector, detail::Output{target, column});
  }
  for (const JunctionTree::Host& host : node.hosts) {
    if (host.inner() || hard_[host.slot] != 0) continue;
    std::fill_n(marginals_.data() + host.begin, detail::whole_vectors(host.states), 0.0);
    operands_.add(false, detail::Output{marginals_.data() + host.begin, host.column});
  }
}

inline void Propagation::sweep(const JunctionTree::Node& node, double* lane_sums) {
  detail::Sweep task;
  task.table = node.table.empty() ? nullptr : node.table.data();
  task.offsets = node.offsets.data();
  task.blocks = node.layout.blocks;
  task.columns = node.columns;
  task.lane_weights = weighted_lanes_[index_of(node)] > 0 ? lane_weights_.data() + node.lanes_begin : nullptr;
  task.lane_sums = lane_sums;
  task.scalar_inputs = operands_.scalar_inputs.data();
  task.scalar_input_count = operands_.scalar_inputs.size();
  task.vector_inputs = operands_.vector_inputs.data();
  task.vector_input_count = operands_.vector_inputs.size();
  task.scalar_outputs = operands_.scalar_outputs.data();
  task.scalar_output_count = operands_.scalar_outputs.size();
  task.vector_outputs = operands_.vector_outputs.data();
  task.vector_output_count = operands_.vector_outputs.size();
  tree_->kernels().sweeps[node.layout.width / detail::lanes - 1](task);
}

inline void Propagation::send_up(std::size_t index) {
  static constexpr int tolerated_exponent = 32;
  stop_.check();
  const JunctionTree::Node& node = tree_->nodes()[index];
  const JunctionTree::Message& message = node.message;
  double* up = up_.data() + message.begin;
  double* sums = message.below.straight() ? up : sums_.data();
  std::fill_n(sums, message.below.straight() ? message.size : message.below.source.size(), 0.0);
  enter(node);
  operands_.add(message.below.vector, detail::Output{sums, 0});
  sweep(node, nullptr);
  if (!message.below.straight()) detail::gather_up(message.below, sums, up, message.size);
  const detail::Kernels& kernels = tree_->kernels();
  double* inverse = inverse_.data() + message.begin;
  const bool clique_factors = !node.unit_inverse.empty();
  if (clique_factors) {
    kernels.invert(up, message.size, detail::smallest_message, 1.0, inverse);
    kernels.multiply(up, message.size, node.unit_inverse.data(), 1.0);
  }
  const double largest = kernels.largest(up, message.size);
  exponent_[index] = largest == 0.0 ? 0 : std::ilogb(largest);
  if (std::abs(exponent_[index]) <= tolerated_exponent) exponent_[index] = 0;
  const double scale = exponent_[index] == 0 ? 1.0 : std::ldexp(1.0, -exponent_[index]);
  if (exponent_[index] != 0) detail::scale_by_power(up, message.size, -exponent_[index]);
  if (!clique_factors) kernels.invert(up, message.size, detail::smallest_message, scale, inverse);
  if (!message.above.straight()) detail::spread_out(message.above, up, copies_.data() + message.above.begin);
}

inline void Propagation::collect() {
  if (stale_[0] == 0) return;
  for (std::size_t c = stale_.size(); c-- > 1;) {
    if (stale_[c] == 0) continue;
    if (findings_in_[c] > 0) {
      send_up(c);
    } else {
      exponent_[c] = 0;
    }
    stale_[c] = 0;
  }
  stale_[0] = 0;
}

inline double Propagation::log_evidence() {
  // A junction tree that is zero as a whole (an absent effect that cannot be absent is part of the tree) has no tables
  // left.
  if (!std::isfinite(tree_->log_constant())) return -std::numeric_limits<double>::infinity();
  reach(0, Visit::where_open);
  if (root_sum_ == 0.0) return -std::numeric_limits<double>::infinity();
  long long exponents = 0;
  for (const int exponent : exponent_) exponents += exponent;
  return tree_->log_constant() + std::log(root_sum_) + static_cast<double>(exponents) * std::numbers::ln2;
}

/// Sends outward messages from a clique whose own has arrived, and reads the marginals hosted in it.
inline void Propagation::visit(std::size_t index, Visit wanted) {
  stop_.check();
  const JunctionTree::Node& node = tree_->nodes()[index];
  enter(node);
  if (index != 0) enter_down(node);
  ask_below(node, wanted);
  alignas(detail::cache_line) std::array<double, detail::max_inner> lane_sums;
  sweep(node, node.inner_hosts > 0 || index == 0 ? lane_sums.data() : nullptr);
  // The root is swept once, for the sum of everything and for its messages, which that sum then scales.
  double scale = 1.0;
  if (index == 0) {
    root_sum_ = 0.0;
    for (std::size_t lane = 0; lane < node.layout.width; ++lane) root_sum_ += lane_sums[lane];
    scale = 1.0 / root_sum_;
  }
  const double* sums = sums_.data();
  for (const std::size_t child : node.shape.children) {
    if (open_in_[child] == 0 && wanted != Visit::everywhere) continue;
    pass_down(child, scale, sums);
    sums += tree_->nodes()[child].message.above.source.size();
  }
  read_hosts(node, lane_sums.data());
  visited_[index] = wanted;
}

/// Finishes the message to a child whose sums are in: straight in place, or at `sums`.
inline void Propagation::pass_down(std::size_t child, double scale, const double* sums) {
  const JunctionTree::Node& below = tree_->nodes()[child];
  const JunctionTree::Message& message = below.message;
  double* down = down_.data() + message.begin;
  if (!message.above.straight()) detail::gather_up(message.above, sums, down, message.size);
  if (findings_in_[child] > 0) {
    tree_->kernels().multiply(down, message.size, inverse_.data() + message.begin, scale);
  } else if (!below.unit_inverse.empty()) {
    tree_->kernels().multiply(down, message.size, below.unit_inverse.data(), scale);
  } else if (scale != 1.0) {
    for (std::size_t s = 0; s < message.size; ++s) down[s] *= scale;
  }
  if (!message.below.straight()) detail::spread_out(message.below, down, copies_.data() + message.below.begin);
}

inline void Propagation::read_hosts(const JunctionTree::Node& node, const double* lane_sums) {
  for (const JunctionTree::Host& host : node.hosts) {
    if (hard_[host.slot] != 0) continue;
    double* marginal = marginals_.data() + host.begin;
    if (host.inner()) {
      for (std::size_t state = 0; state < host.states; ++state) {
        double sum = 0.0;
        const double* from = lane_sums + state * host.stride;
        for (std::size_t round = 0; round < host.rounds; ++round, from += host.states * host.stride) {
          for (std::size_t i = 0; i < host.stride; ++i) sum += from[i];
        }
        marginal[state] = sum;
      }
    }
    double sum = 0.0;
    for (std::size_t state = 0; state < host.states; ++state) sum += marginal[state];
    const double scale = 1.0 / sum;
    for (std::size_t state = 0; state < host.states; ++state) marginal[state] *= scale;
  }
}

/// Visits all cliques from the root to this one that are not visited yet.
inline void Propagation::reach(std::size_t index, Visit wanted) {
  collect();
  path_.clear();
  for (std::size_t c = index; c != no_slot && visited_[c] < wanted; c = tree_->nodes()[c].shape.parent) {
    path_.push_back(c);
  }
  for (std::size_t i = path_.size(); i-- > 0;) visit(path_[i], wanted);
}

inline std::span<const double> Propagation::marginal(std::size_t slot) {
  if (hard_[slot] == 0) reach(tree_->host_of(slot), Visit::where_open);
  return {marginals_.data() + tree_->state_begin(slot), tree_->state_counts()[slot]};
}

inline void Propagation::read_all() {
  collect();
  for (std::size_t c = 0; c < visited_.size(); ++c) {
    if (visited_[c] == Visit::none && open_in_[c] > 0) visit(c, Visit::where_open);
  }
}

/// The product of the table and the operands entered, over one block.
inline void Propagation::multiply_block(const JunctionTree::Node& node, std::size_t block,
                                        std::span<double> product) const {
  const std::uint32_t* offsets = node.offsets.data() + block * node.columns;
  double scale = 1.0;
  for (const detail::Input& input : operands_.scalar_inputs) scale *= input.values[offsets[input.column]];
  for (std::size_t lane = 0; lane < node.layout.width; ++lane) {
    product[lane] = node.table.empty() ? scale : node.table[block * node.layout.width + lane] * scale;
    if (weighted_lanes_[index_of(node)] > 0) product[lane] *= lane_weights_[node.lanes_begin + lane];
    for (const detail::Input& input : operands_.vector_inputs) {
      product[lane] *= input.values[offsets[input.column] + lane];
    }
  }
}

inline std::vector<double> Propagation::joint_in_clique(std::span<const std::size_t> scope) {
  detail::Slots sorted(scope.begin(), scope.end());
  std::sort(sorted.begin(), sorted.end());
  std::size_t holder = no_slot;
  for (std::size_t c = 0; c < tree_->nodes().size(); ++c) {
    const JunctionTree::Node& node = tree_->nodes()[c];
    const std::vector<std::size_t>& slots = node.shape.slots;
    if (!std::includes(slots.begin(), slots.end(), sorted.begin(), sorted.end())) continue;
    if (holder == no_slot || node.layout.table_size() < tree_->nodes()[holder].layout.table_size()) holder = c;
  }
  if (holder == no_slot) return {};
  const JunctionTree::Node& node = tree_->nodes()[holder];
  std::vector<double> products;
  products_of_clique(holder, products);
  const detail::Form form = detail::dense_form({scope.begin(), scope.end()}, tree_->state_counts());
  const std::vector<std::size_t> of_lane = detail::lane_entries(node.layout, form, tree_->state_counts());
  const std::vector<std::uint32_t> of_block = detail::block_entries(node.layout, form, tree_->state_counts());
  std::vector<double> joint(form.size, 0.0);
  const double* product = products.data();
  for (const std::uint32_t block : of_block) {
    for (std::size_t lane = 0; lane < node.layout.width; ++lane) joint[block + of_lane[lane]] += *product++;
  }
  double total = 0.0;
  for (const double entry : joint) total += entry;
  for (double& entry : joint) entry /= total;
  return joint;
}

inline void Propagation::products_of_clique(std::size_t clique, std::vector<double>& products) {
  reach(clique, Visit::everywhere);
  const JunctionTree::Node& node = tree_->nodes()[clique];
  enter(node);
  if (clique != 0) enter_down(node);
  products.resize(node.layout.table_size());
  for (std::size_t block = 0; block < node.layout.blocks; ++block) {
    multiply_block(node, block, std::span(products).subspan(block * node.layout.width, node.layout.width));
  }
}

}  // namespace faultodds

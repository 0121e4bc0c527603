// Bodies of propagation.hpp.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <utility>

#include "faultodds/inference/propagation.hpp"

namespace faultodds {

inline Propagation::Propagation(std::shared_ptr<const Plan> plan)
    : plan_(std::move(plan)),
      weights_(plan_->total_states(), 1.0),
      weighted_(plan_->state_counts().size(), 0),
      findings_in_(plan_->nodes().size(), 0),
      stale_(plan_->nodes().size(), 0),
      visited_(plan_->nodes().size(), 0),
      up_(plan_->total_messages(), 1.0),
      down_(plan_->total_messages(), 1.0),
      exponent_(plan_->nodes().size(), 0),
      marginals_(plan_->total_states(), 0.0) {}

inline void Propagation::set_weights(std::size_t slot, std::span<const double> weights) {
  const auto known = weights_.begin() + static_cast<std::ptrdiff_t>(plan_->state_begin(slot));
  if (weighted_[slot] != 0 && std::equal(weights.begin(), weights.end(), known)) return;
  std::copy(weights.begin(), weights.end(), known);
  if (weighted_[slot] == 0) {
    weighted_[slot] = 1;
    for (std::size_t c = plan_->home_of(slot); c != no_slot; c = plan_->nodes()[c].shape.parent) ++findings_in_[c];
  }
  touch(slot);
}

inline void Propagation::clear_weights(std::size_t slot) {
  if (weighted_[slot] == 0) return;
  weighted_[slot] = 0;
  for (std::size_t c = plan_->home_of(slot); c != no_slot; c = plan_->nodes()[c].shape.parent) --findings_in_[c];
  touch(slot);
}

inline void Propagation::clear_all() {
  for (std::size_t slot = 0; slot < weighted_.size(); ++slot) clear_weights(slot);
}

inline void Propagation::touch(std::size_t slot) {
  for (std::size_t c = plan_->home_of(slot); c != no_slot && stale_[c] == 0; c = plan_->nodes()[c].shape.parent) {
    stale_[c] = 1;
  }
  std::fill(visited_.begin(), visited_.end(), std::uint8_t{0});
}

inline void Propagation::enter(const Plan::Node& node, std::size_t column, const double* values) {
  const detail::Operand& operand = node.layout.operands[column];
  if (spread_.size() <= column) spread_.resize(column + 1);
  if (!operand.source.empty() && spread_[column].size() < operand.spread) spread_[column].resize(operand.spread);
  inputs_.add(node.layout, {column, detail::spread_out(operand, values, spread_[column].data())});
}

inline double* Propagation::sums_of(const detail::Layout& layout, std::size_t column) {
  if (sums_.size() <= column) sums_.resize(column + 1);
  sums_[column].assign(layout.operands[column].spread, 0.0);
  return sums_[column].data();
}

inline void Propagation::enter_from_below(const Plan::Node& node) {
  inputs_.clear();
  outputs_.clear();
  for (std::size_t i = 0; i < node.shape.children.size(); ++i) {
    const std::size_t child = node.shape.children[i];
    if (findings_in_[child] > 0) enter(node, node.child_columns[i], up_.data() + plan_->nodes()[child].message_begin);
  }
  for (const Plan::Home& home : node.homes) {
    if (weighted_[home.slot] != 0) enter(node, home.column, weights_.data() + plan_->state_begin(home.slot));
  }
}

inline void Propagation::send_up(std::size_t index) {
  static constexpr int tolerated_exponent = 32;
  plan_->pass_checkpoint();
  const Plan::Node& node = plan_->nodes()[index];
  enter_from_below(node);
  outputs_.add(node.layout, {0, sums_of(node.layout, 0)});
  detail::sweep(node.layout, node.table.data(), 1.0, inputs_, outputs_);
  double* message = up_.data() + node.message_begin;
  detail::gather_up(node.layout.operands[0], sums_[0].data(), message);
  exponent_[index] = detail::take_exponent(message, node.message_size, tolerated_exponent);
}

inline void Propagation::collect() {
  if (stale_[0] == 0) return;
  for (std::size_t c = stale_.size(); c-- > 0;) {
    if (stale_[c] == 0) continue;
    if (findings_in_[c] > 0) {
      send_up(c);
    } else {
      exponent_[c] = 0;
    }
    stale_[c] = 0;
  }
  root_sum_ = findings_in_[0] > 0 ? up_[0] : 1.0;
}

inline double Propagation::log_evidence() {
  // A plan that is zero as a whole (an absent effect that cannot be absent is part of the plan) has no tables left.
  if (!std::isfinite(plan_->log_constant())) return -std::numeric_limits<double>::infinity();
  collect();
  if (root_sum_ == 0.0) return -std::numeric_limits<double>::infinity();
  long long exponents = 0;
  for (const int exponent : exponent_) exponents += exponent;
  return plan_->log_constant() + std::log(root_sum_) + static_cast<double>(exponents) * std::numbers::ln2;
}

/// Sends outward messages from a clique whose own has arrived, and reads the marginals at home in it.
inline void Propagation::visit(std::size_t index) {
  plan_->pass_checkpoint();
  const Plan::Node& node = plan_->nodes()[index];
  enter_from_below(node);
  if (index != 0) enter(node, 0, down_.data() + node.message_begin);
  for (const std::size_t column : node.child_columns) outputs_.add(node.layout, {column, sums_of(node.layout, column)});
  for (const Plan::Home& home : node.homes) {
    outputs_.add(node.layout, {home.column, sums_of(node.layout, home.column)});
  }
  const double scale = index == 0 ? std::ldexp(1.0 / root_sum_, -exponent_[0]) : 1.0;
  detail::sweep(node.layout, node.table.data(), scale, inputs_, outputs_);
  for (std::size_t i = 0; i < node.shape.children.size(); ++i) {
    const std::size_t child = node.shape.children[i];
    const Plan::Node& below = plan_->nodes()[child];
    double* message = down_.data() + below.message_begin;
    detail::gather_up(node.layout.operands[node.child_columns[i]], sums_[node.child_columns[i]].data(), message);
    if (findings_in_[child] == 0) continue;
    const double* up = up_.data() + below.message_begin;
    const double rescale = std::ldexp(1.0, -exponent_[child]);
    for (std::size_t s = 0; s < below.message_size; ++s) {
      message[s] = up[s] < detail::smallest_message ? 0.0 : message[s] / up[s] * rescale;
    }
  }
  normalise_homes(node);
  visited_[index] = 1;
}

inline void Propagation::normalise_homes(const Plan::Node& node) {
  for (const Plan::Home& home : node.homes) {
    double* marginal = marginals_.data() + plan_->state_begin(home.slot);
    detail::gather_up(node.layout.operands[home.column], sums_[home.column].data(), marginal);
    const std::size_t states = plan_->state_counts()[home.slot];
    double sum = 0.0;
    for (std::size_t s = 0; s < states; ++s) sum += marginal[s];
    for (std::size_t s = 0; s < states; ++s) marginal[s] /= sum;
  }
}

inline void Propagation::reach(std::size_t index) {
  collect();
  std::vector<std::size_t> path;
  for (std::size_t c = index; c != no_slot && visited_[c] == 0; c = plan_->nodes()[c].shape.parent) path.push_back(c);
  for (std::size_t i = path.size(); i-- > 0;) visit(path[i]);
}

inline std::span<const double> Propagation::marginal(std::size_t slot) {
  reach(plan_->home_of(slot));
  return {marginals_.data() + plan_->state_begin(slot), plan_->state_counts()[slot]};
}

inline void Propagation::read_all() {
  collect();
  for (std::size_t c = 0; c < visited_.size(); ++c) {
    if (visited_[c] == 0) visit(c);
  }
}

inline std::vector<double> Propagation::joint_in_clique(std::span<const std::size_t> scope) {
  std::vector<std::size_t> sorted(scope.begin(), scope.end());
  std::sort(sorted.begin(), sorted.end());
  std::size_t holder = no_slot;
  for (std::size_t c = 0; c < plan_->nodes().size(); ++c) {
    const Plan::Node& node = plan_->nodes()[c];
    const std::vector<std::size_t>& slots = node.shape.slots;
    if (!std::includes(slots.begin(), slots.end(), sorted.begin(), sorted.end())) continue;
    if (holder == no_slot || node.table.size() < plan_->nodes()[holder].table.size()) holder = c;
  }
  if (holder == no_slot) return {};
  reach(holder);
  const Plan::Node& node = plan_->nodes()[holder];
  enter_from_below(node);
  if (holder != 0) enter(node, 0, down_.data() + node.message_begin);
  std::vector<double> belief = node.table;
  detail::multiply_in(node.layout, belief.data(), inputs_);
  return detail::sum_onto(node.layout, belief, scope, plan_->state_counts());
}

}  // namespace faultodds

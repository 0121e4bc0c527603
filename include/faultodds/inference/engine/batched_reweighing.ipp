// Bodies of batched_reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>

#include "faultodds/inference/engine/batched_reweighing.hpp"

namespace faultodds {

inline std::span<const std::size_t> BatchedReweighing::slot_of() const {
  return std::visit([](const auto& form) { return std::span<const std::size_t>(form.slot_of()); }, form_);
}

inline void BatchedReweighing::stop_by(const Stop& stop) {
  std::visit([&](auto& form) { form.stop_by(stop); }, form_);
}

inline void BatchedReweighing::check_variable(std::size_t variable) const {
  if (can_weigh(variable)) return;
  throw ArgumentError("variable", "index " + std::to_string(variable), "give one for which can_weigh is true",
                      ErrorCode::index_out_of_range);
}

inline void BatchedReweighing::check_weights(std::size_t variable, std::size_t weights) const {
  check_variable(variable);
  const std::size_t states = std::visit([&](const auto& form) { return form.state_count(variable); }, form_);
  if (weights == states) return;
  throw ArgumentError("weights", std::to_string(weights) + " weights",
                      "give one for each of the " + std::to_string(states) + " states", ErrorCode::wrong_size);
}

inline void BatchedReweighing::check_answer(std::size_t product) const {
  if (!answered_) throw ArgumentError("product", "the batch has not run", "call run() first");
  if (product < products_) return;
  throw ArgumentError("product", "index " + std::to_string(product),
                      "the batch has " + std::to_string(products_) + " products", ErrorCode::index_out_of_range);
}

inline void BatchedReweighing::give(std::span<const Reweighing::Weights> weights) {
  for (const Reweighing::Weights& of_variable : weights)
    check_weights(of_variable.variable, of_variable.of_state.size());
  products_ = 0;
  answered_ = false;
  wanted_.assign(slot_of().size(), false);
  std::visit([&](auto& form) { form.give(weights); }, form_);
}

inline void BatchedReweighing::start(std::size_t products) {
  products_ = products;
  answered_ = false;
  wanted_.assign(slot_of().size(), false);
  std::visit([&](auto& form) { form.start(products); }, form_);
}

inline void BatchedReweighing::weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
  check_weights(variable, weights.size());
  if (product >= products_) {
    throw ArgumentError("product", "index " + std::to_string(product),
                        "the batch has " + std::to_string(products_) + " products", ErrorCode::index_out_of_range);
  }
  answered_ = false;
  std::visit([&](auto& form) { form.weigh(product, variable, weights); }, form_);
}

inline void BatchedReweighing::want(std::size_t variable) {
  check_variable(variable);
  answered_ = false;
  wanted_[variable] = true;
  std::visit([&](auto& form) { form.want(variable); }, form_);
}

inline bool BatchedReweighing::fits() {
  return std::visit([](auto& form) { return form.fits(); }, form_);
}

inline void BatchedReweighing::run() {
  std::visit([](auto& form) { form.run(); }, form_);
  answered_ = true;
}

inline double BatchedReweighing::expectation(std::size_t product) const {
  check_answer(product);
  return std::visit([&](const auto& form) { return form.expectation(product); }, form_);
}

inline double BatchedReweighing::joint(std::size_t product, std::size_t variable, std::size_t state) const {
  check_answer(product);
  check_variable(variable);
  if (!wanted_[variable] || state >= std::visit([&](const auto& form) { return form.state_count(variable); }, form_)) {
    throw ArgumentError("variable", wanted_[variable] ? "state index " + std::to_string(state) : "was not wanted",
                        "call want() before run(), and give one of its states", ErrorCode::index_out_of_range);
  }
  return std::visit([&](const auto& form) { return form.joint(product, variable, state); }, form_);
}

inline double BatchedReweighing::expectation_alone(std::span<const Reweighing::Weights> weights) {
  for (const Reweighing::Weights& one : weights) check_weights(one.variable, one.of_state.size());
  answered_ = false;
  return std::visit([&](auto& form) { return form.expectation_alone(weights); }, form_);
}

inline std::span<const double> BatchedReweighing::posterior(std::size_t variable) {
  check_variable(variable);
  return std::visit([&](auto& form) { return std::span<const double>(form.posterior(variable)); }, form_);
}

inline bool BatchedReweighing::in_one_clique(std::span<const VariableIndex> variables) {
  for (const std::size_t variable : variables) check_variable(variable);
  return std::visit([&](auto& form) { return form.in_one_clique(variables); }, form_);
}

inline std::vector<double> BatchedReweighing::joint_in_clique(std::span<const VariableIndex> variables) {
  for (const std::size_t variable : variables) check_variable(variable);
  return std::visit([&](auto& form) { return form.joint_in_clique(variables); }, form_);
}

}  // namespace faultodds

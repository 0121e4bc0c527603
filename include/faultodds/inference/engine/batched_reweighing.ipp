// Bodies of batched_reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/engine/batched_reweighing.hpp"

namespace faultodds {

inline std::span<const std::size_t> BatchedReweighing::slot_of() const {
  return std::visit([](const auto& form) { return std::span<const std::size_t>(form.slot_of()); }, form_);
}

inline void BatchedReweighing::stop_by(const Stop& stop) {
  std::visit([&](auto& form) { form.stop_by(stop); }, form_);
}

inline void BatchedReweighing::give(std::span<const Reweighing::Weights> weights) {
  std::visit([&](auto& form) { form.give(weights); }, form_);
}

inline void BatchedReweighing::start(std::size_t products) {
  std::visit([&](auto& form) { form.start(products); }, form_);
}

inline void BatchedReweighing::weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
  std::visit([&](auto& form) { form.weigh(product, variable, weights); }, form_);
}

inline void BatchedReweighing::want(std::size_t variable) {
  std::visit([&](auto& form) { form.want(variable); }, form_);
}

inline bool BatchedReweighing::fits() {
  return std::visit([](auto& form) { return form.fits(); }, form_);
}

inline void BatchedReweighing::run() {
  std::visit([](auto& form) { form.run(); }, form_);
}

inline double BatchedReweighing::expectation(std::size_t product) const {
  return std::visit([&](const auto& form) { return form.expectation(product); }, form_);
}

inline double BatchedReweighing::joint(std::size_t product, std::size_t variable, std::size_t state) const {
  return std::visit([&](const auto& form) { return form.joint(product, variable, state); }, form_);
}

inline std::span<const double> BatchedReweighing::posterior(std::size_t variable) {
  return std::visit([&](auto& form) { return std::span<const double>(form.posterior(variable)); }, form_);
}

inline bool BatchedReweighing::in_one_clique(std::span<const std::size_t> variables) const {
  return std::visit([&](const auto& form) { return form.in_one_clique(variables); }, form_);
}

inline std::vector<double> BatchedReweighing::joint_in_clique(std::span<const std::size_t> variables) {
  return std::visit([&](auto& form) { return form.joint_in_clique(variables); }, form_);
}

}  // namespace faultodds

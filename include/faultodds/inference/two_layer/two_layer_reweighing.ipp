// Bodies of two_layer_reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>

#include "faultodds/inference/two_layer/two_layer_reweighing.hpp"

namespace faultodds::detail {

inline TwoLayerReweighing::TwoLayerReweighing(TwoLayerSums sums)
    : sums_(std::move(sums)), block_(sums_.tree()), mark_of_(sums_.tree()->network().causes.size(), no_slot) {}

inline void TwoLayerReweighing::stop_by(const Stop& stop) {
  sums_.stop_by(stop);
  block_.stop_by(stop);
}

inline void TwoLayerReweighing::give(std::span<const Reweighing::Weights> weights) {
  sums_.give(weights);
  start(0);
}

inline void TwoLayerReweighing::start(std::size_t products) {
  products_ = products;
  for (const Mark& mark : marks_) mark_of_[mark.cause] = no_slot;
  marks_.clear();
}

inline TwoLayerReweighing::Mark& TwoLayerReweighing::mark(std::size_t variable) {
  const std::size_t cause = slot_of()[variable];
  if (mark_of_[cause] == no_slot) {
    mark_of_[cause] = marks_.size();
    marks_.push_back({cause, false, false, {}, {}});
  }
  return marks_[mark_of_[cause]];
}

inline void TwoLayerReweighing::weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
  Mark& mark = this->mark(variable);
  const std::size_t blocks = (products_ + lanes - 1) / lanes;
  if (!std::exchange(mark.weighed, true)) mark.weights.assign(blocks * weights.size() * lanes, 1.0);
  double* const at = mark.weights.data() + product / lanes * weights.size() * lanes + product % lanes;
  for (std::size_t s = 0; s < weights.size(); ++s) at[s * lanes] *= weights[s];
}

inline void TwoLayerReweighing::want(std::size_t variable) { mark(variable).wanted = true; }

inline double TwoLayerReweighing::expectation_alone(std::span<const Reweighing::Weights> weights) {
  start(1);
  for (const Reweighing::Weights& one : weights) weigh(0, one.variable, one.of_state);
  run();
  return expectation(0);
}

inline double TwoLayerReweighing::joint(std::size_t product, std::size_t variable, std::size_t state) const {
  const std::size_t cause = slot_of()[variable];
  const std::size_t states = sums_.weights(cause).size();
  return marks_[mark_of_[cause]].joints[(product / lanes * states + state) * lanes + product % lanes];
}

inline std::vector<double> TwoLayerReweighing::joint_in_clique(std::span<const VariableIndex> variables) const {
  if (variables.empty()) return {1.0};
  if (variables.size() > 1) return {};
  const std::span<const double> posterior = this->posterior(variables[0]);
  return {posterior.begin(), posterior.end()};
}

/// The weights of all causes in one block of products. Those without links leave their sum in the expectations.
inline void TwoLayerReweighing::weigh_block(std::size_t number) {
  double* const expectations = expectations_.data() + number * lanes;
  std::fill_n(expectations, lanes, 1.0);
  for (const Mark& mark : marks_) {
    if (!mark.weighed) continue;
    const std::span<const double> before = sums_.weights(mark.cause);
    const double* const factors = mark.weights.data() + number * before.size() * lanes;
    double* const weights = block_.weights(mark.cause);
    for (std::size_t i = 0; i < before.size() * lanes; ++i) weights[i] = before[i / lanes] * factors[i];
    if (is_linked(mark.cause)) continue;
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      double sum = 0.0;
      for (std::size_t s = 0; s < before.size(); ++s) sum += weights[s * lanes + lane];
      expectations[lane] *= sum;
    }
  }
}

/// Joints of the wanted causes, and the expectations.
inline void TwoLayerReweighing::read_block(std::size_t number) {
  double* const expectations = expectations_.data() + number * lanes;
  std::array<double, lanes> of_linked{};  // what those without links bring, for a unit of the total
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    of_linked[lane] = expectations[lane] / sums_.total();
    expectations[lane] = of_linked[lane] * block_.total()[lane];
  }
  for (Mark& mark : marks_) {
    if (!mark.wanted) continue;
    const std::size_t states = sums_.weights(mark.cause).size();
    const double* const weights = block_.weights(mark.cause);
    double* const joints = mark.joints.data() + number * states * lanes;
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      double sum = 0.0;
      for (std::size_t s = 0; s < states; ++s) sum += weights[s * lanes + lane];
      for (std::size_t s = 0; s < states; ++s) {
        const std::size_t i = s * lanes + lane;
        if (is_linked(mark.cause)) {
          joints[i] = weights[i] * block_.slopes(mark.cause)[i] * of_linked[lane];
        } else {
          joints[i] = sum > 0.0 ? weights[i] / sum * expectations[lane] : 0.0;
        }
      }
    }
  }
}

inline void TwoLayerReweighing::run() {
  const std::size_t blocks = (products_ + lanes - 1) / lanes;
  expectations_.assign(blocks * lanes, 1.0);
  for (std::size_t c = 0; c < mark_of_.size(); ++c) {
    const std::span<const double> before = sums_.weights(c);
    for (std::size_t i = 0; i < before.size() * lanes; ++i) block_.weights(c)[i] = before[i / lanes];
  }
  bool any_wanted = false;
  for (Mark& mark : marks_) {
    if (!mark.wanted) continue;
    mark.joints.resize(blocks * sums_.weights(mark.cause).size() * lanes);
    any_wanted = any_wanted || is_linked(mark.cause);
  }
  for (std::size_t block = 0; block < blocks; ++block) {
    weigh_block(block);
    block_.forward();
    if (any_wanted) block_.back();
    read_block(block);
  }
}

}  // namespace faultodds::detail

// Bodies of reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>

#include "faultodds/inference/junction_tree/reweighing.hpp"

namespace faultodds {

inline Reweighing::Reweighing(Propagation propagation)
    : propagation_(std::move(propagation)), log_before_(propagation_.log_evidence()) {}

inline double Reweighing::expectation(std::span<const Weights> weights) {
  given_.give(propagation_, weights);
  return std::exp(propagation_.log_evidence() - log_before_);
}

namespace detail {

inline void GivenWeights::give(Propagation& propagation, std::span<const Weights> weights) {
  const std::vector<std::size_t>& slot_of = propagation.tree().slot_of();
  const std::vector<Given> before = std::exchange(given_, {});
  for (const Weights& one : weights) {
    const std::size_t slot = slot_of[one.variable];
    const auto again =
        std::find_if(before.begin(), before.end(), [&](const Given& given) { return given.slot == slot; });
    if (again != before.end()) {
      given_.push_back(*again);
    } else {
      const std::span<const double> here = propagation.weights(slot);
      given_.push_back({slot, !here.empty(), {here.begin(), here.end()}});
    }
    std::vector<double> product = one.of_state;
    for (std::size_t s = 0; s < product.size() && given_.back().weighed; ++s) product[s] *= given_.back().weights[s];
    propagation.set_weights(slot, product);
  }
  for (const Given& given : before) {
    const auto again =
        std::find_if(given_.begin(), given_.end(), [&](const Given& now) { return now.slot == given.slot; });
    if (again != given_.end()) continue;
    if (given.weighed) {
      propagation.set_weights(given.slot, given.weights);
    } else {
      propagation.clear_weights(given.slot);
    }
  }
}

inline std::optional<std::vector<const Link*>> acting_links(const NoisyMax& noisy, std::span<const Finding> findings,
                                                            std::span<const std::size_t> slot_of) {
  std::vector<const Link*> acting;
  for (const Link& link : noisy.links) {
    bool open = true;
    for (const Gate& gate : link.only_when) {
      const std::optional<StateIndex> found = known_state(findings, gate.variable);
      if (!found) return std::nullopt;
      open = open && std::find(gate.states.begin(), gate.states.end(), *found) != gate.states.end();
    }
    if (!open) continue;
    if (slot_of[link.cause] == no_slot) return std::nullopt;
    acting.push_back(&link);
  }
  return acting;
}

/// P_i(effect <= y | state) for each state of the link's cause.
inline std::vector<double> up_to(const Link& link, std::size_t y) {
  std::vector<double> result(link.effect.rows(), 0.0);
  for (std::size_t s = 0; s < result.size(); ++s) {
    for (std::size_t e = 0; e <= y; ++e) result[s] += link.effect(s, e);
  }
  return result;
}

inline std::vector<Reweighing::Weights> up_to(const std::vector<const Link*>& links, std::size_t y) {
  std::vector<Reweighing::Weights> weights;
  for (const Link* link : links) {
    std::vector<double> factor = up_to(*link, y);
    const auto known = std::find_if(weights.begin(), weights.end(),
                                    [&](const Reweighing::Weights& weight) { return weight.variable == link->cause; });
    if (known == weights.end()) {
      weights.push_back({link->cause, std::move(factor)});
      continue;
    }
    for (std::size_t s = 0; s < factor.size(); ++s) known->of_state[s] *= factor[s];
  }
  return weights;
}

inline std::vector<double> single_states(std::span<const double> up_to) {
  std::vector<double> result;
  double reached = 0.0;
  for (const double here : up_to) {
    result.push_back(std::max(0.0, here - reached));
    reached = std::max(reached, here);
  }
  result.push_back(std::max(0.0, 1.0 - reached));
  return result;
}

}  // namespace detail

}  // namespace faultodds

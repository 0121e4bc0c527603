// Bodies of reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>

#include "faultodds/inference/junction_tree/reweighing.hpp"

namespace faultodds {

inline Reweighing::Reweighing(Propagation propagation, std::span<const Finding> findings)
    : findings_(findings), propagation_(std::move(propagation)), log_before_(propagation_.log_evidence()) {}

inline double Reweighing::expectation(std::span<const Weights> weights) {
  detail::give_weights(propagation_, findings_, weights, given_);
  return std::exp(propagation_.log_evidence() - log_before_);
}

namespace detail {

inline void give_weights(Propagation& propagation, std::span<const Finding> findings,
                         std::span<const Reweighing::Weights> weights, std::vector<std::size_t>& given) {
  const std::vector<std::size_t>& slot_of = propagation.tree().slot_of();
  for (const std::size_t variable : given) {
    const bool again = std::any_of(weights.begin(), weights.end(),
                                   [&](const Reweighing::Weights& weight) { return weight.variable == variable; });
    if (again) continue;
    const Finding* finding = finding_of(findings, variable);
    if (finding == nullptr) {
      propagation.clear_weights(slot_of[variable]);
    } else {
      propagation.set_weights(slot_of[variable], finding->weights);
    }
  }
  given.clear();
  for (const Reweighing::Weights& weight : weights) {
    std::vector<double> product = weight.of_state;
    if (const Finding* finding = finding_of(findings, weight.variable); finding != nullptr) {
      for (std::size_t s = 0; s < product.size(); ++s) product[s] *= finding->weights[s];
    }
    propagation.set_weights(slot_of[weight.variable], product);
    given.push_back(weight.variable);
  }
}

inline std::optional<std::vector<const Link*>> acting_links(const NoisyMax& noisy, std::span<const Finding> findings,
                                                            std::span<const std::size_t> slot_of) {
  std::vector<const Link*> acting;
  for (const Link& link : noisy.links) {
    bool open = true;
    for (const Gate& gate : link.only_when) {
      const Finding* finding = finding_of(findings, gate.variable);
      if (finding == nullptr || !finding->state.has_value()) return std::nullopt;
      open = open && std::find(gate.states.begin(), gate.states.end(), *finding->state) != gate.states.end();
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

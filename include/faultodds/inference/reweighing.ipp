// Bodies of reweighing.hpp.
#pragma once

#include <algorithm>
#include <cmath>

#include "faultodds/inference/reweighing.hpp"

namespace faultodds {

inline Reweighing::Reweighing(const Propagation& propagation, std::span<const Finding> findings)
    : findings_(findings), propagation_(propagation), log_before_(propagation_.log_evidence()) {}

inline bool Reweighing::can_weigh(std::size_t variable) const {
  return propagation_.plan().slot_of()[variable] != no_slot;
}

inline double Reweighing::expectation(std::span<const Weights> weights) {
  const std::vector<std::size_t>& slot_of = propagation_.plan().slot_of();
  for (const std::size_t variable : weighed_) {
    const bool again =
        std::any_of(weights.begin(), weights.end(), [&](const Weights& weight) { return weight.variable == variable; });
    if (again) continue;
    const Finding* finding = finding_of(findings_, variable);
    if (finding == nullptr) {
      propagation_.clear_weights(slot_of[variable]);
    } else {
      propagation_.set_weights(slot_of[variable], finding->weights);
    }
  }
  weighed_.clear();
  for (const Weights& weight : weights) {
    std::vector<double> product = weight.of_state;
    if (const Finding* finding = finding_of(findings_, weight.variable); finding != nullptr) {
      for (std::size_t s = 0; s < product.size(); ++s) product[s] *= finding->weights[s];
    }
    propagation_.set_weights(slot_of[weight.variable], product);
    weighed_.push_back(weight.variable);
  }
  return std::exp(propagation_.log_evidence() - log_before_);
}

inline std::span<const double> Reweighing::marginal(std::size_t variable) {
  return propagation_.marginal(propagation_.plan().slot_of()[variable]);
}

inline std::optional<std::vector<const Link*>> Reweighing::acting_links(const NoisyMax& noisy) const {
  return detail::acting_links(noisy, findings_, propagation_.plan().slot_of());
}

namespace detail {

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

inline std::vector<double> up_to(const Link& link, std::size_t y) {
  std::vector<double> result(link.effect.rows(), 0.0);
  for (std::size_t s = 0; s < result.size(); ++s) {
    for (std::size_t e = 0; e <= y; ++e) result[s] += link.effect(s, e);
  }
  return result;
}

/// Multiplies the weights of a variable into a list that names each variable once.
inline void weigh(std::vector<Reweighing::Weights>& weights, std::size_t variable, std::span<const double> factor) {
  auto known = std::find_if(weights.begin(), weights.end(),
                            [&](const Reweighing::Weights& weight) { return weight.variable == variable; });
  if (known == weights.end()) {
    weights.push_back({variable, {factor.begin(), factor.end()}});
    return;
  }
  for (std::size_t s = 0; s < factor.size(); ++s) known->of_state[s] *= factor[s];
}

}  // namespace detail

}  // namespace faultodds

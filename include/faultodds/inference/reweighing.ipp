// Bodies of reweighing.hpp, and what Case foretells with them.
#pragma once

#include <algorithm>
#include <cmath>

#include "faultodds/inference/reweighing.hpp"

namespace faultodds {

inline Reweighing::Reweighing(const Case& current)
    : case_(current), propagation_(current.propagation()), log_before_(propagation_.log_evidence()) {}

inline bool Reweighing::can_weigh(std::size_t variable) const {
  return propagation_.plan().slot_of()[variable] != no_slot;
}

inline double Reweighing::expectation(std::span<const Weights> weights) {
  const std::vector<std::size_t>& slot_of = propagation_.plan().slot_of();
  for (const std::size_t variable : weighed_) {
    const bool again =
        std::any_of(weights.begin(), weights.end(), [&](const Weights& weight) { return weight.variable == variable; });
    if (again) continue;
    const Finding* finding = case_.finding_of(variable);
    if (finding == nullptr) {
      propagation_.clear_weights(slot_of[variable]);
    } else {
      propagation_.set_weights(slot_of[variable], finding->weights);
    }
  }
  weighed_.clear();
  for (const Weights& weight : weights) {
    std::vector<double> product = weight.of_state;
    if (const Finding* finding = case_.finding_of(weight.variable); finding != nullptr) {
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

namespace detail {

inline std::optional<std::vector<const Link*>> acting_links(const Case& current, const Reweighing& reweighing,
                                                            const NoisyMax& noisy) {
  std::vector<const Link*> acting;
  for (const Link& link : noisy.links) {
    bool open = true;
    for (const Gate& gate : link.only_when) {
      const Finding* finding = current.finding_of(gate.variable);
      if (finding == nullptr || !finding->state.has_value()) return std::nullopt;
      open = open && std::find(gate.states.begin(), gate.states.end(), *finding->state) != gate.states.end();
    }
    if (!open) continue;
    if (!reweighing.can_weigh(link.cause)) return std::nullopt;
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

/// P(effect <= y | findings) = E[P_leak(<= y) prod_i P_i(<= y | cause i)].
inline std::optional<std::vector<double>> Case::predict_noisy(std::size_t variable) const {
  const auto* noisy = std::get_if<NoisyMax>(&model().variable(variable).distribution);
  if (noisy == nullptr) return std::nullopt;
  Reweighing reweighing(*this);
  const auto links = detail::acting_links(*this, reweighing, *noisy);
  if (!links.has_value()) return std::nullopt;
  std::vector<double> result(noisy->leak.size(), 0.0);
  double leak = 0.0;
  double reached = 0.0;
  for (std::size_t y = 0; y < result.size(); ++y) {
    leak += noisy->leak[y];
    double all_up_to = 1.0;
    if (y + 1 < result.size()) {
      std::vector<Reweighing::Weights> weights;
      for (const Link* link : *links) detail::weigh(weights, link->cause, detail::up_to(*link, y));
      all_up_to = leak * reweighing.expectation(weights);
    }
    result[y] = std::max(0.0, all_up_to - reached);
    reached = std::max(reached, all_up_to);
  }
  return result;
}

}  // namespace faultodds

// Body of two_layer_network.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "faultodds/inference/network/finding_weights.hpp"
#include "faultodds/inference/two_layer/two_layer_network.hpp"
#include "faultodds/model/table_row.hpp"

namespace faultodds::detail {

/// Enters one variable after the other, parents first. Each says whether it could be entered.
class CauseBuilder {
 public:
  CauseBuilder(const FaultModel& model, std::span<const Presence> presence, std::span<const Finding> findings)
      : model_(model), presence_(presence), finding_of_(model.size(), nullptr), states_(model.size(), 0) {
    for (const Finding& finding : findings) finding_of_[finding.variable] = &finding;
    network_.place_of.assign(model.size(), no_slot);
  }

  std::optional<TwoLayerNetwork> run() {
    for (const std::size_t v : model_.topological_order()) {
      if (presence_[v] != Presence::left_out && !enter(v)) return std::nullopt;
    }
    normalise();
    if (!probable_enough()) return std::nullopt;
    return std::move(network_);
  }

 private:
  [[nodiscard]] bool is_known(std::size_t v) const {
    return finding_of_[v] != nullptr && finding_of_[v]->state.has_value();
  }

  [[nodiscard]] bool leads_on(std::size_t v) const {
    return std::any_of(model_.children(v).begin(), model_.children(v).end(),
                       [this](std::size_t child) { return presence_[child] != Presence::left_out; });
  }

  /// P(v | parents), each in its state of `states_`.
  [[nodiscard]] std::vector<double> row_of(std::size_t v) const {
    const Distribution& distribution = model_.variable(v).distribution;
    if (const auto* full = std::get_if<FullTable>(&distribution); full != nullptr) {
      std::size_t index = 0;
      for (const std::size_t parent : full->parents) index = index * model_.state_count(parent) + states_[parent];
      return {full->rows.row(index).begin(), full->rows.row(index).end()};
    }
    std::vector<double> row(model_.state_count(v), 0.0);
    fill_row(distribution, row, [this](std::size_t parent) { return states_[parent]; });
    return row;
  }

  bool enter(std::size_t v) {
    if (std::holds_alternative<Unweighted>(model_.variable(v).distribution)) return false;
    std::vector<std::size_t> open;  // parents
    for (const std::size_t parent : model_.parents(v)) {
      if (!is_known(parent)) open.push_back(parent);
    }
    if (std::any_of(open.begin(), open.end(), [&](std::size_t p) { return network_.place_of[p] == no_slot; })) {
      return false;
    }
    if (is_known(v)) states_[v] = *finding_of_[v]->state;
    if (open.empty()) return enter_cause(v);
    if (finding_of_[v] == nullptr || (!is_known(v) && leads_on(v))) return false;
    if (open.size() == 1) {
      weigh_parent(v, open[0]);
    } else if (const auto* noisy = std::get_if<NoisyMax>(&model_.variable(v).distribution); noisy == nullptr) {
      return false;
    } else if (!enter_effect(v, *noisy)) {
      return false;
    }
    if (is_known(v) && presence_[v] == Presence::present) add_known(v);
    return true;
  }

  /// A variable of known state, there to be asked for.
  void add_known(std::size_t v) {
    std::vector<double> weights(model_.state_count(v), 0.0);
    weights[states_[v]] = 1.0;
    add_cause(v, std::move(weights));
  }

  void add_cause(std::size_t v, std::vector<double> weights) {
    network_.place_of[v] = network_.causes.size();
    network_.causes.push_back({v, std::move(weights), {}});
  }

  bool enter_cause(std::size_t v) {
    std::vector<double> weights = row_of(v);
    if (finding_of_[v] != nullptr) {
      for (std::size_t s = 0; s < weights.size(); ++s) weights[s] *= finding_of_[v]->weights[s];
    }
    add_cause(v, std::move(weights));
    return true;
  }

  /// P(finding | state of the only parent that is not known).
  void weigh_parent(std::size_t v, std::size_t parent) {
    std::vector<double>& weights = network_.causes[network_.place_of[parent]].weights;
    for (std::size_t s = 0; s < weights.size(); ++s) {
      states_[parent] = s;
      const std::vector<double> row = row_of(v);
      double weight = 0.0;
      for (std::size_t y = 0; y < row.size(); ++y) weight += row[y] * finding_of_[v]->weights[y];
      weights[s] *= weight;
    }
  }

  /// A hard finding, or any of an effect with two states.
  bool enter_effect(std::size_t v, const NoisyMax& noisy) {
    const std::size_t states = noisy.leak.size();
    if (!is_known(v) && states != 2) return false;
    std::vector<const Link*> acting;
    for (const Link& link : noisy.links) {
      bool open = true;
      for (const Gate& gate : link.only_when) {
        if (!is_known(gate.variable)) return false;
        open = open && holds(gate, states_[gate.variable]);
      }
      if (open) acting.push_back(&link);
    }
    const std::size_t found = is_known(v) ? states_[v] : 1;
    TwoLayerNetwork::Effect effect;
    if (!is_known(v)) {
      effect.if_not = finding_of_[v]->weights[0];
      effect.if_so = finding_of_[v]->weights[1];
    }
    const double leak = up_to(noisy.leak, found);
    if (found > 0) effect.left = ratio(up_to(noisy.leak, found - 1), leak);
    network_.log_factor += std::log(leak);
    for (const Link* link : acting) enter_link(*link, found, effect);
    if (found > 0) network_.effects.push_back(effect);
    return true;
  }

  void enter_link(const Link& link, std::size_t found, TwoLayerNetwork::Effect& effect) {
    std::vector<double> misses;
    std::vector<double> reached;
    for (std::size_t s = 0; s < link.effect.rows(); ++s) {
      reached.push_back(up_to(link.effect.row(s), found));
      misses.push_back(found == 0 ? 1.0 : ratio(up_to(link.effect.row(s), found - 1), reached.back()));
    }
    if (is_known(link.cause)) {
      network_.log_factor += std::log(reached[states_[link.cause]]);
      effect.left *= misses[states_[link.cause]];
      return;
    }
    TwoLayerNetwork::Cause& cause = network_.causes[network_.place_of[link.cause]];
    for (std::size_t s = 0; s < reached.size(); ++s) cause.weights[s] *= reached[s];
    if (found == 0) return;
    const std::size_t number = network_.effects.size();
    if (cause.links.empty() || cause.links.back().effect != number) {
      cause.links.push_back({number, std::move(misses)});
      return;
    }
    for (std::size_t s = 0; s < misses.size(); ++s) cause.links.back().misses[s] *= misses[s];
  }

  /// P(at most this state); all of the states are one, whatever their sum is rounded to.
  static double up_to(std::span<const double> row, std::size_t state) {
    if (state + 1 == row.size()) return 1.0;
    double sum = 0.0;
    for (std::size_t y = 0; y <= state; ++y) sum += row[y];
    return sum;
  }

  static double ratio(double part, double whole) { return whole > 0.0 ? std::min(1.0, part / whole) : 1.0; }

  void normalise() {
    for (TwoLayerNetwork::Cause& cause : network_.causes) {
      double sum = 0.0;
      for (const double weight : cause.weights) sum += weight;
      network_.log_factor += std::log(sum);
      if (sum == 0.0) continue;  // impossible, as the factor says
      for (double& weight : cause.weights) weight /= sum;
    }
    for (TwoLayerNetwork::Effect& effect : network_.effects) {
      const double most = std::max(effect.if_not, effect.if_so);
      network_.log_factor += std::log(most);
      effect.if_not /= most;
      effect.if_so /= most;
    }
  }

  /// The product of the probabilities of all effects bounds that of the findings from below (Harris 1960, for causes of
  /// two states), and must not underflow.
  [[nodiscard]] bool probable_enough() const {
    static constexpr double least = 1e-12;
    std::vector<double> missed;
    for (const TwoLayerNetwork::Effect& effect : network_.effects) missed.push_back(effect.left);
    for (const TwoLayerNetwork::Cause& cause : network_.causes) {
      for (const TwoLayerNetwork::Link& link : cause.links) {
        double all = 0.0;
        for (std::size_t s = 0; s < cause.weights.size(); ++s) all += cause.weights[s] * link.misses[s];
        missed[link.effect] *= std::min(1.0, all);
      }
    }
    for (std::size_t e = 0; e < missed.size(); ++e) {
      const TwoLayerNetwork::Effect& effect = network_.effects[e];
      const double probability = effect.if_not * missed[e] + effect.if_so * (1.0 - missed[e]);
      if (probability < least) return false;
    }
    return true;
  }

  const FaultModel& model_;
  std::span<const Presence> presence_;
  std::vector<const Finding*> finding_of_;  // by variable
  std::vector<std::size_t> states_;         // by variable: known, or tried out
  TwoLayerNetwork network_;
};

inline bool may_have_two_layers(const FaultModel& model, const CaseShape& shape, std::span<const Finding> findings) {
  if (!model.parts().potentials.empty()) return false;
  const auto open = [&](std::size_t parent) { return !known_state(findings, parent); };
  const std::vector<VariableIndex>& order = model.topological_order();
  return std::none_of(order.begin(), order.end(), [&](std::size_t v) {
    if (shape.presence[v] == Presence::left_out) return false;
    const std::vector<VariableIndex>& parents = model.parents(v);
    return std::any_of(parents.begin(), parents.end(), open) && finding_of(findings, v) == nullptr;
  });
}

inline std::optional<TwoLayerNetwork> two_layer_network(const FaultModel& model, const CaseShape& shape,
                                                        std::span<const Finding> findings) {
  if (!model.parts().potentials.empty()) return std::nullopt;
  return CauseBuilder(model, shape.presence, findings).run();
}

}  // namespace faultodds::detail

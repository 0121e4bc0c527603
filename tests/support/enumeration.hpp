// An oracle for small models: goes through all joint states, with P(x | parents) worked out here from the definitions
// of the distributions (model/table.hpp), by none of the library's methods.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <span>
#include <stdexcept>
#include <utility>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/model/fault_model.hpp"

namespace support {

using namespace faultodds;
using States = std::vector<StateIndex>;
using Variables = std::vector<VariableIndex>;

inline bool allows(const Gate& gate, const States& states) {
  return std::find(gate.states.begin(), gate.states.end(), states[gate.variable]) != gate.states.end();
}

inline bool allows(const std::vector<Gate>& gates, const States& states) {
  return std::all_of(gates.begin(), gates.end(), [&](const Gate& gate) { return allows(gate, states); });
}

/// P(own state | parents) in the joint state `states`, for a variable in state `own`.
struct ConditionalProbability {
  const FaultModel& model;
  const States& states;
  std::size_t own;

  double operator()(const FullTable& table) const {
    std::size_t row = 0;
    for (const std::size_t parent : table.parents) row = row * model.state_count(parent) + states[parent];
    return table.rows(row, own);
  }
  /// The largest of independent effects: the leak's and that of each acting cause (Henrion 1989; Diez 1993).
  double operator()(const NoisyMax& noisy) const {
    std::vector<double> largest = noisy.leak;
    for (const Link& link : noisy.links) {
      if (!allows(link.only_when, states)) continue;
      std::vector<double> next(largest.size(), 0.0);
      for (std::size_t a = 0; a < largest.size(); ++a) {
        for (std::size_t b = 0; b < largest.size(); ++b) {
          next[std::max(a, b)] += largest[a] * link.effect(states[link.cause], b);
        }
      }
      largest = std::move(next);
    }
    return largest[own];
  }
  double operator()(const CountOf& count) const {
    std::size_t holding = 0;
    for (const Gate& input : count.inputs) holding += allows(input, states) ? 1 : 0;
    return (holding >= count.at_least) == (own == 1) ? 1.0 : 0.0;
  }
  double operator()(const Examination& examination) const {
    const std::size_t state = states[examination.component];
    const double bad = state == 0 ? examination.false_alarm : examination.detection[state - 1];
    return own == 1 ? bad : 1.0 - bad;
  }
  double operator()(const Unweighted&) const { return 1.0; }
};

class Enumeration {
 public:
  explicit Enumeration(const FaultModel& model) : model_(model) {
    States states(model.size(), 0);
    do {
      joint_states_.push_back(states);
      weights_.push_back(weight_of(states));
    } while (next(states));
  }

  [[nodiscard]] std::size_t joint_states() const noexcept { return joint_states_.size(); }

  /// P(findings); for Markov networks the partition function.
  [[nodiscard]] double evidence(std::span<const Finding> findings) const {
    double sum = 0.0;
    for_each(findings, [&](const States&, double weight) { sum += weight; });
    return sum;
  }

  [[nodiscard]] std::vector<double> joint(std::span<const Finding> findings, const Variables& variables) const {
    std::size_t size = 1;
    for (const std::size_t v : variables) size *= model_.state_count(v);
    std::vector<double> result(size, 0.0);
    double sum = 0.0;
    for_each(findings, [&](const States& states, double weight) {
      std::size_t index = 0;
      for (const std::size_t v : variables) index = index * model_.state_count(v) + states[v];
      result[index] += weight;
      sum += weight;
    });
    for (double& value : result) value /= sum;
    return result;
  }

  [[nodiscard]] std::vector<std::vector<double>> posteriors(std::span<const Finding> findings) const {
    std::vector<std::vector<double>> result;
    for (std::size_t v = 0; v < model_.size(); ++v) result.emplace_back(model_.state_count(v), 0.0);
    double sum = 0.0;
    for_each(findings, [&](const States& states, double weight) {
      for (std::size_t v = 0; v < states.size(); ++v) result[v][states[v]] += weight;
      sum += weight;
    });
    for (std::vector<double>& row : result) {
      for (double& value : row) value /= sum;
    }
    return result;
  }

  /// H(variables | findings) in bits.
  [[nodiscard]] double entropy(std::span<const Finding> findings, const Variables& variables) const {
    double bits = 0.0;
    for (const double p : joint(findings, variables)) bits -= p > 0.0 ? p * std::log2(p) : 0.0;
    return bits;
  }

  /// I(a; b | findings) in bits.
  [[nodiscard]] double mutual_information(std::span<const Finding> findings, const Variables& a,
                                          const Variables& b) const {
    Variables both = a;
    for (const std::size_t v : b) {
      if (std::find(both.begin(), both.end(), v) == both.end()) both.push_back(v);
    }
    return entropy(findings, a) + entropy(findings, b) - entropy(findings, both);
  }

  /// Joint states of `variables` with their probabilities, most probable first; those equal within a relative 1e-12 in
  /// the order of their states. Impossible ones are left out.
  [[nodiscard]] std::vector<std::pair<States, double>> explanations(std::span<const Finding> findings,
                                                                    const Variables& variables) const {
    std::map<States, double> probability;
    double sum = 0.0;
    for_each(findings, [&](const States& states, double weight) {
      States chosen;
      for (const std::size_t v : variables) chosen.push_back(states[v]);
      probability[chosen] += weight;
      sum += weight;
    });
    std::vector<std::pair<States, double>> ranked;
    for (const auto& [states, weight] : probability) {
      if (weight > 0.0) ranked.emplace_back(states, weight / sum);
    }
    std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
    for (auto first = ranked.begin(); first != ranked.end();) {
      const auto last = std::find_if(first, ranked.end(),
                                     [&](const auto& item) { return item.second < first->second * (1.0 - 1e-12); });
      std::sort(first, last, [](const auto& a, const auto& b) { return a.first < b.first; });
      first = last;
    }
    return ranked;
  }

  /// Size of a smallest subset of findings that cannot be true together; 0 if all are possible.
  [[nodiscard]] std::size_t smallest_clash(const std::vector<Finding>& findings) const {
    std::size_t smallest = 0;
    for (std::size_t mask = 1; mask < (std::size_t{1} << findings.size()); ++mask) {
      std::vector<Finding> subset;
      for (std::size_t i = 0; i < findings.size(); ++i) {
        if (((mask >> i) & 1U) != 0) subset.push_back(findings[i]);
      }
      if ((smallest == 0 || subset.size() < smallest) && evidence(subset) <= 0.0) smallest = subset.size();
    }
    return smallest;
  }

 private:
  [[nodiscard]] double weight_of(const States& states) const {
    double weight = 1.0;
    for (std::size_t v = 0; v < states.size(); ++v) {
      weight *= std::visit(ConditionalProbability{model_, states, states[v]}, model_.variable(v).distribution);
    }
    for (const Potential& potential : model_.parts().potentials) {
      std::size_t index = 0;
      for (const std::size_t v : potential.scope) index = index * model_.state_count(v) + states[v];
      weight *= potential.values[index];
    }
    return weight;
  }

  bool next(States& states) const {
    for (std::size_t v = states.size(); v-- > 0;) {
      if (++states[v] < model_.state_count(v)) return true;
      states[v] = 0;
    }
    return false;
  }

  template <typename Visit>
  void for_each(std::span<const Finding> findings, Visit&& visit) const {
    for (std::size_t i = 0; i < joint_states_.size(); ++i) {
      double weight = weights_[i];
      for (const Finding& finding : findings) weight *= finding.weights[joint_states_[i][finding.variable]];
      if (weight != 0.0) visit(joint_states_[i], weight);
    }
  }

  const FaultModel& model_;
  std::vector<States> joint_states_;
  std::vector<double> weights_;
};

}  // namespace support

// Bodies of evidence_of_test.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/ranking/outcome_joints.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

/// Pairs of faults that are possible, in the order of TestContrast::pairs.
inline std::vector<FaultPair> pairs_of(const std::vector<OutcomesUnder>& faults) {
  std::vector<FaultPair> pairs;
  for (std::size_t a = 0; a < faults.size(); ++a) {
    for (std::size_t b = a + 1; b < faults.size(); ++b) {
      if (faults[a].probabilities.empty() || faults[b].probabilities.empty()) continue;
      pairs.push_back({a, b, overlap(faults[a].probabilities, faults[b].probabilities)});
    }
  }
  constexpr double steps = 1e9;  // overlaps are compared in steps, so that rounding decides nothing
  const auto key = [&](const FaultPair& pair) {
    const double weight = faults[pair.first].fault.probability * faults[pair.second].fault.probability;
    return std::pair(std::round(pair.overlap * steps), -weight);
  };
  sort_stably(pairs, [&](const FaultPair& a, const FaultPair& b) { return key(a) < key(b); });
  return pairs;
}

}  // namespace detail

inline double overlap(std::span<const double> p, std::span<const double> q) {
  if (p.size() != q.size()) {
    throw ArgumentError("overlap", std::to_string(p.size()) + " and " + std::to_string(q.size()) + " outcomes",
                        "give both distributions the same outcomes", ErrorCode::wrong_size);
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < p.size(); ++i) sum += std::sqrt(p[i] * q[i]);
  return std::min(sum, 1.0);
}

inline TestContrast contrast(const Case& current, VariableIndex test, std::span<const FaultProbability> faults,
                             const Stop& stop) {
  const StopScope scope(current, stop);
  const FaultModel& model = current.model();
  const Variable& asked = model.variable(test);
  if (current.finding_of(test) != nullptr) {
    throw ArgumentError(asked.name, "a finding on it", "take it back first, or name a test that is not done yet",
                        ErrorCode::already_found);
  }
  std::vector<VariableIndex> components;
  for (const FaultProbability& fault : faults) {
    const Variable& component = model.variable(fault.component);
    if (fault.state >= component.states.size()) {
      throw ArgumentError(component.name, "state index " + std::to_string(fault.state),
                          "it has " + std::to_string(component.states.size()) + " states",
                          ErrorCode::index_out_of_range);
    }
    const bool known = std::find(components.begin(), components.end(), fault.component) != components.end();
    if (!known) components.push_back(fault.component);
  }
  const OutcomeJoints joints = outcome_joints(current, std::array{test}, components).front();
  TestContrast result{test, {}, {}};
  for (const FaultProbability& fault : faults) {
    const auto place =
        static_cast<std::size_t>(std::find(components.begin(), components.end(), fault.component) - components.begin());
    const std::size_t states = model.state_count(fault.component);
    OutcomesUnder under{{fault.component, fault.state, current.posterior(fault.component)[fault.state]}, {}};
    double sum = 0.0;
    for (std::size_t o = 0; o < asked.states.size(); ++o) {
      under.probabilities.push_back(joints.with[place][o * states + fault.state]);
      sum += under.probabilities.back();
    }
    for (double& p : under.probabilities) p /= sum;
    if (!(sum > 0.0) || !(under.fault.probability > 0.0)) under.probabilities.clear();
    result.faults.push_back(std::move(under));
  }
  result.pairs = detail::pairs_of(result.faults);
  return result;
}

}  // namespace faultodds

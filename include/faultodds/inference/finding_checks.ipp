// Bodies of finding_checks.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <string>

#include "faultodds/inference/finding_checks.hpp"

namespace faultodds::detail {

inline void check_state(const FaultModel& model, VariableIndex variable, StateIndex state) {
  const Variable& owner = model.variable(variable);
  if (state < owner.states.size()) return;
  throw ArgumentError(owner.name, "state index " + std::to_string(state),
                      "it has " + std::to_string(owner.states.size()) + " states", ErrorCode::index_out_of_range);
}

inline void check_finding(const FaultModel& model, const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  if (finding.weights.size() != variable.states.size()) {
    throw ArgumentError(variable.name, std::to_string(finding.weights.size()) + " weights",
                        "give one for each of its " + std::to_string(variable.states.size()) + " states",
                        ErrorCode::wrong_size);
  }
  double sum = 0.0;
  for (const double weight : finding.weights) {
    if (!std::isfinite(weight) || weight < 0.0) {
      throw ArgumentError(variable.name, "weight " + std::to_string(weight), "weights are finite and not negative",
                          ErrorCode::wrong_number);
    }
    sum += weight;
  }
  if (sum <= 0.0)
    throw ArgumentError(variable.name, "all weights are zero", "at least one state must be possible",
                        ErrorCode::nothing_given);
  if (!finding.state.has_value()) return;
  check_state(model, finding.variable, *finding.state);
  const auto possible = variable.states.size() -
                        static_cast<std::size_t>(std::count(finding.weights.begin(), finding.weights.end(), 0.0));
  if (possible == 1 && finding.weights[*finding.state] > 0.0) return;
  throw ArgumentError(variable.name,
                      "the finding names the state " + variable.states[*finding.state].name + " and weighs others",
                      "give the state, or the weights without a state", ErrorCode::contradictory);
}

inline void check_findings(const FaultModel& model, std::span<const Finding> findings) {
  for (std::size_t i = 0; i < findings.size(); ++i) {
    check_finding(model, findings[i]);
    if (faultodds::finding_of(findings.first(i), findings[i].variable) == nullptr) continue;
    throw ArgumentError(model.variable(findings[i].variable).name, "two findings", "give one for each variable",
                        ErrorCode::named_twice);
  }
}

inline Finding hard_finding(const FaultModel& model, VariableIndex variable, StateIndex state) {
  return set_finding(model, variable, {&state, 1});
}

inline Finding set_finding(const FaultModel& model, VariableIndex variable, std::span<const StateIndex> states) {
  Finding finding{variable, std::vector<double>(model.state_count(variable), 0.0), std::nullopt};
  for (const StateIndex state : states) {
    check_state(model, variable, state);
    finding.weights[state] = 1.0;
  }
  if (states.size() == 1) finding.state = states[0];
  return finding;
}

}  // namespace faultodds::detail

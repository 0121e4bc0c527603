// Bodies of preconditions.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/model/table_row.hpp"

namespace faultodds {
namespace detail {

/// Of a test without a finding of its own whose revealed symptoms tell its outcome: true if that is any but the
/// first. Nothing if they do not.
inline std::optional<bool> revealed_something(const Case& current, VariableIndex test) {
  const std::vector<VariableIndex>& revealed = as_test(current.model().variable(test)).reveals;
  bool all_known = !revealed.empty();
  for (const VariableIndex symptom : revealed) {
    const std::optional<StateIndex> found = known_state(current.findings(), symptom);
    if (found && *found != 0) return true;
    all_known = all_known && found;
  }
  if (all_known) return false;
  return std::nullopt;
}

/// The states of a gate in words: one after the other, or all but one as "any but" that.
inline std::string states_in_words(const Variable& variable, const Gate& gate) {
  std::vector<StateIndex> others;
  for (std::size_t s = 0; s < variable.states.size(); ++s) {
    if (!holds(gate, s)) others.push_back(s);
  }
  if (others.size() == 1 && variable.states.size() > 2) return "any but " + shown(variable.states[others.front()]);
  std::string words;
  for (const StateIndex state : gate.states) words += (words.empty() ? "" : " or ") + shown(variable.states[state]);
  return words;
}

/// What was found of a variable, in words.
inline std::string found_in_words(const Case& current, VariableIndex variable) {
  const Variable& of = current.model().variable(variable);
  if (const auto found = known_state(current.findings(), variable); found) return shown(of.states[*found]);
  const bool something = revealed_something(current, variable).value_or(false);
  return (something ? "not " : "") + shown(of.states.front());
}

}  // namespace detail

inline GateState state_of(const Case& current, const Gate& gate) {
  for (const StateIndex state : gate.states) detail::check_state(current.model(), gate.variable, state);
  if (const Finding* finding = current.finding_of(gate.variable); finding != nullptr) {
    if (!finding->state.has_value()) return GateState::not_found;
    return detail::holds(gate, *finding->state) ? GateState::open : GateState::shut;
  }
  const std::optional<bool> something = detail::revealed_something(current, gate.variable);
  if (!something.has_value()) return GateState::not_found;
  const bool first = detail::holds(gate, 0);
  if (!*something) return first ? GateState::open : GateState::shut;
  const std::size_t others = gate.states.size() - (first ? 1 : 0);
  if (others == 0) return GateState::shut;
  return others + 1 == current.model().state_count(gate.variable) ? GateState::open : GateState::not_found;
}

inline bool is_ruled_out(const Case& current, VariableIndex test) {
  const Test& of_test = as_test(current.model().variable(test));
  const auto is = [&](GateState state) {
    return [&current, state](const Gate& gate) { return state_of(current, gate) == state; };
  };
  return std::any_of(of_test.only_when.begin(), of_test.only_when.end(), is(GateState::shut)) ||
         std::any_of(of_test.not_when.begin(), of_test.not_when.end(), is(GateState::open));
}

inline std::string unmet_preconditions(const Case& current, VariableIndex test) {
  const FaultModel& model = current.model();
  const Test& of_test = as_test(model.variable(test));
  std::string words;
  const auto add = [&](const Gate& gate, const std::string& begin, bool found) {
    const Variable& variable = model.variable(gate.variable);
    words +=
        (words.empty() ? begin : "; and " + begin) + shown(variable) + ": " + detail::states_in_words(variable, gate);
    if (found) words += " (found: " + detail::found_in_words(current, gate.variable) + ')';
  };
  for (const Gate& gate : of_test.only_when) {
    const GateState state = state_of(current, gate);
    if (state != GateState::open) add(gate, words.empty() ? "only when " : "", state == GateState::shut);
  }
  for (const Gate& gate : of_test.not_when) {
    if (state_of(current, gate) == GateState::open) add(gate, "not when ", true);
  }
  return words;
}

}  // namespace faultodds

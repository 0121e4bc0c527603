// Bodies of opening_questions.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/job/opening_questions.hpp"

namespace faultodds {
namespace detail {

/// Whether a component depends on this variable, so that its state shifts the probabilities of faults.
inline bool shifts_a_component(const FaultModel& model, VariableIndex variable) {
  std::vector<VariableIndex> open = {variable};
  std::vector<bool> seen(model.size(), false);
  while (!open.empty()) {
    const std::size_t v = open.back();
    open.pop_back();
    if (model.variable(v).role() == Role::component) return true;
    for (const VariableIndex child : model.children(v)) {
      if (!seen[child]) open.push_back(child);
      seen[child] = true;
    }
  }
  return false;
}

inline std::vector<VariableIndex> complaints_of(const FaultModel& model) {
  std::vector<VariableIndex> complaints = model.with_role(Role::symptom);
  std::erase_if(complaints, [&](VariableIndex symptom) { return !model.variable(symptom).symptom().complaint; });
  return complaints.empty() ? model.with_role(Role::symptom) : complaints;
}

}  // namespace detail

inline bool has_complaint(const Case& current) {
  const std::vector<Finding>& findings = current.findings();
  return std::any_of(findings.begin(), findings.end(),
                     [&](const Finding& finding) { return detail::is_abnormal(current.model(), finding); });
}

inline std::vector<VariableIndex> open_complaints(const Case& current) {
  std::vector<VariableIndex> open = detail::complaints_of(current.model());
  std::erase_if(open, [&](VariableIndex symptom) { return current.finding_of(symptom) != nullptr; });
  return open;
}

inline std::vector<VariableIndex> open_facts(const Case& current) {
  std::vector<VariableIndex> open = current.model().with_role(Role::context);
  std::erase_if(open, [&](std::size_t fact) {
    return current.finding_of(fact) != nullptr || !detail::shifts_a_component(current.model(), fact);
  });
  return open;
}

inline std::vector<VariableIndex> opening_questions(const Case& current) {
  std::vector<VariableIndex> open = open_facts(current);
  if (has_complaint(current)) return open;
  const std::vector<VariableIndex> complaints = open_complaints(current);
  open.insert(open.end(), complaints.begin(), complaints.end());
  return open;
}

}  // namespace faultodds

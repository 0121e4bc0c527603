// Bodies of opening_questions.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/job/opening_questions.hpp"

namespace faultodds {
namespace detail {

/// Whether a component depends on this variable, so that its state shifts the probabilities of faults.
inline bool shifts_a_component(const FaultModel& model, std::size_t variable) {
  std::vector<std::size_t> open = {variable};
  std::vector<bool> seen(model.size(), false);
  while (!open.empty()) {
    const std::size_t v = open.back();
    open.pop_back();
    if (model.variable(v).role == Role::component) return true;
    for (const std::size_t child : model.children(v)) {
      if (!seen[child]) open.push_back(child);
      seen[child] = true;
    }
  }
  return false;
}

inline std::vector<std::size_t> complaints_of(const FaultModel& model) {
  std::vector<std::size_t> complaints = model.with_role(Role::symptom);
  std::erase_if(complaints, [&](std::size_t symptom) { return !model.variable(symptom).complaint; });
  return complaints.empty() ? model.with_role(Role::symptom) : complaints;
}

}  // namespace detail

inline bool has_complaint(const Case& current) {
  const std::vector<Finding>& findings = current.findings();
  return std::any_of(findings.begin(), findings.end(),
                     [&](const Finding& finding) { return detail::is_abnormal(current.model(), finding); });
}

inline std::vector<std::size_t> open_complaints(const Case& current) {
  std::vector<std::size_t> open = detail::complaints_of(current.model());
  std::erase_if(open, [&](std::size_t symptom) { return current.finding_of(symptom) != nullptr; });
  return open;
}

inline std::vector<std::size_t> open_facts(const Case& current) {
  std::vector<std::size_t> open = current.model().with_role(Role::context);
  std::erase_if(open, [&](std::size_t fact) {
    return current.finding_of(fact) != nullptr || !detail::shifts_a_component(current.model(), fact);
  });
  return open;
}

inline std::vector<std::size_t> opening_questions(const Case& current) {
  std::vector<std::size_t> open = open_facts(current);
  if (has_complaint(current)) return open;
  const std::vector<std::size_t> complaints = open_complaints(current);
  open.insert(open.end(), complaints.begin(), complaints.end());
  return open;
}

}  // namespace faultodds

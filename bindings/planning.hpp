// Planning problems, situations and policy trees from records, and back.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>

#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/report/flow_chart_texts.hpp"
#include "generated/records.hpp"

namespace faultodds::python {

/// A planning problem as the functions take it: a record TroubleshootingProblem, or a CaseProblem with its texts.
/// What it says is checked (`validate`).
struct HeldProblem {
  TroubleshootingProblem problem;
  py::object record;                    ///< TroubleshootingProblem
  py::object texts_record;              ///< FlowChartTexts or None
  std::optional<FlowChartTexts> texts;  ///< the same

  [[nodiscard]] Names names() const { return Names(problem, texts ? &*texts : nullptr); }
};

HeldProblem problem_from(py::handle record);
/// Checks the sizes and the sum of the belief.
Situation situation_from(const TroubleshootingProblem& problem, py::handle record);
PolicyTree policy_tree_from(const TroubleshootingProblem& problem, py::handle record);

void bind_planning(py::module_& module);
void bind_troubleshooting(py::module_& module);
void bind_flow_charts(py::module_& module);
void bind_repaired(py::module_& module);
void bind_evidence(py::module_& module);
void bind_sampling(py::module_& module);
void bind_conditioning(py::module_& module);

}  // namespace faultodds::python

// Planning problems, situations and policy trees as records, both ways.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bindings.hpp"
#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds::python {

/// A planning problem as the functions take it: a record TroubleshootingProblem, or a CaseProblem with its texts.
/// What it says is checked (`validate`).
struct HeldProblem {
  TroubleshootingProblem problem;
  py::object record;  ///< TroubleshootingProblem
  py::object texts;   ///< FlowChartTexts or None
};

HeldProblem problem_from(py::handle record);
py::object problem_record(const TroubleshootingProblem& problem);

FlowChartTexts texts_from(py::handle record);
py::object texts_record(const FlowChartTexts& texts);

Situation situation_from(const TroubleshootingProblem& problem, py::handle record);
py::object situation_record(const TroubleshootingProblem& problem, const Situation& situation);

Step step_from(const TroubleshootingProblem& problem, py::handle record);
py::object step_record(const TroubleshootingProblem& problem, const Step& step);
const char* kind_text(StepKind kind);
/// The name of the test or repair of a step; empty for the others.
std::string step_name(const TroubleshootingProblem& problem, const Step& step);
/// What people read of a step: its text, otherwise its name.
std::string step_label(const TroubleshootingProblem& problem, const FlowChartTexts& texts, const Step& step);
/// The outcome of a step: that of the test, "cured" or "still_there" of a repair.
std::string outcome_name(const TroubleshootingProblem& problem, const Step& step, std::size_t outcome);

/// The steps, branches and numbers of the record, whose problem is `problem`.
PolicyTree policy_tree_from(const TroubleshootingProblem& problem, py::handle record);
py::object policy_tree_record(const HeldProblem& held, const PolicyTree& policy_tree);

/// The name at each of these positions.
template <class Named>
py::tuple names_at(const std::vector<Named>& all, const std::vector<std::size_t>& positions) {
  std::vector<std::string> names;
  for (const std::size_t position : positions) names.push_back(all.at(position).name);
  return as_tuple(names);
}

/// The position of the repair of this name in the model. Throws UnknownName.
std::size_t repair_of(const FaultModel& model, py::handle name, const char* argument);

void bind_planning(py::module_& module);
void bind_troubleshooting(py::module_& module);
void bind_flow_charts(py::module_& module);
void bind_repaired(py::module_& module);
void bind_evidence(py::module_& module);
void bind_sampling(py::module_& module);
void bind_conditioning(py::module_& module);

}  // namespace faultodds::python

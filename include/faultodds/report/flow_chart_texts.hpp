// What a flow chart says of the steps of a policy tree.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// A caution: its name for the step, the whole of it for the first page.
struct FlowCaution {
  std::string label;
  std::string text;
};

/// What a chart says of a test, a repair, a set-up or an end of the case.
struct FlowStepTexts {
  std::string label;
  std::vector<std::size_t> cautions;  ///< by index of FlowChartTexts::cautions; shown before the step
  std::string procedure;
  std::string check;                  ///< repair: how to see whether the complaint is gone
  std::vector<std::string> outcomes;  ///< test: labels
};

/// The texts of a chart, by the indices of its problem.
struct FlowChartTexts {
  std::string title;
  std::string safety;
  std::string currency;
  bool invented = false;  ///< says on every page that the data are invented
  std::vector<FlowCaution> cautions;
  std::vector<FlowStepTexts> tests;
  std::vector<FlowStepTexts> repairs;
  std::vector<FlowStepTexts> set_ups;
  std::vector<std::string> hypotheses;
  FlowStepTexts hand_over{
      .label = "Hand over to a specialist", .cautions = {}, .procedure = {}, .check = {}, .outcomes = {}};
  FlowStepTexts live_with{.label = "Leave it as it is", .cautions = {}, .procedure = {}, .check = {}, .outcomes = {}};
  std::vector<std::string> notes;  ///< paragraphs for the head: what is assumed, what other ways cost
};

/// The names of a problem as its texts.
[[nodiscard]] FlowChartTexts flow_chart_texts(const TroubleshootingProblem& problem);

/// The texts of a model for those tests, repairs and set-ups of a problem that carry names of its variables, repairs,
/// access jobs and conditions; others keep the names of the problem. The hand-over is named if the model has one
/// only.
[[nodiscard]] FlowChartTexts flow_chart_texts(const TroubleshootingProblem& problem, const FaultModel& model);

namespace detail {

[[nodiscard]] std::string label_or_name(const std::string& label, const std::string& name);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/report/flow_chart_texts.ipp"

// What a flow chart says of a case: texts of the model for its problem, and what the problem assumes.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <vector>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds {

/// A sentence each: how many faults may be present and how probable that is given the findings, what is told apart and
/// what is not, what the ends of a case cost, which approximations count. `made` is of this case.
[[nodiscard]] std::vector<std::string> assumptions_in_words(const Case& current, const CaseProblem& made);

/// The texts of the model for the problem of a case, its hand-over included, with assumptions_in_words as notes.
[[nodiscard]] FlowChartTexts flow_chart_texts(const Case& current, const CaseProblem& made);

}  // namespace faultodds

#include "faultodds/report/flow_chart_of_case.ipp"

// What to do next, weighed in money: tests, repairs and hand-over side by side.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {

/// A planning problem with its possible steps, by expected cost to the end of the case.
struct CostChoices {
  CaseProblem made;
  std::vector<PricedStep> steps;
  std::size_t proposed = 0;  ///< a place among the steps
};

/// One fault at most where the findings allow that, otherwise several. Nothing where no end of a case has a cost, or
/// nothing abnormal was found.
[[nodiscard]] std::optional<CostChoices> choices_of(const Case& current, CaseProblemOptions options);

/// For programs: kind, name, cost of the step, expected cost to the end, what it saves, bits of a test, and whether it
/// is the one to propose; cheapest in the end first.
[[nodiscard]] Json choices_json(const FaultModel& model, const CostChoices& choices);

/// The label of a step: of the test, the repair, the hand-over.
[[nodiscard]] std::string step_text(const FaultModel& model, const CaseProblem& made, const faultodds::Step& step);

/// A table of the best `most` tests, the best `most` repairs and the ends, the proposed step (a place among the steps)
/// marked, and in a sentence.
void show_choices(const Screen& screen, const FaultModel& model, const CostChoices& choices, std::size_t most,
                  std::optional<std::size_t> proposed);

/// What handing over costs and takes, and what can be done there.
void show_terms(const Screen& screen, const FaultModel& model, const CaseProblem& made, const PricedStep& hand_over);

}  // namespace faultodds::program

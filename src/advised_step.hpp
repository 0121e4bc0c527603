// Advice on the screen and as JSON: the proposed step first, then what else could be done.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/job/advice.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {

/// "battery voltage", "replace the bulb", "hand over: cycle shop", "leave it as it is".
[[nodiscard]] std::string step_text(const AdvisedStep& step);

/// A test as a mechanic needs it: its name, the cautions, what to open, how it is done, limits, tools, cost.
void show_test(const Screen& screen, const FaultModel& model, const AdvisedStep& step);

/// What the test is expected to tell, and what each outcome would do to the leading faults.
void show_why(const Screen& screen, const Advice& advice, const AdvisedStep& step);

/// A repair as a mechanic needs it, its cautions first.
void show_repair(const Screen& screen, const FaultModel& model, const AdvisedStep& step);

/// What a hand-over costs, when the vehicle is back, what the specialist can do.
void show_terms(const Screen& screen, const FaultModel& model, const AdvisedStep& hand_over);

/// What to tell a specialist besides the findings: what is left, and what is ruled out.
void show_brief(const Screen& screen, const SpecialistBrief& brief);

/// The check after a repair, its cautions first.
void show_check(const Screen& screen, const FaultModel& model, const RepairCheck& check);

/// Steps side by side by expected cost, at most `most` of tests and of repairs, and in a sentence which one leads.
/// Nothing if the advice is not priced.
void show_choices(const Screen& screen, const Advice& advice, std::size_t most);

/// Tests left out for tools, skill or preconditions, with what is forgone.
void show_left_out(const Screen& screen, const Advice& advice);

/// The proposed step and those beside it that have an expected cost, cheapest in the end first.
[[nodiscard]] std::vector<const AdvisedStep*> steps_by_cost(const Advice& advice);

/// The proposed step, as the JSON of the next command has it.
[[nodiscard]] Json proposed_json(const FaultModel& model, const Advice& advice);

/// All steps that have an expected cost: kind, name, cost of the step, expected cost to the end, what it saves, bits of
/// a test, and whether it is proposed; cheapest in the end first.
[[nodiscard]] Json choices_json(const Advice& advice);

/// What could be asked before anything is touched, most telling first.
[[nodiscard]] Json questions_json(const Advice& advice);

/// Name, label and text of each caution.
[[nodiscard]] Json cautions_json(const std::vector<Term>& cautions);

}  // namespace faultodds::program

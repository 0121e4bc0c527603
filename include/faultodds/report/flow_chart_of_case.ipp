// Bodies of flow_chart_of_case.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>

#include "faultodds/job/entry.hpp"
#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart_of_case.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds {
namespace detail {

inline std::string count_in_words(std::size_t count, const std::string& singular, const std::string& plural) {
  return std::to_string(count) + ' ' + (count == 1 ? singular : plural);
}

/// The hand-over that the fee of a problem is for; nothing if the fee was given.
inline const HandOver* hand_over_of(const FaultModel& model, const CaseProblem& made) {
  if (!made.hand_over) return nullptr;
  require_index("hand_over", *made.hand_over, model.parts().hand_overs.size());
  return &model.parts().hand_overs[*made.hand_over];
}

inline std::string what_is_told_apart(const CaseProblem& made, const std::string& rest_ends_by) {
  const auto possible = static_cast<std::size_t>(
      std::count_if(made.hypotheses.list.begin(), made.hypotheses.list.end(),
                    [](const Hypothesis& hypothesis) { return hypothesis.probability > 0.0; }));
  std::string text = count_in_words(possible, "possible cause is", "possible causes are") + " told apart";
  if (!made.rest_is_last) return text + ", which are all there are.";
  return text + "; all others together (" + wording::percent(made.hypotheses.left_out) +
         ") count as \"something else\", which no repair here mends: only " + rest_ends_by + " ends it.";
}

inline std::string what_may_be_done(const Case& current, const CaseProblem& made) {
  const FaultModel& model = current.model();
  std::size_t open = 0;
  for (const VariableIndex test : model.with_role(Role::test)) open += current.finding_of(test) == nullptr ? 1U : 0U;
  return count_in_words(made.tests.size(), "test", "tests") + " of " + std::to_string(open) + " not yet done and " +
         count_in_words(made.repairs.size(), "repair", "repairs") + " of " +
         std::to_string(model.parts().repairs.size()) + " count: those within the limits that tell or mend something.";
}

/// What the ends cost.
inline std::string ends_in_words(const FaultModel& model, const CaseProblem& made) {
  const TroubleshootingProblem& problem = made.problem;
  const std::string& currency = model.header().currency;
  std::string text;
  if (problem.ends.hand_over) text += "Handing over costs " + wording::exact_money(*problem.ends.hand_over, currency);
  if (!problem.repair_elsewhere.empty()) text += " and the repair there";
  if (problem.ends.live_with) {
    text += (text.empty() ? "Leaving it as it is costs " : ", leaving it as it is ") +
            wording::exact_money(*problem.ends.live_with, currency);
  }
  const bool can_come_back = std::any_of(problem.repairs.begin(), problem.repairs.end(),
                                         [](const RepairAction& one) { return one.verification.false_cured > 0.0; });
  if (problem.ends.comeback && can_come_back) {
    text += ", a vehicle that comes back uncured " + wording::exact_money(*problem.ends.comeback, currency);
  }
  return text + '.';
}

}  // namespace detail

inline std::vector<std::string> assumptions_in_words(const Case& current, const CaseProblem& made) {
  const FaultModel& model = current.model();
  const std::string components =
      detail::count_in_words(made.hypotheses.components.size(), "component", "components") + " in question";
  std::vector<std::string> sentences;
  sentences.push_back(made.hypotheses.assumption == FaultAssumption::one_fault
                          ? "At most one fault is assumed among the " + components + ", which holds with " +
                                wording::percent(made.hypotheses.assumed) + " given what was found."
                          : "Any number of faults is allowed among the " + components + '.');
  sentences.push_back(
      detail::what_is_told_apart(made, made.problem.ends.hand_over ? "handing over" : "leaving it as it is"));
  sentences.push_back(detail::what_may_be_done(current, made));
  sentences.push_back(detail::ends_in_words(model, made));
  sentences.emplace_back(
      "Costs are money and minutes at the labour rate; waiting costs nothing. Tests are assumed to err independently "
      "of one another, and a repair that only eases the complaint counts as no cure.");
  return sentences;
}

inline FlowChartTexts flow_chart_texts(const Case& current, const CaseProblem& made) {
  FlowChartTexts texts = flow_chart_texts(made.problem, current.model());
  if (const HandOver* over = detail::hand_over_of(current.model(), made)) {
    texts.hand_over.label = detail::label_or_name(over->label, over->name);
    texts.hand_over.procedure = over->description;
  }
  texts.notes = assumptions_in_words(current, made);
  return texts;
}

}  // namespace faultodds

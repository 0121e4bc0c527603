// Bodies of job_step.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <string>
#include <type_traits>
#include <utility>

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/job/job_step.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/wording.hpp"

namespace faultodds {
namespace detail {

/// "fuel pump: worn, 97 %".
inline std::string fault_with_probability(const Case& current, const Fault& fault) {
  const std::vector<double> states = current.posterior(fault.component);
  const double probability = element_at(states, fault.state, "fault");
  return claim_in_words(current.model(), {fault.component, {fault.state}}) + ", " + wording::percent(probability);
}

inline std::string reason_in_words(const Case& current, const NoStep& nothing) {
  switch (nothing.reason) {
    case NoStepReason::job_is_over:
      return "The job is over";
    case NoStepReason::no_fault_in_question:
      return "No fault is in question, and no test would tell more";
    case NoStepReason::nothing_tells:
      return "No test that is left would tell more" +
             (nothing.fault ? ". The most likely fault is " + fault_with_probability(current, *nothing.fault) : "");
    case NoStepReason::no_repair:
    case NoStepReason::beyond_means:
      break;
  }
  if (!nothing.fault) throw ArgumentError("fault", "is not given", "give that of the reason", ErrorCode::nothing_given);
  return fault_with_probability(current, *nothing.fault) + (nothing.reason == NoStepReason::no_repair
                                                                ? ", and the model names no repair for it"
                                                                : ", and no repair for it is within the means");
}

template <class Named>
[[nodiscard]] Term term_of(const Named& named) {
  return {named.name, named.label.empty() ? named.name : named.label, named.description};
}

template <class Named>
void name_after(AdvisedStep& made, const Named& named) {
  made.name = named.name;
  made.label = named.label.empty() ? named.name : named.label;
}

inline StepDescriber::StepDescriber(const Case& current, const Means& means)
    : case_(current), model_(current.model()), means_(means), in_place_(in_place_in(current, means)) {}

inline AdvisedStep StepDescriber::describe(const JobStep& step) const {
  AdvisedStep made;
  made.step = step;
  std::visit([&](const auto& one) { fill(made, one); }, step);
  return made;
}

inline AdvisedStep StepDescriber::describe(const TestForecast& forecast, const Ranking& ranking) const {
  AdvisedStep made = describe(TestStep{forecast.test});
  made.gain_bits = forecast.gain_bits;
  made.gain_per_cost = forecast.gain_per_cost;
  if (ranking.entropy_bits > 0.0) made.settles = std::clamp(forecast.gain_bits / ranking.entropy_bits, 0.0, 1.0);
  const Variable& test = model_.variable(forecast.test);
  for (const OutcomeForecast& outcome : forecast.outcomes) {
    const State& state = element_at(test.states, outcome.state, "outcomes");
    made.outcomes.push_back({outcome.state, state.name, shown(state), outcome.probability, {}});
    for (const FaultProbability& fault : outcome.leading) made.outcomes.back().leading.push_back(fault.probability);
  }
  return made;
}

inline void StepDescriber::fill(AdvisedStep& made, const AskStep& step) const {
  made.label = "Ask before anything is touched";
  for (const VariableIndex variable : step.variables) static_cast<void>(model_.variable(variable));  // range check
}

inline void StepDescriber::fill(AdvisedStep& made, const TestStep& step) const {
  const Variable& variable = model_.variable(step.test);
  const Test& test = as_test(variable);
  made.name = variable.name;
  made.label = shown(variable);
  made.procedure = test.procedure;
  made.description = variable.description;
  made.question = variable.question();
  fill_work(made, test.work);
  for (const VariableIndex symptom : test.reveals) {
    if (case_.finding_of(symptom) == nullptr) made.reveals.push_back(symptom);
  }
}

inline void StepDescriber::fill(AdvisedStep& made, const RepairStep& step) const {
  const Repair& repair = element_at(model_.parts().repairs, step.repair, "repair");
  name_after(made, repair);
  made.procedure = repair.procedure;
  fill_work(made, repair.work);
  const std::vector<double> chances = case_.posterior(repair.component);
  made.mends = 0.0;
  for (const StateIndex state : repair.mends) *made.mends += chances[state];
  made.success = repair.success;
  made.check = repair.verification ? repair.verification : model_.parts().verification;
}

inline void StepDescriber::fill(AdvisedStep& made, const HandOverStep& step) const {
  made.label = "Hand the vehicle over";
  if (!step.hand_over) return;
  const HandOver& to = element_at(model_.parts().hand_overs, *step.hand_over, "hand_over");
  name_after(made, to);
  made.description = to.description;
  made.cost_known = to.money.has_value();
  made.money = to.money.value_or(0.0);
  made.cost = made.money;
  made.wait_minutes = to.wait_minutes.value_or(0.0);
  made.tells = to.tells;
  made.charges_repair = to.repair.has_value();
}

inline void StepDescriber::fill(AdvisedStep& made, const LiveWithStep& /*step*/) const {
  made.label = "Leave the complaint as it is";
}

inline void StepDescriber::fill(AdvisedStep& made, const NoStep& step) const {
  made.label = reason_in_words(case_, step);
  if (step.reason == NoStepReason::beyond_means) made.description = repairs_beyond(step.fault.value());
}

inline std::string StepDescriber::why_beyond(const Work& work) const {
  return beyond_means(model_, means_, work, cost_of(case_, work, in_place_, means_.labour_rate));
}

inline std::string StepDescriber::repairs_beyond(const Fault& fault) const {
  std::vector<std::string> reasons;
  for (const Repair& repair : model_.parts().repairs) {
    if (!can_mend(repair, fault.component, fault.state)) continue;
    const std::string why = why_beyond(repair.work);
    if (!why.empty()) reasons.push_back((repair.label.empty() ? repair.name : repair.label) + ": " + why);
  }
  return wording::joined(reasons, "; ");
}

inline void StepDescriber::fill_work(AdvisedStep& made, const Work& work) const {
  const WorkCost cost = cost_of(case_, work, in_place_, means_.labour_rate);
  const ModelParts& parts = model_.parts();
  for (const std::string& name : cautions_of(model_, work, cost))
    made.cautions.push_back(term_of(parts.cautions[model_.index_of_caution(name)]));
  for (const std::string& name : cost.opens) made.opens.push_back(term_of(parts.access[model_.index_of_access(name)]));
  for (const std::string& name : cost.brings)
    made.brings.push_back(term_of(parts.conditions[model_.index_of_condition(name)]));
  for (const std::string& name : tools_of(model_, work, cost))
    made.tools.push_back(term_of(parts.tools[model_.index_of_tool(name)]));
  if (const auto skill = skill_of(model_, work, cost)) made.skill = term_of(parts.skills.at(*skill));
  made.cost_known = cost.known || !cost.opens.empty() || !cost.brings.empty();
  made.minutes = cost.minutes;
  made.wait_minutes = cost.wait_minutes;
  made.money = cost.money;
  made.cost = cost.cost;
}

}  // namespace detail

inline std::string_view kind_of(const JobStep& step) {
  return std::visit(
      [](const auto& one) -> std::string_view {
        using Kind = std::decay_t<decltype(one)>;
        if constexpr (std::is_same_v<Kind, AskStep>) return "ask";
        if constexpr (std::is_same_v<Kind, TestStep>) return "test";
        if constexpr (std::is_same_v<Kind, RepairStep>) return "repair";
        if constexpr (std::is_same_v<Kind, HandOverStep>) return "hand_over";
        if constexpr (std::is_same_v<Kind, LiveWithStep>) return "live_with";
        return "nothing";
      },
      step);
}

inline AdvisedStep described(const Case& current, const JobStep& step, const Means& means) {
  require_known(current.model(), means);
  return detail::StepDescriber(current, means).describe(step);
}

inline AdvisedStep described(const Case& current, const TestForecast& forecast, const Ranking& ranking,
                             const Means& means) {
  require_known(current.model(), means);
  return detail::StepDescriber(current, means).describe(forecast, ranking);
}

}  // namespace faultodds

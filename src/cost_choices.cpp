// SPDX-License-Identifier: BSD-3-Clause
#include "cost_choices.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "advice.hpp"

namespace faultodds::program {
namespace {

/// Whether a case can end at a cost that somebody named.
bool has_end(const FaultModel& model, const CaseProblemOptions& options) {
  const ModelParts& parts = model.parts();
  const bool fee = std::any_of(parts.hand_overs.begin(), parts.hand_overs.end(),
                               [](const HandOver& one) { return one.money.has_value(); });
  return fee || parts.live_with || options.ends.hand_over || options.ends.live_with;
}

/// Something was found that is not as it should be, so that there is a cause to look for.
bool has_complaint(const Case& current) {
  const std::vector<Finding>& findings = current.findings();
  return std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
    const Role role = current.model().variable(finding.variable).role;
    const bool says_something = role == Role::symptom || role == Role::test;
    return says_something &&
           finding.weights.front() < *std::max_element(finding.weights.begin(), finding.weights.end());
  });
}

bool allows_one_fault(const Case& current, const HypothesesOptions& options) {
  try {
    return hypotheses_of(current, options).assumed > 0.0;
  } catch (const ArgumentError& error) {
    if (error.argument() != "assumption") throw;
    return false;
  }
}

std::string kind_of(const faultodds::Step& step) {
  switch (step.kind) {
    case StepKind::test:
      return "test";
    case StepKind::repair:
      return "repair";
    case StepKind::hand_over:
      return "hand_over";
    default:
      return "live_with";
  }
}

/// The name in the model; empty where there is none.
std::string name_of(const FaultModel& model, const CaseProblem& made, const faultodds::Step& step) {
  if (step.kind == StepKind::test) return model.variable(made.tests.at(step.index)).name;
  if (step.kind == StepKind::repair) return model.parts().repairs.at(made.repairs.at(step.index)).name;
  if (step.kind == StepKind::hand_over && made.hand_over) return model.parts().hand_overs.at(*made.hand_over).name;
  return {};
}

std::string proposal_text(const FaultModel& model, const CostChoices& choices, const PricedStep& best) {
  const std::string name = step_text(model, choices.made, best.step);
  const std::string cost = ::faultodds::program::money(best.expected_cost, model.header().currency);
  const bool least = best.expected_cost <= choices.steps.front().expected_cost;
  if (best.step != choices.steps.at(choices.proposed).step) {
    return "Passed over: " + step_text(model, choices.made, choices.steps.at(choices.proposed).step) +
           ". Of the tests, " + name + " is the best (" + cost + " expected).";
  }
  switch (best.step.kind) {
    case StepKind::test:
      return "Cheapest in the end: test first, " + name + " (" + cost + " expected)" +
             (least ? "." : "; of tests within 1 % it tells most for its cost.");
    case StepKind::repair:
      return "Cheapest in the end: repair now, " + name + " (" + cost + " expected).";
    case StepKind::hand_over:
      return "Cheapest in the end: hand over. No test and no repair here pays for itself any more.";
    default:
      return "Cheapest in the end: leave it as it is. No test and no repair here pays for itself.";
  }
}

}  // namespace

std::optional<CostChoices> choices_of(const Case& current, CaseProblemOptions options) {
  if (!has_end(current.model(), options) || !has_complaint(current)) return std::nullopt;
  if (!allows_one_fault(current, options.hypotheses)) options.hypotheses.assumption = FaultAssumption::several_faults;
  CaseProblem made = problem_of(current, options);
  Weighing weighing = weigh_steps(made.problem, start_of(made.problem), 2, current.stop());
  return CostChoices{std::move(made), std::move(weighing.steps), weighing.proposed};
}

Json choices_json(const FaultModel& model, const CostChoices& choices) {
  Json list = Json::array();
  for (std::size_t i = 0; i < choices.steps.size(); ++i) {
    const PricedStep& step = choices.steps[i];
    list.push_back({{"kind", kind_of(step.step)},
                    {"name", name_of(model, choices.made, step.step)},
                    {"label", step_text(model, choices.made, step.step)},
                    {"cost", step.step_cost},
                    {"expected_cost", step.expected_cost},
                    {"saves", step.saves},
                    {"gain_bits", step.gain_bits},
                    {"proposed", i == choices.proposed}});
  }
  return list;
}

std::string step_text(const FaultModel& model, const CaseProblem& made, const faultodds::Step& step) {
  switch (step.kind) {
    case StepKind::test:
      return shown(model.variable(made.tests.at(step.index)));
    case StepKind::repair:
      return label_or_name(model.parts().repairs.at(made.repairs.at(step.index)));
    case StepKind::hand_over:
      return made.hand_over ? "hand over: " + label_or_name(model.parts().hand_overs.at(*made.hand_over)) : "hand over";
    default:
      return "leave it as it is";
  }
}

void show_choices(const Screen& screen, const FaultModel& model, const CostChoices& choices, std::size_t most,
                  std::optional<std::size_t> proposed) {
  const std::string& currency = model.header().currency;
  std::vector<std::vector<std::string>> rows = {{"", "", "step", "now", "in the end"}};
  std::size_t tests = 0;
  std::size_t repairs = 0;
  for (std::size_t i = 0; i < choices.steps.size(); ++i) {
    const PricedStep& step = choices.steps[i];
    const bool test = step.step.kind == StepKind::test;
    const bool repair = step.step.kind == StepKind::repair;
    const bool too_many = (test && ++tests > most) || (repair && ++repairs > most);
    if (too_many && proposed != i) continue;
    rows.push_back({proposed == i ? ">" : "",
                    test     ? "test"
                    : repair ? "repair"
                             : "end",
                    step_text(model, choices.made, step.step), faultodds::program::money(step.step_cost, currency),
                    faultodds::program::money(step.expected_cost, currency)});
  }
  screen.heading("By expected cost");
  screen.table(rows, 2);
  screen.text("now: this step; in the end: all that is expected until the case is over, this step included", 2);
  if (proposed) screen.text(proposal_text(model, choices, choices.steps.at(*proposed)), 2, 2);
}

void show_terms(const Screen& screen, const FaultModel& model, const CaseProblem& made, const PricedStep& hand_over) {
  const std::string& currency = model.header().currency;
  const auto amount = [&](double sum) { return faultodds::program::money(sum, currency); };
  screen.item("Cost", made.problem.repair_elsewhere.empty()
                          ? amount(hand_over.step_cost) + ", all told"
                          : amount(made.problem.hand_over.value()) +
                                ", and the repair besides: " + amount(hand_over.step_cost) + " expected in all");
  if (!made.hand_over) return;
  const HandOver& to = model.parts().hand_overs.at(*made.hand_over);
  if (to.wait_minutes) screen.item("Back in", span_of_time(*to.wait_minutes));
  if (!to.tells.empty()) screen.item("There", to.tells);
}

}  // namespace faultodds::program

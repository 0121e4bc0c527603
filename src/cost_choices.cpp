#include "cost_choices.hpp"

#include <algorithm>
#include <cmath>

namespace faultodds::program {
namespace {

/// Whether a case can end at a cost that somebody named.
bool has_end(const FaultModel& model, const CaseProblemOptions& options) {
  const ModelParts& parts = model.parts();
  const bool fee = std::any_of(parts.hand_overs.begin(), parts.hand_overs.end(),
                               [](const HandOver& one) { return one.money.has_value(); });
  return fee || parts.live_with || options.hand_over || options.live_with;
}

bool allows_one_fault(const Case& current, const HypothesesOptions& options) {
  try {
    return hypotheses_of(current, options).assumed > 0.0;
  } catch (const ArgumentError& error) {
    if (error.argument() != "assumption") throw;
    return false;
  }
}

std::string cheapest_text(const FaultModel& model, const CostChoices& choices) {
  const PricedStep& best = choices.steps.front();
  const std::string name = step_text(model, choices.made, best.step);
  const std::string cost = ::faultodds::program::money(best.expected_cost, model.header().currency);
  switch (best.step.kind) {
    case StepKind::test:
      return "Cheapest in the end: test first, " + name + " (" + cost + " expected).";
    case StepKind::repair:
      return "Cheapest in the end: repair now, " + name + " (" + cost + " expected). r: do it.";
    case StepKind::hand_over:
      return "Cheapest in the end: hand over. No test and no repair here pays for itself any more.";
    default:
      return "Cheapest in the end: leave it as it is. No test and no repair here pays for itself.";
  }
}

}  // namespace

std::optional<CostChoices> choices_of(const Case& current, CaseProblemOptions options) {
  if (current.model().with_role(Role::component).empty() || !has_end(current.model(), options)) return std::nullopt;
  if (!allows_one_fault(current, options.hypotheses)) options.hypotheses.assumption = FaultAssumption::several_faults;
  CostChoices choices{problem_of(current, options), {}};
  choices.steps = price_steps(choices.made.problem, start_of(choices.made.problem));
  return choices;
}

std::string step_text(const FaultModel& model, const CaseProblem& made, const faultodds::Step& step) {
  switch (step.kind) {
    case StepKind::test:
      return shown(model.variable(made.tests.at(step.index)));
    case StepKind::repair: {
      const Repair& repair = model.parts().repairs.at(made.repairs.at(step.index));
      return repair.label.empty() ? repair.name : repair.label;
    }
    case StepKind::hand_over: {
      if (!made.hand_over) return "hand over";
      const HandOver& to = model.parts().hand_overs.at(*made.hand_over);
      return "hand over: " + (to.label.empty() ? to.name : to.label);
    }
    default:
      return "leave it as it is";
  }
}

void show_choices(const Screen& screen, const FaultModel& model, const CostChoices& choices, std::size_t most) {
  const std::string& currency = model.header().currency;
  std::vector<std::vector<std::string>> rows = {{"", "step", "now", "in the end"}};
  std::size_t tests = 0;
  std::size_t repairs = 0;
  for (const PricedStep& step : choices.steps) {
    const bool test = step.step.kind == StepKind::test;
    const bool repair = step.step.kind == StepKind::repair;
    if ((test && ++tests > most) || (repair && ++repairs > most)) continue;
    rows.push_back({test     ? "test"
                    : repair ? "repair"
                             : "end",
                    step_text(model, choices.made, step.step), faultodds::program::money(step.step_cost, currency),
                    faultodds::program::money(step.expected_cost, currency)});
  }
  screen.heading("By expected cost");
  screen.table(rows, 1);
  screen.text("now: this step; in the end: all that is expected until the case is over, this step included", 2);
  screen.text(cheapest_text(model, choices), 2, 2);
}

}  // namespace faultodds::program

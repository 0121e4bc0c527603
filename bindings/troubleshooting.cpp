// The planning problem step by step, steps side by side, and repairs in order.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

Situation situation_or_start(const TroubleshootingProblem& problem, py::handle situation) {
  return situation.is_none() ? start_of(problem) : situation_from(problem, situation);
}

py::object results_records(py::handle given, py::handle situation, py::handle step) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  const Situation before = situation_or_start(problem, situation);
  const Step taken = step_from(problem, step);
  const std::vector<StepResult> results = results_of(problem, before, taken);
  const py::object kind = record_type("StepResult");
  py::list records;
  for (std::size_t i = 0; i < results.size(); ++i) {
    if (!(results[i].probability > 0.0)) continue;
    records.append(
        kind(outcome_name(problem, taken, i), results[i].probability, situation_record(problem, results[i].situation)));
  }
  return py::tuple(records);
}

py::object step_records(const HeldProblem& held, const std::vector<PricedStep>& priced) {
  const TroubleshootingProblem& problem = held.problem;
  const FlowChartTexts texts = held.texts.is_none() ? flow_chart_texts(problem) : texts_from(held.texts);
  const py::object kind = record_type("PricedStep");
  py::list records;
  for (const PricedStep& one : priced) {
    records.append(kind(kind_text(one.step.kind), step_name(problem, one.step), step_label(problem, texts, one.step),
                        one.step_cost, one.expected_cost, one.saves, one.gain_bits));
  }
  return as_records(records, "PricedSteps");
}

py::object priced_records(py::handle given, py::handle situation, py::handle depth) {
  const HeldProblem held = problem_from(given);
  const Situation before = situation_or_start(held.problem, situation);
  const std::size_t steps = count_of(depth, "depth");
  std::vector<PricedStep> priced;
  {
    const py::gil_scoped_release unlocked;
    priced = price_steps(held.problem, before, steps, thread_stop());
  }
  return step_records(held, priced);
}

py::object weighed(py::handle given, py::handle situation, py::handle depth) {
  const HeldProblem held = problem_from(given);
  const Situation before = situation_or_start(held.problem, situation);
  const std::size_t steps = count_of(depth, "depth");
  Weighing weighing;
  {
    const py::gil_scoped_release unlocked;
    weighing = weigh_steps(held.problem, before, steps, thread_stop());
  }
  const py::object records = step_records(held, weighing.steps);
  return record_type("Weighing")(records, records[py::int_(weighing.proposed)]);
}

py::object order_record(const TroubleshootingProblem& problem, const RepairOrder& order) {
  return record_type("RepairOrder")(names_at(problem.repairs, order.repairs), step_record(problem, order.end),
                                    order.probability_left, order.expected_cost, order.lower_bound, order.best,
                                    order.steps, order.stopped);
}

py::object best_order(py::handle given, py::handle max_in_sets, py::handle max_steps) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  const RepairOrderOptions options{count_of(max_in_sets, "max_in_sets"), count_of(max_steps, "max_steps")};
  RepairOrder order;
  {
    const py::gil_scoped_release unlocked;
    order = best_repair_order(problem, options, thread_stop());
  }
  return order_record(problem, order);
}

py::object priced_order(py::handle given, py::handle repairs) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  std::vector<std::size_t> positions;
  for (const std::string& name : names_of(repairs, "repairs")) {
    py::object step = record_type("Step")("repair", name);
    positions.push_back(step_from(problem, step).index);
  }
  return order_record(problem, priced_repair_order(problem, positions));
}

void bind_steps(py::module_& module) {
  module.def(
      "start_of",
      [](py::handle given) {
        const TroubleshootingProblem problem = problem_from(given).problem;
        return situation_record(problem, start_of(problem));
      },
      py::arg("problem"), "The Situation at the start: normalised weights, nothing done. Raises ArgumentError.");
  module.def(
      "possible_steps",
      [](py::handle given, py::handle situation) {
        const TroubleshootingProblem problem = problem_from(given).problem;
        py::list steps;
        for (const Step& step : possible_steps(problem, situation_or_start(problem, situation))) {
          steps.append(step_record(problem, step));
        }
        return py::tuple(steps);
      },
      py::arg("problem"), py::arg("situation") = py::none(),
      R"(All steps that make sense, each a Step: tests not done whose outcome is open and tells something, repairs not done
that may do some work, hand-over and living with it. situation: None for the start. Raises ArgumentError, UnknownName.)");
  module.def(
      "step_cost",
      [](py::handle given, py::handle situation, py::handle step) {
        const TroubleshootingProblem problem = problem_from(given).problem;
        return step_cost(problem, situation_or_start(problem, situation), step_from(problem, step));
      },
      py::arg("problem"), py::arg("situation"), py::arg("step"),
      R"(Cost of a step itself: with set-ups, a repair with its verification.

Raises ArgumentError, UnknownName.)");
  module.def("results_of", &results_records, py::arg("problem"), py::arg("situation"), py::arg("step"),
             R"(What a step can lead to, by Bayes' rule: a StepResult for each outcome that can come.

None for a step that ends the case. Raises ArgumentError, UnknownName.)");
  module.def(
      "cheapest_end",
      [](py::handle given, py::handle situation) {
        const TroubleshootingProblem problem = problem_from(given).problem;
        return step_record(problem, cheapest_end(problem, situation_or_start(problem, situation)));
      },
      py::arg("problem"), py::arg("situation") = py::none(),
      "The cheaper of hand-over and living with it, as a Step; hand-over where they cost the same.");
  module.def("price_steps", &priced_records, py::arg("problem"), py::arg("situation") = py::none(),
             py::arg("depth") = 2,
             R"(All possible steps side by side, each with what it costs to take it now: PricedSteps.

The least expected cost first; of equal ones the ends, then repairs, then tests. problem: a TroubleshootingProblem, or the
CaseProblem of problem_of. situation: None for the start. depth: steps looked at, the first included; then repairs follow
by probability of cure over cost, then the end. Raises ArgumentError, UnknownName.)");
  module.def("weigh_steps", &weighed, py::arg("problem"), py::arg("situation") = py::none(), py::arg("depth") = 2,
             R"(All possible steps side by side, and which of them to propose: a Weighing.

As price_steps; and since a few steps ahead may not show that testing pays, the four best tests and the one that
greedy_policy_tree begins with cost what following that after them costs, where this is less. Proposed is the cheapest step; if that is a test, of all tests that cost
at most 1 % more in the end the one with the most bits for its cost. Raises ArgumentError, UnknownName.)");
}

}  // namespace

void bind_troubleshooting(py::module_& module) {
  bind_steps(module);
  module.def(
      "p_over_c_order",
      [](py::handle given, py::handle situation) {
        const TroubleshootingProblem problem = problem_from(given).problem;
        return order_record(problem, situation.is_none() ? p_over_c_order(problem)
                                                         : p_over_c_order(problem, situation_from(problem, situation)));
      },
      py::arg("problem"), py::arg("situation") = py::none(),
      R"(The repairs by probability of cure over cost, cut where ending the case is cheaper: a RepairOrder.

`best` where that order is known to be the best (Kadane & Simon 1977; Heckerman, Breese & Rommelse 1995). Raises
ArgumentError, UnknownName.)");
  module.def(
      "best_repair_order", &best_order, py::arg("problem"), py::kw_only(), py::arg("max_in_sets") = 18,
      py::arg("max_steps") = 100'000,
      R"(The sequence of repairs with the least expected cost, hand-over or living with it at the best moment included.

Exact where the order of failed repairs does not matter for what follows and there are at most `max_in_sets` of them;
otherwise a search that ends after `max_steps` and says by `lower_bound` what it could not rule out. Returns a
RepairOrder. Raises ArgumentError.)");
  module.def("priced_repair_order", &priced_order, py::arg("problem"), py::arg("repairs"),
             R"(Expected cost of following this sequence of repairs, by name, and then the cheaper end: a RepairOrder.

Raises UnknownName; ArgumentError where one is named twice.)");
}

}  // namespace faultodds::python

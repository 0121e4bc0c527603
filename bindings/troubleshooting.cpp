// The planning problem step by step, steps side by side, and repairs in order.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/troubleshooting.hpp"

#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

Situation situation_or_start(const TroubleshootingProblem& problem, py::handle situation) {
  return situation.is_none() ? start_of(problem) : situation_from(problem, situation);
}

Step step_from(const TroubleshootingProblem& problem, py::handle record) {
  return taken<Step>(Names(problem).reading(), record, "step");
}

py::object results_records(py::handle given, py::handle situation, py::handle step) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  const Situation before = situation_or_start(problem, situation);
  const Step taken_step = step_from(problem, step);
  const std::vector<StepResult> results = results_of(problem, before, taken_step);
  const Names after = Names(problem).at(taken_step);
  py::list records;
  for (std::size_t i = 0; i < results.size(); ++i) {
    if (results[i].probability > 0.0) records.append(to_python(after, results[i], py::str(after.outcome(i))));
  }
  return py::tuple(records);
}

py::object priced_records(py::handle given, py::handle situation, py::handle depth) {
  const HeldProblem held = problem_from(given);
  const Situation before = situation_or_start(held.problem, situation);
  const std::size_t steps = count_of(depth, "depth");
  const auto priced = unlocked([&] { return price_steps(held.problem, before, steps, thread_stop()); });
  return table_of(held.names(), priced, "PricedSteps");
}

py::object weighed(py::handle given, py::handle situation, py::handle depth) {
  const HeldProblem held = problem_from(given);
  const Situation before = situation_or_start(held.problem, situation);
  const std::size_t steps = count_of(depth, "depth");
  const Weighing weighing = unlocked([&] { return weigh_steps(held.problem, before, steps, thread_stop()); });
  return to_python(held.names(), weighing);
}

py::object possible(py::handle given, py::handle situation) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  return to_python(Names(problem), possible_steps(problem, situation_or_start(problem, situation)));
}

double cost_of_step(py::handle given, py::handle situation, py::handle step) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  return step_cost(problem, situation_or_start(problem, situation), step_from(problem, step));
}

py::object end_of(py::handle given, py::handle situation) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  return to_python(Names(problem), cheapest_end(problem, situation_or_start(problem, situation)));
}

py::object by_probability_over_cost(py::handle given, py::handle situation) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  const RepairOrder order =
      situation.is_none() ? p_over_c_order(problem) : p_over_c_order(problem, situation_from(problem, situation));
  return to_python(Names(problem), order);
}

}  // namespace

void bind_troubleshooting(py::module_& module) {
  module.def("_possible_steps", &possible);
  module.def("_step_cost", &cost_of_step);
  module.def("_results_of", &results_records);
  module.def("_cheapest_end", &end_of);
  module.def("_price_steps", &priced_records);
  module.def("_weigh_steps", &weighed);
  module.def("_p_over_c_order", &by_probability_over_cost);
}

}  // namespace faultodds::python

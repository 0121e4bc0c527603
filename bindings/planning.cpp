// From a case to its planning problem, and policy trees for it.
// SPDX-License-Identifier: BSD-3-Clause
#include "planning.hpp"

#include <atomic>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/report/flow_chart_of_case.hpp"

namespace faultodds::python {

namespace {

py::object case_problem_record(HeldCase& held, const py::dict& given) {
  const FaultModel& model = held.current.model();
  const Names in(model);
  const auto options = options_from<CaseProblemOptions>(in, given);
  FlowChartTexts texts;
  const CaseProblem made = locked(held, [&](const Case& current) {
    CaseProblem problem = problem_of(current, options);
    texts = flow_chart_texts(current, problem);
    return problem;
  });
  return to_python(in, made, to_python(in, texts));
}

py::object tree_record(const HeldProblem& held, const PolicyTree& policy_tree) {
  return to_python(held.names(), policy_tree, held.record, held.texts_record);
}

/// Follows the policy that `make` makes of the problem, without the interpreter lock; Ctrl-C and time limits stop it.
template <class Make>
py::object followed(const HeldProblem& held, const PolicyTreeOptions& options, const Make& make) {
  return tree_record(held, unlocked([&] { return follow(held.problem, make(held.problem), options, thread_stop()); }));
}

py::object followed_policy(py::handle given, const py::function& policy, const py::dict& options) {
  return followed(problem_from(given), options_from<PolicyTreeOptions>(Names(), options),
                  [&policy](const TroubleshootingProblem& problem) -> Policy {
                    return [&policy, names = Names(problem).reading()](const Situation& situation) {
                      const py::gil_scoped_acquire locked_again;
                      return taken<Step>(names, policy(to_python(names, situation)), "step");
                    };
                  });
}

py::object greedy(py::handle given, const py::dict& options) {
  return followed(problem_from(given), options_from<PolicyTreeOptions>(Names(), options), &greedy_policy);
}

py::object looked_ahead(py::handle given, py::handle depth, const py::dict& options) {
  const std::size_t steps = count_of(depth, "depth");
  return followed(
      problem_from(given), options_from<PolicyTreeOptions>(Names(), options),
      [steps](const TroubleshootingProblem& problem) { return look_ahead_policy(problem, steps, thread_stop()); });
}

py::object in_fixed_order(py::handle given, const py::dict& options) {
  const HeldProblem held = problem_from(given);
  const auto order = options_from<FixedOrder>(held.names().reading(), options);
  return followed(held, options_from<PolicyTreeOptions>(Names(), options),
                  [&order](const TroubleshootingProblem& problem) { return fixed_order_policy(problem, order); });
}

/// Stops the search after `seconds`, and once `keep_going`, called with the interpreter lock, is not true.
Stop search_stop(const py::object& keep_going, py::handle seconds, std::atomic<bool>& enough) {
  StopOptions options;
  options.flag = &enough;
  read(Names(), seconds, "seconds", options.seconds);
  if (options.seconds && !(*options.seconds > 0.0)) {
    throw ArgumentError("seconds", "got " + std::to_string(*options.seconds), "give a positive number of seconds",
                        ErrorCode::wrong_number);
  }
  if (!keep_going.is_none()) {
    options.progress = [&keep_going, &enough](const Progress& progress) {
      const py::gil_scoped_acquire locked_again;
      enough = !py::object(keep_going(to_python(Names(), progress))).cast<bool>();
    };
  }
  return Stop(std::move(options), thread_stop());
}

py::object searched(py::handle given, py::handle seconds, const py::object& keep_going, const py::dict& given_options) {
  const HeldProblem held = problem_from(given);
  const auto options = options_from<SearchOptions>(Names(), given_options);
  std::atomic<bool> enough{false};
  const Stop stop = search_stop(keep_going, seconds, enough);
  const OptimalPolicyTree found = unlocked([&] { return optimal_policy_tree(held.problem, options, stop); });
  return to_python(held.names(), found, tree_record(held, found.policy_tree));
}

py::object folded_record(py::handle policy_tree, py::handle min_probability) {
  require_kind(policy_tree, "PolicyTree", "policy_tree");
  HeldProblem held = problem_from(policy_tree.attr("problem"));
  held.texts_record = policy_tree.attr("texts");
  read(Names(), held.texts_record, "texts", held.texts);
  return tree_record(
      held, folded(policy_tree_from(held.problem, policy_tree), number_of(min_probability, "min_probability")));
}

double cost_of_tree(py::handle given, py::handle policy_tree) {
  const TroubleshootingProblem problem = problem_from(given).problem;
  const PolicyTree priced = policy_tree_from(problem, policy_tree);
  return unlocked([&] { return expected_cost(problem, priced, thread_stop()); });
}

}  // namespace

void bind_planning(py::module_& module) {
  module.def("_problem_of", &case_problem_record);
  module.def("_follow", &followed_policy);
  module.def("_greedy_policy_tree", &greedy);
  module.def("_look_ahead_policy_tree", &looked_ahead);
  module.def("_fixed_order_policy_tree", &in_fixed_order);
  module.def("_optimal_policy_tree", &searched);
  module.def("_expected_cost", &cost_of_tree);
  module.def("_folded", &folded_record);
}

}  // namespace faultodds::python

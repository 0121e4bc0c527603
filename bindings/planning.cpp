// From a case to its planning problem, and policy trees for it.
// SPDX-License-Identifier: BSD-3-Clause
#include "planning.hpp"

#include <atomic>
#include <cmath>
#include <limits>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/report/flow_chart_of_case.hpp"

namespace faultodds::python {

namespace {

FaultAssumption assumption_of(py::handle text) {
  const std::string name = name_of(text, "assumption");
  if (name == "one_fault") return FaultAssumption::one_fault;
  if (name == "several_faults") return FaultAssumption::several_faults;
  throw ArgumentError("assumption", "got \"" + name + '"', "give one_fault or several_faults");
}

HypothesesOptions hypotheses_options(const FaultModel& model, py::handle components, py::handle assumption,
                                     py::handle most) {
  HypothesesOptions options;
  if (!components.is_none()) options.components = variables_of(model, components, "components");
  options.assumption = assumption_of(assumption);
  options.most = count_of(most, "max_hypotheses");
  return options;
}

py::object hypotheses_record(const FaultModel& model, const Hypotheses& hypotheses) {
  const py::object fault_kind = record_type("Fault");
  const py::object kind = record_type("Hypothesis");
  py::list list;
  for (const Hypothesis& hypothesis : hypotheses.list) {
    py::list faults;
    for (const Fault& fault : hypothesis.faults) {
      const Variable& component = model.variable(fault.component);
      const State& state = component.states.at(fault.state);
      faults.append(fault_kind(component.name, shown(component), state.name, shown(state)));
    }
    list.append(kind(py::tuple(faults), hypothesis.probability));
  }
  return record_type("Hypotheses")(names_as_tuple(model, hypotheses.components),
                                   hypotheses.assumption == FaultAssumption::one_fault ? "one_fault" : "several_faults",
                                   hypotheses.assumed, as_records(list), hypotheses.left_out);
}

/// Options of problem_of by their names.
CaseProblemOptions problem_options(const FaultModel& model, const py::dict& given) {
  CaseProblemOptions options;
  const auto value = [&](const char* name) { return py::object(given[name]); };
  const auto names = [&](const char* name) { return names_of(value(name), name); };
  options.hypotheses = hypotheses_options(model, value("components"), value("assumption"), value("max_hypotheses"));
  if (!value("tests").is_none()) options.tests = variables_of(model, value("tests"), "tests");
  options.means = means_of(value("means"));
  options.ends = end_costs_of(value("ends"));
  options.max_tests = count_of(value("max_tests"), "max_tests");
  for (const std::string& name : names("repairs_done")) {
    options.repairs_done.push_back(repair_of(model, py::str(name), "repairs_done"));
  }
  return options;
}

py::object case_problem_record(HeldCase& held, const py::dict& given) {
  const FaultModel& model = held.current.model();
  const CaseProblemOptions options = problem_options(model, given);
  FlowChartTexts texts;
  const CaseProblem made = locked(held, [&](const Case& current) {
    CaseProblem problem = problem_of(current, options);
    texts = flow_chart_texts(current, problem);
    return problem;
  });
  const py::object hand_over =
      made.hand_over ? py::object(py::str(model.parts().hand_overs.at(*made.hand_over).name)) : py::none();
  return record_type("CaseProblem")(problem_record(made.problem), hypotheses_record(model, made.hypotheses),
                                    made.rest_is_last, hand_over, texts_record(texts));
}

PolicyTreeOptions tree_options(py::handle min_probability, py::handle max_nodes, py::handle leading) {
  return {number_of(min_probability, "min_probability"), count_of(max_nodes, "max_nodes"),
          count_of(leading, "leading")};
}

/// Follows the policy that `make` makes of the problem, without the interpreter lock; Ctrl-C and time limits stop it.
template <class Make>
py::object followed(const HeldProblem& held, const PolicyTreeOptions& options, const Make& make) {
  PolicyTree policy_tree;
  {
    const py::gil_scoped_release unlocked;
    policy_tree = follow(held.problem, make(held.problem), options, thread_stop());
  }
  return policy_tree_record(held, policy_tree);
}

py::object followed_policy(py::handle given, const py::function& policy, py::handle min_probability,
                           py::handle max_nodes, py::handle leading) {
  const HeldProblem held = problem_from(given);
  return followed(held, tree_options(min_probability, max_nodes, leading),
                  [&policy](const TroubleshootingProblem& problem) -> Policy {
                    return [&policy, &problem](const Situation& situation) {
                      const py::gil_scoped_acquire locked_again;
                      return step_from(problem, policy(situation_record(problem, situation)));
                    };
                  });
}

py::object greedy(py::handle given, py::handle min_probability, py::handle max_nodes, py::handle leading) {
  return followed(problem_from(given), tree_options(min_probability, max_nodes, leading), &greedy_policy);
}

py::object looked_ahead(py::handle given, py::handle depth, py::handle min_probability, py::handle max_nodes,
                        py::handle leading) {
  const std::size_t steps = count_of(depth, "depth");
  return followed(
      problem_from(given), tree_options(min_probability, max_nodes, leading),
      [steps](const TroubleshootingProblem& problem) { return look_ahead_policy(problem, steps, thread_stop()); });
}

py::object in_fixed_order(py::handle given, py::handle tests, py::handle repair_at, py::handle min_probability,
                          py::handle max_nodes, py::handle leading) {
  const HeldProblem held = problem_from(given);
  FixedOrder order{{}, number_of(repair_at, "repair_at")};
  for (const std::string& name : names_of(tests, "tests")) {
    order.tests.push_back(step_from(held.problem, record_type("Step")("test", name)).index);
  }
  return followed(held, tree_options(min_probability, max_nodes, leading),
                  [&order](const TroubleshootingProblem& problem) { return fixed_order_policy(problem, order); });
}

/// Stops the search after `seconds`, and once `keep_going`, called with the interpreter lock, is not true.
Stop search_stop(const py::object& keep_going, py::handle seconds, std::atomic<bool>& enough) {
  StopOptions options;
  options.flag = &enough;
  if (!seconds.is_none()) {
    options.seconds = number_of(seconds, "seconds");
    if (!(*options.seconds > 0.0)) {
      throw ArgumentError("seconds", "got " + std::to_string(*options.seconds), "give a positive number of seconds",
                          ErrorCode::wrong_number);
    }
  }
  if (!keep_going.is_none()) {
    options.progress = [&keep_going, &enough](const Progress& progress) {
      const py::gil_scoped_acquire locked_again;
      const py::object answer =
          keep_going(record_type("SearchProgress")(progress.done, progress.lower_bound, progress.upper_bound));
      enough = !answer.cast<bool>();
    };
  }
  return Stop(std::move(options), thread_stop());
}

py::object searched(py::handle given, py::handle max_steps, py::handle max_situations, py::handle tolerance,
                    py::handle seconds, const py::object& keep_going, py::handle max_nodes, py::handle leading) {
  const HeldProblem held = problem_from(given);
  SearchOptions options;
  options.max_steps = count_of(max_steps, "max_steps");
  options.max_situations = count_of(max_situations, "max_situations");
  options.tolerance = number_of(tolerance, "tolerance");
  std::atomic<bool> enough{false};
  const Stop stop = search_stop(keep_going, seconds, enough);
  options.tree.max_nodes = count_of(max_nodes, "max_nodes");
  options.tree.leading = count_of(leading, "leading");
  OptimalPolicyTree found;
  {
    const py::gil_scoped_release unlocked;
    found = optimal_policy_tree(held.problem, options, stop);
  }
  return record_type("OptimalPolicyTree")(policy_tree_record(held, found.policy_tree), found.lower_bound,
                                          found.upper_bound, found.optimal, found.steps, found.stopped);
}

py::object folded_record(py::handle policy_tree, py::handle min_probability) {
  HeldProblem held = problem_from(policy_tree.attr("problem"));
  held.texts = policy_tree.attr("texts");
  return policy_tree_record(
      held, folded(policy_tree_from(held.problem, policy_tree), number_of(min_probability, "min_probability")));
}

template <class Function, class... Arguments>
void bind_policy_tree(py::module_& module, const char* name, Function function, const char* about,
                      const Arguments&... arguments) {
  module.def(name, function, py::arg("problem"), arguments..., py::arg("min_probability") = 1e-6,
             py::arg("max_nodes") = 1'000'000, py::arg("leading") = 3, about);
}

}  // namespace

void bind_planning(py::module_& module) {
  module.def(
      "hypotheses_of",
      [](HeldCase& held, py::handle components, py::handle assumption, py::handle most) {
        const FaultModel& model = held.current.model();
        const HypothesesOptions options = hypotheses_options(model, components, assumption, most);
        return hypotheses_record(model,
                                 locked(held, [&](const Case& current) { return hypotheses_of(current, options); }));
      },
      py::arg("case"), py::kw_only(), py::arg("components") = py::none(), py::arg("assumption") = "one_fault",
      py::arg("most") = 64, R"(The most probable hypotheses of a case, all findings counted: Hypotheses. Exact.

components: in question; None: faults_in_question. assumption: "one_fault" (one at most is faulty) or "several_faults".
Raises UnknownName, ArgumentError, and Stopped where several faults are too many to be told apart.)");
  module.def("_problem_of", &case_problem_record);
  bind_policy_tree(module, "follow", &followed_policy,
                   R"(The tree that follows a policy from the start to the end of the case: a PolicyTree.

policy: is called with a Situation and gives the Step to take: one of possible_steps, or any test or repair that is not
done yet. Branches reached with less than `min_probability` do without further tests. leading: hypotheses that a node
lists. What the policy raises ends the work. Raises ArgumentError; TooLarge beyond `max_nodes`.)",
                   py::arg("policy"), py::kw_only());
  bind_policy_tree(
      module, "greedy_policy_tree", &greedy,
      R"(The test with the most information about the hypothesis for its cost, as long as some test saves money; then
repairs by probability of cure over cost, then the end: a PolicyTree. The interpreter lock is released while computing.

Raises ArgumentError; TooLarge beyond `max_nodes`.)",
      py::kw_only());
  bind_policy_tree(
      module, "look_ahead_policy_tree", &looked_ahead,
      R"(The step with the least expected cost when `depth` steps are looked at in all their outcomes: a PolicyTree.

Work grows with (tests + repairs)^depth; Ctrl-C and time_limit stop it. Raises ArgumentError; TooLarge beyond
`max_nodes`.)",
      py::arg("depth") = 2, py::kw_only());
  bind_policy_tree(module, "fixed_order_policy_tree", &in_fixed_order,
                   R"(A fixed order of tests, by name, as workshops teach it; what is found is repaired: a PolicyTree.

repair_at: a repair is due once it would cure with this probability. When the order is through and nothing is due: repairs
by probability of cure over cost, then the end. Raises UnknownName; ArgumentError where a test is named twice or `repair_at`
is not in (0, 1]; TooLarge beyond `max_nodes`.)",
                   py::arg("tests"), py::kw_only(), py::arg("repair_at") = 0.5);
  module.def(
      "optimal_policy_tree", &searched, py::arg("problem"), py::kw_only(), py::arg("max_steps") = 20'000,
      py::arg("max_situations") = 200'000, py::arg("tolerance") = 1e-9, py::arg("seconds") = py::none(),
      py::arg("keep_going") = py::none(), py::arg("max_nodes") = 1'000'000, py::arg("leading") = 3,
      R"(The policy_tree with the least expected cost, by AND/OR search with bounds from both sides: an OptimalPolicyTree.

The search ends when the bounds meet within `tolerance` (relative), after `max_steps`, with `max_situations` in memory,
after `seconds` or the time_limit around the call, or when `keep_going`, called with a SearchProgress after each step, is
not true; then `stopped` is true, and `optimal` and `lower_bound` say how good the policy_tree found is. If nothing stops
it, the same problem gives the same policy_tree. Ctrl-C ends it without a result. The interpreter lock is released while computing. Raises
ArgumentError; TooLarge beyond `max_nodes`.)");
  module.def(
      "expected_cost",
      [](py::handle given, py::handle policy_tree) {
        const TroubleshootingProblem problem = problem_from(given).problem;
        const PolicyTree followed = policy_tree_from(problem, policy_tree);
        const py::gil_scoped_release unlocked;
        return expected_cost(problem, followed, thread_stop());
      },
      py::arg("problem"), py::arg("policy_tree"),
      R"(Expected cost of a policy_tree, worked out from the problem and the policy_tree's steps alone, whatever stands in its nodes.

Raises UnknownName; ArgumentError where a branch that can come is missing, a step is done twice, or a node is folded.)");
  module.def("folded", &folded_record, py::arg("policy_tree"), py::arg("min_probability"),
             R"(A copy in which nodes reached with less than `min_probability` are "ask_again". The start stays.)");
}

}  // namespace faultodds::python

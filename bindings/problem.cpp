// Planning problems, situations and policy trees from records.
// SPDX-License-Identifier: BSD-3-Clause
#include <cmath>

#include "planning.hpp"

namespace faultodds::python {

namespace {

void check_branches(const PolicyTree& policy_tree) {
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    for (const PolicyBranch& branch : policy_tree.nodes[i].branches) {
      if (branch.node > i && branch.node < policy_tree.nodes.size()) continue;
      throw ArgumentError("nodes[" + std::to_string(i) + "].branches", "node " + std::to_string(branch.node),
                          "branches lead to nodes further on, of which there are " +
                              std::to_string(policy_tree.nodes.size()) + " in all");
    }
  }
}

}  // namespace

HeldProblem problem_from(py::handle given) {
  const bool of_case = py::isinstance(given, record_type("CaseProblem"));
  const py::object record = of_case ? py::object(given.attr("problem")) : py::reinterpret_borrow<py::object>(given);
  require_kind(record, "TroubleshootingProblem", "problem");
  HeldProblem held{.problem = {},
                   .record = record,
                   .texts_record = of_case ? py::object(given.attr("texts")) : py::none(),
                   .texts = {}};
  read(Names().reading(record), record, "problem", held.problem);
  read(Names(), held.texts_record, "texts", held.texts);
  validate(held.problem);
  return held;
}

Situation situation_from(const TroubleshootingProblem& problem, py::handle record) {
  auto situation = taken<Situation>(Names(problem).reading(), record, "situation");
  double sum = 0.0;
  bool sound = situation.belief.size() == problem.hypotheses.size() + 1;
  for (const double probability : situation.belief) {
    sound = sound && probability >= 0.0;
    sum += probability;
  }
  constexpr double rounding = 1e-9;
  if (!sound || !(std::abs(sum - 1.0) <= rounding)) {
    throw ArgumentError("situation.belief",
                        std::to_string(situation.belief.size()) + " numbers of sum " + std::to_string(sum),
                        "give a probability for each of the " + std::to_string(problem.hypotheses.size()) +
                            " hypotheses and one for \"cured already\", of sum 1");
  }
  return situation;
}

PolicyTree policy_tree_from(const TroubleshootingProblem& problem, py::handle record) {
  auto policy_tree = taken<PolicyTree>(Names(problem).reading(), record, "policy_tree");
  check_branches(policy_tree);
  return policy_tree;
}

}  // namespace faultodds::python

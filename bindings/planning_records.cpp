// Planning problems, situations and policy trees as records, both ways: names in Python, positions in C++.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "faultodds/model/fault_model.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

using Kinds = std::array<std::pair<StepKind, const char*>, 6>;
constexpr Kinds step_kinds{{{StepKind::test, "test"},
                            {StepKind::repair, "repair"},
                            {StepKind::hand_over, "hand_over"},
                            {StepKind::live_with, "live_with"},
                            {StepKind::done, "done"},
                            {StepKind::ask_again, "ask_again"}}};

/// The position of each name of a list; a name that stands twice could not be told apart.
class Positions {
 public:
  Positions(std::string kind, std::vector<std::string> names) : kind_(std::move(kind)), names_(std::move(names)) {
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if (positions_.emplace(names_[i], i).second) continue;
      throw ArgumentError(kind_ + "s", "the name \"" + names_[i] + "\" stands twice", "give each its own name",
                          ErrorCode::named_twice);
    }
  }

  [[nodiscard]] std::size_t of(py::handle name, const char* argument) const {
    const std::string text = name_of(name, argument);
    const auto at = positions_.find(text);
    if (at == positions_.end()) throw UnknownName(kind_, text, nearest_names(text, names_), {}, names_);
    return at->second;
  }

  [[nodiscard]] std::vector<std::size_t> of_all(py::handle names, const char* argument) const {
    std::vector<std::size_t> positions;
    for (const std::string& name : names_of(names, argument)) positions.push_back(of(py::str(name), argument));
    return positions;
  }

  [[nodiscard]] std::vector<bool> marked(py::handle names, const char* argument) const {
    std::vector<bool> marks(names_.size(), false);
    for (const std::size_t position : of_all(names, argument)) marks[position] = true;
    return marks;
  }

 private:
  std::string kind_;
  std::vector<std::string> names_;
  std::map<std::string, std::size_t> positions_;
};

template <class Named>
std::vector<std::string> names_in(const std::vector<Named>& all) {
  std::vector<std::string> names;
  for (const Named& one : all) names.push_back(one.name);
  return names;
}

std::vector<std::string> names_of_all(py::handle records) {
  std::vector<std::string> names;
  for (const py::handle record : records) names.push_back(name_of(record.attr("name"), "name"));
  return names;
}

void require_kind(py::handle value, const char* kind, const char* argument) {
  if (py::isinstance(value, record_type(kind))) return;
  throw py::type_error(std::string(argument) + ": got " +
                       std::string(py::str(py::type::handle_of(value).attr("__qualname__"))) + "; give a " + kind);
}

std::vector<double> numbers_of(py::handle values, const char* argument) {
  std::vector<double> numbers;
  for (const py::handle value : values) numbers.push_back(number_of(value, argument));
  return numbers;
}

py::tuple numbers_tuple(const std::vector<double>& numbers, std::size_t first, std::size_t count) {
  py::tuple made(count);
  for (std::size_t i = 0; i < count; ++i) made[i] = numbers.at(first + i);
  return made;
}

py::tuple marked_names(const std::vector<std::string>& names, const std::vector<bool>& marks) {
  std::vector<std::string> chosen;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (marks.at(i)) chosen.push_back(names[i]);
  }
  return as_tuple(chosen);
}

SetUp set_up_from(const Positions& set_ups, py::handle record) {
  return {name_of(record.attr("name"), "name"), number_of(record.attr("cost"), "cost"),
          set_ups.of_all(record.attr("needs"), "needs"), name_of(record.attr("group"), "group"),
          record.attr("in_place").cast<bool>()};
}

TestAction test_from(const Positions& set_ups, py::handle record) {
  require_kind(record, "TestAction", "tests");
  TestAction test{name_of(record.attr("name"), "name"),
                  number_of(record.attr("cost"), "cost"),
                  set_ups.of_all(record.attr("set_ups"), "set_ups"),
                  names_of(record.attr("outcomes"), "outcomes"),
                  {}};
  const Positions outcomes("outcome", test.outcomes);  // refuses a name that stands twice
  for (const py::handle row : record.attr("table")) {
    const std::vector<double> numbers = numbers_of(row, "table");
    if (numbers.size() != test.outcomes.size()) {
      throw ArgumentError("tests[\"" + test.name + "\"].table", "a row of " + std::to_string(numbers.size()),
                          "give a number for each of the " + std::to_string(test.outcomes.size()) + " outcomes",
                          ErrorCode::wrong_size);
    }
    test.table.insert(test.table.end(), numbers.begin(), numbers.end());
  }
  return test;
}

Verification verification_from(py::handle record) {
  return {number_of(record.attr("cost"), "cost"), number_of(record.attr("false_cured"), "false_cured"),
          number_of(record.attr("false_still_there"), "false_still_there")};
}

RepairAction repair_from(const Positions& set_ups, const Positions& hypotheses, std::size_t count, py::handle record) {
  require_kind(record, "RepairAction", "repairs");
  RepairAction repair{name_of(record.attr("name"), "name"),
                      number_of(record.attr("cost"), "cost"),
                      set_ups.of_all(record.attr("set_ups"), "set_ups"),
                      numbers_of(record.attr("success"), "success"),
                      {},
                      verification_from(record.attr("verification"))};
  const py::dict becomes(record.attr("becomes"));
  if (!becomes.empty()) repair.becomes.assign(count, RepairAction::cured);
  for (const auto& [from, to] : becomes) {
    repair.becomes[hypotheses.of(from, "becomes")] = hypotheses.of(to, "becomes");
  }
  return repair;
}

py::object test_record(const TroubleshootingProblem& problem, const TestAction& test) {
  const std::size_t width = test.outcomes.size();
  const std::size_t rows = test.table.size() / width;
  py::tuple table(rows);
  for (std::size_t row = 0; row < rows; ++row) table[row] = numbers_tuple(test.table, row * width, width);
  return record_type("TestAction")(test.name, test.cost, as_tuple(test.outcomes), table,
                                   names_at(problem.set_ups, test.set_ups));
}

py::object repair_record(const TroubleshootingProblem& problem, const RepairAction& repair) {
  py::dict becomes;
  for (std::size_t h = 0; h < repair.becomes.size(); ++h) {
    if (repair.becomes[h] == RepairAction::cured || repair.success[h] <= 0.0) continue;
    becomes[py::str(problem.hypotheses[h])] = problem.hypotheses.at(repair.becomes[h]);
  }
  const Verification& check = repair.verification;
  return record_type("RepairAction")(
      repair.name, repair.cost, numbers_tuple(repair.success, 0, repair.success.size()), becomes,
      names_at(problem.set_ups, repair.set_ups),
      record_type("Verification")(check.cost, check.false_cured, check.false_still_there));
}

/// Reads the nodes of a policy tree.
class PolicyTreeReader {
 public:
  explicit PolicyTreeReader(const TroubleshootingProblem& problem)
      : problem_(problem),
        tests_("test", names_in(problem.tests)),
        repairs_("repair", names_in(problem.repairs)),
        set_ups_("set_up", names_in(problem.set_ups)),
        hypotheses_("hypothesis", problem.hypotheses) {}

  [[nodiscard]] Step step(py::handle record) const {
    const std::string kind = name_of(record.attr("kind"), "kind");
    for (const auto& [step_kind, text] : step_kinds) {
      if (kind != text) continue;
      if (step_kind == StepKind::test) return {step_kind, tests_.of(record.attr("name"), "name")};
      if (step_kind == StepKind::repair) return {step_kind, repairs_.of(record.attr("name"), "name")};
      return {step_kind, 0};
    }
    throw ArgumentError("kind", "got \"" + kind + '"', "give test, repair, hand_over, live_with, done or ask_again");
  }

  [[nodiscard]] PolicyNode node(py::handle record) const {
    PolicyNode node;
    node.step = step(record);
    node.set_ups = set_ups_.of_all(record.attr("set_ups"), "set_ups");
    node.step_cost = number_of(record.attr("step_cost"), "step_cost");
    node.expected_cost = number_of(record.attr("expected_cost"), "expected_cost");
    node.lower_bound = number_of(record.attr("lower_bound"), "lower_bound");
    node.probability = number_of(record.attr("probability"), "probability");
    node.probability_cured = number_of(record.attr("probability_cured"), "probability_cured");
    for (const py::handle branch : record.attr("branches")) {
      node.branches.push_back({outcome(node.step, branch.attr("outcome")),
                               number_of(branch.attr("probability"), "probability"),
                               count_of(branch.attr("node"), "node")});
    }
    for (const py::handle one : record.attr("leading")) {
      node.leading.push_back(
          {hypotheses_.of(one.attr("hypothesis"), "hypothesis"), number_of(one.attr("probability"), "probability")});
    }
    return node;
  }

 private:
  [[nodiscard]] std::size_t outcome(const Step& step, py::handle name) const {
    const auto outcomes = step.kind == StepKind::test ? problem_.tests[step.index].outcomes
                                                      : std::vector<std::string>{"cured", "still_there"};
    return Positions("outcome", outcomes).of(name, "outcome");
  }

  const TroubleshootingProblem& problem_;
  Positions tests_, repairs_, set_ups_, hypotheses_;
};

void check_branches(const PolicyTree& policy_tree) {
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    for (const PolicyBranch& branch : policy_tree.nodes[i].branches) {
      if (branch.node > i && branch.node < policy_tree.nodes.size()) continue;
      throw ArgumentError("nodes[" + std::to_string(i) + "].branches", "node " + std::to_string(branch.node),
                          "branches lead to nodes further on, of which there are " +
                              std::to_string(policy_tree.nodes.size()) + " in all",
                          ErrorCode::index_out_of_range);
    }
  }
}

}  // namespace

HeldProblem problem_from(py::handle given) {
  const bool of_case = py::isinstance(given, record_type("CaseProblem"));
  const py::object record = of_case ? py::object(given.attr("problem")) : py::reinterpret_borrow<py::object>(given);
  require_kind(record, "TroubleshootingProblem", "problem");
  HeldProblem held{{}, record, of_case ? py::object(given.attr("texts")) : py::none()};
  TroubleshootingProblem& problem = held.problem;
  problem.hypotheses = names_of(record.attr("hypotheses"), "hypotheses");
  problem.weights = numbers_of(record.attr("weights"), "weights");
  const Positions hypotheses("hypothesis", problem.hypotheses);
  const Positions set_ups("set_up", names_of_all(record.attr("set_ups")));
  for (const py::handle one : record.attr("set_ups")) problem.set_ups.push_back(set_up_from(set_ups, one));
  for (const py::handle one : record.attr("tests")) problem.tests.push_back(test_from(set_ups, one));
  for (const py::handle one : record.attr("repairs")) {
    problem.repairs.push_back(repair_from(set_ups, hypotheses, problem.hypotheses.size(), one));
  }
  problem.hand_over = number_or_nothing(record.attr("hand_over"), "hand_over");
  problem.live_with = number_or_nothing(record.attr("live_with"), "live_with");
  problem.comeback = number_or_nothing(record.attr("comeback"), "comeback");
  problem.repair_elsewhere = numbers_of(record.attr("repair_elsewhere"), "repair_elsewhere");
  validate(problem);
  const PolicyTreeReader unique_names(problem);
  return held;
}

py::object problem_record(const TroubleshootingProblem& problem) {
  const py::object set_up_kind = record_type("SetUp");
  py::list set_ups;
  for (const SetUp& one : problem.set_ups) {
    set_ups.append(set_up_kind(one.name, one.cost, names_at(problem.set_ups, one.needs), one.group, one.in_place));
  }
  py::list tests;
  for (const TestAction& test : problem.tests) tests.append(test_record(problem, test));
  py::list repairs;
  for (const RepairAction& repair : problem.repairs) repairs.append(repair_record(problem, repair));
  return record_type("TroubleshootingProblem")(
      as_tuple(problem.hypotheses), numbers_tuple(problem.weights, 0, problem.weights.size()), py::tuple(tests),
      py::tuple(repairs), py::tuple(set_ups), or_none(problem.hand_over), or_none(problem.live_with),
      or_none(problem.comeback), numbers_tuple(problem.repair_elsewhere, 0, problem.repair_elsewhere.size()));
}

Situation situation_from(const TroubleshootingProblem& problem, py::handle record) {
  require_kind(record, "Situation", "situation");
  Situation situation;
  situation.belief = numbers_of(record.attr("belief"), "belief");
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
                            " hypotheses and one for \"cured already\", of sum 1",
                        ErrorCode::wrong_size);
  }
  situation.tests_done = Positions("test", names_in(problem.tests)).marked(record.attr("tests_done"), "tests_done");
  situation.repairs_done =
      Positions("repair", names_in(problem.repairs)).marked(record.attr("repairs_done"), "repairs_done");
  situation.in_place = Positions("set_up", names_in(problem.set_ups)).marked(record.attr("in_place"), "in_place");
  return situation;
}

py::object situation_record(const TroubleshootingProblem& problem, const Situation& situation) {
  return record_type("Situation")(numbers_tuple(situation.belief, 0, situation.belief.size()),
                                  marked_names(names_in(problem.tests), situation.tests_done),
                                  marked_names(names_in(problem.repairs), situation.repairs_done),
                                  marked_names(names_in(problem.set_ups), situation.in_place));
}

Step step_from(const TroubleshootingProblem& problem, py::handle record) {
  require_kind(record, "Step", "step");
  return PolicyTreeReader(problem).step(record);
}

py::object step_record(const TroubleshootingProblem& problem, const Step& step) {
  return record_type("Step")(kind_text(step.kind), step_name(problem, step));
}

const char* kind_text(StepKind kind) {
  const auto* const at =
      std::find_if(step_kinds.begin(), step_kinds.end(), [kind](const auto& one) { return one.first == kind; });
  return at->second;
}

std::string step_name(const TroubleshootingProblem& problem, const Step& step) {
  if (step.kind == StepKind::test) return problem.tests.at(step.index).name;
  if (step.kind == StepKind::repair) return problem.repairs.at(step.index).name;
  return {};
}

std::string step_label(const TroubleshootingProblem& problem, const FlowChartTexts& texts, const Step& step) {
  switch (step.kind) {
    case StepKind::test:
      return texts.tests.empty() ? step_name(problem, step) : texts.tests.at(step.index).label;
    case StepKind::repair:
      return texts.repairs.empty() ? step_name(problem, step) : texts.repairs.at(step.index).label;
    case StepKind::hand_over:
      return texts.hand_over.label;
    case StepKind::live_with:
      return texts.live_with.label;
    case StepKind::done:
      return "Done";
    case StepKind::ask_again:
      break;
  }
  return "Ask again";
}

std::string outcome_name(const TroubleshootingProblem& problem, const Step& step, std::size_t outcome) {
  if (step.kind == StepKind::test) return problem.tests.at(step.index).outcomes.at(outcome);
  return outcome == 0 ? "cured" : "still_there";
}

PolicyTree policy_tree_from(const TroubleshootingProblem& problem, py::handle record) {
  require_kind(record, "PolicyTree", "policy_tree");
  const PolicyTreeReader reader(problem);
  PolicyTree policy_tree;
  for (const py::handle node : record.attr("nodes")) policy_tree.nodes.push_back(reader.node(node));
  check_branches(policy_tree);
  return policy_tree;
}

py::object policy_tree_record(const HeldProblem& held, const PolicyTree& policy_tree) {
  const TroubleshootingProblem& problem = held.problem;
  const FlowChartTexts texts = held.texts.is_none() ? flow_chart_texts(problem) : texts_from(held.texts);
  const py::object node_kind = record_type("PolicyNode");
  const py::object branch_kind = record_type("PolicyBranch");
  const py::object leading_kind = record_type("LeadingHypothesis");
  py::list nodes;
  for (const PolicyNode& node : policy_tree.nodes) {
    py::list branches;
    for (const PolicyBranch& branch : node.branches) {
      branches.append(branch_kind(outcome_name(problem, node.step, branch.outcome), branch.probability, branch.node));
    }
    py::list leading;
    for (const LeadingHypothesis& one : node.leading) {
      leading.append(leading_kind(problem.hypotheses[one.hypothesis], one.probability));
    }
    nodes.append(node_kind(kind_text(node.step.kind), step_name(problem, node.step),
                           step_label(problem, texts, node.step), names_at(problem.set_ups, node.set_ups),
                           node.step_cost, node.expected_cost, node.lower_bound, node.probability, py::tuple(branches),
                           py::tuple(leading), node.probability_cured));
  }
  return record_type("PolicyTree")(as_records(nodes), held.record, held.texts);
}

std::size_t repair_of(const FaultModel& model, py::handle name, const char* argument) {
  return Positions("repair", names_in(model.parts().repairs)).of(name, argument);
}

}  // namespace faultodds::python

// The names that Python has where C++ has indices.
// SPDX-License-Identifier: BSD-3-Clause
#include "names.hpp"

#include <cmath>
#include <utility>

#include "faultodds/decision/work/cost.hpp"
#include "generated/records.hpp"

namespace faultodds::python {

namespace {

template <class Named>
std::vector<std::string> names_in(const std::vector<Named>& all) {
  std::vector<std::string> names;
  for (const Named& one : all) names.push_back(one.name);
  return names;
}

std::vector<std::string> names_in_records(py::handle records) {
  std::vector<std::string> names;
  for (const py::handle record : records) names.push_back(name_of(record.attr("name"), "name"));
  return names;
}

}  // namespace

Positions::Positions(std::string kind, std::vector<std::string> names)
    : kind_(std::move(kind)), names_(std::move(names)) {
  for (std::size_t i = 0; i < names_.size(); ++i) {
    if (positions_.emplace(names_[i], i).second) continue;
    throw ArgumentError(kind_ + "s", "the name \"" + names_[i] + "\" stands twice", "give each its own name");
  }
}

std::size_t Positions::of(py::handle name, const char* argument) const {
  const std::string text = name_of(name, argument);
  const auto at = positions_.find(text);
  if (at == positions_.end()) throw UnknownName(kind_, text, nearest_names(text, names_), {}, names_);
  return at->second;
}

ProblemPositions::ProblemPositions(const TroubleshootingProblem& problem)
    : hypotheses("hypothesis", problem.hypotheses),
      set_ups("set_up", names_in(problem.set_ups)),
      tests("test", names_in(problem.tests)),
      repairs("repair", names_in(problem.repairs)) {}

ProblemPositions::ProblemPositions(py::handle record)
    : hypotheses("hypothesis", names_of(record.attr("hypotheses"), "hypotheses")),
      set_ups("set_up", names_in_records(record.attr("set_ups"))),
      tests("test", names_in_records(record.attr("tests"))),
      repairs("repair", names_in_records(record.attr("repairs"))) {}

Names Names::about(std::size_t variable) const {
  Names within = *this;
  within.variable_ = variable;
  return within;
}

Names Names::about(const TroubleshootingProblem& problem) const {
  Names within = *this;
  within.problem_ = &problem;
  return within;
}

Names Names::at(const Step& step) const {
  Names after = *this;
  after.step_ = step;
  return after;
}

Names Names::opening(const std::vector<std::string>& opens, const std::vector<std::string>& brings) const {
  Names within = *this;
  within.opens_ = &opens;
  within.brings_ = &brings;
  return within;
}

Names Names::reading() const {
  Names ready = *this;
  ready.positions_ = std::make_shared<const ProblemPositions>(*problem_);
  return ready;
}

Names Names::reading(py::handle problem_record) const {
  Names ready = *this;
  ready.positions_ = std::make_shared<const ProblemPositions>(problem_record);
  return ready;
}

const std::string& Names::name(Kind kind, std::size_t index) const {
  switch (kind) {
    case Kind::hypothesis:
      return problem_->hypotheses.at(index);
    case Kind::set_up:
      return problem_->set_ups.at(index).name;
    case Kind::test:
      return problem_->tests.at(index).name;
    case Kind::repair:
      return problem_->repairs.at(index).name;
    case Kind::model_repair:
      return model_->parts().repairs.at(index).name;
    case Kind::hand_over:
      break;
  }
  return model_->parts().hand_overs.at(index).name;
}

std::size_t Names::count(Kind kind) const {
  switch (kind) {
    case Kind::hypothesis:
      return positions_ ? positions_->hypotheses.names().size() : problem_->hypotheses.size();
    case Kind::set_up:
      return positions_ ? positions_->set_ups.names().size() : problem_->set_ups.size();
    case Kind::test:
      return positions_ ? positions_->tests.names().size() : problem_->tests.size();
    case Kind::repair:
      return positions_ ? positions_->repairs.names().size() : problem_->repairs.size();
    case Kind::model_repair:
      return model_->parts().repairs.size();
    case Kind::hand_over:
      break;
  }
  return model_->parts().hand_overs.size();
}

std::size_t Names::position(Kind kind, py::handle name, const char* argument) const {
  switch (kind) {
    case Kind::hypothesis:
      return positions_->hypotheses.of(name, argument);
    case Kind::set_up:
      return positions_->set_ups.of(name, argument);
    case Kind::test:
      return positions_->tests.of(name, argument);
    case Kind::repair:
      return positions_->repairs.of(name, argument);
    case Kind::model_repair:
      return Positions("repair", names_in(model_->parts().repairs)).of(name, argument);
    case Kind::hand_over:
      break;
  }
  return Positions("hand-over", names_in(model_->parts().hand_overs)).of(name, argument);
}

std::string Names::label(const Step& step) const {
  switch (step.kind) {
    case StepKind::test:
      return texts_ == nullptr || texts_->tests.empty() ? step_name(*problem_, step)
                                                        : texts_->tests.at(step.index).label;
    case StepKind::repair:
      return texts_ == nullptr || texts_->repairs.empty() ? step_name(*problem_, step)
                                                          : texts_->repairs.at(step.index).label;
    case StepKind::hand_over:
      return texts_ == nullptr ? FlowChartTexts().hand_over.label : texts_->hand_over.label;
    case StepKind::live_with:
      return texts_ == nullptr ? FlowChartTexts().live_with.label : texts_->live_with.label;
    case StepKind::done:
      return "Done";
    case StepKind::ask_again:
      break;
  }
  return "Ask again";
}

std::string Names::outcome(std::size_t index) const {
  if (step_.kind == StepKind::test) return problem_->tests.at(step_.index).outcomes.at(index);
  return index == 0 ? "cured" : "still_there";
}

std::size_t Names::outcome_position(py::handle name) const {
  const auto outcomes = step_.kind == StepKind::test ? problem_->tests.at(step_.index).outcomes
                                                     : std::vector<std::string>{"cured", "still_there"};
  return Positions("outcome", outcomes).of(name, "outcome");
}

std::string step_name(const TroubleshootingProblem& problem, const Step& step) {
  if (step.kind == StepKind::test) return problem.tests.at(step.index).name;
  if (step.kind == StepKind::repair) return problem.repairs.at(step.index).name;
  return {};
}

py::object variable_name(const Names& in, VariableIndex variable) {
  return py::str(in.model().variable(variable).name);
}

py::object variable_name(const Names& in, const std::optional<VariableIndex>& variable) {
  return variable ? variable_name(in, *variable) : py::none();
}

py::object variable_name(const Names& in, const std::vector<VariableIndex>& variables) {
  return names_as_tuple(in.model(), variables);
}

py::object variable_label(const Names& in, VariableIndex variable) {
  return py::str(shown(in.model().variable(variable)));
}

py::object variable_label(const Names& in, const std::optional<VariableIndex>& variable) {
  return variable ? variable_label(in, *variable) : py::none();
}

py::object state_name(const Names& in, VariableIndex variable, StateIndex state) {
  return py::str(in.model().variable(variable).states.at(state).name);
}

py::object state_name(const Names& in, VariableIndex variable, const std::vector<StateIndex>& states) {
  py::tuple names(states.size());
  for (std::size_t i = 0; i < states.size(); ++i) names[i] = state_name(in, variable, states[i]);
  return names;
}

py::object state_label(const Names& in, VariableIndex variable, StateIndex state) {
  return py::str(shown(in.model().variable(variable).states.at(state)));
}

py::object name_at(const Names& in, Kind kind, std::size_t index) { return py::str(in.name(kind, index)); }

py::object marked_names(const Names& in, Kind kind, const std::vector<bool>& marks) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < in.count(kind); ++i) {
    if (marks.at(i)) names.push_back(in.name(kind, i));
  }
  return as_tuple(names);
}

void read_variable(const Names& in, py::handle name, const char* argument, VariableIndex& into) {
  into = in.model().index_of(name_of(name, argument));
}

void read_variable(const Names& in, py::handle names, const char* argument, std::vector<VariableIndex>& into) {
  into = variables_of(in.model(), names, argument);
}

void read_state(const Names& in, VariableIndex variable, py::handle name, const char* argument, StateIndex& into) {
  into = in.model().state_of(variable, name_of(name, argument));
}

void read_state(const Names& in, VariableIndex variable, py::handle names, const char* argument,
                std::vector<StateIndex>& into) {
  into.clear();
  for (const std::string& name : names_of(names, argument)) into.push_back(in.model().state_of(variable, name));
}

void read_marks(const Names& in, Kind kind, py::handle names, const char* argument, std::vector<bool>& into) {
  into.assign(in.count(kind), false);
  for (const std::string& name : names_of(names, argument)) into[in.position(kind, py::str(name), argument)] = true;
}

py::tuple parents_of(const Names& in) { return names_as_tuple(in.model(), in.model().parents(in.variable())); }

py::str procedure_of(const Names& in, const std::optional<VariableIndex>& test) {
  return test ? as_test(in.model().variable(*test)).procedure : std::string();
}

py::tuple cautions_of(const Names& in, const std::optional<VariableIndex>& test, const std::vector<std::string>& opens,
                      const std::vector<std::string>& brings) {
  py::list cautions;
  if (!test) return py::tuple(cautions);
  WorkCost cost;
  cost.opens = opens;
  cost.brings = brings;
  for (const std::string& name : faultodds::cautions_of(in.model(), as_test(in.model().variable(*test)).work, cost)) {
    for (const Term& caution : in.model().parts().cautions) {
      if (caution.name == name) cautions.append(to_python(in, caution));
    }
  }
  return py::tuple(cautions);
}

std::optional<double> nothing_for_nan(double number) {
  return std::isnan(number) ? std::nullopt : std::optional(number);
}

py::tuple outcome_rows(const TestAction& test) {
  const std::size_t width = test.outcomes.size();
  py::tuple rows(test.table.size() / width);
  for (std::size_t row = 0; row < rows.size(); ++row) {
    py::tuple numbers(width);
    for (std::size_t i = 0; i < width; ++i) numbers[i] = test.table[row * width + i];
    rows[row] = numbers;
  }
  return rows;
}

void read_outcome_rows(py::handle record, TestAction& into) {
  const Positions unique_names("outcome", into.outcomes);
  into.table.clear();
  for (const py::handle row : record.attr("table")) {
    std::size_t size = 0;
    for (const py::handle number : row) {
      into.table.push_back(number_of(number, "table"));
      ++size;
    }
    if (size != into.outcomes.size()) {
      throw ArgumentError("tests[\"" + into.name + "\"].table", "a row of " + std::to_string(size),
                          "give a number for each of the " + std::to_string(into.outcomes.size()) + " outcomes");
    }
  }
}

py::dict what_becomes(const Names& in, const RepairAction& repair) {
  py::dict becomes;
  for (std::size_t h = 0; h < repair.becomes.size(); ++h) {
    if (repair.becomes[h] == RepairAction::cured || repair.success[h] <= 0.0) continue;
    becomes[py::str(in.name(Kind::hypothesis, h))] = in.name(Kind::hypothesis, repair.becomes[h]);
  }
  return becomes;
}

void read_what_becomes(const Names& in, py::handle record, RepairAction& into) {
  const py::dict becomes(record.attr("becomes"));
  into.becomes.clear();
  if (!becomes.empty()) into.becomes.assign(in.count(Kind::hypothesis), RepairAction::cured);
  for (const auto& [from, to] : becomes) {
    into.becomes[in.position(Kind::hypothesis, from, "becomes")] = in.position(Kind::hypothesis, to, "becomes");
  }
}

void read_step_index(const Names& in, py::handle record, Step& into) {
  into.index = 0;
  if (into.kind == StepKind::test) into.index = in.position(Kind::test, record.attr("name"), "name");
  if (into.kind == StepKind::repair) into.index = in.position(Kind::repair, record.attr("name"), "name");
}

}  // namespace faultodds::python

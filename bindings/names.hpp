// The names that Python has where C++ has indices, both ways.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "bindings.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds::python {

/// Lists whose entries have names: those of a planning problem, and two of a model.
enum class Kind { hypothesis, set_up, test, repair, model_repair, hand_over };

/// The position of each name of a list.
class Positions {
 public:
  /// Throws ArgumentError if a name is there twice, for the two could not be told apart.
  Positions(std::string kind, std::vector<std::string> names);

  /// Throws UnknownName.
  [[nodiscard]] std::size_t of(py::handle name, const char* argument) const;
  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

 private:
  std::string kind_;
  std::vector<std::string> names_;
  std::map<std::string, std::size_t> positions_;
};

/// The positions of all names of a planning problem.
struct ProblemPositions {
  Positions hypotheses, set_ups, tests, repairs;

  explicit ProblemPositions(const TroubleshootingProblem& problem);
  /// Of a record TroubleshootingProblem.
  explicit ProblemPositions(py::handle record);
};

/// What a record's indices refer to: a model, a planning problem, or both; and the record around it.
class Names {
 public:
  Names() = default;
  explicit Names(const FaultModel& model) : model_(&model) {}
  explicit Names(const TroubleshootingProblem& problem, const FlowChartTexts* texts = nullptr)
      : problem_(&problem), texts_(texts) {}

  /// The same within a record about this variable.
  [[nodiscard]] Names about(std::size_t variable) const;
  /// The same within a planning problem.
  [[nodiscard]] Names about(const TroubleshootingProblem& problem) const;
  /// The same after this step, whose outcomes branches name.
  [[nodiscard]] Names at(const Step& step) const;
  /// The same within a batch of tests that open and bring about this.
  [[nodiscard]] Names opening(const std::vector<std::string>& opens, const std::vector<std::string>& brings) const;
  /// The same for reading records, with the positions of all names of the problem.
  [[nodiscard]] Names reading() const;
  [[nodiscard]] Names reading(py::handle problem_record) const;

  [[nodiscard]] const FaultModel& model() const { return *model_; }
  [[nodiscard]] const TroubleshootingProblem& problem() const { return *problem_; }
  [[nodiscard]] std::size_t variable() const { return variable_; }
  [[nodiscard]] const std::vector<std::string>& opens() const { return *opens_; }
  [[nodiscard]] const std::vector<std::string>& brings() const { return *brings_; }

  [[nodiscard]] const std::string& name(Kind kind, std::size_t index) const;
  [[nodiscard]] std::size_t count(Kind kind) const;
  [[nodiscard]] std::size_t position(Kind kind, py::handle name, const char* argument) const;
  /// What people read of a step: its text, otherwise its name.
  [[nodiscard]] std::string label(const Step& step) const;
  /// An outcome of the step that these names are at.
  [[nodiscard]] std::string outcome(std::size_t index) const;
  [[nodiscard]] std::size_t outcome_position(py::handle name) const;

 private:
  const FaultModel* model_ = nullptr;
  const TroubleshootingProblem* problem_ = nullptr;
  const FlowChartTexts* texts_ = nullptr;
  const std::vector<std::string>* opens_ = nullptr;
  const std::vector<std::string>* brings_ = nullptr;
  std::shared_ptr<const ProblemPositions> positions_;
  std::size_t variable_ = 0;
  Step step_{};
};

/// The name of the test or repair of a step; empty for the others.
[[nodiscard]] std::string step_name(const TroubleshootingProblem& problem, const Step& step);

// Names of variables and states, and labels beside them.
[[nodiscard]] py::object variable_name(const Names& in, VariableIndex variable);
[[nodiscard]] py::object variable_name(const Names& in, const std::optional<VariableIndex>& variable);
[[nodiscard]] py::object variable_name(const Names& in, const std::vector<VariableIndex>& variables);
[[nodiscard]] py::object variable_label(const Names& in, VariableIndex variable);
[[nodiscard]] py::object variable_label(const Names& in, const std::optional<VariableIndex>& variable);
[[nodiscard]] py::object state_name(const Names& in, VariableIndex variable, StateIndex state);
[[nodiscard]] py::object state_name(const Names& in, VariableIndex variable, const std::vector<StateIndex>& states);
[[nodiscard]] py::object state_label(const Names& in, VariableIndex variable, StateIndex state);
// Names in other lists.
[[nodiscard]] py::object name_at(const Names& in, Kind kind, std::size_t index);
template <class Place>
[[nodiscard]] py::object name_at(const Names& in, Kind kind, const std::optional<Place>& index) {
  return index ? name_at(in, kind, std::size_t{*index}) : py::none();
}
template <class Place>
[[nodiscard]] py::object name_at(const Names& in, Kind kind, const std::vector<Place>& indices) {
  py::tuple names(indices.size());
  for (std::size_t i = 0; i < indices.size(); ++i) names[i] = name_at(in, kind, std::size_t{indices[i]});
  return names;
}
[[nodiscard]] py::object marked_names(const Names& in, Kind kind, const std::vector<bool>& marks);

// The same from Python. Each throws UnknownName, and TypeError for what is no name.
void read_variable(const Names& in, py::handle name, const char* argument, VariableIndex& into);
void read_variable(const Names& in, py::handle names, const char* argument, std::vector<VariableIndex>& into);
void read_state(const Names& in, VariableIndex variable, py::handle name, const char* argument, StateIndex& into);
void read_state(const Names& in, VariableIndex variable, py::handle names, const char* argument,
                std::vector<StateIndex>& into);
template <class Place>
void read_name(const Names& in, Kind kind, py::handle name, const char* argument, Place& into) {
  into = in.position(kind, name, argument);
}
template <class Place>
void read_name(const Names& in, Kind kind, py::handle names, const char* argument, std::vector<Place>& into) {
  into.clear();
  for (const std::string& name : names_of(names, argument)) into.push_back(in.position(kind, py::str(name), argument));
}
void read_marks(const Names& in, Kind kind, py::handle names, const char* argument, std::vector<bool>& into);

// Members that are converted by functions of their own.
[[nodiscard]] py::tuple parents_of(const Names& in);
[[nodiscard]] py::str procedure_of(const Names& in, const std::optional<VariableIndex>& test);
/// The cautions of a test, of the opening work and of the conditions it needs, each once, its own last.
[[nodiscard]] py::tuple cautions_of(const Names& in, const std::optional<VariableIndex>& test,
                                    const std::vector<std::string>& opens, const std::vector<std::string>& brings);
[[nodiscard]] std::optional<double> nothing_for_nan(double number);
[[nodiscard]] py::tuple outcome_rows(const TestAction& test);
void read_outcome_rows(py::handle record, TestAction& into);
[[nodiscard]] py::dict what_becomes(const Names& in, const RepairAction& repair);
void read_what_becomes(const Names& in, py::handle record, RepairAction& into);
void read_step_index(const Names& in, py::handle record, Step& into);
template <class Branch>
void read_outcome(const Names& in, py::handle record, Branch& into) {
  into.outcome = in.outcome_position(record.attr("outcome"));
}

}  // namespace faultodds::python

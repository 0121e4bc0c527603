// Names, states and rows of probabilities in a JSON model. Part of model_json_read.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <optional>
#include <string>
#include <tuple>
#include <unordered_map>
#include <utility>
#include <vector>

#include "faultodds/io/json_fields.hpp"
#include "faultodds/io/network_tables.hpp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

/// "a, b, c".
[[nodiscard]] inline std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

/// What all readers of tables look up and add to.
struct TableContext {
  const std::vector<Variable>& variables;  ///< with their names and states
  const std::unordered_map<std::string, std::size_t>& index;
  const std::vector<std::string>& unreadable;  ///< variables whose states could not be read
  bool names_are_all;                          ///< false: a list of the file has an unknown name, and was not read
  RowScaling policy;
  std::vector<Problem>& problems;
};

/// A problem that only follows from another one, which is reported: it stops the table, and is dropped in the end.
[[nodiscard]] inline bool is_consequence(const Problem& problem) { return problem.found.empty(); }

/// Reads what tables are made of. Names and states of all variables are known already.
class RowReader {
 public:
  explicit RowReader(const TableContext& context)
      : variables_(context.variables),
        index_(context.index),
        unreadable_(context.unreadable),
        names_are_all_(context.names_are_all),
        policy_(context.policy),
        problems_(context.problems) {}

  /// Index of the variable that has a name.
  [[nodiscard]] std::optional<std::size_t> variable_at(const JsonAt& at) {
    const auto name = name_at(at, problems_);
    return name ? variable_named(*name, at.path) : std::nullopt;
  }

  /// States of a variable: one name or a list of them.
  [[nodiscard]] std::vector<StateIndex> states_at(const JsonAt& at, VariableIndex variable) {
    std::vector<StateIndex> states;
    if (at.value->is_string()) {
      if (const auto state = state_at(at, variable)) states.push_back(*state);
      return states;
    }
    if (!at.value->is_array() || at.value->empty()) {
      add_problem(problems_, at.path, at.value->is_array() ? "it is an empty list" : "it is " + kind_text(*at.value),
                  "it must be a state of " + quoted(variables_[variable].name) + ", or a list of them");
      return states;
    }
    for (const JsonAt& element : JsonFields::elements_of(at, problems_)) {
      const auto state = state_at(element, variable);
      if (!state) continue;
      if (std::find(states.begin(), states.end(), *state) != states.end()) {
        add_problem(problems_, element.path, "the state " + element.value->dump() + " is listed twice",
                    "list each state once");
      }
      states.push_back(*state);
    }
    return states;
  }

  /// States of several variables, by their names.
  [[nodiscard]] std::vector<Gate> gates_at(const JsonAt& at) {
    std::vector<Gate> gates;
    const JsonFields fields(at, problems_);
    if (!fields.is_object()) return gates;
    for (const auto& [name, member] : at.value->items()) {
      const JsonAt entry{&member, json_path(at.path, name)};
      const auto variable = variable_named(name, entry.path);
      if (variable) gates.push_back({*variable, states_at(entry, *variable)});
    }
    return gates;
  }

  [[nodiscard]] std::optional<std::size_t> variable_named(const std::string& name, const std::string& path) {
    const auto found = index_.find(name);
    if (found != index_.end()) return found->second;
    if (!names_are_all_) {
      add_problem(problems_, path, "", "");
      return std::nullopt;
    }
    add_problem(problems_, path, "no variable is named " + quoted(name),
                nearest_remedy(name, variable_names(variables_), "name a variable of the model"));
    return std::nullopt;
  }

  [[nodiscard]] std::optional<std::size_t> fault_state_named(const std::string& name, VariableIndex variable,
                                                             const std::string& path) {
    const auto state = state_named(name, variables_[variable], path);
    if (!state || *state > 0) return state;
    add_problem(
        problems_, path,
        quoted(name) + " is the first state of " + quoted(variables_[variable].name) + ", the sound or absent one",
        "only the other states have effects; leave it out");
    return std::nullopt;
  }

  [[nodiscard]] std::optional<double> probability_at(const JsonAt& at) {
    const auto value = number_at(at, problems_);
    if (!value || (*value >= 0.0 && *value <= 1.0)) return value;
    add_problem(problems_, at.path, "it is " + shortest_form(*value), "probabilities lie between 0 and 1");
    return std::nullopt;
  }

  /// A row of probabilities over the states of `owner`, written like a prior.
  [[nodiscard]] std::vector<double> row_at(const JsonAt& at, const Variable& owner) {
    const std::size_t before = problems_.size();
    std::vector<double> row(owner.states.size(), 0.0);
    if (at.value->is_number()) {
      read_single(at, owner, row);
    } else if (at.value->is_object()) {
      read_named(at, owner, row);
    } else if (at.value->is_array()) {
      read_listed(at, owner, row);
    } else {
      wrong_type(at, "a probability, probabilities by state, or a list of all of them", problems_);
    }
    if (problems_.size() == before) check_row(row, at.path, "the row");
    return row;
  }

  /// Adds what is wrong with the numbers of a row, which messages call `what`.
  void check_row(std::span<const double> row, const std::string& path, const std::string& what) {
    if (auto problem = row_problem(row, policy_, path, what)) problems_.push_back(std::move(*problem));
  }

  /// Fills `row` with the numbers of a list from `first` on; false if some of them are none.
  bool read_numbers(const JsonAt& list, std::size_t first, std::span<double> row) {
    const std::size_t before = problems_.size();
    for (std::size_t s = 0; s < row.size(); ++s) {
      const Json& element = (*list.value)[first + s];
      // The row check says more about entries out of range, and costs no path for each number.
      if (element.is_number()) {
        row[s] = element.get<double>();
      } else {
        wrong_type(list.element(first + s), "a number", problems_);
      }
    }
    return problems_.size() == before;
  }

 private:
  [[nodiscard]] std::optional<std::size_t> state_named(const std::string& name, const Variable& variable,
                                                       const std::string& path) {
    const std::vector<State>& states = variable.states;
    for (std::size_t s = 0; s < states.size(); ++s) {
      if (states[s].name == name) return s;
    }
    if (std::ranges::count(unreadable_, variable.name) > 0) {
      add_problem(problems_, path, "", "");
      return std::nullopt;
    }
    const std::vector<std::string> known = state_names(variable);
    add_problem(problems_, path, quoted(variable.name) + " has no state " + quoted(name),
                nearest_remedy(name, known, "its states are " + listed(known)));
    return std::nullopt;
  }

  [[nodiscard]] std::optional<std::size_t> state_at(const JsonAt& at, VariableIndex variable) {
    const auto name = name_at(at, problems_);
    return name ? state_named(*name, variables_[variable], at.path) : std::nullopt;
  }

  void read_single(const JsonAt& at, const Variable& owner, std::vector<double>& row) {
    if (row.size() != 2) {
      add_problem(problems_, at.path,
                  "it is one number, but " + quoted(owner.name) + " has " + counted(row.size(), "state"),
                  "give the probabilities by state, such as {\"" + owner.states.back().name + "\": 0.02}");
    } else if (const auto value = probability_at(at)) {
      row[1] = *value;
      row[0] = 1.0 - *value;
    }
  }

  void read_named(const JsonAt& at, const Variable& owner, std::vector<double>& row) {
    bool first_named = false;
    for (const auto& [name, member] : at.value->items()) {
      const JsonAt entry{&member, json_path(at.path, name)};
      const auto state = state_named(name, owner, entry.path);
      const auto value = probability_at(entry);
      if (!state || !value) continue;
      row[*state] = *value;
      first_named = first_named || *state == 0;
    }
    if (first_named || row.empty()) return;
    const std::span<const double> others(row.begin() + 1, row.end());
    const double rest = rest_of(others);
    if (rest < -row_allowance(others)) {
      add_problem(problems_, at.path, "the probabilities sum to " + rounded_form(row_sum(others)),
                  "they may not exceed 1; " + quoted(owner.states.front().name) + " takes what is left");
    }
    row[0] = std::max(0.0, rest);
  }

  void read_listed(const JsonAt& at, const Variable& owner, std::vector<double>& row) {
    if (at.value->size() != row.size()) {
      add_problem(problems_, at.path, "it lists " + counted(at.value->size(), "number"),
                  quoted(owner.name) + " has " + counted(row.size(), "state") + ": " + listed(state_names(owner)));
      return;
    }
    std::ignore = read_numbers(at, 0, row);
  }

  const std::vector<Variable>& variables_;
  const std::unordered_map<std::string, std::size_t>& index_;
  const std::vector<std::string>& unreadable_;
  bool names_are_all_;
  RowScaling policy_;
  std::vector<Problem>& problems_;
};

}  // namespace faultodds::detail

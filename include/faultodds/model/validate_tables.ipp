// Checks of the probability tables of a model. Part of validate.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <type_traits>
#include <unordered_set>
#include <vector>

#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

[[nodiscard]] inline std::optional<Problem> row_problem(std::span<const double> row, RowScaling policy,
                                                        const std::string& place, const std::string& what) {
  switch (row_state(row)) {
    case RowState::exact:
    case RowState::rounded:
      return std::nullopt;
    case RowState::bad_entry:
      for (const double value : row) {
        if (!(value >= 0.0) || value > 1.0) {
          return Problem{place, what + " holds " + shortest_form(value), "probabilities lie between 0 and 1"};
        }
      }
      return std::nullopt;
    case RowState::all_zero:
      return Problem{place, what + (row.empty() ? " is empty" : " is all zero"), "its probabilities must sum to 1"};
    case RowState::wrong_sum:
      if (policy.normalise) return std::nullopt;
      return Problem{place, what + " sums to " + rounded_form(row_sum(row)),
                     "it must sum to 1 within the rounding of its digits (" + rounded_form(row_allowance(row)) + ')'};
  }
  return std::nullopt;
}

/// Checks the distribution of one variable. Other variables are referred to by index; nothing is assumed
/// of them.
class TableCheck {
 public:
  TableCheck(const ModelParts& parts, VariableIndex variable, RowScaling policy, const std::string& place,
             std::vector<Problem>& problems)
      : parts_(parts), variable_(variable), policy_(policy), place_(place), problems_(problems) {}

  void run() {
    std::visit([this](const auto& distribution) { check(distribution); }, own().distribution);
  }

 private:
  [[nodiscard]] const Variable& own() const { return parts_.variables[variable_]; }
  [[nodiscard]] std::size_t own_states() const { return own().states.size(); }
  [[nodiscard]] const Variable& other(std::size_t v) const { return parts_.variables[v]; }

  void add(std::string_view found, std::string_view remedy) { add_problem(problems_, place_, found, remedy); }

  /// Whether `v` may be a parent.
  bool is_parent(std::size_t v, const std::string& what) {
    if (v >= parts_.variables.size()) {
      add(what + " has the index " + std::to_string(v) + " in a model of " +
              counted(parts_.variables.size(), "variable"),
          "name a variable of the model");
      return false;
    }
    if (v == variable_) {
      add(what + " is " + quoted(own().name) + " itself", "a variable cannot depend on itself");
      return false;
    }
    return true;
  }

  bool gate_is_sound(const Gate& gate, const std::string& what) {
    if (!is_parent(gate.variable, what)) return false;
    const Variable& variable = other(gate.variable);
    bool sound = true;
    if (gate.states.empty()) {
      add(what + " on " + quoted(variable.name) + " names no state", "name at least one state");
      sound = false;
    }
    std::unordered_set<std::size_t> seen;
    for (const StateIndex state : gate.states) {
      if (state >= variable.states.size()) {
        add(what + " has the state index " + std::to_string(state) + ", but " + quoted(variable.name) + " has " +
                counted(variable.states.size(), "state"),
            "state indices run from 0");
        sound = false;
      } else if (!seen.insert(state).second) {
        add(what + " names the state " + quoted(variable.states[state].name) + " twice", "name each state once");
        sound = false;
      }
    }
    return sound;
  }

  void check_row(std::span<const double> row, const std::string& what) {
    if (auto problem = row_problem(row, policy_, place_, what)) problems_.push_back(std::move(*problem));
  }

  void check_probability(double value, const std::string& what) {
    if (!(value >= 0.0 && value <= 1.0)) add(what + " is " + shortest_form(value), "probabilities lie between 0 and 1");
  }

  void check(const FullTable& table) {
    std::unordered_set<std::size_t> seen;
    bool sound = own_states() > 0;
    std::size_t rows = 1;
    for (const VariableIndex parent : table.parents) {
      if (!is_parent(parent, "a parent")) {
        sound = false;
      } else if (!seen.insert(parent).second) {
        add("the parent " + quoted(other(parent).name) + " is given twice", "give each parent once");
        sound = false;
      } else {
        rows = saturating_product(rows, other(parent).states.size());
      }
    }
    if (!sound) return;
    const Table& values = table.rows;
    if (values.rows() != rows || values.columns() != own_states() ||
        values.values().size() != saturating_product(rows, own_states())) {
      add("its table has " + counted(values.rows(), "row") + " of " + counted(values.columns(), "number") + " (" +
              std::to_string(values.values().size()) + " in all)",
          counted(rows, "configuration") + " of its parents and " + counted(own_states(), "state") + " call for " +
              counted(saturating_product(rows, own_states()), "number"));
      return;
    }
    for (std::size_t r = 0; r < rows; ++r) {
      const RowState state = row_state(values.row(r));
      if (state != RowState::exact && state != RowState::rounded) check_row(values.row(r), row_text(table.parents, r));
    }
  }

  /// "the row for distance=high, service=overdue".
  [[nodiscard]] std::string row_text(const std::vector<VariableIndex>& parents, std::size_t row) const {
    if (parents.empty()) return "the prior";
    std::vector<std::string> given(parents.size());
    for (std::size_t i = parents.size(); i-- > 0;) {
      const Variable& parent = other(parents[i]);
      given[i] = parent.name + '=' + parent.states[row % parent.states.size()].name;
      row /= parent.states.size();
    }
    std::string text = "the row for ";
    for (std::size_t i = 0; i < given.size(); ++i) text += (i == 0 ? "" : ", ") + given[i];
    return text;
  }

  void check(const NoisyMax& noisy) {
    if (noisy.leak.size() != own_states()) {
      add("its leak has " + counted(noisy.leak.size(), "number"), "it has " + counted(own_states(), "state"));
    } else {
      check_row(noisy.leak, "the leak");
    }
    for (std::size_t i = 0; i < noisy.links.size(); ++i) check(noisy.links[i], "cause " + std::to_string(i + 1));
    check_repeated_causes(noisy);
  }

  void check(const Link& link, const std::string& position) {
    const bool known = is_parent(link.cause, position);
    const std::string what = known ? "the cause " + quoted(other(link.cause).name) : position;
    std::unordered_set<std::size_t> gated;
    for (const Gate& gate : link.only_when) {
      if (!gate_is_sound(gate, "a condition of " + what)) continue;
      if (gate.variable == link.cause) {
        add(what + " is a condition of itself", "leave the effect out for the states of the cause that have none");
      } else if (!gated.insert(gate.variable).second) {
        add(what + " has two conditions on " + quoted(other(gate.variable).name),
            "list the allowed states in one condition");
      }
    }
    if (!known) return;
    const Variable& cause = other(link.cause);
    const Table& effect = link.effect;
    if (effect.rows() != cause.states.size() || effect.columns() != own_states() ||
        effect.values().size() != saturating_product(cause.states.size(), own_states())) {
      add("the effect of " + what + " is a table of " + counted(effect.rows(), "row") + " and " +
              counted(effect.columns(), "column"),
          "it takes " + counted(cause.states.size(), "row") + " (states of the cause) and " +
              counted(own_states(), "column") + " (states of the effect)");
      return;
    }
    for (std::size_t s = 0; s < effect.rows(); ++s) {
      check_row(effect.row(s), "the effect of " + what + " in the state " + quoted(cause.states[s].name));
    }
    if (effect.rows() > 0 && own_states() > 0 && effect(0, 0) != 1.0) {
      add("the effect of " + what + " in its first state is not absent",
          "the first row must be (1, 0, ...): a sound cause leaves the effect untouched");
    }
  }

  void check_repeated_causes(const NoisyMax& noisy) {
    for (std::size_t i = 0; i < noisy.links.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        const Link& a = noisy.links[i];
        const Link& b = noisy.links[j];
        if (a.cause != b.cause || a.only_when != b.only_when || a.cause >= parts_.variables.size()) continue;
        add("the cause " + quoted(other(a.cause).name) + " is listed twice under the same conditions",
            "list it once, or give the two different conditions");
        break;
      }
    }
  }

  void check(const CountOf& count) {
    if (own_states() != 2) {
      add("it counts inputs but has " + counted(own_states(), "state"), "a count has two states: not reached, reached");
    }
    if (count.at_least < 1 || count.at_least > count.inputs.size()) {
      add("it asks for at least " + std::to_string(count.at_least) + " of " + counted(count.inputs.size(), "input"),
          "the count lies between 1 and the number of inputs");
    }
    std::unordered_set<std::size_t> seen;
    for (const Gate& input : count.inputs) {
      if (gate_is_sound(input, "an input") && !seen.insert(input.variable).second) {
        add("the input " + quoted(other(input.variable).name) + " is listed twice", "list its states in one input");
      }
    }
  }

  void check(const Examination& examination) {
    if (own_states() != 2) {
      add("it examines a component but has " + counted(own_states(), "outcome"), "an examination has two: good, bad");
    }
    check_probability(examination.false_alarm, "the false alarm");
    for (const double value : examination.detection) check_probability(value, "a detection probability");
    if (!is_parent(examination.component, "the component examined")) return;
    const Variable& component = other(examination.component);
    if (examination.detection.size() + 1 != component.states.size()) {
      add("it has " + counted(examination.detection.size(), "detection number") + " for " + quoted(component.name),
          "it takes one for each state but the first, " + std::to_string(component.states.size() - 1));
    }
  }

  void check(const Unweighted&) {
    if (parts_.potentials.empty()) {
      add("it has no probability table, and the model has no potentials",
          "give it a prior or a table; only Markov networks do without");
    }
  }

  const ModelParts& parts_;
  std::size_t variable_;
  RowScaling policy_;
  const std::string& place_;
  std::vector<Problem>& problems_;
};

/// Checks one potential of a Markov network.
inline void check_potential(const ModelParts& parts, const Potential& potential, const std::string& place,
                            std::vector<Problem>& problems) {
  std::unordered_set<std::size_t> seen;
  std::size_t size = 1;
  bool sound = true;
  for (const std::size_t v : potential.scope) {
    if (v >= parts.variables.size()) {
      add_problem(problems, place,
                  "its scope has the index " + std::to_string(v) + " in a model of " +
                      counted(parts.variables.size(), "variable"),
                  "name variables of the model");
      sound = false;
    } else if (!seen.insert(v).second) {
      add_problem(problems, place, "its scope names " + quoted(parts.variables[v].name) + " twice",
                  "name each variable once");
      sound = false;
    } else {
      size = saturating_product(size, parts.variables[v].states.size());
    }
  }
  if (sound && potential.values.size() != size) {
    add_problem(problems, place, "it has " + counted(potential.values.size(), "number"),
                "the states of its scope call for " + std::to_string(size));
  }
  bool any = false;
  for (const double value : potential.values) {
    any = any || value > 0.0;
    if (!(value >= 0.0) || !std::isfinite(value)) {
      add_problem(problems, place, "it holds " + shortest_form(value), "weights are finite and not negative");
      return;
    }
  }
  if (!any) add_problem(problems, place, "it is all zero", "at least one weight must be positive");
}

}  // namespace faultodds::detail

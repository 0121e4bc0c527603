// What the readers and writers of plain networks share: sizes of tables, names of rows, checks of rows.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/io/text_places.hpp"
#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

/// The most that all tables of one file together may take, in bytes.
inline constexpr double max_network_bytes = 2147483648.0;

/// Counts up the tables of one file and refuses them before anything is allocated.
class TableBudget {
 public:
  /// Entries of a table over these numbers of states. Throws TooLarge.
  [[nodiscard]] std::size_t take(const std::string& what, std::span<const std::size_t> sizes) {
    double entries = 1.0;
    std::size_t count = 1;
    for (const std::size_t size : sizes) {
      entries *= static_cast<double>(size);
      count = saturating_product(count, size);
    }
    used_ += entries * sizeof(double);
    if (entries * sizeof(double) > max_network_bytes) {
      throw TooLarge(what, entries * sizeof(double), max_network_bytes, "give it fewer parents or fewer states");
    }
    if (used_ > max_network_bytes) {
      throw TooLarge("the network, up to " + what + ',', used_, max_network_bytes, "split the network");
    }
    return count;
  }

 private:
  double used_ = 0.0;
};

/// "A=off, B=on" for a row of a table whose last parent runs fastest.
[[nodiscard]] inline std::string configuration_text(const std::vector<Variable>& variables,
                                                    std::span<const VariableIndex> parents, std::size_t row) {
  std::vector<std::string_view> states(parents.size());
  for (std::size_t i = parents.size(); i-- > 0;) {
    const std::vector<State>& known = variables[parents[i]].states;
    states[i] = known[row % known.size()].name;
    row /= known.size();
  }
  std::string text;
  for (std::size_t i = 0; i < parents.size(); ++i) {
    text.append(i == 0 ? "" : ", ").append(variables[parents[i]].name).append("=").append(states[i]);
  }
  return text;
}

/// What messages call a row: `the row for A=off of "C"`, or `the prior of "C"`.
[[nodiscard]] inline std::string row_title(const std::vector<Variable>& variables, VariableIndex child,
                                           std::span<const VariableIndex> parents, std::size_t row) {
  const std::string owner = " of " + detail::quoted(variables[child].name);
  if (parents.empty()) return "the prior" + owner;
  return "the row for " + configuration_text(variables, parents, row) + owner;
}

/// Whether a row sums to one, or misses it by rounding only.
[[nodiscard]] inline bool row_is_fine(std::span<const double> row) {
  const RowState state = row_state(row);
  return state == RowState::exact || state == RowState::rounded;
}

/// Adds what is wrong with one row to `problems`.
template <class Title>
void check_row_at(std::span<const double> row, RowScaling policy, std::size_t offset, TextProblems& problems,
                  const Title& title) {
  if (row_is_fine(row)) return;
  if (auto problem = row_problem(row, policy, "", title())) {
    problems.add(offset, std::move(problem->found), std::move(problem->remedy));
  }
}

/// The same for all rows of a table that is at one offset.
inline void check_rows_at(const std::vector<Variable>& variables, VariableIndex child, const FullTable& table,
                          RowScaling policy, std::size_t offset, TextProblems& problems) {
  for (std::size_t r = 0; r < table.rows.rows() && !problems.full(); ++r) {
    check_row_at(table.rows.row(r), policy, offset, problems,
                 [&] { return row_title(variables, child, table.parents, r); });
  }
}

/// "; did you mean ..." as a remedy for a name that is not known.
[[nodiscard]] inline std::string nearest_remedy(std::string_view name, const std::vector<std::string>& known,
                                                const std::string& otherwise) {
  std::string remedy;
  for (const std::string& near : nearest_names(name, known))
    remedy += (remedy.empty() ? "did you mean " : ", ") + detail::quoted(near);
  return remedy.empty() ? otherwise : remedy + '?';
}

[[nodiscard]] inline std::vector<std::string> state_names(const Variable& variable) {
  std::vector<std::string> names;
  names.reserve(variable.states.size());
  for (const State& state : variable.states) names.push_back(state.name);
  return names;
}

[[nodiscard]] inline std::vector<std::string> variable_names(const std::vector<Variable>& variables) {
  std::vector<std::string> names;
  names.reserve(variables.size());
  for (const Variable& variable : variables) names.push_back(variable.name);
  return names;
}

/// Refuses a model with potentials, for formats of conditional tables.
inline void refuse_potentials(const FaultModel& model, const std::string& format) {
  if (model.parts().potentials.empty()) return;
  throw ModelError({Problem{"potentials", "the model is a Markov network: it has potentials",
                            format + " holds conditional tables only; write UAI or JSON"}});
}

/// The cycles among the variables as problems at `offsets`, one offset for each variable.
inline void check_cycles_at(const ModelParts& parts, const std::vector<std::size_t>& offsets, TextProblems& problems) {
  std::vector<std::vector<std::size_t>> children(parts.variables.size());
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    for (const VariableIndex parent : parents_of(parts.variables[v].distribution)) children[parent].push_back(v);
  }
  for (const auto& cycle : find_cycles(children)) {
    problems.add(offsets[cycle.front()], "the tables form a cycle: " + path_text(cycle, parts.variables),
                 "a variable cannot depend on its own effects; remove one of these arrows");
  }
}

}  // namespace faultodds::detail

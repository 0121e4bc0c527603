// ambiguity_groups: which faults look the same. Part of lint.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cstddef>
#include <cstring>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <type_traits>
#include <vector>

#include "faultodds/model/lint.hpp"
#include "faultodds/model/table_row.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds {
namespace detail {

[[nodiscard]] inline bool is_observed(const Variable& variable) {
  return variable.role() == Role::symptom || variable.role() == Role::test;
}

/// For each variable whether it or something below it is a symptom or a test.
[[nodiscard]] inline std::vector<bool> leads_to_observation(const FaultModel& model) {
  std::vector<bool> leads(model.size(), false);
  const std::vector<VariableIndex>& order = model.topological_order();
  for (std::size_t i = order.size(); i-- > 0;) {
    const std::size_t v = order[i];
    const std::vector<VariableIndex>& children = model.children(v);
    leads[v] = is_observed(model.variable(v)) ||
               std::any_of(children.begin(), children.end(), [&](VariableIndex child) { return leads[child]; });
  }
  return leads;
}

/// One row of any conditional table, for the states that `state_of` gives to the parents.
template <class StateOf>
void conditional_row(const FaultModel& model, const Distribution& distribution, std::span<double> row,
                     const StateOf& state_of) {
  std::visit(
      [&](const auto& kind) {
        using Kind = std::decay_t<decltype(kind)>;
        if constexpr (std::is_same_v<Kind, FullTable>) {
          std::size_t index = 0;
          for (const VariableIndex parent : kind.parents) index = index * model.state_count(parent) + state_of(parent);
          std::ranges::copy(kind.rows.row(index), row.begin());
        } else if constexpr (!std::is_same_v<Kind, Unweighted>) {
          fill_row(kind, row, state_of);
        }
      },
      distribution);
}

/// The table of `child` with one component in a given state and all others sound, over its other parents; nothing if
/// that would be too long.
[[nodiscard]] inline std::optional<std::vector<double>> restricted_table(const FaultModel& model, VariableIndex child,
                                                                         FaultState fault) {
  constexpr std::size_t max_rows = 65536;
  std::vector<std::size_t> free, sizes;
  std::size_t rows = 1;
  for (const VariableIndex parent : model.parents(child)) {
    if (model.variable(parent).role() == Role::component) continue;
    free.push_back(parent);
    sizes.push_back(model.state_count(parent));
    rows = saturating_product(rows, sizes.back());
  }
  if (rows > max_rows) return std::nullopt;
  std::vector<StateIndex> states(free.size(), 0);
  const auto state_of = [&](VariableIndex parent) -> std::size_t {
    if (parent == fault.component) return fault.state;
    const auto found = std::find(free.begin(), free.end(), parent);
    return found == free.end() ? StateIndex{} : states[static_cast<std::size_t>(found - free.begin())];
  };
  const std::size_t columns = model.state_count(child);
  std::vector<double> table(rows * columns);
  for (std::size_t r = 0; r < rows; ++r, next_configuration(states, sizes)) {
    conditional_row(model, model.variable(child).distribution, std::span(table).subspan(r * columns, columns),
                    state_of);
  }
  return table;
}

/// What a fault changes, as a key: the same key, the same look. Empty if it changes nothing that can be observed.
[[nodiscard]] inline std::string look_of(const FaultModel& model, FaultState fault, const std::vector<bool>& leads) {
  std::string look;
  for (const VariableIndex child : model.children(fault.component)) {
    if (!leads[child]) continue;
    const auto table = restricted_table(model, child, fault);
    if (table && table == restricted_table(model, child, {fault.component, 0})) continue;
    look += std::to_string(child) + ':';
    if (!table) {
      look += std::to_string(fault.component) + '/' + std::to_string(fault.state);
      continue;
    }
    const std::size_t before = look.size();
    look.resize(before + table->size() * sizeof(double));
    std::memcpy(look.data() + before, table->data(), table->size() * sizeof(double));
  }
  return look;
}

}  // namespace detail

inline AmbiguityGroups ambiguity_groups(const FaultModel& model) {
  const std::vector<bool> leads = detail::leads_to_observation(model);
  std::map<std::string, std::size_t> group_of;
  std::vector<std::vector<FaultState>> groups;
  AmbiguityGroups result;
  for (const VariableIndex component : model.with_role(Role::component)) {
    if (is_remainder(model.variable(component))) continue;
    for (std::size_t state = 1; state < model.state_count(component); ++state) {
      const FaultState fault{component, state};
      const std::string look = detail::look_of(model, fault, leads);
      if (look.empty()) {
        result.undetectable.push_back(fault);
        continue;
      }
      const auto [known, fresh] = group_of.emplace(look, groups.size());
      if (fresh) groups.emplace_back();
      groups[known->second].push_back(fault);
    }
  }
  std::ranges::copy_if(groups, std::back_inserter(result.alike), [](const auto& group) { return group.size() > 1; });
  return result;
}

}  // namespace faultodds

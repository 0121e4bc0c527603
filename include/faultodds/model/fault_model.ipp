// Bodies of fault_model.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <functional>
#include <limits>
#include <queue>
#include <utility>

#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/validate.hpp"
#include "faultodds/model/validate.ipp"
#include "faultodds/model/written_out.ipp"

namespace faultodds {
namespace detail {

/// Position of the element of this name; nothing if there is none.
template <class Named>
[[nodiscard]] std::optional<std::size_t> find_named(const std::vector<Named>& all, std::string_view name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - all.begin()));
}

/// The same; throws UnknownName, which calls the elements `kind`.
template <class Named>
[[nodiscard]] std::size_t index_of_named(const std::vector<Named>& all, std::string_view name, const char* kind) {
  if (const auto found = find_named(all, name)) return *found;
  std::vector<std::string> known;
  for (const Named& one : all) known.push_back(one.name);
  throw UnknownName(kind, std::string(name), nearest_names(name, known), {}, known);
}

/// Parents before children, lower indices first among those that are ready. The graph has no cycle.
[[nodiscard]] inline std::vector<VariableIndex> sorted_by_parents(
    const std::vector<std::vector<VariableIndex>>& parents, const std::vector<std::vector<VariableIndex>>& children) {
  std::vector<std::size_t> waiting(parents.size());
  std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> ready;
  for (std::size_t v = 0; v < parents.size(); ++v) {
    waiting[v] = parents[v].size();
    if (waiting[v] == 0) ready.push(v);
  }
  std::vector<VariableIndex> order;
  order.reserve(parents.size());
  while (!ready.empty()) {
    const std::size_t v = ready.top();
    ready.pop();
    order.push_back(v);
    for (const VariableIndex child : children[v]) {
      if (--waiting[child] == 0) ready.push(child);
    }
  }
  return order;
}

}  // namespace detail

inline FaultModel::FaultModel(ModelParts parts, RowScaling policy, const std::string& file) {
  std::vector<Problem> problems = detail::find_problems(parts, policy, detail::plain_places(parts));
  if (!problems.empty()) throw ModelError(std::move(problems), file);

  auto data = std::make_shared<Data>();
  data->scaled = detail::scale_rows(parts);
  for (Repair& repair : parts.repairs) {
    std::ranges::sort(repair.partial, {}, [](const Easing& easing) { return std::pair(easing.from, easing.to); });
  }
  data->parents.resize(parts.variables.size());
  data->children.resize(parts.variables.size());
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    data->index.emplace(parts.variables[v].name, v);
    const auto* symptom = std::get_if<Symptom>(&parts.variables[v].what);
    if (symptom != nullptr && !symptom->code.empty()) data->with_code[lower_case(symptom->code)].push_back(v);
    data->parents[v] = parents_of(parts.variables[v].distribution);
    for (const VariableIndex parent : data->parents[v]) data->children[parent].push_back(v);
  }
  data->order = detail::sorted_by_parents(data->parents, data->children);
  data->parts = std::move(parts);
  data_ = std::move(data);
}

inline bool FaultModel::operator==(const FaultModel& other) const {
  return data_ == other.data_ || parts() == other.parts();
}

inline const Variable& FaultModel::variable(VariableIndex index) const {
  if (index >= size()) {
    throw ArgumentError("variable",
                        "index " + std::to_string(index) + " in a model of " + std::to_string(size()) + " variables",
                        "indices run from 0 to one less than that", ErrorCode::index_out_of_range);
  }
  return data_->parts.variables[index];
}

inline std::optional<VariableIndex> FaultModel::find(std::string_view name) const {
  const auto found = data_->index.find(std::string(name));
  if (found != data_->index.end()) return found->second;
  const auto coded = data_->with_code.find(lower_case(name));
  if (coded == data_->with_code.end() || coded->second.size() != 1) return std::nullopt;
  return coded->second.front();
}

inline VariableIndex FaultModel::index_of(std::string_view name) const {
  if (const auto found = find(name)) return *found;
  std::vector<std::string> known;
  known.reserve(size());
  for (const Variable& candidate : variables()) known.push_back(candidate.name);
  std::vector<std::string> meant;
  if (const auto coded = data_->with_code.find(lower_case(name)); coded != data_->with_code.end()) {
    for (const VariableIndex symptom : coded->second) meant.push_back(variable(symptom).name);
  }
  throw UnknownName("variable", std::string(name), meant.empty() ? nearest_names(name, known) : meant, {}, known);
}

inline StateIndex FaultModel::state_of(VariableIndex variable, std::string_view state) const {
  const Variable& owner = this->variable(variable);
  std::vector<std::string> known;
  known.reserve(owner.states.size());
  for (std::size_t s = 0; s < owner.states.size(); ++s) {
    if (owner.states[s].name == state) return s;
    known.push_back(owner.states[s].name);
  }
  throw UnknownName("state", std::string(state), nearest_names(state, known), owner.name, known);
}

inline std::optional<RepairIndex> FaultModel::find_repair(std::string_view name) const {
  return detail::find_named(parts().repairs, name);
}
inline RepairIndex FaultModel::index_of_repair(std::string_view name) const {
  return detail::index_of_named(parts().repairs, name, "repair");
}

inline std::optional<std::size_t> FaultModel::find_access(std::string_view name) const {
  return detail::find_named(parts().access, name);
}
inline std::size_t FaultModel::index_of_access(std::string_view name) const {
  return detail::index_of_named(parts().access, name, "access");
}

inline std::optional<std::size_t> FaultModel::find_condition(std::string_view name) const {
  return detail::find_named(parts().conditions, name);
}
inline std::size_t FaultModel::index_of_condition(std::string_view name) const {
  return detail::index_of_named(parts().conditions, name, "condition");
}

inline std::optional<std::size_t> FaultModel::find_tool(std::string_view name) const {
  return detail::find_named(parts().tools, name);
}
inline std::size_t FaultModel::index_of_tool(std::string_view name) const {
  return detail::index_of_named(parts().tools, name, "tool");
}

inline std::optional<std::size_t> FaultModel::find_skill(std::string_view name) const {
  return detail::find_named(parts().skills, name);
}
inline std::size_t FaultModel::index_of_skill(std::string_view name) const {
  return detail::index_of_named(parts().skills, name, "skill");
}

inline std::optional<std::size_t> FaultModel::find_caution(std::string_view name) const {
  return detail::find_named(parts().cautions, name);
}
inline std::size_t FaultModel::index_of_caution(std::string_view name) const {
  return detail::index_of_named(parts().cautions, name, "caution");
}

inline std::optional<HandOverIndex> FaultModel::find_hand_over(std::string_view name) const {
  return detail::find_named(parts().hand_overs, name);
}
inline HandOverIndex FaultModel::index_of_hand_over(std::string_view name) const {
  return detail::index_of_named(parts().hand_overs, name, "hand-over");
}

inline std::vector<VariableIndex> FaultModel::with_role(Role role) const {
  std::vector<VariableIndex> found;
  for (std::size_t v = 0; v < size(); ++v) {
    if (data_->parts.variables[v].role() == role) found.push_back(v);
  }
  return found;
}

inline bool can_mend(const Repair& repair, VariableIndex component, StateIndex state) {
  return repair.component == component &&
         std::find(repair.mends.begin(), repair.mends.end(), state) != repair.mends.end();
}

}  // namespace faultodds

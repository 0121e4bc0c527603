// Bodies of relevance.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>
#include <variant>

#include "faultodds/inference/network/relevance.hpp"

namespace faultodds {

namespace detail {

/// What was marked present, with all its ancestors.
inline void add_ancestors(const FaultModel& model, std::vector<Presence>& presence) {
  const std::vector<VariableIndex>& order = model.topological_order();
  for (std::size_t i = order.size(); i-- > 0;) {
    if (presence[order[i]] == Presence::left_out) continue;
    for (const std::size_t parent : model.parents(order[i])) presence[parent] = Presence::present;
  }
}

inline bool leads_on(const FaultModel& model, std::span<const Presence> presence, std::size_t variable) {
  const std::vector<VariableIndex>& children = model.children(variable);
  return std::any_of(children.begin(), children.end(),
                     [&](std::size_t child) { return presence[child] != Presence::left_out; });
}

inline void split_if_absent(const FaultModel& model, std::vector<Presence>& presence, std::size_t variable) {
  const bool noisy = std::holds_alternative<NoisyMax>(model.variable(variable).distribution);
  if (noisy && !leads_on(model, presence, variable)) presence[variable] = Presence::split_absent;
}

}  // namespace detail

inline std::vector<Presence> relevant(const FaultModel& model, std::span<const VariableIndex> wanted,
                                      std::span<const VariableIndex> absent) {
  const bool markov = !model.parts().potentials.empty();
  std::vector<Presence> presence(model.size(), markov ? Presence::present : Presence::left_out);
  if (markov) return presence;
  for (const std::size_t variable : wanted) presence[variable] = Presence::present;
  detail::add_ancestors(model, presence);
  for (const std::size_t variable : absent) detail::split_if_absent(model, presence, variable);
  return presence;
}

inline CaseShape shape_of_case(const FaultModel& model, const std::vector<VariableIndex>& wanted,
                               std::span<const Finding> findings) {
  CaseShape shape;
  take_shape(shape, model, wanted, findings);
  return shape;
}

inline void take_shape(CaseShape& shape, const FaultModel& model, std::span<const VariableIndex> wanted,
                       std::span<const Finding> findings) {
  const bool markov = !model.parts().potentials.empty();
  shape.presence.assign(model.size(), markov ? Presence::present : Presence::left_out);
  shape.known.assign(model.size(), not_known);
  if (markov) return;
  for (const std::size_t variable : wanted) shape.presence[variable] = Presence::present;
  for (const Finding& finding : findings) shape.presence[finding.variable] = Presence::present;
  detail::add_ancestors(model, shape.presence);
  for (const Finding& finding : findings) {
    if (finding.state == std::size_t{0}) detail::split_if_absent(model, shape.presence, finding.variable);
  }
  for (const Finding& finding : findings) {
    const std::size_t v = finding.variable;
    if (!finding.state.has_value() || shape.presence[v] != Presence::present) continue;
    if (detail::becomes_chain(model, v) || detail::leads_on(model, shape.presence, v)) shape.known[v] = *finding.state;
  }
}

namespace detail {

inline std::vector<VariableIndex> always_wanted(const FaultModel& model) {
  std::vector<VariableIndex> wanted = model.with_role(Role::context);
  const std::vector<VariableIndex> components = model.with_role(Role::component);
  wanted.insert(wanted.end(), components.begin(), components.end());
  return wanted;
}

}  // namespace detail

}  // namespace faultodds

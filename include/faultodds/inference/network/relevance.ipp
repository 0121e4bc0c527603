// Bodies of relevance.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>
#include <variant>

#include "faultodds/inference/network/relevance.hpp"

namespace faultodds {

inline std::vector<Presence> relevant(const FaultModel& model, std::span<const std::size_t> wanted,
                                      std::span<const std::size_t> absent) {
  const bool markov = !model.parts().potentials.empty();
  std::vector<Presence> presence(model.size(), markov ? Presence::present : Presence::left_out);
  if (markov) return presence;
  for (const std::size_t variable : wanted) presence[variable] = Presence::present;
  const std::vector<std::size_t>& order = model.topological_order();
  for (std::size_t i = order.size(); i-- > 0;) {
    if (presence[order[i]] == Presence::left_out) continue;
    for (const std::size_t parent : model.parents(order[i])) presence[parent] = Presence::present;
  }
  for (const std::size_t variable : absent) {
    bool needed = !std::holds_alternative<NoisyMax>(model.variable(variable).distribution);
    for (const std::size_t child : model.children(variable)) needed = needed || presence[child] != Presence::left_out;
    if (!needed) presence[variable] = Presence::split_absent;
  }
  return presence;
}

inline CaseShape shape_of_case(const FaultModel& model, std::vector<std::size_t> wanted,
                               std::span<const Finding> findings) {
  std::vector<std::size_t> absent;
  for (const Finding& finding : findings) {
    wanted.push_back(finding.variable);
    if (finding.state == std::size_t{0}) absent.push_back(finding.variable);
  }
  CaseShape shape{relevant(model, wanted, absent), std::vector<std::size_t>(model.size(), not_known)};
  if (!model.parts().potentials.empty()) return shape;
  const auto has_place = [&](std::size_t child) { return shape.presence[child] != Presence::left_out; };
  for (const Finding& finding : findings) {
    const std::size_t v = finding.variable;
    if (!finding.state.has_value() || shape.presence[v] != Presence::present) continue;
    const std::vector<std::size_t>& children = model.children(v);
    if (detail::becomes_chain(model, v) || std::any_of(children.begin(), children.end(), has_place)) {
      shape.known[v] = *finding.state;
    }
  }
  return shape;
}

namespace detail {

inline std::vector<std::size_t> always_wanted(const FaultModel& model) {
  std::vector<std::size_t> wanted = model.with_role(Role::context);
  const std::vector<std::size_t> components = model.with_role(Role::component);
  wanted.insert(wanted.end(), components.begin(), components.end());
  return wanted;
}

}  // namespace detail

}  // namespace faultodds

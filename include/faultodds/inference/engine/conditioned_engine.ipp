// Bodies of conditioned_engine.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <utility>

#include "faultodds/inference/engine/conditioned_engine.hpp"

namespace faultodds::detail {

inline ConditionedEngine::ConditionedEngine(const Solver& solver, Cutset cutset, std::span<const Finding> findings,
                                            const Stop& stop)
    : branches_(split_by(solver, std::move(cutset), findings, stop)) {}

/// Slots are variables.
inline std::vector<double> ConditionedEngine::joint(std::span<const std::size_t> slots) const {
  if (slots.size() == 1) return branches_->marginals[slots[0]];
  const std::vector<VariableIndex> variables(slots.begin(), slots.end());
  const std::vector<VariableIndex> outside = branches_->outside_cutset(variables);
  std::vector<double> joint;
  for (const ConditionedBranch& branch : branches_->branches) {
    DirectEngine engine = branches_->engine_of(branch, stop_.get());
    std::visit([&](auto& one) { one.stop_by(stop_.get()); }, engine);
    std::vector<std::size_t> scope;
    for (const std::size_t variable : outside) {
      scope.push_back(std::visit([&](const auto& one) { return one.slot_of()[variable]; }, engine));
    }
    std::vector<double> here{1.0};
    if (!scope.empty()) here = std::visit([&](auto& one) { return one.joint(scope); }, engine);
    if (here.empty()) return {};
    joint.resize(branches_->entries_of(variables), 0.0);
    const std::vector<std::size_t> places = branches_->places_in_joint(branch, variables);
    for (std::size_t i = 0; i < here.size(); ++i) joint[places[i]] += branch.share * here[i];
  }
  return joint;
}

inline ConditionedReweighing ConditionedEngine::reweighing() const { return ConditionedReweighing(branches_); }

}  // namespace faultodds::detail

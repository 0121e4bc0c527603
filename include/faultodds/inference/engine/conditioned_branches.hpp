// A case split up by the joint states of a few variables.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "faultodds/inference/engine/cutset.hpp"
#include "faultodds/inference/engine/tree_engine.hpp"
#include "faultodds/inference/engine/two_layer_engine.hpp"

namespace faultodds::detail {

/// What works out a case by itself.
using DirectEngine = std::variant<TreeEngine, TwoLayerEngine>;

/// The findings with one joint state of the cutset, which is possible beside them.
struct ConditionedBranch {
  std::vector<Finding> findings;    ///< those of the case, then one for each variable of the cutset
  std::vector<std::size_t> states;  ///< of the cutset
  double share = 0.0;               ///< P(states | findings)
  /// Findings entered; nothing if all of them together would take too much memory.
  std::shared_ptr<const DirectEngine> engine;
};

/// All of them, read-only once they are made.
struct ConditionedBranches {
  Solver solver;
  Cutset cutset;
  std::vector<std::size_t> place_in_cutset;  ///< by variable; no_slot if it is not in it
  std::vector<ConditionedBranch> branches;
  double log_evidence = 0.0;                   ///< natural logarithm of P(findings)
  std::vector<std::size_t> slot_of;            ///< by variable: itself if every branch has a slot for it
  std::vector<std::vector<double>> marginals;  ///< by variable and state: P(state | findings), of those with a slot

  /// One kept or one made now, with the findings of the branch.
  [[nodiscard]] DirectEngine engine_of(const ConditionedBranch& branch, const Stop& stop) const;
  /// Those of the variables that are not in the cutset.
  [[nodiscard]] std::vector<VariableIndex> outside_cutset(std::span<const VariableIndex> variables) const;
  /// Entries of a joint of the variables.
  [[nodiscard]] std::size_t entries_of(std::span<const VariableIndex> variables) const;
  /// By entry of a joint of `variables` without those of the cutset, the last running fastest: the entry of the joint
  /// of all of them in which the cutset has the states of the branch.
  [[nodiscard]] std::vector<std::size_t> places_in_joint(const ConditionedBranch& branch,
                                                         std::span<const VariableIndex> variables) const;
};

/// Throws TooLarge if the case does not fit under some joint state; Stopped.
[[nodiscard]] std::shared_ptr<const ConditionedBranches> split_by(const Solver& solver, Cutset cutset,
                                                                  std::span<const Finding> findings, const Stop& stop);

/// Two-layer sums if they are cheap; otherwise a junction tree, or two-layer sums that take longer if no tree fits into
/// memory. Throws TooLarge if neither does; Stopped.
[[nodiscard]] DirectEngine direct_engine(const Solver& solver, CaseShape shape, std::span<const Finding> findings,
                                         const Stop& stop);
/// The first of these; nothing if they are not to be had.
[[nodiscard]] std::optional<TwoLayerEngine> cheap_two_layer(const Solver& solver, const CaseShape& shape,
                                                            std::span<const Finding> findings, const Stop& stop);
/// The others; `shape` as leave_out_weights() leaves it.
[[nodiscard]] DirectEngine other_engine(const Solver& solver, CaseShape shape, std::span<const Finding> findings,
                                        const Stop& stop);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/conditioned_branches.ipp"

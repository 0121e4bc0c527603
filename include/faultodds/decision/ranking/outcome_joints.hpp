// What outcomes that have not been seen yet would do: the joint of each test's outcomes with each of some variables.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// Of one test: P(outcome | findings), and by variable P(outcome, state | findings) as a table [outcome][state], the
/// state running fastest.
struct OutcomeJoints {
  std::vector<double> outcomes;
  std::vector<std::vector<double>> with;
};

/// By test, in their order. A vector lane for each outcome, less one for each test; if a test is not in the case's
/// junction tree and its table is no product, or the tree is too large for lanes, one propagation for each outcome.
[[nodiscard]] std::vector<OutcomeJoints> outcome_joints(const Case& current, std::span<const VariableIndex> tests,
                                                        std::span<const VariableIndex> variables);
/// The same with a batch of this case that was made before.
[[nodiscard]] std::vector<OutcomeJoints> outcome_joints(const Case& current, BatchedReweighing& batch,
                                                        std::span<const VariableIndex> tests,
                                                        std::span<const VariableIndex> variables);

namespace detail {

/// True if no outcome has to be entered for these joints.
[[nodiscard]] bool have_products(const Case& current, BatchedReweighing& batch, std::span<const VariableIndex> tests,
                                 std::span<const VariableIndex> variables);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/ranking/outcome_joints.ipp"

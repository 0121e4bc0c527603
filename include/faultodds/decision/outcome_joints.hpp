// What an outcome that has not been seen yet would do: the joint of a test's outcomes with each of some variables.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// P(outcome, state | findings) of `test` with each of `variables`: by variable a table [outcome][state], the state
/// running fastest. One propagation an outcome, less one for a noisy-MAX test.
[[nodiscard]] std::vector<std::vector<double>> outcome_joints(const Case& current, std::size_t test,
                                                              std::span<const std::size_t> variables);

}  // namespace faultodds

#include "faultodds/decision/outcome_joints.ipp"

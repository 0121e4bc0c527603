// Exact posteriors if no junction tree fits into memory: the case under each joint state of a few variables.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

struct ConditioningOptions {
  /// Variables to condition on, none of them with a finding; empty: chosen, one after the other, until what is left
  /// fits into the memory limit of the solver.
  std::vector<VariableIndex> on;
  std::size_t max_cases = 1 << 16;  ///< joint states of these variables, and so cases to be worked out
};

/// Posteriors from one case for each joint state of a few variables.
struct ConditionedPosteriors {
  std::vector<VariableIndex> on;
  std::size_t cases = 0;                         ///< worked out: joint states that agree with the findings
  double log_evidence = 0.0;                     ///< natural logarithm of P(findings)
  std::vector<std::vector<double>> of_variable;  ///< by variable and state: P(state | findings)
};

/// P(x | findings) = sum over s of P(s | findings) P(x | s, findings), s being the joint states of the variables
/// conditioned on (cutset conditioning: Pearl 1988, section 4.3). Exact as a case is; it takes the memory of one
/// smaller case and the time of many. Throws ArgumentError if `on` names a variable twice or one with a finding, and
/// for findings that a case would refuse; ImpossibleFindings; TooLarge if more than `max_cases` cases would be
/// needed before one of them fits; Stopped.
[[nodiscard]] ConditionedPosteriors posteriors_by_conditioning(const Solver& solver, std::span<const Finding> findings,
                                                               const ConditioningOptions& options = {},
                                                               const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/inference/conditioning.ipp"

// The variables to condition on, so that what is left of a case fits into memory.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/solver.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds::detail {

/// A few variables of the model, none of them with a finding, and how many joint states they have.
struct Cutset {
  std::vector<VariableIndex> variables;
  double cases = 1.0;
};

/// Chosen greedily, one after the other, until a junction tree for the rest fits into the memory limit of the solver:
/// of those in most factors the one whose states leave least. Empty if the case fits as it is. Throws TooLarge if more
/// than `max_cases` joint states would be needed; Stopped.
[[nodiscard]] Cutset choose_cutset(const Solver& solver, std::span<const Finding> findings, std::size_t max_cases,
                                   const Stop& stop);

/// These variables. Throws ArgumentError if one is named twice, has a finding or does not exist; TooLarge as above.
[[nodiscard]] Cutset named_cutset(const Solver& solver, std::span<const Finding> findings,
                                  std::span<const VariableIndex> variables, std::size_t max_cases, const Stop& stop);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/cutset.ipp"

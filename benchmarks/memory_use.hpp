// The heap memory that compiling a model and answering a case take, beside the estimate.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <span>

#include "faultodds/inference/case.hpp"

namespace faultodds_benchmarks {

/// Bytes. What is in use counts beyond the model itself, which is there before; what the order search needs counts too.
struct MemoryUse {
  double tables = 0.0;     ///< of all cliques, dense
  double estimate = 0.0;   ///< JunctionTree::bytes_needed, which is reported if a junction tree is refused
  double compiling = 0.0;  ///< in use at most while the solver is made
  double answering = 0.0;  ///< in use at most from then on: a case, and the posteriors of all variables
};

/// One junction tree for the whole model, whatever its size; a case without findings. Nothing else may run beside it.
/// Throws TooLarge.
[[nodiscard]] MemoryUse memory_use(faultodds::FaultModel model);

/// The junction tree of a case with these findings, by a solver that has no junction tree for all cases and keeps none;
/// what the solver takes does not count. Nothing else may run beside it. Throws TooLarge.
[[nodiscard]] MemoryUse memory_of_case(const faultodds::Solver& solver, std::span<const faultodds::Finding> findings);

}  // namespace faultodds_benchmarks

// The form in which a case is worked out: a junction tree, or two-layer sums where it is of two layers and they are
// cheaper.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <memory>
#include <optional>
#include <span>

#include "faultodds/inference/solver.hpp"
#include "faultodds/inference/two_layer/two_layer_sums.hpp"

namespace faultodds::detail {

/// One of them.
struct Engine {
  std::optional<TwoLayerSums> two_layer;
  std::shared_ptr<const JunctionTree> tree;
};

/// Two-layer sums where they take no more than SolverOptions::two_layer_multiplications, so that no order for a tree
/// need be looked for.
[[nodiscard]] std::optional<TwoLayerSums> cheap_two_layer(const Solver& solver, const CaseShape& shape,
                                                          std::span<const Finding> findings, const Stop& stop);

/// Where those are not to be had: a tree, or longer two-layer sums if that does not fit into memory. Throws TooLarge
/// where neither does.
[[nodiscard]] Engine other_engine(const Solver& solver, const CaseShape& shape, std::span<const Finding> findings,
                                  const Stop& stop);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/engine.ipp"

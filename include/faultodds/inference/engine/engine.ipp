// Bodies of engine.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <utility>

#include "faultodds/inference/engine/engine.hpp"

namespace faultodds::detail {

inline std::optional<TwoLayerSums> cheap_two_layer(const Solver& solver, const CaseShape& shape,
                                                   std::span<const Finding> findings, const Stop& stop) {
  return two_layer_sums(solver, shape, findings, solver.options().two_layer_multiplications, stop);
}

inline Engine other_engine(const Solver& solver, const CaseShape& shape, std::span<const Finding> findings,
                           const Stop& stop) {
  static constexpr double times_cheap = 256.0;
  try {
    return {std::nullopt, solver.junction_tree_for(shape, stop)};
  } catch (const TooLarge&) {
    auto two_layer =
        two_layer_sums(solver, shape, findings, times_cheap * solver.options().two_layer_multiplications, stop);
    if (!two_layer.has_value()) throw;
    return {std::move(two_layer), nullptr};
  }
}

}  // namespace faultodds::detail

// Bodies of two_layer_engine.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/engine/two_layer_engine.hpp"

namespace faultodds::detail {

inline std::vector<double> TwoLayerEngine::joint(std::span<const std::size_t> slots) const {
  if (slots.size() != 1) return {};
  const std::span<const double> marginal = sums_.marginal(slots[0]);
  return {marginal.begin(), marginal.end()};
}

}  // namespace faultodds::detail

// Bodies of tree_engine.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/engine/tree_engine.hpp"

namespace faultodds::detail {

inline void TreeEngine::enter(std::span<const Finding> findings) {
  of_slot_.assign(propagation_.tree().state_counts().size(), no_slot);
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const std::size_t slot = slot_of()[findings[i].variable];
    if (slot != no_slot) of_slot_[slot] = i;
  }
  for (std::size_t slot = 0; slot < of_slot_.size(); ++slot) {
    if (of_slot_[slot] == no_slot) {
      propagation_.clear_weights(slot);
    } else {
      propagation_.set_weights(slot, findings[of_slot_[slot]].weights);
    }
  }
}

}  // namespace faultodds::detail

// Bodies of tree_engine.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/engine/tree_engine.hpp"

namespace faultodds::detail {

inline void TreeEngine::enter(std::span<const Finding> findings) {
  if (!weights_.has_value()) return enter_into_slots(findings);
  weights_->enter(findings, slot_of(), shape_.presence);
  log_factor_ = weights_->log_factor();
  for (const std::size_t slot : entered_) {
    if (!weights_->speak_of(slot)) propagation_.clear_weights(slot);
  }
  for (const std::size_t slot : weights_->slots()) propagation_.set_weights(slot, weights_->of(slot));
  entered_.assign(weights_->slots().begin(), weights_->slots().end());
}

/// Each finding has a slot of its own.
inline void TreeEngine::enter_into_slots(std::span<const Finding> findings) {
  entered_.assign(propagation_.tree().state_counts().size(), no_slot);
  for (std::size_t i = 0; i < findings.size(); ++i) entered_[slot_of()[findings[i].variable]] = i;
  for (std::size_t slot = 0; slot < entered_.size(); ++slot) {
    if (entered_[slot] == no_slot) {
      propagation_.clear_weights(slot);
    } else {
      propagation_.set_weights(slot, findings[entered_[slot]].weights);
    }
  }
}

}  // namespace faultodds::detail

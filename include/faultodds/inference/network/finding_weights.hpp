// Findings that need no variable of their own: what they say is a product of weights on variables of the network.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/network/relevance.hpp"

namespace faultodds {

/// Takes the variables of such findings out of the shape, so that cases that differ in them alone share it. They are
/// hard findings on what is neither a component nor context, has parents, and has no child in the network; and that
/// depend on one parent of unknown state at most, or are noisy-MAX effects found absent whose gates are all of known
/// state. `findings` are those that `shape` was made from.
void leave_out_weights(CaseShape& shape, const FaultModel& model, std::span<const Finding> findings);

namespace detail {

/// All that findings say about the slots of a network: for each slot one product of weights, in model order whatever
/// the order of the findings. Once it has seen as many findings as there will be, it allocates nothing.
class FindingWeights {
 public:
  FindingWeights(FaultModel model, std::span<const std::size_t> state_counts);

  /// `slot_of` and `presence` by variable.
  void enter(std::span<const Finding> findings, std::span<const std::size_t> slot_of,
             std::span<const Presence> presence);

  /// The slots that findings speak of, each once.
  [[nodiscard]] std::span<const std::size_t> slots() const noexcept { return slots_; }
  [[nodiscard]] bool speak_of(std::size_t slot) const { return weighed_[slot] != 0; }
  /// The weights of such a slot, one for each state.
  [[nodiscard]] std::span<const double> of(std::size_t slot) const {
    return {weights_.data() + begin_[slot], begin_[slot + 1] - begin_[slot]};
  }
  /// Natural logarithm of what else they are multiplied by; minus infinity if that is zero.
  [[nodiscard]] double log_factor() const;

 private:
  [[nodiscard]] const Finding* known(std::size_t variable) const;
  [[nodiscard]] double* weights_of(std::size_t slot);
  void multiply(double factor);
  void scale(std::size_t slot);
  void enter_own(const Finding& finding, std::size_t slot);
  void enter_one_parent(const Finding& finding, std::size_t parent, std::size_t slot);
  void enter_absent(const NoisyMax& noisy, std::span<const std::size_t> slot_of);

  FaultModel model_;
  std::vector<std::size_t> begin_;  // by slot, and the end: its states
  std::vector<double> weights_;
  std::vector<std::uint8_t> weighed_;     // by slot
  std::vector<std::size_t> slots_;        // those that are weighed
  std::vector<const Finding*> findings_;  // by variable, ascending
  std::vector<double> row_;               // scratch
  double factor_ = 1.0;
  long exponent_ = 0;  // powers of two taken out of everything
};

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/network/finding_weights.ipp"

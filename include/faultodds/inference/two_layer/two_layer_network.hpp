// Cases of two layers: all that was found depends on independent causes, and each finding by itself.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/inference/network/relevance.hpp"

namespace faultodds::detail {

/// What a case says about independent causes. A finding that factors into one number for each state of a cause (an
/// effect that is absent; anything that depends on one cause alone) is part of the weights. Every other one is an
/// effect that some cause must account for: P(finding | causes) is `if_not` if none of them does, and otherwise
/// `if_so`. A cause in state s leaves effect e unaccounted for with probability misses[s], independently of all else.
///
/// For a noisy-MAX effect found in state y this holds with P(effect <= y | causes), a product, in the weights, and
/// misses[s] = P_i(effect <= y - 1 | s) / P_i(effect <= y | s).
struct TwoLayerNetwork {
  struct Link {
    std::size_t effect = 0;
    std::vector<double> misses;  ///< by state of the cause
  };
  struct Cause {
    std::size_t variable = 0;
    std::vector<double> weights;  ///< by state; their sum is one
    std::vector<Link> links;      ///< each effect once
  };
  struct Effect {
    double left = 1.0;  ///< probability that the leak and the causes of known state do not account for it
    double if_not = 0.0;
    double if_so = 1.0;
  };

  std::vector<Cause> causes;
  std::vector<Effect> effects;
  std::vector<std::size_t> place_of;  ///< by variable: its cause; no_slot if it is none
  double log_factor = 0.0;            ///< of P(findings), what the above leaves out
};

/// False if a look at the parents shows that a case has more than two layers.
[[nodiscard]] bool may_have_two_layers(const FaultModel& model, const CaseShape& shape,
                                       std::span<const Finding> findings);

/// The case as such a network. Nothing if it is none: a cause depends on another one of unknown state, the gate of a
/// link is not settled, or a finding that is no noisy-MAX effect depends on several causes. Nor if an effect is so
/// improbable (below 1e-12) that products of many such might underflow.
[[nodiscard]] std::optional<TwoLayerNetwork> two_layer_network(const FaultModel& model, const CaseShape& shape,
                                                               std::span<const Finding> findings);

}  // namespace faultodds::detail

#include "faultodds/inference/two_layer/two_layer_network.ipp"

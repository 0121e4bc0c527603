// In which order the causes of noisy-MAX effects join their chains.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/network.hpp"

namespace faultodds {

/// One step for each variable of the model: chains take their causes by ascending step.
///
/// Chains of several effects run side by side. While one is under way its running maximum is carried along, and so is
/// every variable that causes still to come share with those already taken; the tables grow with the product of all
/// that is carried. The order is chosen greedily so that this product stays small. Variables that are not present, and
/// effects that nothing hangs on, get no_slot. `is_chain[v]` tells whose tables become chains.
[[nodiscard]] std::vector<std::size_t> chain_steps(const FaultModel& model, std::span<const Presence> presence,
                                                   const std::vector<bool>& is_chain);

}  // namespace faultodds

#include "faultodds/inference/chain_order.ipp"

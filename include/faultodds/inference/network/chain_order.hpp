// The order in which the causes of noisy-MAX effects join their chains.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/network/network.hpp"

namespace faultodds {

/// For each variable of the model whose table becomes a chain (`is_chain`): the links of its noisy-MAX table that hang
/// on something of unknown state, in the order in which its chain takes them; empty for all others. `known` is that of
/// expand().
///
/// Chains of several effects run side by side, all along one order of the causes. While a chain is under way its
/// running maximum is carried along, and so is every variable that causes still to come share with those already taken;
/// the tables grow with the product of all that is carried. The order is chosen greedily so that this product stays
/// small.
[[nodiscard]] std::vector<std::vector<const Link*>> links_by_steps(const FaultModel& model,
                                                                   std::span<const Presence> presence,
                                                                   std::span<const std::size_t> known,
                                                                   const std::vector<bool>& is_chain);

namespace detail {

/// The links of which the cause or some gate is of unknown state.
[[nodiscard]] std::vector<const Link*> open_links(const NoisyMax& noisy, std::span<const std::size_t> known);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/network/chain_order.ipp"

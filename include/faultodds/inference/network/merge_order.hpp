// The order in which the links of noisy-MAX effects meet when causes are eliminated.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/network/network.hpp"

namespace faultodds {

/// Orders of links for the same purpose and from the same arguments as links_by_steps, other ones for other seeds.
///
/// Here each chain goes its own way. In a network with the effect's variable beside each cause, but no two causes
/// beside each other (the graph of Diez & Galan 2003), an elimination order is searched. Links of an effect meet when
/// a variable that their factors share is eliminated; so they form a tree, and the chain walks through that tree from
/// one end to another, so that what meets early is close together in the chain.
[[nodiscard]] std::vector<std::vector<const Link*>> links_by_elimination(const FaultModel& model,
                                                                         std::span<const Presence> presence,
                                                                         std::span<const std::size_t> known,
                                                                         const std::vector<bool>& is_chain,
                                                                         std::uint64_t seed);

}  // namespace faultodds

#include "faultodds/inference/network/merge_order.ipp"

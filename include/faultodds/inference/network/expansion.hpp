// A fault model written out as factors.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

#include "faultodds/inference/network/network.hpp"

namespace faultodds {

/// The network of the variables with `presence` (one for each variable of the model; a present variable needs its
/// parents present). Noisy-MAX tables and counts with many parents become chains of auxiliary variables with small
/// factors, never tables over all parents.
///
/// `known` gives for each variable the state that a hard finding shows, or not_known; empty: none is known. The tables
/// of its children then speak of that state alone, so that nothing joins them through it; its own table stays, and with
/// it its slot, which the finding still has to be entered into. The chain of a noisy-MAX effect of known state becomes
/// P(that state | causes), and tells apart only that state and those below. Precondition: no potentials if something
/// is known.
///
/// Which order of a chain's links gives the smaller tables depends on the findings: seed 0 gives one order of the
/// causes for all chains (links_by_steps), each other one for an order of links_by_elimination.
[[nodiscard]] Network expand(const FaultModel& model, std::span<const Presence> presence,
                             std::span<const std::size_t> known = {}, std::uint64_t chain_seed = 0);

/// True if some noisy-MAX table of the model becomes a chain of auxiliary variables.
[[nodiscard]] bool has_chains(const FaultModel& model);

namespace detail {

/// Entries of a variable's table, written out.
[[nodiscard]] double table_entries(const FaultModel& model, std::size_t variable);
/// True if the variable's table is a noisy-MAX or a count too large to be written out.
[[nodiscard]] bool becomes_chain(const FaultModel& model, std::size_t variable);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/network/expansion.ipp"

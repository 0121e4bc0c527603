// Which variables matter to a case, and how each enters its network.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/network/expansion.hpp"

namespace faultodds {

/// The variables of `wanted` and all their ancestors are present; all others are left out (they sum to one). With
/// potentials everything is present. Variables of `absent` (found in state 0) that are noisy-MAX effects without a
/// present child are split instead of present. One entry for each variable of the model.
[[nodiscard]] std::vector<Presence> relevant(const FaultModel& model, std::span<const VariableIndex> wanted,
                                             std::span<const VariableIndex> absent);

/// How a case enters its network: what expand() needs to know.
struct CaseShape {
  std::vector<Presence> presence;
  std::vector<std::size_t> known;

  bool operator==(const CaseShape&) const = default;
};

/// The shape of a case that asks for `wanted`: findings and what is asked are present with their ancestors. A hard
/// finding makes its variable known if its state makes the tables smaller: it has children in the network, or its
/// own table becomes a chain. All others may change their states without another shape.
[[nodiscard]] CaseShape shape_of_case(const FaultModel& model, const std::vector<VariableIndex>& wanted,
                                      std::span<const Finding> findings);
/// The same in place of the shape that was there, whose memory is used again.
void take_shape(CaseShape& shape, const FaultModel& model, std::span<const VariableIndex> wanted,
                std::span<const Finding> findings);

namespace detail {

/// True if something in the network depends on the variable.
[[nodiscard]] bool leads_on(const FaultModel& model, std::span<const Presence> presence, std::size_t variable);

/// Components and context, which every junction tree of a case holds, so that their posteriors need no further work.
[[nodiscard]] std::vector<VariableIndex> always_wanted(const FaultModel& model);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/network/relevance.ipp"

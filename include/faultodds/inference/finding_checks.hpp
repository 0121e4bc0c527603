// Findings that make sense for a model, made and checked.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>

#include "faultodds/inference/finding.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds::detail {

/// Throws ArgumentError unless the variable has this state.
void check_state(const FaultModel& model, VariableIndex variable, StateIndex state);
/// Throws ArgumentError unless the finding makes sense by itself: one weight for each state, none negative, some
/// positive, and those of a hard finding positive in its state alone.
void check_finding(const FaultModel& model, const Finding& finding);
/// The same for several, each variable once.
void check_findings(const FaultModel& model, std::span<const Finding> findings);

/// That the variable is in this state. Throws ArgumentError if it lacks it.
[[nodiscard]] Finding hard_finding(const FaultModel& model, VariableIndex variable, StateIndex state);
/// That the variable is in one of these states. Throws ArgumentError if it lacks one of them.
[[nodiscard]] Finding set_finding(const FaultModel& model, VariableIndex variable, std::span<const StateIndex> states);

}  // namespace faultodds::detail

#include "faultodds/inference/finding_checks.ipp"

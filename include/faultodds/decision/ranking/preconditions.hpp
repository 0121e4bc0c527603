// Preconditions of tests: what has to be found before a test makes sense, and what rules it out.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// The state of a gate in a case.
enum class GateState : std::uint8_t { open, shut, not_found };

/// Open if its variable was found in one of its states, shut if it was found in another, and otherwise not found:
/// a finding that only weighs the states settles nothing, and neither does a context that was not asked for. A test
/// that was answered by what it reveals counts as found in its first outcome if all of that is in its first state,
/// and as found in any other if something is not; gates that tell these others apart stay as they were.
[[nodiscard]] GateState state_of(const Case& current, const Gate& gate);

/// Whether something was found that makes the test pointless, impossible or dangerous: a gate of `only_when` is shut,
/// or one of `not_when` open.
[[nodiscard]] bool is_ruled_out(const Case& current, VariableIndex test);

/// What keeps a test out, in words: "only when read the stored codes: any but no code"; empty if nothing does. If
/// it is ruled out it says what was found.
[[nodiscard]] std::string unmet_preconditions(const Case& current, VariableIndex test);

}  // namespace faultodds

#include "faultodds/decision/ranking/preconditions.ipp"

// Why a fault is suspected: the paragraph for people, and the numbers behind it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string_view>

#include "faultodds/decision/evidence/evidence.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {

/// "COMPONENT" (any fault of it) or "NAME=STATE". Throws UnknownName; ArgumentError if the variable is not a component
/// and no state is named.
[[nodiscard]] Claim parse_claim(const FaultModel& model, std::string_view text);

/// Which findings count for and against the claim, in words and in bits, and whether they go together.
void show_why(const Screen& screen, const Case& current, const Claim& claim);

/// The same for programs. Infinite weights are the texts "infinity" and "-infinity", weights that do not exist null.
[[nodiscard]] Json why_json(const Case& current, const Claim& claim);

}  // namespace faultodds::program

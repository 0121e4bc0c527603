// Why a fault is suspected, and what a test tells, in words for the bench.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>

#include "faultodds/decision/evidence/evidence.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"

namespace faultodds {

/// A finding as text: "fuel pressure: low", "fuel pressure: low or none", "fuel pressure: weighed, low 0.2, good 1".
[[nodiscard]] std::string finding_in_words(const FaultModel& model, const Finding& finding);

/// "fuel pump: worn", "fuel pump: worn or dead", or "fuel pump: any fault" for all states but the first.
[[nodiscard]] std::string claim_in_words(const FaultModel& model, const Claim& claim);

/// A paragraph: how probable the claim is and was, which findings speak for and against it and what it would be
/// without them, and what hardly matters (the odds change by less than a quarter). `evidence` is of this case.
[[nodiscard]] std::string explain_in_words(const Case& current, const Evidence& evidence);

/// A paragraph if the findings do not fit together (less than half as often as by chance): which fits worst, and
/// whether a rare fault would explain it. Empty if they fit together.
[[nodiscard]] std::string explain_in_words(const Case& current, const Conflict& found);

/// A paragraph: which two faults the test tells apart best, by which outcome, and those it cannot tell apart.
[[nodiscard]] std::string explain_in_words(const FaultModel& model, const TestContrast& found);

}  // namespace faultodds

#include "faultodds/decision/evidence/evidence_words.ipp"

// What to ask when a vehicle comes in, before anything is touched.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// Whether something abnormal was found of a symptom or test, so that there is a cause to look for.
[[nodiscard]] bool has_complaint(const Case& current);

/// Facts about the vehicle that shift the probabilities of faults and have no finding, in the order of the model.
[[nodiscard]] std::vector<VariableIndex> open_facts(const Case& current);

/// Symptoms that a customer may come in with and that have no finding, in the order of the model; all symptoms if
/// the model names none as a complaint.
[[nodiscard]] std::vector<VariableIndex> open_complaints(const Case& current);

/// open_facts, and open_complaints if nothing abnormal was found: what to ask when a vehicle comes in.
[[nodiscard]] std::vector<VariableIndex> opening_questions(const Case& current);

}  // namespace faultodds

#include "faultodds/job/opening_questions.ipp"

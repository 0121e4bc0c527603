// The engines there are, and which of them works a case out.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <optional>
#include <span>
#include <variant>

#include "faultodds/inference/engine/conditioned_engine.hpp"
#include "faultodds/inference/engine/tree_engine.hpp"
#include "faultodds/inference/engine/two_layer_engine.hpp"

namespace faultodds::detail {

using AnyEngine = std::variant<TreeEngine, TwoLayerEngine, ConditionedEngine>;
/// What each of them makes of a batch of products.
using AnyReweighing = std::variant<TreeReweighing, TwoLayerReweighing, ConditionedReweighing>;

/// Of a case that does not share its junction tree with all others: two-layer sums if they are cheap; otherwise a
/// junction tree; otherwise, since that does not fit into memory, two-layer sums that take longer; otherwise, if
/// SolverOptions::max_conditioned_cases allows it, conditioning. `before` is kept if it serves the case, which has this
/// `shape`; what becomes of that means nothing. Findings are entered. Throws TooLarge if no engine fits; Stopped.
void choose_engine(std::optional<AnyEngine>& before, const Solver& solver, CaseShape& shape,
                   std::span<const Finding> findings, const Stop& stop);

/// Natural logarithm of P(findings), without a case.
[[nodiscard]] double log_evidence_of(const Solver& solver, std::span<const Finding> findings, const Stop& stop);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/any_engine.ipp"

// Bodies of any_engine.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <utility>

#include "faultodds/inference/engine/any_engine.hpp"
#include "faultodds/inference/network/finding_weights.hpp"

namespace faultodds::detail {

/// What fits of those that come after cheap two-layer sums.
inline AnyEngine dearer_engine(const Solver& solver, const CaseShape& shape, std::span<const Finding> findings,
                               const Stop& stop) {
  const std::size_t max_cases = solver.options().max_conditioned_cases;
  try {
    return std::visit([](auto&& engine) { return AnyEngine(std::forward<decltype(engine)>(engine)); },
                      other_engine(solver, shape, findings, stop));
  } catch (const TooLarge&) {
    if (max_cases == 0) throw;
  }
  return ConditionedEngine(solver, choose_cutset(solver, findings, max_cases, stop), findings, stop);
}

inline void choose_engine(std::optional<AnyEngine>& before, const Solver& solver, CaseShape& shape,
                          std::span<const Finding> findings, const Stop& stop) {
  const auto enter = [&] {
    std::visit(
        [&](auto& engine) {
          engine.stop_by(stop);
          engine.enter(findings);
        },
        *before);
  };
  if (auto cheap = cheap_two_layer(solver, shape, findings, stop); cheap.has_value()) {
    before = *std::move(cheap);
    return enter();
  }
  leave_out_weights(shape, solver.model(), findings);
  const bool serves = before.has_value() && std::visit([&](const auto& one) { return one.serves(shape); }, *before);
  if (!serves) {
    before.reset();
    before = dearer_engine(solver, shape, findings, stop);
  }
  enter();
}

inline double log_evidence_of(const Solver& solver, std::span<const Finding> findings, const Stop& stop) {
  std::optional<AnyEngine> engine;
  if (solver.shared_tree() != nullptr) {
    engine = TreeEngine(solver.model(), solver.shared_tree());
    std::visit(
        [&](auto& one) {
          one.stop_by(stop);
          one.enter(findings);
        },
        *engine);
  } else {
    CaseShape shape = shape_of_case(solver.model(), {}, findings);
    choose_engine(engine, solver, shape, findings, stop);
  }
  return std::visit([](auto& one) { return one.log_evidence(); }, *engine);
}

}  // namespace faultodds::detail

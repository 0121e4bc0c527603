// Bodies of case_form.hpp.
#pragma once

#include <utility>

#include "faultodds/inference/case_form.hpp"

namespace faultodds::detail {

inline std::optional<CoverSums> cheap_covers(const Solver& solver, const CaseShape& shape,
                                             std::span<const Finding> findings) {
  return cover_sums(solver, shape, findings, solver.options().cover_multiplications);
}

inline CaseForm other_form(const Solver& solver, const CaseShape& shape, std::span<const Finding> findings) {
  static constexpr double times_cheap = 256.0;
  try {
    return {std::nullopt, solver.plan_for(shape)};
  } catch (const TooLarge&) {
    auto covers = cover_sums(solver, shape, findings, times_cheap * solver.options().cover_multiplications);
    if (!covers.has_value()) throw;
    return {std::move(covers), nullptr};
  }
}

}  // namespace faultodds::detail

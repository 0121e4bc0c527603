// The form in which a case is worked out: a clique tree, or cover sums where it is of two layers and they are cheaper.
#pragma once

#include <memory>
#include <optional>
#include <span>

#include "faultodds/inference/cover_sums.hpp"
#include "faultodds/inference/solver.hpp"

namespace faultodds::detail {

/// One of them.
struct CaseForm {
  std::optional<CoverSums> covers;
  std::shared_ptr<const Plan> plan;
};

/// Cover sums where they take no more than SolverOptions::cover_multiplications, so that no order for a tree need be
/// looked for.
[[nodiscard]] std::optional<CoverSums> cheap_covers(const Solver& solver, const CaseShape& shape,
                                                    std::span<const Finding> findings);

/// Where those are not to be had: a tree, or longer cover sums where that does not fit into memory. Throws TooLarge
/// where neither does.
[[nodiscard]] CaseForm other_form(const Solver& solver, const CaseShape& shape, std::span<const Finding> findings);

}  // namespace faultodds::detail

#include "faultodds/inference/case_form.ipp"

// The protocol of all measurements of posteriors: a walk of findings, one changed at each step.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds_benchmarks {

/// One finding entered, changed, or (without a state) taken back.
struct Step {
  std::size_t variable = 0;
  std::optional<std::size_t> state;
};

/// Up to `most` variables chosen at random among those that can be observed get findings one after the other, each with
/// a state drawn from its posterior; then each in turn is changed to its most probable other state, if there is a
/// possible one; then each is taken back. So a walk ends as it began.
[[nodiscard]] std::vector<Step> make_walk(const faultodds::Solver& solver, std::size_t most = 12,
                                          std::uint64_t seed = 1);

/// The findings of a case after each step of the walk.
[[nodiscard]] std::vector<std::vector<faultodds::Finding>> findings_along(const faultodds::FaultModel& model,
                                                                          const std::vector<Step>& walk);

/// A hard finding in the general form.
[[nodiscard]] faultodds::Finding hard_finding(const faultodds::FaultModel& model, std::size_t variable,
                                              std::size_t state);

}  // namespace faultodds_benchmarks

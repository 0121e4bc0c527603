// Evidence that must not count twice: what a test reveals symptom by symptom, and its outcome that sums this up.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "faultodds/inference/finding.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// A test with a finding of its own, and a symptom with one that this test reveals.
struct CountedTwice {
  VariableIndex test;
  VariableIndex symptom;

  bool operator==(const CountedTwice&) const = default;
};

/// The first pair, by the order of the model, whose evidence these findings count twice; nothing if there is none. A
/// test that reveals symptoms, such as reading trouble codes, has outcomes that sum up what it showed: beside the
/// symptoms themselves they are no news, and entered together they make the model surer than it may be.
[[nodiscard]] std::optional<CountedTwice> counted_twice(const FaultModel& model, std::span<const Finding> findings);

/// Throws ArgumentError, which names both and the remedy, if these findings count evidence twice.
void require_counted_once(const FaultModel& model, std::span<const Finding> findings);

}  // namespace faultodds

#include "faultodds/decision/evidence/counted_once.ipp"

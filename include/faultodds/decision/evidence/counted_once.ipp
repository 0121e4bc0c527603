// Bodies of counted_once.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/decision/evidence/counted_once.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {

inline std::optional<CountedTwice> counted_twice(const FaultModel& model, std::span<const Finding> findings) {
  std::optional<CountedTwice> first;
  for (const Finding& finding : findings) {
    if (first && first->test < finding.variable) continue;
    for (const VariableIndex symptom : as_test(model.variable(finding.variable)).reveals) {
      if (finding_of(findings, symptom) == nullptr) continue;
      first = CountedTwice{finding.variable, symptom};
      break;
    }
  }
  return first;
}

inline void require_counted_once(const FaultModel& model, std::span<const Finding> findings) {
  const std::optional<CountedTwice> twice = counted_twice(model, findings);
  if (!twice) return;
  const std::string test = '"' + model.variable(twice->test).name + '"';
  const std::string symptom = '"' + model.variable(twice->symptom).name + '"';
  throw ArgumentError(
      "finding of " + test,
      "it sums up what the test showed, and " + symptom +
          ", which it shows, has a finding too, so that the same evidence would count twice",
      "enter the symptoms that the test showed one by one and leave its outcome out, or take the finding of " +
          symptom + " back",
      ErrorCode::counted_twice);
}

}  // namespace faultodds

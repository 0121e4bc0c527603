// A case after a repair: what is sound now, and what the earlier findings still say.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// A case after one repair or several.
struct Repaired {
  Case current;
  /// Variable of the test whether the complaint is gone: outcome 0 "cured", 1 "still_there".
  VariableIndex check;
  std::vector<Gate> complaint;       ///< what the check is about: any of these
  std::vector<VariableIndex> past;   ///< variables about the time before the last repair
  std::vector<RepairIndex> repairs;  ///< done so far, by index
};

/// The case after the repair of this index was carried out; enter what its check says as a finding of
/// `check`. The new case has a model of its own, which includes the repair:
///
/// - The repaired component keeps its index and name for its state now: sound with the repair's probability of success
///   if it was in a state that the repair mends, perhaps eased, otherwise as it was. Its state before becomes a
///   hidden variable, "NAME_before_REPAIR", on which earlier findings and the components that it damaged still depend.
/// - Symptoms and tests below it that have a finding are there twice: under their index and name as they are now,
///   without a finding, and as "NAME_before_REPAIR" with the finding. Those without a finding depend on the state now.
/// - What was brought about by a cause that stays, stays (persistence: Heckerman, Breese & Rommelse 1995): a noisy-MAX
///   symptom that is found again says nothing about causes that the repair did not touch. A symptom found absent stays
///   absent, and keeps its finding. A test done again errs anew, and so does a variable with a full table.
/// - The complaint is what was found abnormal among the symptoms a customer complains of, otherwise among all symptoms;
///   if there is none, any fault. The check is that of the repair, otherwise that of the model; if neither names
///   one it is never wrong.
///
/// Throws ArgumentError if the model has no such repair; Stopped.
[[nodiscard]] Repaired after_repair(const Case& current, RepairIndex repair, const Stop& stop = {});
/// The same after a further repair, with what was found since the last one in `before.current`. Where `before` names no
/// complaint, it is that of the case. Throws ArgumentError if `before` names a variable that the case does not have.
[[nodiscard]] Repaired after_repair(const Repaired& before, RepairIndex repair, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/planning/repaired.ipp"

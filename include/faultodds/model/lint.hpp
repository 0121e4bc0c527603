// Remarks on a fault model that is valid but may not say what its author means.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

enum class Severity : std::uint8_t { note, warning };

/// Something to look at: where it is, what was found and what it means, and what can be done.
struct Remark {
  Severity severity = Severity::note;
  std::string place;
  std::string found;
  std::string remedy;

  bool operator==(const Remark&) const = default;
};

/// All remarks: on the model as a whole, on its variables in their order, on faults that cannot be told apart, on its
/// work and its terms. An empty list means that nothing was noticed, not that the numbers are right.
[[nodiscard]] std::vector<Remark> lint(const FaultModel& model);

/// A component in one of its unsound states.
struct FaultState {
  VariableIndex component;
  StateIndex state;

  bool operator==(const FaultState&) const = default;
};

/// Ambiguity groups (IEEE Std 1522): faults that no symptom and no test can tell apart, two or more in a group; the
/// remainder is not counted. And, as groups of one, faults that nothing can tell from a sound vehicle.
///
/// The method: a single fault, all other components sound, changes the tables of the component's direct children only.
/// Each such table is written out over the parents that are not components. Two faults are in one group when they
/// change the same tables, as far as a symptom or a test lies below them, to the same numbers. What differs in a hidden
/// variable or another component but evens out below it is not noticed, so that a group reported is always a true one.
/// Tables with more than 65536 configurations of such parents are taken to tell every fault apart.
struct AmbiguityGroups {
  std::vector<std::vector<FaultState>> alike;
  std::vector<FaultState> undetectable;
};
[[nodiscard]] AmbiguityGroups ambiguity_groups(const FaultModel& model);

}  // namespace faultodds

#include "faultodds/model/lint.ipp"

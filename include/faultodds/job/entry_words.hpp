// Entries of a job in words: what an entry is about, and what it says of it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "faultodds/job/entry.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

// All of these throw ArgumentError if the entry or the finding does not fit the model.

/// The label of what an entry is about: a variable, the repair that was done, to whom the vehicle went; "set-ups" of
/// what is in place, "end of the job" of its end. `model` is that of the job, as in all of these.
[[nodiscard]] std::string entry_label(const FaultModel& model, const Entry& entry);

/// What an entry says, without its label: "low", "43 psi: low", "code P0301; none of the other 4", "no gauge", "done;
/// cured, says the check", "handed over".
[[nodiscard]] std::string entry_in_words(const FaultModel& model, const Entry& entry);

/// A finding without its variable: "low", "low or middle", "weighed: low 0.2, good 1".
[[nodiscard]] std::string states_in_words(const FaultModel& model, const Finding& finding);

/// "cured, says the check", "still there, says the check".
[[nodiscard]] std::string check_in_words(CheckResult result);

/// "by sight", "by a test", "by the repair", "by the specialist".
[[nodiscard]] std::string confirmed_by_in_words(ConfirmedBy by);

namespace detail {

template <class Named>
[[nodiscard]] const std::string& label_or_name_of(const Named& named) {
  return named.label.empty() ? named.name : named.label;
}

/// The label of the thing of this name in a list of the model; the name if there is none.
template <class Named>
[[nodiscard]] std::string label_in(const std::vector<Named>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() ? name : label_or_name_of(*found);
}

}  // namespace detail

}  // namespace faultodds

#include "faultodds/job/entry_words.ipp"

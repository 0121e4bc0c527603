// Bodies of entry_words.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/model/wording.hpp"

namespace faultodds {
namespace detail {

class EntryLabel {
 public:
  explicit EntryLabel(const FaultModel& model) : model_(model) {}

  [[nodiscard]] std::string operator()(const FindingEntry& entry) const { return of(entry.finding.variable); }
  [[nodiscard]] std::string operator()(const ReadingEntry& entry) const { return of(entry.test); }
  [[nodiscard]] std::string operator()(const RevealedEntry& entry) const { return of(entry.test); }
  [[nodiscard]] std::string operator()(const DeclinedEntry& entry) const { return of(entry.test); }
  [[nodiscard]] std::string operator()(const PartEntry& entry) const { return of(entry.finding.variable); }
  [[nodiscard]] std::string operator()(const InPlaceEntry&) const { return "set-ups"; }
  [[nodiscard]] std::string operator()(const EndEntry&) const { return "end of the job"; }

  [[nodiscard]] std::string operator()(const RepairEntry& entry) const {
    require_index("repair", entry.repair, model_.parts().repairs.size());
    return label_or_name_of(model_.parts().repairs[entry.repair]);
  }

  [[nodiscard]] std::string operator()(const HandOverEntry& entry) const {
    require_index("hand_over", entry.hand_over, model_.parts().hand_overs.size());
    return label_or_name_of(model_.parts().hand_overs[entry.hand_over]);
  }

 private:
  [[nodiscard]] std::string of(VariableIndex variable) const { return shown(model_.variable(variable)); }

  const FaultModel& model_;
};

class EntryWords {
 public:
  explicit EntryWords(const FaultModel& model) : model_(model) {}

  [[nodiscard]] std::string operator()(const FindingEntry& entry) const {
    return states_in_words(model_, entry.finding);
  }

  [[nodiscard]] std::string operator()(const ReadingEntry& entry) const {
    return entry.text + ": " + states_in_words(model_, entry.finding);
  }

  [[nodiscard]] std::string operator()(const RevealedEntry& entry) const {
    std::vector<std::string> there;
    for (const Finding& finding : entry.findings) {
      check_finding(model_, finding);
      if (finding.weights.front() == 0.0) there.push_back(shown(model_.variable(finding.variable)));
    }
    const std::size_t absent = entry.findings.size() - there.size();
    if (there.empty()) return "none of " + std::to_string(absent);
    return wording::joined(there, "; ") + (absent > 0 ? "; none of the other " + std::to_string(absent) : "");
  }

  [[nodiscard]] std::string operator()(const DeclinedEntry& entry) const { return entry.reason; }

  [[nodiscard]] std::string operator()(const RepairEntry& entry) const {
    return entry.check ? "done; " + check_in_words(entry.check->result) : "done, not checked";
  }

  [[nodiscard]] std::string operator()(const PartEntry& entry) const { return states_in_words(model_, entry.finding); }

  [[nodiscard]] std::string operator()(const InPlaceEntry& entry) const {
    std::vector<std::string> labels;
    for (const std::string& name : entry.seen.access) labels.push_back(label_in(model_.parts().access, name));
    for (const std::string& name : entry.seen.conditions) labels.push_back(label_in(model_.parts().conditions, name));
    return "in place: " + wording::joined(labels, "; ");
  }

  [[nodiscard]] std::string operator()(const HandOverEntry&) const { return "handed over"; }

  [[nodiscard]] std::string operator()(const EndEntry& entry) const {
    static constexpr std::array<std::string_view, 4> ends{"the complaint is gone", "the vehicle was handed over",
                                                          "the complaint was left as it is", "the job was given up"};
    std::string text(ends.at(static_cast<std::size_t>(entry.end)));
    for (const ConfirmedFault& fault : entry.confirmed) {
      text += "; confirmed " + confirmed_by_in_words(fault.by) + ": " +
              claim_in_words(model_, {fault.component, {fault.state}});
    }
    return text + (entry.note.empty() ? "" : "; " + entry.note);
  }

 private:
  const FaultModel& model_;
};

}  // namespace detail

inline std::string entry_label(const FaultModel& model, const Entry& entry) {
  return std::visit(detail::EntryLabel(model), entry.what);
}

inline std::string entry_in_words(const FaultModel& model, const Entry& entry) {
  return std::visit(detail::EntryWords(model), entry.what);
}

inline std::string states_in_words(const FaultModel& model, const Finding& finding) {
  detail::check_finding(model, finding);
  const Variable& variable = model.variable(finding.variable);
  if (finding.state) return shown(variable.states[*finding.state]);
  const double most = *std::max_element(finding.weights.begin(), finding.weights.end());
  const bool is_set = std::all_of(finding.weights.begin(), finding.weights.end(),
                                  [most](double weight) { return weight == 0.0 || weight == most; });
  std::vector<std::string> parts;
  for (std::size_t s = 0; s < finding.weights.size(); ++s) {
    if (is_set && finding.weights[s] == 0.0) continue;
    const std::string& state = shown(variable.states[s]);
    parts.push_back(is_set ? state : state + ' ' + wording::number(finding.weights[s] / most, 3));
  }
  return is_set ? wording::joined(parts, " or ") : "weighed: " + wording::joined(parts, ", ");
}

inline std::string check_in_words(CheckResult result) {
  return result == CheckResult::cured ? "cured, says the check" : "still there, says the check";
}

inline std::string confirmed_by_in_words(ConfirmedBy by) {
  static constexpr std::array<std::string_view, 4> words{"by sight", "by a test", "by the repair", "by the specialist"};
  return std::string(words.at(static_cast<std::size_t>(by)));
}

}  // namespace faultodds

// What an entry of each kind must be, what it is charged, and what it does to the case.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/decision/evidence/counted_once.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/job/job.hpp"
#include "faultodds/model/row_sum.hpp"

namespace faultodds::detail {

inline void require_role(const FaultModel& model, const Finding& finding, bool is_part) {
  check_finding(model, finding);
  const Variable& variable = model.variable(finding.variable);
  if ((variable.role() == Role::component) == is_part) return;
  throw ArgumentError(variable.name, is_part ? "it is not a component" : "it is a component",
                      is_part ? "record it as a finding" : "record that its part was looked at", ErrorCode::wrong_role);
}

/// Throws ArgumentError unless the variable can be proposed as a test: it is one, or is `named` to be ranked as one.
inline void require_test(const FaultModel& model, VariableIndex variable, const std::vector<VariableIndex>& named) {
  const Variable& declined = model.variable(variable);
  if (declined.role() == Role::test || std::find(named.begin(), named.end(), variable) != named.end()) return;
  throw ArgumentError(declined.name, "its role is " + std::string(name_of(declined.role())) + ", not test",
                      "decline tests, or a variable that the options of the job name to be ranked as one",
                      ErrorCode::wrong_role);
}

/// "43 psi; 44 psi".
[[nodiscard]] inline std::string readings_in_words(std::span<const Measured> readings) {
  std::string text;
  for (const Measured& one : readings) {
    text += (text.empty() ? "" : "; ") + rounded_form(one.value) + (one.unit.empty() ? "" : ' ' + one.unit);
  }
  return text;
}

/// Checks an entry before it is taken, and works out what follows from the model alone. Throws ArgumentError and
/// UnknownName, and what finding_from_readings throws.
class EntryCheck {
 public:
  explicit EntryCheck(const FaultModel& model) : model_(model) {}

  void operator()(FindingEntry& entry) const { require_role(model_, entry.finding, false); }

  void operator()(ReadingEntry& entry) const {
    require_index("test", entry.test, model_.size());
    entry.finding = finding_from_readings(model_, entry.test, entry.readings, entry.errors);
    if (entry.text.empty()) entry.text = readings_in_words(entry.readings);
  }

  void operator()(RevealedEntry& entry) const {
    require_index("test", entry.test, model_.size());
    const Variable& test = model_.variable(entry.test);
    const std::vector<VariableIndex>& reveals = as_test(test).reveals;
    if (entry.findings.empty())
      throw ArgumentError("findings", "there are none", "give what " + test.name + " showed", ErrorCode::nothing_given);
    for (const Finding& finding : entry.findings) {
      check_finding(model_, finding);
      if (std::find(reveals.begin(), reveals.end(), finding.variable) != reveals.end()) continue;
      throw ArgumentError(model_.variable(finding.variable).name, "the test " + test.name + " does not reveal it",
                          "record it as a finding of its own", ErrorCode::not_revealed);
    }
  }

  void operator()(DeclinedEntry& entry) const { require_index("test", entry.test, model_.size()); }

  void operator()(RepairEntry& entry) const { require_index("repair", entry.repair, model_.parts().repairs.size()); }

  void operator()(PartEntry& entry) const { require_role(model_, entry.finding, true); }

  void operator()(InPlaceEntry& entry) const {
    for (const std::string& name : entry.seen.access) static_cast<void>(model_.index_of_access(name));
    for (const std::string& name : entry.seen.conditions) static_cast<void>(model_.index_of_condition(name));
  }

  void operator()(HandOverEntry& entry) const {
    require_index("hand_over", entry.hand_over, model_.parts().hand_overs.size());
  }

  void operator()(EndEntry& entry) const {
    for (const ConfirmedFault& fault : entry.confirmed) {
      require_index("component", fault.component, model_.size());
      const Variable& component = model_.variable(fault.component);
      if (component.role() != Role::component)
        throw ArgumentError(component.name, "it is not a component", "confirm faults of components",
                            ErrorCode::wrong_role);
      if (fault.state == 0 || fault.state >= component.states.size())
        throw ArgumentError(component.name, "it has no fault " + std::to_string(fault.state),
                            "give an index from 1 to " + std::to_string(component.states.size() - 1),
                            ErrorCode::index_out_of_range);
    }
  }

 private:
  const FaultModel& model_;
};

/// What an entry is charged in a case, with this in place.
class EntryCharge {
 public:
  EntryCharge(const Case& current, InPlace in_place, std::optional<double> labour_rate)
      : current_(current), in_place_(std::move(in_place)), labour_rate_(labour_rate) {}

  [[nodiscard]] Charge operator()(FindingEntry& entry) const { return of_test(entry.finding.variable); }
  [[nodiscard]] Charge operator()(ReadingEntry& entry) const { return of_test(entry.test); }
  [[nodiscard]] Charge operator()(RevealedEntry& entry) const { return of_test(entry.test); }

  [[nodiscard]] Charge operator()(RepairEntry& entry) const {
    const FaultModel& model = current_.model();
    Charge charge = of_work(model.parts().repairs[entry.repair].work, in_place_);
    const RepairCheck* check = check_of(model, entry.repair);
    if (entry.check && check != nullptr) {
      WorkCost done;
      done.opens = charge.opens;
      done.brings = charge.brings;
      entry.check->charge = of_work(check->work, after_work(model, in_place_, done));
    }
    return charge;
  }

  [[nodiscard]] Charge operator()(HandOverEntry& entry) const {
    const HandOver& to = current_.model().parts().hand_overs[entry.hand_over];
    Charge charge;
    charge.wait_minutes = to.wait_minutes.value_or(0.0);
    charge.money = to.money.value_or(0.0);
    return charge;
  }

  template <class Uncharged>
  [[nodiscard]] Charge operator()(Uncharged&) const {
    return {};
  }

 private:
  [[nodiscard]] Charge of_work(const Work& work, const InPlace& in_place) const {
    return charge_of(current_, work, in_place, labour_rate_);
  }

  [[nodiscard]] Charge of_test(VariableIndex variable) const {
    const auto* test = std::get_if<Test>(&current_.model().variable(variable).what);
    return test != nullptr ? of_work(test->work, in_place_) : Charge{};
  }

  const Case& current_;
  InPlace in_place_;
  std::optional<double> labour_rate_;
};

/// What an entry makes of the case, and of the repairs done.
class EntryEffect {
 public:
  /// `before` takes what was there before a repair.
  EntryEffect(Repaired& after, std::optional<Repaired>& before) : after_(after), before_(before) {}

  void operator()(const FindingEntry& entry) const { change(entry.finding); }
  void operator()(const ReadingEntry& entry) const { change(entry.finding); }
  void operator()(const PartEntry& entry) const { change(entry.finding); }

  void operator()(const RevealedEntry& entry) const {
    std::vector<Finding> all = after_.current.findings();
    std::erase_if(all, [&](const Finding& known) { return known.variable == entry.test; });
    for (const Finding& finding : entry.findings) replace(all, finding);
    require_counted_once(after_.current.model(), all);
    Case with(after_.current.solver());
    const StopScope scope(with, after_.current.stop());
    with.add(all);
    after_.current = std::move(with);
  }

  void operator()(const RepairEntry& entry) const {
    const Stop& stop = after_.current.stop();
    Repaired now = after_.repairs.empty() ? after_repair(after_.current, entry.repair, stop)
                                          : after_repair(after_, entry.repair, stop);
    const StopScope scope(now.current, stop);
    if (entry.check) now.current.add_finding(now.check, entry.check->result == CheckResult::cured ? 0 : 1);
    before_ = std::exchange(after_, std::move(now));
  }

  template <class WithoutEffect>
  void operator()(const WithoutEffect&) const {}

 private:
  static void replace(std::vector<Finding>& all, const Finding& finding) {
    const auto known =
        std::find_if(all.begin(), all.end(), [&](const Finding& one) { return one.variable == finding.variable; });
    if (known == all.end()) {
      all.push_back(finding);
    } else {
      *known = finding;
    }
  }

  void change(const Finding& finding) const {
    std::vector<Finding> all = after_.current.findings();
    replace(all, finding);
    require_counted_once(after_.current.model(), all);
    after_.current.change(finding);
  }

  Repaired& after_;
  std::optional<Repaired>& before_;
};

}  // namespace faultodds::detail

// Checks of work: costs, demands, conditions, repairs, and how a case ends. Part of validate.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

/// Names of a model's lists, for look-ups by the work that refers to them.
class KnownNames {
 public:
  template <class Named>
  KnownNames(std::string kind, const std::vector<Named>& list) : kind_(std::move(kind)) {
    for (const Named& item : list) {
      names_.push_back(item.name);
      set_.insert(item.name);
    }
  }

  void check(const std::string& name, const std::string& place, std::vector<Problem>& problems) const {
    if (set_.contains(name)) return;
    std::string remedy;
    for (const std::string& near : nearest_names(name, names_))
      remedy += (remedy.empty() ? "did you mean " : ", ") + quoted(near);
    add_problem(problems, place, "no " + kind_ + " is named " + quoted(name),
                remedy.empty() ? "list it under the model's " + kind_ + " entries" : remedy + '?');
  }

  void check(const std::vector<std::string>& names, const std::string& place, std::vector<Problem>& problems) const {
    std::unordered_set<std::string> seen;
    for (const std::string& name : names) {
      check(name, place, problems);
      if (!seen.insert(name).second) {
        add_problem(problems, place, "the " + kind_ + ' ' + quoted(name) + " is listed twice", "list it once");
      }
    }
  }

 private:
  std::string kind_;
  std::vector<std::string> names_;
  std::unordered_set<std::string> set_;
};

inline void check_amount(const std::optional<double>& amount, const std::string& place,
                         std::vector<Problem>& problems) {
  if (!amount || (std::isfinite(*amount) && *amount >= 0.0)) return;
  add_problem(problems, place, "it is " + shortest_form(*amount), "it must be a number of at least 0");
}

inline void check_chance(double chance, const std::string& place, std::vector<Problem>& problems) {
  if (chance >= 0.0 && chance <= 1.0) return;
  add_problem(problems, place, "it is " + shortest_form(chance), "it is a probability between 0 and 1");
}

/// Checks the pieces of work of a model one by one, and what ends a case.
class WorkCheck {
 public:
  WorkCheck(const ModelParts& parts, std::vector<Problem>& problems)
      : parts_(parts),
        problems_(problems),
        access_("access", parts.access),
        conditions_("condition", parts.conditions),
        tools_("tool", parts.tools),
        skills_("skill", parts.skills),
        cautions_("caution", parts.cautions) {}

  /// `opening` is the name of the member that lists opening work.
  void check(const Work& work, const std::string& place, const std::string& opening = "access") {
    check_amount(work.minutes, place + ".minutes", problems_);
    check_amount(work.money, place + ".money", problems_);
    check_amount(work.wait_minutes, place + ".wait_minutes", problems_);
    access_.check(work.access, place + '.' + opening, problems_);
    conditions_.check(work.conditions, place + ".conditions", problems_);
    tools_.check(work.tools, place + ".tools", problems_);
    if (!work.skill.empty()) skills_.check(work.skill, place + ".skill", problems_);
    cautions_.check(work.cautions, place + ".cautions", problems_);
    for (std::size_t i = 0; i < work.by_context.size(); ++i)
      check(work.by_context[i], place + ".by_context[" + std::to_string(i) + ']');
    check_groups(work, place);
  }

  void check(const Condition& condition, const std::string& place) {
    check(condition.work, place);
    if (!condition.work.access.empty() || !condition.work.conditions.empty()) {
      add_problem(problems_, place, "it needs access or another condition",
                  "let the work that needs this condition name these too");
    }
  }

  void check(const HandOver& hand_over, const std::string& place) {
    check_amount(hand_over.money, place + ".money", problems_);
    check_amount(hand_over.wait_minutes, place + ".wait_minutes", problems_);
    if (!hand_over.money)
      add_problem(problems_, place, "it has no money", "give the fee; 0 if it is known to cost nothing");
    if (!hand_over.repair) return;
    check_amount(hand_over.repair->times_ours, place + ".repair.times_ours", problems_);
    check_amount(hand_over.repair->other, place + ".repair.other", problems_);
  }

  void check(const RepairCheck& verification, const std::string& place) {
    check(verification.work, place);
    check_chance(verification.false_cured, place + ".false_cured", problems_);
    check_chance(verification.false_still_there, place + ".false_still_there", problems_);
    if (verification.false_cured > 0.0 && !parts_.comeback) {
      add_problem(problems_, place, "a vehicle may leave as cured and not be, but the model has no comeback",
                  "say in \"comeback\" what that costs, or make false_cured 0");
    }
  }

  void check(const Repair& repair, const std::string& place) {
    check(repair.work, place);
    if (repair.verification) check(*repair.verification, place + ".verification");
    if (!(repair.success >= 0.0 && repair.success <= 1.0)) {
      add_problem(problems_, place, "its success is " + shortest_form(repair.success),
                  "it is a probability between 0 and 1");
    }
    if (repair.component >= parts_.variables.size()) {
      add_problem(problems_, place, "its component has the index " + std::to_string(repair.component),
                  "name a component of the model");
      return;
    }
    const Variable& component = parts_.variables[repair.component];
    if (component.role() != Role::component && component.role() != Role::unclassified) {
      add_problem(problems_, place, "it repairs " + quoted(component.name) + ", which is not a component",
                  "name a component of the model");
    }
    check_mends(repair, component, place);
    check_partial(repair, component, place + ".partial");
  }

  void check_ends(const Places& places) {
    if (parts_.verification) check(*parts_.verification, "verification");
    if (parts_.comeback) {
      check_amount(parts_.comeback->money, "comeback.money", problems_);
      check_amount(parts_.comeback->minutes, "comeback.minutes", problems_);
      if (!parts_.comeback->money && !parts_.comeback->minutes)
        add_problem(problems_, "comeback", "it has neither money nor minutes", "give what a comeback costs");
    }
    if (parts_.live_with) check_amount(parts_.live_with->money, "live_with.money", problems_);
    std::unordered_map<std::string, std::size_t> first;
    for (std::size_t i = 0; i < parts_.conditions.size(); ++i) {
      const Condition& condition = parts_.conditions[i];
      if (!condition.at_start || condition.group.empty()) continue;
      if (const auto [known, fresh] = first.emplace(condition.group, i); !fresh) {
        add_problem(
            problems_, places.conditions[i],
            "it is in place at the start, and so is " + quoted(parts_.conditions[known->second].name) + " of its group",
            "conditions of one group exclude each other: at most one of them is in place");
      }
    }
  }

 private:
  void check(const ContextCost& row, const std::string& place) {
    if (row.when.empty()) {
      add_problem(problems_, place, "it names no context, so it always holds",
                  "say in \"when\" in what context it holds");
    }
    if (!row.minutes && !row.money && !row.wait_minutes) {
      add_problem(problems_, place, "it has no amount of its own", "give minutes, money or wait_minutes");
    }
    check_amount(row.minutes, place + ".minutes", problems_);
    check_amount(row.money, place + ".money", problems_);
    check_amount(row.wait_minutes, place + ".wait_minutes", problems_);
    const std::string when = place + ".when";
    check_gates(parts_, row.when, when, "name contexts of the model", problems_);
    for (const Gate& gate : row.when) {
      if (gate.variable >= parts_.variables.size() || parts_.variables[gate.variable].role() == Role::context) continue;
      const Variable& context = parts_.variables[gate.variable];
      add_problem(problems_, when, quoted(context.name) + " is no context",
                  "costs depend on what is known beforehand: name contexts of the model");
    }
  }

  /// Conditions of one group cannot be in place together, those of the access before the work included.
  void check_groups(const Work& work, const std::string& place) {
    std::unordered_set<std::string> visited;
    std::vector<const Condition*> needed;
    gather(work, visited, needed);
    std::unordered_map<std::string, const Condition*> first;
    for (const Condition* condition : needed) {
      if (condition->group.empty()) continue;
      const auto [known, fresh] = first.emplace(condition->group, condition);
      if (fresh || known->second == condition) continue;
      add_problem(problems_, place,
                  "it needs both " + quoted(known->second->name) + " and " + quoted(condition->name) +
                      ", itself or through its access",
                  "conditions of the group " + quoted(condition->group) + " exclude each other: name one of them");
    }
  }

  void gather(const Work& work, std::unordered_set<std::string>& visited, std::vector<const Condition*>& needed) const {
    for (const std::string& name : work.conditions) {
      for (const Condition& condition : parts_.conditions) {
        if (condition.name == name) needed.push_back(&condition);
      }
    }
    for (const std::string& name : work.access) {
      if (!visited.insert(name).second) continue;
      for (const Access& access : parts_.access) {
        if (access.name == name) gather(access.work, visited, needed);
      }
    }
  }

  void check_mends(const Repair& repair, const Variable& component, const std::string& place) {
    if (repair.mends.empty() && repair.partial.empty())
      add_problem(problems_, place, "it mends nothing", "name the fault states it can mend");
    std::unordered_set<std::size_t> seen;
    for (const StateIndex state : repair.mends) {
      if (state == 0 || state >= component.states.size()) {
        add_problem(problems_, place,
                    "it mends the state with index " + std::to_string(state) + " of " + quoted(component.name),
                    "it mends fault states: any but the first of " + counted(component.states.size(), "state"));
      } else if (!seen.insert(state).second) {
        add_problem(problems_, place, "it mends " + quoted(component.states[state].name) + " twice",
                    "name each fault state once");
      }
    }
  }

  void check_partial(const Repair& repair, const Variable& component, const std::string& place) {
    std::vector<double> total(component.states.size(), 0.0);
    for (const StateIndex state : repair.mends) {
      if (state < total.size()) total[state] = repair.success;
    }
    for (std::size_t i = 0; i < repair.partial.size(); ++i) {
      const Easing& easing = repair.partial[i];
      check_chance(easing.probability, place, problems_);
      if (easing.from == 0 || easing.to == 0 || easing.from == easing.to || easing.from >= total.size() ||
          easing.to >= total.size()) {
        add_problem(problems_, place,
                    "it leads from the state with index " + std::to_string(easing.from) + " to that with index " +
                        std::to_string(easing.to),
                    "it leads from one fault state to another: from 1 to less than " + std::to_string(total.size()));
        continue;
      }
      total[easing.from] += easing.probability;
      const bool twice =
          std::any_of(repair.partial.begin(), repair.partial.begin() + static_cast<std::ptrdiff_t>(i),
                      [&](const Easing& other) { return other.from == easing.from && other.to == easing.to; });
      if (twice) {
        add_problem(problems_, place,
                    "it leads twice from " + quoted(component.states[easing.from].name) + " to " +
                        quoted(component.states[easing.to].name),
                    "give one probability for both");
      }
    }
    for (std::size_t state = 1; state < total.size(); ++state) {
      if (total[state] <= 1.0 + 1e-9 || repair.success > 1.0) continue;
      add_problem(problems_, place,
                  "what it turns " + quoted(component.states[state].name) + " into sums, with its success, to " +
                      rounded_form(total[state]),
                  "what a repair can turn one fault into sums to at most 1");
    }
  }

  const ModelParts& parts_;
  std::vector<Problem>& problems_;
  KnownNames access_, conditions_, tools_, skills_, cautions_;
};

}  // namespace faultodds::detail

// Bodies of repaired.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <numeric>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"

namespace faultodds {
namespace detail {

/// The same distribution on other parents: `moved[v]` in place of v.
inline Distribution on_other_parents(Distribution distribution, const std::vector<VariableIndex>& moved) {
  const auto move = [&](VariableIndex& parent) { parent = moved[parent]; };
  const auto move_gates = [&](std::vector<Gate>& gates) {
    for (Gate& gate : gates) move(gate.variable);
  };
  if (auto* full = std::get_if<FullTable>(&distribution)) {
    for (VariableIndex& parent : full->parents) move(parent);
  } else if (auto* noisy = std::get_if<NoisyMax>(&distribution)) {
    for (Link& link : noisy->links) {
      move(link.cause);
      move_gates(link.only_when);
    }
  } else if (auto* count = std::get_if<CountOf>(&distribution)) {
    move_gates(count->inputs);
  } else if (auto* examination = std::get_if<Examination>(&distribution)) {
    move(examination->component);
  }
  return distribution;
}

/// The leak of a noisy-MAX effect that nothing but its causes brings about.
inline std::vector<double> no_leak(std::size_t states) {
  std::vector<double> leak(states, 0.0);
  leak[0] = 1.0;
  return leak;
}

/// The largest of some variables with the same states, as a noisy-MAX without noise.
inline NoisyMax largest_of(const std::vector<VariableIndex>& variables, std::size_t states) {
  Table same(states, states);
  for (std::size_t s = 0; s < states; ++s) same(s, s) = 1.0;
  NoisyMax largest{no_leak(states), {}};
  for (const VariableIndex variable : variables) largest.links.push_back({variable, same, {}, {}});
  return largest;
}

/// Any unsound or abnormal state.
inline Gate not_first(const FaultModel& model, VariableIndex variable) {
  Gate gate{variable, {}};
  for (std::size_t s = 1; s < model.state_count(variable); ++s) gate.states.push_back(s);
  return gate;
}

/// What the customer wants to be rid of.
inline std::vector<Gate> complaint_of(const Case& current) {
  const FaultModel& model = current.model();
  std::vector<Gate> of_customer;
  std::vector<Gate> of_all;
  for (const Finding& finding : current.findings()) {
    const Variable& variable = model.variable(finding.variable);
    if (variable.role() != Role::symptom || !is_abnormal(model, finding)) continue;
    of_all.push_back(not_first(model, finding.variable));
    if (variable.symptom().complaint) of_customer.push_back(of_all.back());
  }
  if (!of_customer.empty()) return of_customer;
  if (!of_all.empty()) return of_all;
  std::vector<Gate> any_fault;
  for (const VariableIndex component : model.with_role(Role::component)) {
    if (model.state_count(component) > 1) any_fault.push_back(not_first(model, component));
  }
  return any_fault;
}

/// Writes a repair into a copy of the model.
class RepairWriter {
 public:
  RepairWriter(const Repaired& before, const Repair& repair)
      : case_(before.current),
        model_(before.current.model()),
        repair_(repair),
        parts_(model_.parts()),
        before_(model_.size()),
        past_(before.past) {
    std::iota(before_.begin(), before_.end(), std::size_t{0});
  }

  /// Everything but the check.
  void write() {
    find_moved();
    for (const std::size_t v : model_.topological_order()) {
      if (twice_[v]) before_[v] = append_before(v);
    }
    for (const std::size_t v : model_.topological_order()) {
      Distribution& distribution = parts_.variables[v].distribution;
      if (v == repair_.component) {
        distribution = repaired_table();
      } else if (twice_[v] && persists(v)) {
        split(v);
      } else if (!moved_[v]) {
        distribution = on_other_parents(distribution, before_);
      }
    }
  }

  /// Appends the complaint as it is now, and the test whether it is gone; returns the latter.
  std::size_t append_check(const std::vector<Gate>& complaint_now) {
    const RepairCheck check = repair_.verification.value_or(parts_.verification.value_or(RepairCheck{}));
    const std::size_t complaint =
        append(hidden("complaint_after_" + repair_.name, {"gone", "still_there"}, CountOf{complaint_now, 1}));
    Variable test = hidden("check_after_" + repair_.name, {"cured", "still_there"},
                           FullTable{{complaint},
                                     Table(2, {1.0 - check.false_still_there, check.false_still_there,
                                               check.false_cured, 1.0 - check.false_cured})});
    test.label = check.label;
    Test& made = test.what.emplace<Test>();
    made.procedure = check.procedure;
    made.work = check.work;
    past_.push_back(complaint);
    past_.push_back(append(std::move(test)));
    return past_.back();
  }

  /// Variables about the time before; the check is among them, since after a further repair it is one of them.
  [[nodiscard]] const std::vector<VariableIndex>& past() const { return past_; }

  [[nodiscard]] std::vector<Finding> findings() const {
    std::vector<Finding> findings = case_.findings();
    for (Finding& finding : findings) finding.variable = before_[finding.variable];
    return findings;
  }

  ModelParts take() { return std::move(parts_); }

 private:
  /// A symptom without a trace stays so: what repairs do takes causes away.
  [[nodiscard]] bool stays_absent(std::size_t v) const {
    const Finding* finding = case_.finding_of(v);
    return model_.variable(v).role() == Role::symptom && finding != nullptr && finding->state == 0;
  }

  /// moved_: what depends on the component's state now. twice_: what is needed as it was before, too.
  void find_moved() {
    moved_.assign(model_.size(), false);
    twice_.assign(model_.size(), false);
    moved_[repair_.component] = true;
    twice_[repair_.component] = true;
    for (const std::size_t v : model_.topological_order()) {
      const std::vector<VariableIndex>& parents = model_.parents(v);
      const bool below = std::any_of(parents.begin(), parents.end(), [&](std::size_t p) { return moved_[p]; });
      const bool stays = stays_absent(v) || std::find(past_.begin(), past_.end(), v) != past_.end();
      if (below && !stays && model_.variable(v).role() != Role::component) moved_[v] = true;
    }
    const std::vector<VariableIndex>& order = model_.topological_order();
    for (std::size_t i = order.size(); i-- > 0;) {
      const std::size_t v = order[i];
      if (!moved_[v]) continue;
      const std::vector<VariableIndex>& children = model_.children(v);
      const bool below_needs = std::any_of(children.begin(), children.end(),
                                           [&](VariableIndex child) { return twice_[child] || !moved_[child]; });
      twice_[v] = twice_[v] || below_needs || case_.finding_of(v) != nullptr;
    }
  }

  /// Whether what brought it about before goes on doing so. Gates must not be what the repair changes, nor those of a
  /// cause that may come into another unsound state.
  [[nodiscard]] bool persists(std::size_t v) const {
    const auto* noisy = std::get_if<NoisyMax>(&model_.variable(v).distribution);
    if (noisy == nullptr || model_.variable(v).role() == Role::test) return false;
    return std::all_of(noisy->links.begin(), noisy->links.end(), [&](const Link& link) {
      const bool may_change = moved_[link.cause] && (link.cause != repair_.component || !repair_.partial.empty());
      return std::all_of(link.only_when.begin(), link.only_when.end(),
                         [&](const Gate& gate) { return !may_change && !moved_[gate.variable]; });
    });
  }

  /// Splits a noisy-MAX effect into what causes that stay bring about, and a part for each cause that moved.
  void split(std::size_t v) {
    const auto noisy = std::get<NoisyMax>(model_.variable(v).distribution);
    const std::size_t states = model_.state_count(v);
    NoisyMax rest{noisy.leak, {}};
    std::vector<VariableIndex> parts_before;
    std::vector<VariableIndex> parts_now;
    for (const Link& link : noisy.links) {
      if (!twice_[link.cause]) {
        rest.links.push_back(link);
        continue;
      }
      const std::string name = model_.variable(v).name + "_by_" + model_.variable(link.cause).name;
      Link before = link;
      before.cause = before_[link.cause];
      parts_before.push_back(
          append(hidden(name + "_before_" + repair_.name, states, NoisyMax{no_leak(states), {before}})));
      past_.push_back(parts_before.back());
      parts_now.push_back(append(hidden(name, states, contribution_now(parts_before.back(), link, states))));
    }
    const std::size_t of_rest = append(hidden(model_.variable(v).name + "_otherwise", states, std::move(rest)));
    parts_before.push_back(of_rest);
    parts_now.push_back(of_rest);
    parts_.variables[before_[v]].distribution = largest_of(parts_before, states);
    parts_.variables[v].distribution = largest_of(parts_now, states);
  }

  /// What a cause brings about now: the same as before while its state is the same. In another state it acts anew;
  /// if it is sound, not at all.
  [[nodiscard]] FullTable contribution_now(std::size_t part_before, const Link& link, std::size_t states) const {
    const std::size_t cause_states = model_.state_count(link.cause);
    FullTable table{{part_before, before_[link.cause], link.cause},
                    Table(states * cause_states * cause_states, states)};
    std::size_t row = 0;
    for (std::size_t part = 0; part < states; ++part) {
      for (std::size_t was = 0; was < cause_states; ++was) {
        for (std::size_t is = 0; is < cause_states; ++is, ++row) {
          for (std::size_t s = 0; s < states; ++s) {
            table.rows(row, s) = is == was ? (s == part ? 1.0 : 0.0) : link.effect(is, s);
          }
        }
      }
    }
    return table;
  }

  [[nodiscard]] FullTable repaired_table() const {
    const std::size_t states = model_.state_count(repair_.component);
    FullTable table{{before_[repair_.component]}, Table(states, states)};
    for (std::size_t s = 0; s < states; ++s) {
      const double mended = s > 0 && can_mend(repair_, repair_.component, s) ? repair_.success : 0.0;
      table.rows(s, s) = 1.0 - mended;
      if (s > 0) table.rows(s, 0) = mended;
    }
    for (const Easing& easing : repair_.partial) {
      table.rows(easing.from, easing.to) += easing.probability;
      table.rows(easing.from, easing.from) -= easing.probability;
    }
    return table;
  }

  std::size_t append_before(std::size_t v) {
    Variable before = model_.variable(v);
    before.name = free_name(before.name + "_before_" + repair_.name);
    before.label = shown(model_.variable(v)) + ", before: " + (repair_.label.empty() ? repair_.name : repair_.label);
    before.distribution = on_other_parents(std::move(before.distribution), before_);
    if (before.role() == Role::component) before.what = Hidden{};
    if (auto* symptom = std::get_if<Symptom>(&before.what)) {
      symptom->complaint = false;
      symptom->code.clear();
    }
    if (auto* test = std::get_if<Test>(&before.what)) {
      test->reveals.clear();
      test->only_when.clear();
      test->not_when.clear();
    }
    past_.push_back(append(std::move(before)));
    return past_.back();
  }

  [[nodiscard]] Variable hidden(const std::string& name, const std::vector<std::string>& states,
                                Distribution distribution) const {
    Variable variable;
    variable.name = free_name(name);
    variable.what = Hidden{};
    for (const std::string& state : states) variable.states.push_back({state, {}});
    variable.distribution = std::move(distribution);
    return variable;
  }

  [[nodiscard]] Variable hidden(const std::string& name, std::size_t states, Distribution distribution) const {
    std::vector<std::string> names;
    for (std::size_t s = 0; s < states; ++s) names.push_back("degree_" + std::to_string(s));
    return hidden(name, names, std::move(distribution));
  }

  std::size_t append(Variable variable) {
    parts_.variables.push_back(std::move(variable));
    return parts_.variables.size() - 1;
  }

  /// This name, or the first with a number behind it that is free.
  [[nodiscard]] std::string free_name(const std::string& name) const {
    const auto taken = [&](const std::string& wanted) {
      return std::any_of(parts_.variables.begin(), parts_.variables.end(),
                         [&](const Variable& variable) { return variable.name == wanted; });
    };
    std::string free = name;
    for (int number = 2; taken(free); ++number) free = name + '_' + std::to_string(number);
    return free;
  }

  const Case& case_;
  const FaultModel& model_;
  const Repair& repair_;
  ModelParts parts_;
  std::vector<VariableIndex> before_;  // by variable: the one that is its state before the repair
  std::vector<VariableIndex> past_;
  std::vector<bool> moved_;
  std::vector<bool> twice_;
};

}  // namespace detail

inline Repaired after_repair(const Case& current, RepairIndex repair, const Stop& stop) {
  return after_repair(Repaired{current, 0, {}, {}, {}}, repair, stop);
}

inline Repaired after_repair(const Repaired& before, RepairIndex repair, const Stop& stop) {
  const std::vector<Repair>& repairs = before.current.model().parts().repairs;
  if (repair >= repairs.size()) {
    throw ArgumentError("repair", "there is no repair " + std::to_string(repair),
                        "give an index below " + std::to_string(repairs.size()), ErrorCode::index_out_of_range);
  }
  const FaultModel& model = before.current.model();
  for (const Gate& gate : before.complaint) {
    if (gate.states.empty()) {
      throw ArgumentError(model.variable(gate.variable).name, "a complaint of no state", "name the states that are one",
                          ErrorCode::nothing_given);
    }
    for (const StateIndex state : gate.states) detail::check_state(model, gate.variable, state);
  }
  for (const VariableIndex variable : before.past) static_cast<void>(model.variable(variable));  // range check
  const std::vector<Gate> complaint =
      before.complaint.empty() ? detail::complaint_of(before.current) : before.complaint;
  detail::RepairWriter writer(before, repairs[repair]);
  writer.write();
  Repaired after = before;
  after.repairs.push_back(repair);
  after.complaint = complaint;
  after.check = writer.append_check(complaint);
  after.past = writer.past();
  after.current = Case(Solver(FaultModel(writer.take()), before.current.solver().options(), stop));
  const StopScope scope(after.current, stop);
  after.current.add(writer.findings());
  return after;
}

}  // namespace faultodds

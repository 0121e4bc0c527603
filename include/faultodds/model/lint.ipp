// Bodies of lint.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <span>
#include <string>
#include <type_traits>
#include <unordered_set>
#include <utility>
#include <vector>

#include "faultodds/model/ambiguity.ipp"
#include "faultodds/model/lint.hpp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/table_row.hpp"
#include "faultodds/model/unit.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds {
namespace detail {

/// Whether a table gives different rows for two states of one of its parents.
[[nodiscard]] inline bool tells_apart(const FaultModel& model, const Distribution& distribution, VariableIndex parent,
                                      std::size_t a, std::size_t b) {
  const auto gate_differs = [&](const Gate& gate) {
    return gate.variable == parent && holds(gate, a) != holds(gate, b);
  };
  if (const auto* table = std::get_if<FullTable>(&distribution)) {
    std::size_t stride = 1;
    for (auto p = table->parents.rbegin(); p != table->parents.rend() && *p != parent; ++p)
      stride *= model.state_count(*p);
    const std::size_t states = model.state_count(parent);
    for (std::size_t r = 0; r < table->rows.rows(); ++r) {
      if (r / stride % states != a) continue;
      if (!std::ranges::equal(table->rows.row(r), table->rows.row(r + b * stride - a * stride))) return true;
    }
    return false;
  }
  if (const auto* noisy = std::get_if<NoisyMax>(&distribution)) {
    return std::ranges::any_of(noisy->links, [&](const Link& link) {
      return (link.cause == parent && !std::ranges::equal(link.effect.row(a), link.effect.row(b))) ||
             std::ranges::any_of(link.only_when, gate_differs);
    });
  }
  if (const auto* count = std::get_if<CountOf>(&distribution)) return std::ranges::any_of(count->inputs, gate_differs);
  if (const auto* examination = std::get_if<Examination>(&distribution)) {
    const auto bad = [&](std::size_t s) { return s == 0 ? examination->false_alarm : examination->detection[s - 1]; };
    return examination->component == parent && bad(a) != bad(b);
  }
  return false;
}

/// Whether the table of a variable differs for any two states of any parent.
[[nodiscard]] inline bool depends_on_something(const FaultModel& model, VariableIndex variable) {
  return std::ranges::any_of(model.parents(variable), [&](VariableIndex parent) {
    for (std::size_t s = 1; s < model.state_count(parent); ++s) {
      if (tells_apart(model, model.variable(variable).distribution, parent, s - 1, s)) return true;
    }
    return false;
  });
}

/// Whether a state has probability zero in every row.
[[nodiscard]] inline bool is_impossible(const Distribution& distribution, StateIndex state) {
  const auto column_is_zero = [state](const Table& table) {
    for (std::size_t r = 0; r < table.rows(); ++r) {
      if (table(r, state) != 0.0) return false;
    }
    return true;
  };
  if (const auto* table = std::get_if<FullTable>(&distribution)) return column_is_zero(table->rows);
  if (const auto* noisy = std::get_if<NoisyMax>(&distribution)) {
    // State 0 is impossible if one distribution in the maximum excludes it; then it is the leak in every row.
    if (state == 0) return noisy->leak[0] == 0.0;
    return noisy->leak[state] == 0.0 &&
           std::ranges::all_of(noisy->links, [&](const Link& link) { return column_is_zero(link.effect); });
  }
  if (const auto* examination = std::get_if<Examination>(&distribution)) {
    const auto all = [&](double value) {
      return examination->false_alarm == value &&
             std::ranges::all_of(examination->detection, [&](double p) { return p == value; });
    };
    return all(state == 0 ? 1.0 : 0.0);
  }
  return false;
}

class Linter {
 public:
  explicit Linter(const FaultModel& model) : model_(model) {}

  [[nodiscard]] std::vector<Remark> run() {
    look_at_the_whole();
    look_at_scaled_rows();
    for (std::size_t v = 0; v < model_.size(); ++v) look_at(v);
    look_at_ambiguity();
    look_at_repairs();
    look_at_terms();
    return std::move(remarks_);
  }

 private:
  void note(const std::string& place, std::string found, std::string remedy) {
    remarks_.push_back({Severity::note, place, std::move(found), std::move(remedy)});
  }
  void warn(const std::string& place, std::string found, std::string remedy) {
    remarks_.push_back({Severity::warning, place, std::move(found), std::move(remedy)});
  }

  void look_at_the_whole() {
    const Header& header = model_.header();
    if (header.invented && header.safety.empty()) {
      warn("safety", "the data are marked as invented, but there is no safety text",
           "say in \"safety\" that the numbers must be tuned before any real use, and what to beware of");
    }
    const std::vector<VariableIndex> components = model_.with_role(Role::component);
    if (components.empty()) return;
    if (std::ranges::none_of(components, [&](std::size_t c) { return is_remainder(model_.variable(c)); })) {
      warn("components", "no component means \"not any listed fault\"",
           "add one with \"remainder\": true and a small prior as a cause of the complaints; without it the listed "
           "faults take "
           "all blame, however badly they fit");
    }
    const std::vector<VariableIndex> symptoms = model_.with_role(Role::symptom);
    if (std::ranges::none_of(symptoms, [&](std::size_t s) { return model_.variable(s).symptom().complaint; })) {
      warn("symptoms", "no symptom is marked as a complaint",
           "mark with \"complaint\": true what a customer may come in with");
    }
  }

  void look_at_scaled_rows() {
    const std::vector<ScaledRow>& scaled = model_.scaled_rows();
    for (std::size_t i = 0; i < scaled.size();) {
      std::size_t end = i;
      std::size_t furthest = i;
      for (; end < scaled.size() && scaled[end].variable == scaled[i].variable; ++end) {
        if (std::abs(scaled[end].sum - 1.0) > std::abs(scaled[furthest].sum - 1.0)) furthest = end;
      }
      const std::string which = end - i == 1 ? "one row" : std::to_string(end - i) + " rows";
      note(scaled[i].variable,
           which + " of its table missed 1 by rounding and " + (end - i == 1 ? "was" : "were") + " scaled; row " +
               std::to_string(scaled[furthest].row) + " summed to " + rounded_form(scaled[furthest].sum),
           "write more digits if that matters");
      i = end;
    }
  }

  void look_at(std::size_t v) {
    const Variable& variable = model_.variable(v);
    for (std::size_t s = 0; s < variable.states.size(); ++s) {
      if (variable.states.size() < 2 || !is_impossible(variable.distribution, s)) continue;
      note(variable.name, "the state " + quoted(variable.states[s].name) + " has probability zero in every row",
           "remove the state, or give it a probability: a finding of it would be refused as impossible");
    }
    if (variable.role() == Role::context) look_at_context(v);
    if (is_observed(variable)) look_at_observation(v);
    if (variable.role() == Role::component && variable.states.size() < 2) {
      warn(variable.name, "it has no fault state", "list at least one state besides the sound one");
    }
    if (const auto* test = std::get_if<Test>(&variable.what)) {
      look_at_cost(variable.name, test->work);
      look_at_precondition(variable.name, *test);
      if (test->reading) look_at_reading(variable.name, *test->reading);
    }
  }

  void look_at_context(std::size_t v) {
    const Variable& variable = model_.variable(v);
    const std::vector<VariableIndex>& children = model_.children(v);
    const auto gates_a_test = [&](const auto& differs) {
      return std::ranges::any_of(model_.variables(), [&](const Variable& other) {
        const Test& test = as_test(other);
        const auto on_it = [&](const Gate& gate) { return gate.variable == v && differs(gate); };
        return std::ranges::any_of(test.only_when, on_it) || std::ranges::any_of(test.not_when, on_it);
      });
    };
    if (children.empty() && !gates_a_test([](const Gate&) { return true; })) {
      warn(variable.name, "no table depends on this context", "use it in a table or an \"only_when\", or remove it");
      return;
    }
    for (std::size_t b = 1; b < variable.states.size(); ++b) {
      for (std::size_t a = 0; a < b; ++a) {
        if (std::ranges::any_of(children,
                                [&](VariableIndex child) {
                                  return tells_apart(model_, model_.variable(child).distribution, v, a, b);
                                }) ||
            gates_a_test([&](const Gate& gate) { return holds(gate, a) != holds(gate, b); })) {
          continue;
        }
        note(variable.name,
             "no table makes a difference between " + quoted(variable.states[a].name) + " and " +
                 quoted(variable.states[b].name),
             "merge the two states, or say what the difference does");
        break;
      }
    }
  }

  void look_at_observation(std::size_t v) {
    const Variable& variable = model_.variable(v);
    const bool is_test = variable.role() == Role::test;
    if (!depends_on_something(model_, v)) {
      warn(variable.name,
           is_test ? "the test tells nothing: its outcomes are equally probable whatever is wrong"
                   : "the symptom tells nothing: it is equally probable whatever is wrong",
           "let its table depend on the faults it shows, or remove it");
    }
    if (variable.source.empty()) {
      note(variable.name, "nothing says where its numbers come from",
           "name the source, or say \"common practice, no source\"");
    }
  }

  void look_at_cost(const std::string& name, const Work& work) {
    const bool minutes = work.minutes.has_value();
    const bool money = work.money.has_value();
    if (!minutes && !money) {
      warn(name, "it has neither minutes nor money, so that its gain cannot be weighed against its cost",
           "give at least \"minutes\"; \"money\": 0 if nothing is used up");
    } else if (!minutes) {
      warn(name, "it has no minutes and counts as done in no time", "give \"minutes\"");
    } else if (!money) {
      note(name, "it has no money and counts as free but for labour", "say \"money\": 0 if that is meant");
    }
    look_at_cautions(name, work);
  }

  void look_at_precondition(const std::string& name, const Test& test) {
    for (const Gate& gate : test.only_when) {
      const Variable& gated = model_.variable(gate.variable);
      if (gate.states.size() == gated.states.size()) {
        note(name, "its precondition is met by any state of " + quoted(gated.name),
             "name the states in which it makes sense, or leave that out of \"only_when\"");
      } else if (std::ranges::all_of(gate.states,
                                     [&](std::size_t s) { return is_impossible(gated.distribution, s); })) {
        warn(name, "its precondition is a state of " + quoted(gated.name) + " that has probability zero in every row",
             "name a state that can be found: this test is never proposed");
      }
    }
  }

  void look_at_reading(const std::string& place, const Reading& reading) {
    if (reading.unit.empty()) return;
    const auto unit = find_unit(reading.unit);
    if (!unit) {
      note(place, "the unit " + quoted(reading.unit) + " of its reading is not known, so that no other converts to it",
           "use an SI-style symbol, such as kPa, V, ohm, g/s, degC, 1/min");
    } else if (unit->symbol == "K" && !reading.difference) {
      warn(place, "its reading is a temperature in K, counted from absolute zero: 20 degC would be 293 K",
           "say \"difference\": true if it is a difference, or give it in degC");
    }
  }

  void look_at_cautions(const std::string& place, const Work& work) {
    if (work.access.empty() || !work.cautions.empty()) return;
    note(place, "something is opened for it, but it has no caution of its own",
         "name what can burn, cut, start, fall or leak there; leave it out only if there is really nothing");
  }

  [[nodiscard]] std::string fault_text(FaultState fault) const {
    const Variable& component = model_.variable(fault.component);
    return component.name + '=' + component.states[fault.state].name;
  }

  void look_at_ambiguity() {
    const AmbiguityGroups groups = ambiguity_groups(model_);
    const std::vector<bool> leads = leads_to_observation(model_);
    std::unordered_set<std::size_t> said;
    for (const FaultState fault : groups.undetectable) {
      const Variable& component = model_.variable(fault.component);
      if (!leads[fault.component]) {
        if (!said.insert(fault.component).second) continue;
        warn(component.name, "no symptom and no test can be reached from it: its faults cannot be detected",
             "add a symptom or a test that depends on it, or remove it");
      } else {
        warn(component.name,
             fault_text(fault) + " looks like a sound " + shown(component) + " to every symptom and test",
             "give it an effect of its own, or remove the state");
      }
    }
    for (const auto& group : groups.alike) {
      std::string names;
      for (const FaultState fault : group) names += (names.empty() ? "" : ", ") + fault_text(fault);
      const bool one_component =
          std::ranges::all_of(group, [&](FaultState f) { return f.component == group.front().component; });
      remarks_.push_back({one_component ? Severity::note : Severity::warning,
                          model_.variable(group.front().component).name,
                          "no symptom and no test tells these faults apart (an ambiguity group): " + names,
                          "add a test on which they differ, or merge them if one repair serves all"});
    }
  }

  void look_at_repairs() {
    for (const Repair& repair : model_.parts().repairs) {
      if (repair.success == 0.0)
        warn(repair.name, "its success is 0: it never mends anything", "give the share of vehicles it mends");
      if (!repair.work.minutes && !repair.work.money) {
        warn(repair.name, "it has neither minutes nor money", "give what it costs, or it will look free");
      }
      look_at_cautions(repair.name, repair.work);
    }
  }

  void look_at_terms() {
    std::unordered_set<std::string> access, conditions, tools, skills, cautions;
    const auto use = [&](const Work& work) {
      access.insert(work.access.begin(), work.access.end());
      conditions.insert(work.conditions.begin(), work.conditions.end());
      tools.insert(work.tools.begin(), work.tools.end());
      skills.insert(work.skill);
      cautions.insert(work.cautions.begin(), work.cautions.end());
    };
    const ModelParts& parts = model_.parts();
    for (const Variable& variable : parts.variables) use(as_test(variable).work);
    for (const Access& one : parts.access) use(one.work);
    for (const Condition& one : parts.conditions) use(one.work);
    for (const Repair& repair : parts.repairs) {
      use(repair.work);
      if (repair.verification) use(repair.verification->work);
    }
    if (parts.verification) use(parts.verification->work);
    const auto report = [&](const auto& list, const std::unordered_set<std::string>& used, const std::string& kind) {
      for (const auto& item : list) {
        if (used.contains(item.name)) continue;
        note(item.name, "no test, repair or access uses this " + kind, "use it where it is needed, or remove it");
      }
    };
    report(parts.access, access, "access");
    report(parts.conditions, conditions, "condition");
    report(parts.tools, tools, "tool");
    report(parts.skills, skills, "skill");
    report(parts.cautions, cautions, "caution");
  }

  const FaultModel& model_;
  std::vector<Remark> remarks_;
};

}  // namespace detail

inline std::vector<Remark> lint(const FaultModel& model) { return detail::Linter(model).run(); }

}  // namespace faultodds

// Bodies of cost.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>

#include "faultodds/decision/work/cost.hpp"

namespace faultodds {
namespace detail {

inline const Access& access_of(const FaultModel& model, const std::string& name) {
  return model.parts().access[model.index_of_access(name)];
}

inline const Condition& condition_of(const FaultModel& model, const std::string& name) {
  return model.parts().conditions[model.index_of_condition(name)];
}

inline std::size_t skill_level(const FaultModel& model, const std::string& name) {
  return model.find_skill(name).value_or(0);
}

inline bool is_among(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

inline void add_once(std::vector<std::string>& names, const std::vector<std::string>& more) {
  for (const std::string& name : more) {
    if (!is_among(names, name)) names.push_back(name);
  }
}

/// What a piece of work itself takes.
struct Amounts {
  double minutes = 0.0;
  double money = 0.0;
  double wait_minutes = 0.0;

  void add(const Amounts& more, double times = 1.0) {
    minutes += times * more.minutes;
    money += times * more.money;
    wait_minutes += times * more.wait_minutes;
  }
};

inline Amounts plain_amounts(const Work& work) {
  return {work.minutes.value_or(0.0), work.money.value_or(0.0), work.wait_minutes.value_or(0.0)};
}

/// The amounts if the variables of the gates are in these states.
inline Amounts amounts_in(const Work& work, const std::vector<VariableIndex>& variables,
                          const std::vector<StateIndex>& states) {
  const auto holds = [&](const Gate& gate) {
    const auto at = std::find(variables.begin(), variables.end(), gate.variable) - variables.begin();
    return std::find(gate.states.begin(), gate.states.end(), states[static_cast<std::size_t>(at)]) != gate.states.end();
  };
  const Amounts plain = plain_amounts(work);
  for (const ContextCost& row : work.by_context) {
    if (!std::all_of(row.when.begin(), row.when.end(), holds)) continue;
    return {row.minutes.value_or(plain.minutes), row.money.value_or(plain.money),
            row.wait_minutes.value_or(plain.wait_minutes)};
  }
  return plain;
}

/// Expected over the joint posterior of the contexts that the work names.
inline Amounts expected_amounts(const Case& current, const Work& work) {
  std::vector<VariableIndex> variables;
  for (const ContextCost& row : work.by_context) {
    for (const Gate& gate : row.when) {
      if (std::find(variables.begin(), variables.end(), gate.variable) == variables.end())
        variables.push_back(gate.variable);
    }
  }
  if (variables.empty()) return amounts_in(work, {}, {});
  const std::vector<double> joint =
      variables.size() == 1 ? current.posterior(variables[0]) : current.joint(variables).probabilities;
  std::vector<StateIndex> states(variables.size());
  Amounts expected;
  for (std::size_t row = 0; row < joint.size(); ++row) {
    std::size_t rest = row;
    for (std::size_t i = variables.size(); i-- > 0;) {
      const std::size_t count = current.model().state_count(variables[i]);
      states[i] = rest % count;
      rest /= count;
    }
    expected.add(amounts_in(work, variables, states), joint[row]);
  }
  return expected;
}

/// Access jobs that have to be opened for `name`, what is needed before them first.
inline void open_access(const FaultModel& model, const std::string& name, const std::vector<std::string>& open,
                        std::vector<std::string>& opens) {
  if (is_among(open, name) || is_among(opens, name)) return;
  for (const std::string& before : access_of(model, name).work.access) open_access(model, before, open, opens);
  opens.push_back(name);
}

inline void gather_conditions(const FaultModel& model, const Work& work, std::vector<std::string>& visited,
                              std::vector<std::string>& conditions) {
  for (const std::string& name : work.access) {
    if (is_among(visited, name)) continue;
    visited.push_back(name);
    gather_conditions(model, access_of(model, name).work, visited, conditions);
  }
  add_once(conditions, work.conditions);
}

/// What has to be opened and brought about, without amounts.
inline WorkCost set_ups_of(const FaultModel& model, const Work& work, const InPlace& in_place) {
  WorkCost cost;
  for (const std::string& name : work.access) open_access(model, name, in_place.access, cost.opens);
  for (const std::string& name : conditions_of(model, work)) {
    if (!is_among(in_place.conditions, name)) cost.brings.push_back(name);
  }
  return cost;
}

template <class AmountsOf>
[[nodiscard]] WorkCost cost_by(const FaultModel& model, const Work& work, const InPlace& in_place,
                               std::optional<double> labour_rate, AmountsOf amounts_of) {
  WorkCost cost = set_ups_of(model, work, in_place);
  cost.known = work.minutes.has_value() || work.money.has_value() || !work.by_context.empty();
  Amounts sum = amounts_of(work);
  for (const std::string& name : cost.opens) sum.add(amounts_of(access_of(model, name).work));
  for (const std::string& name : cost.brings) sum.add(amounts_of(condition_of(model, name).work));
  cost.minutes = sum.minutes;
  cost.money = sum.money;
  cost.wait_minutes = sum.wait_minutes;
  cost.cost = cost.money + cost.minutes / 60.0 * labour_rate.value_or(model.header().labour_rate);
  return cost;
}

/// Puts a condition in place, and ends the others of its group.
inline void bring_about(const FaultModel& model, const std::string& name, std::vector<std::string>& conditions) {
  const auto group_of = [&](const std::string& of) {
    const auto at = model.find_condition(of);
    return at ? model.parts().conditions[*at].group : std::string();
  };
  const std::string group = group_of(name);
  std::erase_if(conditions, [&](const std::string& other) {
    return other == name || (!group.empty() && group_of(other) == group);
  });
  conditions.push_back(name);
}

}  // namespace detail

inline WorkCost cost_of(const Case& current, const Work& work, const InPlace& in_place,
                        std::optional<double> labour_rate) {
  return detail::cost_by(current.model(), work, in_place, labour_rate,
                         [&](const Work& one) { return detail::expected_amounts(current, one); });
}

inline WorkCost cost_of(const FaultModel& model, const Work& work, const InPlace& in_place,
                        std::optional<double> labour_rate) {
  return detail::cost_by(model, work, in_place, labour_rate, detail::plain_amounts);
}

inline std::vector<std::string> conditions_of(const FaultModel& model, const Work& work) {
  std::vector<std::string> visited, conditions;
  detail::gather_conditions(model, work, visited, conditions);
  return conditions;
}

inline InPlace after_work(const FaultModel& model, InPlace before, const WorkCost& cost) {
  detail::add_once(before.access, cost.opens);
  for (const std::string& name : cost.brings) detail::bring_about(model, name, before.conditions);
  return before;
}

inline InPlace in_place_in(const Case& current, const InPlace& stated, std::optional<std::size_t> stated_after) {
  const FaultModel& model = current.model();
  InPlace now{stated.access, {}};
  for (const Condition& condition : model.parts().conditions) {
    if (condition.at_start) detail::bring_about(model, condition.name, now.conditions);
  }
  const std::vector<Finding>& findings = current.findings();
  const std::size_t seen = std::min(stated_after.value_or(findings.size()), findings.size());
  for (std::size_t i = 0; i <= findings.size(); ++i) {
    if (i == seen) {
      for (const std::string& name : stated.conditions) detail::bring_about(model, name, now.conditions);
    }
    if (i == findings.size()) break;
    const auto* test = std::get_if<Test>(&model.variable(findings[i].variable).what);
    if (test == nullptr) continue;
    const WorkCost done = detail::set_ups_of(model, test->work, now);
    now = after_work(model, std::move(now), done);
  }
  return now;
}

inline std::vector<std::string> tools_of(const FaultModel& model, const Work& work, const WorkCost& cost) {
  std::vector<std::string> tools;
  for (const std::string& name : cost.opens) detail::add_once(tools, detail::access_of(model, name).work.tools);
  for (const std::string& name : cost.brings) detail::add_once(tools, detail::condition_of(model, name).work.tools);
  detail::add_once(tools, work.tools);
  return tools;
}

inline std::vector<std::string> cautions_of(const FaultModel& model, const Work& work, const WorkCost& cost) {
  std::vector<std::string> cautions;
  for (const std::string& name : cost.brings)
    detail::add_once(cautions, detail::condition_of(model, name).work.cautions);
  for (const std::string& name : cost.opens) detail::add_once(cautions, detail::access_of(model, name).work.cautions);
  detail::add_once(cautions, work.cautions);
  return cautions;
}

inline std::optional<std::size_t> skill_of(const FaultModel& model, const Work& work, const WorkCost& cost) {
  std::optional<std::size_t> level;
  const auto raise = [&](const Work& part) {
    if (!part.skill.empty()) level = std::max(level, std::optional(detail::skill_level(model, part.skill)));
  };
  raise(work);
  for (const std::string& name : cost.opens) raise(detail::access_of(model, name).work);
  for (const std::string& name : cost.brings) raise(detail::condition_of(model, name).work);
  return level;
}

}  // namespace faultodds

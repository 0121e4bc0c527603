// What a piece of work costs in a case: its own minutes and money and those of the access it has to open.
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

struct WorkCost {
  double minutes = 0.0;
  double money = 0.0;                 ///< without labour
  double cost = 0.0;                  ///< money plus minutes at the model's labour rate
  std::vector<std::string> opens;     ///< access jobs in the order they are done
  bool known = false;                 ///< the model names minutes or money for the work
  double wait_minutes = 0.0;          ///< the vehicle stands and nobody works; no labour
  std::vector<std::string> brings{};  ///< conditions brought about, before the access jobs are done
};

/// Cost of `work` where the access jobs of `open` are open already. An access job is paid once, with those behind it.
[[nodiscard]] WorkCost cost_of(const FaultModel& model, const Work& work, std::span<const std::string> open);

/// The tools a piece of work needs, those of the access it opens included; each once.
[[nodiscard]] std::vector<std::string> tools_of(const FaultModel& model, const Work& work, const WorkCost& cost);

/// The highest skill level of a piece of work and the access it opens, as an index into the model's skills; nothing
/// needs none (0 counts as the lowest level).
[[nodiscard]] std::size_t skill_of(const FaultModel& model, const Work& work, const WorkCost& cost);

namespace detail {

inline const Access& access_of(const FaultModel& model, const std::string& name) {
  const std::vector<Access>& all = model.parts().access;
  return *std::find_if(all.begin(), all.end(), [&](const Access& access) { return access.name == name; });
}

inline void open_access(const FaultModel& model, const std::string& name, std::span<const std::string> open,
                        WorkCost& cost) {
  const auto among = [&](auto&& names) { return std::find(names.begin(), names.end(), name) != names.end(); };
  if (among(open) || among(cost.opens)) return;
  const Access& access = access_of(model, name);
  for (const std::string& before : access.work.access) open_access(model, before, open, cost);
  cost.opens.push_back(name);
  cost.minutes += access.work.minutes.value_or(0.0);
  cost.money += access.work.money.value_or(0.0);
}

inline std::size_t skill_level(const FaultModel& model, const std::string& name) {
  const std::vector<Term>& skills = model.parts().skills;
  const auto at = std::find_if(skills.begin(), skills.end(), [&](const Term& skill) { return skill.name == name; });
  return at == skills.end() ? 0 : static_cast<std::size_t>(at - skills.begin());
}

}  // namespace detail

inline WorkCost cost_of(const FaultModel& model, const Work& work, std::span<const std::string> open) {
  WorkCost cost;
  cost.known = work.minutes.has_value() || work.money.has_value();
  cost.minutes = work.minutes.value_or(0.0);
  cost.money = work.money.value_or(0.0);
  for (const std::string& name : work.access) detail::open_access(model, name, open, cost);
  cost.cost = cost.money + cost.minutes / 60.0 * model.header().labour_rate;
  return cost;
}

inline std::vector<std::string> tools_of(const FaultModel& model, const Work& work, const WorkCost& cost) {
  std::vector<std::string> tools;
  const auto add = [&tools](const std::vector<std::string>& names) {
    for (const std::string& name : names) {
      if (std::find(tools.begin(), tools.end(), name) == tools.end()) tools.push_back(name);
    }
  };
  for (const std::string& name : cost.opens) add(detail::access_of(model, name).work.tools);
  add(work.tools);
  return tools;
}

inline std::size_t skill_of(const FaultModel& model, const Work& work, const WorkCost& cost) {
  std::size_t level = detail::skill_level(model, work.skill);
  for (const std::string& name : cost.opens) {
    level = std::max(level, detail::skill_level(model, detail::access_of(model, name).work.skill));
  }
  return level;
}

}  // namespace faultodds

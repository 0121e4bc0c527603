// Bodies of means.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>

#include "faultodds/decision/work/means.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/names.hpp"

namespace faultodds {
namespace detail {

template <class Named>
void require_names(const std::vector<Named>& known, const std::vector<std::string>& names, const char* kind) {
  std::vector<std::string> all;
  all.reserve(known.size());
  for (const Named& one : known) all.push_back(one.name);
  for (const std::string& name : names) {
    if (std::find(all.begin(), all.end(), name) == all.end()) {
      throw UnknownName(kind, name, nearest_names(name, all), {}, all);
    }
  }
}

inline void require_amount(const std::optional<double>& amount, const char* argument, const std::string& what) {
  if (!amount || (*amount >= 0.0 && std::isfinite(*amount))) return;
  throw ArgumentError(argument, "it is " + shortest_form(*amount), "it is " + what + ": a number of at least 0");
}

}  // namespace detail

inline void require_known(const FaultModel& model, const Means& means) {
  const ModelParts& parts = model.parts();
  if (means.tools) detail::require_names(parts.tools, *means.tools, "tool");
  if (means.skill) detail::require_names(parts.skills, {*means.skill}, "skill");
  detail::require_names(parts.access, means.open_access, "access");
  detail::require_names(parts.access, means.closed_access, "access");
  detail::require_names(parts.conditions, means.conditions, "condition");
  detail::require_amount(means.labour_rate, "labour_rate", "money an hour");
  detail::require_amount(means.max_cost, "max_cost", "money");
  detail::require_amount(means.max_minutes, "max_minutes", "a time in minutes");
}

inline InPlace in_place_in(const Case& current, const Means& means) {
  return in_place_in(current, {means.open_access, means.conditions}, means.stated_after);
}

inline std::string beyond_means(const FaultModel& model, const Means& means, const Work& work, const WorkCost& cost) {
  if (means.tools) {
    for (const std::string& tool : tools_of(model, work, cost)) {
      if (!detail::is_among(*means.tools, tool)) return "needs a tool that is not at hand: " + tool;
    }
  }
  const std::optional<std::size_t> skill = skill_of(model, work, cost);
  if (means.skill && skill > detail::skill_level(model, *means.skill)) {
    return "needs more skill than " + *means.skill + ": " + model.parts().skills[*skill].name;
  }
  for (const std::string& name : cost.opens) {
    if (detail::is_among(means.closed_access, name)) return "what must stay closed would have to be opened: " + name;
  }
  if (cost.cost > means.max_cost.value_or(cost.cost)) {
    return "costs more than " + shortest_form(*means.max_cost) + ' ' + model.header().currency;
  }
  const double minutes = cost.minutes + cost.wait_minutes;
  if (minutes > means.max_minutes.value_or(minutes)) {
    return "takes more than " + shortest_form(*means.max_minutes) + " min";
  }
  return {};
}

}  // namespace faultodds

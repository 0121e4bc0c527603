// Bodies of means.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cmath>

#include "faultodds/decision/work/means.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/row_sum.hpp"

namespace faultodds {
namespace detail {

inline void require_amount(const std::optional<double>& amount, const char* argument, const std::string& what) {
  if (!amount || (*amount >= 0.0 && std::isfinite(*amount))) return;
  throw ArgumentError(argument, "it is " + shortest_form(*amount), "it is " + what + ": a number of at least 0",
                      ErrorCode::wrong_number);
}

}  // namespace detail

inline void require_known(const FaultModel& model, const Means& means) {
  if (means.tools) {
    for (const std::string& name : *means.tools) static_cast<void>(model.index_of_tool(name));
  }
  if (means.skill) static_cast<void>(model.index_of_skill(*means.skill));
  for (const std::string& name : means.open_access) static_cast<void>(model.index_of_access(name));
  for (const std::string& name : means.closed_access) static_cast<void>(model.index_of_access(name));
  for (const std::string& name : means.conditions) static_cast<void>(model.index_of_condition(name));
  detail::require_amount(means.labour_rate, "labour_rate", "money per hour");
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

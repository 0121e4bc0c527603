// Work at a vehicle: what it costs and demands, what must be open or in place for it, and how a case ends.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "faultodds/model/table.hpp"

namespace faultodds {

/// What a piece of work costs if the context is as the gates say. An amount left out is the plain one.
struct ContextCost {
  std::vector<Gate> when;  ///< on contexts; all must hold
  std::optional<double> minutes{};
  std::optional<double> money{};
  std::optional<double> wait_minutes{};

  bool operator==(const ContextCost&) const = default;
};

/// Minutes and money of a piece of work, and what it demands. Names refer to the model's lists.
struct Work {
  std::optional<double> minutes;      ///< somebody works
  std::optional<double> money;        ///< in the model's currency, without labour
  std::vector<std::string> access;    ///< opening work that must be done before
  std::vector<std::string> tools;     ///< tools needed
  std::string skill;                  ///< the least skill level; empty: anybody
  std::vector<std::string> cautions;  ///< shown before the step
  std::string source;
  std::optional<double> wait_minutes{};   ///< the vehicle waits and nobody works: glue sets, the engine cools
  std::vector<std::string> conditions{};  ///< that must be in place while it is done, at most one of a group
  std::vector<ContextCost> by_context{};  ///< the first row whose gates hold counts

  bool operator==(const Work&) const = default;
};

/// Opening work paid once and shared by the tests and repairs behind it. `work.access` names what must be open before,
/// `work.conditions` what must be in place whenever something behind it is done.
struct Access {
  std::string name;
  std::string label;
  std::string description;
  Work work;

  bool operator==(const Access&) const = default;
};

/// The state that the vehicle must be in for some work: engine cold, on the road, a second person at hand. Bringing it
/// about costs `work`, once; it then stays, until another of its group is brought about.
struct Condition {
  std::string name;
  std::string label;
  std::string description;
  std::string group;      ///< conditions of one group exclude each other; empty: it excludes none
  bool at_start = false;  ///< in place when a case begins
  Work work;              ///< needs no access and no other condition

  bool operator==(const Condition&) const = default;
};

/// What the repair costs at a specialist who charges it besides the search.
struct RepairElsewhere {
  double times_ours = 1.0;  ///< times the cheapest of the model's repairs that mend the fault, its set-ups included
  double other = 0.0;       ///< of what no repair of the model mends

  bool operator==(const RepairElsewhere&) const = default;
};

/// Giving the vehicle to a specialist, who finds the cause and mends it: that ends the case.
struct HandOver {
  std::string name;
  std::string label;
  std::string description;
  std::optional<double> money;         ///< all that it costs, but for `repair` if that is given
  std::optional<double> wait_minutes;  ///< until the vehicle is back
  std::string tells;                   ///< what the specialist can do that this bench cannot
  std::string source;
  std::optional<RepairElsewhere> repair{};  ///< nothing: `money` covers it

  bool operator==(const HandOver&) const = default;
};

/// The check after a repair, whether the complaint is gone.
struct RepairCheck {
  std::string label;
  std::string procedure;
  Work work;
  double false_cured = 0.0;        ///< P(seems cured | not cured)
  double false_still_there = 0.0;  ///< P(seems still there | cured)
  std::string source;

  bool operator==(const RepairCheck&) const = default;
};

/// What it costs, all told, when a vehicle leaves as cured and is not: goodwill, and the search that follows.
struct Comeback {
  std::optional<double> money;
  std::optional<double> minutes;
  std::string source;

  bool operator==(const Comeback&) const = default;
};

/// What it costs, all told, to leave the complaint as it is.
struct LiveWith {
  double money = 0.0;
  std::string source;

  bool operator==(const LiveWith&) const = default;
};

}  // namespace faultodds

// What can be done at the bench: the one description that rankings, planning problems and jobs share.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/work/cost.hpp"
#include "faultodds/inference/case.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// What can be done at the bench. As it is here: any tool, any skill, any opening work, no limits.
struct Means {
  std::optional<std::vector<std::string>> tools{};  ///< at hand; nothing: every tool; empty: none
  std::optional<std::string> skill{};               ///< work above this level is out of reach; nothing: no limit
  /// Opening work paid for already, besides that of the tests done.
  std::vector<std::string> open_access{};
  std::vector<std::string> closed_access{};   ///< opening work that must not be done
  std::vector<std::string> conditions{};      ///< seen to be in place, besides what the tests done have left
  std::optional<std::size_t> stated_after{};  ///< findings there were when that was seen; nothing: it was seen just now
  std::optional<double> max_cost{};           ///< of one step, with what must be brought about for it
  std::optional<double> max_minutes{};        ///< of the same, waiting included
  std::optional<double> labour_rate{};        ///< money per hour; nothing: that of the model

  bool operator==(const Means&) const = default;
};

/// Throws UnknownName for tools, skills, access and conditions that the model does not know, ArgumentError for a labour
/// rate or a limit below 0.
void require_known(const FaultModel& model, const Means& means);

/// What is in place in a case, by the tests done and by what the means state.
[[nodiscard]] InPlace in_place_in(const Case& current, const Means& means);

/// Why a piece of work that costs `cost` is beyond the means; empty if it is not. The tools and the skill of the access
/// it opens and the conditions it brings about count too.
[[nodiscard]] std::string beyond_means(const FaultModel& model, const Means& means, const Work& work,
                                       const WorkCost& cost);

}  // namespace faultodds

#include "faultodds/decision/work/means.ipp"

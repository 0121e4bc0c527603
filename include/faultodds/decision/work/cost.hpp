// What a piece of work costs in a case: its own minutes and money, those of the access it has to open and of the
// conditions it has to bring about.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// What has been paid for at the vehicle already: access jobs that are open, conditions that are in place.
struct InPlace {
  std::vector<std::string> access;
  std::vector<std::string> conditions;  ///< at most one of a group

  bool operator==(const InPlace&) const = default;
};

struct WorkCost {
  double minutes = 0.0;
  double money = 0.0;               ///< without labour
  double cost = 0.0;                ///< money plus minutes at the labour rate
  std::vector<std::string> opens;   ///< access jobs in the order they are done
  bool known = false;               ///< the model names minutes or money for the work
  double wait_minutes = 0.0;        ///< the vehicle waits and nobody works; no labour
  std::vector<std::string> brings;  ///< conditions that have to be brought about
};

/// Cost of `work` in a case in which `in_place` has been paid for: an access job is paid once, with those behind it,
/// and a condition until another of its group takes its place. Amounts that depend on contexts are those of the
/// contexts found; if these are not known, expected over their joint posterior. `labour_rate` is money an hour; that of
/// the model if it is not given. Names in `in_place` that the model does not know count for nothing. Throws TooLarge if
/// the joint of the contexts that one work names is out of reach.
[[nodiscard]] WorkCost cost_of(const Case& current, const Work& work, const InPlace& in_place,
                               std::optional<double> labour_rate = {});

/// The same without a case: the plain amounts, whatever they are in some context.
[[nodiscard]] WorkCost cost_of(const FaultModel& model, const Work& work, const InPlace& in_place,
                               std::optional<double> labour_rate = {});

/// Conditions that must be in place while `work` is done: those of the access before it, then its own, each once.
[[nodiscard]] std::vector<std::string> conditions_of(const FaultModel& model, const Work& work);

/// What is in place after work that opened and brought about what `cost` says.
[[nodiscard]] InPlace after_work(const FaultModel& model, InPlace before, const WorkCost& cost);

/// What is in place in a case: conditions that are so at the start, then what each test done has opened and brought
/// about, in the order of the findings. `stated` is what somebody has seen to be open and in place; it holds from the
/// moment when the case had `stated_after` findings (nothing: it holds now) until a test brings about another condition
/// of the same group.
[[nodiscard]] InPlace in_place_in(const Case& current, const InPlace& stated = {},
                                  std::optional<std::size_t> stated_after = {});

/// The tools a piece of work needs, those of the access it opens and the conditions it brings about included; each
/// once.
[[nodiscard]] std::vector<std::string> tools_of(const FaultModel& model, const Work& work, const WorkCost& cost);

/// The cautions of a piece of work, after those of the conditions it brings about and the access it opens; each once.
[[nodiscard]] std::vector<std::string> cautions_of(const FaultModel& model, const Work& work, const WorkCost& cost);

/// The highest skill level of a piece of work, the access it opens and the conditions it brings about, as an index into
/// the model's skills; nothing if none of them names one.
[[nodiscard]] std::optional<std::size_t> skill_of(const FaultModel& model, const Work& work, const WorkCost& cost);

namespace detail {

[[nodiscard]] const Access& access_of(const FaultModel& model, const std::string& name);
[[nodiscard]] const Condition& condition_of(const FaultModel& model, const std::string& name);
[[nodiscard]] std::size_t skill_level(const FaultModel& model, const std::string& name);
[[nodiscard]] bool is_among(const std::vector<std::string>& names, const std::string& name);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/work/cost.ipp"

// Bodies of set_up_states.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/decision/planning/set_up_states.hpp"

namespace faultodds::detail {

inline SetUpStates::SetUpStates(const TroubleshootingProblem& problem)
    : problem_(problem), steps_(problem.repairs.size() + problem.tests.size()) {}

inline SetUpStates::State SetUpStates::state_of(const std::vector<bool>& in_place) {
  constexpr std::size_t most = 4096;
  if (in_place_.size() > most) {
    known_.clear();
    in_place_.clear();
    costs_.clear();
    after_.clear();
  }
  return kept(in_place);
}

inline const std::vector<std::size_t>& SetUpStates::wanted_by(std::size_t step) const {
  const std::size_t repairs = problem_.repairs.size();
  return step < repairs ? problem_.repairs[step].set_ups : problem_.tests[step - repairs].set_ups;
}

inline SetUpStates::State SetUpStates::bring_about(State state, std::size_t step) {
  std::vector<bool> now = *in_place_[state];
  bring_about_all(problem_, wanted_by(step), now, [](std::size_t) {});
  const State next = kept(now);
  after_[state * steps_ + step] = next;
  return next;
}

inline SetUpStates::State SetUpStates::kept(const std::vector<bool>& in_place) {
  const auto [at, is_new] = known_.try_emplace(in_place, static_cast<State>(in_place_.size()));
  if (!is_new) return at->second;
  in_place_.push_back(&at->first);
  for (std::size_t step = 0; step < steps_; ++step) costs_.push_back(cost_of(step, in_place));
  after_.resize(costs_.size(), unknown);
  return at->second;
}

inline double SetUpStates::cost_of(std::size_t step, const std::vector<bool>& in_place) {
  const std::vector<std::size_t>& wanted = wanted_by(step);
  double set_ups = 0.0;
  if (!wanted.empty()) {
    scratch_ = in_place;
    bring_about_all(problem_, wanted, scratch_, [&](std::size_t s) { set_ups += problem_.set_ups[s].cost; });
  }
  const std::size_t repairs = problem_.repairs.size();
  if (step >= repairs) return set_ups + problem_.tests[step - repairs].cost;
  return set_ups + problem_.repairs[step].cost + problem_.repairs[step].verification.cost;
}

}  // namespace faultodds::detail

// Bodies of cost_bounds.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"

namespace faultodds {

namespace detail {

inline std::vector<std::size_t> missing_set_ups(const TroubleshootingProblem& problem,
                                                const std::vector<bool>& in_place,
                                                std::span<const std::size_t> wanted) {
  std::vector<std::size_t> missing;
  const auto add = [&](std::span<const std::size_t> more) {
    for (const std::size_t s : more) {
      if (!in_place[s] && std::find(missing.begin(), missing.end(), s) == missing.end()) missing.push_back(s);
    }
  };
  add(wanted);
  for (std::size_t i = 0; i < missing.size(); ++i) add(problem.set_ups[missing[i]].needs);
  return missing;
}

/// set_ups_missing's cost alone, quick if all is in place.
inline double set_up_cost(const TroubleshootingProblem& problem, const std::vector<bool>& in_place,
                          std::span<const std::size_t> wanted) {
  const bool ready = std::all_of(wanted.begin(), wanted.end(), [&](std::size_t s) { return in_place[s]; });
  return ready ? 0.0 : set_ups_missing(problem, in_place, wanted).cost;
}

inline PerfectInformation::PerfectInformation(const TroubleshootingProblem& problem)
    : problem_(problem),
      mended_by_(problem.hypotheses.size()),
      ends_(problem.hypotheses.size(), problem.ends.live_with.value_or(std::numeric_limits<double>::infinity())) {
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    const RepairAction& repair = problem.repairs[r];
    for (std::size_t h = 0; h < mended_by_.size(); ++h) {
      if (repair.success[h] > 0.0) mended_by_[h].push_back(r);
    }
    // Whatever else is done, a case can end by a wrong "cured".
    if (!(repair.verification.false_cured > 0.0)) continue;
    for (double& end : ends_) end = std::min(end, problem.ends.comeback.value());
  }
  for (std::size_t h = 0; problem.ends.hand_over && h < ends_.size(); ++h) {
    ends_[h] = std::min(ends_[h], hand_over_cost(problem, h));
  }
}

inline const KnownCosts& PerfectInformation::costs(const std::vector<bool>& repairs_done,
                                                   const std::vector<bool>& in_place) {
  constexpr std::size_t repairs_in_a_row = 3;
  std::vector<bool> key = repairs_done;
  key.insert(key.end(), in_place.begin(), in_place.end());
  const auto [at, is_new] = kept_.try_emplace(std::move(key));
  KnownCosts& costs = at->second;
  if (!is_new) return costs;
  std::vector<bool> done = repairs_done;
  costs.ways.resize(mended_by_.size());
  for (std::size_t h = 0; h < mended_by_.size(); ++h) {
    double least = ends_[h];
    for (const std::size_t r : mended_by_[h]) {
      if (repairs_done[r]) continue;
      costs.ways[h].push_back({r, way(h, r, done, in_place, repairs_in_a_row)});
      least = std::min(least, costs.ways[h].back().cost);
    }
    costs.least.push_back(least);
  }
  costs.least.push_back(0.0);
  return costs;
}

inline double PerfectInformation::cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                                       const std::vector<bool>& in_place) {
  const std::vector<double>& least = costs(repairs_done, in_place).least;
  double sum = 0.0;
  for (std::size_t h = 0; h < weights.size(); ++h) sum += weights[h] * least[h];
  return sum;
}

inline double PerfectInformation::known(std::size_t hypothesis, std::vector<bool>& repairs_done,
                                        const std::vector<bool>& in_place, std::size_t depth) const {
  double least = ends_[hypothesis];
  for (const std::size_t r : mended_by_[hypothesis]) {
    if (!repairs_done[r]) least = std::min(least, way(hypothesis, r, repairs_done, in_place, depth));
  }
  return least;
}

inline double PerfectInformation::way(std::size_t hypothesis, std::size_t repair, std::vector<bool>& repairs_done,
                                      const std::vector<bool>& in_place, std::size_t depth) const {
  const RepairAction& action = problem_.repairs[repair];
  double cost = action.cost + action.verification.cost;
  if (depth == 0) return cost;
  // Each missing set-up once, and none ended by another: no way through the case pays less for them.
  std::vector<bool> now = in_place;
  for (const std::size_t s : missing_set_ups(problem_, in_place, action.set_ups)) {
    cost += problem_.set_ups[s].cost;
    now[s] = true;
  }
  const double comes_back = action.verification.false_cured * problem_.ends.comeback.value_or(0.0);
  const auto goes_on = [&](std::size_t h) {
    return comes_back + (1.0 - action.verification.false_cured) * known(h, repairs_done, now, depth - 1);
  };
  const double success = action.success[hypothesis];
  const std::size_t after = hypothesis_after(action, hypothesis, mended_by_.size());
  repairs_done[repair] = true;
  if (success < 1.0) cost += (1.0 - success) * goes_on(hypothesis);
  if (after < mended_by_.size()) cost += success * goes_on(after);
  repairs_done[repair] = false;
  return cost;
}

inline RepairChain::RepairChain(const TroubleshootingProblem& problem)
    : problem_(problem),
      mends_(problem.repairs.size()),
      concerns_(problem.repairs.size()),
      weights_(problem.hypotheses.size() + 1),
      says_cured_(weights_.size()),
      says_still_there_(weights_.size()),
      works_(problem.repairs.size()),
      costs_(problem.repairs.size()) {
  const std::size_t n = problem.hypotheses.size();
  for (std::size_t r = 0; r < mends_.size(); ++r) {
    for (std::size_t h = 0; h < n; ++h) {
      if (problem.repairs[r].success[h] > 0.0) mends_[r].push_back(h);
    }
  }
  for (std::size_t r = 0; r < mends_.size(); ++r) {
    std::vector<bool> changed(n + 1, false);
    for (const std::size_t h : mends_[r]) changed[h] = changed[hypothesis_after(problem.repairs[r], h, n)] = true;
    for (std::size_t other = 0; other < mends_.size(); ++other) {
      const auto is_changed = [&](std::size_t h) { return changed[h]; };
      if (std::any_of(mends_[other].begin(), mends_[other].end(), is_changed)) concerns_[r].push_back(other);
    }
  }
}

inline void RepairChain::renew_work(std::size_t repair) {
  works_[repair] = 0.0;
  for (const std::size_t h : mends_[repair]) works_[repair] += weights_[h] * problem_.repairs[repair].success[h];
}

inline void RepairChain::renew_cost(std::size_t repair) {
  const RepairAction& action = problem_.repairs[repair];
  costs_[repair] = action.cost + action.verification.cost + set_up_cost(problem_, in_place_, action.set_ups);
}

inline void RepairChain::start(std::span<const double> weights, const std::vector<bool>& repairs_done,
                               const std::vector<bool>& in_place) {
  weights_.assign(weights.begin(), weights.end());
  in_place_ = in_place;
  ends_.clear();
  paid_.clear();
  order_.clear();
  open_.clear();
  for (std::size_t r = 0; r < mends_.size(); ++r) {
    if (repairs_done[r]) continue;
    open_.push_back(r);
    renew_work(r);
    renew_cost(r);
  }
}

/// The open repair with the most work for its cost, as a place in open_; ratios that differ by rounding are equal.
inline std::size_t RepairChain::next_repair() const {
  constexpr double rounding = 1e-12;
  std::size_t best = open_.size();
  for (std::size_t i = 0; i < open_.size(); ++i) {
    const double works = works_[open_[i]];
    if (!(works > 0.0)) continue;
    if (best == open_.size()) {
      best = i;
      continue;
    }
    const double mine = works * costs_[open_[best]];
    const double others = works_[open_[best]] * costs_[open_[i]];
    const bool equal = std::abs(mine - others) <= rounding * others;
    if (equal ? costs_[open_[i]] < costs_[open_[best]] : mine > others) best = i;
  }
  return best;
}

inline void RepairChain::carry_out(std::size_t repair) {
  const RepairAction& action = problem_.repairs[repair];
  const double sum = sum_of(weights_);
  const bool something_missing =
      std::any_of(action.set_ups.begin(), action.set_ups.end(), [&](std::size_t s) { return !in_place_[s]; });
  weigh_repair(action, weights_, says_cured_, says_still_there_);
  const double not_cured = sum_of(std::span(says_cured_).first(says_cured_.size() - 1));
  order_.push_back(repair);
  ends_.push_back(end_cost());
  paid_.push_back(costs_[repair] * sum + (not_cured > 0.0 ? problem_.ends.comeback.value() * not_cured : 0.0));
  weights_.swap(says_still_there_);
  if (action.verification.false_cured > 0.0) {
    for (const std::size_t r : open_) works_[r] *= 1.0 - action.verification.false_cured;
  }
  for (const std::size_t r : concerns_[repair]) renew_work(r);
  if (!something_missing) return;
  SetUpWork work;
  bring_about(problem_, action.set_ups, in_place_, work);
  for (const std::size_t r : open_) renew_cost(r);
}

inline double RepairChain::end_cost() const {
  const double not_cured = sum_of(std::span(weights_).first(weights_.size() - 1));
  const double infinite = std::numeric_limits<double>::infinity();
  return std::min(problem_.ends.hand_over ? hand_over_cost(problem_, weights_) : infinite,
                  problem_.ends.live_with ? *problem_.ends.live_with * not_cured : infinite);
}

inline double RepairChain::cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                                const std::vector<bool>& in_place) {
  start(weights, repairs_done, in_place);
  for (std::size_t next = next_repair(); next < open_.size(); next = next_repair()) {
    const std::size_t repair = open_[next];
    open_.erase(open_.begin() + static_cast<std::ptrdiff_t>(next));
    carry_out(repair);
  }
  double value = end_cost();
  std::size_t length = order_.size();
  for (std::size_t i = order_.size(); i-- > 0;) {
    value += paid_[i];
    if (ends_[i] <= value) {
      value = ends_[i];
      length = i;
    }
  }
  order_.resize(length);
  return value;
}

inline double RepairChain::cost_after(const Situation& situation, const Step& step) {
  double sum = cost_of_step(problem_, situation, step);
  if (step.kind != StepKind::test && step.kind != StepKind::repair) return sum;
  std::vector<bool> in_place = situation.in_place;
  SetUpWork work;
  bring_about(problem_, wanted_by(problem_, step), in_place, work);
  after_.resize(situation.belief.size());
  if (step.kind == StepKind::test) {
    const TestAction& test = problem_.tests[step.index];
    for (std::size_t o = 0; o < test.outcomes.size(); ++o) {
      weigh_outcome(test, o, situation.belief, after_);
      sum += cost(after_, situation.repairs_done, in_place);
    }
    return sum;
  }
  std::vector<bool> repairs_done = situation.repairs_done;
  repairs_done[step.index] = true;
  weigh_repair(problem_.repairs[step.index], situation.belief, says_cured_, after_);
  const double not_cured = sum_of(std::span(says_cured_).first(says_cured_.size() - 1));
  if (not_cured > 0.0) sum += problem_.ends.comeback.value() * not_cured;
  return sum + cost(after_, repairs_done, in_place);
}

inline Step RepairChain::first_step(const Situation& situation) {
  (void)cost(situation.belief, situation.repairs_done, situation.in_place);
  return order_.empty() ? end_from(problem_, situation) : Step{StepKind::repair, order_.front()};
}

}  // namespace detail

inline double perfect_information_cost(const TroubleshootingProblem& problem, const Situation& situation) {
  validate(problem);
  detail::check_situation(problem, situation);
  detail::PerfectInformation information(problem);
  return information.cost(situation.belief, situation.repairs_done, situation.in_place);
}

}  // namespace faultodds

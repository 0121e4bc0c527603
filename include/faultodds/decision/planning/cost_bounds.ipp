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

}  // namespace detail

inline double perfect_information_cost(const TroubleshootingProblem& problem, const Situation& situation) {
  validate(problem);
  detail::check_situation(problem, situation);
  detail::PerfectInformation information(problem);
  return information.cost(situation.belief, situation.repairs_done, situation.in_place);
}

}  // namespace faultodds

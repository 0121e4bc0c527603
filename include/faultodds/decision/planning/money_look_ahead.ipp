// Bodies of money_look_ahead.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/money_look_ahead.hpp"

namespace faultodds::detail {

inline OutcomeRows::OutcomeRows(const TroubleshootingProblem& problem) : width_(problem.hypotheses.size() + 1) {
  std::size_t outcomes = 0;
  for (const TestAction& test : problem.tests) {
    first_.push_back(outcomes);
    outcomes += test.outcomes.size();
    const std::size_t rows = test.table.size() / test.outcomes.size();
    for (std::size_t o = 0; o < test.outcomes.size(); ++o) {
      for (std::size_t h = 0; h < width_; ++h) rows_.push_back(h < rows ? outcome_probability(test, h, o) : 1.0);
    }
  }
}

inline MoneyLookAhead::MoneyLookAhead(const TroubleshootingProblem& problem, RepairChain& chain, Stop stop)
    : problem_(problem), chain_(chain), stop_(std::move(stop)), rows_(problem) {}

inline MoneyLookAhead::Place MoneyLookAhead::place_of(std::span<const double> weights, double mass,
                                                      SetUpStates::State state) const {
  const std::span<const double> not_cured = weights.first(weights.size() - 1);
  return {weights, mass, state, quick_sum(not_cured), quick_product(not_cured, chain_.least())};
}

inline MoneyLookAhead::Place MoneyLookAhead::place_of(const Situation& situation, std::size_t depth) {
  tests_done_.assign(situation.tests_done.begin(), situation.tests_done.end());
  repairs_done_.assign(situation.repairs_done.begin(), situation.repairs_done.end());
  while (weights_.size() <= depth) weights_.emplace_back(situation.belief.size());
  return place_of(situation.belief, 1.0, chain_.set_ups().state_of(situation.in_place));
}

inline double MoneyLookAhead::cost_of(const Situation& situation, const Step& step, std::size_t depth) {
  stop_.check();
  if (step.kind == StepKind::test) return after_test(place_of(situation, depth), step.index, depth, any);
  if (step.kind == StepKind::repair) return after_repair(place_of(situation, depth), step.index, depth, any);
  return cost_of_step(problem_, situation, step);
}

inline double MoneyLookAhead::best_cost(const Situation& situation, std::size_t depth) {
  return best(place_of(situation, depth), depth);
}

inline double MoneyLookAhead::after_test(const Place& place, std::size_t test, std::size_t depth, double enough) {
  double sum = place.mass * chain_.set_ups().test_cost(place.state, test);
  double left = place.least;
  const SetUpStates::State next = chain_.set_ups().after_test(place.state, test);
  std::vector<double>& weights = weights_[depth];
  tests_done_[test] = 1;
  for (std::size_t o = 0; o < problem_.tests[test].outcomes.size(); ++o) {
    if (sum + left >= enough) {
      sum = enough;
      break;
    }
    const std::span<const double> row = rows_.row(test, o);
    for (std::size_t h = 0; h < weights.size(); ++h) weights[h] = place.weights[h] * row[h];
    const double mass = quick_sum(weights);
    if (!(mass > 0.0)) continue;
    const Place there = place_of(weights, mass, next);
    left -= there.least;
    sum += best(there, depth - 1);
  }
  tests_done_[test] = 0;
  return sum;
}

inline double MoneyLookAhead::after_repair(const Place& place, std::size_t repair, std::size_t depth, double enough) {
  const Verification& check = problem_.repairs[repair].verification;
  const double goes_on = 1.0 - check.false_cured;
  const std::size_t cured = place.weights.size() - 1;
  Place there;
  there.not_cured = place.not_cured;
  there.least = place.least;
  for (const auto& [from, to, success] : chain_.mendings(repair)) {
    const double mended = place.weights[from] * success;
    if (to == cured) there.not_cured -= mended;
    there.least -= mended * (chain_.least()[from] - chain_.least()[to]);
  }
  double sum = place.mass * chain_.set_ups().repair_cost(place.state, repair);
  if (check.false_cured > 0.0) sum += problem_.ends.comeback.value() * check.false_cured * there.not_cured;
  if (sum + goes_on * there.least >= enough) return enough;
  std::vector<double>& weights = weights_[depth];
  std::copy(place.weights.begin(), place.weights.end(), weights.begin());
  for (const auto& [from, to, success] : chain_.mendings(repair)) {
    const double mended = place.weights[from] * success;
    weights[from] -= mended;
    weights[to] += mended;
  }
  for (std::size_t h = 0; h < cured; ++h) weights[h] *= goes_on;
  weights[cured] *= check.false_still_there;
  const double mass = quick_sum(weights);
  if (!(mass > 0.0)) return sum;
  repairs_done_[repair] = 1;
  sum += best(place_of(weights, mass, chain_.set_ups().after_repair(place.state, repair)), depth - 1);
  repairs_done_[repair] = 0;
  return sum;
}

inline double MoneyLookAhead::best(const Place& place, std::size_t depth) {
  double least = chain_.cost(place.weights, repairs_done_, place.state);
  if (depth == 0) return least;
  stop_.check();
  for (std::size_t t = 0; t < problem_.tests.size(); ++t) {
    if (tests_done_[t] != 0 || !tells_something(problem_.tests[t], place.weights)) continue;
    least = std::min(least, after_test(place, t, depth, least));
  }
  for (std::size_t r = 0; r < problem_.repairs.size(); ++r) {
    if (repairs_done_[r] != 0 || !does_work(r, place.weights)) continue;
    least = std::min(least, after_repair(place, r, depth, least));
  }
  return least;
}

inline bool MoneyLookAhead::does_work(std::size_t repair, std::span<const double> weights) const {
  const std::span<const Mending> all = chain_.mendings(repair);
  return std::any_of(all.begin(), all.end(), [&](const Mending& mending) { return weights[mending.hypothesis] > 0.0; });
}

}  // namespace faultodds::detail

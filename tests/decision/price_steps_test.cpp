// Steps side by side by expected cost, against a recursion and a chain of repairs written out here with nothing left
// out, and whatever was asked before.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/decision/planning/money_look_ahead.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_chain.hpp"

namespace faultodds_tests {
namespace {

using namespace faultodds;

ProblemShape any_shape(ProblemSource& source) {
  ProblemShape shape;
  shape.hypotheses = 2 + source.below(6);
  shape.tests = source.below(4);
  shape.repairs = 1 + source.below(6);
  shape.set_ups = source.below(5);
  shape.conditions = shape.set_ups >= 2 && source.chance(0.5);
  shape.sharp_tests = source.chance(0.3);
  shape.perfect_repairs = source.chance(0.3);
  shape.wrong_still_there = !shape.perfect_repairs && source.chance(0.5);
  shape.partial = source.chance(0.5);
  shape.live_with = source.chance(0.5);
  shape.repair_elsewhere = source.chance(0.5);
  return shape;
}

double works_in(const RepairAction& repair, const Situation& situation) {
  double works = 0.0;
  for (std::size_t h = 0; h < repair.success.size(); ++h) works += situation.belief[h] * repair.success[h];
  return works;
}

/// The repair that does most for its cost as things are now; their number if none does any work.
std::size_t next_by_p_over_c(const TroubleshootingProblem& problem, const Situation& situation) {
  std::size_t best = problem.repairs.size();
  double most = 0.0;
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    const double works = works_in(problem.repairs[r], situation);
    if (situation.repairs_done[r] || !(works > 0.0)) continue;
    const double ratio = works / step_cost(problem, situation, {StepKind::repair, r});
    if (ratio > most) best = r;
    most = std::max(most, ratio);
  }
  return best;
}

/// All repairs by P over C, and the cheapest place to end among them: Heckerman, Breese & Rommelse 1995.
double without_tests(const TroubleshootingProblem& problem, Situation situation) {
  double paid = 0.0, reached = 1.0, least = std::numeric_limits<double>::infinity();
  while (true) {
    least = std::min(least, paid + reached * step_cost(problem, situation, cheapest_end(problem, situation)));
    const std::size_t repair = next_by_p_over_c(problem, situation);
    if (repair == problem.repairs.size()) return least;
    const Step step{StepKind::repair, repair};
    paid += reached * step_cost(problem, situation, step);
    const std::vector<StepResult> results = results_of(problem, situation, step);
    if (results[0].probability > 0.0) {
      paid += reached * results[0].probability * step_cost(problem, results[0].situation, {StepKind::done, 0});
    }
    if (!(results[1].probability > 0.0)) return std::min(least, paid);
    reached *= results[1].probability;
    situation = results[1].situation;
  }
}

double best_of(const TroubleshootingProblem& problem, const Situation& situation, std::size_t depth);

double cost_of(const TroubleshootingProblem& problem, const Situation& situation, const Step& step, std::size_t depth) {
  double cost = step_cost(problem, situation, step);
  const std::vector<StepResult> results = results_of(problem, situation, step);
  for (std::size_t i = 0; i < results.size(); ++i) {
    if (!(results[i].probability > 0.0)) continue;
    const bool says_cured = step.kind == StepKind::repair && i == 0;
    cost += results[i].probability * (says_cured ? step_cost(problem, results[i].situation, {StepKind::done, 0})
                                                 : best_of(problem, results[i].situation, depth - 1));
  }
  return cost;
}

double best_of(const TroubleshootingProblem& problem, const Situation& situation, std::size_t depth) {
  double least = without_tests(problem, situation);
  if (depth == 0) return least;
  for (const Step& step : possible_steps(problem, situation)) {
    least = std::min(least, cost_of(problem, situation, step, depth));
  }
  return least;
}

TEST(PriceSteps, EqualTheRecursionWithNothingLeftOut) {
  ProblemSource source(61);
  for (int i = 0; i < 300; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source));
    const Situation start = start_of(problem);
    for (const std::size_t depth : {1U, 2U, 3U}) {
      if (depth == 3 && problem.tests.size() + problem.repairs.size() > 5) continue;
      const double without = without_tests(problem, start);
      const std::vector<PricedStep> steps = price_steps(problem, start, depth);
      ASSERT_EQ(steps.size(), possible_steps(problem, start).size());
      for (const PricedStep& priced : steps) {
        const double right = cost_of(problem, start, priced.step, depth);
        EXPECT_NEAR(priced.expected_cost, right, 1e-10 * (1.0 + right)) << i << " to depth " << depth;
        EXPECT_NEAR(priced.saves, without - right, 1e-10 * (1.0 + right));
      }
    }
  }
}

TEST(PriceSteps, AreTheSameBitsWhateverWasAskedBefore) {
  ProblemSource source(62);
  for (int i = 0; i < 100; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source));
    std::vector<Situation> situations{start_of(problem)};
    for (std::size_t at = 0; at < situations.size() && situations.size() < 20; ++at) {
      for (const Step& step : possible_steps(problem, situations[at])) {
        for (StepResult& result : results_of(problem, situations[at], step)) {
          if (result.probability > 0.0) situations.push_back(std::move(result.situation));
        }
      }
    }
    detail::RepairChain used(problem);
    detail::MoneyLookAhead long_used(problem, used);
    for (std::size_t at = situations.size(); at-- > 0;) {
      detail::RepairChain fresh(problem);
      detail::MoneyLookAhead first_used(problem, fresh);
      EXPECT_EQ(long_used.best_cost(situations[at], 1), first_used.best_cost(situations[at], 1));
      EXPECT_EQ(used.first_step(situations[at]), fresh.first_step(situations[at]));
    }
  }
}

// Costs that are the same but for rounding: 0.1 + 0.2 and 0.3.
TEST(PriceSteps, OfEqualCostTheTestThatTellsMoreForItsCostComesFirst) {
  TroubleshootingProblem problem;
  problem.hypotheses = {"a", "b"};
  problem.weights = {0.5, 0.5};
  problem.ends.hand_over = 0.125;
  problem.set_ups.push_back({"cover", 0.1, {}, {}, false});
  const auto test = [](double cost, std::vector<std::size_t> set_ups, double p) {
    return TestAction{"t", cost, std::move(set_ups), {"passed", "failed"}, {p, 1.0 - p, 1.0 - p, p}};
  };
  problem.tests = {test(0.3, {}, 0.6), test(0.2, {0}, 0.9), test(0.3, {}, 0.8)};
  const std::vector<PricedStep> steps = price_steps(problem, start_of(problem), 1);
  ASSERT_EQ(steps.size(), 4U);
  EXPECT_EQ(steps[0].step.kind, StepKind::hand_over);
  EXPECT_NE(steps[1].expected_cost, steps[3].expected_cost);
  EXPECT_EQ(steps[1].step.index, 1U);
  EXPECT_EQ(steps[2].step.index, 2U);
  EXPECT_EQ(steps[3].step.index, 0U);
}

}  // namespace
}  // namespace faultodds_tests

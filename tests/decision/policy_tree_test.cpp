// PolicyTrees as trees: their cost by hand, by hypotheses and by simulated vehicles; fixed orders and rules of
// reckoning.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/policy_tree.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds_tests {
namespace {

using namespace faultodds;

constexpr double tolerance = 1e-9;

/// The classic order air, fuel, spark, exhaust: one fault each, a sharp test for each, a perfect repair for each.
TroubleshootingProblem classic() {
  TroubleshootingProblem problem;
  const std::vector<std::string> systems{"air", "fuel", "spark", "exhaust"};
  const std::vector<double> test_costs{4.0, 10.0, 6.0, 20.0};
  const std::vector<double> repair_costs{15.0, 120.0, 60.0, 300.0};
  problem.hypotheses = systems;
  problem.weights = {0.1, 0.3, 0.5, 0.1};
  for (std::size_t s = 0; s < systems.size(); ++s) {
    TestAction test{.name = systems[s], .cost = test_costs[s], .set_ups = {}, .outcomes = {"good", "bad"}, .table = {}};
    RepairAction repair{.name = systems[s],
                        .cost = repair_costs[s],
                        .set_ups = {},
                        .success = {0.0, 0.0, 0.0, 0.0},
                        .becomes = {},
                        .verification = {}};
    repair.success[s] = 1.0;
    for (std::size_t h = 0; h < systems.size(); ++h) {
      test.table.insert(test.table.end(), {h == s ? 0.0 : 1.0, h == s ? 1.0 : 0.0});
    }
    problem.tests.push_back(test);
    problem.repairs.push_back(repair);
  }
  problem.ends.hand_over = 1000.0;
  return problem;
}

/// The same with tests that err in one case of ten.
TroubleshootingProblem classic_with_errors() {
  TroubleshootingProblem problem = classic();
  for (TestAction& test : problem.tests) {
    for (double& p : test.table) p = 0.1 + 0.8 * p;
  }
  return problem;
}

TEST(PolicyTree, TheClassicOrderCostsWhatItsWaysCost) {
  const TroubleshootingProblem problem = classic();
  // Sure at 0.8: what a test finds is repaired at once. After air and fuel are good, 0.5 / 0.6 speak for the spark.
  const PolicyTree when_sure = fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3}, .repair_at = 0.8});
  const double by_hand = 0.1 * (4.0 + 15.0) + 0.3 * (14.0 + 120.0) + 0.5 * (14.0 + 60.0) + 0.1 * (14.0 + 60.0 + 300.0);
  EXPECT_NEAR(when_sure.expected_cost(), by_hand, tolerance);
  EXPECT_NEAR(expected_cost(problem, when_sure), by_hand, tolerance);
  // Sure at even odds: the spark is due before any test, then the fuel, then air and exhaust.
  const PolicyTree at_even_odds = fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3}});
  EXPECT_NEAR(at_even_odds.expected_cost(), 60.0 + 0.5 * 120.0 + 0.2 * 15.0 + 0.1 * 300.0, tolerance);
  // Sure at certainty: all four tests but the last, which the others have answered, are still done in their order.
  const PolicyTree when_certain = fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3}, .repair_at = 1.0});
  EXPECT_NEAR(when_certain.expected_cost(),
              0.1 * (4.0 + 15.0) + 0.3 * (14.0 + 120.0) + 0.5 * (20.0 + 60.0) + 0.1 * (20.0 + 300.0), tolerance);
}

TEST(PolicyTree, NodesHoldProbabilitiesAndCostsOfTheWays) {
  const TroubleshootingProblem problem = classic();
  const PolicyTree policy_tree = fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3}, .repair_at = 1.0});
  const std::vector<PolicyNode>& nodes = policy_tree.nodes;
  EXPECT_TRUE((nodes[0].step == Step{StepKind::test, 0}));
  ASSERT_EQ(nodes[0].branches.size(), 2U);
  EXPECT_NEAR(nodes[0].branches[1].probability, 0.1, tolerance);
  ASSERT_EQ(nodes[0].leading.size(), 3U);
  EXPECT_EQ(nodes[0].leading[0].hypothesis, 2U);
  EXPECT_EQ(nodes[0].leading[2].hypothesis, 0U);  // air before exhaust, which is as probable
  double ends = 0.0;
  for (const PolicyNode& node : nodes) {
    EXPECT_LE(node.lower_bound, node.expected_cost + tolerance);
    if (node.branches.empty()) ends += node.probability;
    double sum = node.step_cost;
    for (const PolicyBranch& branch : node.branches) {
      EXPECT_NEAR(nodes[branch.node].probability, node.probability * branch.probability, tolerance);
      sum += branch.probability * nodes[branch.node].expected_cost;
    }
    EXPECT_NEAR(node.expected_cost, sum, tolerance);
  }
  EXPECT_NEAR(ends, 1.0, tolerance);
}

/// Cost of one vehicle of this hypothesis that is taken through a policy tree with dice.
double one_vehicle(const TroubleshootingProblem& problem, const PolicyTree& policy_tree, std::size_t hypothesis,
                   ProblemSource& dice) {
  const std::size_t cured = problem.hypotheses.size();
  std::size_t state = hypothesis;
  double paid = 0.0;
  for (std::size_t at = 0;;) {
    const PolicyNode& node = policy_tree.nodes[at];
    for (const std::size_t s : node.set_ups) paid += problem.set_ups[s].cost;
    std::size_t outcome = 0;
    switch (node.step.kind) {
      case StepKind::hand_over:
        return paid + *problem.ends.hand_over +
               (state == cured || problem.repair_elsewhere.empty() ? 0.0 : problem.repair_elsewhere[state]);
      case StepKind::live_with:
        return paid + (state == cured ? 0.0 : *problem.ends.live_with);
      case StepKind::done:
        return paid + (state == cured ? 0.0 : problem.ends.comeback.value_or(0.0));
      case StepKind::test: {
        const TestAction& test = problem.tests[node.step.index];
        paid += test.cost;
        double left = dice.amount(0.0, 1.0);
        while (outcome + 1 < test.outcomes.size() && left >= test.table[state * test.outcomes.size() + outcome]) {
          left -= test.table[state * test.outcomes.size() + outcome++];
        }
        break;
      }
      default: {
        const RepairAction& repair = problem.repairs[node.step.index];
        paid += repair.cost + repair.verification.cost;
        if (state != cured && dice.chance(repair.success[state])) {
          const bool all_gone = repair.becomes.empty() || repair.becomes[state] == RepairAction::cured;
          state = all_gone ? cured : repair.becomes[state];
        }
        outcome =
            dice.chance(state == cured ? repair.verification.false_still_there : 1.0 - repair.verification.false_cured)
                ? 1
                : 0;
      }
    }
    std::size_t next = 0;
    for (const PolicyBranch& branch : node.branches) {
      if (branch.outcome == outcome) next = branch.node;
    }
    if (next == 0) {
      ADD_FAILURE() << "no branch for an outcome that came";
      return paid;
    }
    at = next;
  }
}

ProblemShape any_shape(ProblemSource& source, std::size_t largest) {
  ProblemShape shape;
  shape.hypotheses = 2 + source.below(largest - 1);
  shape.tests = source.below(largest + 1);
  shape.repairs = 1 + source.below(largest);
  shape.set_ups = source.below(4);
  shape.conditions = shape.set_ups >= 2 && source.chance(0.5);
  shape.sharp_tests = source.chance(0.3);
  shape.perfect_repairs = source.chance(0.2);
  shape.wrong_still_there = !shape.perfect_repairs && source.chance(0.5);
  shape.partial = source.chance(0.4);
  shape.live_with = source.chance(0.4);
  shape.repair_elsewhere = source.chance(0.4);
  return shape;
}

TEST(PolicyTree, CostIsWhatSimulatedVehiclesCost) {
  ProblemSource source(11);
  constexpr int vehicles = 20'000;
  for (int i = 0; i < 12; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source, 4));
    const PolicyTree policy_tree = greedy_policy_tree(problem);
    double weight = 0.0, sum = 0.0, squares = 0.0;
    for (const double w : problem.weights) weight += w;
    for (int v = 0; v < vehicles; ++v) {
      double left = source.amount(0.0, weight);
      std::size_t h = 0;
      while (h + 1 < problem.weights.size() && left >= problem.weights[h]) left -= problem.weights[h++];
      const double cost = one_vehicle(problem, policy_tree, h, source);
      sum += cost;
      squares += cost * cost;
    }
    const double mean = sum / vehicles;
    const double error = std::sqrt(std::max(0.0, squares / vehicles - mean * mean) / vehicles);
    EXPECT_NEAR(mean, expected_cost(problem, policy_tree), 4.5 * error + tolerance) << i;
  }
}

TEST(PolicyTree, CostByHypothesesIsTheCostInTheNodes) {
  ProblemSource source(12);
  for (int i = 0; i < 300; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source, 4));
    for (const PolicyTree& policy_tree : {greedy_policy_tree(problem), look_ahead_policy_tree(problem, 1)}) {
      EXPECT_NEAR(expected_cost(problem, policy_tree), policy_tree.expected_cost(),
                  tolerance * policy_tree.expected_cost());
    }
  }
}

TEST(PolicyTree, WithoutTestsLookingAheadIsAtLeastAsGoodAsPOverC) {
  ProblemSource source(13);
  for (int i = 0; i < 200; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source, 3));
    const double without = p_over_c_order(problem).expected_cost;
    EXPECT_LE(look_ahead_policy_tree(problem, 1).expected_cost(), without + tolerance);
    EXPECT_LE(look_ahead_policy_tree(problem, 2).expected_cost(), without + tolerance);
  }
}

TEST(PolicyTree, StepsArePricedSideBySide) {
  const TroubleshootingProblem problem = classic();
  const std::vector<PricedStep> steps = price_steps(problem, start_of(problem), 1);
  ASSERT_EQ(steps.size(), 9U);
  // Repairs by P over C: air 0.1/15, spark 0.5/60, fuel 0.3/120, exhaust 0.1/300.
  const double without = 60.0 + 0.5 * 15.0 + 0.4 * 120.0 + 0.1 * 300.0;
  for (const PricedStep& entry : steps) {
    EXPECT_NEAR(entry.saves, without - entry.expected_cost, tolerance);
    if (entry.step == Step{StepKind::hand_over, 0}) {
      EXPECT_DOUBLE_EQ(entry.expected_cost, 1000.0);
    }
    if (entry.step == Step{StepKind::repair, 2}) {
      EXPECT_NEAR(entry.saves, 0.0, tolerance);
    }
    if (entry.step == Step{StepKind::test, 2}) {
      // Bad: the spark. Good: air, fuel, exhaust.
      EXPECT_NEAR(entry.expected_cost, 6.0 + 0.5 * 60.0 + 0.5 * 15.0 + 0.4 * 120.0 + 0.1 * 300.0, tolerance);
      EXPECT_NEAR(entry.gain_bits, 1.0, tolerance);
    }
  }
  for (std::size_t i = 1; i < steps.size(); ++i) EXPECT_LE(steps[i - 1].expected_cost, steps[i].expected_cost);
  // Fuel bad: repaired. Good: spark, air, exhaust; half a unit less than the spark first.
  EXPECT_TRUE((steps[0].step == Step{StepKind::test, 1}));
  EXPECT_NEAR(steps[0].expected_cost, 10.0 + 0.3 * 120.0 + 0.7 * 60.0 + 0.2 * 15.0 + 0.1 * 300.0, tolerance);
}

TEST(PolicyTree, GreedyTakesTheMostInformationForTheCost) {
  // Bits at the start: air and exhaust 0.469 for 4 and 20, fuel 0.881 for 10, spark 1 for 6.
  const PolicyTree policy_tree = greedy_policy_tree(classic());
  EXPECT_TRUE((policy_tree.nodes[0].step == Step{StepKind::test, 2}));
}

TEST(PolicyTree, ImprobableBranchesEndWithoutTests) {
  const TroubleshootingProblem problem = classic_with_errors();
  const PolicyTree full = look_ahead_policy_tree(problem, 1, {.min_probability = 0.0});
  const PolicyTree shorter = look_ahead_policy_tree(problem, 1, {.min_probability = 0.02});
  EXPECT_LT(shorter.nodes.size(), full.nodes.size());
  EXPECT_GE(shorter.expected_cost(), full.expected_cost() - tolerance);
  EXPECT_NEAR(expected_cost(problem, shorter), shorter.expected_cost(), tolerance);
  EXPECT_THROW((void)look_ahead_policy_tree(problem, 1, {.max_nodes = 5}), TooLarge);
}

TEST(PolicyTree, FoldingKeepsCostsAndBounds) {
  const TroubleshootingProblem problem = classic_with_errors();
  const PolicyTree full = look_ahead_policy_tree(problem, 1);
  const PolicyTree print = folded(full, 0.05);
  ASSERT_LT(print.nodes.size(), full.nodes.size());
  EXPECT_EQ(print.expected_cost(), full.expected_cost());
  std::size_t asked = 0;
  double ends = 0.0;
  for (const PolicyNode& node : print.nodes) {
    if (node.branches.empty()) ends += node.probability;
    if (node.step.kind != StepKind::ask_again) continue;
    ++asked;
    EXPECT_LT(node.probability, 0.05);
    EXPECT_EQ(node.step_cost, node.expected_cost);
    EXPECT_LE(node.lower_bound, node.expected_cost + tolerance);
  }
  EXPECT_GT(asked, 0U);
  EXPECT_NEAR(ends, 1.0, tolerance);
  EXPECT_THROW((void)expected_cost(problem, print), ArgumentError);
  EXPECT_EQ(folded(full, 0.0).nodes.size(), full.nodes.size());
}

TEST(PolicyTree, RefusesWhatCannotBeFollowed) {
  const TroubleshootingProblem problem = classic();
  const auto always = [](Step step) { return [step](const Situation&) { return step; }; };
  EXPECT_THROW((void)follow(problem, always({StepKind::test, 0})), ArgumentError);
  EXPECT_THROW((void)follow(problem, always({StepKind::repair, 9})), ArgumentError);
  EXPECT_THROW((void)follow(problem, always({StepKind::live_with, 0})), ArgumentError);
  EXPECT_THROW((void)follow(problem, always({StepKind::done, 0})), ArgumentError);
  EXPECT_NEAR(follow(problem, always({StepKind::hand_over, 0})).expected_cost(), 1000.0, tolerance);
  EXPECT_THROW((void)fixed_order_policy(problem, {.tests = {0, 0}}), ArgumentError);
  EXPECT_THROW((void)fixed_order_policy(problem, {.tests = {4}}), ArgumentError);
  EXPECT_THROW((void)fixed_order_policy(problem, {.tests = {0}, .repair_at = 0.0}), ArgumentError);
  EXPECT_THROW((void)look_ahead_policy_tree(problem, 0), ArgumentError);

  PolicyTree broken = fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3}, .repair_at = 1.0});
  broken.nodes[0].branches.pop_back();
  EXPECT_THROW((void)expected_cost(problem, broken), ArgumentError);
  broken = fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3}, .repair_at = 1.0});
  broken.nodes[broken.nodes[0].branches[0].node].step = {StepKind::test, 0};
  EXPECT_THROW((void)expected_cost(problem, broken), ArgumentError);
  broken.nodes[0].branches[0].node = 0;
  EXPECT_THROW((void)expected_cost(problem, broken), ArgumentError);
  EXPECT_THROW((void)expected_cost(problem, PolicyTree{}), ArgumentError);
}

/// Sixteen faults that four tests name together, a bit each; the specialist is cheaper than guessing among fewer than
/// two.
TroubleshootingProblem four_bits(double test_cost) {
  TroubleshootingProblem problem;
  for (std::size_t h = 0; h < 16; ++h) {
    problem.hypotheses.push_back("h" + std::to_string(h));
    problem.weights.push_back(1.0);
    problem.repairs.push_back({.name = "r" + std::to_string(h),
                               .cost = 10.0,
                               .set_ups = {},
                               .success = std::vector<double>(16, 0.0),
                               .becomes = {},
                               .verification = {}});
    problem.repairs.back().success[h] = 1.0;
  }
  for (std::size_t t = 0; t < 4; ++t) {
    TestAction test{
        .name = "bit" + std::to_string(t), .cost = test_cost, .set_ups = {}, .outcomes = {"0", "1"}, .table = {}};
    for (std::size_t h = 0; h < 16; ++h) {
      const double one = static_cast<double>(h >> t & 1);
      test.table.insert(test.table.end(), {1.0 - one, one});
    }
    problem.tests.push_back(test);
  }
  problem.ends.hand_over = 15.0;
  return problem;
}

// No three of the tests save anything, all four do: 4 x 0.4 + 10 against 15.
TEST(WeighSteps, SeesThatTestsPayTogetherWhereAFewStepsAheadShowNothing) {
  const TroubleshootingProblem problem = four_bits(0.4);
  EXPECT_EQ(price_steps(problem, start_of(problem), 2).front().step.kind, StepKind::hand_over);
  const Weighing weighing = weigh_steps(problem, start_of(problem));
  EXPECT_EQ(weighing.proposed, 0U);
  EXPECT_EQ(weighing.steps[0].step, (Step{StepKind::test, 0}));
  EXPECT_NEAR(weighing.steps[0].expected_cost, 11.6, tolerance);
  EXPECT_NEAR(weighing.steps[0].saves, 3.4, tolerance);
  EXPECT_NEAR(greedy_policy_tree(problem).expected_cost(), 11.6, tolerance);
  EXPECT_EQ(weigh_steps(four_bits(1.5), start_of(problem)).steps[0].step.kind, StepKind::hand_over);
}

TEST(WeighSteps, ProposesTheTestThatTellsMostForItsCostAmongThoseOfOneCost) {
  const auto entry = [](StepKind kind, std::size_t index, double cost, double end, double bits) {
    return PricedStep{.step = {kind, index}, .step_cost = cost, .expected_cost = end, .saves = 0.0, .gain_bits = bits};
  };
  const std::vector<PricedStep> steps = {
      entry(StepKind::test, 0, 20.0, 100.0, 0.5), entry(StepKind::test, 1, 2.0, 100.9, 0.3),
      entry(StepKind::repair, 0, 1.0, 100.9, 0.0), entry(StepKind::test, 2, 1.0, 101.1, 0.9)};
  EXPECT_EQ(proposed_among(steps), 1U);
  const std::vector<PricedStep> repair_first(steps.begin() + 2, steps.end());
  EXPECT_EQ(proposed_among(repair_first), 0U);
  EXPECT_THROW((void)proposed_among({}), ArgumentError);
}

TEST(WeighSteps, CostsWhatSomePolicyCosts) {
  ProblemSource source(41);
  for (int i = 0; i < 200; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source, 3));
    const double least = Enumeration(problem).min_cost();
    const Weighing weighing = weigh_steps(problem, start_of(problem));
    for (const PricedStep& step : weighing.steps) EXPECT_GE(step.expected_cost, least - tolerance * (1.0 + least));
    EXPECT_LE(weighing.steps.front().expected_cost, price_steps(problem, start_of(problem)).front().expected_cost);
  }
}

}  // namespace
}  // namespace faultodds_tests

// The policy tree of least expected cost against everything that can be done, against codes and sequences with a known
// optimum, and its bounds at every budget.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/optimal_policy.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <functional>
#include <numeric>
#include <queue>
#include <string>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds_tests {
namespace {

using namespace faultodds;

constexpr double tolerance = 1e-8;

ProblemShape any_shape(ProblemSource& source) {
  ProblemShape shape;
  shape.hypotheses = 2 + source.below(3);
  shape.tests = source.below(4);
  shape.repairs = 1 + source.below(shape.tests == 3 ? 2 : 3);
  shape.set_ups = source.below(4);
  shape.conditions = shape.set_ups >= 2 && source.chance(0.5);
  shape.sharp_tests = source.chance(0.3);
  shape.perfect_repairs = source.chance(0.3);
  shape.wrong_still_there = !shape.perfect_repairs && source.chance(0.4);
  shape.partial = source.chance(0.4);
  shape.live_with = source.chance(0.3);
  shape.repair_elsewhere = source.chance(0.4);
  return shape;
}

/// Faults that must each be named before the repair, for a wrong repair costs more than all tests.
TroubleshootingProblem to_be_named(const std::vector<double>& weights, double repair_cost) {
  TroubleshootingProblem problem;
  problem.weights = weights;
  for (std::size_t h = 0; h < weights.size(); ++h) {
    problem.hypotheses.push_back("h" + std::to_string(h));
    RepairAction repair{.name = "r" + std::to_string(h),
                        .cost = repair_cost,
                        .set_ups = {},
                        .success = std::vector<double>(weights.size(), 0.0),
                        .becomes = {},
                        .verification = {}};
    repair.success[h] = 1.0;
    problem.repairs.push_back(repair);
  }
  problem.ends.hand_over = 100.0 * repair_cost;
  return problem;
}

/// A test without error whose outcome is a function of the hypothesis.
TestAction sorting(std::size_t hypotheses, double cost, std::size_t outcomes,
                   const std::function<std::size_t(std::size_t)>& outcome_of) {
  TestAction test{
      .name = "t", .cost = cost, .set_ups = {}, .outcomes = std::vector<std::string>(outcomes, "o"), .table = {}};
  for (std::size_t h = 0; h < hypotheses; ++h) {
    for (std::size_t o = 0; o < outcomes; ++o) test.table.push_back(outcome_of(h) == o ? 1.0 : 0.0);
  }
  return test;
}

std::vector<double> normalised(std::vector<double> weights) {
  const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
  for (double& weight : weights) weight /= sum;
  return weights;
}

TEST(OptimalPolicyTree, IsTheBestOfEverythingThatCanBeDone) {
  ProblemSource source(21);
  for (int i = 0; i < 2000; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source));
    const double least = Enumeration(problem).min_cost();
    const OptimalPolicyTree found = optimal_policy_tree(problem);
    EXPECT_TRUE(found.optimal) << i;
    EXPECT_NEAR(found.upper_bound, least, tolerance * (1.0 + least)) << i;
    EXPECT_NEAR(found.lower_bound, least, tolerance * (1.0 + least)) << i;
    EXPECT_NEAR(expected_cost(problem, found.policy_tree), least, tolerance * (1.0 + least)) << i;
  }
}

TEST(OptimalPolicyTree, IsTheBestOfAllPoliciesWrittenOut) {
  ProblemSource source(22);
  std::size_t most = 0;
  for (int i = 0; i < 150; ++i) {
    ProblemShape shape = any_shape(source);
    shape.tests = std::min<std::size_t>(shape.tests, 2);
    shape.repairs = std::min<std::size_t>(shape.repairs, shape.live_with ? 1 : 2);
    const TroubleshootingProblem problem = source.problem(shape);
    const std::vector<double> costs = Enumeration(problem).cost_of_each_policy();
    most = std::max(most, costs.size());
    const double least = *std::min_element(costs.begin(), costs.end());
    EXPECT_NEAR(optimal_policy_tree(problem).upper_bound, least, tolerance * (1.0 + least)) << i;
  }
  EXPECT_GT(most, 3000U);
}

TEST(OptimalPolicyTree, BoundsAtTheStartNeverExceedTheLeastCost) {
  ProblemSource source(23);
  int sharper = 0;
  for (int i = 0; i < 2000; ++i) {
    const TroubleshootingProblem problem = source.problem(any_shape(source));
    const double least = Enumeration(problem).min_cost();
    const Situation start = start_of(problem);
    const double perfect = perfect_information_cost(problem, start);
    const double bound = cost_lower_bound(problem, start);
    EXPECT_LE(perfect, bound + tolerance) << i;
    EXPECT_LE(bound, least + tolerance * (1.0 + least)) << i;
    sharper += bound > perfect * 1.001 ? 1 : 0;
  }
  EXPECT_GT(sharper, 500);
}

// Huffman 1952: where tests can split any set at unit cost, the least expected number of tests is the expected length
// of the Huffman code.
TEST(OptimalPolicyTree, TestsThatSplitAnySetTakeTheLengthOfTheHuffmanCode) {
  ProblemSource source(24);
  for (const std::size_t size : {2U, 3U, 4U, 5U, 6U, 6U, 7U}) {
    std::vector<double> weights;
    for (std::size_t h = 0; h < size; ++h) weights.push_back(std::exp(-3.0 * source.amount(0.0, 1.0)));
    weights = normalised(weights);
    TroubleshootingProblem problem = to_be_named(weights, 100.0);
    for (std::size_t set = 1; set < std::size_t{1} << (size - 1); ++set) {
      problem.tests.push_back(sorting(size, 1.0, 2, [set](std::size_t h) { return set >> h & 1; }));
    }
    std::priority_queue<double, std::vector<double>, std::greater<>> open(weights.begin(), weights.end());
    double length = 0.0;
    while (open.size() > 1) {
      double both = open.top();
      open.pop();
      both += open.top();
      open.pop();
      length += both;
      open.push(both);
    }
    const OptimalPolicyTree found = optimal_policy_tree(problem);
    EXPECT_TRUE(found.optimal);
    EXPECT_NEAR(found.upper_bound, 100.0 + length, 1e-7);
    // Shannon 1948: no code is shorter than the entropy. The bound at the start knows that much, nearly.
    double entropy = 0.0;
    for (const double w : weights) entropy -= w * std::log2(w);
    const double bound = cost_lower_bound(problem, start_of(problem)) - 100.0;
    EXPECT_LE(bound, entropy + 1e-9);
    EXPECT_GE(bound, 0.9 * entropy);
  }
}

// Half-splitting a chain of stages with unlike chances: each test says on which side of a point the fault is. The least
// expected cost is that of an optimum alphabetic tree (Gilbert & Moore 1959; Knuth 1971), by intervals.
TEST(OptimalPolicyTree, HalfSplittingAChainIsAnAlphabeticTree) {
  ProblemSource source(25);
  for (const std::size_t size : {3U, 5U, 7U, 8U}) {
    std::vector<double> weights, costs;
    for (std::size_t h = 0; h < size; ++h) weights.push_back(source.amount(0.02, 1.0));
    weights = normalised(weights);
    TroubleshootingProblem problem = to_be_named(weights, 200.0);
    for (std::size_t point = 1; point < size; ++point) {
      costs.push_back(source.amount(1.0, 4.0));
      problem.tests.push_back(sorting(size, costs.back(), 2, [point](std::size_t h) { return h < point ? 0U : 1U; }));
    }
    const std::function<double(std::size_t, std::size_t)> least = [&](std::size_t first, std::size_t last) {
      if (first == last) return 0.0;
      const double sum = std::accumulate(weights.begin() + static_cast<std::ptrdiff_t>(first),
                                         weights.begin() + static_cast<std::ptrdiff_t>(last) + 1, 0.0);
      double best = 1e9;
      for (std::size_t point = first + 1; point <= last; ++point) {
        best = std::min(best, costs[point - 1] * sum + least(first, point - 1) + least(point, last));
      }
      return best;
    };
    const OptimalPolicyTree found = optimal_policy_tree(problem);
    EXPECT_TRUE(found.optimal);
    EXPECT_NEAR(found.upper_bound, 200.0 + least(0, size - 1), 1e-7);
  }
}

/// Expected number of tests of unit cost until each hypothesis of a set is told apart from the others, going through
/// everything; `rows` are their outcomes. By information gain alone if `greedy`.
double tests_until_told_apart(const std::vector<double>& weights, const std::vector<std::string>& rows,
                              const std::vector<std::size_t>& set, bool greedy) {
  if (set.size() == 1) return 0.0;
  const auto weight_of = [&](const std::vector<std::size_t>& part) {
    return std::accumulate(part.begin(), part.end(), 0.0, [&](double sum, std::size_t h) { return sum + weights[h]; });
  };
  const double mass = weight_of(set);
  double most_bits = 0.0, least = 1e9;
  for (std::size_t t = 0; t < rows.front().size(); ++t) {
    std::vector<std::size_t> passed, failed;
    for (const std::size_t h : set) (rows[h][t] == '0' ? passed : failed).push_back(h);
    if (passed.empty() || failed.empty()) continue;
    const double p = weight_of(passed) / mass;
    const double bits = -p * std::log2(p) - (1.0 - p) * std::log2(1.0 - p);
    if (greedy && bits <= most_bits + 1e-12) continue;
    const double cost = mass + tests_until_told_apart(weights, rows, passed, greedy) +
                        tests_until_told_apart(weights, rows, failed, greedy);
    least = greedy ? cost : std::min(least, cost);
    most_bits = bits;
  }
  return least;
}

// Pattipati & Alexandridis 1990, IEEE Trans. SMC 20(4), the example of six system states and five tests of unit cost
// (from memory): the optimum takes 2.18 tests, the one-step information gain 2.86. Both by enumeration as well.
TEST(OptimalPolicyTree, TheExampleOfTestSequencingTrapsTheInformationGain) {
  const std::vector<double> weights{0.70, 0.01, 0.02, 0.10, 0.05, 0.12};
  const std::vector<std::string> rows{"00000", "01001", "00110", "10011", "11000", "11110"};
  const std::vector<std::size_t> all{0, 1, 2, 3, 4, 5};
  EXPECT_NEAR(tests_until_told_apart(weights, rows, all, false), 2.18, 1e-12);
  EXPECT_NEAR(tests_until_told_apart(weights, rows, all, true), 2.86, 1e-12);
  constexpr double repair_cost = 1000.0;  // so dear that to name the fault first always pays
  TroubleshootingProblem problem = to_be_named(weights, repair_cost);
  for (std::size_t t = 0; t < 5; ++t) {
    problem.tests.push_back(sorting(6, 1.0, 2, [&](std::size_t h) { return rows[h][t] == '1' ? 1U : 0U; }));
  }
  const OptimalPolicyTree best = optimal_policy_tree(problem);
  EXPECT_TRUE(best.optimal);
  EXPECT_NEAR(best.upper_bound - repair_cost, 2.18, 1e-9);
  EXPECT_NEAR(greedy_policy_tree(problem).expected_cost() - repair_cost, 2.86, 1e-9);
}

// One heavy coin among nine takes two weighings, for 3^2 = 9 outcomes are needed and enough (a classic puzzle; from
// memory, and the bound log2 9 / log2 3 = 2 shows that no fewer do).
TEST(OptimalPolicyTree, AHeavyCoinAmongNineTakesTwoWeighings) {
  TroubleshootingProblem problem = to_be_named(std::vector<double>(9, 1.0), 1000.0);
  const auto weigh = [&problem](const std::string& pans) {
    problem.tests.push_back(sorting(9, 1.0, 3, [&pans](std::size_t h) {
      return pans[h] == 'l' ? std::size_t{0} : pans[h] == 'r' ? std::size_t{1} : std::size_t{2};
    }));
  };
  for (const char* pans : {"lr-------", "llrr-----", "llllrrrr-", "--lr-----", "-------lr", "l-r-l-r--"}) weigh(pans);
  EXPECT_GT(optimal_policy_tree(problem).upper_bound, 1002.0 + 1e-6);
  for (const char* pans : {"lllrrr---", "l--l--l--", "lr-lr-lr-"}) weigh(pans);
  const OptimalPolicyTree found = optimal_policy_tree(problem);
  EXPECT_TRUE(found.optimal);
  EXPECT_NEAR(found.upper_bound, 1002.0, 1e-6);
}

// Tests that each look at one unit only, one of which is faulty: by chance over cost, the last unit untested (Mitten
// 1960 for the least-cost testing sequence; here against all permutations).
TEST(OptimalPolicyTree, TestsOfOneUnitEachGoByChanceOverCost) {
  ProblemSource source(26);
  for (int i = 0; i < 20; ++i) {
    const std::size_t size = 3 + source.below(4);
    std::vector<double> weights, costs;
    for (std::size_t h = 0; h < size; ++h) weights.push_back(source.amount(0.02, 1.0));
    weights = normalised(weights);
    TroubleshootingProblem problem = to_be_named(weights, 300.0);
    for (std::size_t unit = 0; unit < size; ++unit) {
      costs.push_back(source.amount(1.0, 9.0));
      problem.tests.push_back(sorting(size, costs.back(), 2, [unit](std::size_t h) { return h == unit ? 1U : 0U; }));
    }
    std::vector<std::size_t> order(size);
    std::iota(order.begin(), order.end(), 0);
    double least = 1e9;
    do {
      double sum = 0.0, left = 1.0;
      for (std::size_t k = 0; k + 1 < size; ++k) {
        sum += left * costs[order[k]];
        left -= weights[order[k]];
      }
      least = std::min(least, sum);
    } while (std::next_permutation(order.begin(), order.end()));
    EXPECT_NEAR(optimal_policy_tree(problem).upper_bound, 300.0 + least, 1e-7);
  }
}

TEST(OptimalPolicyTree, BoundsHoldTheOptimumAtEveryBudgetAndOnlyComeCloser) {
  ProblemSource source(27);
  std::size_t longest = 0;
  for (int i = 0; i < 20; ++i) {
    ProblemShape shape{.hypotheses = 4, .tests = 3, .repairs = 3, .set_ups = 2};
    shape.partial = i % 3 == 0;
    shape.wrong_still_there = i % 2 == 0;
    TroubleshootingProblem problem = source.problem(shape);
    problem.ends.hand_over = 150.0;
    const double least = Enumeration(problem).min_cost();
    double lower = 0.0, upper = 1e9;
    bool optimal = false;
    for (std::size_t steps = 0; !optimal; steps = steps < 16 ? steps + 1 : 2 * steps) {
      const OptimalPolicyTree found = optimal_policy_tree(problem, {.max_steps = steps});
      optimal = found.optimal;
      longest = std::max(longest, found.steps);
      EXPECT_LE(found.steps, steps);
      EXPECT_LE(found.lower_bound, least * (1.0 + tolerance));
      EXPECT_GE(found.upper_bound, least * (1.0 - tolerance));
      EXPECT_GE(found.lower_bound, lower * (1.0 - tolerance));
      EXPECT_LE(found.upper_bound, upper * (1.0 + tolerance));
      EXPECT_NEAR(expected_cost(problem, found.policy_tree), found.upper_bound, tolerance * found.upper_bound);
      lower = found.lower_bound;
      upper = found.upper_bound;
    }
  }
  EXPECT_GT(longest, 50U);
}

TEST(OptimalPolicyTree, StopsWhenTold) {
  ProblemSource source(28);
  TroubleshootingProblem problem = source.problem({.hypotheses = 6, .tests = 5, .repairs = 5});
  problem.ends.hand_over = 200.0;
  std::size_t calls = 0;
  std::atomic<bool> enough{false};
  StopOptions options;
  options.flag = &enough;
  options.progress = [&](const Progress& progress) {
    EXPECT_EQ(progress.of, "situations");
    EXPECT_EQ(progress.done, ++calls);
    EXPECT_LE(progress.lower_bound, progress.upper_bound);
    enough = calls == 4;
  };
  const OptimalPolicyTree stopped = optimal_policy_tree(problem, {}, Stop(options));
  EXPECT_EQ(calls, 4U);
  EXPECT_EQ(stopped.steps, 4U);
  EXPECT_TRUE(stopped.stopped);
  EXPECT_FALSE(stopped.optimal);
  EXPECT_LT(stopped.lower_bound, stopped.upper_bound);
}

TEST(OptimalPolicyTree, HandsOverAtOnceWhereThatIsFree) {
  ProblemSource source(29);
  for (int i = 0; i < 50; ++i) {
    TroubleshootingProblem problem = source.problem(any_shape(source));
    problem.ends.hand_over = 0.0;
    problem.repair_elsewhere.clear();
    const OptimalPolicyTree found = optimal_policy_tree(problem);
    ASSERT_EQ(found.policy_tree.nodes.size(), 1U);
    EXPECT_EQ(found.policy_tree.nodes[0].step.kind, StepKind::hand_over);
    EXPECT_TRUE(found.optimal);
    for (const PolicyTree& policy_tree : {greedy_policy_tree(problem), look_ahead_policy_tree(problem)}) {
      EXPECT_EQ(policy_tree.expected_cost(), 0.0);
    }
  }
}

void scale(TroubleshootingProblem& problem, double factor) {
  for (SetUp& set_up : problem.set_ups) set_up.cost *= factor;
  for (TestAction& test : problem.tests) test.cost *= factor;
  for (RepairAction& repair : problem.repairs) {
    repair.cost *= factor;
    repair.verification.cost *= factor;
  }
  *problem.ends.hand_over *= factor;
  for (double& cost : problem.repair_elsewhere) cost *= factor;
  if (problem.ends.live_with) *problem.ends.live_with *= factor;
  if (problem.ends.comeback) *problem.ends.comeback *= factor;
}

TEST(OptimalPolicyTree, AnotherCurrencyChangesNothingButTheNumbers) {
  ProblemSource source(30);
  for (int i = 0; i < 100; ++i) {
    TroubleshootingProblem problem = source.problem(any_shape(source));
    const OptimalPolicyTree before = optimal_policy_tree(problem);
    for (const double factor : {1.0 / 1024.0, 100.0}) {
      TroubleshootingProblem scaled = problem;
      scale(scaled, factor);
      EXPECT_NEAR(optimal_policy_tree(scaled).upper_bound, factor * before.upper_bound,
                  tolerance * factor * (1.0 + before.upper_bound));
    }
    for (double& weight : problem.weights) weight *= 7.0;
    EXPECT_NEAR(optimal_policy_tree(problem).upper_bound, before.upper_bound, tolerance * (1.0 + before.upper_bound));
  }
}

TEST(OptimalPolicyTree, AHypothesisWithoutWeightChangesNothing) {
  ProblemSource source(31);
  for (int i = 0; i < 100; ++i) {
    ProblemShape shape = any_shape(source);
    shape.partial = false;
    const TroubleshootingProblem problem = source.problem(shape);
    TroubleshootingProblem longer = problem;
    longer.hypotheses.insert(longer.hypotheses.begin(), "cannot be");
    longer.weights.insert(longer.weights.begin(), 0.0);
    if (shape.repair_elsewhere) longer.repair_elsewhere.insert(longer.repair_elsewhere.begin(), 7.0);
    for (TestAction& test : longer.tests) {
      std::vector<double> row(test.outcomes.size(), 0.0);
      row.back() = 1.0;
      test.table.insert(test.table.begin(), row.begin(), row.end());
    }
    for (RepairAction& repair : longer.repairs) repair.success.insert(repair.success.begin(), 1.0);
    const double cost = optimal_policy_tree(problem).upper_bound;
    EXPECT_NEAR(optimal_policy_tree(longer).upper_bound, cost, tolerance * (1.0 + cost));
  }
}

std::string text_of(const PolicyTree& policy_tree) {
  std::string text;
  const auto add = [&text](double number) {
    char buffer[40];
    std::snprintf(buffer, sizeof buffer, "%a ", number);
    text += buffer;
  };
  for (const PolicyNode& node : policy_tree.nodes) {
    add(static_cast<double>(node.step.kind));
    for (const std::size_t number : {node.step.index, node.set_ups.size(), node.branches.size()}) {
      add(static_cast<double>(number));
    }
    for (const double number : {node.step_cost, node.expected_cost, node.lower_bound, node.probability}) add(number);
  }
  return text;
}

TEST(OptimalPolicyTree, SaysTheSameEachTime) {
  ProblemSource source(32);
  for (int i = 0; i < 10; ++i) {
    TroubleshootingProblem problem = source.problem({.hypotheses = 5, .tests = 4, .repairs = 4, .set_ups = 3});
    problem.ends.hand_over = 120.0;
    const OptimalPolicyTree first = optimal_policy_tree(problem, {.max_steps = 60});
    const OptimalPolicyTree second = optimal_policy_tree(problem, {.max_steps = 60});
    EXPECT_EQ(text_of(first.policy_tree), text_of(second.policy_tree));
    EXPECT_EQ(first.lower_bound, second.lower_bound);
    EXPECT_EQ(text_of(look_ahead_policy_tree(problem)), text_of(look_ahead_policy_tree(problem)));
    EXPECT_EQ(text_of(greedy_policy_tree(problem)), text_of(greedy_policy_tree(problem)));
  }
}

/// Faults with a repair each behind some covers, tests that look at a few of them and err at times: as in a workshop.
TroubleshootingProblem workshop(ProblemSource& source, std::size_t faults, std::size_t tests) {
  TroubleshootingProblem problem;
  for (std::size_t h = 0; h < faults; ++h) {
    problem.hypotheses.push_back("h" + std::to_string(h));
    problem.weights.push_back(std::exp(-3.0 * source.amount(0.0, 1.0)));
  }
  problem.hypotheses.push_back("none of the listed faults");
  problem.weights.push_back(0.05 * std::accumulate(problem.weights.begin(), problem.weights.end(), 0.0));
  for (int s = 0; s < 2; ++s)
    problem.set_ups.push_back(
        {.name = "cover", .cost = source.amount(2.0, 20.0), .needs = {}, .group = {}, .in_place = false});
  for (std::size_t t = 0; t < tests; ++t) {
    TestAction test{.name = "t" + std::to_string(t),
                    .cost = source.amount(2.0, 25.0),
                    .set_ups = {},
                    .outcomes = {"good", "bad"},
                    .table = {}};
    if (source.chance(0.4)) test.set_ups = {source.below(2)};
    std::vector<double> bad(faults + 1, source.amount(0.01, 0.05));
    for (std::size_t k = 1 + source.below(4); k > 0; --k) bad[source.below(faults)] = source.amount(0.8, 0.99);
    for (const double p : bad) test.table.insert(test.table.end(), {1.0 - p, p});
    problem.tests.push_back(test);
  }
  for (std::size_t h = 0; h < faults; ++h) {
    RepairAction repair{.name = "r",
                        .cost = source.amount(20.0, 300.0),
                        .set_ups = {},
                        .success = std::vector<double>(faults + 1, 0.0),
                        .becomes = {},
                        .verification = {.cost = 5.0, .false_cured = 0.02, .false_still_there = 0.0}};
    repair.success[h] = source.amount(0.9, 1.0);
    if (source.chance(0.4)) repair.set_ups = {source.below(2)};
    problem.repairs.push_back(repair);
  }
  problem.ends.hand_over = 400.0;
  problem.ends.comeback = 500.0;
  return problem;
}

TEST(OptimalPolicyTree, NoRuleIsBetterAndAdviceByMoneyIsWithinThreePercentOnAverage) {
  ProblemSource source(33);
  constexpr int problems = 40;
  double greedy = 0.0, one = 0.0, two = 0.0, advised = 0.0;
  for (int i = 0; i < problems; ++i) {
    const TroubleshootingProblem problem = workshop(source, 5, 5);
    const OptimalPolicyTree best = optimal_policy_tree(problem);
    ASSERT_TRUE(best.optimal);
    const auto excess = [&](const PolicyTree& policy_tree) {
      const double more = expected_cost(problem, policy_tree) / best.upper_bound - 1.0;
      EXPECT_GE(more, -tolerance);
      return more / problems;
    };
    greedy += excess(greedy_policy_tree(problem));
    one += excess(look_ahead_policy_tree(problem, 1));
    two += excess(look_ahead_policy_tree(problem));
    advised += excess(follow(problem, [&problem](const Situation& situation) {
      const Weighing weighing = weigh_steps(problem, situation);
      return weighing.steps[weighing.proposed].step;
    }));
    (void)excess(fixed_order_policy_tree(problem, {.tests = {0, 1, 2, 3, 4}}));
  }
  RecordProperty("greedy_percent", std::to_string(100.0 * greedy));
  RecordProperty("one_step_percent", std::to_string(100.0 * one));
  RecordProperty("two_steps_percent", std::to_string(100.0 * two));
  RecordProperty("advised_percent", std::to_string(100.0 * advised));
  EXPECT_LT(one, 0.03);
  EXPECT_LT(two, 0.01);
  EXPECT_LT(advised, 0.02);
  EXPECT_GT(greedy, 0.0);
}

}  // namespace
}  // namespace faultodds_tests

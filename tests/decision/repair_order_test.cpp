// Repair sequences: P over C against all permutations, the best sequence against enumeration of everything.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/repair_order.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <string>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds_tests {
namespace {

using namespace faultodds;

constexpr double tolerance = 1e-9;

/// One fault, a repair for each that may fail, seen at once; costs apart.
TroubleshootingProblem one_repair_each(ProblemSource& source, std::size_t size) {
  TroubleshootingProblem problem;
  for (std::size_t h = 0; h < size; ++h) {
    problem.hypotheses.push_back("h" + std::to_string(h));
    problem.weights.push_back(source.amount(0.01, 1.0));
    RepairAction repair;
    repair.name = "r" + std::to_string(h);
    repair.cost = source.amount(1.0, 50.0);
    repair.verification.cost = source.amount(0.0, 5.0);
    repair.success.assign(size, 0.0);
    repair.success[h] = source.chance(0.5) ? 1.0 : source.amount(0.4, 1.0);
    if (source.chance(0.5)) {
      repair.set_ups = {problem.set_ups.size()};
      problem.set_ups.push_back({.name = "s" + std::to_string(h),
                                 .cost = source.amount(0.0, 20.0),
                                 .needs = {},
                                 .group = {},
                                 .in_place = source.chance(0.2)});
    }
    problem.repairs.push_back(repair);
  }
  problem.ends.hand_over = source.amount(5.0, 200.0);
  return problem;
}

/// Sum of each cost with the probability that the repairs before failed: the formula of Heckerman, Breese & Rommelse
/// 1995, section 2, with one fault, and hand-over at the end.
double formula(const TroubleshootingProblem& problem, const std::vector<std::size_t>& order) {
  const double all = std::accumulate(problem.weights.begin(), problem.weights.end(), 0.0);
  double left = 1.0, sum = 0.0;
  for (const std::size_t r : order) {
    const RepairAction& repair = problem.repairs[r];
    double cost = repair.cost + repair.verification.cost;
    for (const std::size_t s : repair.set_ups) cost += problem.set_ups[s].in_place ? 0.0 : problem.set_ups[s].cost;
    sum += left * cost;
    left -= problem.weights[r] / all * repair.success[r];
  }
  return sum + left * *problem.ends.hand_over;
}

TEST(RepairOrder, CostsWhatTheFormulaSays) {
  ProblemSource source(1);
  for (int i = 0; i < 200; ++i) {
    const TroubleshootingProblem problem = one_repair_each(source, 2 + source.below(5));
    std::vector<std::size_t> order(problem.repairs.size());
    std::iota(order.begin(), order.end(), 0);
    for (std::size_t k = order.size(); k > 1; --k) std::swap(order[k - 1], order[source.below(k)]);
    EXPECT_NEAR(priced_repair_order(problem, order).expected_cost, formula(problem, order), tolerance);
  }
}

// Kadane & Simon 1977; Heckerman, Breese & Rommelse 1995.
TEST(RepairOrder, POverCIsTheBestOfAllPermutationsWhereItsConditionsHold) {
  ProblemSource source(2);
  int cut = 0;
  for (int i = 0; i < 300; ++i) {
    const TroubleshootingProblem problem = one_repair_each(source, 2 + source.below(5));
    ASSERT_TRUE(p_over_c_is_best(problem));
    const RepairOrder order = p_over_c_order(problem);
    EXPECT_TRUE(order.best);
    std::vector<std::size_t> all(problem.repairs.size());
    std::iota(all.begin(), all.end(), 0);
    double least = *problem.ends.hand_over;
    do {
      for (std::size_t length = 1; length <= all.size(); ++length) {
        least = std::min(least, formula(problem, {all.begin(), all.begin() + static_cast<std::ptrdiff_t>(length)}));
      }
    } while (std::next_permutation(all.begin(), all.end()));
    EXPECT_NEAR(order.expected_cost, least, tolerance);
    EXPECT_NEAR(best_repair_order(problem).expected_cost, least, tolerance);
    cut += order.repairs.size() < all.size() ? 1 : 0;
  }
  EXPECT_GT(cut, 50);  // hand-over comes into it
}

// Where the specialist's repair is dear for one fault and not for another, which repairs to try is no longer a prefix
// of the order by P over C.
TEST(RepairOrder, IsTheBestOfAllSequencesWhereRepairsElsewhereCostDifferently) {
  ProblemSource source(12);
  int not_a_prefix = 0;
  for (int i = 0; i < 200; ++i) {
    TroubleshootingProblem problem = one_repair_each(source, 2 + source.below(4));
    problem.ends.hand_over = source.amount(5.0, 40.0);
    for (std::size_t h = 0; h < problem.hypotheses.size(); ++h) {
      problem.repair_elsewhere.push_back(h % 2 == 0 ? source.amount(0.0, 5.0) : source.amount(60.0, 120.0));
    }
    EXPECT_FALSE(p_over_c_is_best(problem));
    const double all_mass = std::accumulate(problem.weights.begin(), problem.weights.end(), 0.0);
    const auto with_repair_elsewhere = [&](const std::vector<std::size_t>& order) {
      double sum = formula(problem, order);
      for (std::size_t h = 0; h < problem.weights.size(); ++h) {
        const bool tried = std::find(order.begin(), order.end(), h) != order.end();
        const double left = tried ? 1.0 - problem.repairs[h].success[h] : 1.0;
        sum += problem.weights[h] / all_mass * left * problem.repair_elsewhere[h];
      }
      return sum;
    };
    double least = with_repair_elsewhere({});
    std::vector<std::size_t> all(problem.repairs.size());
    std::iota(all.begin(), all.end(), 0);
    do {
      for (std::size_t length = 1; length <= all.size(); ++length) {
        least =
            std::min(least, with_repair_elsewhere({all.begin(), all.begin() + static_cast<std::ptrdiff_t>(length)}));
      }
    } while (std::next_permutation(all.begin(), all.end()));
    const RepairOrder best = best_repair_order(problem);
    EXPECT_TRUE(best.best);
    EXPECT_NEAR(best.expected_cost, least, tolerance);
    EXPECT_NEAR(with_repair_elsewhere(best.repairs), least, tolerance);
    const double prefix = p_over_c_order(problem).expected_cost;
    EXPECT_GE(prefix, least - tolerance);
    not_a_prefix += prefix > least + 1e-6 ? 1 : 0;
  }
  EXPECT_GT(not_a_prefix, 10);
}

TEST(RepairOrder, SharedAccessBreaksPOverC) {
  TroubleshootingProblem problem;
  problem.hypotheses = {"plug", "left injector", "right injector"};
  problem.weights = {0.4, 0.3, 0.3};
  problem.set_ups = {{.name = "rail off", .cost = 10.0, .needs = {}, .group = {}, .in_place = false}};
  problem.repairs = {
      {.name = "plug", .cost = 13.0, .set_ups = {}, .success = {1.0, 0.0, 0.0}, .becomes = {}, .verification = {}},
      {.name = "left injector",
       .cost = 4.0,
       .set_ups = {0},
       .success = {0.0, 1.0, 0.0},
       .becomes = {},
       .verification = {}},
      {.name = "right injector",
       .cost = 4.0,
       .set_ups = {0},
       .success = {0.0, 0.0, 1.0},
       .becomes = {},
       .verification = {}}};
  problem.ends.hand_over = 1000.0;
  EXPECT_FALSE(p_over_c_is_best(problem));
  const RepairOrder by_ratio = p_over_c_order(problem);
  EXPECT_EQ(by_ratio.repairs.front(), 0U);
  EXPECT_FALSE(by_ratio.best);
  EXPECT_NEAR(by_ratio.expected_cost, 13.0 + 0.6 * 14.0 + 0.3 * 4.0, tolerance);
  const RepairOrder best = best_repair_order(problem);
  EXPECT_EQ(best.repairs, (std::vector<std::size_t>{1, 2, 0}));
  EXPECT_NEAR(best.expected_cost, 14.0 + 0.7 * 4.0 + 0.4 * 13.0, tolerance);
  EXPECT_TRUE(best.best);
}

TEST(RepairOrder, ConditionsOfPOverCAreSeen) {
  ProblemSource source(3);
  const TroubleshootingProblem problem = one_repair_each(source, 3);
  TroubleshootingProblem other = problem;
  other.repairs[0].success[1] = 0.5;  // mended by two
  EXPECT_FALSE(p_over_c_is_best(other));
  other.weights[1] = 0.0;  // which then cannot be
  EXPECT_TRUE(p_over_c_is_best(other));
  other = problem;
  other.repairs[0].becomes = {1, 0, 0};
  EXPECT_FALSE(p_over_c_is_best(other));
  other = problem;
  other.ends.comeback = 100.0;
  other.repairs[0].verification.false_cured = 0.1;
  EXPECT_FALSE(p_over_c_is_best(other));
  other = problem;
  other.set_ups.push_back({.name = "hot", .cost = 0.0, .needs = {}, .group = "engine", .in_place = true});
  other.repairs[0].set_ups = {other.set_ups.size() - 1};
  EXPECT_FALSE(p_over_c_is_best(other));
}

TEST(RepairOrder, TheBestOfManyKindsIsThatOfEnumeration) {
  ProblemSource source(4);
  for (int i = 0; i < 600; ++i) {
    ProblemShape shape;
    shape.hypotheses = 2 + source.below(4);
    shape.tests = 0;
    shape.repairs = 1 + source.below(5);
    shape.set_ups = source.below(4);
    shape.conditions = source.chance(0.3);
    shape.perfect_repairs = source.chance(0.3);
    shape.wrong_still_there = !shape.perfect_repairs && source.chance(0.3);
    shape.partial = source.chance(0.3);
    shape.live_with = source.chance(0.3);
    const TroubleshootingProblem problem = source.problem(shape);
    const double least = Enumeration(problem).min_cost();
    const RepairOrder best = best_repair_order(problem);
    EXPECT_TRUE(best.best) << i;
    EXPECT_NEAR(best.expected_cost, least, tolerance) << i;
    EXPECT_NEAR(best.lower_bound, least, tolerance) << i;
    EXPECT_NEAR(priced_repair_order(problem, best.repairs).expected_cost, least, tolerance) << i;
    EXPECT_GE(p_over_c_order(problem).expected_cost, least - tolerance) << i;
    EXPECT_LE(p_over_c_order(problem).lower_bound, least + tolerance) << i;
  }
}

/// Many repairs behind a few access jobs.
TroubleshootingProblem behind_few_effects(ProblemSource& source, std::size_t size) {
  TroubleshootingProblem problem = one_repair_each(source, size);
  problem.set_ups.clear();
  for (const double cost : {5.0, 12.0, 20.0})
    problem.set_ups.push_back({.name = "cover", .cost = cost, .needs = {}, .group = {}, .in_place = false});
  problem.set_ups[2].needs = {0};
  for (RepairAction& repair : problem.repairs) repair.set_ups = {source.below(3)};
  problem.ends.hand_over = 400.0;
  return problem;
}

TEST(RepairOrder, SetsAndSearchAgree) {
  ProblemSource source(5);
  for (int i = 0; i < 20; ++i) {
    const TroubleshootingProblem problem = behind_few_effects(source, 8);
    const RepairOrder by_sets = best_repair_order(problem);
    const RepairOrder by_search = best_repair_order(problem, {.max_in_sets = 0});
    EXPECT_TRUE(by_search.best);
    EXPECT_NEAR(by_sets.expected_cost, by_search.expected_cost, 1e-8 * by_sets.expected_cost);
  }
}

TEST(RepairOrder, SetsOfManyRepairsFindPOverC) {
  ProblemSource source(6);
  TroubleshootingProblem problem = one_repair_each(source, 15);
  problem.ends.hand_over = 900.0;
  const RepairOrder by_ratio = p_over_c_order(problem);
  ASSERT_TRUE(by_ratio.best);
  // A shared access job that costs nothing changes nothing but the method.
  problem.set_ups.push_back({.name = "gate", .cost = 0.0, .needs = {}, .group = {}, .in_place = false});
  for (RepairAction& repair : problem.repairs) repair.set_ups.push_back(problem.set_ups.size() - 1);
  ASSERT_FALSE(p_over_c_is_best(problem));
  const RepairOrder by_sets = best_repair_order(problem);
  EXPECT_EQ(by_sets.repairs, by_ratio.repairs);
  EXPECT_NEAR(by_sets.expected_cost, by_ratio.expected_cost, tolerance);
  EXPECT_EQ(by_sets.steps, std::size_t{1} << 15);
}

TEST(RepairOrder, ABoundedSearchStatesWhatItCouldNotRuleOut) {
  ProblemSource source(7);
  const TroubleshootingProblem problem = behind_few_effects(source, 12);
  const double least = best_repair_order(problem).expected_cost;
  double lower = 0.0, upper = 1e9;
  for (const std::size_t steps : {0U, 1U, 3U, 10U, 30U, 100U, 300U, 1000U}) {
    const RepairOrder order = best_repair_order(problem, {.max_in_sets = 0, .max_steps = steps});
    EXPECT_LE(order.steps, steps);
    EXPECT_LE(order.lower_bound, least + tolerance);
    EXPECT_GE(order.expected_cost, least - tolerance);
    EXPECT_GE(order.lower_bound, lower - tolerance);
    EXPECT_LE(order.expected_cost, upper + tolerance);
    lower = order.lower_bound;
    upper = order.expected_cost;
  }
}

TEST(RepairOrder, RefusesSequencesThatCannotBe) {
  ProblemSource source(8);
  const TroubleshootingProblem problem = one_repair_each(source, 3);
  EXPECT_THROW((void)priced_repair_order(problem, std::vector<std::size_t>{0, 0}), ArgumentError);
  EXPECT_THROW((void)priced_repair_order(problem, std::vector<std::size_t>{3}), ArgumentError);
  EXPECT_THROW((void)best_repair_order(problem, {.max_in_sets = 40}), ArgumentError);
  const RepairOrder nothing = priced_repair_order(problem, std::vector<std::size_t>{});
  EXPECT_DOUBLE_EQ(nothing.expected_cost, *problem.ends.hand_over);
  EXPECT_DOUBLE_EQ(nothing.probability_left, 1.0);
}

}  // namespace
}  // namespace faultodds_tests

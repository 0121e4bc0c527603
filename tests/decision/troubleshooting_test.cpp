// The planning problem: what makes no sense is refused by its place; set-ups, Bayes' rule and repairs by hand.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/troubleshooting.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds_tests {
namespace {

using namespace faultodds;

/// Battery or starter; a voltmeter that errs, a repair of each, on an engine that is cold.
TroubleshootingProblem no_crank() {
  TroubleshootingProblem problem;
  problem.hypotheses = {"battery", "starter"};
  problem.weights = {3.0, 1.0};
  problem.set_ups = {{.name = "hood open", .cost = 1.0, .needs = {}, .group = "", .in_place = false},
                     {.name = "tray off", .cost = 4.0, .needs = {0}, .group = "", .in_place = false},
                     {.name = "engine cold", .cost = 30.0, .needs = {}, .group = "engine", .in_place = true},
                     {.name = "engine hot", .cost = 10.0, .needs = {}, .group = "engine", .in_place = false}};
  problem.tests = {
      {.name = "voltage", .cost = 2.0, .set_ups = {0}, .outcomes = {"good", "low"}, .table = {0.1, 0.9, 0.8, 0.2}}};
  problem.repairs = {{.name = "battery",
                      .cost = 100.0,
                      .set_ups = {1},
                      .success = {0.95, 0.0},
                      .becomes = {},
                      .verification = {.cost = 1.0, .false_cured = 0.05, .false_still_there = 0.0}},
                     {.name = "starter",
                      .cost = 250.0,
                      .set_ups = {1, 2},
                      .success = {0.0, 0.9},
                      .becomes = {},
                      .verification = {.cost = 1.0, .false_cured = 0.05, .false_still_there = 0.0}}};
  problem.ends.hand_over = 300.0;
  problem.ends.comeback = 200.0;
  return problem;
}

void refuses(const std::string& place, const std::function<void(TroubleshootingProblem&)>& spoil) {
  TroubleshootingProblem problem = no_crank();
  EXPECT_NO_THROW(validate(problem));
  spoil(problem);
  try {
    validate(problem);
    FAIL() << place << " was not refused";
  } catch (const ArgumentError& error) {
    EXPECT_EQ(error.argument(), place) << error.what();
  }
}

TEST(Troubleshooting, RefusesWhatMakesNoSenseByItsPlace) {
  using Problem = TroubleshootingProblem;
  refuses("hypotheses", [](Problem& p) { p.hypotheses.clear(); });
  refuses("weights", [](Problem& p) { p.weights.pop_back(); });
  refuses("weights", [](Problem& p) { p.weights = {0.0, 0.0}; });
  refuses("weights[1]", [](Problem& p) { p.weights[1] = -1.0; });
  refuses("set_ups[1].needs", [](Problem& p) { p.set_ups[1].needs = {7}; });
  refuses("set_ups[0].needs", [](Problem& p) { p.set_ups[0].needs = {1}; });
  refuses("set_ups[3].needs", [](Problem& p) { p.set_ups[3].needs = {0}; });
  refuses("set_ups[3].in_place", [](Problem& p) { p.set_ups[3].in_place = true; });
  refuses("set_ups[0].cost", [](Problem& p) { p.set_ups[0].cost = -1.0; });
  refuses("tests[0].cost", [](Problem& p) { p.tests[0].cost = std::numeric_limits<double>::infinity(); });
  refuses("tests[0].set_ups", [](Problem& p) { p.tests[0].set_ups = {2, 3}; });
  refuses("tests[0].set_ups", [](Problem& p) { p.tests[0].set_ups = {0, 0}; });
  refuses("tests[0].outcomes", [](Problem& p) { p.tests[0].outcomes.clear(); });
  refuses("tests[0].table", [](Problem& p) { p.tests[0].table.pop_back(); });
  refuses("tests[0].table row 1", [](Problem& p) { p.tests[0].table[3] = 0.3; });
  refuses("tests[0].table row 0", [](Problem& p) { p.tests[0].table[0] = std::nan(""); });
  refuses("tests[0].table", [](Problem& p) { p.repairs[1].verification.false_still_there = 0.1; });
  refuses("repairs[0].success", [](Problem& p) { p.repairs[0].success = {1.0}; });
  refuses("repairs[1].success", [](Problem& p) { p.repairs[1].success[1] = 1.5; });
  refuses("repairs[0].becomes", [](Problem& p) { p.repairs[0].becomes = {2, 0}; });
  refuses("repairs[0].verification.false_cured", [](Problem& p) { p.repairs[0].verification.false_cured = -0.1; });
  refuses("ends.comeback", [](Problem& p) { p.ends.comeback.reset(); });
  refuses("ends.hand_over", [](Problem& p) { p.ends.hand_over.reset(); });
  refuses("ends.live_with", [](Problem& p) { p.ends.live_with = -3.0; });
  refuses("repair_elsewhere", [](Problem& p) { p.repair_elsewhere = {1.0}; });
  refuses("repair_elsewhere[1]", [](Problem& p) { p.repair_elsewhere = {1.0, -1.0}; });
  refuses("repair_elsewhere", [](Problem& p) {
    p.repair_elsewhere = {1.0, 1.0};
    p.ends.hand_over.reset();
    p.ends.live_with = 10.0;
  });
}

TEST(Troubleshooting, AccessIsPaidOnceWithWhatItNeeds) {
  const TroubleshootingProblem problem = no_crank();
  Situation situation = start_of(problem);
  const SetUpWork all = set_up_work(problem, situation.in_place, problem.repairs[0].set_ups);
  EXPECT_EQ(all.set_ups, (std::vector<std::size_t>{0, 1}));
  EXPECT_DOUBLE_EQ(all.cost, 5.0);
  situation = results_of(problem, situation, {StepKind::test, 0})[0].situation;
  EXPECT_DOUBLE_EQ(step_cost(problem, situation, {StepKind::repair, 0}), 4.0 + 100.0 + 1.0);
}

TEST(Troubleshooting, AConditionEndsTheOthersOfItsGroup) {
  TroubleshootingProblem problem = no_crank();
  problem.tests[0].set_ups = {0, 3};
  Situation situation = start_of(problem);
  EXPECT_DOUBLE_EQ(step_cost(problem, situation, {StepKind::repair, 1}), 5.0 + 250.0 + 1.0);
  EXPECT_DOUBLE_EQ(step_cost(problem, situation, {StepKind::test, 0}), 1.0 + 10.0 + 2.0);
  situation = results_of(problem, situation, {StepKind::test, 0})[0].situation;
  EXPECT_EQ(situation.in_place, (std::vector<bool>{true, false, false, true}));
  EXPECT_DOUBLE_EQ(step_cost(problem, situation, {StepKind::repair, 1}), 4.0 + 30.0 + 250.0 + 1.0);
}

TEST(Troubleshooting, AnAccessJobMayNeedAConditionThatTheWorkBehindItEnds) {
  TroubleshootingProblem problem = no_crank();
  problem.set_ups[1].needs = {0, 2};  // the tray comes off a cold engine only
  problem.set_ups[2].in_place = false;
  const SetUpWork work = set_up_work(problem, start_of(problem).in_place, std::vector<std::size_t>{3, 1});
  EXPECT_EQ(work.set_ups, (std::vector<std::size_t>{0, 2, 1, 3}));
  EXPECT_DOUBLE_EQ(work.cost, 1.0 + 30.0 + 4.0 + 10.0);
}

TEST(Troubleshooting, AnOutcomeWeighsByBayesRule) {
  const TroubleshootingProblem problem = no_crank();
  const std::vector<StepResult> results = results_of(problem, start_of(problem), {StepKind::test, 0});
  ASSERT_EQ(results.size(), 2U);
  EXPECT_NEAR(results[1].probability, 0.75 * 0.9 + 0.25 * 0.2, 1e-15);
  EXPECT_NEAR(results[1].situation.belief[0], 0.75 * 0.9 / (0.75 * 0.9 + 0.25 * 0.2), 1e-15);
  EXPECT_EQ(results[1].situation.belief[2], 0.0);
}

TEST(Troubleshooting, ARepairDoneBadlyStaysPossible) {
  const TroubleshootingProblem problem = no_crank();
  const std::vector<StepResult> results = results_of(problem, start_of(problem), {StepKind::repair, 0});
  ASSERT_EQ(results.size(), 2U);
  const double battery_still_bad = 0.75 * 0.05;
  const double says_cured = 0.75 * 0.95 + (battery_still_bad + 0.25) * 0.05;
  EXPECT_NEAR(results[0].probability, says_cured, 1e-15);
  EXPECT_NEAR(results[0].situation.belief[2], 0.75 * 0.95 / says_cured, 1e-15);
  EXPECT_NEAR(step_cost(problem, results[0].situation, {StepKind::done, 0}),
              200.0 * (battery_still_bad + 0.25) * 0.05 / says_cured, 1e-12);
  EXPECT_NEAR(results[1].situation.belief[0], battery_still_bad / (battery_still_bad + 0.25), 1e-15);
  const std::vector<Step> steps = possible_steps(problem, results[1].situation);
  EXPECT_EQ(steps, (std::vector<Step>{{StepKind::test, 0}, {StepKind::repair, 1}, {StepKind::hand_over, 0}}));
}

TEST(Troubleshooting, OneFaultOfTwoRepairedLeavesTheOther) {
  TroubleshootingProblem problem = no_crank();
  problem.hypotheses.push_back("battery and starter");
  problem.weights.push_back(1.0);
  problem.tests.clear();
  problem.repairs = {{.name = "battery",
                      .cost = 100.0,
                      .set_ups = {},
                      .success = {1.0, 0.0, 1.0},
                      .becomes = {RepairAction::cured, 1, 1},
                      .verification = {}},
                     {.name = "starter",
                      .cost = 250.0,
                      .set_ups = {},
                      .success = {0.0, 1.0, 1.0},
                      .becomes = {0, RepairAction::cured, 0},
                      .verification = {}}};
  const std::vector<StepResult> results = results_of(problem, start_of(problem), {StepKind::repair, 0});
  EXPECT_NEAR(results[0].probability, 0.6, 1e-15);
  EXPECT_EQ(results[1].situation.belief, (std::vector<double>{0.0, 1.0, 0.0, 0.0}));
}

TEST(Troubleshooting, AWrongStillThereLeavesAVehicleThatIsCured) {
  TroubleshootingProblem problem = no_crank();
  problem.tests[0].table.insert(problem.tests[0].table.end(), {0.97, 0.03});
  problem.repairs[0].verification.false_still_there = 0.1;
  const std::vector<StepResult> results = results_of(problem, start_of(problem), {StepKind::repair, 0});
  const double cured = 0.75 * 0.95 * 0.1;
  const double still = cured + (0.75 * 0.05 + 0.25) * 0.95;
  EXPECT_NEAR(results[1].probability, still, 1e-15);
  EXPECT_NEAR(results[1].situation.belief[2], cured / still, 1e-15);
  const std::vector<StepResult> tested = results_of(problem, results[1].situation, {StepKind::test, 0});
  const double good = cured * 0.97 + 0.75 * 0.05 * 0.95 * 0.1 + 0.25 * 0.95 * 0.8;
  EXPECT_NEAR(tested[0].situation.belief[2], cured * 0.97 / good, 1e-15);
}

TEST(Troubleshooting, LivingWithItCostsNothingWhereNothingIsLeft) {
  TroubleshootingProblem problem = no_crank();
  problem.ends.live_with = 400.0;
  Situation situation = start_of(problem);
  EXPECT_EQ(cheapest_end(problem, situation).kind, StepKind::hand_over);
  situation.belief = {0.25, 0.25, 0.5};
  EXPECT_DOUBLE_EQ(step_cost(problem, situation, {StepKind::live_with, 0}), 200.0);
  EXPECT_EQ(cheapest_end(problem, situation).kind, StepKind::live_with);
}

TEST(Troubleshooting, ATestThatTellsNothingIsNoStep) {
  TroubleshootingProblem problem = no_crank();
  problem.tests.push_back(
      {.name = "horn", .cost = 1.0, .set_ups = {}, .outcomes = {"good", "bad"}, .table = {0.5, 0.5, 0.5, 0.5}});
  EXPECT_EQ(possible_steps(problem, start_of(problem)).size(), 4U);
  problem.weights[1] = 0.0;
  EXPECT_EQ(possible_steps(problem, start_of(problem)),
            (std::vector<Step>{{StepKind::repair, 0}, {StepKind::hand_over, 0}}));
}

}  // namespace
}  // namespace faultodds_tests

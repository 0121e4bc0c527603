// Two tests in a row against entering each outcome into a copy of the case and ranking, and against enumeration.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/ranking/look_ahead.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "decision/workbench.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

constexpr double tolerance = 1e-10;

/// What looking ahead says of one first test, worked out by entering each of its outcomes.
TwoTests by_entering(const Case& current, const LookAheadOptions& options, const Ranking& ranking, std::size_t place) {
  const TestForecast& first = ranking.tests[place];
  TwoTests two;
  two.first = first.test;
  two.gain_bits = first.gain_bits;
  two.cost = first.cost;
  two.minutes = first.minutes;
  RankOptions next = options.ranking;
  next.targets = ranking.targets;
  next.gain = ranking.gain;
  next.joint_only = true;
  Means means = options.means;
  means.open_access.insert(means.open_access.end(), first.opens.begin(), first.opens.end());
  next.tests.clear();
  for (std::size_t t = 0; t < std::min(ranking.tests.size(), options.candidates); ++t) {
    if (t != place) next.tests.push_back(ranking.tests[t].test);
  }
  for (const OutcomeForecast& outcome : first.outcomes) {
    if (next.tests.empty() || outcome.probability < 1e-12) continue;
    Case entered = current;
    std::vector<double> weights(current.model().state_count(first.test), 0.0);
    weights[outcome.state] = 1.0;
    entered.change({.variable = first.test, .weights = weights, .state = outcome.state});
    const std::vector<TestForecast> seconds = rank_tests(entered, next, means).tests;
    if (seconds.empty()) continue;
    two.gain_bits += outcome.probability * seconds[0].gain_bits;
    two.cost += outcome.probability * seconds[0].cost;
    two.minutes += outcome.probability * seconds[0].minutes;
  }
  return two;
}

void expect_as_by_entering(const Case& current, const LookAheadOptions& options) {
  const LookAhead ahead = look_ahead(current, options);
  const Ranking ranking = rank_tests(current, options.ranking, options.means);
  ASSERT_EQ(ahead.tests.size(), std::min(ranking.tests.size(), options.candidates));
  for (const TwoTests& two : ahead.tests) {
    const auto at = std::find_if(ranking.tests.begin(), ranking.tests.end(),
                                 [&](const TestForecast& forecast) { return forecast.test == two.first; });
    ASSERT_NE(at, ranking.tests.end());
    const TwoTests right = by_entering(current, options, ranking, static_cast<std::size_t>(at - ranking.tests.begin()));
    EXPECT_NEAR(two.first_gain_bits, at->gain_bits, tolerance);
    EXPECT_NEAR(two.gain_bits, right.gain_bits, tolerance) << current.model().variable(two.first).name;
    EXPECT_NEAR(two.cost, right.cost, 1e-9);
    EXPECT_NEAR(two.minutes, right.minutes, 1e-9);
  }
}

class LookAheadOnModels : public testing::TestWithParam<const char*> {};

TEST_P(LookAheadOnModels, IsWhatEnteringEachOutcomeGives) {
  const support::Workbench bench(GetParam());
  const std::vector<VariableIndex> symptoms = bench.model().with_role(Role::symptom);
  Case current{Solver(bench.model())};
  current.add_finding(symptoms[0], 1);
  for (const GainKind gain : {GainKind::joint, GainKind::per_component}) {
    LookAheadOptions options;
    options.ranking.gain = gain;
    options.ranking.effects = false;
    options.candidates = 5;
    expect_as_by_entering(current, options);
  }
}

INSTANTIATE_TEST_SUITE_P(Models, LookAheadOnModels,
                         testing::Values("tutorial.json", "low-power-petrol.json", "no-start-petrol.json"),
                         [](const auto& instance) {
                           std::string name = instance.param;
                           std::erase_if(name, [](char c) { return std::isalnum(static_cast<unsigned char>(c)) == 0; });
                           return name;
                         });

/// max over T2 of I(F; T2 | findings, t), by enumeration; ranked by gain, so that costs do not matter.
double best_second(const Enumeration& oracle, const FaultModel& model, const std::vector<Finding>& findings,
                   const std::vector<VariableIndex>& targets, const std::vector<VariableIndex>& tests,
                   std::size_t first, bool joint) {
  double expected = 0.0;
  const std::vector<double> outcomes = oracle.joint(findings, {first});
  for (std::size_t y = 0; y < model.state_count(first); ++y) {
    if (outcomes[y] < 1e-9) continue;
    std::vector<Finding> after = findings;
    after.push_back({.variable = first, .weights = std::vector<double>(outcomes.size(), 0.0), .state = y});
    after.back().weights[y] = 1.0;
    double best = 0.0;
    for (const std::size_t test : tests) {
      if (test == first) continue;
      double bits = 0.0;
      if (joint) {
        bits = oracle.mutual_information(after, targets, {test});
      } else {
        for (const std::size_t target : targets) bits += oracle.mutual_information(after, {target}, {test});
      }
      best = std::max(best, bits);
    }
    expected += outcomes[y] * best;
  }
  return expected;
}

TEST(LookAhead, OfRandomModelsAgainstEnumeration) {
  Dice dice(20265);
  for (std::size_t round = 0; round < support::rounds(60); ++round) {
    const FaultModel model = support::random_model(dice, {});
    const Enumeration oracle(model);
    const std::vector<Finding> findings = support::random_findings(dice, model, dice.below(3));
    if (oracle.evidence(findings) <= 1e-6) continue;
    LookAheadOptions options;
    options.ranking.by = RankBy::gain;
    options.ranking.joint_only = true;
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (finding_of(findings, v) != nullptr) continue;
      (dice.chance(0.5) ? options.ranking.targets : options.ranking.tests).push_back(v);
    }
    if (options.ranking.targets.empty() || options.ranking.tests.empty()) continue;
    for (const double whole_tree_entries : {0.0, 1e9}) {
      Case current(Solver(model, {.whole_tree_entries = whole_tree_entries}));
      current.add(findings);
      for (const GainKind gain : {GainKind::joint, GainKind::per_component}) {
        options.ranking.gain = gain;
        for (const TwoTests& two : look_ahead(current, options).tests) {
          const double right = best_second(oracle, model, findings, options.ranking.targets, options.ranking.tests,
                                           two.first, gain == GainKind::joint);
          EXPECT_NEAR(two.gain_bits - two.first_gain_bits, right, 1e-8);
        }
      }
    }
  }
}

/// Nothing to follow if one test is all there is.
TEST(LookAhead, OfOneTestAlone) {
  const support::Workbench bench("tutorial.json");
  const Case current = bench.vehicle({{"dark", "present"}});
  LookAheadOptions options;
  options.candidates = 1;
  const LookAhead ahead = look_ahead(current, options);
  ASSERT_EQ(ahead.tests.size(), 1U);
  EXPECT_EQ(ahead.tests[0].gain_bits, ahead.tests[0].first_gain_bits);
  for (const SecondTest& second : ahead.tests[0].second) EXPECT_FALSE(second.test.has_value());
  options.candidates = 0;
  EXPECT_THROW(static_cast<void>(look_ahead(current, options)), ArgumentError);
}

}  // namespace

// Tests done together, against enumeration of all joint states and of all sets of tests.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/ranking/test_batch.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "decision/workbench.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

/// A random model some variables of which are tests behind two nested access jobs, and what is asked of it.
struct Bench {
  FaultModel model;
  TestBatchOptions options;
  std::vector<Finding> findings;
};

Bench random_bench(Dice& dice) {
  ModelParts parts = support::RandomModel(dice, {}).take();
  std::vector<Finding> findings = support::random_findings(dice, FaultModel(parts), dice.below(2));
  parts.header.labour_rate = 60.0;  // a minute costs 1
  parts.access = {{.name = "cover", .label = "", .description = "", .work = {}},
                  {.name = "tray", .label = "", .description = "", .work = {}}};
  parts.access[0].work.minutes = 1.0 + 10.0 * dice.uniform();
  parts.access[1].work.minutes = 1.0 + 10.0 * dice.uniform();
  parts.access[1].work.access = {"cover"};
  TestBatchOptions options;
  options.max_outcomes = 100000;
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    if (finding_of(findings, v) != nullptr) continue;
    if (options.ranking.tests.size() == 6 || dice.chance(0.5)) {
      options.ranking.targets.push_back(v);
      continue;
    }
    options.ranking.tests.push_back(v);
    Variable& test = parts.variables[v];
    Work& work = test.what.emplace<Test>().work;
    work.minutes = 1.0 + 10.0 * dice.uniform();
    if (dice.chance(0.7)) work.access = {dice.chance(0.5) ? "cover" : "tray"};
  }
  return {FaultModel(std::move(parts)), std::move(options), std::move(findings)};
}

/// Cost of a set of tests if nothing is open: each access job once.
double cost_of_set(const FaultModel& model, const std::vector<VariableIndex>& tests) {
  std::set<std::string> open;
  double cost = 0.0;
  for (const std::size_t test : tests) {
    const Work& work = model.variable(test).test().work;
    cost += work.minutes.value_or(0.0);
    for (const std::string& name : work.access) {
      open.insert("cover");
      if (name == "tray") open.insert("tray");
    }
  }
  for (const Access& access : model.parts().access) cost += open.contains(access.name) ? *access.work.minutes : 0.0;
  return cost;
}

TEST(TestBatch, TellsAndCostsWhatEnumerationSays) {
  Dice dice(4711);
  std::size_t batches = 0, larger = 0;
  for (std::size_t round = 0; round < support::rounds(80); ++round) {
    Bench bench = random_bench(dice);
    const Enumeration oracle(bench.model);
    if (oracle.evidence(bench.findings) <= 1e-6) continue;
    if (bench.options.ranking.targets.empty() || bench.options.ranking.tests.empty()) continue;
    Case current{Solver(bench.model)};
    current.add(bench.findings);
    for (const RankBy by : {RankBy::gain_per_cost, RankBy::gain}) {
      bench.options.ranking.by = by;
      const TestBatch batch = best_batch(current, bench.options);
      std::vector<VariableIndex> tests;
      for (const BatchedTest& chosen : batch.chosen) {
        tests.push_back(chosen.test);
        EXPECT_NEAR(chosen.gain_bits, oracle.mutual_information(bench.findings, batch.targets, tests), 1e-8);
        EXPECT_NEAR(chosen.cost, cost_of_set(bench.model, tests), 1e-9);
      }
      EXPECT_TRUE(std::is_permutation(batch.order.begin(), batch.order.end(), tests.begin(), tests.end()));
      if (tests.empty()) continue;
      EXPECT_NEAR(batch.gain_bits, batch.chosen.back().gain_bits, 1e-12);
      EXPECT_NEAR(batch.cost, cost_of_set(bench.model, tests), 1e-9);
      ++batches;
      larger += tests.size() > 1 ? 1 : 0;
    }
  }
  EXPECT_GT(batches, 30U);
  EXPECT_GT(larger, 15U);
}

/// The best set of tests by gain per cost, of all sets.
double best_of_all_sets(const Enumeration& oracle, const Bench& bench) {
  const std::vector<VariableIndex>& tests = bench.options.ranking.tests;
  double best = 0.0;
  for (std::size_t set = 1; set < (std::size_t{1} << tests.size()); ++set) {
    std::vector<VariableIndex> chosen;
    for (std::size_t i = 0; i < tests.size(); ++i) {
      if ((set >> i & 1U) != 0) chosen.push_back(tests[i]);
    }
    const double gain = oracle.mutual_information(bench.findings, bench.options.ranking.targets, chosen);
    best = std::max(best, gain / cost_of_set(bench.model, chosen));
  }
  return best;
}

TEST(TestBatch, IsNeverBetterThanTheBestSetAndSeldomFarBelow) {
  Dice dice(815);
  std::size_t compared = 0, best = 0;
  double mean = 0.0;
  for (std::size_t round = 0; round < support::rounds(60); ++round) {
    const Bench bench = random_bench(dice);
    const Enumeration oracle(bench.model);
    if (oracle.evidence(bench.findings) <= 1e-6) continue;
    if (bench.options.ranking.targets.empty() || bench.options.ranking.tests.empty()) continue;
    Case current{Solver(bench.model)};
    current.add(bench.findings);
    const double right = best_of_all_sets(oracle, bench);
    if (right < 1e-6) continue;
    const double ratio = best_batch(current, bench.options).gain_per_cost / right;
    EXPECT_LE(ratio, 1.0 + 1e-7);
    ++compared;
    best += ratio > 1.0 - 1e-7 ? 1 : 0;
    mean += ratio;
  }
  ASSERT_GT(compared, 20U);
  EXPECT_GT(static_cast<double>(best), 0.7 * static_cast<double>(compared));
  EXPECT_GT(mean / static_cast<double>(compared), 0.95);
}

TEST(TestBatch, StopsWhereTheOptionsSay) {
  Dice dice(99);
  bool by_tests = false, by_outcomes = false;
  for (std::size_t round = 0; round < 60 && !(by_tests && by_outcomes); ++round) {
    Bench bench = random_bench(dice);
    if (bench.options.ranking.targets.empty() || bench.options.ranking.tests.size() < 3) continue;
    Case current{Solver(bench.model)};
    bench.options.ranking.by = RankBy::gain;
    bench.options.max_tests = 1;
    const TestBatch one = best_batch(current, bench.options);
    EXPECT_LE(one.chosen.size(), 1U);
    by_tests = by_tests || one.end == BatchEnd::max_tests;
    bench.options.max_tests = 6;
    bench.options.max_outcomes = 4;
    const TestBatch few = best_batch(current, bench.options);
    double outcomes = 1.0;
    for (const BatchedTest& chosen : few.chosen) outcomes *= static_cast<double>(bench.model.state_count(chosen.test));
    EXPECT_LE(outcomes, 4.0);
    by_outcomes = by_outcomes || few.end == BatchEnd::max_outcomes;
  }
  EXPECT_TRUE(by_tests);
  EXPECT_TRUE(by_outcomes);
}

TEST(TestBatch, BehindAnAccessJobItPaysToLookAtMore) {
  const support::Workbench bench("tutorial.json");
  const Case current = bench.vehicle({{"dark", "present"}});
  TestBatchOptions options;
  options.access = "lamp_open";
  const TestBatch batch = best_batch(current, options);
  EXPECT_EQ(batch.opens, std::vector<std::string>{"lamp_open"});
  // The lamp once open, looking at the battery and the bulb costs little more: common practice, no source.
  ASSERT_GE(batch.chosen.size(), 2U);
  for (const BatchedTest& chosen : batch.chosen) EXPECT_NE(bench.model().variable(chosen.test).name, "work_switch");
  options.ranking.by = RankBy::cost;
  EXPECT_THROW(static_cast<void>(best_batch(current, options)), ArgumentError);
  options.ranking.by = RankBy::gain_per_cost;
  options.access = "lamp_opn";
  EXPECT_THROW(static_cast<void>(best_batch(current, options)), UnknownName);
}

TEST(TestBatch, OfNoTestIsEmpty) {
  const support::Workbench bench("tutorial.json");
  TestBatchOptions options;
  options.access = "lamp_open";
  const TestBatch batch = best_batch(
      bench.vehicle({{"battery_voltage", "good"}, {"bulb_continuity", "good"}, {"switch_resistance", "good"}}),
      options);
  EXPECT_TRUE(batch.chosen.empty());
  EXPECT_EQ(batch.gain_bits, 0.0);
  EXPECT_EQ(batch.cost, 0.0);
  EXPECT_EQ(batch.end, BatchEnd::no_test_left);
}

}  // namespace

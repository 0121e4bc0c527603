// Tests that reveal symptoms: done once one of these is entered.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "decision/workbench.hpp"

namespace {

using namespace faultodds;
using support::Workbench;

std::size_t reading_codes(const FaultModel& model) { return model.index_of("read_stored_codes"); }

bool is_ranked(const Ranking& ranking, std::size_t test) {
  return std::any_of(ranking.tests.begin(), ranking.tests.end(),
                     [&](const TestForecast& forecast) { return forecast.test == test; });
}

TEST(RevealingTests, AreDoneOnceAnythingTheyRevealIsEntered) {
  for (const char* file : {"low-power-petrol.json", "low-power-diesel.json", "no-start-petrol.json"}) {
    SCOPED_TRACE(file);
    const Workbench bench(file);
    const std::size_t test = reading_codes(bench.model());
    RankOptions options;
    options.effects = false;
    options.gain = GainKind::per_component;
    EXPECT_FALSE(has_revealed(bench.vehicle({}), test));
    EXPECT_TRUE(is_ranked(rank_tests(bench.vehicle({}), options), test));

    for (const char* state : {"present", "absent"}) {
      const Case current = bench.vehicle({{"code_p0087", state}});
      EXPECT_TRUE(has_revealed(current, test));
      const Ranking ranking = rank_tests(current, options);
      EXPECT_FALSE(is_ranked(ranking, test));
      const auto left = std::find_if(ranking.left_out.begin(), ranking.left_out.end(),
                                     [&](const LeftOut& entry) { return entry.test == test; });
      ASSERT_NE(left, ranking.left_out.end());
      EXPECT_EQ(left->reason, "what it reveals is entered already");
      EXPECT_TRUE(std::isnan(left->gain_bits));
    }
  }
}

TEST(RevealingTests, AreRankedAllTheSameWhereTheyAreNamed) {
  const Workbench bench("low-power-diesel.json");
  RankOptions options;
  options.effects = false;
  options.gain = GainKind::per_component;
  options.tests = {reading_codes(bench.model())};
  const Ranking ranking = rank_tests(bench.vehicle({{"code_p0087", "present"}}), options);
  ASSERT_EQ(ranking.tests.size(), 1U);
  EXPECT_GT(ranking.tests.front().gain_bits, 0.0);
  EXPECT_TRUE(ranking.left_out.empty());
}

TEST(RevealingTests, TheModelsRevealEveryTroubleCode) {
  for (const char* file : {"low-power-petrol.json", "low-power-diesel.json", "no-start-petrol.json"}) {
    SCOPED_TRACE(file);
    const Workbench bench(file);
    std::vector<VariableIndex> codes = bench.model().with_role(Role::symptom);
    std::erase_if(codes, [&](std::size_t v) { return bench.model().variable(v).symptom().code.empty(); });
    EXPECT_EQ(bench.model().variable(reading_codes(bench.model())).test().reveals, codes);
  }
}

}  // namespace

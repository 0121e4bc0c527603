// Costs of work at a vehicle: what is open and in place already, what depends on the context, whose labour rate.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/work/cost.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/io/model_json.hpp"

namespace {

using namespace faultodds;
using Names = std::vector<std::string>;

/// A bench where the undertray is behind the lift, the radiator cap opens only on a cold engine, and the compression
/// of a vee engine takes longer. Amounts are chosen so that no two sums of them agree.
FaultModel bench() {
  return read_model_json(R"({"format": "faultodds-model", "format_version": 1, "name": "bench", "labour_rate": 60,
    "skills": [{"name": "learner"}, {"name": "mechanic"}], "tools": [{"name": "gauge"}, {"name": "fan"}, {"name": "key"}],
    "cautions": [{"name": "scald"}, {"name": "crush"}, {"name": "traffic"}],
    "conditions": [
      {"name": "cold", "group": "engine", "minutes": 1, "wait_minutes": 120, "money": 0.5, "tools": ["fan"]},
      {"name": "hot", "group": "engine", "minutes": 13, "money": 2},
      {"name": "in_bay", "group": "place", "at_start": true, "minutes": 4},
      {"name": "on_road", "group": "place", "minutes": 6, "skill": "mechanic", "cautions": ["traffic"]}],
    "access": [
      {"name": "lift", "minutes": 8, "conditions": ["in_bay"], "cautions": ["crush"]},
      {"name": "undertray", "minutes": 11, "money": 3, "needs": ["lift"], "tools": ["key"]},
      {"name": "cap", "minutes": 1, "conditions": ["cold"], "cautions": ["scald"]}],
    "context": [{"name": "layout", "states": ["inline", "vee"], "prior": 0.25},
                {"name": "drive", "states": ["two", "four"], "table": {"given": ["layout"],
                  "rows": [{"when": {"layout": "inline"}, "p": 0.2}, {"when": {"layout": "vee"}, "p": 0.8}]}}],
    "components": [{"name": "pump", "prior": 0.3}],
    "tests": [
      {"name": "level", "examines": {"component": "pump", "detects": 0.6, "false_alarm": 0.2}, "minutes": 2, "money": 0, "access": ["cap"], "tools": ["gauge"]},
      {"name": "leak", "examines": {"component": "pump", "detects": 0.7, "false_alarm": 0.1}, "minutes": 7, "money": 0, "access": ["undertray"], "conditions": ["hot"]},
      {"name": "drive_test", "examines": {"component": "pump", "detects": 0.8, "false_alarm": 0.1}, "minutes": 20, "money": 5, "conditions": ["hot", "on_road"]},
      {"name": "compression", "examines": {"component": "pump", "detects": 0.5, "false_alarm": 0.1}, "minutes": 30, "wait_minutes": 10, "money": 0,
        "by_context": [{"when": {"layout": "vee", "drive": "four"}, "minutes": 90, "money": 12}, {"when": {"layout": "vee"}, "minutes": 60}]}
    ]})");
}

const Work& work_of(const FaultModel& model, const std::string& test) {
  return model.variable(model.index_of(test)).test().work;
}

TEST(Cost, CountsAccessAndConditionsOnce) {
  const FaultModel model = bench();
  const Work& leak = work_of(model, "leak");
  const WorkCost first = cost_of(model, leak, InPlace{{}, {"in_bay"}});
  EXPECT_EQ(first.opens, (Names{"lift", "undertray"}));
  EXPECT_EQ(first.brings, Names{"hot"});
  EXPECT_DOUBLE_EQ(first.minutes, 7.0 + 8.0 + 11.0 + 13.0);
  EXPECT_DOUBLE_EQ(first.money, 3.0 + 2.0);
  EXPECT_DOUBLE_EQ(first.cost, 5.0 + 39.0);  // labour at 60 an hour is 1 a minute
  EXPECT_EQ(first.wait_minutes, 0.0);
  const InPlace now = after_work(model, {{}, {"in_bay"}}, first);
  EXPECT_EQ(now, (InPlace{{"lift", "undertray"}, {"in_bay", "hot"}}));
  const WorkCost again = cost_of(model, leak, now);
  EXPECT_DOUBLE_EQ(again.minutes, 7.0);
  EXPECT_TRUE(again.opens.empty() && again.brings.empty());
}

TEST(Cost, TheVehicleComesBackFromTheRoadBeforeWorkOnTheLift) {
  const FaultModel model = bench();
  const InPlace driven = after_work(model, {{"lift", "undertray"}, {"in_bay"}},
                                    cost_of(model, work_of(model, "drive_test"), {{"lift", "undertray"}, {"in_bay"}}));
  EXPECT_EQ(driven.conditions, (Names{"hot", "on_road"}));
  const WorkCost under = cost_of(model, work_of(model, "leak"), driven);
  EXPECT_TRUE(under.opens.empty());
  EXPECT_EQ(under.brings, Names{"in_bay"});
  EXPECT_DOUBLE_EQ(under.minutes, 7.0 + 4.0);
}

TEST(Cost, WaitingIsNoLabour) {
  const FaultModel model = bench();
  const WorkCost level = cost_of(model, work_of(model, "level"), InPlace{});
  EXPECT_EQ(level.brings, Names{"cold"});
  EXPECT_DOUBLE_EQ(level.wait_minutes, 120.0);
  EXPECT_DOUBLE_EQ(level.minutes, 2.0 + 1.0 + 1.0);
  EXPECT_DOUBLE_EQ(level.cost, 0.5 + 4.0);
}

TEST(Cost, LabourRateOfTheCase) {
  const FaultModel model = bench();
  const Work& level = work_of(model, "level");
  EXPECT_DOUBLE_EQ(cost_of(model, level, {}, 90.0).cost, 0.5 + 4.0 * 1.5);
  EXPECT_DOUBLE_EQ(cost_of(model, level, {}, 0.0).cost, 0.5);
}

TEST(Cost, ByContextIsTheFirstRowThatHolds) {
  const FaultModel model = bench();
  const Work& compression = work_of(model, "compression");
  const auto cost_in = [&](const std::vector<std::pair<const char*, const char*>>& findings) {
    Case current{Solver(model)};
    for (const auto& [variable, state] : findings) current.add_finding(variable, state);
    return cost_of(current, compression, {});
  };
  EXPECT_DOUBLE_EQ(cost_in({{"layout", "inline"}}).minutes, 30.0);
  EXPECT_DOUBLE_EQ(cost_in({{"layout", "vee"}, {"drive", "two"}}).minutes, 60.0);
  EXPECT_DOUBLE_EQ(cost_in({{"layout", "vee"}, {"drive", "two"}}).money, 0.0);
  EXPECT_DOUBLE_EQ(cost_in({{"layout", "vee"}, {"drive", "four"}}).minutes, 90.0);
  EXPECT_DOUBLE_EQ(cost_in({{"layout", "vee"}, {"drive", "four"}}).money, 12.0);
  EXPECT_DOUBLE_EQ(cost_in({{"layout", "vee"}, {"drive", "four"}}).wait_minutes, 10.0);
  // P(inline) = 0.75, P(vee, two) = 0.25 x 0.2, P(vee, four) = 0.25 x 0.8
  EXPECT_NEAR(cost_in({}).minutes, 0.75 * 30.0 + 0.05 * 60.0 + 0.2 * 90.0, 1e-12);
  EXPECT_NEAR(cost_in({}).money, 0.2 * 12.0, 1e-12);
  // P(vee | four) = 0.25 x 0.8 / (0.25 x 0.8 + 0.75 x 0.2) by Bayes' rule
  const double vee = 0.2 / 0.35;
  EXPECT_NEAR(cost_in({{"drive", "four"}}).minutes, vee * 90.0 + (1.0 - vee) * 30.0, 1e-12);
  EXPECT_DOUBLE_EQ(cost_of(model, compression, {}).minutes, 30.0);
}

TEST(Cost, DemandsOfAccessAndConditionsCountAsOnesOwn) {
  const FaultModel model = bench();
  const Work& drive = work_of(model, "drive_test");
  const WorkCost cost = cost_of(model, drive, {});
  EXPECT_EQ(skill_of(model, drive, cost), 1U);
  EXPECT_EQ(cautions_of(model, drive, cost), Names{"traffic"});
  const Work& level = work_of(model, "level");
  EXPECT_EQ(tools_of(model, level, cost_of(model, level, {})), (Names{"fan", "gauge"}));
  EXPECT_EQ(tools_of(model, level, cost_of(model, level, {{}, {"cold"}})), Names{"gauge"});
  EXPECT_EQ(cautions_of(model, level, cost_of(model, level, {})), Names{"scald"});
}

TEST(Cost, WhatTestsDoneHaveLeftInPlace) {
  const FaultModel model = bench();
  Case current{Solver(model)};
  EXPECT_EQ(in_place_in(current), (InPlace{{}, {"in_bay"}}));
  current.add_finding("drive_test", "good");
  EXPECT_EQ(in_place_in(current), (InPlace{{}, {"hot", "on_road"}}));
  current.add_finding("level", "good");
  EXPECT_EQ(in_place_in(current), (InPlace{{"cap"}, {"on_road", "cold"}}));
  EXPECT_EQ(in_place_in(current, {{"lift"}, {"hot"}}), (InPlace{{"lift", "cap"}, {"on_road", "hot"}}));
  // seen to be hot before the level was looked at, which took a cold engine
  EXPECT_EQ(in_place_in(current, {{"lift"}, {"hot"}}, 1), (InPlace{{"lift", "cap"}, {"on_road", "cold"}}));
  EXPECT_EQ(in_place_in(current, {{}, {"in_bay"}}, 0), (InPlace{{"cap"}, {"on_road", "cold"}}));
}

TEST(Cost, RankingCountsWhatIsInPlace) {
  const FaultModel model = bench();
  Case current{Solver(model)};
  const auto forecast = [&](const Means& means) {
    for (const TestForecast& test : rank_tests(current, {}, means).tests) {
      if (model.variable(test.test).name == "leak") return test;
    }
    throw ArgumentError("tests", "leak is not ranked", "");
  };
  Means means;
  EXPECT_DOUBLE_EQ(forecast(means).cost, 5.0 + 39.0);
  EXPECT_EQ(forecast(means).brings, Names{"hot"});
  means.conditions = {"hot"};
  EXPECT_DOUBLE_EQ(forecast(means).cost, 3.0 + 26.0);
  means.open_access = {"lift"};
  means.labour_rate = 30.0;
  EXPECT_DOUBLE_EQ(forecast(means).cost, 3.0 + 18.0 / 2.0);
  means.conditions = {"warm"};
  EXPECT_THROW(static_cast<void>(rank_tests(current, {}, means)), UnknownName);
  means.conditions.clear();
  means.labour_rate = -1.0;
  EXPECT_THROW(static_cast<void>(rank_tests(current, {}, means)), ArgumentError);
}

TEST(Cost, TheSecondTestFindsInPlaceWhatTheFirstBroughtAbout) {
  const FaultModel model = bench();
  Case current{Solver(model)};
  LookAheadOptions options;
  options.ranking.tests = {model.index_of("leak"), model.index_of("drive_test")};
  const LookAhead ahead = look_ahead(current, options);
  for (const TwoTests& two : ahead.tests) {
    if (model.variable(two.first).name != "drive_test") continue;
    EXPECT_EQ(two.brings, (Names{"hot", "on_road"}));
    for (const SecondTest& second : two.second) {
      // back into the bay, on the lift, undertray off; the engine is hot still
      EXPECT_DOUBLE_EQ(second.minutes, 7.0 + 4.0 + 8.0 + 11.0);
      EXPECT_EQ(second.brings, Names{"in_bay"});
    }
    EXPECT_DOUBLE_EQ(two.minutes, 20.0 + 13.0 + 6.0 + 30.0);
  }
}

}  // namespace

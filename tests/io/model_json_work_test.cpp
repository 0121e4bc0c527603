// Costs, conditions, repairs and what ends a case as JSON: read as they are written, and refused with their paths.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <string>

#include "faultodds/io/model_json.hpp"
#include "io/model_json_checks.hpp"

namespace {

using namespace faultodds;
using faultodds::testing::expect_problem;
using faultodds::testing::expect_round_trip;
using faultodds::testing::expect_single_problem;
using faultodds::testing::model_with;

const std::string lists = R"(
  "conditions": [
    {"name": "cold", "label": "engine cold", "description": "left for hours", "group": "engine", "at_start": true, "wait_minutes": 180},
    {"name": "hot", "group": "engine", "minutes": 15, "by_context": [{"when": {"layout": "vee"}, "minutes": 20}], "cautions": ["burn"]},
    {"name": "second_person", "money": 9.5, "tools": ["radio"], "skill": "mechanic", "cost_source": "invented"}],
  "skills": [{"name": "mechanic"}], "tools": [{"name": "radio"}], "cautions": [{"name": "burn", "text": "hot"}],
  "access": [{"name": "cap", "minutes": 1, "conditions": ["cold"]}],
  "context": [{"name": "layout", "states": ["inline", "vee", "flat"], "prior": {"vee": 0.3, "flat": 0.1}}],
  "components": [{"name": "filter", "states": ["clean", "dirty", "clogged"], "prior": {"dirty": 0.1, "clogged": 0.02}}],
)";

const std::string ends = R"(
  "hand_overs": [{"name": "specialist", "label": "injection specialist", "description": "by appointment", "money": 180,
    "wait_minutes": 1440, "tells": "tests injectors on a bench", "repair": {"times_ours": 1.25, "other": 90}, "source": "invented"}],
  "verification": {"label": "road test", "procedure": "drive", "minutes": 15, "money": 0, "conditions": ["hot"],
    "false_cured": 0.05, "false_still_there": 0.02, "source": "invented"},
  "comeback": {"money": 60, "minutes": 45, "source": "invented"},
  "live_with": {"money": 400, "source": "invented"}
)";

std::string whole(const std::string& test, const std::string& repair) {
  return model_with(
      lists +
      R"("tests": [{"name": "look", "examines": {"component": "filter", "detects": 0.9, "false_alarm": 0.1}, )" + test +
      R"(}], "repairs": [{"name": "clean", "component": "filter", )" + repair + "}], " + ends);
}

const std::string sound_test =
    R"("minutes": 5, "wait_minutes": 30, "money": 2, "access": ["cap"], "conditions": ["second_person"],
       "by_context": [{"when": {"layout": ["vee", "flat"]}, "minutes": 25, "money": 4}, {"when": {"layout": "inline"}, "wait_minutes": 0}])";
const std::string sound_repair =
    R"("mends": ["dirty"], "success": 0.8, "partial": {"clogged": {"dirty": 0.6}},
       "verification": {"label": "look again", "minutes": 2, "false_cured": 0.01})";

TEST(ModelJsonWork, IsReadAsItIsWritten) {
  const FaultModel model = read_model_json(whole(sound_test, sound_repair));
  const ModelParts& parts = model.parts();
  ASSERT_EQ(parts.conditions.size(), 3U);
  EXPECT_EQ(parts.conditions[0].group, "engine");
  EXPECT_TRUE(parts.conditions[0].at_start);
  EXPECT_EQ(parts.conditions[0].work.wait_minutes, 180.0);
  EXPECT_EQ(parts.conditions[0].label, "engine cold");
  EXPECT_EQ(parts.conditions[1].work.by_context, (std::vector<ContextCost>{{{Gate{0, {1}}}, 20.0, {}, {}}}));
  EXPECT_EQ(parts.conditions[2].work.tools, std::vector<std::string>{"radio"});
  EXPECT_EQ(parts.conditions[2].work.money, 9.5);
  EXPECT_EQ(parts.access[0].work.conditions, std::vector<std::string>{"cold"});
  const Work& look = model.variable(model.index_of("look")).test().work;
  EXPECT_EQ(look.wait_minutes, 30.0);
  EXPECT_EQ(look.conditions, std::vector<std::string>{"second_person"});
  ASSERT_EQ(look.by_context.size(), 2U);
  EXPECT_EQ(look.by_context[0], (ContextCost{{Gate{0, {1, 2}}}, 25.0, 4.0, {}}));
  EXPECT_EQ(look.by_context[1], (ContextCost{{Gate{0, {0}}}, {}, {}, 0.0}));
  const Repair& clean = parts.repairs[0];
  EXPECT_EQ(clean.mends, std::vector<StateIndex>{1});
  EXPECT_EQ(clean.partial, (std::vector<Easing>{{2, 1, 0.6}}));
  ASSERT_TRUE(clean.verification.has_value());
  EXPECT_EQ(clean.verification->false_cured, 0.01);
  EXPECT_EQ(clean.verification->work.minutes, 2.0);
  ASSERT_EQ(parts.hand_overs.size(), 1U);
  EXPECT_EQ(parts.hand_overs[0], (HandOver{"specialist", "injection specialist", "by appointment", 180.0, 1440.0,
                                           "tests injectors on a bench", "invented", RepairElsewhere{1.25, 90.0}}));
  ASSERT_TRUE(parts.verification.has_value());
  EXPECT_EQ(parts.verification->procedure, "drive");
  EXPECT_EQ(parts.verification->false_still_there, 0.02);
  EXPECT_EQ(parts.verification->work.conditions, std::vector<std::string>{"hot"});
  EXPECT_EQ(parts.comeback, (Comeback{60.0, 45.0, "invented"}));
  EXPECT_EQ(parts.live_with, (LiveWith{400.0, "invented"}));
  expect_round_trip(model);
}

TEST(ModelJsonWork, SymptomsKeepTheirOwnConditions) {
  const FaultModel model =
      read_model_json(model_with(R"("symptoms": [{"name": "smell", "prior": 0.1, "conditions": ["in the wet"]}])"));
  EXPECT_EQ(model.variable(0).symptom().conditions, std::vector<std::string>{"in the wet"});
  expect_round_trip(model);
}

TEST(ModelJsonWork, PartialRepairsKeepNoOrderOfTheirOwn) {
  const auto with = [](const std::string& partial) {
    return read_model_json(whole(R"("minutes": 5)", R"("mends": [], "partial": )" + partial));
  };
  EXPECT_EQ(with(R"({"clogged": {"dirty": 0.3}, "dirty": {"clogged": 0.1}})"),
            with(R"({"dirty": {"clogged": 0.1}, "clogged": {"dirty": 0.3}})"));
  expect_round_trip(with(R"({"clogged": {"dirty": 0.3}, "dirty": {"clogged": 0.1}})"));
}

TEST(ModelJsonWork, IsRefusedWithItsPath) {
  const std::string minutes = R"("minutes": 5)";
  expect_single_problem(whole(minutes + R"(, "conditions": ["hott"])", sound_repair), "tests.look.conditions",
                        {"\"hot\""});
  expect_single_problem(whole(minutes + R"(, "by_context": [{"when": {"layuot": "vee"}, "minutes": 3}])", sound_repair),
                        "tests.look.by_context[0].when.layuot", {"\"layout\""});
  expect_single_problem(whole(minutes + R"(, "by_context": [{"when": {"layout": "vey"}, "minutes": 3}])", sound_repair),
                        "tests.look.by_context[0].when.layout", {"\"vee\""});
  expect_single_problem(whole(minutes + R"(, "by_context": [{"minutes": 3}])", sound_repair),
                        "tests.look.by_context[0]", {"when"});
  expect_single_problem(
      whole(minutes + R"(, "by_context": [{"when": {"filter": "dirty"}, "minutes": 3}])", sound_repair),
      "tests.look.by_context[0].when", {"no context"});
  expect_single_problem(whole(minutes + R"(, "wait_minutes": "long")", sound_repair), "tests.look.wait_minutes",
                        {"a number"});
  expect_single_problem(whole(minutes, R"("partial": {"clean": {"dirty": 0.3}})"), "repairs.clean.partial.clean",
                        {"first state"});
  expect_single_problem(whole(minutes, R"("partial": {"clogged": {"dirty": 1.3}})"),
                        "repairs.clean.partial.clogged.dirty", {"between 0 and 1"});
  expect_problem(whole(minutes, R"("partial": 0.5)"), "repairs.clean.partial", {"an object"});
  expect_single_problem(whole(minutes, R"("verification": {"false_cure": 0.1})"),
                        "repairs.clean.verification.false_cure", {"\"false_cured\""});
  expect_single_problem(model_with(R"("conditions": [{"name": "hot", "needs": ["cold"]}])"), "conditions.hot.needs",
                        {"no such member"});
  expect_single_problem(model_with(R"("hand_overs": [{"name": "a", "fee": 3, "money": 1}])"), "hand_overs.a.fee",
                        {"no such member"});
  expect_single_problem(model_with(R"("hand_overs": [{"name": "a", "money": 1, "repair": {"times_ours": 1}}])"),
                        "hand_overs.a.repair", {"other"});
  expect_single_problem(model_with(R"("live_with": {"source": "x"})"), "live_with", {"money"});
  expect_single_problem(model_with(R"("verification": {"false_cured": 0.5})"), "verification", {"comeback"});
}

}  // namespace

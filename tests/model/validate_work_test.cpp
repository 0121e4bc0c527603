// What cannot be said about costs, conditions, repairs and the end of a case, each with the words that name it.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"
#include "support/build.hpp"

namespace {

using namespace faultodds;

/// 0 layout (context), 1 filter (clean, dirty, clogged), 2 look (examines the filter behind the cover).
ModelParts sound_parts() {
  support::Builder builder;
  builder.variable("layout", {"inline", "vee"}, {}, {0.6, 0.4}, Context{});
  builder.variable("filter", {"clean", "dirty", "clogged"}, {}, {0.8, 0.15, 0.05}, Component{});
  builder.variable("look", {"good", "bad"}, Examination{.component = 1, .detection = {0.7, 0.95}, .false_alarm = 0.02},
                   Test{});
  ModelParts parts = builder.parts();
  parts.conditions = {
      {.name = "cold", .label = "", .description = "", .group = "engine", .at_start = true, .work = {}},
      {.name = "hot", .label = "", .description = "", .group = "engine", .at_start = false, .work = {}},
      {.name = "second_person", .label = "", .description = "", .group = "", .at_start = false, .work = {}}};
  parts.access = {{.name = "cover", .label = "", .description = "", .work = {}}};
  parts.access[0].work.conditions = {"cold"};
  Work& look = parts.variables[2].test().work;
  look.minutes = 10.0;
  look.wait_minutes = 5.0;
  look.access = {"cover"};
  look.conditions = {"second_person"};
  look.by_context = {{.when = {Gate{0, {1}}}, .minutes = 40.0, .money = {}, .wait_minutes = {}}};
  Repair clean;
  clean.name = "clean";
  clean.component = 1;
  clean.mends = {1};
  clean.success = 0.8;
  clean.partial = {{.from = 2, .to = 1, .probability = 0.6}};
  parts.repairs = {clean};
  parts.hand_overs = {{.name = "specialist",
                       .label = "",
                       .description = "",
                       .money = 150.0,
                       .wait_minutes = 60.0,
                       .tells = "",
                       .source = ""}};
  parts.verification = RepairCheck{
      .label = "drive", .procedure = "", .work = {}, .false_cured = 0.1, .false_still_there = 0.05, .source = ""};
  parts.comeback = Comeback{.money = 50.0, .minutes = 30.0, .source = ""};
  parts.live_with = LiveWith{500.0, ""};
  return parts;
}

struct Damage {
  std::string title;
  std::function<void(ModelParts&)> damage;
  std::string place;
  std::vector<std::string> words;  ///< all of them are in what was found or in the remedy
};

class DamagedWork : public testing::TestWithParam<Damage> {};

TEST(ValidateWork, TheUndamagedPartsAreAModel) { EXPECT_NO_THROW(FaultModel{sound_parts()}); }

TEST_P(DamagedWork, IsRefusedWithPlaceAndWords) {
  ModelParts parts = sound_parts();
  GetParam().damage(parts);
  try {
    const FaultModel model(parts);
    FAIL() << "accepted";
  } catch (const ModelError& error) {
    const auto fits = [](const Problem& problem) {
      const std::string all = problem.found + "; " + problem.remedy;
      return problem.place == GetParam().place && std::ranges::all_of(GetParam().words, [&](const std::string& word) {
               return all.find(word) != std::string::npos;
             });
    };
    EXPECT_TRUE(std::ranges::any_of(error.problems(), fits)) << error.what();
  }
}

constexpr double infinity = std::numeric_limits<double>::infinity();

Work& look_of(ModelParts& parts) { return parts.variables[2].test().work; }

const std::vector<Damage> amounts = {
    {"Wait", [](ModelParts& p) { look_of(p).wait_minutes = -1.0; }, "look.wait_minutes", {"-1", "at least 0"}},
    {"ContextOfNoContext",
     [](ModelParts& p) { look_of(p).by_context[0].when[0].variable = 1; },
     "look.by_context[0].when",
     {"\"filter\" is no context"}},
    {"ContextIndex",
     [](ModelParts& p) { look_of(p).by_context[0].when[0].variable = 9; },
     "look.by_context[0].when",
     {"index 9"}},
    {"ContextTwice",
     [](ModelParts& p) {
       look_of(p).by_context[0].when.push_back(Gate{0, {0}});
     },
     "look.by_context[0].when",
     {"\"layout\" twice"}},
    {"ContextState",
     [](ModelParts& p) { look_of(p).by_context[0].when[0].states = {2}; },
     "look.by_context[0].when",
     {"state index 2", "2 states"}},
    {"ContextWithoutState",
     [](ModelParts& p) { look_of(p).by_context[0].when[0].states.clear(); },
     "look.by_context[0].when",
     {"no state"}},
    {"AlwaysHolds",
     [](ModelParts& p) { look_of(p).by_context[0].when.clear(); },
     "look.by_context[0]",
     {"always holds"}},
    {"NoAmount", [](ModelParts& p) { look_of(p).by_context[0].minutes.reset(); }, "look.by_context[0]", {"no amount"}},
    {"AmountInContext",
     [](ModelParts& p) { look_of(p).by_context[0].money = infinity; },
     "look.by_context[0].money",
     {"inf"}},
    {"HandOverAmount", [](ModelParts& p) { p.hand_overs[0].money = -3.0; }, "hand-over specialist.money", {"-3"}},
    {"HandOverRepair",
     [](ModelParts& p) {
       p.hand_overs[0].repair = RepairElsewhere{-1.0, 0.0};
     },
     "hand-over specialist.repair.times_ours",
     {"-1"}},
    {"HandOverWithoutFee", [](ModelParts& p) { p.hand_overs[0].money.reset(); }, "hand-over specialist", {"fee"}},
    {"EmptyComeback", [](ModelParts& p) { p.comeback = Comeback{}; }, "comeback", {"neither"}},
    {"ComebackMinutes", [](ModelParts& p) { p.comeback->minutes = -2.0; }, "comeback.minutes", {"-2"}},
    {"LiveWith", [](ModelParts& p) { p.live_with->money = -1.0; }, "live_with.money", {"-1"}},
};

const std::vector<Damage> conditions = {
    {"UnknownCondition",
     [](ModelParts& p) { look_of(p).conditions = {"second_persn"}; },
     "look.conditions",
     {"did you mean \"second_person\"?"}},
    {"ConditionTwice",
     [](ModelParts& p) {
       look_of(p).conditions = {"second_person", "second_person"};
     },
     "look.conditions",
     {"twice"}},
    {"NameTwice", [](ModelParts& p) { p.conditions[2].name = "hot"; }, "condition hot", {"used twice"}},
    {"HandOverNameTwice",
     [](ModelParts& p) { p.hand_overs.push_back(p.hand_overs[0]); },
     "hand-over specialist",
     {"used twice"}},
    {"ConditionNeedsAccess",
     [](ModelParts& p) { p.conditions[1].work.access = {"cover"}; },
     "condition hot",
     {"needs access"}},
    {"ConditionNeedsCondition",
     [](ModelParts& p) { p.conditions[1].work.conditions = {"second_person"}; },
     "condition hot",
     {"another condition"}},
    // the cover opens only while the engine is cold
    {"ExcludedThroughAccess",
     [](ModelParts& p) { look_of(p).conditions = {"hot"}; },
     "look",
     {"\"hot\" and \"cold\"", "exclude"}},
    {"TwoAtTheStart", [](ModelParts& p) { p.conditions[1].at_start = true; }, "condition hot", {"\"cold\""}},
};

const std::vector<Damage> repairs = {
    {"PartialFromSound", [](ModelParts& p) { p.repairs[0].partial[0].from = 0; }, "repair clean.partial", {"index 0"}},
    {"PartialToSound", [](ModelParts& p) { p.repairs[0].partial[0].to = 0; }, "repair clean.partial", {"fault state"}},
    {"PartialToItself", [](ModelParts& p) { p.repairs[0].partial[0].to = 2; }, "repair clean.partial", {"another"}},
    {"PartialOutside", [](ModelParts& p) { p.repairs[0].partial[0].to = 3; }, "repair clean.partial", {"index 3"}},
    {"PartialChance",
     [](ModelParts& p) { p.repairs[0].partial[0].probability = 1.5; },
     "repair clean.partial",
     {"1.5", "probability"}},
    {"PartialTwice",
     [](ModelParts& p) { p.repairs[0].partial.push_back({.from = 2, .to = 1, .probability = 0.1}); },
     "repair clean.partial",
     {"twice", "\"clogged\" to \"dirty\""}},
    // 0.8 mended and 0.6 eased are more than all
    {"PartialBesideSuccess",
     [](ModelParts& p) {
       p.repairs[0].mends = {1, 2};
     },
     "repair clean.partial",
     {"1.4", "\"clogged\""}},
    {"ChecksNothing",
     [](ModelParts& p) { p.verification->false_cured = 1.1; },
     "verification.false_cured",
     {"1.1", "probability"}},
    {"NoComeback", [](ModelParts& p) { p.comeback.reset(); }, "verification", {"comeback"}},
    {"OwnCheck",
     [](ModelParts& p) {
       p.repairs[0].verification = RepairCheck{
           .label = "", .procedure = "", .work = {}, .false_cured = 0.0, .false_still_there = -0.1, .source = ""};
     },
     "repair clean.verification.false_still_there",
     {"-0.1"}},
};

const auto title = [](const testing::TestParamInfo<Damage>& info) { return info.param.title; };
INSTANTIATE_TEST_SUITE_P(Amounts, DamagedWork, testing::ValuesIn(amounts), title);
INSTANTIATE_TEST_SUITE_P(Conditions, DamagedWork, testing::ValuesIn(conditions), title);
INSTANTIATE_TEST_SUITE_P(Repairs, DamagedWork, testing::ValuesIn(repairs), title);

TEST(ValidateWork, WithoutAFalseCureNoComebackIsNeeded) {
  ModelParts parts = sound_parts();
  parts.comeback.reset();
  parts.verification->false_cured = 0.0;
  EXPECT_NO_THROW(FaultModel{parts});
}

TEST(ValidateWork, ARepairMayEaseWhatItNeverMends) {
  ModelParts parts = sound_parts();
  parts.repairs[0].mends.clear();
  EXPECT_NO_THROW(FaultModel{parts});
  parts.repairs[0].partial.clear();
  EXPECT_THROW(FaultModel{parts}, ModelError);
}

}  // namespace

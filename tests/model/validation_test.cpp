// Everything that makes parts no model, each with the words that name it. One constructor call lists all problems.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace {

using namespace faultodds;

Variable binary(const std::string& name, Distribution distribution) {
  Variable made;
  made.name = name;
  made.states = {{"no", ""}, {"yes", ""}};
  made.distribution = std::move(distribution);
  return made;
}

FullTable prior(double p) { return {{}, Table(2, {1.0 - p, p})}; }

/// 0 weather, 1 pump, 2 smell (noisy-OR of the pump in some weather), 3 look (examines the pump), 4 both (counts).
ModelParts sound_parts() {
  ModelParts parts;
  parts.tools = {{.name = "multimeter", .label = "", .description = ""}};
  parts.skills = {{.name = "mechanic", .label = "", .description = ""}};
  parts.cautions = {{.name = "hot", .label = "", .description = ""}};
  parts.access = {{.name = "cover_off", .label = "", .description = "", .work = {}},
                  {.name = "lift", .label = "", .description = "", .work = {}}};
  parts.access[1].work.access = {"cover_off"};
  parts.variables = {
      binary("weather", prior(0.3)), binary("pump", FullTable{{0}, Table(2, {0.9, 0.1, 0.8, 0.2})}),
      binary(
          "smell",
          NoisyMax{
              {0.99, 0.01},
              {Link{.cause = 1, .effect = Table(2, {1.0, 0.0, 0.2, 0.8}), .only_when = {Gate{0, {1}}}, .source = ""}}}),
      binary("look", Examination{.component = 1, .detection = {0.9}, .false_alarm = 0.02}),
      binary("both", CountOf{{Gate{1, {1}}, Gate{2, {1}}}, 2})};
  parts.variables[1].what = Component{};
  parts.variables[3].what = Test{};
  parts.variables[3].test().work.tools = {"multimeter"};
  parts.variables[3].test().work.skill = "mechanic";
  parts.variables[3].test().work.cautions = {"hot"};
  parts.variables[3].test().work.access = {"lift"};
  Repair repair;
  repair.name = "replace_pump";
  repair.component = 1;
  repair.mends = {1};
  parts.repairs = {repair};
  return parts;
}

FullTable& table_of(ModelParts& parts) { return std::get<FullTable>(parts.variables[1].distribution); }
NoisyMax& noisy_of(ModelParts& parts) { return std::get<NoisyMax>(parts.variables[2].distribution); }
Examination& look_of(ModelParts& parts) { return std::get<Examination>(parts.variables[3].distribution); }
CountOf& count_of(ModelParts& parts) { return std::get<CountOf>(parts.variables[4].distribution); }

struct Damage {
  std::string title;
  std::function<void(ModelParts&)> damage;
  std::string place;
  std::vector<std::string> words;  ///< all of them are in what was found or in the remedy
};

class Damaged : public testing::TestWithParam<Damage> {};

TEST(Validation, TheUndamagedPartsAreAModel) { EXPECT_NO_THROW(FaultModel{sound_parts()}); }

TEST_P(Damaged, IsRefusedWithPlaceAndWords) {
  ModelParts parts = sound_parts();
  GetParam().damage(parts);
  try {
    const FaultModel model(parts, {}, "some.json");
    FAIL() << "accepted";
  } catch (const ModelError& error) {
    EXPECT_EQ(error.file(), "some.json");
    const auto fits = [](const Problem& problem) {
      const std::string text = problem.found + "; " + problem.remedy;
      return problem.place == GetParam().place &&
             std::all_of(GetParam().words.begin(), GetParam().words.end(),
                         [&](const std::string& word) { return text.find(word) != std::string::npos; });
    };
    EXPECT_TRUE(std::any_of(error.problems().begin(), error.problems().end(), fits)) << error.what();
    for (const Problem& problem : error.problems()) {
      EXPECT_FALSE(problem.place.empty());
      EXPECT_FALSE(problem.remedy.empty()) << problem.found;
    }
  }
}

const double nan = std::nan("");
const double inf = std::numeric_limits<double>::infinity();

const std::vector<Damage> names_and_states = {
    {"EmptyName", [](ModelParts& p) { p.variables[0].name.clear(); }, "variables[0]", {"no name"}},
    {"DuplicateName", [](ModelParts& p) { p.variables[2].name = "pump"; }, "pump", {"\"pump\"", "twice"}},
    {"NoStates", [](ModelParts& p) { p.variables[0].states.clear(); }, "weather", {"no states"}},
    {"DuplicateStates",
     [](ModelParts& p) { p.variables[0].states[1].name = "no"; },
     "weather",
     {"two states", "\"no\""}},
    {"NamelessState", [](ModelParts& p) { p.variables[0].states[1].name.clear(); }, "weather", {"no name"}},
    {"DuplicateTool", [](ModelParts& p) { p.tools.push_back(p.tools[0]); }, "tool multimeter", {"twice"}},
    {"DuplicateRepair", [](ModelParts& p) { p.repairs.push_back(p.repairs[0]); }, "repair replace_pump", {"twice"}},
};
const std::vector<Damage> tables = {
    {"TooFewRows",
     [](ModelParts& p) {
       table_of(p).rows = Table(2, {0.5, 0.5});
     },
     "pump",
     {"1 row", "2 configurations", "4 numbers"}},
    {"TooManyColumns",
     [](ModelParts& p) {
       table_of(p).rows = Table(3, {0.5, 0.5, 0, 0.5, 0.5, 0});
     },
     "pump",
     {"3 numbers", "2 states"}},
    {"HalfARow",
     [](ModelParts& p) {
       table_of(p).rows = Table(2, {0.5, 0.5, 0.5, 0.5, 1.0});
     },
     "pump",
     {"5 in all"}},
    {"ParentOutOfRange", [](ModelParts& p) { table_of(p).parents = {99}; }, "pump", {"99", "5 variables"}},
    {"ParentTwice",
     [](ModelParts& p) {
       table_of(p).parents = {0, 0};
     },
     "pump",
     {"\"weather\"", "twice"}},
    {"OwnParent", [](ModelParts& p) { table_of(p).parents = {1}; }, "pump", {"\"pump\" itself"}},
    {"WrongSum", [](ModelParts& p) { table_of(p).rows(1, 0) = 0.7; }, "pump", {"weather=yes", "0.9", "sum to 1"}},
    {"Negative",
     [](ModelParts& p) {
       table_of(p).rows = Table(2, {-0.5, 1.5, 0.5, 0.5});
     },
     "pump",
     {"weather=no", "-0.5", "between 0 and 1"}},
    {"NotANumber", [](ModelParts& p) { table_of(p).rows(0, 0) = nan; }, "pump", {"nan"}},
    {"Infinite", [](ModelParts& p) { table_of(p).rows(0, 0) = inf; }, "pump", {"inf"}},
    {"AllZero",
     [](ModelParts& p) {
       table_of(p).rows = Table(2, {0, 0, 0.5, 0.5});
     },
     "pump",
     {"all zero"}},
    {"PriorSum",
     [](ModelParts& p) {
       p.variables[0].distribution = FullTable{{}, Table(2, {0.5, 0.4})};
     },
     "weather",
     {"the prior", "0.9"}},
    {"Unweighted",
     [](ModelParts& p) { p.variables[0].distribution = Unweighted{}; },
     "weather",
     {"no probability table"}},
};
const std::vector<Damage> noisy = {
    {"LeakSize", [](ModelParts& p) { noisy_of(p).leak = {1.0}; }, "smell", {"leak", "1 number", "2 states"}},
    {"LeakSum",
     [](ModelParts& p) {
       noisy_of(p).leak = {0.5, 0.4};
     },
     "smell",
     {"leak", "0.9"}},
    {"LinkSize",
     [](ModelParts& p) {
       noisy_of(p).links[0].effect = Table(2, {1.0, 0.0});
     },
     "smell",
     {"\"pump\"", "1 row", "2 rows"}},
    {"LinkSum",
     [](ModelParts& p) { noisy_of(p).links[0].effect(1, 0) = 0.5; },
     "smell",
     {"\"pump\"", "\"yes\"", "1.3"}},
    {"SoundCauseActs",
     [](ModelParts& p) {
       noisy_of(p).links[0].effect = Table(2, {0.9, 0.1, 0.2, 0.8});
     },
     "smell",
     {"first state", "(1, 0, ...)"}},
    {"CauseOutOfRange", [](ModelParts& p) { noisy_of(p).links[0].cause = 5; }, "smell", {"cause 1", "5"}},
    {"CauseTwice",
     [](ModelParts& p) { noisy_of(p).links.push_back(noisy_of(p).links[0]); },
     "smell",
     {"\"pump\"", "twice"}},
    {"GateEmpty",
     [](ModelParts& p) { noisy_of(p).links[0].only_when[0].states.clear(); },
     "smell",
     {"no state", "\"weather\""}},
    {"GateStateOutOfRange",
     [](ModelParts& p) { noisy_of(p).links[0].only_when[0].states = {2}; },
     "smell",
     {"index 2"}},
    {"GateStateTwice",
     [](ModelParts& p) {
       noisy_of(p).links[0].only_when[0].states = {1, 1};
     },
     "smell",
     {"\"yes\" twice"}},
    {"GateTwice",
     [](ModelParts& p) {
       noisy_of(p).links[0].only_when.push_back({0, {0}});
     },
     "smell",
     {"two conditions"}},
    {"GateOnTheCause",
     [](ModelParts& p) {
       noisy_of(p).links[0].only_when = {{1, {1}}};
     },
     "smell",
     {"condition of itself"}},
    {"GateOnItself",
     [](ModelParts& p) {
       noisy_of(p).links[0].only_when = {{2, {1}}};
     },
     "smell",
     {"\"smell\" itself"}},
};
const std::vector<Damage> counts_and_examinations = {
    {"CountZero", [](ModelParts& p) { count_of(p).at_least = 0; }, "both", {"at least 0"}},
    {"CountTooHigh", [](ModelParts& p) { count_of(p).at_least = 3; }, "both", {"at least 3 of 2"}},
    {"CountNothing", [](ModelParts& p) { count_of(p).inputs.clear(); }, "both", {"0 inputs"}},
    {"CountStates",
     [](ModelParts& p) {
       p.variables[4].states.push_back({"more", ""});
     },
     "both",
     {"3 states"}},
    {"CountTwice", [](ModelParts& p) { count_of(p).inputs[1].variable = 1; }, "both", {"\"pump\"", "twice"}},
    {"CountNoState", [](ModelParts& p) { count_of(p).inputs[1].states.clear(); }, "both", {"no state"}},
    {"ThreeOutcomes",
     [](ModelParts& p) {
       p.variables[3].states.push_back({"odd", ""});
     },
     "look",
     {"3 outcomes"}},
    {"DetectionSize",
     [](ModelParts& p) {
       look_of(p).detection = {0.9, 0.8};
     },
     "look",
     {"2 detection numbers"}},
    {"DetectionRange", [](ModelParts& p) { look_of(p).detection = {1.2}; }, "look", {"1.2"}},
    {"FalseAlarmRange", [](ModelParts& p) { look_of(p).false_alarm = -0.1; }, "look", {"false alarm", "-0.1"}},
    {"ExaminesNothing", [](ModelParts& p) { look_of(p).component = 9; }, "look", {"9"}},
};
const std::vector<Damage> potentials = {
    {"PotentialSize",
     [](ModelParts& p) {
       p.potentials = {{{0, 1}, {1, 1, 1}}};
     },
     "potentials[0]",
     {"3 numbers", "4"}},
    {"PotentialNegative",
     [](ModelParts& p) {
       p.potentials = {{{0}, {1, -1}}};
     },
     "potentials[0]",
     {"-1"}},
    {"PotentialNan",
     [](ModelParts& p) {
       p.potentials = {{{0}, {1, nan}}};
     },
     "potentials[0]",
     {"nan"}},
    {"PotentialZero",
     [](ModelParts& p) {
       p.potentials = {{{0}, {0, 0}}};
     },
     "potentials[0]",
     {"all zero"}},
    {"PotentialScope",
     [](ModelParts& p) {
       p.potentials = {{{7}, {1, 1}}};
     },
     "potentials[0]",
     {"7"}},
    {"PotentialTwice",
     [](ModelParts& p) {
       p.potentials = {{{0, 0}, {1, 1, 1, 1}}};
     },
     "potentials[0]",
     {"\"weather\" twice"}},
};
const std::vector<Damage> work_and_repairs = {
    {"RevealsOutOfRange", [](ModelParts& p) { p.variables[3].test().reveals = {5}; }, "look", {"index 5"}},
    {"RevealsNoSymptom",
     [](ModelParts& p) { p.variables[3].test().reveals = {1}; },
     "look",
     {"\"pump\"", "no symptom"}},
    {"RevealsTwice",
     [](ModelParts& p) {
       p.variables[2].what = Symptom{};
       p.variables[3].test().reveals = {2, 2};
     },
     "look",
     {"\"smell\"", "twice"}},
    {"UnknownTool",
     [](ModelParts& p) { p.variables[3].test().work.tools = {"multimetr"}; },
     "look.tools",
     {"\"multimetr\"", "did you mean \"multimeter\"?"}},
    {"UnknownSkill",
     [](ModelParts& p) { p.variables[3].test().work.skill = "mechanik"; },
     "look.skill",
     {"\"mechanic\"?"}},
    {"UnknownCaution",
     [](ModelParts& p) { p.variables[3].test().work.cautions = {"fumes"}; },
     "look.cautions",
     {"\"fumes\""}},
    {"UnknownAccess",
     [](ModelParts& p) { p.variables[3].test().work.access = {"covers_off"}; },
     "look.access",
     {"\"cover_off\"?"}},
    {"ToolTwice",
     [](ModelParts& p) {
       p.variables[3].test().work.tools = {"multimeter", "multimeter"};
     },
     "look.tools",
     {"twice"}},
    {"UnknownNeed", [](ModelParts& p) { p.access[1].work.access = {"moon"}; }, "access lift.needs", {"\"moon\""}},
    {"AccessCycle",
     [](ModelParts& p) { p.access[0].work.access = {"lift"}; },
     "access cover_off",
     {"cover_off -> lift -> cover_off"}},
    {"AccessNeedsItself", [](ModelParts& p) { p.access[1].work.access = {"lift"}; }, "access lift", {"itself"}},
    {"NegativeMinutes", [](ModelParts& p) { p.variables[3].test().work.minutes = -5; }, "look.minutes", {"-5"}},
    {"NanMoney", [](ModelParts& p) { p.repairs[0].work.money = nan; }, "repair replace_pump.money", {"nan"}},
    {"LabourRate", [](ModelParts& p) { p.header.labour_rate = -1; }, "header", {"labour rate", "-1"}},
    {"RepairOfNothing", [](ModelParts& p) { p.repairs[0].component = 12; }, "repair replace_pump", {"12"}},
    {"RepairOfATest",
     [](ModelParts& p) { p.repairs[0].component = 3; },
     "repair replace_pump",
     {"\"look\"", "not a component"}},
    {"MendsNothing", [](ModelParts& p) { p.repairs[0].mends.clear(); }, "repair replace_pump", {"mends nothing"}},
    {"MendsTheSound",
     [](ModelParts& p) { p.repairs[0].mends = {0}; },
     "repair replace_pump",
     {"index 0", "fault states"}},
    {"MendsTwice",
     [](ModelParts& p) {
       p.repairs[0].mends = {1, 1};
     },
     "repair replace_pump",
     {"twice"}},
    {"SuccessRange", [](ModelParts& p) { p.repairs[0].success = 1.5; }, "repair replace_pump", {"1.5"}},
    {"BandOutcome",
     [](ModelParts& p) {
       p.variables[3].test().reading =
           Reading{.quantity = "", .unit = "", .bands = {{.outcome = 2, .from = {}, .below = 1.0}}, .source = ""};
     },
     "look",
     {"outcome index 2"}},
    {"BandOverlap",
     [](ModelParts& p) {
       p.variables[3].test().reading =
           Reading{.quantity = "",
                   .unit = "",
                   .bands = {{.outcome = 0, .from = {}, .below = 2.0}, {.outcome = 1, .from = 1.0, .below = {}}},
                   .source = ""};
     },
     "look",
     {"overlap"}},
    {"BandReversed",
     [](ModelParts& p) {
       p.variables[3].test().reading =
           Reading{.quantity = "", .unit = "", .bands = {{.outcome = 0, .from = 3.0, .below = 2.0}}, .source = ""};
     },
     "look",
     {"3", "2"}},
    {"BandNan",
     [](ModelParts& p) {
       p.variables[3].test().reading =
           Reading{.quantity = "", .unit = "", .bands = {{.outcome = 0, .from = nan, .below = 2.0}}, .source = ""};
     },
     "look",
     {"nan"}},
};

const auto title = [](const testing::TestParamInfo<Damage>& info) { return info.param.title; };
INSTANTIATE_TEST_SUITE_P(Names, Damaged, testing::ValuesIn(names_and_states), title);
INSTANTIATE_TEST_SUITE_P(Tables, Damaged, testing::ValuesIn(tables), title);
INSTANTIATE_TEST_SUITE_P(Noisy, Damaged, testing::ValuesIn(noisy), title);
INSTANTIATE_TEST_SUITE_P(Counts, Damaged, testing::ValuesIn(counts_and_examinations), title);
INSTANTIATE_TEST_SUITE_P(Potentials, Damaged, testing::ValuesIn(potentials), title);
INSTANTIATE_TEST_SUITE_P(Work, Damaged, testing::ValuesIn(work_and_repairs), title);

TEST(Validation, BandsThatTouchDoNotOverlap) {
  ModelParts parts = sound_parts();
  parts.variables[3].test().reading =
      Reading{.quantity = "pressure",
              .unit = "kPa",
              .bands = {{.outcome = 0, .from = 300.0, .below = {}}, {.outcome = 1, .from = {}, .below = 300.0}},
              .source = ""};
  EXPECT_NO_THROW(FaultModel{parts});
}

TEST(Validation, SameCauseUnderDifferentConditionsIsFine) {
  ModelParts parts = sound_parts();
  noisy_of(parts).links.push_back(noisy_of(parts).links[0]);
  noisy_of(parts).links[1].only_when = {Gate{0, {0}}};
  EXPECT_NO_THROW(FaultModel{parts});
}

TEST(Validation, ListsAllProblemsAtOnce) {
  ModelParts parts = sound_parts();
  table_of(parts).rows(0, 0) = 0.5;
  noisy_of(parts).leak = {0.0, 0.0};
  look_of(parts).false_alarm = 2.0;
  parts.repairs[0].success = -1.0;
  try {
    const FaultModel model(parts);
    FAIL();
  } catch (const ModelError& error) {
    EXPECT_EQ(error.problems().size(), 4U) << error.what();
  }
}

TEST(Validation, PrintsTheCycle) {
  ModelParts parts;
  const Table copy(2, {1, 0, 0, 1});
  parts.variables = {binary("A", FullTable{{3}, copy}), binary("B", FullTable{{0}, copy}),
                     binary("C", FullTable{{1}, copy}), binary("D", FullTable{{2}, copy}),
                     binary("E", FullTable{{3}, copy})};
  try {
    const FaultModel model(parts);
    FAIL();
  } catch (const ModelError& error) {
    ASSERT_EQ(error.problems().size(), 1U) << error.what();
    EXPECT_NE(error.problems()[0].found.find("A -> B -> C -> D -> A"), std::string::npos) << error.what();
  }
}

TEST(Validation, LongChainsDoNotExhaustTheStack) {
  constexpr std::size_t length = 200000;
  ModelParts parts;
  parts.variables.reserve(length);
  parts.variables.push_back(binary("v0", prior(0.5)));
  for (std::size_t i = 1; i < length; ++i) {
    parts.variables.push_back(binary("v" + std::to_string(i), FullTable{{i - 1}, Table(2, {0.9, 0.1, 0.2, 0.8})}));
  }
  EXPECT_EQ(FaultModel(parts).topological_order().back(), length - 1);
  parts.variables[0].distribution = FullTable{{length - 1}, Table(2, {0.9, 0.1, 0.2, 0.8})};
  EXPECT_THROW(FaultModel{parts}, ModelError);
}

TEST(Validation, SeventyParentsDoNotWrapAround) {
  // 2^70 configurations, modulo 2^64: 0 rows. An empty table must not pass for one of that size.
  ModelParts parts;
  FullTable table;
  for (std::size_t i = 0; i < 70; ++i) {
    parts.variables.push_back(binary("p" + std::to_string(i), prior(0.5)));
    table.parents.push_back(i);
  }
  table.rows = Table(2, std::vector<double>{});
  parts.variables.push_back(binary("child", table));
  try {
    const FaultModel model(parts);
    FAIL();
  } catch (const ModelError& error) {
    EXPECT_NE(std::string(error.what()).find("more than 1.8e19"), std::string::npos) << error.what();
  }
}

TEST(Validation, NormalisingForgivesSumsOnly) {
  for (const std::vector<double>& row : {std::vector<double>{-0.5, 1.5}, {nan, 1.0}, {inf, 0.0}, {0.0, 0.0}}) {
    ModelParts parts;
    parts.variables = {binary("x", FullTable{{}, Table(2, row)})};
    EXPECT_THROW(FaultModel(parts, RowScaling{true}), ModelError);
  }
}

}  // namespace

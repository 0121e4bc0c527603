// A fault model in hand: look-ups, order, scaled rows, equality, tables written out.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/fault_model.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <string>
#include <type_traits>
#include <vector>

#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;

template <class T>
void take(T);
template <class T>
concept takes_two_numbers_in_braces = requires {
  take<T>({1, 0});
};

Variable variable(const std::string& name, const std::vector<std::string>& states, Distribution distribution) {
  Variable made;
  made.name = name;
  for (const std::string& state : states) made.states.push_back({state, ""});
  made.distribution = std::move(distribution);
  return made;
}

Variable yes_no(const std::string& name, Distribution distribution) {
  return variable(name, {"no", "yes"}, std::move(distribution));
}

FullTable prior(double p) { return {{}, Table(2, {1.0 - p, p})}; }

Link cause(std::size_t of, double strength) {
  return {.cause = of, .effect = Table(2, {1.0, 0.0, 1.0 - strength, strength}), .only_when = {}, .source = ""};
}

/// The child comes before its parents in the model.
FaultModel child_first() {
  ModelParts parts;
  parts.variables = {yes_no("effect", NoisyMax{{0.99, 0.01}, {cause(2, 0.8), cause(1, 0.5)}}), yes_no("b", prior(0.2)),
                     yes_no("a", FullTable{{1}, Table(2, {0.9, 0.1, 0.3, 0.7})})};
  parts.variables[1].what = Component{};
  return FaultModel(parts);
}

TEST(FaultModel, OrdersParentsBeforeChildren) {
  const FaultModel model = child_first();
  EXPECT_EQ(model.topological_order(), (std::vector<VariableIndex>{1, 2, 0}));
  EXPECT_EQ(model.parents(0), (std::vector<VariableIndex>{2, 1}));
  EXPECT_EQ(model.children(1), (std::vector<VariableIndex>{0, 2}));
  EXPECT_TRUE(model.children(0).empty());
}

TEST(FaultModel, OrdersRandomModels) {
  support::Dice dice(11);
  for (std::size_t round = 0; round < support::rounds(100); ++round) {
    const FaultModel model = support::random_model(dice);
    std::vector<std::size_t> position(model.size());
    ASSERT_EQ(model.topological_order().size(), model.size());
    for (std::size_t i = 0; i < model.size(); ++i) position[model.topological_order()[i]] = i;
    for (std::size_t v = 0; v < model.size(); ++v) {
      for (const std::size_t parent : model.parents(v)) {
        EXPECT_LT(position[parent], position[v]);
        EXPECT_EQ(std::count(model.children(parent).begin(), model.children(parent).end(), v), 1);
      }
    }
  }
}

TEST(FaultModel, FindsNamesAndOffersTheNearest) {
  const FaultModel model = child_first();
  EXPECT_EQ(model.index_of("b"), 1U);
  EXPECT_EQ(model.find("nowhere"), std::nullopt);
  EXPECT_EQ(model.state_of(0, "yes"), 1U);
  EXPECT_EQ(model.with_role(Role::component), (std::vector<VariableIndex>{1}));
  try {
    static_cast<void>(model.index_of("efect"));
    FAIL();
  } catch (const UnknownName& error) {
    EXPECT_EQ(error.kind(), "variable");
    EXPECT_EQ(error.nearest(), (std::vector<std::string>{"effect"}));
  }
  try {
    static_cast<void>(model.state_of(0, "1"));
    FAIL() << "text is a name, never a number";
  } catch (const UnknownName& error) {
    EXPECT_EQ(error.owner(), "effect");
  }
  EXPECT_THROW(static_cast<void>(model.variable(3)), ArgumentError);
  EXPECT_THROW(static_cast<void>(model.state_of(7, "yes")), ArgumentError);
}

TEST(FaultModel, NumericStateNamesAreNames) {
  ModelParts parts;
  parts.variables = {variable("level", {"1", "2", "3"}, FullTable{{}, Table(3, {0.5, 0.3, 0.2})})};
  const FaultModel model(parts);
  EXPECT_EQ(model.state_of(0, "1"), 0U);
  EXPECT_THROW(static_cast<void>(model.state_of(0, "4")), UnknownName);
  EXPECT_THROW(static_cast<void>(model.state_of(0, "0")), UnknownName);
}

TEST(FaultModel, ScalesRoundedRowsOnceAndSaysSo) {
  ModelParts parts;
  parts.variables = {variable("x", {"a", "b", "c"}, FullTable{{}, Table(3, {0.3333, 0.3333, 0.3333})}),
                     yes_no("y", NoisyMax{{1.0, 0.0},
                                          {Link{.cause = 0,
                                                .effect = Table(2, {1, 0, 0.5, 0.49999999, 0.3, 0.7}),
                                                .only_when = {},
                                                .source = ""}}})};
  const FaultModel model(parts);
  ASSERT_EQ(model.scaled_rows().size(), 2U);
  EXPECT_EQ(model.scaled_rows()[0].variable, "x");
  EXPECT_EQ(model.scaled_rows()[0].row, 0U);
  EXPECT_DOUBLE_EQ(model.scaled_rows()[0].sum, 0.9999);
  EXPECT_EQ(model.scaled_rows()[1].variable, "y");
  EXPECT_EQ(model.scaled_rows()[1].row, 2U) << "the leak is row 0, the sound cause row 1";
  EXPECT_DOUBLE_EQ(std::get<FullTable>(model.variable(0).distribution).rows(0, 2), 1.0 / 3.0);

  const FaultModel again(model.parts());
  EXPECT_TRUE(again.scaled_rows().empty());
  EXPECT_EQ(again, model) << "exact rows are kept bit for bit";
}

TEST(FaultModel, NormalisesOnRequestOnly) {
  ModelParts parts;
  parts.variables = {yes_no("x", FullTable{{}, Table(2, {0.5, 0.4})})};
  EXPECT_THROW(FaultModel{parts}, ModelError);
  const FaultModel model(parts, RowScaling{true});
  const auto& table = std::get<FullTable>(model.variable(0).distribution);
  EXPECT_DOUBLE_EQ(table.rows(0, 0), 5.0 / 9.0);
  EXPECT_DOUBLE_EQ(table.rows(0, 1), 4.0 / 9.0);
  EXPECT_EQ(model.scaled_rows().size(), 1U);
}

TEST(FaultModel, EqualsByContents) {
  const FaultModel one = child_first();
  const FaultModel other = child_first();
  EXPECT_EQ(one, other);
  ModelParts parts = one.parts();
  parts.variables[1].label = "other";
  EXPECT_FALSE(one == FaultModel(parts));
}

TEST(FaultModel, EmptyModelIsAModel) {
  const FaultModel model{ModelParts{}};
  EXPECT_EQ(model.size(), 0U);
  EXPECT_TRUE(model.topological_order().empty());
}

TEST(WrittenOut, NoisyOrOfPearl) {
  // Noisy-OR with leak (Pearl 1988, section 4.3.2): leak 0.01, strengths 0.8 and 0.5, worked by hand:
  // 1 - 0.99 * 0.2 * 0.5 = 0.901; 1 - 0.99 * 0.2 = 0.802; 1 - 0.99 * 0.5 = 0.505.
  const FullTable table = written_out(child_first(), 0);
  EXPECT_EQ(table.parents, (std::vector<VariableIndex>{2, 1}));
  ASSERT_EQ(table.rows.rows(), 4U);
  EXPECT_DOUBLE_EQ(table.rows(0, 1), 0.01);
  EXPECT_DOUBLE_EQ(table.rows(1, 1), 0.505);
  EXPECT_DOUBLE_EQ(table.rows(2, 1), 0.802);
  EXPECT_DOUBLE_EQ(table.rows(3, 1), 0.901);
}

TEST(WrittenOut, KeepsTheDigitsOfSmallProbabilities) {
  ModelParts parts;
  parts.variables = {yes_no("a", prior(0.5)), yes_no("b", prior(0.5)),
                     yes_no("effect", NoisyMax{{1.0 - 1e-18, 1e-18}, {cause(0, 3e-18), cause(1, 0.0)}})};
  const FullTable table = written_out(FaultModel(parts), 2);
  EXPECT_DOUBLE_EQ(table.rows(0, 1), 1e-18) << "1 - (1 - 1e-18) would be 0";
  EXPECT_DOUBLE_EQ(table.rows(2, 1), 4e-18);
}

TEST(WrittenOut, AgreesWithTheDefinitions) {
  support::Dice dice(12);
  for (std::size_t round = 0; round < support::rounds(300); ++round) {
    const FaultModel model = support::random_model(dice);
    for (std::size_t v = 0; v < model.size(); ++v) {
      const FullTable table = written_out(model, v);
      EXPECT_EQ(table.parents, model.parents(v));
      support::States states(model.size(), 0);
      for (std::size_t r = 0; r < table.rows.rows(); ++r) {
        std::size_t rest = r;
        for (std::size_t i = table.parents.size(); i-- > 0;) {
          states[table.parents[i]] = rest % model.state_count(table.parents[i]);
          rest /= model.state_count(table.parents[i]);
        }
        for (std::size_t s = 0; s < model.state_count(v); ++s) {
          const support::ConditionalProbability probability{model, states, s};
          EXPECT_NEAR(table.rows(r, s), std::visit(probability, model.variable(v).distribution), 1e-14);
        }
      }
    }
  }
}

TEST(WrittenOut, RefusesWhatWouldNotFit) {
  // 70 binary causes: 2^71 numbers, which no 64-bit count holds.
  for (const std::size_t causes : {40U, 70U}) {
    ModelParts parts;
    NoisyMax noisy{{1.0, 0.0}, {}};
    for (std::size_t i = 0; i < causes; ++i) {
      parts.variables.push_back(yes_no("cause" + std::to_string(i), prior(0.1)));
      noisy.links.push_back(cause(i, 0.5));
    }
    parts.variables.push_back(yes_no("effect", noisy));
    const FaultModel model(parts);
    try {
      static_cast<void>(written_out(model, causes));
      FAIL();
    } catch (const TooLarge& error) {
      EXPECT_EQ(error.bytes(), std::ldexp(1.0, static_cast<int>(causes) + 4));
      EXPECT_NE(std::string(error.what()).find("effect"), std::string::npos);
    }
  }
}

TEST(WrittenOut, ManyParentsOfOneStateAreNoProblem) {
  ModelParts parts;
  FullTable table{{}, Table(2, {0.3, 0.7})};
  CountOf any;
  for (std::size_t i = 0; i < 35; ++i) {
    parts.variables.push_back(
        variable("p" + std::to_string(i), {"only"}, FullTable{{}, Table(1, std::vector<double>{1.0})}));
    table.parents.push_back(i);
    any.inputs.push_back({i, {0}});
  }
  parts.variables.push_back(yes_no("child", table));
  parts.variables.push_back(yes_no("any", any));
  const FaultModel model(parts);
  EXPECT_EQ(written_out(model, 35), table);
  EXPECT_EQ(written_out(model, 36).rows.values(), (std::vector<double>{0.0, 1.0}));
}

TEST(WrittenOut, UnweightedVariablesHaveNone) {
  ModelParts parts;
  parts.variables = {yes_no("x", Unweighted{})};
  parts.potentials = {{{0}, {1.0, 3.0}}};
  EXPECT_THROW(static_cast<void>(written_out(FaultModel(parts), 0)), ArgumentError);
}

TEST(Table, NumbersInBracesAreValues) {
  const Table one(1, {1.0});
  EXPECT_EQ(one.values(), std::vector<double>{1.0});
  const Table whole(1, {2});
  EXPECT_EQ(whole.values(), std::vector<double>{2.0});
  const Table pair(2, {0, 1});
  EXPECT_EQ(pair.rows(), 1U);
  EXPECT_EQ(pair(0, 1), 1.0);
  static_assert(!std::is_constructible_v<Table, std::size_t, double>, "a number of columns is whole");
  static_assert(!std::is_convertible_v<std::size_t, Table>);
  // FullTable{{}, {1, 0}} would be a table of one row without columns to whoever means the prior (1, 0).
  static_assert(!std::is_aggregate_v<Table> && !takes_two_numbers_in_braces<Table>);
}

TEST(FaultModel, OffersTheNamesThatBeginLikeWhatWasGiven) {
  EXPECT_EQ(
      nearest_names("Fuel_pressure", std::vector<std::string>{"pressure", "fuel_pressure_idle", "fuel_pressure_road"}),
      (std::vector<std::string>{"fuel_pressure_idle", "fuel_pressure_road"}));
  EXPECT_EQ(nearest_names("pump", std::vector<std::string>(9, "pump_x"), 2).size(), 4U);
  EXPECT_TRUE(nearest_names("", std::vector<std::string>{"pump"}).empty());
  ModelParts parts;
  parts.variables = {yes_no("lamp", prior(0.25))};
  for (const char* name : {"renew_bulb", "renew_lamp", "clean_lamp"}) {
    parts.repairs.emplace_back();
    parts.repairs.back().name = name;
    parts.repairs.back().mends = {1};
  }
  parts.variables[0].what = Component{};
  const FaultModel model(parts);
  try {
    static_cast<void>(model.index_of_repair("renew"));
    FAIL();
  } catch (const UnknownName& error) {
    EXPECT_EQ(error.nearest(), (std::vector<std::string>{"renew_bulb", "renew_lamp"}));
  }
}

// The form of trouble codes: SAE J2012.
TEST(FaultModel, KnowsSymptomsByTheirTroubleCode) {
  ModelParts parts;
  parts.variables = {yes_no("misfire", prior(0.25)), yes_no("lean", prior(0.25)), yes_no("lean_2", prior(0.25)),
                     yes_no("p0420", prior(0.25))};
  for (Variable& variable : parts.variables) variable.what = Symptom{};
  parts.variables[0].symptom().code = "P0301";
  parts.variables[1].symptom().code = "p0171";
  parts.variables[2].symptom().code = "P0171";
  const FaultModel model(parts);
  EXPECT_EQ(model.index_of("P0301"), 0U);
  EXPECT_EQ(model.find("p0301"), 0U);
  EXPECT_EQ(model.index_of("p0420"), 3U);
  EXPECT_EQ(model.find("P0171"), std::nullopt) << "two symptoms are this code";
  EXPECT_EQ(model.find(""), std::nullopt);
  try {
    static_cast<void>(model.index_of("P0171"));
    FAIL();
  } catch (const UnknownName& error) {
    EXPECT_EQ(error.nearest(), (std::vector<std::string>{"lean", "lean_2"}));
  }
}

TEST(FaultModel, WhatIsLikeNoKnownNameGetsTheKnownOnesListed) {
  ModelParts parts;
  parts.variables = {yes_no("lamp", prior(0.25))};
  const FaultModel model(parts);
  try {
    static_cast<void>(model.state_of(0, "purple"));
    FAIL();
  } catch (const UnknownName& error) {
    EXPECT_TRUE(error.nearest().empty());
    for (const State& state : model.variable(0).states) {
      EXPECT_NE(std::string(error.what()).find('"' + state.name + '"'), std::string::npos) << error.what();
    }
  }
  for (std::size_t i = 0; i < 20; ++i) parts.variables.push_back(yes_no("variable" + std::to_string(i), prior(0.5)));
  try {
    static_cast<void>(FaultModel(parts).index_of("zzzz"));
    FAIL();
  } catch (const UnknownName& error) {
    EXPECT_NE(std::string(error.what()).find("none of the 21 known is like it"), std::string::npos) << error.what();
  }
}

TEST(FaultModel, EveryListIsSearchedByName) {
  ModelParts parts;
  parts.variables = {yes_no("lamp", prior(0.25))};
  parts.variables[0].what = Component{};
  parts.tools = {{.name = "meter", .label = "", .description = ""}, {.name = "lamp", .label = "", .description = ""}};
  parts.skills = {{.name = "owner", .label = "", .description = ""},
                  {.name = "mechanic", .label = "", .description = ""}};
  parts.cautions = {{.name = "hot", .label = "", .description = ""}};
  parts.access = {{.name = "cover", .label = "", .description = "", .work = {}},
                  {.name = "lid", .label = "", .description = "", .work = {}}};
  parts.conditions = {{.name = "cold", .label = "", .description = "", .group = "", .at_start = false, .work = {}}};
  parts.repairs.resize(1);
  parts.repairs[0].name = "renew_lamp";
  parts.repairs[0].mends = {1};
  parts.hand_overs.resize(1);
  parts.hand_overs[0].name = "shop";
  parts.hand_overs[0].money = 5.0;
  const FaultModel model(parts);
  EXPECT_EQ(model.find_tool("lamp"), 1U);
  EXPECT_EQ(model.index_of_skill("mechanic"), 1U);
  EXPECT_EQ(model.index_of_caution("hot"), 0U);
  EXPECT_EQ(model.index_of_access("lid"), 1U);
  EXPECT_EQ(model.find_condition("cold"), 0U);
  EXPECT_EQ(model.index_of_repair("renew_lamp"), 0U);
  EXPECT_EQ(model.index_of_hand_over("shop"), 0U);
  EXPECT_EQ(model.find_repair("shop"), std::nullopt);
  try {
    static_cast<void>(model.index_of_repair("renew_lmap"));
    FAIL();
  } catch (const UnknownName& error) {
    EXPECT_EQ(error.kind(), "repair");
    EXPECT_EQ(error.nearest(), std::vector<std::string>{"renew_lamp"});
  }
}

}  // namespace

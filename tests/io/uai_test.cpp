// UAI model and evidence files: order of scopes and tables, lengths, layouts of evidence.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/uai.hpp"

#include <gtest/gtest.h>

#include <array>
#include <nlohmann/json.hpp>

#include "io/networks.hpp"

namespace faultodds {
namespace {

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }
std::string problem_of(const std::string& text) {
  return testing::message_of([&] { return read_uai(text, "x.uai"); });
}
const std::string two = "BAYES\n2\n2 3\n2\n1 0\n2 0 1\n2\n0.25 0.75\n6\n0.5 0.3 0.2 0.1 0.1 0.8\n";

TEST(Uai, TheChildIsLastInScopeAndFastest) {
  const FaultModel model = read_uai(two);
  const auto& table = std::get<FullTable>(model.variable(1).distribution);
  EXPECT_EQ(table.parents, std::vector<VariableIndex>{0});
  EXPECT_EQ(table.rows.values(), (std::vector<double>{0.5, 0.3, 0.2, 0.1, 0.1, 0.8}));
  EXPECT_EQ(model.variable(1).name, "1");
  EXPECT_EQ(model.variable(1).states[2].name, "2");
  // P(x1) = (0.25*0.5 + 0.75*0.1, ...)
  EXPECT_NEAR(testing::first_state_probability(model, 1), 0.2, 1e-15);
}

TEST(Uai, FactorsMayComeInAnyOrderAndScopesHaveLongNumbers) {
  std::string text = "BAYES\n12\n2 2 2 2 2 2 2 2 2 2 2 2\n12\n2 1 11\n";
  for (int v = 0; v < 11; ++v) text += "1 " + std::to_string(v) + '\n';
  text += "4 0.1 0.9 0.2 0.8\n";
  for (int v = 0; v < 11; ++v) text += "2 0.5 0.5\n";
  EXPECT_EQ(read_uai(text).parents(11), std::vector<VariableIndex>{1});
}

TEST(Uai, KeepsTheParentsInTheOrderOfTheScope) {
  const FaultModel model =
      read_uai("BAYES\n3\n2 3 2\n3\n3 1 0 2\n1 0\n1 1\n12 1 0 1 0 1 0 1 0 1 0 0.25 0.75\n2 0.5 0.5\n3 0.2 0.3 0.5\n");
  EXPECT_EQ(model.parents(2), (std::vector<VariableIndex>{1, 0}));
  EXPECT_EQ(std::get<FullTable>(model.variable(2).distribution).rows(5, 0), 0.25);
}

TEST(Uai, MarkovFactorsStandAsTheyAre) {
  const FaultModel model = read_uai("MARKOV\n2\n2 2\n3\n2 1 0\n1 0\n0\n4 1 2 3 4\n2 10 0\n1 7\n");
  EXPECT_TRUE(std::holds_alternative<Unweighted>(model.variable(0).distribution));
  ASSERT_EQ(model.parts().potentials.size(), 3U);
  EXPECT_EQ(model.parts().potentials[0], (Potential{{1, 0}, {1, 2, 3, 4}}));
  EXPECT_EQ(model.parts().potentials[1], (Potential{{0}, {10, 0}}));
  EXPECT_EQ(model.parts().potentials[2], (Potential{{}, {7}}));
  EXPECT_EQ(read_uai(write_uai(model)), model);
}

TEST(Uai, RefusesWhatIsWrongWithItsPlace) {
  const std::array<std::pair<std::string, std::string>, 21> cases = {{
      {"", "starts with BAYES or MARKOV"},
      {"NOISE 1 2", "line 1, column 1: \"NOISE\" is at the start"},
      {"BAYES", "the text ends where the number of variables"},
      {"BAYES 99999999999999999999 2", "is where the number of variables should be"},
      {"BAYES 1 0 1 1 0 0", "variable 0 has no states"},
      {"BAYES 1 999999999 1 1 0 2 1 0", "is where the number of states of variable 0 should be"},
      {"BAYES 1 2 1 1 1 2 .5 .5", "is where a variable of a factor should be; variables are numbered from 0 to 0"},
      {"BAYES 1 2 1 1 0 3 .5 .5 0", "announces 3 numbers; its variables call for 2"},
      {"BAYES 1 2 1 1 0 2 .5", "the text ends within a table"},
      {"BAYES 1 2 1 1 0 900 .5", "\"900\" is where the number of entries of factor 0 should be"},
      {"BAYES\n1\n2\n1\n1 0\n2 .5\n.5 junk", "line 7, column 4: there is more text behind the last table"},
      {"BAYES 1 2 1 1 0 2 .5 x", "\"x\" is not a number"},
      {"BAYES 1 2 1 1 0 2 .5 .4", "the prior of \"0\" sums to 0.9"},
      {"BAYES 1 2 1 1 0 2 0 0", "is all zero"},
      {"BAYES 1 2 1 1 0 2 -1 2", "holds -1"},
      {"BAYES 2 2 2 2 1 0 1 0 2 .5 .5 2 .5 .5", "a second table of variable 0"},
      {"BAYES 2 2 2 1 1 0 2 .5 .5", "variable 1 has no table"},
      {"BAYES 2 2 2 2 2 0 1 2 1 0 4 1 0 0 1 4 1 0 0 1", "0 -> 1 -> 0"},
      {"BAYES 2 2 2 2 1 0 2 1 1 2 .5 .5 4 1 0 0 1", "variable 1 is listed twice in one factor"},
      {"MARKOV 1 2 1 1 0 2 0 0", "is all zero"},
      {"MARKOV 1 2 1 1 0 2 -1 1", "holds -1"},
  }};
  for (const auto& [text, part] : cases)
    EXPECT_TRUE(contains(problem_of(text), part)) << text << '\n' << problem_of(text);
  EXPECT_NO_THROW(static_cast<void>(read_uai("BAYES 1 2 1 1 0 2 .5 .4", "", RowScaling{true})));
}

TEST(Uai, RefusesTablesThatDoNotFitBeforeMakingThem) {
  std::string text = "MARKOV\n70\n";
  std::string scope = "70";
  for (int v = 0; v < 70; ++v) {
    text += "2 ";
    scope += ' ' + std::to_string(v);
  }
  EXPECT_THROW(static_cast<void>(read_uai(text + "\n1\n" + scope + "\n0\n")), TooLarge);
}

TEST(Uai, RoundTripsRandomNetworksBitForBit) {
  std::mt19937_64 random(4);
  for (int i = 0; i < 300; ++i) {
    const FaultModel model = testing::random_network(random, false);
    ASSERT_EQ(read_uai(write_uai(model)), model) << write_uai(model);
  }
}

TEST(Uai, NamesAreToldBesideTheFile) {
  std::mt19937_64 random(6);
  const FaultModel model = testing::random_network(random);
  const auto names = nlohmann::json::parse(uai_names(model));
  ASSERT_EQ(names.size(), model.size());
  for (std::size_t v = 0; v < model.size(); ++v) {
    EXPECT_EQ(names[v]["name"], model.variable(v).name);
    for (std::size_t s = 0; s < model.state_count(v); ++s)
      EXPECT_EQ(names[v]["states"][s], model.variable(v).states[s].name);
  }
}

TEST(UaiEvidence, BothLayoutsAreRead) {
  const FaultModel model = read_uai(two);
  const std::vector<UaiFinding> both = {{1, 2}, {0, 1}};
  for (const char* text :
       {"2 1 2 0 1", "2\n1 2\n0 1\n", "1\n2 1 2 0 1\n", "1\r\n2 1 2 0 1\r\n\r\n", "1 2 1 2 0 1", "\n2\t1 2 0 1"}) {
    EXPECT_EQ(read_uai_evidence(text, model), both) << text;
  }
  EXPECT_TRUE(read_uai_evidence("0\n", model).empty());
  EXPECT_TRUE(read_uai_evidence("1\n0\n", model).empty());
  EXPECT_EQ(read_uai_evidence("1 0 1", model), (std::vector<UaiFinding>{{0, 1}}));
  EXPECT_EQ(read_uai_evidence(write_uai_evidence(both), model), both);
  EXPECT_EQ(write_uai_evidence(both), "2 1 2 0 1\n");
}

TEST(UaiEvidence, RefusesWhatIsWrongWithItsPlace) {
  const FaultModel model = read_uai(two);
  const std::array<std::pair<std::string, std::string>, 10> cases = {{
      {"", "there is no evidence"},
      {"1 2 0", "line 1, column 3: there is no variable 2"},
      {"1 1 3", "line 1, column 5: variable 1 has no state 3"},
      {"2 1 0 1 1", "variable 1 is observed twice"},
      {"2 1 0", "2 findings are announced and 1 follow"},
      {"3 1 0 0", "3 samples or an odd number out"},
      {"2\n1 0 1\n1 1 1\n", "the file holds 2 samples"},
      {"2\n1 0 1\n0\n", "the file holds 2 samples"},
      {"1 0 -1", "\"-1\" is where a number of the evidence should be"},
      {"1 0 x", "evidence files hold whole numbers"},
  }};
  for (const auto& [text, part] : cases) {
    const std::string message =
        testing::message_of([&, &wrong = text] { return read_uai_evidence(wrong, model, "x.evid"); });
    EXPECT_TRUE(contains(message, part)) << text << '\n' << message;
    EXPECT_TRUE(message.starts_with("x.evid: ")) << message;
  }
}

TEST(Uai, SurvivesDamage) {
  std::mt19937_64 random(10);
  const FaultModel markov = read_uai("MARKOV\n2\n2 2\n3\n2 1 0\n1 0\n0\n4 1 2 3 4\n2 10 0\n1 7\n");
  for (int i = 0; i < 4000; ++i) {
    const std::string text =
        testing::damaged(random, i % 4 == 0 ? write_uai(markov) : write_uai(testing::random_network(random, false)));
    try {
      static_cast<void>(read_uai(text));
      static_cast<void>(read_uai_evidence(text, markov));
    } catch (const Error&) {
      continue;
    }
  }
}

}  // namespace
}  // namespace faultodds

// Fault models as JSON: what is read.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <clocale>
#include <string>
#include <vector>

#include "faultodds/io/model_json.hpp"
#include "io/model_json_checks.hpp"

namespace {

using namespace faultodds;
using faultodds::testing::expect_round_trip;
using faultodds::testing::expect_single_problem;
using faultodds::testing::model_with;
using faultodds::testing::symptom_with;

std::vector<double> row_of(const FullTable& table, std::size_t row) {
  return {table.rows.row(row).begin(), table.rows.row(row).end()};
}

TEST(ModelJson, ReadsPriorsInAllForms) {
  const FaultModel model = read_model_json(symptom_with(R"("prior": [0.7, 0.2, 0.1])"));
  EXPECT_EQ(model.size(), 4U);
  EXPECT_EQ(model.variable(1).role(), Role::component);
  EXPECT_EQ(model.variable(2).states[1].name, "faulty") << "components default to sound and faulty";
  EXPECT_EQ(row_of(std::get<FullTable>(model.variable(0).distribution), 0), (std::vector<double>{0.2, 0.5, 0.3}));
  EXPECT_EQ(row_of(std::get<FullTable>(model.variable(1).distribution), 0), (std::vector<double>{0.97, 0.02, 0.01}));
  EXPECT_EQ(row_of(std::get<FullTable>(model.variable(2).distribution), 0), (std::vector<double>{0.9, 0.1}));
  EXPECT_EQ(row_of(std::get<FullTable>(model.variable(3).distribution), 0), (std::vector<double>{0.7, 0.2, 0.1}));
}

TEST(ModelJson, ReadsTablesByTheNamesOfTheStates) {
  const FaultModel model = read_model_json(symptom_with(R"("table": {"given": ["band", "coil"], "rows": [
      {"when": {"coil": "faulty", "band": "high"}, "p": {"severe": 0.9}},
      {"when": {"band": ["low", "middle"]}, "p": {"mild": 0.3}}], "otherwise": {"mild": 0.1, "severe": 0.1}})"));
  const auto& table = std::get<FullTable>(model.variable(3).distribution);
  EXPECT_EQ(table.parents, (std::vector<VariableIndex>{0, 2}));
  ASSERT_EQ(table.rows.rows(), 6U);
  for (const std::size_t row : {0U, 1U, 2U, 3U})
    EXPECT_EQ(row_of(table, row), (std::vector<double>{0.7, 0.3, 0.0})) << row;
  EXPECT_EQ(row_of(table, 4), (std::vector<double>{0.8, 0.1, 0.1}));
  EXPECT_EQ(row_of(table, 5), (std::vector<double>{1.0 - 0.9, 0.0, 0.9}));
}

TEST(ModelJson, ReadsTablesByTheirNumbers) {
  const auto as_table = [](const std::string& members) {
    const FaultModel model =
        read_model_json(symptom_with("\"table\": {\"given\": [\"coil\", \"pump\"], " + members + "}"));
    return std::get<FullTable>(model.variable(3).distribution).rows;
  };
  std::string values, rows;
  for (const char* const coil : {"sound", "faulty"}) {
    for (const char* const pump : {"sound", "worn", "dead"}) {
      const std::string mild = std::string(coil) == "sound" ? "0.25" : "0.5";
      const std::string severe = std::string(pump) == "sound" ? "0" : std::string(pump) == "worn" ? "0.125" : "0.375";
      const double rest = 1.0 - std::stod(mild) - std::stod(severe);
      values += (values.empty() ? "" : ", ") + std::to_string(rest) + ", " + mild + ", " + severe;
      rows += std::string(rows.empty() ? "" : ", ") + R"({"when": {"coil": ")" + coil + R"(", "pump": ")" + pump +
              R"("}, "p": {"mild": )" + mild + R"(, "severe": )" + severe + "}}";
    }
  }
  EXPECT_EQ(as_table("\"values\": [" + values + "]"), as_table("\"rows\": [" + rows + "]"));
}

TEST(ModelJson, TheOrderOfRowsDoesNotMatter) {
  std::vector<std::string> rows = {R"({"when": {"coil": "sound"}, "p": [1, 0, 0]})",
                                   R"({"when": {"coil": "faulty", "band": "low"}, "p": [0, 1, 0]})",
                                   R"({"when": {"band": ["middle", "high"], "coil": "faulty"}, "p": [0, 0, 1]})"};
  std::ranges::sort(rows);
  std::vector<FaultModel> models;
  do {
    models.push_back(read_model_json(symptom_with(R"("table": {"given": ["band", "coil"], "rows": [)" + rows[0] + "," +
                                                  rows[1] + "," + rows[2] + "]}")));
  } while (std::ranges::next_permutation(rows).found);
  EXPECT_EQ(models.size(), 6U);
  for (const FaultModel& model : models) EXPECT_EQ(model, models.front());
}

TEST(ModelJson, ReadsNoisyOr) {
  const std::string text = symptom_with(R"("prior": [1, 0, 0]}, {"name": "code", "noisy_or": {"leak": 0.01, "causes": [
      {"of": "coil", "strength": 0.8}, {"of": "pump", "strength": {"dead": 0.5}, "only_when": {"band": ["low", "high"]}, "source": "s"}]})");
  const FaultModel model = read_model_json(text);
  const auto& noisy = std::get<NoisyMax>(model.variable(4).distribution);
  EXPECT_EQ(noisy.leak, (std::vector<double>{0.99, 0.01}));
  ASSERT_EQ(noisy.links.size(), 2U);
  EXPECT_EQ(noisy.links[0].effect.values(), (std::vector<double>{1, 0, 1.0 - 0.8, 0.8}));
  EXPECT_EQ(noisy.links[1].effect.values(), (std::vector<double>{1, 0, 1, 0, 0.5, 0.5}));
  EXPECT_EQ(noisy.links[1].only_when, (std::vector<Gate>{{0, {0, 2}}}));
  EXPECT_EQ(noisy.links[1].source, "s");
}

TEST(ModelJson, ReadsNoisyMax) {
  const FaultModel model = read_model_json(symptom_with(R"("noisy_max": {"leak": {"mild": 0.01}, "causes": [
      {"of": "pump", "effect": {"worn": {"mild": 0.5, "severe": 0.2}, "dead": {"severe": 0.95}}}]})"));
  const auto& noisy = std::get<NoisyMax>(model.variable(3).distribution);
  EXPECT_EQ(noisy.leak, (std::vector<double>{0.99, 0.01, 0.0}));
  EXPECT_EQ(noisy.links[0].effect.values(), (std::vector<double>{1, 0, 0, 1.0 - 0.7, 0.5, 0.2, 1.0 - 0.95, 0, 0.95}));
}

TEST(ModelJson, ReadsCountsAndExaminations) {
  const FaultModel model =
      read_model_json(model_with(R"("components": [{"name": "a", "prior": 0.1}, {"name": "b", "prior": 0.1},
      {"name": "c", "states": ["sound", "weak", "dead"], "prior": {"weak": 0.1}}],
      "hidden": [{"name": "any", "states": ["no", "yes"], "any": ["a", {"of": "c", "is": "dead"}]},
                 {"name": "all", "states": ["no", "yes"], "all": ["a", "b", "c"]},
                 {"name": "two", "states": ["no", "yes"], "at_least": {"count": 2, "of": ["a", "b", {"of": "c", "is": ["weak", "dead"]}]}}],
      "tests": [{"name": "look", "examines": {"component": "c", "detects": {"dead": 0.9}, "false_alarm": 0.05}}])"));
  EXPECT_EQ(std::get<CountOf>(model.variable(3).distribution), (CountOf{{{0, {1}}, {2, {2}}}, 1}));
  EXPECT_EQ(std::get<CountOf>(model.variable(4).distribution), (CountOf{{{0, {1}}, {1, {1}}, {2, {1, 2}}}, 3}));
  EXPECT_EQ(std::get<CountOf>(model.variable(5).distribution), (CountOf{{{0, {1}}, {1, {1}}, {2, {1, 2}}}, 2}));
  EXPECT_EQ(std::get<Examination>(model.variable(6).distribution), (Examination{2, {0.05, 0.9}, 0.05}))
      << "a state left out is detected no better than the sound one";
  expect_round_trip(model);
}

TEST(ModelJson, ReadsFactsOfTestsAndRepairs) {
  const FaultModel model = read_model_json(
      model_with(R"("title": "T", "version": "2", "authors": ["x", "y"], "invented_data": true, "safety": "care",
      "currency": "EUR", "labour_rate": 66.5, "skills": [{"name": "mechanic"}], "tools": [{"name": "meter", "label": "a meter"}],
      "cautions": [{"name": "hot", "text": "Let it cool."}], "access": [{"name": "cover"}, {"name": "lift", "minutes": 10, "needs": ["cover"]}],
      "components": [{"name": "pump", "states": ["sound", "worn", "dead"], "prior": {"worn": 0.1}, "system": "fuel"}],
      "tests": [{"name": "pressure", "states": ["good", {"name": "low", "label": "too low"}], "examines": {"component": "pump", "detects": 0.9, "false_alarm": 0},
        "reading": {"quantity": "pressure", "unit": "kPa", "limits": [{"outcome": "low", "below": 300}, {"outcome": "good", "from": 300}]},
        "minutes": 15, "money": 0.5, "access": ["lift"], "tools": ["meter"], "skill": "mechanic", "cautions": ["hot"], "procedure": "measure"}],
      "repairs": [{"name": "renew", "component": "pump", "minutes": 60}, {"name": "clean", "component": "pump", "mends": "worn", "success": 0.5}])"));
  EXPECT_TRUE(model.header().invented);
  EXPECT_EQ(model.header().labour_rate, 66.5);
  EXPECT_EQ(model.parts().cautions[0].description, "Let it cool.");
  EXPECT_EQ(model.parts().access[1].work.access, (std::vector<std::string>{"cover"}));
  const Variable& test = model.variable(1);
  EXPECT_EQ(test.states[1].label, "too low");
  EXPECT_EQ(test.test().work.minutes, 15.0);
  EXPECT_EQ(test.test().work.money, 0.5);
  ASSERT_TRUE(test.test().reading);
  EXPECT_EQ(test.test().reading->bands, (std::vector<Band>{{1, {}, 300.0}, {0, 300.0, {}}}));
  EXPECT_EQ(model.parts().repairs[0].mends, (std::vector<StateIndex>{1, 2})) << "left out: every fault state";
  EXPECT_EQ(model.parts().repairs[1].mends, (std::vector<StateIndex>{1}));
  EXPECT_EQ(model.parts().repairs[0].success, 1.0);
  expect_round_trip(model);
}

TEST(ModelJson, ListsOrderTheVariablesUnlessToldOtherwise) {
  const std::string lists =
      R"("tests": [{"name": "t", "prior": 0.5}], "context": [{"name": "c", "states": ["x", "y"], "prior": 0.5}],
      "variables": [{"name": "v", "states": ["x", "y"], "prior": 0.5}])";
  const auto names = [](const FaultModel& model) {
    std::string text;
    for (const Variable& variable : model.variables()) text += variable.name;
    return text;
  };
  EXPECT_EQ(names(read_model_json(model_with(lists))), "ctv");
  const FaultModel ordered = read_model_json(model_with(lists + R"(, "order": ["v", "c", "t"])"));
  EXPECT_EQ(names(ordered), "vct");
  expect_round_trip(ordered);
  expect_single_problem(model_with(lists + R"(, "order": ["v", "c"])"), "order", {"\"t\""});
  expect_single_problem(model_with(lists + R"(, "order": ["v", "c", "t", "v"])"), "order[3]", {"twice"});
  expect_single_problem(model_with(lists + R"(, "order": ["v", "c", "u"])"), "order[2]", {"\"u\""});
}

TEST(ModelJson, ReadsWhatTestsReveal) {
  const auto model_revealing = [](const std::string& names) {
    return model_with(R"("symptoms": [{"name": "code_a", "prior": 0.1}, {"name": "code_b", "prior": 0.1}],
      "tests": [{"name": "read", "prior": 0.1, "reveals": )" +
                      names + "}]");
  };
  const FaultModel model = read_model_json(model_revealing(R"(["code_b", "code_a"])"));
  EXPECT_EQ(model.variable(2).test().reveals, (std::vector<VariableIndex>{1, 0}));
  expect_round_trip(model);
  expect_single_problem(model_revealing(R"(["code_a", "coda_b"])"), "tests.read.reveals[1]", {"coda_b", "\"code_b\""});
  expect_single_problem(model_revealing(R"(["read"])"), "tests.read", {"\"read\"", "no symptom"});
  expect_single_problem(model_revealing(R"(["code_a", "code_a"])"), "tests.read", {"\"code_a\"", "twice"});
  expect_single_problem(model_revealing("true"), "tests.read.reveals", {"a list"});
}

TEST(ModelJson, ReadsPreconditionsOfTests) {
  const auto model_with_precondition = [](const std::string& gates) {
    return model_with(R"("context": [{"name": "induction", "states": ["natural", "turbo"], "prior": 0.4}],
      "components": [{"name": "pump", "prior": 0.1}],
      "tests": [{"name": "read", "states": ["none", "fuel", "spark"], "prior": [0.8, 0.1, 0.1]},
                {"name": "frame", "examines": {"component": "pump", "detects": 0.9, "false_alarm": 0},
                 "not_when": {"read": "none"}, "only_when": )" +
                      gates + "}]");
  };
  const FaultModel model =
      read_model_json(model_with_precondition(R"({"read": ["fuel", "spark"], "induction": "turbo"})"));
  EXPECT_EQ(model.variable(3).test().only_when, (std::vector<Gate>{{2, {1, 2}}, {0, {1}}}));
  EXPECT_EQ(model.parents(3), (std::vector<VariableIndex>{1}));  // a precondition changes no probability
  EXPECT_EQ(model.variable(3).test().not_when, (std::vector<Gate>{{2, {0}}}));
  expect_round_trip(model);
  EXPECT_EQ(read_model_json(model_with_precondition("{}")).variable(3).test().only_when, std::vector<Gate>{});
  expect_single_problem(model_with_precondition(R"({"raed": "fuel"})"), "tests.frame.only_when.raed",
                        {"\"raed\"", "\"read\""});
  expect_single_problem(model_with_precondition(R"({"read": "feul"})"), "tests.frame.only_when.read",
                        {"feul", "\"fuel\""});
  expect_single_problem(model_with_precondition(R"(["read"])"), "tests.frame.only_when", {"an object"});
  expect_single_problem(model_with_precondition(R"({"pump": "faulty"})"), "tests.frame.only_when",
                        {"\"pump\"", "other tests"});
  expect_single_problem(model_with_precondition(R"({"frame": "bad"})"), "tests.frame.only_when", {"itself"});
  expect_single_problem(model_with(R"("components": [{"name": "pump", "prior": 0.1, "only_when": {}}])"),
                        "components.pump.only_when", {"no such member"});
}

TEST(ModelJson, AcceptsByteOrderMarkAndCarriageReturns) {
  const std::string text = write_model_json(read_model_json(symptom_with(R"("prior": {"mild": 0.1})")));
  std::string crlf = "\xEF\xBB\xBF";
  for (const char c : text) crlf += c == '\n' ? "\r\n" : std::string(1, c);
  EXPECT_EQ(read_model_json(crlf), read_model_json(text));
}

TEST(ModelJson, DoesNotDependOnTheLocale) {
  const FaultModel before = read_model_json(symptom_with(R"("prior": {"mild": 0.25})"));
  const std::string old = std::setlocale(LC_NUMERIC, nullptr);
  bool switched = false;
  for (const char* const name : {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8", "de_DE.utf8"}) {
    switched = switched || std::setlocale(LC_NUMERIC, name) != nullptr;
  }
  if (!switched) GTEST_SKIP() << "no locale with a decimal comma is installed";
  const FaultModel after = read_model_json(symptom_with(R"("prior": {"mild": 0.25})"));
  const std::string text = write_model_json(after);
  std::setlocale(LC_NUMERIC, old.c_str());
  EXPECT_EQ(before, after);
  EXPECT_EQ(text, write_model_json(before));
}

TEST(ModelJson, RoundedRowsAreScaledAndListed) {
  const FaultModel model = read_model_json(symptom_with(R"("prior": [0.3333, 0.3333, 0.3333])"));
  EXPECT_DOUBLE_EQ(std::get<FullTable>(model.variable(3).distribution).rows(0, 0), 1.0 / 3.0);
  ASSERT_EQ(model.scaled_rows().size(), 1U);
  EXPECT_EQ(model.scaled_rows()[0].variable, "smell");
  EXPECT_THROW(static_cast<void>(read_model_json(symptom_with(R"("prior": [0.5, 0.4, 0])"))), ModelError);
  const FaultModel forced = read_model_json(symptom_with(R"("prior": [0.5, 0.4, 0])"), {}, RowScaling{true});
  EXPECT_DOUBLE_EQ(std::get<FullTable>(forced.variable(3).distribution).rows(0, 0), 5.0 / 9.0);
}

}  // namespace

// Fault models as JSON: what is refused, where and in which words.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "faultodds/io/model_json.hpp"
#include "io/model_json_checks.hpp"

namespace {

using namespace faultodds;
using faultodds::testing::expect_problem;
using faultodds::testing::expect_single_problem;
using faultodds::testing::model_with;
using faultodds::testing::refusal;
using faultodds::testing::symptom_with;

TEST(ModelJson, RefusesOtherEncodingsByByteOffset) {
  const std::string text = model_with("\"title\": \"h\xE9i\xDF\"");
  const std::string place = refusal(text).problems().at(0).place;
  EXPECT_NE(place.find("byte offset " + std::to_string(text.find('\xE9'))), std::string::npos) << place;
}

TEST(ModelJson, SyntaxErrorsHaveLineAndColumn) {
  expect_single_problem("{\n  \"format\": \"faultodds-model\",\n  \"name\": \"\u00e9\",,\n}", "line 3, column 15",
                        {"syntax error"});
  expect_single_problem("{\n  \"name\": \"x\",\n}", "line 3, column 1", {"remove the comma"});
  expect_single_problem("{\"name\": \"x\"", "line 1, column 13", {"ends too early"});
  for (const char* const text : {"", " \n", "\xEF\xBB\xBF"}) {
    EXPECT_NE(std::string(refusal(text).what()).find("the file is empty"), std::string::npos) << refusal(text).what();
  }
  expect_problem("{\"name\": 01}", "line 1, column 11", {"syntax error"});
  expect_problem("{\"labour_rate\": 1e999}", "line 1, column 21", {"does not fit a double"});
  expect_problem("{} {}", "line 1, column 4", {"syntax error"});
}

TEST(ModelJson, TellsTheRemedyForWhatIsRightElsewhere) {
  const auto prior = [](const std::string& text) {
    return model_with("\"components\": [{\"name\": \"a\", \"prior\": " + text + "}]");
  };
  const auto expect_remedy = [](const std::string& text, const std::string& words) {
    EXPECT_NE(std::string(refusal(text).what()).find(words), std::string::npos) << text << '\n' << refusal(text).what();
  };
  for (const char* const number : {"NaN", "nan", "Infinity", "-Infinity", "inf"}) {
    expect_remedy(prior(number), "JSON knows no such number");
  }
  expect_remedy(prior("0.1 // a guess"), "JSON knows no comments");
  expect_remedy(prior("/* a guess */ 0.1"), "JSON knows no comments");
  expect_remedy(prior("0.1\n# a guess"), "JSON knows no comments");
  expect_remedy(prior("'0.1'"), "double quotes");
  expect_remedy(prior("0,05"), "with a point");
  expect_remedy(prior(".05"), "begin with a digit");
  expect_remedy(prior("+0.05"), "begin with a digit");
  expect_remedy(prior("True"), "write true in small letters");
  expect_remedy(prior("None"), "leave the member out");
}

TEST(ModelJson, OfAnotherKindOfFileNothingElseIsSaid) {
  expect_single_problem(R"({"hello": 1, "components": 3})", "", {"\"format\" is missing"});
  expect_single_problem(R"({"format": "faultodds-case", "format_version": 1, "steps": []})", "format",
                        {"\"faultodds-case\"", "faultodds-model"});
}

TEST(ModelJson, AListWithAMisspeltNameIsTheOnlyProblem) {
  std::string text = symptom_with(R"("noisy_max": {"causes": [{"of": "pump", "effect": {}}]})");
  text.replace(text.find("\"components\""), 12, "\"componets\"");
  expect_single_problem(text, "componets", {"\"components\"?"});
}

TEST(ModelJson, RefusesWhatIsNoObject) {
  for (const char* const text : {"[]", "3", "null", "\"model\"", "true"}) {
    EXPECT_NE(std::string(refusal(text).what()).find("must be an object"), std::string::npos) << text;
  }
}

TEST(ModelJson, DeepNestingIsNoDanger) {
  EXPECT_THROW(static_cast<void>(read_model_json(std::string(200000, '['))), ModelError);
  EXPECT_THROW(static_cast<void>(read_model_json(std::string(200000, '[') + std::string(200000, ']'))), ModelError);
}

struct Wrong {
  std::string text;
  std::string place;
  std::vector<std::string> words;
};

TEST(ModelJson, NamesThePlaceOfEveryKindOfProblem) {
  const auto table = [](const std::string& rows) {
    return symptom_with(R"("table": {"given": ["coil"], "rows": [)" + rows + "]}");
  };
  const std::string when_sound = R"({"when": {"coil": "sound"}, "p": {}})";
  const auto cause = [](const std::string& members) {
    return symptom_with(R"("noisy_max": {"causes": [{)" + members + "}]}");
  };
  const std::vector<Wrong> all = {
      {R"({"format_version": 1, "name": ""})", "", {"\"format\" is missing"}},
      {R"({"format": "else", "format_version": 1, "name": ""})", "format", {"\"else\"", "faultodds-model"}},
      {R"({"format": "faultodds-model", "format_version": 2, "name": ""})", "format_version", {"2", "version 1"}},
      {model_with(R"("titel": "x")"), "titel", {"no such member", "did you mean \"title\"?"}},
      {model_with(R"("title": 5)"), "title", {"a number", "text"}},
      {model_with(R"("name": "n")"), "name", {"twice"}},
      {model_with(R"("authors": ["a", 1])"), "authors[1]", {"a number", "text"}},
      {model_with(R"("invented_data": "yes")"), "invented_data", {"text", "true or false"}},
      {model_with(R"("labour_rate": -3)"), "labour_rate", {"-3", "at least 0"}},
      {model_with(R"("labour_rate": 1e-400)"), "labour_rate", {"does not fit"}},
      {model_with(R"("tools": [{"label": "x"}])"), "tools[0]", {"\"name\" is missing"}},
      {model_with(R"("tools": {"name": "x"})"), "tools", {"an object", "a list"}},
      {model_with(R"("tools": ["x"])"), "tools[0]", {"text", "an object"}},
      {model_with(R"("components": [{"name": "", "prior": 0.5}])"), "components[0].name", {"empty"}},
      {model_with(R"("components": [{"name": "a", "prior": 0.5, "code": "P0171"}])"),
       "components.a.code",
       {"no such member"}},
      {model_with(R"("components": [{"name": "a", "prior": 0.5, "reveals": []}])"),
       "components.a.reveals",
       {"no such member"}},
      {model_with(R"("tests": [{"name": "a", "prior": 0.5, "system": "fuel"}])"), "tests.a.system", {"no such member"}},
      {model_with(R"("components": [{"name": "a b", "prior": "x"}])"), "components[\"a b\"].prior", {"text"}},
      {model_with(R"("components": [{"name": "a", "states": [], "prior": 0.5}])"),
       "components.a.states",
       {"empty list"}},
      {model_with(R"("components": [{"name": "a", "states": ["x", 1], "prior": 0.5}])"),
       "components.a.states[1]",
       {"a number", "a name"}},
      {model_with(R"("hidden": [{"name": "a", "prior": 0.5}])"), "hidden.a", {"\"states\" is missing"}},
      {model_with(R"("components": [{"name": "a"}])"), "components.a", {"no probability table", "exactly one"}},
      {model_with(R"("components": [{"name": "a", "prior": 0.5, "any": []}])"),
       "components.a",
       {"two probability tables", "\"prior\"", "\"any\""}},
      {model_with(R"("components": [{"name": "a", "prior": 0.5, "prior": 0.4}])"), "components[0].prior", {"twice"}},
      {model_with(R"("components": [{"name": "a", "prior": 0.5}, {"name": "a", "prior": 0.5}])"),
       "components.a",
       {"\"a\"", "twice"}},
      {model_with(R"("components": [{"name": "a", "prior": 1.5}])"), "components.a.prior", {"1.5", "between 0 and 1"}},
      {model_with(R"("components": [{"name": "a", "prior": [0.5, 0.4]}])"), "components.a.prior", {"sums to 0.9"}},
      {model_with(R"("components": [{"name": "a", "prior": [1]}])"),
       "components.a.prior",
       {"1 number", "2 states", "sound, faulty"}},
      {model_with(R"("components": [{"name": "a", "prior": [0.5, true]}])"), "components.a.prior[1]", {"true"}},
      {model_with(R"("components": [{"name": "a", "prior": {"fauty": 0.5}}])"),
       "components.a.prior.fauty",
       {"\"faulty\"?"}},
      {model_with(R"("components": [{"name": "a", "unweighted": true}])"), "components.a", {"no potentials"}},
      {model_with(R"("components": [{"name": "a", "unweighted": false}])"),
       "components.a.unweighted",
       {"false", "true"}},
      {symptom_with(R"("prior": 0.5)"), "symptoms.smell.prior", {"one number", "3 states"}},
      {symptom_with(R"("prior": {"mild": 0.7, "severe": 0.7})"), "symptoms.smell.prior", {"1.4", "\"absent\""}},
      {symptom_with(R"("table": {"rows": []})"), "symptoms.smell.table", {"\"given\" is missing"}},
      {symptom_with(R"("table": {"given": ["cool"], "rows": []})"),
       "symptoms.smell.table.given[0]",
       {"\"cool\"", "\"coil\"?"}},
      {symptom_with(R"("table": {"given": ["coil", "coil"], "rows": []})"), "symptoms.smell.table.given[1]", {"twice"}},
      {symptom_with(R"("table": {"given": ["smell"], "rows": []})"), "symptoms.smell.table.given[0]", {"itself"}},
      {table(when_sound), "symptoms.smell.table.rows", {"no row for coil=faulty", "otherwise"}},
      {table(when_sound + "," + when_sound + R"(, {"when": {"coil": "faulty"}, "p": {}})"),
       "symptoms.smell.table.rows[1]",
       {"coil=sound", "rows[0]"}},
      {table(when_sound + R"(, {"when": {"coil": "broken"}, "p": {}})"),
       "symptoms.smell.table.rows[1].when.coil",
       {"\"broken\"", "sound, faulty"}},
      {table(when_sound + R"(, {"when": {"band": "low"}, "p": {}})"),
       "symptoms.smell.table.rows[1].when.band",
       {"not among the parents"}},
      {table(when_sound + R"(, {"when": {"coil": "faulty"}, "p": [0.5, 0.4, 0]})"),
       "symptoms.smell.table.rows[1].p",
       {"0.9"}},
      {table(when_sound + R"(, {"when": {"coil": []}, "p": {}})"),
       "symptoms.smell.table.rows[1].when.coil",
       {"empty list"}},
      {table(when_sound + R"(, {"when": {"coil": "faulty"}})"), "symptoms.smell.table.rows[1]", {"\"p\" is missing"}},
      {symptom_with(R"("table": {"given": ["coil"], "values": [1, 0, 0]})"),
       "symptoms.smell.table.values",
       {"3 numbers", "6 numbers", "2 configurations"}},
      {symptom_with(R"("table": {"given": ["coil"], "values": [1, 0, 0, 0.5, 0.4, 0]})"),
       "symptoms.smell.table.values",
       {"the row for coil=faulty", "0.9"}},
      {symptom_with(R"("table": {"given": ["coil"], "values": [1, 0, 0, 0.5, "x", 0]})"),
       "symptoms.smell.table.values[4]",
       {"text", "a number"}},
      {symptom_with(R"("table": {"given": ["coil"], "values": {"a": 1}})"),
       "symptoms.smell.table.values",
       {"an object", "6 numbers"}},
      {symptom_with(R"("table": {"given": ["coil"], "values": [1, 0, 0, 1, 0, 0], "otherwise": {}})"),
       "symptoms.smell.table",
       {"\"values\"", "\"otherwise\""}},
      {symptom_with(R"("noisy_or": {"causes": []})"), "symptoms.smell.noisy_or", {"3 states", "noisy_max"}},
      {symptom_with(R"("noisy_max": {"leek": {}, "causes": []})"), "symptoms.smell.noisy_max.leek", {"\"leak\"?"}},
      {cause(R"("of": "pomp", "effect": {})"), "symptoms.smell.noisy_max.causes[0].of", {"\"pump\"?"}},
      {cause(R"("of": "pump")"), "symptoms.smell.noisy_max.causes[0]", {"\"effect\" is missing"}},
      {cause(R"("of": "pump", "effect": {"sound": {"mild": 0.1}})"),
       "symptoms.smell.noisy_max.causes[0].effect.sound",
       {"first state"}},
      {cause(R"("of": "pump", "effect": {"mild": 0.1})"),
       "symptoms.smell.noisy_max.causes[0].effect.mild",
       {"state of the effect", "{\"dead\": {\"mild\""}},
      {cause(R"("of": "pump", "effect": {"dead": {"mild": 1.1}})"),
       "symptoms.smell.noisy_max.causes[0].effect.dead.mild",
       {"1.1"}},
      {cause(R"("of": "pump", "effect": {}, "only_when": {"band": "lo"})"),
       "symptoms.smell.noisy_max.causes[0].only_when.band",
       {"\"low\""}},
      {cause(R"("of": "pump", "effect": {}, "only_when": {"bend": "low"})"),
       "symptoms.smell.noisy_max.causes[0].only_when.bend",
       {"\"band\"?"}},
      {symptom_with(R"("prior": {}}, {"name": "n", "any": [])"), "symptoms.n.any", {"empty list"}},
      {symptom_with(R"("prior": {}}, {"name": "n", "any": [3])"), "symptoms.n.any[0]", {"a number"}},
      {symptom_with(R"("prior": {}}, {"name": "n", "at_least": {"count": 1.5, "of": ["pump"]})"),
       "symptoms.n.at_least.count",
       {"whole number"}},
      {symptom_with(R"("prior": {}}, {"name": "n", "at_least": {"count": 2, "of": ["pump"]})"),
       "symptoms.n",
       {"at least 2 of 1 input"}},
      {symptom_with(R"("prior": {}}, {"name": "n", "examines": {"component": "pump", "detects": 0.9})"),
       "symptoms.n.examines",
       {"\"false_alarm\" is missing"}},
      {symptom_with(
           R"("prior": {}}, {"name": "n", "examines": {"component": "pump", "detects": {"sound": 1}, "false_alarm": 0})"),
       "symptoms.n.examines.detects.sound",
       {"first state"}},
      {model_with(R"("tests": [{"name": "t", "prior": 0.5, "tools": ["meter"]}])"), "tests.t.tools", {"\"meter\""}},
      {model_with(R"("tests": [{"name": "t", "prior": 0.5, "minutes": -1}])"), "tests.t.minutes", {"-1"}},
      {model_with(R"("tests": [{"name": "t", "prior": 0.5, "minutes": "5"}])"),
       "tests.t.minutes",
       {"text", "a number"}},
      {model_with(R"("tests": [{"name": "t", "prior": 0.5, "reading": {"limits": [{"outcome": "god", "below": 1}]}}])"),
       "tests.t.reading.limits[0].outcome",
       {"\"good\""}},
      {model_with(
           R"("tests": [{"name": "t", "prior": 0.5, "reading": {"limits": [{"outcome": "good", "below": 2}, {"outcome": "bad", "from": 1}]}}])"),
       "tests.t",
       {"overlap"}},
      {model_with(R"("access": [{"name": "a", "needs": ["b"]}, {"name": "b", "needs": ["a"]}])"),
       "access.a",
       {"a -> b -> a"}},
      {model_with(R"("access": [{"name": "a", "needs": ["c"]}])"), "access.a.needs", {"\"c\""}},
      {model_with(R"("potentials": [{"scope": ["x"], "values": [1]}])"), "potentials[0].scope[0]", {"\"x\""}},
      {symptom_with(R"("prior": {}}], "potentials": [{"scope": ["coil"], "values": [1, 2, 3])"),
       "potentials[0]",
       {"3 numbers"}},
      {symptom_with(R"("prior": {}}], "repairs": [{"name": "r", "component": "pomp")"),
       "repairs.r.component",
       {"\"pump\"?"}},
      {symptom_with(R"("prior": {}}], "repairs": [{"name": "r", "component": "smell")"),
       "repairs.r",
       {"not a component"}},
      {symptom_with(R"("prior": {}}], "repairs": [{"name": "r", "component": "pump", "mends": ["sound"])"),
       "repairs.r",
       {"fault states"}},
      {symptom_with(R"("prior": {}}], "repairs": [{"name": "r", "component": "pump", "success": 2)"),
       "repairs.r",
       {"success is 2"}},
  };
  for (const Wrong& wrong : all) {
    SCOPED_TRACE(wrong.text);
    expect_single_problem(wrong.text, wrong.place, wrong.words);
  }
}

TEST(ModelJson, ListsAllProblemsOfAFile) {
  const std::string text = symptom_with(
      R"("prior": {"mild": 2}, "complant": true}, {"name": "other", "noisy_or": {"causes": [{"of": "pomp", "strength": 1}]}}],
      "tests": [{"name": "t", "examines": {"component": "pump", "detects": 1, "false_alarm": 0}, "tools": ["hammer"])");
  EXPECT_EQ(refusal(text).problems().size(), 4U) << refusal(text).what();
}

TEST(ModelJson, OneProblemDoesNotBringOnOthers) {
  const std::string text = model_with(
      R"("components": [{"name": "pump", "states": ["sound", 3], "prior": {"worn": 0.1}}],
      "hidden": [{"name": "h", "states": ["no", "yes"], "any": [{"of": "pump", "is": "worn"}]}],
      "tests": [{"name": "t", "examines": {"component": "pump", "detects": {"worn": 0.5}, "false_alarm": 0}}],
      "repairs": [{"name": "r", "component": "pump", "mends": "worn"}, {"name": "q", "component": "pump"}])");
  expect_single_problem(text, "components.pump.states[1]", {"a number", "a name"});
}

TEST(ModelJson, CyclesNameTheirPath) {
  expect_problem(
      model_with(
          R"("hidden": [{"name": "A", "states": ["n", "y"], "any": ["C"]}, {"name": "B", "states": ["n", "y"], "any": ["A"]},
      {"name": "C", "states": ["n", "y"], "any": ["B"]}])"),
      "hidden.A", {"A -> B -> C -> A"});
}

TEST(ModelJson, TablesThatWouldNotFitAreRefusedBeforeTheyAreMade) {
  for (const std::size_t parents : {40U, 70U}) {
    std::string components, given;
    for (std::size_t i = 0; i < parents; ++i) {
      const std::string name = "\"c" + std::to_string(i) + '"';
      components += std::string(i == 0 ? "" : ", ") + "{\"name\": " + name + ", \"prior\": 0.1}";
      given += std::string(i == 0 ? "" : ", ") + name;
    }
    try {
      static_cast<void>(read_model_json(model_with("\"components\": [" + components +
                                                   R"(], "symptoms": [{"name": "s", "table": {"given": [)" + given +
                                                   R"(], "rows": [], "otherwise": 0.5}}])")));
      FAIL();
    } catch (const TooLarge& error) {
      EXPECT_EQ(error.bytes(), std::ldexp(1.0, static_cast<int>(parents) + 4));
      EXPECT_NE(std::string(error.what()).find("\"s\""), std::string::npos);
    }
  }
}

}  // namespace

// Fault models as JSON: what is read, what is written, what is refused and in which words.
#include "faultodds/io/model_json.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <clocale>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

#include "faultodds/io/text_file.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;

/// A model around some members.
std::string model_with(const std::string& members) {
  return R"({"format": "faultodds-model", "format_version": 1, "name": "m", )" + members + "}";
}

/// `table` as the distribution of a symptom with the states absent, mild, severe; beside it a context of three states
/// and two components.
std::string symptom_with(const std::string& table) {
  return model_with(
      R"("context": [{"name": "band", "states": ["low", "middle", "high"], "prior": {"low": 0.2, "middle": 0.5, "high": 0.3}}],
    "components": [{"name": "pump", "states": ["sound", "worn", "dead"], "prior": {"worn": 0.02, "dead": 0.01}}, {"name": "coil", "prior": 0.1}],
    "symptoms": [{"name": "smell", "states": ["absent", "mild", "severe"], )" +
      table + "}]");
}

std::vector<double> row_of(const FullTable& table, std::size_t row) {
  return {table.rows.row(row).begin(), table.rows.row(row).end()};
}

ModelError refusal(const std::string& text, RowPolicy policy = {}) {
  try {
    static_cast<void>(read_model_json(text, "m.json", policy));
  } catch (const ModelError& error) {
    return error;
  }
  ADD_FAILURE() << "accepted: " << text;
  return ModelError({});
}

void expect_problem(const std::string& text, const std::string& place, const std::vector<std::string>& words) {
  const ModelError error = refusal(text);
  const auto fits = [&](const Problem& problem) {
    const std::string all = problem.found + "; " + problem.remedy;
    return problem.place == place &&
           std::ranges::all_of(words, [&](const std::string& word) { return all.find(word) != std::string::npos; });
  };
  EXPECT_TRUE(std::ranges::any_of(error.problems(), fits))
      << error.what() << "\nwanted at " << place << ": " << words.front();
  EXPECT_EQ(error.file(), "m.json");
}

/// The problem is the only one.
void expect_single_problem(const std::string& text, const std::string& place, const std::vector<std::string>& words) {
  expect_problem(text, place, words);
  EXPECT_EQ(refusal(text).problems().size(), 1U) << refusal(text).what();
}

bool same_bits(std::span<const double> a, std::span<const double> b) {
  return std::ranges::equal(
      a, b, [](double x, double y) { return std::bit_cast<std::uint64_t>(x) == std::bit_cast<std::uint64_t>(y); });
}

bool same_bits(const Distribution& a, const Distribution& b) {
  if (a.index() != b.index()) return false;
  if (const auto* table = std::get_if<FullTable>(&a)) {
    return same_bits(table->rows.values(), std::get<FullTable>(b).rows.values());
  }
  if (const auto* noisy = std::get_if<NoisyMax>(&a)) {
    const auto& other = std::get<NoisyMax>(b);
    return same_bits(noisy->leak, other.leak) &&
           std::ranges::equal(noisy->links, other.links, [](const Link& x, const Link& y) {
             return same_bits(x.effect.values(), y.effect.values());
           });
  }
  if (const auto* examination = std::get_if<Examination>(&a)) {
    return same_bits(examination->detection, std::get<Examination>(b).detection);
  }
  return true;
}

void expect_round_trip(const FaultModel& model) {
  const std::string text = write_model_json(model);
  const FaultModel again = read_model_json(text);
  EXPECT_EQ(again, model) << text;
  EXPECT_TRUE(again.scaled_rows().empty());
  for (std::size_t v = 0; v < model.size(); ++v) {
    EXPECT_TRUE(same_bits(again.variable(v).distribution, model.variable(v).distribution)) << model.variable(v).name;
  }
  EXPECT_EQ(write_model_json(again), text);
}

TEST(ModelJson, ReadsPriorsInAllForms) {
  const FaultModel model = read_model_json(symptom_with(R"("prior": [0.7, 0.2, 0.1])"));
  EXPECT_EQ(model.size(), 4U);
  EXPECT_EQ(model.variable(1).role, Role::component);
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
  EXPECT_EQ(table.parents, (std::vector<std::size_t>{0, 2}));
  ASSERT_EQ(table.rows.rows(), 6U);
  for (const std::size_t row : {0U, 1U, 2U, 3U})
    EXPECT_EQ(row_of(table, row), (std::vector<double>{0.7, 0.3, 0.0})) << row;
  EXPECT_EQ(row_of(table, 4), (std::vector<double>{0.8, 0.1, 0.1}));
  EXPECT_EQ(row_of(table, 5), (std::vector<double>{1.0 - 0.9, 0.0, 0.9}));
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
  EXPECT_EQ(test.work.minutes, 15.0);
  EXPECT_EQ(test.work.money, 0.5);
  ASSERT_TRUE(test.reading);
  EXPECT_EQ(test.reading->bands, (std::vector<Band>{{1, {}, 300.0}, {0, 300.0, {}}}));
  EXPECT_EQ(model.parts().repairs[0].mends, (std::vector<std::size_t>{1, 2})) << "left out: every fault state";
  EXPECT_EQ(model.parts().repairs[1].mends, (std::vector<std::size_t>{1}));
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
  EXPECT_EQ(model.variable(2).reveals, (std::vector<std::size_t>{1, 0}));
  expect_round_trip(model);
  expect_single_problem(model_revealing(R"(["code_a", "coda_b"])"), "tests.read.reveals[1]", {"coda_b", "\"code_b\""});
  expect_single_problem(model_revealing(R"(["read"])"), "tests.read", {"\"read\"", "no symptom"});
  expect_single_problem(model_revealing(R"(["code_a", "code_a"])"), "tests.read", {"\"code_a\"", "twice"});
  expect_single_problem(model_revealing("true"), "tests.read.reveals", {"a list"});
}

TEST(ModelJson, RoundTripsRandomModels) {
  support::Dice dice(21);
  support::RandomModelOptions options;
  for (std::size_t round = 0; round < support::rounds(400); ++round) {
    ModelParts parts = support::RandomModel(dice, options).take();
    std::vector<std::size_t> symptoms;
    for (std::size_t v = 0; v < parts.variables.size(); ++v) {
      if (parts.variables[v].role == Role::symptom) symptoms.push_back(v);
    }
    for (Variable& variable : parts.variables) {
      if (variable.role == Role::test && dice.chance(0.5)) variable.reveals = symptoms;
      if (dice.chance(0.3)) variable.label = "label \"of\" \\ " + variable.name + "\n\t\u00e9\u4e2d";
      if (dice.chance(0.3)) variable.source = "source";
      if (dice.chance(0.2)) variable.properties = {"a = b", ""};
      if (dice.chance(0.2)) variable.states[0].label = "first";
      if (dice.chance(0.2)) variable.name += " (1,5] .x";
      if (variable.role == Role::symptom && dice.chance(0.5)) variable.conditions = {"hot", "wet"};
      if (variable.role == Role::test && dice.chance(0.5)) variable.work.minutes = dice.uniform() * 1e-9;
      if (variable.role == Role::component && dice.chance(0.5)) variable.remainder = true;
      if (auto* noisy = std::get_if<NoisyMax>(&variable.distribution); noisy != nullptr && !noisy->links.empty()) {
        noisy->links[0].source = dice.chance(0.5) ? "link" : "";
      }
    }
    expect_round_trip(FaultModel(parts));
  }
}

TEST(ModelJson, RoundTripsWideTables) {
  support::Dice dice(22);
  support::RandomModelOptions options;
  options.most_states = 12;
  options.most_variables = 5;
  options.most_joint_states = 20000;
  for (std::size_t round = 0; round < support::rounds(60); ++round)
    expect_round_trip(support::random_model(dice, options));
}

TEST(ModelJson, RoundTripsMarkovNetworks) {
  support::Dice dice(23);
  for (std::size_t round = 0; round < support::rounds(100); ++round)
    expect_round_trip(support::random_markov_network(dice));
}

TEST(ModelJson, RoundTripsTheModelsOfTheProject) {
  std::size_t seen = 0;
  for (const auto& entry : std::filesystem::directory_iterator(FAULTODDS_SOURCE_DIR "/models")) {
    if (entry.path().extension() != ".json" || entry.path().filename() == "fault-model.schema.json") continue;
    SCOPED_TRACE(entry.path().filename().string());
    expect_round_trip(read_model_json(read_text_file(entry.path()), entry.path().filename().string()));
    ++seen;
  }
  EXPECT_GE(seen, 2U);
}

TEST(ModelJson, KeepsEveryDigit) {
  const std::vector<double> row = {1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0};
  ModelParts parts;
  Variable variable;
  variable.name = "x";
  variable.states = {{"a", ""}, {"b", ""}, {"c", ""}};
  variable.distribution = FullTable{{}, Table(3, row)};
  parts.variables = {variable};
  expect_round_trip(FaultModel(parts));
  EXPECT_NE(write_model_json(FaultModel(parts)).find("0.3333333333333333"), std::string::npos);
  parts.variables[0].distribution = FullTable{{}, Table(3, {0.99996 - 4.9e-324, 0.00004, 4.9e-324})};
  expect_round_trip(FaultModel(parts));
}

TEST(ModelJson, WritesLinesPeopleCanRead) {
  const std::string text =
      write_model_json(read_model_json(read_text_file(FAULTODDS_SOURCE_DIR "/models/tutorial.json")));
  std::size_t lines = 0;
  std::size_t long_lines = 0;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = text.find('\n', start);
    ++lines;
    // A long text cannot be broken: its line holds one member.
    if (end - start > 120 && text.substr(start, end - start).find("\", \"") != std::string::npos) ++long_lines;
    start = end + 1;
  }
  EXPECT_EQ(long_lines, 0U);
  EXPECT_GT(lines, 50U);
  EXPECT_NE(text.find("\n  \"format\": \"faultodds-model\","), std::string::npos);
  EXPECT_NE(text.find(R"({"of": "battery", "strength": {"low": 0.1, "dead": 0.99}})"), std::string::npos);
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
  expect_problem("", "line 1, column 1", {"ends too early"});
  expect_problem("{\"name\": 01}", "line 1, column 11", {"syntax error"});
  expect_problem("{\"labour_rate\": 1e999}", "line 1, column 21", {"does not fit a double"});
  expect_problem("{} {}", "line 1, column 4", {"syntax error"});
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
      {symptom_with(R"("prior": {}}], "repairs": [{"name": "r", "component": "smell")"), "repairs.r", {"no component"}},
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

TEST(ModelJson, RoundedRowsAreScaledAndListed) {
  const FaultModel model = read_model_json(symptom_with(R"("prior": [0.3333, 0.3333, 0.3333])"));
  EXPECT_DOUBLE_EQ(std::get<FullTable>(model.variable(3).distribution).rows(0, 0), 1.0 / 3.0);
  ASSERT_EQ(model.scaled_rows().size(), 1U);
  EXPECT_EQ(model.scaled_rows()[0].variable, "smell");
  EXPECT_THROW(static_cast<void>(read_model_json(symptom_with(R"("prior": [0.5, 0.4, 0])"))), ModelError);
  const FaultModel forced = read_model_json(symptom_with(R"("prior": [0.5, 0.4, 0])"), {}, RowPolicy{true});
  EXPECT_DOUBLE_EQ(std::get<FullTable>(forced.variable(3).distribution).rows(0, 0), 5.0 / 9.0);
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

TEST(ModelJson, WritingRefusesTextsThatAreNotUtf8) {
  ModelParts parts;
  parts.header.title = "h\xE9i\xDF";
  EXPECT_THROW(static_cast<void>(write_model_json(FaultModel(parts))), ModelError);
}

}  // namespace

// Fault models as JSON: what is written reads back to the same model, to the last bit.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

#include "faultodds/io/model_json.hpp"
#include "faultodds/io/text_file.hpp"
#include "io/model_json_checks.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using faultodds::testing::expect_round_trip;

TEST(ModelJson, RoundTripsRandomModels) {
  support::Dice dice(21);
  support::RandomModelOptions options;
  for (std::size_t round = 0; round < support::rounds(400); ++round) {
    ModelParts parts = support::RandomModel(dice, options).take();
    std::vector<VariableIndex> symptoms;
    for (std::size_t v = 0; v < parts.variables.size(); ++v) {
      if (parts.variables[v].role() == Role::symptom) symptoms.push_back(v);
    }
    for (Variable& variable : parts.variables) {
      if (variable.role() == Role::test && dice.chance(0.5)) {
        variable.test().reveals = symptoms;
      } else if (variable.role() == Role::test && !symptoms.empty()) {
        variable.test().only_when = {{symptoms.front(), {0}}};
        variable.test().not_when = {{symptoms.back(), {0}}};
      }
      if (dice.chance(0.3)) variable.label = "label \"of\" \\ " + variable.name + "\n\t\u00e9\u4e2d";
      if (dice.chance(0.3)) variable.source = "source";
      if (dice.chance(0.2)) variable.properties = {"a = b", ""};
      if (dice.chance(0.2)) variable.states[0].label = "first";
      if (dice.chance(0.2)) variable.name += " (1,5] .x";
      if (variable.role() == Role::symptom && dice.chance(0.5)) variable.symptom().conditions = {"hot", "wet"};
      if (variable.role() == Role::test && dice.chance(0.5)) variable.test().work.minutes = dice.uniform() * 1e-9;
      if (variable.role() == Role::component && dice.chance(0.5)) variable.component().remainder = true;
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
  options.max_states = 12;
  options.max_variables = 5;
  options.max_joint_states = 20000;
  for (std::size_t round = 0; round < support::rounds(60); ++round)
    expect_round_trip(support::random_model(dice, options));
}

TEST(ModelJson, RoundTripsTablesOfManyRows) {
  support::Dice dice(24);
  ModelParts parts;
  std::size_t rows = 1;
  std::vector<VariableIndex> parents;
  for (std::size_t i = 0; i < 11; ++i) {
    Variable parent;
    parent.name = "p" + std::to_string(i);
    parent.states = {{"no", ""}, {"yes", ""}};
    parent.distribution = FullTable{{}, Table(2, {0.75, 0.25})};
    parents.push_back(i);
    rows *= 2;
    parts.variables.push_back(std::move(parent));
  }
  Variable child;
  child.name = "child";
  child.states = {{"a", ""}, {"b", ""}, {"c", ""}};
  Table table(rows, 3);
  for (std::size_t r = 0; r < rows; ++r) {
    table(r, 1) = dice.uniform() / 2.0;
    table(r, 2) = dice.uniform() / 2.0;
    table(r, 0) = 1.0 - table(r, 1) - table(r, 2);
  }
  child.distribution = FullTable{parents, table};
  parts.variables.push_back(child);
  const FaultModel model(parts);
  expect_round_trip(model);
  // No name of a state in each row: three numbers of at most 24 characters, and what parts them.
  EXPECT_LT(write_model_json(model).size(), rows * 3 * 27 + 2000);
}

TEST(ModelJson, RoundTripsMarkovNetworks) {
  support::Dice dice(23);
  for (std::size_t round = 0; round < support::rounds(100); ++round)
    expect_round_trip(support::random_markov_network(dice));
}

TEST(ModelJson, RoundTripsTheModelsOfTheProject) {
  std::size_t seen = 0;
  for (const auto& entry : std::filesystem::directory_iterator(FAULTODDS_SOURCE_DIR "/models")) {
    if (entry.path().extension() != ".json" || entry.path().string().ends_with(".schema.json")) continue;
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

TEST(ModelJson, WritingRefusesTextsThatAreNotUtf8) {
  ModelParts parts;
  parts.header.title = "h\xE9i\xDF";
  EXPECT_THROW(static_cast<void>(write_model_json(FaultModel(parts))), ModelError);
}

}  // namespace

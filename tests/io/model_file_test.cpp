// Model files by their extension, the same model through every format, and the published networks.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/model_file.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <fstream>

#include "faultodds/io/bif.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/uai.hpp"
#include "io/networks.hpp"

namespace faultodds {
namespace {

using testing::Folder;

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

TEST(ModelFile, TheExtensionSaysTheFormat) {
  EXPECT_EQ(format_of("a.json"), ModelFormat::json);
  EXPECT_EQ(format_of("a.b/c.bif"), ModelFormat::bif);
  EXPECT_EQ(format_of("A.XML"), ModelFormat::xmlbif);
  EXPECT_EQ(format_of("a.xmlbif.gz"), ModelFormat::xmlbif);
  EXPECT_EQ(format_of("a.json.uai.GZ"), ModelFormat::uai);
  EXPECT_EQ(format_of("a.dot"), ModelFormat::dot);
  for (const char* unknown : {"a", "a.gz", "a.txt", "bif", "a.json.zip", "a.bif.gz.gz"}) {
    EXPECT_THROW(static_cast<void>(format_of(unknown)), ArgumentError) << unknown;
  }
}

TEST(ModelFile, OneModelIsTheSameInEveryFormat) {
  const Folder folder;
  std::mt19937_64 random(12);
  for (int i = 0; i < 40; ++i) {
    const FaultModel model = testing::random_network(random);
    const std::string ending = i % 2 == 0 ? "" : ".gz";
    for (const std::string name : {"m.json", "m.bif", "m.xml"}) {
      EXPECT_TRUE(write_model(model, folder.path() / (name + ending)).empty()) << name;
      ASSERT_EQ(read_model(folder.path() / (name + ending)), model) << name;
    }
    write_model(model, folder.path() / ("m.uai" + ending));
    const FaultModel numbers = read_model(folder.path() / ("m.uai" + ending));
    for (std::size_t v = 0; v < model.size(); ++v)
      ASSERT_EQ(numbers.variable(v).distribution, model.variable(v).distribution);
  }
}

TEST(ModelFile, ThirdsAndSmallNumbersKeepAllTheirDigits) {
  const Folder folder;
  const FaultModel model = read_bif(
      "variable a { type discrete [ 3 ] { x, y, z }; } probability ( a ) { table 1, 1, 1; }\n"
      "variable b { type discrete [ 2 ] { x, y }; } probability ( b ) { table 0.00004, 0.99996; }",
      "", RowScaling{true});
  for (const char* name : {"m.json", "m.bif", "m.xml", "m.uai"}) {
    write_model(model, folder.path() / name);
    const FaultModel read = read_model(folder.path() / name);
    EXPECT_EQ(std::get<FullTable>(read.variable(0).distribution).rows(0, 0), 1.0 / 3.0) << name;
    EXPECT_EQ(std::get<FullTable>(read.variable(1).distribution).rows(0, 0), 0.00004) << name;
  }
}

TEST(ModelFile, TellsWhatAFormatCannotHold) {
  const Folder folder;
  ModelParts parts;
  Variable cell;
  cell.name = "cell";
  cell.what = Component{};
  cell.states = {{"sound", "good as new"}, {"dead", ""}};
  cell.distribution = FullTable{{}, Table(2, {0.9, 0.1})};
  Variable meter;
  meter.name = "meter";
  meter.what = faultodds::Test{};
  meter.states = {{"good", ""}, {"bad", ""}};
  meter.distribution = Examination{.component = 0, .detection = {0.95}, .false_alarm = 0.02};
  meter.test().work.minutes = 2;
  parts.variables = {cell, meter};
  parts.header.safety = "Take the cells out first.";
  parts.repairs = {Repair{.name = "swap",
                          .label = "",
                          .procedure = "",
                          .component = 0,
                          .mends = {1},
                          .success = 1.0,
                          .work = {},
                          .source = ""}};
  const FaultModel model(parts);
  EXPECT_TRUE(write_model(model, folder.path() / "m.json").empty());
  const std::vector<std::string> notes = write_model(model, folder.path() / "m.bif");
  const std::vector<std::string> expected = {
      "2 variables: roles, labels, costs, procedures and sources are left out.",
      "1 variable: the labels of states are left out.",
      "1 variable: noisy-OR, noisy-MAX, counts and examinations are written out as full tables.",
      "Facts about the model as a whole (title, authors, safety, currency and so on) are left out.",
      "1 repair: left out."};
  EXPECT_EQ(notes, expected);
  const std::vector<std::string> of_uai = write_model(model, folder.path() / "m.uai.gz");
  EXPECT_TRUE(contains(of_uai.front(), "m.uai.names.json"));
  EXPECT_TRUE(
      contains(read_text_file(folder.path() / "m.uai.names.json"), R"({"name":"cell","states":["sound","dead"]})"));
  EXPECT_TRUE(contains(write_model(model, folder.path() / "m.dot").front(), "cannot be read back"));
  EXPECT_THROW(static_cast<void>(read_model(folder.path() / "m.dot")), ArgumentError);
}

TEST(ModelFile, NamesTheFileInEveryProblem) {
  const Folder folder;
  for (const char* name : {"m.json", "m.bif", "m.xml", "m.uai"}) {
    write_text_file(folder.path() / name, "rubbish (\n");
    const std::string message = testing::message_of([&] { return read_model(folder.path() / name); });
    EXPECT_TRUE(message.starts_with((folder.path() / name).string() + ": line ")) << message;
  }
}

class PublishedNetworks : public ::testing::Test {
 protected:
  void SetUp() override {
    if (testing::published_networks().empty())
      GTEST_SKIP() << "FAULTODDS_NETWORKS names no folder with published networks";
  }
};

/// Reads a published file and takes it through the formats for plain networks.
void check_published(const std::filesystem::path& path) {
  SCOPED_TRACE(path.filename().string());
  const auto start = std::chrono::steady_clock::now();
  const FaultModel model = read_model(path);
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
  ::testing::Test::RecordProperty(path.filename().string() + " ms", std::to_string(took.count()));
  const FaultModel numbers = read_uai(write_uai(model));
  ASSERT_EQ(numbers.size(), model.size());
  EXPECT_EQ(numbers.parts().potentials, model.parts().potentials);
  for (std::size_t v = 0; v < model.size(); ++v)
    ASSERT_EQ(numbers.variable(v).distribution, model.variable(v).distribution);
  if (!model.parts().potentials.empty()) return;
  const Folder folder;
  for (const char* name : {"m.bif", "m.xml.gz"}) {
    write_model(model, folder.path() / name);
    EXPECT_EQ(read_model(folder.path() / name), model) << name;
  }
}

TEST_F(PublishedNetworks, BifFilesLoadAndSurviveEveryFormat) {
  const auto files = testing::published_files(".bif.gz");
  if (files.empty()) GTEST_SKIP() << "no .bif.gz files below " << testing::published_networks();
  for (const auto& path : files) check_published(path);
}

TEST_F(PublishedNetworks, UaiFilesLoadAndSurviveEveryFormat) {
  const auto files = testing::published_files(".uai.gz");
  if (files.empty()) GTEST_SKIP() << "no .uai.gz files below " << testing::published_networks();
  for (const auto& path : files) check_published(path);
}

TEST_F(PublishedNetworks, EvidenceFilesFitTheirNetworks) {
  const auto files = testing::published_files(".uai.evid");
  if (files.empty()) GTEST_SKIP() << "no .uai.evid files below " << testing::published_networks();
  for (auto path : files) {
    const std::string evidence = read_text_file(path);
    path.replace_extension(".gz");
    EXPECT_FALSE(read_uai_evidence(evidence, read_model(path)).empty()) << path;
  }
}

}  // namespace
}  // namespace faultodds

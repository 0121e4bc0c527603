// Published networks against stored posteriors of an independent program, to 1e-9.
//   FAULTODDS_NETWORKS    folder with NAME.bif.gz, NAME.uai.gz (or a folder uai beside it)
//   FAULTODDS_REFERENCES  folder with NAME.json.gz: "cases" of "evidence", "log_evidence" or "log_z", "posteriors"
//   FAULTODDS_LARGE=1     those that take minutes or gigabytes as well
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/text_file.hpp"

namespace {

using namespace faultodds;
namespace fs = std::filesystem;

struct Reference {
  std::string name;
  fs::path network;
  fs::path answers;
};

std::optional<fs::path> folder_of(const char* variable) {
  const char* const value = std::getenv(variable);
  if (value == nullptr || *value == '\0') return std::nullopt;
  return fs::path(value);
}

std::optional<fs::path> network_file(const fs::path& folder, const std::string& name) {
  for (const fs::path& place : {folder, folder / "uai", folder.parent_path() / "uai"}) {
    for (const char* ending : {".bif.gz", ".uai.gz", ".bif", ".uai"}) {
      if (fs::exists(place / (name + ending))) return place / (name + ending);
    }
  }
  return std::nullopt;
}

bool is_large(const std::string& name) {
  static const std::set<std::string> large = {"link", "barley", "diabetes", "mildew", "pigs"};
  return large.contains(name) || name.starts_with("munin") || name.starts_with("diagnosis");
}

std::vector<Reference> references(const fs::path& networks, const fs::path& answers) {
  std::vector<Reference> found;
  for (const fs::directory_entry& entry : fs::directory_iterator(answers)) {
    std::string name = entry.path().filename().string();
    if (!name.ends_with(".json.gz")) continue;
    name.resize(name.size() - std::string(".json.gz").size());
    if (const auto network = network_file(networks, name)) {
      found.push_back({name, *network, entry.path()});
    } else {
      std::cout << "NOT CHECKED: " << name << ", which has answers but no network in " << networks << '\n';
    }
  }
  std::sort(found.begin(), found.end(), [](const Reference& a, const Reference& b) { return a.name < b.name; });
  return found;
}

Finding finding_of(const FaultModel& model, const std::string& variable, const nlohmann::json& state) {
  Finding finding;
  finding.variable = model.index_of(variable);
  finding.state = state.is_string() ? model.state_of(finding.variable, state.get<std::string>())
                                    : StateIndex{state.get<std::size_t>()};
  finding.weights.assign(model.state_count(finding.variable), 0.0);
  finding.weights.at(*finding.state) = 1.0;
  return finding;
}

/// The largest difference over log P(findings) and all posteriors.
double difference(const Solver& solver, const nlohmann::json& reference, const nlohmann::json& answer) {
  const FaultModel& model = solver.model();
  std::vector<Finding> findings;
  for (const auto& [variable, state] : answer.at("evidence").items())
    findings.push_back(finding_of(model, variable, state));
  Case current{solver};
  current.add(findings);
  const double right =
      answer.contains("log_evidence") ? answer.at("log_evidence").get<double>() : answer.at("log_z").get<double>();
  double worst = std::abs(current.log_evidence() - right);
  const std::vector<std::vector<double>> posteriors = current.posteriors();
  for (const auto& [name, values] : answer.at("posteriors").items()) {
    const std::size_t variable = model.index_of(name);
    for (std::size_t s = 0; s < values.size(); ++s) {
      const std::size_t state = reference.contains("states")
                                    ? model.state_of(variable, reference.at("states").at(name).at(s).get<std::string>())
                                    : StateIndex{s};
      worst = std::max(worst, std::abs(posteriors[variable].at(state) - values[s].get<double>()));
    }
  }
  return worst;
}

void check(const Reference& reference) {
  SCOPED_TRACE(reference.name);
  const nlohmann::json answers = nlohmann::json::parse(read_text_file(reference.answers));
  const Solver solver(read_model(reference.network));
  std::size_t number = 0;
  for (const nlohmann::json& answer : answers.at("cases")) {
    EXPECT_LT(difference(solver, answers, answer), 1e-9) << "case " << number;
    ++number;
  }
  EXPECT_GT(number, 0U);
}

void check_all(bool large) {
  const auto networks = folder_of("FAULTODDS_NETWORKS");
  const auto answers = folder_of("FAULTODDS_REFERENCES");
  if (!networks || !answers) {
    GTEST_SKIP() << "NOT CHECKED: posteriors of published networks; set FAULTODDS_NETWORKS and FAULTODDS_REFERENCES";
  }
  if (large && std::getenv("FAULTODDS_LARGE") == nullptr) {
    GTEST_SKIP() << "NOT CHECKED: posteriors of the large published networks; set FAULTODDS_LARGE=1";
  }
  std::size_t checked = 0;
  for (const Reference& reference : references(*networks, *answers)) {
    if (is_large(reference.name) != large) continue;
    check(reference);
    ++checked;
  }
  std::cout << checked << " networks checked\n";
  EXPECT_GT(checked, 0U) << "no network in " << *networks << " has answers in " << *answers;
}

TEST(References, PosteriorsOfPublishedNetworks) { check_all(false); }
TEST(References, PosteriorsOfLargePublishedNetworks) { check_all(true); }

}  // namespace

// The options that say how tests are ranked; shared by the commands that propose tests.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/rank_tests.hpp"

namespace faultodds::program {

/// The options as texts.
struct RankTexts {
  std::vector<std::string> targets;
  std::vector<std::string> tests;
  std::vector<std::string> tools;
  bool no_tools = false;
  std::vector<std::string> open;
  std::vector<std::string> conditions;
  std::optional<double> labour_rate;
  std::string skill;
  std::string by = "gain-per-cost";
  std::string gain;  ///< empty: joint where it is in reach

  /// What the ranking goes by, in words.
  [[nodiscard]] std::string by_in_words() const;
};

/// Adds --target, --test, --by, --gain, --have-tool, --no-tools, --skill, --open, --condition and --labour-rate.
void add_rank_options(CLI::App& command, RankTexts& texts);

/// The options for the model. Throws UnknownName with the nearest names of targets, tests, tools, skills,
/// access and conditions.
[[nodiscard]] RankOptions rank_options(const FaultModel& model, const RankTexts& texts);

}  // namespace faultodds::program

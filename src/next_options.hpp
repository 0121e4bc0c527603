// The options that say how tests are ranked; shared by the commands that propose tests.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"

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
  bool no_opening = false;
  std::vector<std::string> closed;
  std::optional<double> max_cost;
  std::optional<double> max_minutes;
  std::string skill;
  std::string by;    ///< empty: gain-per-cost, or what the command says
  std::string gain;  ///< empty: joint where it is in reach

  /// What the ranking goes by, in words.
  [[nodiscard]] std::string by_in_words() const;
  /// By the expected cost to the end of the case, which the ranking itself does not know.
  [[nodiscard]] bool by_expected_cost() const { return by == "expected-cost"; }
};

/// Adds --target, --test, --by, --gain, --have-tool, --no-tools, --skill, --open, --condition, --labour-rate,
/// --no-opening, --closed, --max-cost and --max-minutes. `by_default` is what --by is if it is not given, in
/// words.
void add_rank_options(CLI::App& command, RankTexts& texts, const std::string& by_default = "gain-per-cost");

/// The options for the model. Throws UnknownName with the nearest names of targets and tests.
[[nodiscard]] RankOptions rank_options(const FaultModel& model, const RankTexts& texts);
/// The means for the model. Throws UnknownName with the nearest names of tools, skills, access and conditions.
[[nodiscard]] Means means_of(const FaultModel& model, const RankTexts& texts);

}  // namespace faultodds::program

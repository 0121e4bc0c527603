// The options of the plan command.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "amounts.hpp"
#include "faultodds/decision/planning/case_problem.hpp"
#include "findings.hpp"
#include "next_options.hpp"

namespace faultodds::program {

enum class PlanFormat : std::uint8_t { text, json, markdown, dot, svg, html };

/// How the policy tree is found.
enum class PlanSearch : std::uint8_t { greedy, look_ahead, optimal };

struct PlanOptions {
  std::string file;
  FindingTexts findings;
  RankTexts ranking;
  FaultAssumption assume = FaultAssumption::one_fault;
  PlanSearch search = PlanSearch::greedy;
  std::optional<std::size_t> depth;  ///< of the look-ahead
  std::optional<std::size_t> steps;  ///< of the search for the best
  std::optional<double> time_limit;  ///< of the same, in seconds
  bool progress = false;             ///< show its bounds even if standard error is not a terminal
  std::size_t max_hypotheses = 64;
  std::size_t max_tests = 24;
  EndCosts ends;
  std::vector<std::string> order;  ///< tests of a fixed order to compare with
  double repair_at = 0.5;
  double fold = 0.02;
  std::optional<PlanFormat> format;
  std::string out;
  bool force = false;

  /// As asked for, otherwise by the extension of the file to write, otherwise text.
  [[nodiscard]] PlanFormat written_format() const;
};

void add_plan_options(CLI::App& command, PlanOptions& options);

/// Throws CLI::ValidationError if options do not go together.
void check_plan_options(const PlanOptions& options);

/// What may be done, for the model. Throws as rank_options.
[[nodiscard]] CaseProblemOptions problem_options(const FaultModel& model, const PlanOptions& options);

}  // namespace faultodds::program

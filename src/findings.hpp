// What was found, as users write it: NAME=STATE, NAME=w1,w2,..., files of findings.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds::program {

/// The texts of the options that say what was found.
struct FindingTexts {
  std::vector<std::string> hard;
  std::vector<std::string> one_of;
  std::vector<std::string> likelihoods;
  std::vector<std::string> readings;
  std::string file;
};

/// Adds --finding, --reading, --one-of, --likelihood and --evidence.
void add_finding_options(CLI::App& command, FindingTexts& texts);

/// An option that may be given several times, with one value each time.
CLI::Option* add_repeated(CLI::App& command, const std::string& name, std::vector<std::string>& values,
                          const std::string& description, const std::string& value_name);

/// All findings of the options, those of the file first. Throws UnknownName, ArgumentError (counted twice, too) and
/// ModelError (the file);
/// CLI::ValidationError if a text does not have the form of a finding.
[[nodiscard]] std::vector<Finding> read_findings(const FaultModel& model, const std::string& model_file,
                                                 const FindingTexts& texts);

/// The finding that `variable` is in `state`.

/// "NAME=STATE". Names and states may hold '=': every split against the known names is tried. Throws UnknownName;
/// ArgumentError if several splits fit; CLI::ValidationError if there is no '='.
[[nodiscard]] Finding parse_finding(const FaultModel& model, std::string_view text);
/// "NAME=STATE,STATE": one of these. States may hold commas. Throws like parse_finding.
[[nodiscard]] Finding parse_one_of(const FaultModel& model, std::string_view text);
/// "NAME=w1,w2,...": P(what was seen | state) up to a factor, one weight for each state. Throws like parse_finding.
[[nodiscard]] Finding parse_likelihood(const FaultModel& model, std::string_view text);

/// Indices of the variables of these names. Throws UnknownName, and ArgumentError if one comes twice.
[[nodiscard]] std::vector<VariableIndex> variables_named(const FaultModel& model, std::span<const std::string> names,
                                                         const std::string& option);

/// "name=state", as errors have it, with labels: "Fuel pump: worn". What is no finding of the model stays as it is.
[[nodiscard]] std::string labelled_finding(const FaultModel& model, const std::string& text);

/// The finding for people, without the variable: "low", "low or middle", "weighed: low 0.2, good 0.8".
[[nodiscard]] std::string finding_text(const FaultModel& model, const Finding& finding);

}  // namespace faultodds::program

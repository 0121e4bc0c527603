// Options that are amounts, and those that say what the end of a case costs.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>
#include <optional>

#include "faultodds/decision/planning/case_problem.hpp"

namespace faultodds::program {

/// A finite number that is not negative.
[[nodiscard]] CLI::Validator amount();

/// In place of what the model says.
struct EndAmounts {
  std::optional<double> hand_over;
  std::optional<double> live_with;
  std::optional<double> comeback;

  void write_to(CaseProblemOptions& options) const;
};

/// Adds --hand-over, --live-with and --comeback.
void add_end_options(CLI::App& command, EndAmounts& amounts);

}  // namespace faultodds::program

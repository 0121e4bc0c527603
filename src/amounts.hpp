// Options that are amounts, and those that say what the end of a case costs.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>

#include "faultodds/decision/work/end_costs.hpp"

namespace faultodds::program {

/// A finite number that is not negative.
[[nodiscard]] CLI::Validator amount();

/// Adds --hand-over, --live-with and --comeback.
void add_end_options(CLI::App& command, EndCosts& costs);

}  // namespace faultodds::program

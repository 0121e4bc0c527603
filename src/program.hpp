// The program's entry and its commands. Each command registers itself and runs as soon as it is parsed.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>

namespace faultodds::program {

/// Exit status: fine; the model, the findings or a file are at fault; wrong use of the program; ended by Ctrl-C.
inline constexpr int fine = 0;
inline constexpr int at_fault = 1;
inline constexpr int wrong_use = 2;
inline constexpr int interrupted = 130;  // as shells have it

/// Parses the command line and runs the command. Returns the exit status; throws nothing.
[[nodiscard]] int run(int argc, char** argv);

/// Adds a command to `app`. `status` receives its exit status and must outlive the parsing.
void add_posterior(CLI::App& app, int& status);
void add_next(CLI::App& app, int& status);
void add_case(CLI::App& app, int& status);
void add_plan(CLI::App& app, int& status);
void add_lint(CLI::App& app, int& status);
void add_convert(CLI::App& app, int& status);

}  // namespace faultodds::program

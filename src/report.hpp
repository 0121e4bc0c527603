// Errors as the program tells them: text on standard error, and as JSON on standard output if that was asked for.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <exception>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>

namespace faultodds::program {

using Json = nlohmann::ordered_json;

enum class Format : std::uint8_t { text, json };

/// Adds `--format text|json`.
void add_format(CLI::App& command, Format& format);

/// The error with its kind, message and facts: {"kind": "impossible_findings", "message": "...", "clash": [...]}.
[[nodiscard]] Json error_json(const std::exception& error);

/// Prints JSON, indented, doubles with all their digits, text that is not UTF-8 with replacement characters.
void print(const Json& json);

/// Tells the error and returns the exit status that belongs to it.
int report(const std::exception& error, Format format);

/// Runs `work` and returns its exit status, or reports what it throws. Wrong use of the program passes through.
int guarded(Format format, const std::function<int()>& work);

}  // namespace faultodds::program

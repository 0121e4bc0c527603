// What the screen shows of a case: what was found, what leads, which tests there are. Advice is in advised_step.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "text.hpp"

namespace faultodds::program {

/// "Fuel pump: worn".
[[nodiscard]] std::string fault_text(const FaultModel& model, VariableIndex component, StateIndex state);

/// Title and version, that data are invented, and the safety note.
void show_header(const Screen& screen, const FaultModel& model);

/// What was found so far.
void show_findings(const Screen& screen, const FaultModel& model, std::span<const Finding> findings);
void show_findings(const Screen& screen, const Case& current);

/// The leading faults with bars.
void show_leading(const Screen& screen, const FaultModel& model, const Ranking& ranking);

/// A short table of the first `most` tests of the ranking, numbered by their rank; `except` is left out.
void show_tests(const Screen& screen, const FaultModel& model, const Ranking& ranking, std::size_t most,
                std::optional<std::size_t> except = {});

/// The measured quantity of a test, and what each outcome reads. The test has a reading.
void show_reading(const Screen& screen, const Variable& test);

/// Who decides on repairs in the end.
void show_who_decides(const Screen& screen);

/// "25 min", "4 h", "3 days".
[[nodiscard]] std::string span_of_time(double minutes);

/// The share of what is open about the faults in question that the test is expected to settle, from 0 to 1.
[[nodiscard]] double share_settled(const Ranking& ranking, const TestForecast& forecast);

}  // namespace faultodds::program

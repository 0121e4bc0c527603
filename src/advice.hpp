// Advice in words: what leads, what to test next and why, what mends it. Cautions always come before the step.
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
[[nodiscard]] std::string fault_text(const FaultModel& model, std::size_t component, std::size_t state);

/// Title and version, that data are invented, and the safety note.
void show_header(const Screen& screen, const FaultModel& model);

/// What was found so far.
void show_findings(const Screen& screen, const FaultModel& model, std::span<const Finding> findings);
void show_findings(const Screen& screen, const Case& current);

/// The leading faults with bars.
void show_leading(const Screen& screen, const FaultModel& model, const Ranking& ranking);

/// A test as a mechanic needs it: its name, the cautions, what to open, how it is done, limits, tools, cost.
void show_test(const Screen& screen, const FaultModel& model, const TestForecast& forecast);

/// What the test is expected to tell, and what each outcome would do to the leading faults.
void show_why(const Screen& screen, const FaultModel& model, const Ranking& ranking, const TestForecast& forecast);

/// A short table of tests, from position `first` of the ranking on, numbered from `first` + 1.
void show_tests(const Screen& screen, const FaultModel& model, const Ranking& ranking, std::size_t first,
                std::size_t most);

/// Tests left out of the ranking for tools or skill, with what is forgone.
void show_left_out(const Screen& screen, const FaultModel& model, const Ranking& ranking);

/// A repair as a mechanic needs it, its cautions first; what is in place already is not counted again.
void show_repair(const Screen& screen, const Case& current, std::size_t repair, const Means& means);

/// Repairs of the model that mend this fault.
void show_repairs(const Screen& screen, const Case& current, const FaultProbability& fault, const Means& means);

/// Who decides on repairs in the end.
void show_who_decides(const Screen& screen);

/// "25 min", "4 h", "3 days".
[[nodiscard]] std::string span_of_time(double minutes);

/// The check after a repair, its cautions first.
void show_check(const Screen& screen, const FaultModel& model, const RepairCheck& check);

/// The share of what is open about the faults in question that the test is expected to settle, from 0 to 1.
[[nodiscard]] double share_settled(const Ranking& ranking, const TestForecast& forecast);

/// Names of the cautions of a test and of all that has to be opened and brought about for it, each once.
[[nodiscard]] std::vector<std::string> cautions_of(const FaultModel& model, const TestForecast& forecast);

/// The term of this name, or nothing.
[[nodiscard]] const Term* find_term(const std::vector<Term>& terms, const std::string& name);

}  // namespace faultodds::program

// Numbers on a gauge, as users write them: NAME=43 psi.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/inference/reading.hpp"
#include "text.hpp"

namespace faultodds::program {

/// All readings of one test.
struct TestReadings {
  VariableIndex test;
  std::vector<Measured> readings;
};

/// "NAME=43 psi" or "NAME=43 psi; 44 psi". Throws CLI::ValidationError if there is no '='; UnknownName and
/// ArgumentError if the name or the reading is wrong.
[[nodiscard]] TestReadings parse_test_readings(const FaultModel& model, std::string_view text);
/// The same for several texts; those of one test are taken together.
[[nodiscard]] std::vector<TestReadings> parse_test_readings(const FaultModel& model,
                                                            std::span<const std::string> texts);

/// The finding that they make. Throws what finding_from_readings throws.
[[nodiscard]] Finding reading_finding(const FaultModel& model, const TestReadings& readings);

/// As they were written: "43 psi; 44 psi".
[[nodiscard]] std::string readings_text(std::span<const Measured> readings);

/// What they say: "43 psi = 296.5 kPa: low", or the weights of the outcomes and why there is more than one.
[[nodiscard]] std::string reading_in_words(const FaultModel& model, const TestReadings& readings);

/// A heading and a line for each test; nothing if there are none.
void show_readings(const Screen& screen, const FaultModel& model, std::span<const std::string> texts);

}  // namespace faultodds::program

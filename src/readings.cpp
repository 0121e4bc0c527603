// SPDX-License-Identifier: BSD-3-Clause
#include "readings.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>

#include "faultodds/model/row_sum.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

/// With four digits that count.
std::string four_digits(double value) {
  const double size = value == 0.0 ? 0.0 : std::floor(std::log10(std::abs(value)));
  return number(value, static_cast<int>(std::clamp(3.0 - size, 0.0, 9.0)));
}

std::string with_unit(const std::string& value, const std::string& unit) {
  return unit.empty() ? value : value + ' ' + unit;
}

}  // namespace

TestReadings parse_test_readings(const FaultModel& model, std::string_view text) {
  const std::size_t at = text.rfind('=');
  if (at == std::string_view::npos || at == 0) {
    throw CLI::ValidationError("--reading", '"' + std::string(text) + "\" is not of the form NAME=43 psi");
  }
  return {model.index_of(text.substr(0, at)), parse_readings(text.substr(at + 1))};
}

std::vector<TestReadings> parse_test_readings(const FaultModel& model, std::span<const std::string> texts) {
  std::vector<TestReadings> tests;
  for (const std::string& text : texts) {
    TestReadings parsed = parse_test_readings(model, text);
    const auto known = std::ranges::find(tests, parsed.test, &TestReadings::test);
    if (known == tests.end()) {
      tests.push_back(std::move(parsed));
    } else {
      known->readings.insert(known->readings.end(), parsed.readings.begin(), parsed.readings.end());
    }
  }
  return tests;
}

Finding reading_finding(const FaultModel& model, const TestReadings& readings) {
  return finding_from_readings(model, readings.test, readings.readings);
}

std::string readings_text(std::span<const Measured> readings) {
  std::vector<std::string> texts;
  for (const Measured& one : readings) texts.push_back(with_unit(rounded_form(one.value), one.unit));
  return joined(texts, "; ");
}

std::string reading_in_words(const FaultModel& model, const TestReadings& readings) {
  const Finding finding = reading_finding(model, readings);
  const CombinedReading combined = combine_readings(model, readings.test, readings.readings);
  const Reading& reading = *as_test(model.variable(readings.test)).reading;
  std::string text = readings_text(readings.readings);
  const bool other_unit = readings.readings.front().unit != reading.unit && !readings.readings.front().unit.empty();
  if (readings.readings.size() > 1) {
    text += ", together " + with_unit(four_digits(combined.value), reading.unit);
  } else if (other_unit) {
    text += " = " + with_unit(four_digits(combined.value), reading.unit);
  }
  text += ": " + finding_text(model, finding);
  if (finding.state) return text;
  if (!reading.spreads.empty()) return text + " (by how the readings of each outcome spread)";
  return text + " (a limit is near for a gauge error of " + with_unit(four_digits(combined.error), reading.unit) + ')';
}

void show_readings(const Screen& screen, const FaultModel& model, std::span<const std::string> texts) {
  if (texts.empty()) return;
  screen.heading("Readings");
  for (const TestReadings& readings : parse_test_readings(model, texts))
    screen.text(shown(model.variable(readings.test)) + ": " + reading_in_words(model, readings), 2, 2);
}

}  // namespace faultodds::program

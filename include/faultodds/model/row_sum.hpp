// How far the sum of a row of probabilities may miss one, and how the row is scaled.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <system_error>

namespace faultodds {

/// The shortest decimal form that reads back to the same double; independent of the locale.
[[nodiscard]] inline std::string shortest_form(double value) {
  char buffer[32];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value).ptr;
  return {buffer, end};
}

/// At most twelve digits, for sums in messages: 0.7 + 0.2 is shown as 0.9.
[[nodiscard]] inline std::string rounded_form(double value) {
  char buffer[32];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::general, 12).ptr;
  return {buffer, end};
}

/// Sum with a running correction for rounding (Neumaier 1974), so that long rows lose nothing.
[[nodiscard]] inline double row_sum(std::span<const double> row) {
  double sum = 0.0;
  double correction = 0.0;
  for (const double value : row) {
    const double next = sum + value;
    correction += std::abs(sum) >= std::abs(value) ? (sum - next) + value : (value - next) + sum;
    sum = next;
  }
  return sum + correction;
}

/// Decimal places of the shortest form: 0.25 has two, 2e-7 has seven, 3 has none.
[[nodiscard]] inline int decimal_places(double value) {
  char buffer[32];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::scientific).ptr;
  const std::string_view text(buffer, static_cast<std::size_t>(end - buffer));
  const std::size_t exponent_mark = text.find('e');
  const std::size_t point = text.find('.');
  const std::size_t digits = point == std::string_view::npos ? 0 : exponent_mark - point - 1;
  int exponent = 0;
  const std::size_t start = exponent_mark + (text[exponent_mark + 1] == '+' ? 2 : 1);
  std::from_chars(text.data() + start, text.data() + text.size(), exponent);
  return std::max(0, static_cast<int>(digits) - exponent);
}

/// How far the sum of `row` may be from one: 1e-6, or what rounding its numbers to their last printed decimal place
/// explains (half a unit of that place for each number), but never more than 1e-3.
[[nodiscard]] inline double row_allowance(std::span<const double> row) {
  int places = 0;
  for (const double value : row) {
    if (value != 0.0) places = std::max(places, decimal_places(value));
  }
  const double explained = 0.5 * static_cast<double>(row.size()) * std::pow(10.0, -places);
  return std::max(1e-6, std::min(1e-3, explained));
}

enum class RowState : std::uint8_t { exact, rounded, wrong_sum, bad_entry, all_zero };

/// What a row of probabilities is: exact within 1e-14 (kept bit for bit), rounded (to be scaled), of a wrong sum, with
/// an entry that is negative, above one or no number, or all zero.
[[nodiscard]] inline RowState row_state(std::span<const double> row) {
  bool any = false;
  for (const double value : row) {
    if (!(value >= 0.0) || value > 1.001) return RowState::bad_entry;
    any = any || value > 0.0;
  }
  if (!any) return RowState::all_zero;
  const double miss = std::abs(row_sum(row) - 1.0);
  if (miss <= 1e-14) return RowState::exact;
  const double allowance = miss <= 1e-6 ? 1e-6 : row_allowance(row);
  for (const double value : row) {
    if (value > 1.0 + allowance) return RowState::bad_entry;
  }
  // The allowance itself is a decimal number: a miss of exactly that much must not fail by its last bit.
  return miss <= allowance * (1.0 + 1e-9) ? RowState::rounded : RowState::wrong_sum;
}

/// Divides by the sum.
inline void scale_row(std::span<double> row) {
  const double sum = row_sum(row);
  for (double& value : row) value /= sum;
}

/// What the first state has if the others are given.
[[nodiscard]] inline double rest_of(std::span<const double> others) { return 1.0 - row_sum(others); }

}  // namespace faultodds

// Bodies of reading.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <system_error>
#include <variant>

#include "faultodds/inference/reading.hpp"
#include "faultodds/inference/reading_weights.ipp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/unit.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds {
namespace detail {

/// Whether a number without a unit can mean only one thing.
inline bool bare_number_is_clear(const Reading& reading) {
  return reading.unit.empty() || reading.unit == "1" || reading.unit == "count";
}

inline std::string in_unit(double value, const std::string& unit) {
  return rounded_form(value) + (unit.empty() ? "" : ' ' + unit);
}

/// "43 psi (296.474563606 kPa)".
inline std::string in_both_units(const Measured& measured, double value, const Reading& reading) {
  const std::string own = in_unit(measured.value, measured.unit);
  return measured.unit.empty() || measured.unit == reading.unit ? own : own + " (" + in_unit(value, reading.unit) + ')';
}

inline std::string outcome_names(const Variable& variable) {
  std::string names;
  for (const State& state : variable.states) names += (names.empty() ? "" : ", ") + state.name;
  return names;
}

/// In the unit of the reading. A model may use a unit that no table knows; then nothing else will do.
inline double in_model_unit(const Reading& reading, const Measured& measured, const std::string& place) {
  if (!std::isfinite(measured.value))
    throw ArgumentError(place, in_unit(measured.value, measured.unit), "give a finite number", ErrorCode::wrong_number);
  if (measured.unit.empty()) {
    if (bare_number_is_clear(reading)) return measured.value;
    throw ArgumentError(place, in_unit(measured.value, "") + " has no unit",
                        "say which, such as " + in_unit(measured.value, reading.unit), ErrorCode::wrong_reading);
  }
  if (measured.unit == reading.unit) return measured.value;
  if (reading.unit.empty())
    throw ArgumentError(place, quoted(measured.unit) + " comes after it, but the model names no unit",
                        "give the bare number", ErrorCode::wrong_reading);
  const auto target = find_unit(reading.unit);
  if (!target)
    throw ArgumentError(place, "the model's unit " + quoted(reading.unit) + " does not convert", "give it in that unit",
                        ErrorCode::wrong_reading);
  return converted(measured.value, unit_of(measured.unit), *target, reading.difference, place);
}

inline void check_possible(const Reading& reading, const Measured& measured, double value, const std::string& place) {
  const std::string found = in_both_units(measured, value, reading);
  const auto unit = find_unit(reading.unit);
  if (unit && unit->quantity == "temperature" && !reading.difference &&
      converted(value, *unit, unit_of("K"), false, place) < 0.0) {
    throw ArgumentError(place, found + " is below absolute zero", "check the unit and the sign",
                        ErrorCode::wrong_number);
  }
  const bool low = reading.at_least && value < *reading.at_least;
  const bool high = reading.at_most && value > *reading.at_most;
  if (!low && !high) return;
  std::string range;
  if (reading.at_least) range = "at least " + in_unit(*reading.at_least, reading.unit);
  if (reading.at_most) range += (range.empty() ? "" : " and ") + ("at most " + in_unit(*reading.at_most, reading.unit));
  throw ArgumentError(place, found + " is impossible: it is " + range, "check the gauge, the unit and the sign",
                      ErrorCode::wrong_reading);
}

/// The band that holds the value; null if none does.
inline const Band* band_of(const Reading& reading, double value) {
  const auto found = std::ranges::find_if(reading.bands, [value](const Band& band) {
    return (!band.from || *band.from <= value) && (!band.below || value < *band.below);
  });
  return found == reading.bands.end() ? nullptr : &*found;
}

inline double error_at(const Reading& reading, double value) {
  return reading.gauge_error ? reading.gauge_error->fixed + reading.gauge_error->share * std::abs(value) : 0.0;
}

inline const Reading& reading_of(const Variable& variable, const std::string& place) {
  const std::string remedy = "give its outcome: " + outcome_names(variable);
  const std::optional<Reading>& reading = as_test(variable).reading;
  if (!reading) throw ArgumentError(place, "the model knows no reading of it", remedy, ErrorCode::wrong_reading);
  if (reading->bands.empty() && reading->spreads.empty())
    throw ArgumentError(place, "the model gives neither limits nor spreads", remedy, ErrorCode::wrong_reading);
  return *reading;
}

/// Whether repeated readings can be of one true value.
inline void check_agreement(const Variable& variable, std::span<const double> values, double error,
                            bool same_instrument, const std::string& place) {
  const Reading& reading = *as_test(variable).reading;
  const auto [least, most] = std::ranges::minmax(values);
  const std::string found =
      "the readings run from " + in_unit(least, reading.unit) + " to " + in_unit(most, reading.unit);
  const double errors = same_instrument ? 2.0 : 5.0;
  if (error > 0.0 && most - least > errors * error) {
    throw ArgumentError(
        place,
        found + ", more than " + rounded_form(errors) + " times the gauge's error of " + in_unit(error, reading.unit),
        "check the connection and measure again", ErrorCode::wrong_reading);
  }
  if (error > 0.0 || !reading.spreads.empty()) return;
  const Band* const first = band_of(reading, least);
  const Band* const last = band_of(reading, most);
  if (first == nullptr || last == nullptr || first->outcome == last->outcome) return;
  throw ArgumentError(place,
                      found + ", which are different outcomes (" + variable.states[first->outcome].name + ", " +
                          variable.states[last->outcome].name + ')',
                      "measure again, or give the model a gauge error", ErrorCode::wrong_reading);
}

/// With a plain minus and plain blanks for those of Unicode.
inline std::string in_plain_characters(std::string_view text) {
  std::string plain(text);
  for (const std::string_view sign : {std::string_view("\u2212"), std::string_view("\u00a0")}) {
    for (std::size_t at = plain.find(sign); at != std::string::npos; at = plain.find(sign, at + 1))
      plain.replace(at, sign.size(), sign == "\u2212" ? "-" : " ");
  }
  return plain;
}

inline std::string_view without_blanks_around(std::string_view text) {
  const auto blank = [](char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

inline bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace detail

inline Measured parse_reading(std::string_view text) {
  const std::string place = "reading " + detail::quoted(std::string(text.substr(0, 40)));
  const std::string example = "write a number and its unit, such as 43 psi or -5.5 degC";
  const std::string plain = detail::in_plain_characters(text);
  std::string_view rest = detail::without_blanks_around(plain);
  if (rest.starts_with('+') && !rest.starts_with("+-")) rest.remove_prefix(1);
  const std::string_view digits = rest.starts_with('-') ? rest.substr(1) : rest;
  if (digits.empty() || !(detail::is_digit(digits.front()) || digits.front() == '.'))
    throw ArgumentError(place, "it does not begin with a number", example, ErrorCode::wrong_reading);
  Measured measured;
  const auto [end, fault] = std::from_chars(rest.data(), rest.data() + rest.size(), measured.value);
  if (fault == std::errc::invalid_argument)
    throw ArgumentError(place, "it does not begin with a number", example, ErrorCode::wrong_reading);
  if (fault != std::errc{})
    throw ArgumentError(place, "the number does not fit a double", example, ErrorCode::wrong_reading);
  measured.value += 0.0;  // a negative zero becomes zero
  rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
  if (rest.starts_with(',') || rest.starts_with('\''))
    throw ArgumentError(place, "there is a comma or a mark in the number",
                        "write it with a decimal point and no marks between thousands, such as -5.5 or 1200",
                        ErrorCode::wrong_reading);
  if (!rest.empty() && (rest.front() == '.' || detail::is_digit(rest.front())))
    throw ArgumentError(place, "it holds more than one number", example, ErrorCode::wrong_reading);
  const std::string_view unit = detail::without_blanks_around(rest);
  if (!unit.empty() && detail::is_digit(unit.front()) && !unit.starts_with("1/"))
    throw ArgumentError(place, "it holds more than one number", "write readings apart: 43 psi; 44 psi",
                        ErrorCode::wrong_reading);
  measured.unit = unit;
  return measured;
}

inline std::vector<Measured> parse_readings(std::string_view text) {
  std::vector<Measured> readings;
  for (std::size_t end = 0; end != std::string_view::npos; text.remove_prefix(end == text.npos ? 0 : end + 1)) {
    end = text.find(';');
    readings.push_back(parse_reading(text.substr(0, end)));
  }
  return readings;
}

inline CombinedReading combine_readings(const FaultModel& model, VariableIndex variable,
                                        std::span<const Measured> readings, RepeatedErrors errors) {
  const Variable& test = model.variable(variable);
  const std::string place = "reading of " + detail::quoted(test.name);
  const Reading& reading = detail::reading_of(test, place);
  if (readings.empty()) throw ArgumentError(place, "there is none", "give at least one", ErrorCode::wrong_reading);
  const bool same_instrument =
      errors == RepeatedErrors::as_in_model ? reading.same_instrument : errors == RepeatedErrors::same_instrument;
  std::vector<double> values;
  double largest_error = 0.0;
  double sum = 0.0, weights = 0.0;
  for (const Measured& measured : readings) {
    const double value = detail::in_model_unit(reading, measured, place);
    detail::check_possible(reading, measured, value, place);
    const double error = detail::error_at(reading, value);
    const double weight = error > 0.0 && !same_instrument ? 1.0 / (error * error) : 1.0;
    largest_error = std::max(largest_error, error);
    sum += weight * value;
    weights += weight;
    values.push_back(value);
  }
  detail::check_agreement(test, values, largest_error, same_instrument, place);
  if (values.size() == 1) return {values.front(), largest_error};
  return {sum / weights, largest_error > 0.0 && !same_instrument ? 1.0 / std::sqrt(weights) : largest_error};
}

inline Finding finding_from_readings(const FaultModel& model, VariableIndex variable,
                                     std::span<const Measured> readings, RepeatedErrors errors) {
  const CombinedReading combined = combine_readings(model, variable, readings, errors);
  const Variable& test = model.variable(variable);
  const Reading& reading = *as_test(test).reading;
  const std::string place = "reading of " + detail::quoted(test.name);
  const std::size_t outcomes = test.states.size();
  Finding finding{variable, std::vector<double>(outcomes, 0.0), std::nullopt};
  if (!reading.spreads.empty()) {
    finding.weights = detail::spread_weights(reading, combined, outcomes);
    if (std::ranges::all_of(finding.weights, [](double weight) { return weight == 0.0; })) {
      throw ArgumentError(place, "no outcome spreads as far as " + detail::in_unit(combined.value, reading.unit),
                          "check the reading, or give its outcome: " + detail::outcome_names(test),
                          ErrorCode::wrong_reading);
    }
  } else {
    const Band* const band = detail::band_of(reading, combined.value);
    if (band == nullptr) {
      throw ArgumentError(place, "no outcome covers " + detail::in_unit(combined.value, reading.unit),
                          "check the reading, or give its outcome: " + detail::outcome_names(test),
                          ErrorCode::wrong_reading);
    }
    finding.weights = detail::band_weights(reading, combined, band->outcome, outcomes);
  }
  if (std::ranges::count(finding.weights, 0.0) + 1 == static_cast<std::ptrdiff_t>(outcomes)) {
    const auto only = std::ranges::find_if(finding.weights, [](double weight) { return weight > 0.0; });
    *only = 1.0;
    finding.state = static_cast<std::size_t>(only - finding.weights.begin());
  }
  return finding;
}

inline Finding finding_from_reading(const FaultModel& model, VariableIndex variable, double value,
                                    std::string_view unit) {
  const Measured measured{value, std::string(unit)};
  return finding_from_readings(model, variable, std::span(&measured, 1));
}

inline Finding finding_from_reading(const FaultModel& model, Name variable, double value, std::string_view unit) {
  return finding_from_reading(model, model.index_of(variable), value, unit);
}

}  // namespace faultodds

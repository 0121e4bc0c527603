// From numbers on a gauge to findings.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// A number with its unit, as the gauge shows it.
struct Measured {
  double value = 0.0;
  std::string unit;  ///< empty: a bare number

  bool operator==(const Measured&) const = default;
};

/// The number and the unit of a text: "43 psi", "43psi", "-5.5 degC", "12" (a bare number). The unit is any text;
/// whoever knows the model looks it up. Throws ArgumentError, with a hint at the decimal point if there is a comma.
[[nodiscard]] Measured parse_reading(std::string_view text);
/// The numbers and units of several readings of one test, as parse_reading reads each: "43 psi; 44 psi".
[[nodiscard]] std::vector<Measured> parse_readings(std::string_view text);

/// How the errors of repeated readings are related.
enum class RepeatedErrors : std::uint8_t {
  as_in_model,     ///< what the model says of the reading: `same_instrument`, or else independent
  independent,     ///< each reading has an error of its own: they are averaged, and the error shrinks
  same_instrument  ///< all have the same error: further readings must agree, but add nothing
};

/// The readings of one test taken together, in the unit of the model.
struct CombinedReading {
  double value = 0.0;
  double error = 0.0;  ///< standard deviation; 0 if the model gives no gauge error

  bool operator==(const CombinedReading&) const = default;
};

/// Converts the readings to the unit of the model, and takes them together: independent ones by their mean weighted
/// with 1/error^2, whose error is 1/sqrt(sum of 1/error^2) (minimum variance); with the same instrument by their plain
/// mean, with the largest error of any.
///
/// Throws UnknownName (unit, with the nearest ones); ArgumentError if the variable has no reading, the quantity of
/// the unit is another one, a number lies outside of the range of the model, is a temperature below absolute zero, or
/// no number, if a bare number could be in one of several units, if readings differ by more than 5 (same instrument:
/// 2) standard deviations, and if readings without a gauge error fall into different bands.
[[nodiscard]] CombinedReading combine_readings(const FaultModel& model, VariableIndex variable,
                                               std::span<const Measured> readings,
                                               RepeatedErrors errors = RepeatedErrors::as_in_model);

/// The finding that readings of a test make. It weighs each outcome with the probability density of the reading, up to
/// a common factor: P(r | outcome) = integral of N(r; x, error) p(x | outcome) over the true value x.
///
/// With spreads, p(x | outcome) is the spread: without a gauge error its density at r; with one, a normal spread widens
/// to N(r; mean, sqrt(sd^2 + error^2)), a uniform one to Phi((to - r)/error) - Phi((from - r)/error) over its length,
/// and a lognormal one is integrated numerically.
///
/// With limits alone, the outcome is the band of the true value. Within reach of the error each outcome is taken to be
/// as dense as the next, p(x | outcome) = const, so that the weights are the normal masses of the bands about r. A
/// reading on a limit then says nothing, and one well inside a band makes a hard finding: if all other bands
/// together hold less than a millionth (4.8 errors from the limit), or without a gauge error. The priors of the
/// outcomes count as ever: the weights are no posterior. If outcomes are known to be unlike in density, give
/// spreads.
///
/// Throws as combine_readings does; ArgumentError too if the reading is in no band, or no spread can give it.
[[nodiscard]] Finding finding_from_readings(const FaultModel& model, VariableIndex variable,
                                            std::span<const Measured> readings,
                                            RepeatedErrors errors = RepeatedErrors::as_in_model);
/// The finding that one reading of a test makes, as finding_from_readings says.
[[nodiscard]] Finding finding_from_reading(const FaultModel& model, VariableIndex variable, double value,
                                           std::string_view unit);
[[nodiscard]] Finding finding_from_reading(const FaultModel& model, Name variable, double value, std::string_view unit);

}  // namespace faultodds

#include "faultodds/inference/reading.ipp"

// Units of readings: symbols, conversions, and what to say if they do not fit.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/model/errors.hpp"

namespace faultodds {

/// A unit by its SI-style symbol. A value x in it is (x + zero) * numerator / denominator in the base unit of its
/// quantity: the coherent SI unit, but degC for temperatures. Whole numbers if the factor is a fraction of such, so
/// that 9000 mV are 9 V and 212 degF are 100 degC to the last bit.
struct Unit {
  std::string_view symbol;
  std::string_view quantity;  ///< what it measures: "pressure", "voltage"; only units of one quantity convert
  double numerator = 1.0;
  double denominator = 1.0;
  double zero = 0.0;
};

/// All units, those of one quantity together. Factors: NIST Special Publication 811 (2008), Appendix B, worked out from
/// the exact definitions it gives: inch 25.4 mm, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s2; mmHg, inHg and
/// inH2O are the conventional ones.
[[nodiscard]] std::span<const Unit> units();

/// The unit of a symbol; nothing if there is none. Signs and common spellings are understood ("rpm" for 1/min, the
/// ohm, micro and degree signs), and other capitals if they leave no doubt: "KPA" is kPa, but "MOHM" could be two.
[[nodiscard]] std::optional<Unit> find_unit(std::string_view symbol);
/// The unit of a symbol, as find_unit; throws UnknownName with the nearest symbols.
[[nodiscard]] Unit unit_of(std::string_view symbol);
/// Symbols of all units of a quantity, in the order of `units`.
[[nodiscard]] std::vector<std::string> units_of(std::string_view quantity);

/// A value in other units of its quantity. Temperatures are points on a scale here: 20 degC are 293.15 K. Gauge and
/// absolute pressures are never turned into each other. Throws UnknownName; ArgumentError, naming both quantities and
/// the units that would do, if the quantities differ.
[[nodiscard]] double convert(double value, std::string_view from, std::string_view to);
/// A difference in other units of its quantity, as convert does it for values: 20 degC are 20 K.
[[nodiscard]] double convert_difference(double value, std::string_view from, std::string_view to);

namespace detail {

/// Converts; messages call the value `place`.
[[nodiscard]] double converted(double value, const Unit& from, const Unit& to, bool difference,
                               const std::string& place);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/model/unit.ipp"

// Bodies of unit.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "faultodds/model/names.hpp"
#include "faultodds/model/unit.hpp"

namespace faultodds {
namespace detail {

inline std::string ascii_symbol(std::string_view symbol) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 10> signs = {{{"\u03a9", "ohm"},
                                                                                           {"\u2126", "ohm"},
                                                                                           {"\u00b5", "u"},
                                                                                           {"\u03bc", "u"},
                                                                                           {"\u00b0", "deg"},
                                                                                           {"\u00b2", "2"},
                                                                                           {"\u00b3", "3"},
                                                                                           {"\u2082", "2"},
                                                                                           {"\u00b7", "."},
                                                                                           {"\u22c5", "."}}};
  std::string text(symbol);
  for (const auto& [sign, plain] : signs) {
    for (std::size_t at = text.find(sign); at != std::string::npos; at = text.find(sign, at + plain.size()))
      text.replace(at, sign.size(), plain);
  }
  return text;
}

inline bool equal_without_case(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return std::tolower(static_cast<unsigned char>(c)); };
  return std::ranges::equal(a, b, [&](char x, char y) { return lower(x) == lower(y); });
}

/// Other spellings, and the symbols they mean.
inline std::span<const std::pair<std::string_view, std::string_view>> unit_spellings() {
  static constexpr std::pair<std::string_view, std::string_view> spellings[] = {
      {"percent", "%"},     {"lb/in2", "psi"},    {"lbf/in2", "psi"},     {"kg/cm2", "kgf/cm2"}, {"volt", "V"},
      {"volts", "V"},       {"amp", "A"},         {"amps", "A"},          {"ohms", "ohm"},       {"C", "degC"},
      {"F", "degF"},        {"sec", "s"},         {"secs", "s"},          {"mins", "min"},       {"hr", "h"},
      {"rpm", "1/min"},     {"rev/min", "1/min"}, {"r/min", "1/min"},     {"kph", "km/h"},       {"kmh", "km/h"},
      {"mi/h", "mph"},      {"lbs", "lb"},        {"N.m", "Nm"},          {"ft.lb", "lbf.ft"},   {"lb.ft", "lbf.ft"},
      {"ft.lbf", "lbf.ft"}, {"ft-lb", "lbf.ft"},  {"lb-ft", "lbf.ft"},    {"in.lb", "lbf.in"},   {"lb.in", "lbf.in"},
      {"cc", "cm3"},        {"\"", "in"},         {"mg/str", "mg/stroke"}};
  return spellings;
}

inline double converted(double value, const Unit& from, const Unit& to, bool difference, const std::string& place) {
  if (from.quantity != to.quantity) {
    std::string fitting;
    for (const std::string& symbol : units_of(to.quantity)) fitting += (fitting.empty() ? "" : ", ") + symbol;
    throw ArgumentError(place,
                        '"' + std::string(from.symbol) + "\" is a unit of " + std::string(from.quantity) + ", \"" +
                            std::string(to.symbol) + "\" one of " + std::string(to.quantity),
                        "units of " + std::string(to.quantity) + " are " + fitting);
  }
  if (from.symbol == to.symbol) return value;
  const double shifted = difference ? value : value + from.zero;
  const double scaled = shifted * (from.numerator * to.denominator) / (from.denominator * to.numerator);
  return difference ? scaled : scaled - to.zero;
}

}  // namespace detail

inline std::span<const Unit> units() {
  constexpr double inch = 0.0254;
  constexpr double pound = 0.45359237;
  constexpr double gravity = 9.80665;
  constexpr double mercury = 13595.1;  // kg/m3, conventional
  constexpr double us_gallon = 231 * inch * inch * inch;
  constexpr double pi = 3.14159265358979323846;
  static constexpr Unit known[] = {
      {"1", "ratio"},
      {"%", "ratio", 1, 100},
      {"ppm", "ratio", 1, 1e6},
      {"count", "count"},
      {"dB", "level"},
      {"Pa", "pressure"},
      {"hPa", "pressure", 100},
      {"kPa", "pressure", 1000},
      {"MPa", "pressure", 1e6},
      {"mbar", "pressure", 100},
      {"bar", "pressure", 1e5},
      {"psi", "pressure", pound * gravity, inch * inch},
      {"inHg", "pressure", mercury * gravity * inch},
      {"mmHg", "pressure", mercury * gravity, 1000},
      {"inH2O", "pressure", 1000 * gravity * inch},
      {"mmH2O", "pressure", gravity},
      {"kgf/cm2", "pressure", gravity * 10000},
      {"atm", "pressure", 101325},
      {"Torr", "pressure", 101325, 760},
      {"uV", "voltage", 1, 1e6},
      {"mV", "voltage", 1, 1000},
      {"V", "voltage"},
      {"kV", "voltage", 1000},
      {"mohm", "resistance", 1, 1000},
      {"ohm", "resistance"},
      {"kohm", "resistance", 1000},
      {"Mohm", "resistance", 1e6},
      {"uA", "current", 1, 1e6},
      {"mA", "current", 1, 1000},
      {"A", "current"},
      {"Ah", "charge", 3600},
      {"mAh", "charge", 3600, 1000},
      {"pF", "capacitance", 1, 1e12},
      {"nF", "capacitance", 1, 1e9},
      {"uF", "capacitance", 1, 1e6},
      {"mH", "inductance", 1, 1000},
      {"W", "power"},
      {"kW", "power", 1000},
      {"hp", "power", 550 * 12 * pound * gravity * inch},
      {"PS", "power", 75 * gravity},
      {"degC", "temperature"},
      {"degF", "temperature", 5, 9, -32},
      {"K", "temperature", 1, 1, -273.15},
      {"mg", "mass", 1, 1e6},
      {"g", "mass", 1, 1000},
      {"kg", "mass"},
      {"oz", "mass", pound, 16},
      {"lb", "mass", pound},
      {"mg/stroke", "mass a stroke", 1, 1e6},
      {"g/stroke", "mass a stroke", 1, 1000},
      {"g/s", "mass flow", 1, 1000},
      {"kg/s", "mass flow"},
      {"kg/h", "mass flow", 1, 3600},
      {"lb/min", "mass flow", pound, 60},
      {"lb/h", "mass flow", pound, 3600},
      {"g/cm3", "density", 1000},
      {"kg/l", "density", 1000},
      {"kg/m3", "density"},
      {"um", "length", 1, 1e6},
      {"mm", "length", 1, 1000},
      {"cm", "length", 1, 100},
      {"m", "length"},
      {"km", "length", 1000},
      {"mil", "length", inch, 1000},
      {"in", "length", inch},
      {"ft", "length", 12 * inch},
      {"mi", "length", 5280 * 12 * inch},
      {"m/s", "speed"},
      {"km/h", "speed", 10, 36},
      {"mph", "speed", 5280 * 12 * inch, 3600},
      {"Hz", "frequency"},
      {"kHz", "frequency", 1000},
      {"1/s", "frequency"},
      {"1/min", "frequency", 1, 60},
      {"us", "time", 1, 1e6},
      {"ms", "time", 1, 1000},
      {"s", "time"},
      {"min", "time", 60},
      {"h", "time", 3600},
      {"mm3", "volume", 1, 1e9},
      {"ml", "volume", 1, 1e6},
      {"cm3", "volume", 1, 1e6},
      {"l", "volume", 1, 1000},
      {"m3", "volume"},
      {"gal(US)", "volume", us_gallon},
      {"qt(US)", "volume", us_gallon, 4},
      {"pt(US)", "volume", us_gallon, 8},
      {"floz(US)", "volume", us_gallon, 128},
      {"gal(UK)", "volume", 454609, 1e8},
      {"ml/min", "volume flow", 1, 60e6},
      {"l/min", "volume flow", 1, 60000},
      {"l/h", "volume flow", 1, 3.6e6},
      {"m3/h", "volume flow", 1, 3600},
      {"gal(US)/h", "volume flow", us_gallon, 3600},
      {"N", "force"},
      {"kN", "force", 1000},
      {"lbf", "force", pound * gravity},
      {"Nm", "torque"},
      {"lbf.ft", "torque", 12 * pound * gravity * inch},
      {"lbf.in", "torque", pound * gravity * inch},
      {"kgf.m", "torque", gravity},
      {"deg", "angle", pi, 180},
      {"rad", "angle"},
  };
  return known;
}

inline std::optional<Unit> find_unit(std::string_view symbol) {
  const std::string text = detail::ascii_symbol(symbol);
  const auto with_symbol = [](std::string_view wanted) { return *std::ranges::find(units(), wanted, &Unit::symbol); };
  if (const auto exact = std::ranges::find(units(), std::string_view(text), &Unit::symbol); exact != units().end())
    return *exact;
  std::vector<std::string_view> found;
  const auto consider = [&](std::string_view spelling, std::string_view meant) {
    if (detail::equal_without_case(spelling, text) && std::ranges::count(found, meant) == 0) found.push_back(meant);
  };
  for (const auto& [spelling, meant] : detail::unit_spellings()) {
    if (spelling == text) return with_symbol(meant);
    consider(spelling, meant);
  }
  for (const Unit& unit : units()) consider(unit.symbol, unit.symbol);
  if (found.size() != 1) return std::nullopt;
  return with_symbol(found.front());
}

inline Unit unit_of(std::string_view symbol) {
  if (const auto found = find_unit(symbol)) return *found;
  const std::string text = detail::ascii_symbol(symbol);
  std::vector<std::string> known;
  std::vector<std::string> nearest;  // "gal" is short for more than one
  for (const Unit& unit : units()) {
    known.emplace_back(unit.symbol);
    if (unit.symbol.starts_with(text + '(')) nearest.emplace_back(unit.symbol);
  }
  if (nearest.empty()) nearest = nearest_names(text, known);
  throw UnknownName("unit", std::string(symbol), nearest, {}, known);
}

inline std::vector<std::string> units_of(std::string_view quantity) {
  std::vector<std::string> symbols;
  for (const Unit& unit : units()) {
    if (unit.quantity == quantity) symbols.emplace_back(unit.symbol);
  }
  return symbols;
}

inline double convert(double value, std::string_view from, std::string_view to) {
  return detail::converted(value, unit_of(from), unit_of(to), false, "unit");
}

inline double convert_difference(double value, std::string_view from, std::string_view to) {
  return detail::converted(value, unit_of(from), unit_of(to), true, "unit");
}

}  // namespace faultodds

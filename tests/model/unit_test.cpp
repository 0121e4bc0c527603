// Units against the conversion factors of NIST Special Publication 811.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/unit.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

namespace {

using namespace faultodds;

struct Factor {
  const char* unit;
  const char* base;
  double factor;
};

// NIST SP 811 (2008), Appendix B.8 "Factors for units listed alphabetically", seven digits as printed there; from
// memory. FactorsFollowFromDefinitions and the Python tests (against a reference library) confirm them independently.
const Factor printed[] = {
    {"psi", "Pa", 6.894757e3},
    {"inHg", "Pa", 3.386389e3},
    {"mmHg", "Pa", 1.333224e2},
    {"inH2O", "Pa", 2.490889e2},
    {"mmH2O", "Pa", 9.80665},
    {"kgf/cm2", "Pa", 9.80665e4},
    {"atm", "Pa", 1.01325e5},
    {"Torr", "Pa", 1.333224e2},
    {"bar", "Pa", 1e5},
    {"mbar", "Pa", 1e2},
    {"mi", "m", 1.609344e3},
    {"ft", "m", 3.048e-1},
    {"in", "m", 2.54e-2},
    {"mil", "m", 2.54e-5},
    {"mph", "m/s", 4.4704e-1},
    {"km/h", "m/s", 2.777778e-1},
    {"lb", "kg", 4.535924e-1},
    {"oz", "kg", 2.834952e-2},
    {"lb/min", "kg/s", 7.559873e-3},
    {"lb/h", "kg/s", 1.259979e-4},
    {"gal(US)", "m3", 3.785412e-3},
    {"qt(US)", "m3", 9.463529e-4},
    {"pt(US)", "m3", 4.731765e-4},
    {"floz(US)", "m3", 2.957353e-5},
    {"gal(UK)", "m3", 4.54609e-3},
    {"l", "m3", 1e-3},
    {"lbf", "N", 4.448222},
    {"lbf.ft", "Nm", 1.355818},
    {"lbf.in", "Nm", 1.129848e-1},
    {"kgf.m", "Nm", 9.80665},
    {"hp", "W", 7.456999e2},
    {"PS", "W", 7.354988e2},
    {"deg", "rad", 1.745329e-2},
    {"h", "s", 3.6e3},
    {"min", "s", 6e1},
    {"g/cm3", "kg/m3", 1e3},
};

TEST(Unit, FactorsAreThoseOfSp811) {
  for (const Factor& one : printed) {
    const double half_of_last_digit = 0.5 * std::pow(10.0, std::floor(std::log10(one.factor)) - 6.0);
    EXPECT_NEAR(convert(1.0, one.unit, one.base), one.factor, half_of_last_digit * (1 + 1e-9)) << one.unit;
  }
}

TEST(Unit, FactorsFollowFromDefinitions) {
  // International yard and pound agreement (1959): 1 yd = 0.9144 m, 1 lb = 0.453 592 37 kg. Standard gravity: 3rd CGPM
  // (1901).
  const long double inch = 0.9144L / 36;
  const long double pound_force = 0.45359237L * 9.80665L;
  const auto expect = [](const char* unit, const char* base, long double factor) {
    EXPECT_NEAR(convert(1.0, unit, base) / static_cast<double>(factor), 1.0, 4e-16) << unit;
  };
  expect("psi", "Pa", pound_force / (inch * inch));
  expect("mmHg", "Pa", 133.322387415L);          // ISO 80000-4 and SP 811 footnote: exact, conventional
  expect("inHg", "Pa", 25.4L * 133.322387415L);  // 25.4 of them
  expect("inH2O", "Pa", 249.08891L);             // 1000 kg/m3 x 9.80665 m/s2 x 25.4 mm
  expect("mi", "m", 1760 * 0.9144L);
  expect("mph", "m/s", 1760 * 0.9144L / 3600);
  expect("lb/min", "g/s", 453.59237L / 60);
  expect("gal(US)", "l", 3.785411784L);  // 231 in3
  expect("lbf.ft", "Nm", 12 * inch * pound_force);
  expect("hp", "W", 550 * 12 * inch * pound_force);
}

TEST(Unit, FractionsOfWholeNumbersAreExact) {
  EXPECT_EQ(convert(9000.0, "mV", "V"), 9.0);
  EXPECT_EQ(convert(12.4, "V", "mV"), 12400.0);
  EXPECT_EQ(convert(3.0, "bar", "kPa"), 300.0);
  EXPECT_EQ(convert(90.0, "km/h", "m/s"), 25.0);
  EXPECT_EQ(convert(6000.0, "1/min", "Hz"), 100.0);
  EXPECT_EQ(convert(18.0, "kg/h", "g/s"), 5.0);
  EXPECT_EQ(convert(2.2, "kohm", "ohm"), 2200.0);
  EXPECT_EQ(convert(0.25, "1", "%"), 25.0);
  EXPECT_EQ(convert(700.0, "ml", "l"), 0.7);
}

TEST(Unit, TemperaturesArePointsOnAScaleAndDifferencesAreNot) {
  // SP 811 B.8: t/degC = (t/degF - 32)/1.8, T/K = (t/degF + 459.67)/1.8, T/K = t/degC + 273.15.
  EXPECT_EQ(convert(212.0, "degF", "degC"), 100.0);
  EXPECT_EQ(convert(-40.0, "degF", "degC"), -40.0);
  EXPECT_EQ(convert(100.0, "degC", "degF"), 212.0);
  EXPECT_EQ(convert(20.0, "degC", "K"), 293.15);
  EXPECT_NEAR(convert(-459.67, "degF", "K"), 0.0, 1e-12);
  EXPECT_EQ(convert_difference(20.0, "degC", "K"), 20.0);
  EXPECT_EQ(convert_difference(18.0, "degF", "K"), 10.0);
  EXPECT_EQ(convert_difference(10.0, "K", "degF"), 18.0);
}

TEST(Unit, GoesThereAndBack) {
  for (const Unit& from : units()) {
    for (const Unit& to : units()) {
      if (from.quantity != to.quantity) continue;
      const double there = convert(123.4, from.symbol, to.symbol);
      const double zero = std::max(std::abs(from.zero), std::abs(to.zero));
      EXPECT_NEAR(convert(there, to.symbol, from.symbol), 123.4, 1e-13 * std::max(123.4, zero))
          << from.symbol << " and " << to.symbol;
    }
  }
}

TEST(Unit, SymbolsAreUniqueAndQuantitiesStandTogether) {
  std::set<std::string_view> symbols, left;
  std::string_view current;
  for (const Unit& unit : units()) {
    EXPECT_TRUE(symbols.insert(unit.symbol).second) << unit.symbol;
    EXPECT_FALSE(left.contains(unit.quantity)) << unit.symbol;
    if (unit.quantity != current) left.insert(current);
    current = unit.quantity;
  }
}

TEST(Unit, OtherSpellingsAreUnderstoodWhereTheyLeaveNoDoubt) {
  const auto symbol = [](const char* text) { return std::string(unit_of(text).symbol); };
  EXPECT_EQ(symbol("KPA"), "kPa");
  EXPECT_EQ(symbol("v"), "V");
  EXPECT_EQ(symbol("rpm"), "1/min");
  EXPECT_EQ(symbol("RPM"), "1/min");
  EXPECT_EQ(symbol("\u2126"), "ohm");    // OHM SIGN
  EXPECT_EQ(symbol("k\u03a9"), "kohm");  // GREEK CAPITAL LETTER OMEGA
  EXPECT_EQ(symbol("kOhm"), "kohm");
  EXPECT_EQ(symbol("\u00b0C"), "degC");
  EXPECT_EQ(symbol("\u00b5A"), "uA");
  EXPECT_EQ(symbol("cm\u00b3"), "cm3");
  EXPECT_EQ(symbol("L"), "l");
  EXPECT_EQ(symbol("inH\u2082O"), "inH2O");
  EXPECT_EQ(symbol("N\u00b7m"), "Nm");
  EXPECT_EQ(symbol("mohm"), "mohm");
  EXPECT_EQ(symbol("Mohm"), "Mohm");
  EXPECT_FALSE(find_unit("MOHM"));  // a factor of a thousand million lies between the two
  EXPECT_FALSE(find_unit(""));
}

template <class Expected>
std::string refusal(const std::string& from, const std::string& to) {
  try {
    static_cast<void>(convert(1.0, from, to));
  } catch (const Expected& error) {
    return error.what();
  }
  return "";
}

TEST(Unit, WrongQuantityNamesBothAndTheUnitsThatWouldDo) {
  const std::string text = refusal<ArgumentError>("V", "kPa");
  for (const char* part : {"\"V\" is a unit of voltage", "\"kPa\" one of pressure", "psi", "bar", "inHg"})
    EXPECT_NE(text.find(part), std::string::npos) << part << " in: " << text;
  // Gauge and absolute pressures are not told apart by the unit; "psig" is no unit, and the nearest one is named.
  EXPECT_NE(refusal<UnknownName>("psig", "kPa").find("\"psi\""), std::string::npos);
  EXPECT_NE(refusal<UnknownName>("kPaa", "Pa").find("\"kPa\""), std::string::npos);
  EXPECT_NE(refusal<UnknownName>("gal", "l").find("\"gal(US)\", \"gal(UK)\""), std::string::npos);
  EXPECT_NE(refusal<UnknownName>("MOHM", "ohm").find("\"mohm\", \"Mohm\""), std::string::npos);
}

}  // namespace

// From numbers on a gauge to findings.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/reading.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/distributions/lognormal.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/uniform.hpp>
#include <cmath>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using boost::math::normal;

/// A pump (sound, worn) and the test "pressure" of it, with the outcomes low, good, high.
FaultModel model_of(const Reading& reading) {
  Variable pump;
  pump.name = "pump";
  pump.what = Component{};
  pump.states = {{"sound", ""}, {"worn", ""}};
  pump.distribution = FullTable{{}, Table(2, {0.8, 0.2})};
  Variable test;
  test.name = "pressure";
  test.what = Test{};
  test.states = {{"low", ""}, {"good", ""}, {"high", ""}};
  test.distribution = FullTable{{0}, Table(3, {0.05, 0.9, 0.05, 0.7, 0.25, 0.05})};
  test.test().reading = reading;
  ModelParts parts;
  parts.variables = {pump, test};
  return FaultModel(parts);
}

/// Good from 300 to 400 kPa, with a gauge error or without.
Reading limits(std::optional<GaugeError> error = {}) {
  Reading reading{.quantity = "fuel pressure",
                  .unit = "kPa",
                  .bands = {{.outcome = 0, .from = {}, .below = 300.0},
                            {.outcome = 1, .from = 300.0, .below = 400.0},
                            {.outcome = 2, .from = 400.0, .below = {}}},
                  .source = ""};
  reading.gauge_error = error;
  reading.at_least = 0.0;
  reading.at_most = 1000.0;
  return reading;
}

Finding finding(const Reading& reading, double value, const std::string& unit = "kPa") {
  return finding_from_reading(model_of(reading), "pressure", value, unit);
}

Finding finding(const Reading& reading, const std::vector<Measured>& readings,
                RepeatedErrors errors = RepeatedErrors::as_in_model) {
  return finding_from_readings(model_of(reading), 1, readings, errors);
}

/// The weights with the sum one.
std::vector<double> shares(const Finding& found) {
  double sum = 0.0;
  for (const double weight : found.weights) sum += weight;
  std::vector<double> scaled;
  for (const double weight : found.weights) scaled.push_back(weight / sum);
  return scaled;
}

void expect_shares(const Finding& found, std::vector<double> wanted, double tolerance = 1e-12) {
  double sum = 0.0;
  for (const double one : wanted) sum += one;
  const std::vector<double> scaled = shares(found);
  for (std::size_t s = 0; s < wanted.size(); ++s) EXPECT_NEAR(scaled[s], wanted[s] / sum, tolerance) << "outcome " << s;
}

std::string refusal(const std::function<void()>& call) {
  try {
    call();
  } catch (const Error& error) {
    return error.what();
  }
  return "accepted";
}

void expect_words(const std::string& text, const std::vector<std::string>& words) {
  for (const std::string& word : words) EXPECT_NE(text.find(word), std::string::npos) << word << " in: " << text;
}

TEST(Reading, WithoutAGaugeErrorTheBandIsTheOutcome) {
  EXPECT_EQ(finding(limits(), 299.999).state, 0U);
  EXPECT_EQ(finding(limits(), 300.0).state, 1U) << "from <= reading";
  EXPECT_EQ(finding(limits(), 399.999).state, 1U);
  EXPECT_EQ(finding(limits(), 400.0).state, 2U) << "reading < below";
  EXPECT_EQ(finding(limits(), 350.0).weights, (std::vector<double>{0.0, 1.0, 0.0}));
}

TEST(Reading, ComesInAnyUnitOfItsQuantity) {
  EXPECT_EQ(finding(limits(), 43.0, "psi").state, 0U) << "43 psi are 296.5 kPa";
  EXPECT_EQ(finding(limits(), 44.0, "psi").state, 1U) << "44 psi are 303.4 kPa";
  EXPECT_EQ(finding(limits(), 3.0, "bar").state, 1U) << "exactly on the limit";
  EXPECT_EQ(finding(limits(), 0.4, "MPa").state, 2U);
}

TEST(Reading, NearALimitTheNormalMassesOfTheBandsWeigh) {
  const Reading reading = limits(GaugeError{5.0, 0.0});
  for (const double value : {285.0, 296.0, 300.0, 304.5, 318.0}) {
    const normal gauge(value, 5.0);
    expect_shares(finding(reading, value),
                  {cdf(gauge, 300.0), cdf(gauge, 400.0) - cdf(gauge, 300.0), cdf(complement(gauge, 400.0))});
    EXPECT_FALSE(finding(reading, value).state);
  }
  // 0.8413 is the standard normal distribution function at 1: tables of any handbook, from memory; Boost.Math agrees
  // above.
  EXPECT_NEAR(shares(finding(reading, 305.0))[1], 0.8413, 5e-5);
}

TEST(Reading, OnALimitNothingIsLearntAndBothSidesAreAlike) {
  const Reading reading = limits(GaugeError{5.0, 0.0});
  expect_shares(finding(reading, 300.0), {0.5, 0.5, 0.0}, 1e-12);
  for (const double away : {0.5, 3.0, 12.0}) {
    const auto below = shares(finding(reading, 300.0 - away));
    const auto above = shares(finding(reading, 300.0 + away));
    EXPECT_NEAR(below[0], above[1], 1e-12);
    const auto mirrored = shares(finding(reading, 400.0 + away));
    EXPECT_NEAR(mirrored[2], above[1], 1e-12);
  }
  const Solver solver(model_of(reading));
  Case untested(solver);
  Case tested(solver);
  tested.add(finding(reading, 300.0));
  // With low and good equally weighed, only "high" (0.05 of either) is ruled out.
  EXPECT_NEAR(tested.posterior("pump")[1], untested.posterior("pump")[1], 1e-12);
}

TEST(Reading, FarFromLimitsItIsHard) {
  const Reading reading = limits(GaugeError{5.0, 0.0});
  EXPECT_EQ(finding(reading, 350.0).state, 1U);
  EXPECT_EQ(finding(reading, 250.0).state, 0U);
  // A millionth of a normal lies beyond 4.753 standard deviations (Boost.Math beside it).
  const double reach = quantile(complement(normal(), 1e-6));
  EXPECT_NEAR(reach, 4.7534, 1e-4);
  EXPECT_EQ(finding(reading, 300.0 + 5.0 * (reach + 1e-3)).state, 1U);
  EXPECT_FALSE(finding(reading, 300.0 + 5.0 * (reach - 1e-3)).state);
}

TEST(Reading, ErrorsGrowWithTheReadingByTheirShare) {
  // 1 kPa and 2 % of 310 kPa: 7.2 kPa.
  const normal gauge(310.0, 7.2);
  expect_shares(finding(limits(GaugeError{1.0, 0.02}), 310.0),
                {cdf(gauge, 300.0), cdf(gauge, 400.0) - cdf(gauge, 300.0), cdf(complement(gauge, 400.0))});
}

TEST(Reading, OneOutcomeMayHaveTwoBands) {
  Reading reading = limits(GaugeError{30.0, 0.0});
  reading.bands = {{.outcome = 0, .from = {}, .below = 300.0},
                   {.outcome = 1, .from = 300.0, .below = 400.0},
                   {.outcome = 0, .from = 400.0, .below = {}}};
  const normal gauge(340.0, 30.0);
  const double good = cdf(gauge, 400.0) - cdf(gauge, 300.0);
  expect_shares(finding(reading, 340.0), {1.0 - good, good, 0.0});
}

TEST(Reading, SpreadsWeighByTheirDensities) {
  Reading reading = limits();
  reading.spreads = {
      {0, LognormalSpread{150.0, 0.4}}, {1, NormalSpread{350.0, 15.0}}, {2, UniformSpread{380.0, 600.0}}};
  for (const double value : {20.0, 150.0, 290.0, 310.0, 350.0, 390.0, 500.0, 620.0}) {
    const double low = pdf(boost::math::lognormal(std::log(150.0), 0.4), value);
    const double good = pdf(normal(350.0, 15.0), value);
    const double high = value >= 380.0 && value <= 600.0 ? pdf(boost::math::uniform(380.0, 600.0), value) : 0.0;
    expect_shares(finding(reading, value), {low, good, high});
  }
}

/// Simpson's rule on many even steps.
double integral(const std::function<double(double)>& integrand, double from, double to) {
  constexpr int steps = 40000;
  if (from >= to) return 0.0;
  const double step = (to - from) / steps;
  double sum = integrand(from) + integrand(to);
  for (int i = 1; i < steps; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * integrand(from + i * step);
  return sum * step / 3.0;
}

/// Integral of p(x) N(r; x, error) over x from `from` to `to`.
double convolved(const std::function<double(double)>& density, double r, double error, double from, double to) {
  const auto integrand = [&](double x) { return density(x) * pdf(normal(x, error), r); };
  return integral(integrand, std::max(from, r - 12.0 * error), std::min(to, r + 12.0 * error));
}

TEST(Reading, AGaugeErrorWidensSpreads) {
  for (const double error : {0.5, 8.0, 60.0}) {
    Reading reading = limits(GaugeError{error, 0.0});
    reading.at_least = -500.0;
    reading.spreads = {
        {0, LognormalSpread{150.0, 0.4}}, {1, NormalSpread{350.0, 15.0}}, {2, UniformSpread{380.0, 600.0}}};
    const auto low = [](double x) { return pdf(boost::math::lognormal(std::log(150.0), 0.4), x); };
    const auto good = [](double x) { return pdf(normal(350.0, 15.0), x); };
    const auto high = [](double) { return 1.0 / 220.0; };
    for (const double value : {100.0, 150.0, 290.0, 310.0, 350.0, 375.0, 400.0, 500.0}) {
      SCOPED_TRACE(testing::Message() << value << " with an error of " << error);
      expect_shares(finding(reading, value),
                    {convolved(low, value, error, 0.0, 1e5), convolved(good, value, error, -1e5, 1e5),
                     convolved(high, value, error, 380.0, 600.0)},
                    1e-9);
    }
  }
}

TEST(Reading, LognormalsAreIntegratedAtTheExtremesToo) {
  // Narrow against the gauge's error, wide against it, and readings below zero, which noise alone can give.
  struct Extreme {
    double median, log_sd, error, value;
  };
  for (const auto& [median, log_sd, error, value] :
       {Extreme{1.0, 0.001, 5.0, 3.0}, Extreme{1.0, 2.0, 1e-3, 0.2}, Extreme{1.0, 2.0, 1e-3, 1e-3},
        Extreme{1.0, 1.0, 0.1, -0.2}, Extreme{1e4, 0.3, 10.0, 8000.0}, Extreme{1.0, 0.5, 0.3, 2.5}}) {
    Reading reading{.quantity = "q", .unit = "kPa", .bands = {}, .source = ""};
    reading.gauge_error = GaugeError{error, 0.0};
    reading.spreads = {
        {0, LognormalSpread{median, log_sd}}, {1, NormalSpread{value, 1.0}}, {2, NormalSpread{value, 2.0}}};
    const boost::math::lognormal truth(std::log(median), log_sd);
    const double wanted = convolved([&](double x) { return pdf(truth, x); }, value, error,
                                    median * std::exp(-12.0 * log_sd), median * std::exp(12.0 * log_sd));
    const Finding found = finding(reading, value);
    const double beside = pdf(normal(0.0, std::hypot(1.0, error)), 0.0);
    EXPECT_NEAR(found.weights[0] / found.weights[1] / (wanted / beside), 1.0, 1e-7)
        << median << ' ' << log_sd << ' ' << error << ' ' << value;
  }
}

TEST(Reading, FarTailsOfSpreadsKeepTheirRatio) {
  Reading reading = limits();
  reading.at_most = 1e6;
  reading.spreads = {{0, NormalSpread{100.0, 1.0}}, {1, NormalSpread{102.0, 1.0}}, {2, NormalSpread{103.0, 1.0}}};
  // ln of the densities' ratio: ((r - 100)^2 - (r - 102)^2)/2, while the densities themselves underflow.
  const Finding found = finding(reading, 200.0);
  EXPECT_NEAR(std::log(found.weights[1] / found.weights[2]), -(98.0 * 98.0 - 97.0 * 97.0) / 2.0, 1e-9);
}

TEST(Reading, ImpossibleNumbersAreRefusedWithTheRange) {
  Reading absolute = limits();
  absolute.quantity = "manifold pressure, absolute";
  const FaultModel model = model_of(absolute);
  expect_words(refusal([&] { static_cast<void>(finding_from_reading(model, 1, -3.0, "kPa")); }),
               {"\"pressure\"", "-3 kPa is impossible", "at least 0 kPa and at most 1000 kPa", "sign"});
  expect_words(refusal([&] { static_cast<void>(finding_from_reading(model, 1, 500.0, "psi")); }),
               {"500 psi (3447.37", "kPa) is impossible"});
  Reading leak{.quantity = "leak",
               .unit = "%",
               .bands = {{.outcome = 1, .from = {}, .below = 20.0}, {.outcome = 0, .from = 20.0, .below = {}}},
               .source = ""};
  leak.at_least = 0.0;
  leak.at_most = 100.0;
  expect_words(refusal([&] { static_cast<void>(finding(leak, 101.0, "%")); }), {"101 %", "at most 100 %"});
  EXPECT_EQ(finding(leak, 0.15, "1").state, 1U);
  Reading open{.quantity = "coolant",
               .unit = "degC",
               .bands = {{.outcome = 1, .from = {}, .below = 100.0}, {.outcome = 0, .from = 100.0, .below = {}}},
               .source = ""};
  expect_words(refusal([&] { static_cast<void>(finding(open, -500.0, "degF")); }), {"-500 degF", "absolute zero"});
  EXPECT_NO_THROW(static_cast<void>(finding(open, -459.0, "degF")));
  expect_words(refusal([&] { static_cast<void>(finding(open, std::nan(""), "degC")); }), {"nan", "finite"});
}

TEST(Reading, DifferencesOfTemperatureHaveNoZero) {
  Reading wheels{.quantity = "difference of the wheels",
                 .unit = "K",
                 .bands = {{.outcome = 1, .from = {}, .below = 25.0}, {.outcome = 0, .from = 25.0, .below = {}}},
                 .source = "",
                 .difference = true};
  EXPECT_EQ(finding(wheels, 20.0, "degC").state, 1U);
  EXPECT_EQ(finding(wheels, 50.0, "degF").state, 0U) << "27.8 K";
  EXPECT_EQ(finding(wheels, 40.0, "degF").state, 1U) << "22.2 K";
  EXPECT_EQ(finding(wheels, -300.0, "K").state, 1U) << "no absolute zero for differences";
}

TEST(Reading, WrongQuantitiesAndUnitsAreRefused) {
  const FaultModel model = model_of(limits());
  const auto text = [&](double value, const char* unit) {
    return refusal([&] { static_cast<void>(finding_from_reading(model, "pressure", value, unit)); });
  };
  expect_words(text(43.0, "V"), {"\"pressure\"", "\"V\" is a unit of voltage", "\"kPa\" one of pressure", "psi"});
  expect_words(text(43.0, "pis"), {"\"pis\"", "\"psi\""});
  expect_words(text(43.0, ""), {"43 has no unit", "43 kPa"});
  expect_words(refusal([&] { static_cast<void>(finding_from_reading(model, "pump", 43.0, "psi")); }),
               {"\"pump\"", "no reading", "sound, worn"});
  expect_words(refusal([&] { static_cast<void>(finding_from_reading(model, "presure", 43.0, "psi")); }),
               {"did you mean \"pressure\""});
}

TEST(Reading, BareNumbersAreForReadingsThatNeedNoUnit) {
  Reading ratio{.quantity = "leak-off as a multiple of the least",
                .unit = "1",
                .bands = {{.outcome = 1, .from = {}, .below = 3.0}, {.outcome = 0, .from = 3.0, .below = {}}},
                .source = ""};
  EXPECT_EQ(finding(ratio, 2.0, "").state, 1U);
  Reading nameless{.quantity = "bars of the charge gauge",
                   .unit = "",
                   .bands = {{.outcome = 1, .from = {}, .below = 3.0}, {.outcome = 0, .from = 3.0, .below = {}}},
                   .source = ""};
  EXPECT_EQ(finding(nameless, 4.0, "").state, 0U);
  expect_words(refusal([&] { static_cast<void>(finding(nameless, 4.0, "V")); }), {"names no unit", "bare number"});
  Reading own{.quantity = "fuel economy",
              .unit = "l/100km",
              .bands = {{.outcome = 1, .from = {}, .below = 8.0}, {.outcome = 0, .from = 8.0, .below = {}}},
              .source = ""};
  EXPECT_EQ(finding(own, 9.0, "l/100km").state, 0U) << "a unit of the model's own";
  expect_words(refusal([&] { static_cast<void>(finding(own, 9.0, "km/h")); }), {"l/100km", "does not convert"});
}

TEST(Reading, NumbersThatNoOutcomeCoversAreRefused) {
  Reading gap = limits();
  gap.bands = {{.outcome = 0, .from = {}, .below = 300.0},
               {.outcome = 1, .from = 310.0, .below = 400.0},
               {.outcome = 2, .from = 400.0, .below = {}}};
  expect_words(refusal([&] { static_cast<void>(finding(gap, 305.0)); }),
               {"no outcome covers 305 kPa", "low, good, high"});
  Reading even = limits();
  even.spreads = {{0, UniformSpread{0.0, 1.0}}, {1, UniformSpread{1.0, 2.0}}, {2, UniformSpread{2.0, 3.0}}};
  expect_words(refusal([&] { static_cast<void>(finding(even, 5.0)); }), {"no outcome spreads as far as 5 kPa"});
  EXPECT_EQ(finding(even, 0.5).state, 0U) << "one outcome alone can be";
  expect_words(refusal([&] {
                 static_cast<void>(finding(Reading{.quantity = "p", .unit = "kPa", .bands = {}, .source = ""}, 5.0));
               }),
               {"neither limits nor spreads"});
}

TEST(Reading, IndependentErrorsAverage) {
  // Of one true value with a flat density, n readings with the error s are worth one reading of their mean with
  // s/sqrt(n).
  const Reading reading = limits(GaugeError{6.0, 0.0});
  const normal mean(303.0, 6.0 / std::sqrt(3.0));
  expect_shares(finding(reading, {{301.0, "kPa"}, {306.0, "kPa"}, {302.0, "kPa"}}),
                {cdf(mean, 300.0), cdf(mean, 400.0) - cdf(mean, 300.0), cdf(complement(mean, 400.0))});
  EXPECT_EQ(finding(reading, {{301.0, "kPa"}}), finding(reading, 301.0));
  // By the definition: the product of both likelihoods, integrated over the true value.
  const auto both = [](double x) { return pdf(normal(x, 6.0), 298.0) * pdf(normal(x, 6.0), 307.0); };
  expect_shares(finding(reading, {{298.0, "kPa"}, {307.0, "kPa"}}),
                {integral(both, 200.0, 300.0), integral(both, 300.0, 400.0), integral(both, 400.0, 500.0)}, 1e-10);
}

TEST(Reading, ReadingsWithUnlikeErrorsAreWeighted) {
  const Reading reading = limits(GaugeError{0.0, 0.02});
  const std::vector<Measured> readings = {{295.0, "kPa"}, {3.1, "bar"}};
  const CombinedReading combined = combine_readings(model_of(reading), 1, readings);
  const double a = 1.0 / (5.9 * 5.9), b = 1.0 / (6.2 * 6.2);
  EXPECT_NEAR(combined.value, (295.0 * a + 310.0 * b) / (a + b), 1e-12);
  EXPECT_NEAR(combined.error, 1.0 / std::sqrt(a + b), 1e-12);
}

TEST(Reading, TheSameInstrumentAgainAddsNothing) {
  Reading reading = limits(GaugeError{6.0, 0.0});
  const std::vector<Measured> twice = {{304.0, "kPa"}, {304.0, "kPa"}};
  EXPECT_NE(finding(reading, twice), finding(reading, 304.0));
  EXPECT_EQ(finding(reading, twice, RepeatedErrors::same_instrument), finding(reading, 304.0));
  const Finding independent = finding(reading, twice);
  reading.same_instrument = true;
  EXPECT_EQ(finding(reading, twice), finding(reading, 304.0)) << "as the model says";
  EXPECT_EQ(finding(reading, twice, RepeatedErrors::independent), independent);
}

TEST(Reading, ReadingsThatContradictEachOtherAreRefused) {
  const Reading reading = limits(GaugeError{6.0, 0.0});
  expect_words(refusal([&] {
                 static_cast<void>(finding(reading, {{290.0, "kPa"}, {321.0, "kPa"}}));
               }),
               {"from 290 kPa to 321 kPa", "5 times", "6 kPa", "measure again"});
  EXPECT_NO_THROW(static_cast<void>(finding(reading, {{290.0, "kPa"}, {319.0, "kPa"}})));
  expect_words(refusal([&] {
                 static_cast<void>(finding(reading, {{290.0, "kPa"}, {303.0, "kPa"}}, RepeatedErrors::same_instrument));
               }),
               {"2 times"});
  expect_words(refusal([&] {
                 static_cast<void>(finding(limits(), {{299.0, "kPa"}, {301.0, "kPa"}}));
               }),
               {"different outcomes (low, good)", "gauge error"});
  EXPECT_EQ(finding(limits(), {{301.0, "kPa"}, {350.0, "kPa"}}).state, 1U) << "no error to judge them by";
  expect_words(refusal([&] { static_cast<void>(finding(limits(), std::vector<Measured>{})); }), {"at least one"});
}

TEST(Reading, TextsAreParsed) {
  EXPECT_EQ(parse_reading("43 psi"), (Measured{43.0, "psi"}));
  EXPECT_EQ(parse_reading("43psi"), (Measured{43.0, "psi"}));
  EXPECT_EQ(parse_reading(" 12.4 V "), (Measured{12.4, "V"}));
  EXPECT_EQ(parse_reading("-5.5 degC"), (Measured{-5.5, "degC"}));
  EXPECT_EQ(parse_reading("\u22125.5 \u00b0C"), (Measured{-5.5, "\u00b0C"}));  // MINUS SIGN
  EXPECT_EQ(parse_reading("43\u00a0psi"), (Measured{43.0, "psi"}));            // NO-BREAK SPACE
  EXPECT_EQ(parse_reading("+3 kPa"), (Measured{3.0, "kPa"}));
  EXPECT_EQ(parse_reading("800 1/min"), (Measured{800.0, "1/min"}));
  EXPECT_EQ(parse_reading(".5 V"), (Measured{0.5, "V"}));
  EXPECT_EQ(parse_reading("1e3 Pa"), (Measured{1000.0, "Pa"}));
  EXPECT_EQ(parse_reading("12"), (Measured{12.0, ""}));
  EXPECT_EQ(parse_reading("5 in"), (Measured{5.0, "in"}));
  EXPECT_EQ(parse_readings("43 psi; 44psi"), (std::vector<Measured>{{43.0, "psi"}, {44.0, "psi"}}));
  EXPECT_EQ(parse_readings("43 psi"), (std::vector<Measured>{{43.0, "psi"}}));
}

TEST(Reading, TextsThatAreNoReadingAreRefusedWithAHint) {
  const auto text = [](const char* reading) { return refusal([&] { static_cast<void>(parse_readings(reading)); }); };
  expect_words(text("-5,5 degC"), {"-5,5 degC", "decimal point", "-5.5"});
  expect_words(text("1,200 V"), {"decimal point"});
  expect_words(text("1'200 V"), {"no marks between thousands"});
  expect_words(text("1 200 V"), {"more than one number"});
  expect_words(text("1.2.3 V"), {"more than one number"});
  for (const char* none : {"", "  ", "psi", "inf V", "nan V", "-V", "--3 V", "+-3 V", "- 3 V", ".", "43 psi;"})
    expect_words(text(none), {"does not begin with a number"});
  expect_words(text("1e999 V"), {"does not fit a double"});
}

/// How often the true outcome is what the finding's posterior says, over simulated vehicles.
struct Calibration {
  double expected = 0.0;
  double seen = 0.0;
  double variance = 0.0;

  void count(double probability, bool is_so) {
    expected += probability;
    seen += is_so ? 1.0 : 0.0;
    variance += probability * (1.0 - probability);
  }
};

/// Draws a pump, an outcome, a true value and a reading of each vehicle, and compares the posteriors with the truth, in
/// ten classes of probability for each outcome and for the pump.
void expect_calibrated(const Reading& reading, const std::function<double(std::mt19937_64&, std::size_t)>& true_value,
                       double error, std::size_t readings, std::size_t vehicles) {
  const FaultModel model = model_of(reading);
  const Solver solver(model);
  std::mt19937_64 engine(7);
  std::normal_distribution<double> noise(0.0, error);
  std::uniform_real_distribution<double> even(0.0, 1.0);
  std::vector<Calibration> classes(40);
  for (std::size_t vehicle = 0; vehicle < support::rounds(vehicles); ++vehicle) {
    const bool worn = even(engine) < 0.2;
    const double draw = even(engine);
    const double low = worn ? 0.7 : 0.05;
    const std::size_t outcome = draw < low ? 0 : draw < 0.95 ? 1 : 2;
    const double truth = true_value(engine, outcome);
    std::vector<Measured> shown;
    for (std::size_t i = 0; i < readings; ++i) shown.push_back({truth + noise(engine), "kPa"});
    Case current(solver);
    try {
      current.add(finding_from_readings(model, 1, shown));
    } catch (const ArgumentError&) {
      continue;  // readings that contradict each other: one pair in some thousands
    }
    const auto count = [&](double probability, bool is_so, std::size_t kind) {
      const auto tenth = std::min<std::size_t>(9, static_cast<std::size_t>(probability * 10.0));
      classes[10 * kind + tenth].count(probability, is_so);
    };
    const std::vector<double> outcomes = current.posterior("pressure");
    for (std::size_t s = 0; s < 3; ++s) count(outcomes[s], outcome == s, s);
    count(current.posterior("pump")[1], worn, 3);
  }
  std::size_t used = 0;
  for (const Calibration& one : classes) {
    if (one.variance < 9.0) continue;
    ++used;
    EXPECT_LT(std::abs(one.seen - one.expected), 4.0 * std::sqrt(one.variance))
        << one.expected << " expected, " << one.seen << " seen";
  }
  EXPECT_GE(used, 8U);
}

TEST(Reading, PosteriorsOfSimulatedGaugesAreCalibratedByLimits) {
  // Each outcome fills a band of the same width evenly, and readings come near both limits.
  const auto true_value = [](std::mt19937_64& engine, std::size_t outcome) {
    return std::uniform_real_distribution<double>(200.0, 300.0)(engine) + 100.0 * static_cast<double>(outcome);
  };
  Reading reading = limits(GaugeError{15.0, 0.0});
  reading.bands = {{.outcome = 0, .from = 200.0, .below = 300.0},
                   {.outcome = 1, .from = 300.0, .below = 400.0},
                   {.outcome = 2, .from = 400.0, .below = 500.0}};
  reading.bands.front().from.reset();
  reading.bands.back().below.reset();
  expect_calibrated(reading, true_value, 15.0, 1, 20000);
  expect_calibrated(reading, true_value, 15.0, 3, 20000);
}

TEST(Reading, PosteriorsOfSimulatedGaugesAreCalibratedBySpreads) {
  Reading reading = limits(GaugeError{12.0, 0.0});
  reading.at_least = -100.0;
  reading.spreads = {
      {0, LognormalSpread{280.0, 0.15}}, {1, NormalSpread{340.0, 20.0}}, {2, UniformSpread{360.0, 480.0}}};
  const auto true_value = [](std::mt19937_64& engine, std::size_t outcome) {
    if (outcome == 0) return std::lognormal_distribution<double>(std::log(280.0), 0.15)(engine);
    if (outcome == 1) return std::normal_distribution<double>(340.0, 20.0)(engine);
    return std::uniform_real_distribution<double>(360.0, 480.0)(engine);
  };
  expect_calibrated(reading, true_value, 12.0, 1, 6000);
  expect_calibrated(reading, true_value, 12.0, 2, 6000);
}

}  // namespace

// Readings that make no sense, each with the words that name it.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace {

using namespace faultodds;

ModelParts parts_with(const Reading& reading) {
  Variable test;
  test.name = "pressure";
  test.what = Test{};
  test.states = {{"good", ""}, {"low", ""}};
  test.distribution = FullTable{{}, Table(2, {0.9, 0.1})};
  test.test().reading = reading;
  ModelParts parts;
  parts.variables = {test};
  return parts;
}

/// Sound, with everything a reading can have.
Reading sound_reading() {
  Reading reading{.quantity = "pressure",
                  .unit = "kPa",
                  .bands = {{.outcome = 1, .from = {}, .below = 300.0}, {.outcome = 0, .from = 300.0, .below = {}}},
                  .source = "s"};
  reading.gauge_error = GaugeError{2.0, 0.01};
  reading.same_instrument = true;
  reading.at_least = 0.0;
  reading.at_most = 900.0;
  reading.spreads = {{0, NormalSpread{380.0, 20.0}}, {1, LognormalSpread{150.0, 0.5}}};
  return reading;
}

struct Damage {
  std::string title;
  std::function<void(Reading&)> damage;
  std::vector<std::string> words;
};

class DamagedReading : public testing::TestWithParam<Damage> {};

TEST(ValidationOfReadings, TheUndamagedOneIsFine) { EXPECT_NO_THROW(FaultModel{parts_with(sound_reading())}); }

TEST_P(DamagedReading, IsRefusedWithWords) {
  Reading reading = sound_reading();
  GetParam().damage(reading);
  try {
    const FaultModel model(parts_with(reading));
    FAIL() << "accepted";
  } catch (const ModelError& error) {
    ASSERT_EQ(error.problems().size(), 1U) << error.what();
    const Problem& problem = error.problems().front();
    EXPECT_EQ(problem.place, "pressure");
    for (const std::string& word : GetParam().words)
      EXPECT_NE((problem.found + "; " + problem.remedy).find(word), std::string::npos)
          << word << " in " << error.what();
  }
}

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

const std::vector<Damage> damages = {
    {"RangeReversed", [](Reading& r) { r.at_least = 1000.0; }, {"1000", "900", "lower one first"}},
    {"RangeNan", [](Reading& r) { r.at_most = nan; }, {"nan"}},
    {"RangeInfinite", [](Reading& r) { r.at_most = infinity; }, {"inf", "leave an open end out"}},
    {"LimitOutsideOfRange",
     [](Reading& r) { r.bands = {{.outcome = 1, .from = {}, .below = -5.0}}; },
     {"-5", "at_least"}},
    {"ErrorBelowZero",
     [](Reading& r) {
       r.gauge_error = GaugeError{-1.0, 0.01};
     },
     {"-1", "standard deviation"}},
    {"ErrorOfNothing",
     [](Reading& r) {
       r.gauge_error = GaugeError{0.0, 0.0};
     },
     {"above 0"}},
    {"ErrorInPercent",
     [](Reading& r) {
       r.gauge_error = GaugeError{0.0, 2.0};
     },
     {"2 of the reading", "below 1"}},
    {"ErrorNan",
     [](Reading& r) {
       r.gauge_error = GaugeError{nan, 0.0};
     },
     {"nan"}},
    {"SameInstrumentWithoutError", [](Reading& r) { r.gauge_error.reset(); }, {"same error", "gauge error"}},
    {"SpreadMissing", [](Reading& r) { r.spreads.pop_back(); }, {"none of \"low\""}},
    {"SpreadTwice", [](Reading& r) { r.spreads.push_back(r.spreads[0]); }, {"two spreads of \"good\""}},
    {"SpreadOfNothing",
     [](Reading& r) {
       r.spreads.push_back({2, NormalSpread{}});
     },
     {"outcome index 2", "2 outcomes"}},
    {"NormalWithoutWidth",
     [](Reading& r) {
       r.spreads[0].shape = NormalSpread{1.0, 0.0};
     },
     {"\"good\"", "above 0"}},
    {"NormalInfinite",
     [](Reading& r) {
       r.spreads[0].shape = NormalSpread{infinity, 1.0};
     },
     {"inf"}},
    {"LognormalBelowZero",
     [](Reading& r) {
       r.spreads[1].shape = LognormalSpread{-3.0, 1.0};
     },
     {"\"low\"", "median -3"}},
    {"LognormalWithoutWidth",
     [](Reading& r) {
       r.spreads[1].shape = LognormalSpread{3.0, 0.0};
     },
     {"log_sd 0"}},
    {"UniformReversed",
     [](Reading& r) {
       r.spreads[1].shape = UniformSpread{2.0, 1.0};
     },
     {"from 2 to 1"}},
};

const auto title = [](const testing::TestParamInfo<Damage>& info) { return info.param.title; };
INSTANTIATE_TEST_SUITE_P(All, DamagedReading, testing::ValuesIn(damages), title);

}  // namespace

// Readings in model files: what is read, written and refused.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "faultodds/io/model_json.hpp"
#include "io/model_json_checks.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using faultodds::testing::expect_round_trip;
using faultodds::testing::expect_single_problem;
using faultodds::testing::model_with;

std::string test_with(const std::string& reading) {
  return model_with(R"("tests": [{"name": "t", "prior": 0.5, "reading": {)" + reading + "}}]");
}

Reading read_reading(const std::string& reading) {
  const FaultModel model = read_model_json(test_with(reading));
  expect_round_trip(model);
  return model.variable(0).test().reading.value();
}

TEST(ModelJsonReadings, ReadsAllMembers) {
  const Reading reading = read_reading(R"("quantity": "difference of the wheels", "unit": "K", "difference": true,
      "limits": [{"outcome": "good", "below": 25}, {"outcome": "bad", "from": 25}],
      "spreads": [{"outcome": "good", "normal": {"mean": 5, "sd": 4}}, {"outcome": "bad", "lognormal": {"median": 60, "log_sd": 0.5}}],
      "gauge_error": {"fixed": 1.5, "share": 0.02}, "same_instrument": true, "at_least": -40, "at_most": 500, "source": "s")");
  const Reading wanted{.quantity = "difference of the wheels",
                       .unit = "K",
                       .bands = {{.outcome = 0, .from = {}, .below = 25.0}, {.outcome = 1, .from = 25.0, .below = {}}},
                       .source = "s",
                       .difference = true,
                       .gauge_error = GaugeError{1.5, 0.02},
                       .same_instrument = true,
                       .at_least = -40.0,
                       .at_most = 500.0,
                       .spreads = {{0, NormalSpread{5.0, 4.0}}, {1, LognormalSpread{60.0, 0.5}}}};
  EXPECT_EQ(reading, wanted);
}

TEST(ModelJsonReadings, ReadsTheShorterForms) {
  EXPECT_EQ(read_reading(R"("gauge_error": 2.5)").gauge_error, (GaugeError{2.5, 0.0}));
  EXPECT_EQ(read_reading(R"("gauge_error": {"share": 0.03})").gauge_error, (GaugeError{0.0, 0.03}));
  EXPECT_EQ(read_reading(R"("gauge_error": {"fixed": 1})").gauge_error, (GaugeError{1.0, 0.0}));
  EXPECT_EQ(read_reading(R"("unit": "V")"), (Reading{"", "V", {}, ""}));
  EXPECT_EQ(read_reading(R"("spreads": [{"outcome": "good", "uniform": {"from": 0, "to": 1}},
                            {"outcome": "bad", "uniform": {"from": 1, "to": 9}}])")
                .spreads,
            (std::vector<Spread>{{0, UniformSpread{0.0, 1.0}}, {1, UniformSpread{1.0, 9.0}}}));
}

TEST(ModelJsonReadings, RoundTripsRandomReadings) {
  support::Dice dice(31);
  const auto number = [&] { return (dice.uniform() - 0.3) * 1e3; };
  for (std::size_t round = 0; round < support::rounds(200); ++round) {
    Reading reading{.quantity = "q",
                    .unit = "kPa",
                    .bands = {},
                    .source = "",
                    .difference = dice.chance(0.5),
                    .gauge_error = {},
                    .same_instrument = false,
                    .at_least = {},
                    .at_most = {},
                    .spreads = {}};
    if (dice.chance(0.6)) {
      reading.gauge_error = GaugeError{dice.chance(0.5) ? dice.uniform() : 0.0, 0.01 * dice.uniform() + 1e-9};
      reading.same_instrument = dice.chance(0.5);
    }
    const double limit = number();
    if (dice.chance(0.7))
      reading.bands = {{.outcome = 1, .from = {}, .below = limit}, {.outcome = 0, .from = limit, .below = {}}};
    if (dice.chance(0.5)) reading.at_least = limit - 1.0 - dice.uniform();
    if (dice.chance(0.5)) reading.at_most = limit + 1.0 + dice.uniform();
    if (dice.chance(0.7)) {
      for (std::size_t s = 0; s < 2; ++s) {
        const double kind = dice.uniform();
        Spread spread{s, NormalSpread{number(), dice.uniform() + 1e-6}};
        if (kind < 0.3) spread.shape = LognormalSpread{dice.uniform() + 1e-6, dice.uniform() + 1e-6};
        if (kind > 0.7) spread.shape = UniformSpread{limit, limit + dice.uniform() + 1e-6};
        reading.spreads.push_back(spread);
      }
    }
    ModelParts parts;
    Variable test;
    test.name = "t";
    test.what = faultodds::Test{};
    test.states = {{"good", ""}, {"bad", ""}};
    test.distribution = FullTable{{}, Table(2, {0.5, 0.5})};
    test.test().reading = reading;
    parts.variables = {test};
    expect_round_trip(FaultModel(parts));
  }
}

TEST(ModelJsonReadings, ProblemsCarryTheirPlace) {
  struct Wrong {
    std::string reading;
    std::string place;
    std::vector<std::string> words;
  };
  const std::vector<Wrong> all = {
      {R"("gauge_eror": 1)", "tests.t.reading.gauge_eror", {"\"gauge_error\"?"}},
      {R"("gauge_error": "1 kPa")", "tests.t.reading.gauge_error", {"text", "\"share\""}},
      {R"("gauge_error": {"sd": 1, "fixed": 1})", "tests.t.reading.gauge_error.sd", {"fixed", "share"}},
      {R"("gauge_error": {"share": "2 %"})", "tests.t.reading.gauge_error.share", {"a number"}},
      {R"("at_least": "0")", "tests.t.reading.at_least", {"a number"}},
      {R"("difference": 1)", "tests.t.reading.difference", {"true or false"}},
      {R"("spreads": [{"outcome": "good", "normal": {"mean": 1, "sd": 1}}, {"outcome": "bda", "normal": {"mean": 1, "sd": 1}}])",
       "tests.t.reading.spreads[1].outcome",
       {"\"bad\"?"}},
      {R"("spreads": [{"outcome": "good"}])", "tests.t.reading.spreads[0]", {"exactly one", "lognormal"}},
      {R"("spreads": [{"outcome": "good", "normal": {"mean": 1, "sd": 1}, "uniform": {"from": 1, "to": 2}}])",
       "tests.t.reading.spreads[0]",
       {"exactly one"}},
      {R"("spreads": [{"outcome": "good", "normal": {"mean": 1}}])", "tests.t.reading.spreads[0].normal", {"\"sd\""}},
      {R"("spreads": [{"outcome": "good", "lognormal": {"median": 1, "sd": 2, "log_sd": 1}}])",
       "tests.t.reading.spreads[0].lognormal.sd",
       {"log_sd"}},
      {R"("spreads": [{"outcome": "good", "normal": 3}])", "tests.t.reading.spreads[0].normal", {"an object"}},
      {R"("spreads": {"good": 3})", "tests.t.reading.spreads", {"a list"}},
  };
  for (const Wrong& wrong : all) {
    SCOPED_TRACE(wrong.reading);
    expect_single_problem(test_with(wrong.reading), wrong.place, wrong.words);
  }
}

}  // namespace

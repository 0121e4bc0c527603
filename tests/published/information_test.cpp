// Expected information gain against mutual informations of textbooks. What a channel sends is the fault, what it
// receives the outcome of a test.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "support/build.hpp"
#include "support/enumeration.hpp"

namespace {

using namespace faultodds;
using support::Builder;

double h(double p) { return p <= 0.0 || p >= 1.0 ? 0.0 : -p * std::log2(p) - (1.0 - p) * std::log2(1.0 - p); }

std::vector<std::string> numbered(std::size_t count) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < count; ++i) names.push_back(std::to_string(i));
  return names;
}

/// The gain of "received" about "sent" by rank_tests; checked against enumeration.
double gain_of_channel(const std::vector<double>& sent, const std::vector<double>& rows) {
  Builder b;
  const std::size_t from = b.variable("sent", numbered(sent.size()), {}, sent, Component{});
  const std::size_t to = b.variable("received", numbered(rows.size() / sent.size()), {from}, rows, Test{});
  const FaultModel model = b.model();
  RankOptions options;
  options.targets = {from};
  options.tests = {to};
  const Ranking ranking = rank_tests(Case{Solver(model)}, options);
  const double right = support::Enumeration(model).mutual_information({}, {from}, {to});
  if (ranking.tests.empty()) {
    EXPECT_NEAR(right, 0.0, 1e-12);
    return 0.0;
  }
  EXPECT_NEAR(ranking.tests[0].gain_bits, right, 1e-10);
  return ranking.tests[0].gain_bits;
}

// Cover & Thomas, "Elements of Information Theory", 2nd ed. 2006, section 7.1.4: capacity 1 - h(p), at uniform input.
TEST(Information, BinarySymmetricChannel) {
  for (const double p : {0.0, 0.01, 0.1, 0.11, 0.25, 0.4, 0.5, 0.9, 1.0}) {
    EXPECT_NEAR(gain_of_channel({0.5, 0.5}, {1.0 - p, p, p, 1.0 - p}), 1.0 - h(p), 1e-12) << p;
  }
}

// Section 7.1.5: binary erasure channel, capacity 1 - alpha.
TEST(Information, BinaryErasureChannel) {
  for (const double alpha : {0.0, 0.05, 0.5, 0.99, 1.0}) {
    const double kept = 1.0 - alpha;
    EXPECT_NEAR(gain_of_channel({0.5, 0.5}, {kept, alpha, 0.0, 0.0, alpha, kept}), kept, 1e-12) << alpha;
  }
}

// Section 7.1.3: noisy typewriter of 26 letters, log2 13.
TEST(Information, NoisyTypewriter) {
  std::vector<double> rows(26 * 26, 0.0);
  for (std::size_t letter = 0; letter < 26; ++letter) {
    rows[letter * 26 + letter] = 0.5;
    rows[letter * 26 + (letter + 1) % 26] = 0.5;
  }
  EXPECT_NEAR(gain_of_channel(std::vector<double>(26, 1.0 / 26.0), rows), std::log2(13.0), 1e-12);
}

// Problem 7.8: the Z-channel with crossover 1/2 has capacity log2(5) - 2, reached if a one is sent with 2/5.
TEST(Information, ZChannel) {
  EXPECT_NEAR(gain_of_channel({0.6, 0.4}, {1.0, 0.0, 0.5, 0.5}), std::log2(5.0) - 2.0, 1e-12);
  for (const double sent : {0.3, 0.5}) {
    EXPECT_LT(gain_of_channel({1.0 - sent, sent}, {1.0, 0.0, 0.5, 0.5}), std::log2(5.0) - 2.0);
  }
}

// Example 2.2.1: H(X) = 7/4, H(X|Y) = 11/8, I(X;Y) = 3/8 bits.
TEST(Information, JointTableOfCoverAndThomas) {
  const double joint[4][4] = {{1.0 / 8, 1.0 / 16, 1.0 / 16, 1.0 / 4},  // by x, then y
                              {1.0 / 16, 1.0 / 8, 1.0 / 16, 0.0},
                              {1.0 / 32, 1.0 / 32, 1.0 / 16, 0.0},
                              {1.0 / 32, 1.0 / 32, 1.0 / 16, 0.0}};
  std::vector<double> sent;
  std::vector<double> rows;
  for (const auto& of_x : joint) {
    const double px = of_x[0] + of_x[1] + of_x[2] + of_x[3];
    sent.push_back(px);
    for (const double p : of_x) rows.push_back(p / px);
  }
  EXPECT_NEAR(gain_of_channel(sent, rows), 3.0 / 8.0, 1e-12);
}

// Three tests of one fault: a noisy one, a perfect one, a coin. Common practice, no source; the values by hand.
TEST(Information, NoisyPerfectAndUselessTest) {
  const auto ranking_at = [](double prior) {
    Builder b;
    const std::size_t fault = b.component("H", prior);
    b.variable("T1", {"-", "+"}, Examination{.component = fault, .detection = {0.9}, .false_alarm = 0.1},
               faultodds::Test{});
    b.variable("T2", {"-", "+"}, Examination{.component = fault, .detection = {1.0}, .false_alarm = 0.0},
               faultodds::Test{});
    b.variable("T3", {"-", "+"}, {}, {0.5, 0.5}, faultodds::Test{});
    return rank_tests(Case{Solver(b.model())}, {});
  };
  const Ranking even = ranking_at(0.5);
  ASSERT_GE(even.tests.size(), 2U);
  EXPECT_EQ(even.tests[0].test, 2U);
  EXPECT_NEAR(even.tests[0].gain_bits, 1.0, 1e-12);
  EXPECT_EQ(even.tests[1].test, 1U);
  EXPECT_NEAR(even.tests[1].gain_bits, 0.531004, 5e-7);
  for (std::size_t i = 2; i < even.tests.size(); ++i) EXPECT_EQ(even.tests[i].gain_bits, 0.0);
  const Ranking rare = ranking_at(0.01);
  EXPECT_NEAR(rare.entropy_bits, 0.080793, 5e-7);
  EXPECT_NEAR(rare.tests[0].gain_bits, 0.080793, 5e-7);
  EXPECT_NEAR(rare.tests[1].gain_bits, 0.024858, 5e-7);
}

// The gain is conditional on what is known: after T1=+ a second independent test is worth 0.211081 bits (before:
// 0.531004), an exact copy of T1 nothing, and T1 itself is not offered again.
TEST(Information, GainIsConditionalOnTheFindings) {
  Builder b;
  const std::size_t fault = b.component("H", 0.5);
  const std::size_t first = b.variable(
      "T1", {"-", "+"}, Examination{.component = fault, .detection = {0.9}, .false_alarm = 0.1}, faultodds::Test{});
  const std::size_t second = b.variable(
      "T2", {"-", "+"}, Examination{.component = fault, .detection = {0.9}, .false_alarm = 0.1}, faultodds::Test{});
  const std::size_t copy = b.variable("T1b", {"-", "+"}, {first}, {1.0, 0.0, 0.0, 1.0}, faultodds::Test{});
  Case current{Solver(b.model())};
  current.add_finding(first, 1);
  const Ranking ranking = rank_tests(current, {});
  EXPECT_NEAR(ranking.entropy_bits, h(0.1), 1e-12);
  ASSERT_FALSE(ranking.tests.empty());
  EXPECT_EQ(ranking.tests[0].test, second);
  EXPECT_NEAR(ranking.tests[0].gain_bits, 0.211081, 5e-7);
  EXPECT_NEAR(ranking.tests[0].outcomes[1].probability, 0.82, 1e-12);
  for (const TestForecast& forecast : ranking.tests) {
    EXPECT_NE(forecast.test, first);
    if (forecast.test == copy) {
      EXPECT_EQ(forecast.gain_bits, 0.0);
    }
  }
}

}  // namespace

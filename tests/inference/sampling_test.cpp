// Estimates by sampling against enumeration: not equal to it, but as far off as their standard errors say.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/sampling.hpp"

#include <gtest/gtest.h>

#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <cstdint>
#include <vector>

#include "faultodds/inference/network/uniform.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

struct Deviations {
  std::vector<double> of_posteriors;  // in standard errors, one a model
  std::vector<double> of_evidence;
};

Deviations deviations_of_random_models() {
  Deviations deviations;
  Dice dice(20);
  while (deviations.of_posteriors.size() < 60) {
    const FaultModel model = support::random_model(dice);
    const std::vector<Finding> findings = support::random_findings(dice, model, dice.between(1, 2));
    const Enumeration oracle(model);
    if (oracle.evidence(findings) < 1e-3) continue;
    const SampledPosteriors sampled = sample_posteriors(model, findings, {20'000, dice.between(1, 1U << 30U)});
    const std::vector<std::vector<double>> exact = oracle.posteriors(findings);
    const std::size_t v = dice.between(0, model.size() - 1);
    const Estimate& estimate = sampled.of_variable[v][0];
    if (exact[v][0] < 0.02 || exact[v][0] > 0.98) continue;  // errors of rare states are far from normal
    deviations.of_posteriors.push_back((estimate.value - exact[v][0]) / estimate.standard_error);
    if (sampled.log_evidence.standard_error < 1e-9) continue;  // known exactly
    deviations.of_evidence.push_back((sampled.log_evidence.value - std::log(oracle.evidence(findings))) /
                                     sampled.log_evidence.standard_error);
  }
  return deviations;
}

/// Squared standard normal deviations add up to a chi-squared value (NIST/SEMATECH e-Handbook of Statistical Methods,
/// section 1.3.6.6.6).
void expect_standard_normal(const std::vector<double>& deviations) {
  const boost::math::chi_squared law(static_cast<double>(deviations.size()));
  double sum = 0.0;
  for (const double deviation : deviations) sum += deviation * deviation;
  EXPECT_GT(sum, boost::math::quantile(law, 1e-4));
  EXPECT_LT(sum, boost::math::quantile(law, 1.0 - 1e-4));
}

TEST(Sampling, IsOffByAsMuchAsItsStandardErrorsSay) {
  const Deviations deviations = deviations_of_random_models();
  ASSERT_GT(deviations.of_evidence.size(), 30U);
  expect_standard_normal(deviations.of_posteriors);
  expect_standard_normal(deviations.of_evidence);
}

TEST(Sampling, UniformNumbersNeverReachTheEndsOfTheirInterval) {
  EXPECT_GT(detail::uniform(0), 0.0);
  EXPECT_LT(detail::uniform(~std::uint64_t{0}), 1.0);
  EXPECT_EQ(detail::uniform(0) + detail::uniform(~std::uint64_t{0}), 1.0);
}

TEST(Sampling, TheSameSeedGivesTheSameBytes) {
  Dice dice(3);
  const FaultModel model = support::random_model(dice);
  const auto values = [&](std::uint64_t seed) {
    std::vector<double> all;
    for (const auto& of_states : sample_posteriors(model, {}, {500, seed}).of_variable) {
      for (const Estimate& estimate : of_states) all.push_back(estimate.value);
    }
    return all;
  };
  EXPECT_EQ(values(7), values(7));
  EXPECT_NE(values(7), values(8));
}

TEST(Sampling, WithoutFindingsEverySampleCountsAndTheEvidenceIsOne) {
  Dice dice(4);
  const SampledPosteriors sampled = sample_posteriors(support::random_model(dice), {}, {1000, 1});
  EXPECT_DOUBLE_EQ(sampled.effective_samples, 1000.0);
  EXPECT_DOUBLE_EQ(sampled.log_evidence.value, 0.0);
  EXPECT_DOUBLE_EQ(sampled.log_evidence.standard_error, 0.0);
}

TEST(Sampling, AThousandUnlikelyFindingsDoNotUnderflow) {
  ModelParts parts;
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < 1000; ++i) {
    Variable coin;
    coin.name = "coin" + std::to_string(i);
    coin.states = {{"heads", ""}, {"tails", ""}};
    coin.distribution = FullTable{{}, Table(2, {0.999, 0.001})};
    parts.variables.push_back(coin);
    findings.push_back({.variable = i, .weights = {0.0, 1.0}, .state = 1});
  }
  const SampledPosteriors sampled = sample_posteriors(FaultModel(parts), findings, {10, 1});
  EXPECT_NEAR(sampled.log_evidence.value, 1000.0 * std::log(0.001), 1e-9);
}

TEST(Sampling, RefusesWhatItCannotSample) {
  Dice dice(5);
  EXPECT_THROW((void)sample_posteriors(support::random_markov_network(dice), {}), ArgumentError);
  const FaultModel model = support::random_model(dice);
  EXPECT_THROW((void)sample_posteriors(model, {}, {0, 1}), ArgumentError);
  const std::vector<Finding> nothing{
      {.variable = 0, .weights = std::vector<double>(model.state_count(0), 0.0), .state = std::nullopt}};
  EXPECT_THROW((void)sample_posteriors(model, nothing, {100, 1}), ArgumentError);
  EXPECT_THROW((void)sample_posteriors(model, {}, {100, 1}, Stop::after(0.0)), Stopped);
  Finding first{.variable = 0, .weights = std::vector<double>(model.state_count(0), 0.0), .state = 0};
  first.weights[0] = 1.0;
  EXPECT_THROW((void)sample_posteriors(model, std::vector<Finding>{first, first}, {100, 1}), ArgumentError);
  first.weights.push_back(1.0);
  EXPECT_THROW((void)sample_posteriors(model, std::vector<Finding>{first}, {100, 1}), ArgumentError);
}

}  // namespace

// Gains, entropies and forecasts of random models against enumeration of all joint states. What is worked out by
// propagations with weights is checked against tables, and both ways of compiling a model against each other.
// SPDX-License-Identifier: BSD-3-Clause

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numeric>

#include "faultodds/decision/ranking/exponential_sum.hpp"
#include "faultodds/decision/ranking/information.hpp"
#include "faultodds/decision/ranking/noisy_entropy.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace faultodds {
namespace {

using support::Dice;
using support::Enumeration;

constexpr double tolerance = 1e-10;

struct Trial {
  FaultModel model;
  std::vector<Finding> findings;
  std::vector<VariableIndex> targets;
  std::vector<VariableIndex> tests;
};

/// A random model with possible findings; some variables without a finding are targets, the others tests.
Trial random_trial(Dice& dice, const support::RandomModelOptions& options) {
  for (;;) {
    Trial trial{support::random_model(dice, options), {}, {}, {}};
    trial.findings = support::random_findings(dice, trial.model, dice.below(4));
    if (Enumeration(trial.model).evidence(trial.findings) <= 0.0) continue;
    for (std::size_t v = 0; v < trial.model.size(); ++v) {
      if (finding_of(trial.findings, v) != nullptr) continue;
      (dice.chance(0.4) ? trial.targets : trial.tests).push_back(v);
    }
    if (!trial.targets.empty() && !trial.tests.empty()) return trial;
  }
}

double right_gain(const Enumeration& oracle, const Trial& trial, std::size_t test, GainKind kind) {
  if (kind == GainKind::joint) return oracle.mutual_information(trial.findings, trial.targets, {test});
  double bits = 0.0;
  for (const std::size_t target : trial.targets) bits += oracle.mutual_information(trial.findings, {target}, {test});
  return bits;
}

void check_forecast(const Enumeration& oracle, const Trial& trial, const TestForecast& forecast) {
  const std::vector<double> outcomes = oracle.joint(trial.findings, {forecast.test});
  for (const OutcomeForecast& outcome : forecast.outcomes) {
    EXPECT_NEAR(outcome.probability, outcomes[outcome.state], tolerance);
    if (outcomes[outcome.state] < 1e-6) continue;  // a posterior under what hardly ever comes is known less sharply
    std::vector<Finding> after = trial.findings;
    after.push_back(
        {.variable = forecast.test, .weights = std::vector<double>(outcomes.size(), 0.0), .state = outcome.state});
    after.back().weights[outcome.state] = 1.0;
    for (const FaultProbability& fault : outcome.leading) {
      EXPECT_NEAR(fault.probability, oracle.joint(after, {fault.component})[fault.state], 1e-9);
    }
  }
}

void check_rankings(Dice& dice, const support::RandomModelOptions& options) {
  const Trial trial = random_trial(dice, options);
  const Enumeration oracle(trial.model);
  for (const double whole_tree_entries : {0.0, 1e9}) {
    Case current(Solver(trial.model, {.whole_tree_entries = whole_tree_entries}));
    current.add(trial.findings);
    for (const GainKind kind : {GainKind::joint, GainKind::per_component}) {
      RankOptions ranking_options;
      ranking_options.targets = trial.targets;
      ranking_options.tests = trial.tests;
      ranking_options.gain = kind;
      const Ranking ranking = rank_tests(current, ranking_options);
      ASSERT_EQ(ranking.tests.size(), trial.tests.size());
      if (kind == GainKind::joint) {
        EXPECT_NEAR(ranking.entropy_bits, oracle.entropy(trial.findings, trial.targets), tolerance);
      }
      for (const TestForecast& forecast : ranking.tests) {
        EXPECT_NEAR(forecast.gain_bits, right_gain(oracle, trial, forecast.test, kind), tolerance);
        EXPECT_GE(forecast.gain_bits, 0.0);
        check_forecast(oracle, trial, forecast);
      }
    }
  }
}

TEST(Gains, OfRandomModels) {
  Dice dice(20261);
  for (std::size_t round = 0; round < support::rounds(300); ++round) check_rankings(dice, {});
}

TEST(Gains, OfRandomModelsWithManyParents) {
  Dice dice(20262);
  support::RandomModelOptions options;
  options.fewest_variables = 7;
  options.max_parents = 8;
  options.max_states = 3;
  for (std::size_t round = 0; round < support::rounds(150); ++round) check_rankings(dice, options);
}

/// One noisy-MAX effect over causes that share a context, so that they are not independent.
FaultModel effect_of_many(Dice& dice, std::size_t causes, std::size_t grades, bool leaks) {
  ModelParts parts;
  const auto variable = [&parts](std::string name, std::size_t states, Distribution distribution) {
    Variable made;
    made.name = std::move(name);
    for (std::size_t s = 0; s < states; ++s) made.states.push_back({"s" + std::to_string(s), {}});
    made.distribution = std::move(distribution);
    if (made.name.starts_with("cause")) made.what = Component{};
    parts.variables.push_back(std::move(made));
  };
  variable("context", 2, FullTable{{}, Table(2, std::vector<double>{0.7, 0.3})});
  NoisyMax noisy;
  noisy.leak.assign(grades, 0.0);
  noisy.leak[0] = leaks ? 0.95 : 1.0;
  if (leaks) noisy.leak[1] = 1.0 - noisy.leak[0];
  for (std::size_t c = 0; c < causes; ++c) {
    const double p = 0.3 * dice.uniform();
    const double q = 0.3 * dice.uniform();
    variable("cause" + std::to_string(c), 2, FullTable{{0}, Table(2, std::vector<double>{1.0 - p, p, 1.0 - q, q})});
    std::vector<double> effect(grades, 0.0);
    effect[0] = 1.0;
    const std::vector<double> row = dice.row(grades);
    effect.insert(effect.end(), row.begin(), row.end());
    noisy.links.push_back({.cause = c + 1, .effect = Table(grades, std::move(effect)), .only_when = {}, .source = {}});
  }
  variable("effect", grades, std::move(noisy));
  return FaultModel(std::move(parts));
}

TEST(Gains, OfNoisyEffectsWithManyCauses) {
  Dice dice(20263);
  for (std::size_t round = 0; round < support::rounds(40); ++round) {
    const std::size_t causes = dice.between(5, 9);
    const std::size_t grades = dice.between(2, 4);
    const FaultModel model = effect_of_many(dice, causes, grades, dice.chance(0.7));
    const std::size_t effect = model.index_of("effect");
    std::vector<VariableIndex> targets(causes);
    std::iota(targets.begin(), targets.end(), std::size_t{1});
    Case current(Solver(model, {.whole_tree_entries = 0.0}));
    const std::optional<double> left = noisy_entropy_bits(current, effect);
    ASSERT_TRUE(left.has_value());
    const Enumeration oracle(model);
    const double right = oracle.entropy({}, {effect}) - oracle.mutual_information({}, targets, {effect});
    EXPECT_NEAR(*left, right, tolerance) << causes << " causes, " << grades << " grades";
  }
}

/// 30 causes, where a table would have 2^30 rows: the causes are alike and independent, so that the number of those
/// present is binomial and the expectation is a sum of 31 terms.
TEST(Gains, OfThirtyCausesAgainstTheBinomialDistribution) {
  constexpr std::size_t causes = 30;
  constexpr double prior = 0.1;
  constexpr double strength = 0.4;
  constexpr double leak = 0.02;
  ModelParts parts;
  NoisyMax noisy{{1.0 - leak, leak}, {}};
  for (std::size_t c = 0; c <= causes; ++c) {
    Variable made;
    made.name = c == causes ? "effect" : "cause" + std::to_string(c);
    made.states = {{"absent", {}}, {"present", {}}};
    if (c < causes) {
      made.distribution = FullTable{{}, Table(2, std::vector<double>{1.0 - prior, prior})};
      noisy.links.push_back({.cause = c,
                             .effect = Table(2, std::vector<double>{1.0, 0.0, 1.0 - strength, strength}),
                             .only_when = {},
                             .source = {}});
    } else {
      made.distribution = noisy;
    }
    parts.variables.push_back(std::move(made));
  }
  double right = 0.0;
  double binomial = std::pow(1.0 - prior, static_cast<double>(causes));
  for (std::size_t k = 0; k <= causes; ++k) {
    const double absent = (1.0 - leak) * std::pow(1.0 - strength, static_cast<double>(k));
    right += binomial * entropy_bits(std::vector<double>{absent, 1.0 - absent});
    binomial *= static_cast<double>(causes - k) / static_cast<double>(k + 1) * prior / (1.0 - prior);
  }
  const Case current{Solver(FaultModel(std::move(parts)))};
  const std::optional<double> left = noisy_entropy_bits(current, causes);
  ASSERT_TRUE(left.has_value());
  EXPECT_NEAR(*left, right, tolerance);
}

/// sum_{k>=2} r^k / (k (k - 1)) = r + (1 - r) ln(1 - r): integrate the logarithmic series of -ln(1 - r).
TEST(Gains, EntropyTermsAddUpToTheLogarithm) {
  for (const double largest : {0.0, 0.3, 0.9, 0.99, 0.999, 0.999999, 1.0 - 1e-12, 1.0}) {
    const std::vector<PowerTerm> terms = entropy_terms(largest);
    for (int i = 0; i <= 2000; ++i) {
      const double r = largest * (1.0 - std::pow(1e-15, static_cast<double>(i) / 2000.0));
      double sum = 0.0;
      for (const PowerTerm& term : terms) {
        EXPECT_GT(term.weight, 0.0);
        sum += term.weight * std::pow(r, term.power);
      }
      EXPECT_NEAR(sum, r < 1.0 ? r + (1.0 - r) * std::log1p(-r) : 1.0, 2e-11) << "largest " << largest << ", r " << r;
    }
  }
}

/// Targets that leave out a parent of the test are tied together by everything found; if that table is too large,
/// all tests are ranked per component, or the test is left out, as the caller says.
TEST(Gains, PerComponentWhereJointOnesAreOutOfReach) {
  Dice dice(20264);
  const FaultModel model = effect_of_many(dice, 9, 2, true);
  RankOptions options;
  for (std::size_t c = 1; c <= 8; ++c) options.targets.push_back(c);
  options.tests = {model.index_of("effect")};
  options.joint_entries = 64;
  const Case current{Solver(model)};
  const Ranking ranking = rank_tests(current, options);
  EXPECT_EQ(ranking.gain, GainKind::per_component);
  ASSERT_EQ(ranking.tests.size(), 1U);
  options.joint_only = true;
  const Ranking joint = rank_tests(current, options);
  EXPECT_EQ(joint.gain, GainKind::joint);
  EXPECT_TRUE(joint.entropy_is_bound);
  ASSERT_EQ(joint.left_out.size(), 1U);
  EXPECT_TRUE(std::isnan(joint.left_out[0].gain_bits));
}

}  // namespace
}  // namespace faultodds

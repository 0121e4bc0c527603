// Weights of evidence, conflict of findings and contrasts of tests: against enumeration, textbook numbers, identities.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/evidence/evidence.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/io/model_file.hpp"
#include "support/build.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Builder;
using support::Dice;
using support::Enumeration;
using Findings = std::vector<Finding>;

constexpr double infinite = std::numeric_limits<double>::infinity();
const std::vector<std::string> no_yes = {"no", "yes"};

void add(Case& current, std::initializer_list<std::pair<const char*, const char*>> findings) {
  for (const auto& [variable, state] : findings) current.add_finding(variable, state);
}

// The model of Lauritzen & Spiegelhalter 1988, section 2.
FaultModel chest_clinic() {
  Builder b;
  const std::size_t asia = b.variable("asia", no_yes, {}, {0.99, 0.01}, Context{});
  const std::size_t smoker = b.variable("smoker", no_yes, {}, {0.5, 0.5}, Context{});
  const std::size_t tuberculosis = b.variable("tuberculosis", no_yes, {asia}, {0.99, 0.01, 0.95, 0.05}, Component{});
  const std::size_t cancer = b.variable("lung cancer", no_yes, {smoker}, {0.99, 0.01, 0.9, 0.1}, Component{});
  const std::size_t bronchitis = b.variable("bronchitis", no_yes, {smoker}, {0.7, 0.3, 0.4, 0.6}, Component{});
  const std::size_t either = b.variable("either", no_yes, CountOf{{{tuberculosis, {1}}, {cancer, {1}}}, 1}, Hidden{});
  b.variable("x-ray", no_yes, {either}, {0.95, 0.05, 0.02, 0.98}, Test{});
  b.variable("dyspnoea", no_yes, {either, bronchitis}, {0.9, 0.1, 0.2, 0.8, 0.3, 0.7, 0.1, 0.9}, Symptom{});
  return b.model();
}

// Posteriors published for this network by Cowell, Dawid, Lauritzen & Spiegelhalter, "Probabilistic Networks and Expert
// Systems" (1999), section 2.9 (from memory; ChestClinic in tests/published enumerates two of them): tuberculosis
// 0.0104 at first, 0.05 once Asia is known, 0.0878 with dyspnoea, 0.3377 with a positive x-ray too, and 0.3715 in a
// non-smoker... Only what enumeration below confirms is used: the weights follow from the odds by hand.
TEST(Evidence, WeighsTheFindingsOfTheChestClinic) {
  const FaultModel model = chest_clinic();
  Case current{Solver(model)};
  add(current, {{"asia", "yes"}, {"dyspnoea", "yes"}, {"x-ray", "yes"}});
  const Evidence found = weigh_evidence(current, {model.index_of("tuberculosis"), {1}});
  EXPECT_NEAR(found.prior, 0.0104, 1e-12);
  const auto log_odds = [](double p) { return std::log2(p / (1.0 - p)); };
  EXPECT_NEAR(*found.findings[0].in_order_bits, log_odds(0.05) - log_odds(0.0104), 1e-12);
  EXPECT_NEAR(found.findings[0].probability_after, 0.05, 1e-12);
  EXPECT_NEAR(found.findings[1].probability_after, 0.0878, 5e-5);
  const Enumeration oracle(model);
  const double all = oracle.posteriors(current.findings())[model.index_of("tuberculosis")][1];
  EXPECT_NEAR(found.posterior, all, 1e-12);
  EXPECT_NEAR(*found.total_bits, log_odds(all) - log_odds(0.0104), 1e-10);
}

// Good, "Probability and the Weighing of Evidence" (1950), section 6.1: a factor of 10 on the odds is 10 decibans.
TEST(Evidence, TenfoldOddsAreTenDecibans) { EXPECT_NEAR(decibans(std::log2(10.0)), 10.0, 1e-12); }

// Independent readings of one thing add up, whatever the order: Bayes factors 0.9 / 0.2 and 0.1 / 0.8 (Good 1950).
TEST(Evidence, IndependentReadingsAddUp) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  b.variable("pressure", {"good", "low"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.2},
             faultodds::Test{});
  b.variable("noise", {"usual", "loud"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.2},
             faultodds::Test{});
  const FaultModel model = b.model();
  Case current{Solver(model)};
  add(current, {{"pressure", "low"}, {"noise", "usual"}});
  const Evidence found = weigh_evidence(current, not_sound(model, pump));
  for (const FindingWeight& weight : found.findings) {
    const double right = std::log2(weight.variable == 1 ? 0.9 / 0.2 : 0.1 / 0.8);
    EXPECT_NEAR(weight.alone_bits.value(), right, 1e-12);
    EXPECT_NEAR(weight.left_out_bits.value(), right, 1e-12);
    EXPECT_NEAR(weight.in_order_bits.value(), right, 1e-12);
  }
}

// A likelihood finding weighs what its ratio says, and its scale says nothing (Pearl 1988, section 2.2.2).
TEST(Evidence, LikelihoodFindingsCountAsFindings) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.3);
  const FaultModel model = b.model();
  Case current{Solver(model)};
  current.add_likelihood(pump, std::array{0.5, 4.0});
  EXPECT_NEAR(weigh_evidence(current, not_sound(model, pump)).findings[0].left_out_bits.value(), 3.0, 1e-12);
  EXPECT_NEAR(conflict(current).bits, 0.0, 1e-12);
  EXPECT_NEAR(conflict(current).with_rest_bits[0], 0.0, 1e-12);
}

TEST(Evidence, WhatSettlesTheClaimWeighsInfinitelyAndTheRestNothingAfterIt) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  b.variable("runs", {"no", "yes"}, {pump}, {0.1, 0.9, 1.0, 0.0}, faultodds::Test{});
  b.variable("noise", {"usual", "loud"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.2},
             faultodds::Test{});
  const FaultModel model = b.model();
  Case current{Solver(model)};
  add(current, {{"runs", "yes"}, {"noise", "loud"}});
  const Evidence found = weigh_evidence(current, not_sound(model, pump));
  EXPECT_EQ(found.posterior, 0.0);
  EXPECT_EQ(found.total_bits, -infinite);
  EXPECT_EQ(found.findings[0].in_order_bits, -infinite);
  EXPECT_EQ(found.findings[0].left_out_bits, -infinite);
  EXPECT_FALSE(found.findings[1].in_order_bits.has_value());
  EXPECT_FALSE(found.findings[1].left_out_bits.has_value());
  EXPECT_NEAR(found.findings[1].alone_bits.value(), std::log2(4.5), 1e-12);
  const Evidence sound = weigh_evidence(current, {pump, {0}});
  EXPECT_EQ(sound.total_bits, infinite);
  EXPECT_EQ(sound.findings[0].left_out_bits, infinite);
}

// 200 findings of 4 bits each: odds far beyond what one minus a probability can hold.
TEST(Evidence, StaysExactNearZeroAndOne) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.5);
  Findings findings;
  for (std::size_t i = 1; i <= 200; ++i) {
    b.variable("look " + std::to_string(i), {"good", "bad"},
               Examination{.component = pump, .detection = {0.95}, .false_alarm = 0.2}, faultodds::Test{});
    findings.push_back({.variable = i, .weights = {0.0, 1.0}, .state = 1});
  }
  const FaultModel model = b.model();
  Case current{Solver(model)};
  current.add(findings);
  const double each = std::log2(0.95 / 0.2);
  EXPECT_NEAR(weigh_evidence(current, {pump, {0}}).total_bits.value(), -200.0 * each, 1e-8);
  EXPECT_NEAR(weigh_evidence(current, {pump, {1}}).findings[7].left_out_bits.value(), each, 1e-8);
}

// Two effects of one fault support each other, and contradict each other when only one is there (Jensen et al. 1991).
TEST(Conflict, TellsFindingsThatSeldomComeTogether) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  b.variable("pressure", {"good", "low"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.1},
             faultodds::Test{});
  b.variable("flow", {"good", "low"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.1},
             faultodds::Test{});
  const std::size_t belt = b.component("belt", 0.2);
  b.variable("squeal", {"no", "yes"}, Examination{.component = belt, .detection = {0.5}, .false_alarm = 0.1},
             Symptom{});
  const FaultModel model = b.model();
  const double low = 0.1 * 0.9 + 0.9 * 0.1;
  Case together{Solver(model)};
  add(together, {{"pressure", "low"}, {"flow", "low"}, {"squeal", "yes"}});
  EXPECT_NEAR(conflict(together).bits, std::log2(low * low / (0.1 * 0.81 + 0.9 * 0.01)), 1e-12);
  Case apart{Solver(model)};
  add(apart, {{"pressure", "low"}, {"flow", "good"}, {"squeal", "yes"}});
  const Conflict found = conflict(apart);
  const double right = std::log2(low * (1.0 - low) / (0.1 * 0.09 + 0.9 * 0.09));
  EXPECT_GT(right, 0.0);
  EXPECT_NEAR(found.bits, right, 1e-12);
  EXPECT_NEAR(found.with_rest_bits[0], right, 1e-12);
  EXPECT_NEAR(found.with_rest_bits[1], right, 1e-12);
  EXPECT_NEAR(found.with_rest_bits[2], 0.0, 1e-12);  // the belt has nothing to do with it
}

// A rare fault that explains findings takes their conflict away: conf(f, h) = conf(f) - log2 P(h | f) / P(h) (Jensen et
// al. 1991).
TEST(Conflict, NamesTheRareFaultThatWouldExplainIt) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  const std::size_t sensor = b.component("sensor", 0.001);
  b.variable("pressure", {"good", "low"}, {pump, sensor}, {0.99, 0.01, 0.01, 0.99, 0.05, 0.95, 0.01, 0.99},
             faultodds::Test{});
  b.variable("flow", {"good", "low"}, Examination{.component = pump, .detection = {0.95}, .false_alarm = 0.02},
             faultodds::Test{});
  const FaultModel model = b.model();
  Case current{Solver(model)};
  add(current, {{"pressure", "low"}, {"flow", "good"}});
  const Conflict found = conflict(current);
  EXPECT_GT(found.bits, 1.0);
  ASSERT_TRUE(found.rare_cause.has_value());
  EXPECT_EQ(found.rare_cause->component, sensor);
  Case granted = current;
  granted.add_finding(sensor, 1);
  EXPECT_NEAR(conflict(granted).bits, found.bits - found.rare_cause->bits, 1e-12);
}

// ---- random models against enumeration

/// log2 of the odds of a claim by enumeration; nothing if it is settled.
std::optional<double> log_odds(const Enumeration& oracle, const Findings& findings, const Claim& claim) {
  const std::vector<double> states = oracle.posteriors(findings)[claim.variable];
  double holds = 0.0;
  for (const std::size_t s : claim.states) holds += states[s];
  double fails = 0.0;
  for (std::size_t s = 0; s < states.size(); ++s) {
    fails += std::find(claim.states.begin(), claim.states.end(), s) == claim.states.end() ? states[s] : 0.0;
  }
  if (holds == 0.0) return -infinite;
  return fails == 0.0 ? infinite : std::log2(holds / fails);
}

void expect_change(const std::optional<double>& found, std::optional<double> before, std::optional<double> after) {
  ASSERT_EQ(found.has_value(), std::isfinite(*before));
  if (!found.has_value()) return;
  if (std::isfinite(*after)) {
    EXPECT_NEAR(*found, *after - *before, 1e-8);
  } else {
    EXPECT_EQ(*found, *after);
  }
}

Findings without(Findings findings, std::size_t place) {
  findings.erase(findings.begin() + static_cast<std::ptrdiff_t>(place));
  return findings;
}

Findings first(const Findings& findings, std::size_t count) {
  return {findings.begin(), findings.begin() + static_cast<std::ptrdiff_t>(count)};
}

Claim random_claim(Dice& dice, const FaultModel& model) {
  std::size_t variable = dice.below(model.size());
  while (model.state_count(variable) < 2) variable = (variable + 1) % model.size();
  std::vector<StateIndex> states(model.state_count(variable));
  std::iota(states.begin(), states.end(), std::size_t{0});
  return {variable, dice.some_of(states, dice.between(1, states.size() - 1))};
}

void check_weights(const Case& current, const Enumeration& oracle, const Claim& claim) {
  const Findings& all = current.findings();
  const Evidence found = weigh_evidence(current, claim);
  const auto prior = log_odds(oracle, {}, claim);
  const auto posterior = log_odds(oracle, all, claim);
  expect_change(found.total_bits, prior, posterior);
  ASSERT_EQ(found.findings.size(), all.size());
  double sum = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const FindingWeight& weight = found.findings[i];
    EXPECT_EQ(weight.variable, all[i].variable);
    expect_change(weight.alone_bits, prior, log_odds(oracle, {all[i]}, claim));
    expect_change(weight.left_out_bits, log_odds(oracle, without(all, i), claim), posterior);
    expect_change(weight.in_order_bits, log_odds(oracle, first(all, i), claim),
                  log_odds(oracle, first(all, i + 1), claim));
    sum += weight.in_order_bits.value_or(0.0);
  }
  const double total = found.total_bits.value_or(0.0);
  EXPECT_TRUE(sum == total || std::abs(sum - total) < 1e-8) << sum << ' ' << total;
}

void check_conflict(const Case& current, const Enumeration& oracle) {
  const Findings& all = current.findings();
  const Conflict found = conflict(current);
  const double none = oracle.evidence({});
  const double together = std::log2(oracle.evidence(all) / none);
  double sum = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double alone = std::log2(oracle.evidence(first({all[i]}, 1)) / none);
    sum += alone;
    EXPECT_NEAR(found.with_rest_bits[i], alone + std::log2(oracle.evidence(without(all, i)) / none) - together, 1e-8);
  }
  EXPECT_NEAR(found.bits, sum - together, 1e-8);
}

void check_contrast(const Case& current, const Enumeration& oracle, Dice& dice) {
  const FaultModel& model = current.model();
  const std::size_t test = dice.below(model.size());
  if (current.finding_of(test) != nullptr) return;
  std::vector<FaultProbability> faults;
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (v != test) faults.push_back({.component = v, .state = dice.below(model.state_count(v)), .probability = 0.0});
  }
  const TestContrast found = contrast(current, test, faults);
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const std::vector<double> joint = oracle.joint(current.findings(), {faults[i].component, test});
    const std::size_t outcomes = model.state_count(test);
    double sum = 0.0;
    for (std::size_t o = 0; o < outcomes; ++o) sum += joint[faults[i].state * outcomes + o];
    EXPECT_NEAR(found.faults[i].fault.probability, sum, 1e-10);
    ASSERT_EQ(found.faults[i].probabilities.empty(), sum == 0.0);
    if (sum == 0.0) continue;
    for (std::size_t o = 0; o < outcomes; ++o) {
      EXPECT_NEAR(found.faults[i].probabilities[o], joint[faults[i].state * outcomes + o] / sum, 1e-7);
    }
  }
  for (std::size_t p = 1; p < found.pairs.size(); ++p) {
    EXPECT_LE(found.pairs[p - 1].overlap, found.pairs[p].overlap + 2e-9);
  }
}

TEST(Evidence, EqualsEnumerationOnRandomModels) {
  Dice dice(20261125);
  SolverOptions plan_per_case;
  plan_per_case.whole_tree_entries = 0.0;
  for (std::size_t round = 0; round < support::rounds(150); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    const FaultModel model = dice.chance(0.15) ? support::random_markov_network(dice) : support::random_model(dice);
    if (std::all_of(model.variables().begin(), model.variables().end(),
                    [](const Variable& v) { return v.states.size() < 2; })) {
      continue;
    }
    const Enumeration oracle(model);
    if (oracle.evidence({}) <= 0.0) continue;
    Case current{Solver(model, dice.chance(0.5) ? plan_per_case : SolverOptions{})};
    if (!current.try_findings(support::random_findings(dice, model, dice.between(0, 5)))) continue;
    check_weights(current, oracle, random_claim(dice, model));
    check_conflict(current, oracle);
    check_contrast(current, oracle, dice);
    if (::testing::Test::HasFailure()) return;
  }
}

// Overlaps by hand: sqrt(0.9 * 0.1) twice; equal ones; ones that never meet. (Bhattacharyya 1943.)
TEST(Contrast, NamesThePairThatTheTestTellsApartBest) {
  EXPECT_NEAR(overlap(std::array{0.9, 0.1}, std::array{0.1, 0.9}), 0.6, 1e-12);
  EXPECT_NEAR(overlap(std::array{0.3, 0.7}, std::array{0.3, 0.7}), 1.0, 1e-12);
  EXPECT_EQ(overlap(std::array{1.0, 0.0}, std::array{0.0, 1.0}), 0.0);
  Builder b;
  const std::size_t fault =
      b.variable("fault", {"none", "pump", "filter", "sensor"}, {}, {0.7, 0.1, 0.1, 0.1}, Component{});
  const std::size_t test =
      b.variable("pressure", {"good", "low"}, {fault}, {0.9, 0.1, 0.1, 0.9, 0.2, 0.8, 0.95, 0.05}, faultodds::Test{});
  const Case current{Solver(b.model())};
  const std::vector<FaultProbability> faults = {{.component = fault, .state = 1, .probability = 0.0},
                                                {.component = fault, .state = 2, .probability = 0.0},
                                                {.component = fault, .state = 3, .probability = 0.0}};
  const TestContrast found = contrast(current, test, faults);
  ASSERT_EQ(found.pairs.size(), 3U);
  EXPECT_EQ(found.pairs.front().first, 0U);
  EXPECT_EQ(found.pairs.front().second, 2U);
  EXPECT_NEAR(found.pairs.front().overlap, std::sqrt(0.1 * 0.95) + std::sqrt(0.9 * 0.05), 1e-12);
  EXPECT_EQ(found.pairs.back().second, 1U);
}

TEST(Evidence, RefusesClaimsThatSayNothing) {
  const FaultModel model = chest_clinic();
  const Case current{Solver(model)};
  EXPECT_THROW(static_cast<void>(weigh_evidence(current, {0, {}})), ArgumentError);
  EXPECT_THROW(static_cast<void>(weigh_evidence(current, {0, {0, 1}})), ArgumentError);
  EXPECT_THROW(static_cast<void>(weigh_evidence(current, {0, {2}})), ArgumentError);
  EXPECT_THROW(static_cast<void>(weigh_evidence(current, {0, {1, 1}})), ArgumentError);
}

}  // namespace

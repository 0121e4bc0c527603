// Most probable joint states of random models against enumeration, and of textbook cases.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/explanations.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "support/build.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;
using support::States;

SolverOptions plan_options(bool whole) {
  SolverOptions options;
  options.whole_tree_entries = whole ? 1e9 : 0.0;
  return options;
}

/// A case with some findings that are possible together.
Case random_case(const FaultModel& model, const Enumeration& oracle, const SolverOptions& options, Dice& dice) {
  Case current{Solver(model, options)};
  for (const Finding& finding : support::random_findings(dice, model, dice.below(4))) {
    std::vector<Finding> wanted = current.findings();
    wanted.push_back(finding);
    if (oracle.evidence(wanted) > 0.0) current.add(finding);
  }
  return current;
}

TEST(Explain, EqualsEnumeration) {
  for (std::size_t i = 0; i < support::rounds(1500); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(1'000'000 + i);
    const FaultModel model = i % 10 == 9 ? support::random_markov_network(dice) : support::random_model(dice);
    const Enumeration oracle(model);
    if (oracle.evidence({}) == 0.0) continue;
    const Case current = random_case(model, oracle, plan_options(i % 2 == 0), dice);
    support::Variables all(model.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    const support::Variables variables = dice.some_of(all, dice.between(1, 6));
    const std::size_t count = dice.between(1, 12);

    const Explanations found = explain(current, variables, count);
    const auto right = oracle.explanations(current.findings(), variables);
    EXPECT_EQ(found.variables, variables);
    ASSERT_EQ(found.best.size(), std::min(count, right.size()));
    for (std::size_t k = 0; k < found.best.size(); ++k) {
      EXPECT_NEAR(found.best[k].probability, right[k].second, 1e-10);
      EXPECT_EQ(found.best[k].states, right[k].first) << "explanation " << k;
    }
    if (HasFailure()) return;
  }
}

TEST(MostProbableExplanations, EqualEnumeration) {
  for (std::size_t i = 0; i < support::rounds(1000); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(1'100'000 + i);
    support::RandomModelOptions options;
    options.max_joint_states = 1024.0;
    const FaultModel model = i % 10 == 9 ? support::random_markov_network(dice) : support::random_model(dice, options);
    const Enumeration oracle(model);
    if (oracle.evidence({}) == 0.0) continue;
    const Case current = random_case(model, oracle, plan_options(i % 2 == 0), dice);
    const std::size_t count = dice.between(1, 8);

    const Explanations found = most_probable_explanations(current, count);
    const auto right = oracle.explanations(current.findings(), found.variables);
    ASSERT_EQ(found.best.size(), std::min(count, right.size()));
    for (std::size_t k = 0; k < found.best.size(); ++k) {
      EXPECT_NEAR(found.best[k].probability, right[k].second, 1e-10) << "explanation " << k;
      const auto same = std::find_if(right.begin(), right.end(),
                                     [&](const auto& item) { return item.first == found.best[k].states; });
      ASSERT_NE(same, right.end());
      EXPECT_NEAR(found.best[k].probability, same->second, 1e-10);
      for (std::size_t other = 0; other < k; ++other) EXPECT_NE(found.best[k].states, found.best[other].states);
    }
    if (HasFailure()) return;
  }
}

TEST(MostProbableExplanations, HoldEverythingInAModelWithoutComponents) {
  support::Builder builder;
  const std::size_t a = builder.variable("a", {"0", "1"}, {}, {0.4, 0.6});
  builder.variable("b", {"0", "1"}, {a}, {1.0, 0.0, 0.5, 0.5});
  const Explanations found = most_probable_explanations(Case{Solver(builder.model())}, 4);
  // a=1 is more probable by itself (0.6), but the most probable joint state has a=0: 0.4 against 0.3 and 0.3. The
  // fourth joint state is impossible.
  EXPECT_EQ(found.variables, (support::Variables{0, 1}));
  ASSERT_EQ(found.best.size(), 3U);
  EXPECT_EQ(found.best[0].states, (States{0, 0}));
  EXPECT_NEAR(found.best[0].probability, 0.4, 1e-15);
  EXPECT_NEAR(found.best[1].probability, 0.3, 1e-15);
  EXPECT_NEAR(found.best[2].probability, 0.3, 1e-15);
}

// A count of 20 inputs has auxiliary variables that follow with certainty: no table of 2^21 rows is needed.
TEST(MostProbableExplanations, DoNotWriteOutCounts) {
  support::Builder builder;
  CountOf count;
  count.at_least = 3;
  for (std::size_t i = 0; i < 20; ++i) {
    const double prior = 0.01 * static_cast<double>(i + 1);
    count.inputs.push_back({builder.component("c" + std::to_string(i), prior), {1}});
  }
  const std::size_t alarm = builder.variable("alarm", {"off", "on"}, std::move(count));
  SolverOptions options;
  options.memory_limit_bytes = 1e6;
  Case current{Solver(builder.model(), options)};
  current.add_finding(alarm, 1);
  const Explanations found = most_probable_explanations(current, 1);
  ASSERT_EQ(found.best.size(), 1U);
  // The three most probable inputs hold: 17, 18, 19 with 0.18, 0.19, 0.20.
  for (std::size_t i = 0; i < 20; ++i) EXPECT_EQ(found.best[0].states[i], i < 17 ? 0U : 1U) << i;
}

TEST(MostProbableExplanations, RefuseWhatDoesNotFit) {
  support::Builder builder;
  NoisyMax noisy{{0.999, 0.001}, {}};
  for (std::size_t i = 0; i < 40; ++i) {
    noisy.links.push_back({.cause = builder.component("c" + std::to_string(i), 0.01),
                           .effect = Table(2, {1.0, 0.0, 0.2, 0.8}),
                           .only_when = {},
                           .source = {}});
  }
  const std::size_t effect = builder.variable("effect", {"absent", "present"}, std::move(noisy));
  SolverOptions options;
  options.memory_limit_bytes = 1e8;
  Case current{Solver(builder.model(), options)};
  current.add_finding(effect, 1);
  EXPECT_THROW(static_cast<void>(most_probable_explanations(current, 1)), TooLarge);

  // The search over sets of faults needs no such table. P(exactly cause i | effect), from the definition of noisy-OR.
  const Explanations found = explain(current, {}, 3);
  const double all_sound = std::pow(0.99, 40);
  const double evidence = 1.0 - 0.999 * std::pow(0.99 + 0.01 * 0.2, 40);
  ASSERT_EQ(found.best.size(), 3U);
  EXPECT_NEAR(found.best[0].probability, all_sound / 99.0 * (1.0 - 0.999 * 0.2) / evidence, 1e-12);
  EXPECT_EQ(faults_of(current.model(), found.variables, found.best[0]).size(), 1U);
  EXPECT_NEAR(found.best[1].probability, found.best[0].probability, 1e-12);
  EXPECT_EQ(found.best[0].states[39], 1U) << "equally probable ones come in the order of their states";
  EXPECT_EQ(found.best[1].states[38], 1U);
}

TEST(Explain, TakesComponentsUnlessToldOtherwise) {
  support::Builder builder;
  const std::size_t pump = builder.component("pump", 0.02);
  const std::size_t coil = builder.component("coil", 0.1);
  const std::size_t weak = builder.variable("weak", {"no", "yes"}, {pump, coil}, {1, 0, 0.2, 0.8, 0.1, 0.9, 0, 1});
  Case current{Solver(builder.model())};
  current.add_finding(weak, 1);
  const Explanations found = explain(current, {}, 10);
  EXPECT_EQ(found.variables, (support::Variables{pump, coil}));
  ASSERT_EQ(found.best.size(), 3U);  // both sound is impossible
  const double evidence = 0.98 * 0.1 * 0.8 + 0.02 * 0.9 * 0.9 + 0.02 * 0.1 * 1.0;
  EXPECT_EQ(faults_of(current.model(), found.variables, found.best[0]), (std::vector<Fault>{{coil, 1}}));
  EXPECT_NEAR(found.best[0].probability, 0.98 * 0.1 * 0.8 / evidence, 1e-14);
  EXPECT_EQ(faults_of(current.model(), found.variables, found.best[1]), (std::vector<Fault>{{pump, 1}}));
  EXPECT_EQ(faults_of(current.model(), found.variables, found.best[2]), (std::vector<Fault>{{pump, 1}, {coil, 1}}));
}

TEST(Explain, OrdersEqualOnesByTheirStates) {
  support::Builder builder;
  for (const char* name : {"a", "b", "c"}) builder.component(name, 0.5);
  const Explanations found = explain(Case{Solver(builder.model())}, {}, 8);
  ASSERT_EQ(found.best.size(), 8U);
  for (std::size_t k = 0; k < 8; ++k) EXPECT_EQ(found.best[k].states, (States{k >> 2U & 1U, k >> 1U & 1U, k & 1U}));
}

TEST(Explain, RefusesRepeatedVariablesAndSaysHowFarItGot) {
  support::Builder builder;
  for (std::size_t i = 0; i < 12; ++i) builder.component("c" + std::to_string(i), 0.5);
  const Case current{Solver(builder.model())};
  EXPECT_THROW(static_cast<void>(explain(current, support::Variables{1, 2, 1}, 1)), ArgumentError);
  EXPECT_THROW(static_cast<void>(explain(current, support::Variables{99}, 1)), ArgumentError);
  ExplainOptions options;
  options.max_propagations = 20;
  try {
    static_cast<void>(explain(current, {}, 3, options));
    FAIL() << "4096 equally probable joint states were ranked with 20 propagations";
  } catch (const Stopped& stopped) {
    EXPECT_NE(std::string(stopped.what()).find("20 propagations with 0 of 3"), std::string::npos) << stopped.what();
  }
}

}  // namespace

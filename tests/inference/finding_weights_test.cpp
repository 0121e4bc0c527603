// Findings that are weights on what they depend on: the same answers as by enumeration, and the same tree for all
// cases that differ in nothing else.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/network/finding_weights.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/build.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Builder;
using support::Dice;
using support::Enumeration;

SolverOptions trees_for_cases() {
  SolverOptions options;
  options.whole_tree_entries = 0.0;
  options.two_layer_multiplications = 0.0;
  return options;
}

Finding hard(const FaultModel& model, std::size_t variable, std::size_t state) {
  Finding finding{variable, std::vector<double>(model.state_count(variable), 0.0), state};
  finding.weights[state] = 1.0;
  return finding;
}

CaseShape shape_of_tree(const FaultModel& model, const std::vector<Finding>& findings) {
  CaseShape shape = shape_of_case(model, detail::always_wanted(model), findings);
  leave_out_weights(shape, model, findings);
  return shape;
}

/// Two components behind a fact of context, an effect of both whose second link has a gate, and a test of the first.
struct Small {
  Small() {
    Builder builder;
    fuel = builder.variable("fuel", {"petrol", "gas"}, {}, {0.7, 0.3}, Context{});
    pump = builder.variable("pump", {"sound", "weak"}, {fuel}, {0.9, 0.1, 0.8, 0.2}, Component{});
    tank = builder.variable("tank", {"sound", "leaks"}, {fuel}, {0.95, 0.05, 0.6, 0.4}, Component{});
    const Table by_pump(2, {1.0, 0.0, 0.3, 0.7});
    const Table by_tank(2, {1.0, 0.0, 0.1, 0.9});
    const Gate gas{fuel, {1}};
    stalls = builder.variable("stalls", {"no", "yes"},
                              NoisyMax{{0.98, 0.02}, {{pump, by_pump, {}, {}}, {tank, by_tank, {gas}, {}}}}, Symptom{});
    pressure = builder.variable("pressure", {"good", "low"}, {pump}, {0.9, 0.1, 0.2, 0.8}, Test{});
    model = builder.model();
  }

  std::size_t fuel = 0, pump = 0, tank = 0, stalls = 0, pressure = 0;
  FaultModel model{ModelParts{}};
};

TEST(FindingWeights, LeaveTheShapeAlone) {
  const Small small;
  const CaseShape nothing_found = shape_of_tree(small.model, {});
  EXPECT_EQ(shape_of_tree(small.model, {hard(small.model, small.pressure, 1)}), nothing_found);
  EXPECT_EQ(shape_of_tree(small.model, {hard(small.model, small.pressure, 0)}), nothing_found);
  EXPECT_NE(shape_of_tree(small.model, {hard(small.model, small.stalls, 0)}), nothing_found) << "the gate is open";
  EXPECT_NE(shape_of_tree(small.model, {hard(small.model, small.stalls, 1)}), nothing_found);
  const std::vector<Finding> on_gas = {hard(small.model, small.fuel, 1)};
  std::vector<Finding> stalled = on_gas;
  stalled.push_back(hard(small.model, small.stalls, 0));
  EXPECT_EQ(shape_of_tree(small.model, stalled), shape_of_tree(small.model, on_gas));
}

// P(no stall | fuel, pump, tank) by hand: 0.98, times 0.3 with a weak pump, times 0.1 with a leaking tank on gas.
TEST(FindingWeights, OfAnAbsentEffectByHand) {
  const Small small;
  Case current(Solver(small.model, trees_for_cases()));
  current.add_finding("fuel", "gas");
  current.add_finding("stalls", "no");
  const double pump = 0.2 * 0.3 + 0.8;
  const double tank = 0.4 * 0.1 + 0.6;
  EXPECT_NEAR(current.log_evidence(), std::log(0.3 * 0.98 * pump * tank), 1e-14);
  EXPECT_NEAR(current.posterior(small.pump)[1], 0.2 * 0.3 / pump, 1e-15);
  EXPECT_NEAR(current.posterior(small.tank)[1], 0.4 * 0.1 / tank, 1e-15);
}

/// Everything that can be observed found in some state that is possible, one after the other.
TEST(FindingWeights, OfRandomModelsAgainstEnumeration) {
  support::RandomModelOptions options;
  options.max_parents = 4;
  options.noisy_share = 0.6;
  std::size_t weights = 0;
  for (std::size_t round = 0; round < support::rounds(60); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    Dice dice(9'000 + round);
    const FaultModel model = support::random_model(dice, options);
    if (!model.parts().potentials.empty()) continue;
    const Enumeration oracle(model);
    Case current(Solver(model, trees_for_cases()));
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (!dice.chance(0.7)) continue;
      const std::size_t state = dice.chance(0.5) ? 0 : dice.below(model.state_count(v));
      std::vector<Finding> with = current.findings();
      with.push_back(hard(model, v, state));
      const double evidence = oracle.evidence(with);
      if (evidence < 1e-12) continue;
      const CaseShape before = shape_of_case(model, detail::always_wanted(model), with);
      const CaseShape after = shape_of_tree(model, with);
      if (before != after) ++weights;
      current.add(with.back());
      EXPECT_NEAR(current.log_evidence(), std::log(evidence), 1e-9);
      const std::vector<std::vector<double>> posteriors = current.posteriors();
      for (std::size_t asked = 0; asked < model.size(); ++asked) {
        support::expect_near(posteriors[asked], oracle.joint(with, {asked}), 1e-10);
        support::expect_near(current.posterior(asked), posteriors[asked], 1e-12);
      }
    }
  }
  EXPECT_GT(weights, 100U) << "or nothing was tested here";
}

// The same bits whatever the order in which they are found, and whatever was found and taken back before.
TEST(FindingWeights, DoNotDependOnTheWayThere) {
  support::RandomModelOptions options;
  options.noisy_share = 0.6;
  for (std::size_t round = 0; round < support::rounds(30); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    Dice dice(9'500 + round);
    const FaultModel model = support::random_model(dice, options);
    const Solver solver(model, trees_for_cases());
    Case straight(solver);
    std::vector<Finding> findings = support::random_findings(dice, model, 6);
    if (!straight.try_findings(findings)) continue;
    dice.shuffle(findings);
    Case other(solver);
    for (std::size_t i = 0; i < findings.size(); ++i) {
      other.add(findings[i]);
      static_cast<void>(other.posteriors());
      if (i > 0 && dice.chance(0.3)) {
        other.take_back(findings[i].variable);
        other.add(findings[i]);
      }
    }
    EXPECT_EQ(other.log_evidence(), straight.log_evidence());
    EXPECT_EQ(other.posteriors(), straight.posteriors());
  }
}

// A thousand absent effects of a faulty cause, each with probability 5e-4: their product is 1e-3301.
TEST(FindingWeights, ThousandsOfThemDoNotUnderflow) {
  Builder builder;
  const std::size_t cause = builder.component("cause", 0.5);
  const std::size_t other = builder.component("other", 0.5);
  const std::size_t count = 1000;
  const Table strong(2, {1.0, 0.0, 1e-3, 0.999});
  const Table nothing(2, {1.0, 0.0, 1.0, 0.0});
  for (std::size_t i = 0; i < count; ++i) {
    builder.variable("effect" + std::to_string(i), {"no", "yes"},
                     NoisyMax{{0.5, 0.5}, {{cause, strong, {}, {}}, {other, nothing, {}, {}}}}, Symptom{});
  }
  const FaultModel model = builder.model();
  std::vector<Finding> findings = {hard(model, cause, 1)};
  for (std::size_t i = 0; i < count; ++i) findings.push_back(hard(model, 2 + i, 0));
  Case current(Solver(model, trees_for_cases()));
  current.add(findings);
  EXPECT_NEAR(current.log_evidence(), std::log(0.5) + 1000.0 * std::log(5e-4), 1e-8);
  EXPECT_NEAR(current.posterior(other)[1], 0.5, 1e-12);
}

}  // namespace

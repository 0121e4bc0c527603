// Posteriors, joints and log P(findings) of random models against enumeration of all joint states.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

// One junction tree for everything, or one for each case with only what matters to it.
SolverOptions one_plan() {
  SolverOptions options;
  options.whole_tree_entries = 1e9;
  return options;
}
SolverOptions plan_per_case() {
  SolverOptions options;
  options.whole_tree_entries = 0.0;
  return options;
}

void expect_same_answers(const Case& current, const Enumeration& oracle, Dice& dice) {
  const std::vector<Finding>& findings = current.findings();
  EXPECT_NEAR(current.log_evidence(), std::log(oracle.evidence(findings)), 1e-10);
  support::expect_near(current.posteriors(), oracle.posteriors(findings), 1e-10);

  std::vector<VariableIndex> all(current.model().size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  const std::vector<VariableIndex> chosen = dice.some_of(all, dice.between(1, 4));
  const JointPosterior joint = current.joint(chosen);
  EXPECT_EQ(joint.variables, chosen);
  support::expect_near(joint.probabilities, oracle.joint(findings, chosen), 1e-10);
}

// Adds findings one by one, those that are impossible given the others left out; compares after each.
void check_growing_case(const FaultModel& model, const SolverOptions& options, Dice& dice) {
  const Enumeration oracle(model);
  Case current{Solver(model, options)};
  expect_same_answers(current, oracle, dice);
  for (const Finding& finding : support::random_findings(dice, model, dice.between(1, 4))) {
    std::vector<Finding> wanted = current.findings();
    wanted.push_back(finding);
    if (oracle.evidence(wanted) > 0.0) {
      current.add(finding);
    } else {
      EXPECT_THROW(current.add(finding), ImpossibleFindings);
      wanted.pop_back();
    }
    ASSERT_EQ(current.findings(), wanted);
    expect_same_answers(current, oracle, dice);
  }
}

template <typename MakeModel>
void check_many(std::size_t usual, std::uint64_t seed, const SolverOptions& options, MakeModel&& make_model) {
  for (std::size_t i = 0; i < support::rounds(usual); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(seed + i);
    check_growing_case(make_model(dice), options, dice);
    if (testing::Test::HasFailure()) return;
  }
}

FaultModel any_model(Dice& dice) { return support::random_model(dice); }
FaultModel small_model(Dice& dice) {
  support::RandomModelOptions options;
  options.max_variables = 6;
  options.max_joint_states = 256.0;
  return support::random_model(dice, options);
}
FaultModel plain_network(Dice& dice) {
  support::RandomModelOptions options;
  options.only_full_tables = true;
  return support::random_model(dice, options);
}

TEST(Posteriors, EqualEnumerationWithOnePlan) { check_many(700, 100'000, one_plan(), any_model); }
TEST(Posteriors, EqualEnumerationWithAPlanPerCase) { check_many(700, 200'000, plan_per_case(), any_model); }
TEST(Posteriors, EqualEnumerationWithDefaults) { check_many(300, 300'000, SolverOptions{}, any_model); }
TEST(Posteriors, EqualEnumerationOnSmallModels) {
  check_many(2000, 400'000, one_plan(), small_model);
  check_many(2000, 500'000, plan_per_case(), small_model);
}
TEST(Posteriors, EqualEnumerationOnPlainNetworks) {
  check_many(300, 600'000, one_plan(), plain_network);
  check_many(300, 700'000, plan_per_case(), plain_network);
}

// The partition function of a random Markov network may be zero as a whole: then nothing about it can be asked.
TEST(Posteriors, EqualEnumerationOnMarkovNetworks) {
  std::size_t checked = 0;
  for (std::size_t i = 0; i < support::rounds(600); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(800'000 + i);
    const FaultModel model = support::random_markov_network(dice);
    if (Enumeration(model).evidence({}) == 0.0) continue;
    ++checked;
    check_growing_case(model, i % 2 == 0 ? one_plan() : plan_per_case(), dice);
    if (HasFailure()) return;
  }
  EXPECT_GT(checked, 400U);
}

}  // namespace

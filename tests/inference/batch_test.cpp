// Many cases at once against each case by itself, bit for bit, and against enumeration.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/batch.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <cmath>
#include <cstring>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "support/build.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

bool same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

std::vector<VariableIndex> all_variables(const FaultModel& model) {
  std::vector<VariableIndex> all(model.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return all;
}

/// Rows with findings on all but the last variable of a model, about half of them observed; likelihoods on the last.
struct RandomRows {
  std::vector<std::int32_t> states;
  std::vector<double> weights;
  CaseRows rows;

  RandomRows(const FaultModel& model, std::size_t count, Dice& dice) {
    const std::size_t columns = model.size() - 1;
    for (std::size_t row = 0; row < count; ++row) {
      for (std::size_t column = 0; column < columns; ++column) {
        const auto state = static_cast<std::int32_t>(dice.between(0, model.state_count(column) - 1));
        states.push_back(dice.between(0, 1) == 0 ? not_observed : state);
      }
      const bool weighed = dice.between(0, 2) == 0;
      for (std::size_t state = 0; state < model.state_count(columns); ++state) {
        weights.push_back(weighed ? 0.25 * static_cast<double>(dice.between(1, 8)) : nan);
      }
    }
    rows.count = count;
    rows.variables = all_variables(model);
    rows.variables.pop_back();
    rows.states = states;
    rows.likelihoods.push_back({columns, weights});
  }

  [[nodiscard]] std::vector<Finding> findings(const FaultModel& model, std::size_t row) const {
    std::vector<Finding> findings;
    const std::size_t columns = rows.variables.size();
    for (std::size_t column = 0; column < columns; ++column) {
      const std::int32_t state = states[row * columns + column];
      if (state == not_observed) continue;
      std::vector<double> one(model.state_count(column), 0.0);
      one[static_cast<std::size_t>(state)] = 1.0;
      findings.push_back({.variable = column, .weights = one, .state = static_cast<std::size_t>(state)});
    }
    const std::size_t size = model.state_count(columns);
    const std::span<const double> weighed = std::span(weights).subspan(row * size, size);
    if (!std::isnan(weighed[0]))
      findings.push_back({.variable = columns, .weights = {weighed.begin(), weighed.end()}, .state = std::nullopt});
    return findings;
  }
};

void expect_answer_of_one_case(const Solver& solver, const std::vector<Finding>& findings, const CaseAnswers& answers,
                               std::size_t row) {
  Case alone(solver);
  try {
    alone.add(findings);
  } catch (const ImpossibleFindings&) {
    EXPECT_EQ(answers.log_evidence[row], -infinity);
    for (std::size_t i = 0; i < answers.variables.size(); ++i) {
      for (const double probability : answers.posterior(row, i)) EXPECT_TRUE(std::isnan(probability));
    }
    return;
  }
  EXPECT_TRUE(same_bits(answers.log_evidence[row], alone.log_evidence()));
  for (std::size_t i = 0; i < answers.variables.size(); ++i) {
    const std::vector<double> right = alone.posterior(answers.variables[i]);
    const std::span<const double> found = answers.posterior(row, i);
    ASSERT_EQ(found.size(), right.size());
    for (std::size_t s = 0; s < right.size(); ++s) EXPECT_TRUE(same_bits(found[s], right[s])) << found[s] - right[s];
  }
}

class BatchOfRandomCases : public testing::TestWithParam<double> {};

TEST_P(BatchOfRandomCases, AnswersEqualSingleCasesBitForBitWithAnyNumberOfThreads) {
  SolverOptions options;
  options.whole_tree_entries = GetParam();
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Dice dice(seed);
    const FaultModel model = support::random_model(dice);
    const Solver solver(model, options);
    const RandomRows made(model, 40, dice);
    const CaseAnswers answers = answer_cases(solver, made.rows, all_variables(model));
    for (std::size_t row = 0; row < made.rows.count; ++row) {
      SCOPED_TRACE("row " + std::to_string(row));
      expect_answer_of_one_case(solver, made.findings(model, row), answers, row);
    }
    for (const std::size_t threads : {std::size_t{0}, std::size_t{2}, std::size_t{7}}) {
      const CaseAnswers again = answer_cases(solver, made.rows, all_variables(model), {threads});
      ASSERT_EQ(again.probabilities.size(), answers.probabilities.size());
      EXPECT_EQ(std::memcmp(again.probabilities.data(), answers.probabilities.data(),
                            answers.probabilities.size() * sizeof(double)),
                0);
      EXPECT_EQ(again.log_evidence, answers.log_evidence);
    }
  }
}

TEST_P(BatchOfRandomCases, OrderOfTheRowsDoesNotMatter) {
  SolverOptions options;
  options.whole_tree_entries = GetParam();
  Dice dice(5);
  const FaultModel model = support::random_model(dice);
  const Solver solver(model, options);
  const RandomRows made(model, 60, dice);
  const std::size_t columns = made.rows.variables.size();
  const std::size_t states = model.state_count(columns);
  std::vector<std::int32_t> reversed_states;
  std::vector<double> reversed_weights;
  for (std::size_t row = made.rows.count; row-- > 0;) {
    const auto first = made.states.begin() + static_cast<std::ptrdiff_t>(row * columns);
    reversed_states.insert(reversed_states.end(), first, first + static_cast<std::ptrdiff_t>(columns));
    const auto weights = made.weights.begin() + static_cast<std::ptrdiff_t>(row * states);
    reversed_weights.insert(reversed_weights.end(), weights, weights + static_cast<std::ptrdiff_t>(states));
  }
  CaseRows reversed{.count = made.rows.count,
                    .variables = made.rows.variables,
                    .states = reversed_states,
                    .likelihoods = {{columns, reversed_weights}}};
  const CaseAnswers answers = answer_cases(solver, made.rows, all_variables(model));
  const CaseAnswers backwards = answer_cases(solver, reversed, all_variables(model));
  const std::size_t width = answers.begin.back();
  for (std::size_t row = 0; row < made.rows.count; ++row) {
    const std::size_t other = made.rows.count - 1 - row;
    EXPECT_TRUE(same_bits(answers.log_evidence[row], backwards.log_evidence[other]));
    EXPECT_EQ(std::memcmp(answers.probabilities.data() + row * width, backwards.probabilities.data() + other * width,
                          width * sizeof(double)),
              0);
  }
}

INSTANTIATE_TEST_SUITE_P(PlanPerCase, BatchOfRandomCases, testing::Values(0.0));
INSTANTIATE_TEST_SUITE_P(OnePlan, BatchOfRandomCases, testing::Values(1e9));

// Bayes' rule by hand: P(faulty) = 0.1, P(present | faulty) = 0.8, P(present | sound) = 0.05.
// P(present) = 0.08 + 0.045 = 0.125; P(faulty | present) = 0.64. P(absent) = 0.875; P(faulty | absent) = 0.02 / 0.875.
class BatchByHand : public testing::Test {
 protected:
  BatchByHand() {
    support::Builder build;
    build.component("pump", 0.1);
    build.variable("noise", {"absent", "present"}, {0}, {0.95, 0.05, 0.2, 0.8}, Symptom{});
    build.variable("light", {"off", "on"}, {0}, {1.0, 0.0, 0.5, 0.5}, Symptom{});
    model = std::make_unique<FaultModel>(build.model());
  }
  std::unique_ptr<FaultModel> model;
};

TEST_F(BatchByHand, PosteriorsFollowBayesRule) {
  const std::vector<std::int32_t> states{1, 0, not_observed};
  const CaseAnswers answers =
      answer_cases(Solver(*model), {.count = 3, .variables = {1}, .states = states, .likelihoods = {}},
                   std::vector<VariableIndex>{0});
  EXPECT_NEAR(answers.posterior(0, 0)[1], 0.64, 1e-15);
  EXPECT_NEAR(answers.posterior(1, 0)[1], 0.02 / 0.875, 1e-15);
  EXPECT_NEAR(answers.posterior(2, 0)[1], 0.1, 1e-15);
  EXPECT_NEAR(answers.log_evidence[0], std::log(0.125), 1e-15);
  EXPECT_NEAR(answers.log_evidence[1], std::log(0.875), 1e-15);
  EXPECT_NEAR(answers.log_evidence[2], 0.0, 1e-15);
}

// A sound pump never lights the lamp: light on beside a sound pump has probability zero.
TEST_F(BatchByHand, AnImpossibleRowIsTheOnlyOneWithoutAnswer) {
  const std::vector<std::int32_t> states{0, 1, 0, 0, 1, 1};
  const CaseAnswers answers =
      answer_cases(Solver(*model), {.count = 3, .variables = {0, 2}, .states = states, .likelihoods = {}},
                   std::vector<VariableIndex>{1}, {2});
  EXPECT_EQ(answers.log_evidence[0], -infinity);
  EXPECT_TRUE(std::isnan(answers.posterior(0, 0)[0]) && std::isnan(answers.posterior(0, 0)[1]));
  EXPECT_NEAR(answers.log_evidence[1], std::log(0.9), 1e-15);
  EXPECT_NEAR(answers.posterior(1, 0)[1], 0.05, 1e-15);
  EXPECT_NEAR(answers.log_evidence[2], std::log(0.05), 1e-15);
  EXPECT_NEAR(answers.posterior(2, 0)[1], 0.8, 1e-15);
}

TEST_F(BatchByHand, NoRowsAndNoVariablesAreFine) {
  const Solver solver(*model);
  EXPECT_TRUE(answer_cases(solver, {0, {1}, {}, {}}, std::vector<VariableIndex>{0}, {0}).log_evidence.empty());
  const CaseAnswers evidence = answer_cases(solver, {.count = 2, .variables = {}, .states = {}, .likelihoods = {}}, {});
  EXPECT_EQ(evidence.log_evidence, (std::vector<double>{0.0, 0.0}));
  EXPECT_TRUE(evidence.probabilities.empty());
}

std::string message_of(const Solver& solver, const CaseRows& rows, const std::vector<VariableIndex>& variables) {
  try {
    static_cast<void>(answer_cases(solver, rows, variables));
  } catch (const ArgumentError& error) {
    return error.what();
  }
  return "";
}

TEST_F(BatchByHand, WrongInputIsNamedWithItsRow) {
  const Solver solver(*model);
  const std::vector<std::int32_t> wrong_state{0, 2};
  EXPECT_EQ(message_of(solver, {2, {1}, wrong_state, {}}, {}),
            "states: row 1, \"noise\": state 2; it has the states 0 to 1, and -1 means not observed");
  EXPECT_EQ(message_of(solver, {3, {1}, wrong_state, {}}, {}), "states: 2 numbers; give 1 for each of the 3 rows");
  const std::vector<double> weights{0.5, 0.5, 0.5, -1.0};
  EXPECT_NE(message_of(solver, {2, {}, {}, {{1, weights}}}, {}).find("likelihoods: row 1: noise: weight -1"),
            std::string::npos);
  EXPECT_EQ(message_of(solver, {2, {1}, std::vector<std::int32_t>{0, 1}, {{1, weights}}}, {}),
            "rows: \"noise\" is named twice; name each variable once");
  EXPECT_EQ(message_of(solver, {0, {}, {}, {}}, {0, 0}), "variables: \"pump\" is named twice; name each variable once");
}

TEST_F(BatchByHand, AnswersBeyondTheMemoryLimitAreRefusedBeforehand) {
  SolverOptions options;
  options.memory_limit_bytes = 4096.0;
  const std::vector<std::int32_t> states(1000, 0);
  EXPECT_THROW(
      static_cast<void>(answer_cases(Solver(*model, options), {1000, {1}, states, {}}, std::vector<VariableIndex>{0})),
      TooLarge);
}

TEST_F(BatchByHand, WhatAStopThrowsReachesTheCaller) {
  for (const std::size_t threads : {std::size_t{1}, std::size_t{3}}) {
    auto calls = std::make_shared<std::atomic<int>>(0);
    StopOptions polled;
    polled.poll = [calls] {
      if (++*calls > 20) throw Stopped("enough");
    };
    const Stop stop(polled);
    const Solver solver(*model);
    std::vector<std::int32_t> states;
    for (int row = 0; row < 500; ++row) states.push_back(row % 2);
    EXPECT_THROW(
        {
          for (int i = 0; i < 20; ++i) {
            static_cast<void>(
                answer_cases(solver, {500, {1}, states, {}}, std::vector<VariableIndex>{0}, {threads}, stop));
          }
        },
        Stopped);
  }
}

}  // namespace

// The engines of a case side by side: each against enumeration, with posteriors, joints and gains, and two tests ahead
// against one another. Memory is so short for some that they must condition.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/hypotheses.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/explanations.hpp"
#include "support/build.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

constexpr double tolerance = 1e-10;

struct NamedOptions {
  std::string name;
  SolverOptions options;
};

/// What a case of its own would need without conditioning.
double bytes_needed(const FaultModel& model, const std::vector<Finding>& findings) {
  SolverOptions nothing;
  nothing.whole_tree_entries = 0.0;
  nothing.two_layer_multiplications = 0.0;
  nothing.memory_limit_bytes = 1.0;
  try {
    Case refused{Solver(model, nothing)};
    refused.add(findings);
    static_cast<void>(refused.log_evidence());
  } catch (const TooLarge& large) {
    return large.bytes();
  }
  return 0.0;
}

std::vector<NamedOptions> engines(double needed) {
  SolverOptions own;
  own.whole_tree_entries = 0.0;
  SolverOptions tree = own;
  tree.two_layer_multiplications = 0.0;
  SolverOptions conditioned = tree;
  conditioned.memory_limit_bytes = 0.7 * needed;
  conditioned.max_conditioned_cases = 1 << 10;
  SolverOptions conditioned_two_layer = conditioned;
  conditioned_two_layer.two_layer_multiplications = own.two_layer_multiplications;
  return {{"tree of the model", {}},
          {"two-layer sums or tree", own},
          {"tree", tree},
          {"conditioned", conditioned},
          {"conditioned, or two-layer sums", conditioned_two_layer}};
}

/// Nothing if it does not fit, conditioned or not.
std::optional<Case> case_of(const FaultModel& model, const SolverOptions& options,
                            const std::vector<Finding>& findings) {
  try {
    Case made{Solver(model, options)};
    made.add(findings);
    static_cast<void>(made.log_evidence());
    return made;
  } catch (const TooLarge&) {
    return std::nullopt;
  }
}

bool conditions(const Case& current) {
  SolverOptions without = current.solver().options();
  without.max_conditioned_cases = 0;
  return !case_of(current.model(), without, current.findings()).has_value();
}

constexpr std::size_t components = 9;

/// Components, and effects with a full table over seven of them each, the last a test.
FaultModel dense_model(Dice& dice) {
  support::Builder builder;
  std::vector<VariableIndex> all;
  for (std::size_t c = 0; c < components; ++c) {
    std::vector<std::string> states = {"sound", "worn"};
    if (c < 2) states.emplace_back("dead");
    all.push_back(builder.variable("c" + std::to_string(c), states, {}, dice.row(states.size()), Component{}));
  }
  for (std::size_t e = 0; e < 3; ++e) {
    const std::vector<VariableIndex> parents = dice.some_of(all, 7);
    std::size_t rows = 1;
    for (const std::size_t parent : parents) rows *= parent < 2 ? 3 : 2;
    std::vector<double> table;
    for (std::size_t row = 0; row < rows; ++row) {
      const std::vector<double> probabilities = dice.row(2);
      table.insert(table.end(), probabilities.begin(), probabilities.end());
    }
    builder.variable("e" + std::to_string(e), {"no", "yes"}, parents, table, e < 2 ? RoleFacts(Symptom{}) : Test{});
  }
  return builder.model();
}

class Engines : public ::testing::Test {
 protected:
  /// Calls `check` with a case for each engine that fits, of models and findings that are possible.
  template <class Check>
  void for_each_engine(std::uint64_t seed, std::size_t rounds, const Check& check) {
    Dice dice(seed);
    for (std::size_t round = 0; round < support::rounds(rounds); ++round) {
      const FaultModel model = dense_model(dice);
      std::vector<Finding> findings = support::random_findings(dice, model, dice.between(0, 1));
      for (std::size_t effect = components; effect + 1 < model.size(); ++effect) {
        if (finding_of(findings, effect) == nullptr) findings.push_back(support::random_finding(dice, model, effect));
      }
      const Enumeration oracle(model);
      if (oracle.evidence(findings) < 1e-9) continue;
      const double needed = bytes_needed(model, findings);
      for (const NamedOptions& engine : engines(needed)) {
        const std::optional<Case> current = case_of(model, engine.options, findings);
        if (!current.has_value()) continue;
        SCOPED_TRACE("round " + std::to_string(round) + ", " + engine.name);
        Dice own(round);
        try {
          check(*current, oracle, own);
          conditioned_ += conditions(*current) ? 1 : 0;
        } catch (const TooLarge&) {
          // other findings, or a joint of many variables, do not fit
        }
      }
    }
    EXPECT_GT(conditioned_, support::rounds(rounds));
  }

  std::size_t conditioned_ = 0;
};

/// Variables without a hard finding, some of them.
std::vector<VariableIndex> some_open(const Case& current, Dice& dice, std::size_t count) {
  std::vector<VariableIndex> open;
  for (std::size_t v = 0; v < current.model().size(); ++v) {
    const Finding* finding = current.finding_of(v);
    if (finding == nullptr || !finding->state.has_value()) open.push_back(v);
  }
  return dice.some_of(open, count);
}

TEST_F(Engines, GiveThePosteriorsOfEnumeration) {
  for_each_engine(401, 15, [](const Case& current, const Enumeration& oracle, Dice& dice) {
    const std::vector<Finding>& findings = current.findings();
    EXPECT_NEAR(current.log_evidence(), std::log(oracle.evidence(findings)), tolerance);
    const std::vector<std::vector<double>> exact = oracle.posteriors(findings);
    support::expect_near(current.posteriors(), exact, tolerance);
    for (std::size_t v = 0; v < exact.size(); ++v) support::expect_near(current.posterior(v), exact[v], tolerance);
    for (std::size_t i = 0; i < 3; ++i) {
      const std::vector<VariableIndex> variables = dice.some_of(some_open(current, dice, 3), dice.between(1, 3));
      support::expect_near(current.joint(variables).probabilities, oracle.joint(findings, variables), tolerance);
    }
  });
}

TEST_F(Engines, GiveTheGainsOfEnumeration) {
  for_each_engine(402, 10, [](const Case& current, const Enumeration& oracle, Dice& dice) {
    std::vector<VariableIndex> open = some_open(current, dice, 5);
    if (open.size() < 3) return;
    RankOptions options;
    options.targets = {open[0], open[1]};
    options.tests = {open.begin() + 2, open.end()};
    options.joint_only = true;
    const Ranking ranking = rank_tests(current, options);
    EXPECT_NEAR(ranking.entropy_bits, oracle.entropy(current.findings(), options.targets), 1e-9);
    for (const TestForecast& forecast : ranking.tests) {
      EXPECT_NEAR(forecast.gain_bits, oracle.mutual_information(current.findings(), {forecast.test}, options.targets),
                  tolerance);
      const std::vector<double> outcomes = oracle.joint(current.findings(), {forecast.test});
      for (const OutcomeForecast& outcome : forecast.outcomes) {
        EXPECT_NEAR(outcome.probability, outcomes[outcome.state], tolerance);
      }
    }
    options.gain = GainKind::per_component;
    for (const TestForecast& forecast : rank_tests(current, options).tests) {
      double sum = 0.0;
      for (const std::size_t target : options.targets) {
        sum += oracle.mutual_information(current.findings(), {forecast.test}, {target});
      }
      EXPECT_NEAR(forecast.gain_bits, sum, tolerance);
    }
  });
}

TEST_F(Engines, ExplainAsEnumerationDoes) {
  for_each_engine(404, 5, [](const Case& current, const Enumeration& oracle, Dice& dice) {
    const std::vector<VariableIndex> variables = dice.some_of(some_open(current, dice, 6), dice.between(1, 4));
    if (variables.empty()) return;
    const Explanations found = explain(current, variables, 5);
    const auto right = oracle.explanations(current.findings(), variables);
    ASSERT_EQ(found.best.size(), std::min<std::size_t>(5, right.size()));
    for (std::size_t k = 0; k < found.best.size(); ++k) {
      EXPECT_NEAR(found.best[k].probability, right[k].second, tolerance);
      EXPECT_EQ(found.best[k].states, right[k].first) << "explanation " << k;
    }
  });
}

TEST_F(Engines, ListTheHypothesesOfSeveralFaultsOfEnumeration) {
  for_each_engine(405, 4, [](const Case& current, const Enumeration& oracle, Dice&) {
    HypothesesOptions options;
    options.components = {0, 1, 2, 3};
    options.assumption = FaultAssumption::several_faults;
    options.most = 4;
    const Hypotheses found = hypotheses_of(current, options);
    const auto right = oracle.explanations(current.findings(), options.components);
    ASSERT_EQ(found.list.size(), std::min<std::size_t>(4, right.size()));
    for (std::size_t k = 0; k < found.list.size(); ++k) {
      EXPECT_NEAR(found.list[k].probability, right[k].second, tolerance);
      std::size_t faults = 0;
      for (const std::size_t state : right[k].first) faults += state == 0 ? 0 : 1;
      EXPECT_EQ(found.list[k].faults.size(), faults);
    }
  });
}

TEST_F(Engines, AgreeTwoTestsAhead) {
  std::size_t compared = 0;
  for_each_engine(403, 6, [&](const Case& current, const Enumeration&, Dice& dice) {
    const std::vector<VariableIndex> open = some_open(current, dice, 5);
    if (open.size() < 4) return;
    LookAheadOptions options;
    options.ranking.targets = {open[0]};
    options.ranking.tests = {open.begin() + 1, open.end()};
    options.ranking.gain = GainKind::per_component;
    Case other{Solver(current.model())};
    other.add(current.findings());
    const LookAhead right = look_ahead(other, options);
    for (const TwoTests& two : look_ahead(current, options).tests) {
      const auto same = std::find_if(right.tests.begin(), right.tests.end(),
                                     [&](const TwoTests& one) { return one.first == two.first; });
      ASSERT_NE(same, right.tests.end());
      EXPECT_NEAR(two.gain_bits, same->gain_bits, 1e-9);
      EXPECT_NEAR(two.first_gain_bits, same->first_gain_bits, tolerance);
      ++compared;
    }
  });
  EXPECT_GT(compared, 20U);
}

TEST_F(Engines, AgreeOnHypotheses) {
  for_each_engine(404, 10, [](const Case& current, const Enumeration&, Dice&) {
    const std::vector<VariableIndex> all = current.model().with_role(Role::component);
    if (!allows_one_fault(current, all)) return;
    HypothesesOptions options;
    options.components = all;
    Case other{Solver(current.model())};
    other.add(current.findings());
    const Hypotheses found = hypotheses_of(current, options);
    const Hypotheses right = hypotheses_of(other, options);
    EXPECT_NEAR(found.assumed, right.assumed, tolerance);
    ASSERT_EQ(found.list.size(), right.list.size());
    for (std::size_t i = 0; i < found.list.size(); ++i) {
      EXPECT_NEAR(found.list[i].probability, right.list[i].probability, 1e-9);
    }
  });
}

TEST(ConditionedEngine, IsUsedOnlyIfItIsAllowed) {
  Dice dice(72);
  const FaultModel model = support::grid(8, dice);
  SolverOptions little;
  little.memory_limit_bytes = 120'000.0;
  Case refused{Solver(model, little)};
  try {
    refused.add_finding("v63", "yes");
    FAIL() << "it fits";
  } catch (const TooLarge& large) {
    EXPECT_NE(std::string(large.what()).find("condition on some variables"), std::string::npos);
  }
  little.max_conditioned_cases = 2;
  Case few{Solver(model, little)};
  EXPECT_THROW(few.add_finding("v63", "yes"), TooLarge);
}

TEST(ConditionedEngine, RanksWhatDoesNotFitAsACaseWithMemoryDoes) {
  Dice dice(72);
  const FaultModel model = support::grid(8, dice);
  SolverOptions little;
  little.memory_limit_bytes = 120'000.0;
  little.max_conditioned_cases = 1 << 10;
  Case small{Solver(model, little)};
  Case large{Solver(model)};
  for (Case* current : {&small, &large}) {
    current->add_finding("v63", "yes");
    current->add_finding("v27", "no");
  }
  EXPECT_NEAR(small.log_evidence(), large.log_evidence(), tolerance);
  support::expect_near(small.posteriors(), large.posteriors(), tolerance);
  RankOptions options;
  options.targets = {0, 9};
  options.tests = {5, 18, 40};
  const Ranking found = rank_tests(small, options);
  const Ranking right = rank_tests(large, options);
  ASSERT_EQ(found.tests.size(), right.tests.size());
  for (std::size_t i = 0; i < right.tests.size(); ++i) {
    EXPECT_EQ(found.tests[i].test, right.tests[i].test);
    EXPECT_NEAR(found.tests[i].gain_bits, right.tests[i].gain_bits, tolerance);
  }
}

}  // namespace

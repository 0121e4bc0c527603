// A case as it is worked: findings come, change, are taken back, clash.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/case.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <thread>
#include <vector>

#include "support/build.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

SolverOptions plan_options(bool whole) {
  SolverOptions options;
  options.whole_tree_entries = whole ? 1e9 : 0.0;
  return options;
}

// What the findings of the case say must be what a new case with the same findings says.
void expect_like_new(const Case& worked, const Enumeration& oracle) {
  Case fresh{worked.solver()};
  fresh.add(worked.findings());
  EXPECT_NEAR(worked.log_evidence(), fresh.log_evidence(), 1e-10);
  support::expect_near(worked.posteriors(), fresh.posteriors(), 1e-10);
  support::expect_near(worked.posteriors(), oracle.posteriors(worked.findings()), 1e-10);
}

/// One random step in the work on a case. False if it was refused; then nothing may have changed.
bool random_step(Case& current, Dice& dice) {
  const FaultModel& model = current.model();
  try {
    const std::size_t variable = dice.below(model.size());
    switch (dice.below(4)) {
      case 0:
        current.change(support::random_finding(dice, model, variable));
        break;
      case 1:
        current.take_back(variable);
        break;
      case 2:
        current.take_back_to(dice.below(current.findings().size() + 1));
        break;
      default:
        current.add(support::random_findings(dice, model, dice.between(1, 2)));
    }
    return true;
  } catch (const ImpossibleFindings&) {
    return false;
  } catch (const ArgumentError&) {
    return false;
  }
}

TEST(Case, AnyWorkOnItLeavesWhatItsFindingsSay) {
  std::size_t refused = 0;
  for (std::size_t i = 0; i < support::rounds(300); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(2'000'000 + i);
    support::RandomModelOptions options;
    options.max_joint_states = 512.0;
    const FaultModel model = support::random_model(dice, options);
    const Enumeration oracle(model);
    Case current{Solver(model, plan_options(i % 2 == 0))};
    for (std::size_t step = 0; step < 12; ++step) {
      const std::vector<Finding> before = current.findings();
      if (!random_step(current, dice)) {
        ++refused;
        EXPECT_EQ(current.findings(), before);
      }
      if (step % 3 != 0) expect_like_new(current, oracle);  // several changes between two questions
    }
    if (HasFailure()) return;
  }
  EXPECT_GT(refused, support::rounds(100));
}

TEST(Case, ClashNamesASmallestSet) {
  std::size_t clashes = 0;
  for (std::size_t i = 0; i < support::rounds(1200); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(2'100'000 + i);
    const FaultModel model = support::random_model(dice);
    const Enumeration oracle(model);
    const std::vector<Finding> findings = support::random_findings(dice, model, 5);
    const std::size_t right = oracle.smallest_clash(findings);
    Case current{Solver(model, plan_options(i % 2 == 0))};
    try {
      current.add(findings);
      EXPECT_EQ(right, 0U);
    } catch (const ImpossibleFindings& impossible) {
      ++clashes;
      EXPECT_EQ(impossible.clash().size(), right) << impossible.what();
      // The set named does clash.
      std::vector<Finding> named;
      for (const Finding& finding : findings) {
        const std::string text = describe(model, finding);
        const auto& clash = impossible.clash();
        if (std::find(clash.begin(), clash.end(), text) != clash.end()) named.push_back(finding);
      }
      EXPECT_EQ(named.size(), right);
      EXPECT_EQ(oracle.evidence(named), 0.0);
      EXPECT_TRUE(current.findings().empty());
    }
    if (HasFailure()) return;
  }
  EXPECT_GT(clashes, support::rounds(200));
}

// The set of findings counts, not the order in which they came (to the last bit).
TEST(Case, OrderOfFindingsDoesNotMatter) {
  for (std::size_t i = 0; i < support::rounds(100); ++i) {
    Dice dice(2'200'000 + i);
    const FaultModel model = support::random_model(dice);
    const Enumeration oracle(model);
    std::vector<Finding> findings = support::random_findings(dice, model, 3);
    if (oracle.evidence(findings) == 0.0) continue;
    const Solver solver(model, plan_options(i % 2 == 0));
    Case first{solver};
    first.add(findings);
    const auto right = first.posteriors();
    std::sort(findings.begin(), findings.end(),
              [](const Finding& a, const Finding& b) { return a.variable < b.variable; });
    do {
      Case other{solver};
      for (const Finding& finding : findings) other.add(finding);
      EXPECT_EQ(other.posteriors(), right);
      EXPECT_EQ(other.log_evidence(), first.log_evidence());
    } while (std::next_permutation(findings.begin(), findings.end(),
                                   [](const Finding& a, const Finding& b) { return a.variable < b.variable; }));
  }
}

TEST(Case, RefusesFindingsThatMakeNoSense) {
  support::Builder builder;
  const std::size_t a = builder.variable("a", {"y", "n"}, {}, {0.2, 0.8});
  Case current{Solver(builder.model())};
  const auto add_likelihood = [&](std::vector<double> weights) { current.add_likelihood(a, weights); };
  EXPECT_THROW(add_likelihood({0.0, 0.0}), ArgumentError);
  EXPECT_THROW(add_likelihood({-1.0, 2.0}), ArgumentError);
  EXPECT_THROW(add_likelihood({std::nan(""), 1.0}), ArgumentError);
  EXPECT_THROW(add_likelihood({1.0, std::numeric_limits<double>::infinity()}), ArgumentError);
  EXPECT_THROW(add_likelihood({1.0}), ArgumentError);
  EXPECT_THROW(add_likelihood({1.0, 1.0, 1.0}), ArgumentError);
  EXPECT_THROW(current.add_one_of(a, {}), ArgumentError);
  EXPECT_THROW(current.add_finding(a, 2), ArgumentError);
  EXPECT_THROW(current.add_finding(std::size_t{7}, std::size_t{0}), ArgumentError);
  EXPECT_THROW(current.add_finding("a", "Y"), UnknownName);
  EXPECT_THROW(current.add_finding("b", "y"), UnknownName);
  EXPECT_THROW(static_cast<void>(current.posterior("b")), UnknownName);
  EXPECT_THROW(static_cast<void>(current.posterior(std::size_t{7})), ArgumentError);
  EXPECT_THROW(static_cast<void>(current.joint(std::vector<VariableIndex>{a, a})), ArgumentError);
  current.add_finding("a", "y");
  EXPECT_THROW(current.add_finding("a", "y"), ArgumentError) << "a second finding needs change()";
  EXPECT_EQ(current.findings().size(), 1U);
}

TEST(Case, SeveralFindingsAreTakenTogetherOrNotAtAll) {
  support::Builder builder;
  const std::size_t a = builder.variable("a", {"y", "n"}, {}, {0.2, 0.8});
  const std::size_t b = builder.variable("b", {"y", "n"}, {a}, {1.0, 0.0, 0.0, 1.0});
  const std::size_t c = builder.variable("c", {"y", "n"}, {}, {0.5, 0.5});
  Case current{Solver(builder.model())};
  const auto hard = [](std::size_t variable, std::size_t state) {
    return Finding{.variable = variable,
                   .weights = state == 0 ? std::vector<double>{1.0, 0.0} : std::vector<double>{0.0, 1.0},
                   .state = state};
  };
  EXPECT_THROW(current.add(std::vector<Finding>{hard(c, 0), hard(a, 0), hard(b, 1)}), ImpossibleFindings);
  EXPECT_TRUE(current.findings().empty());
  EXPECT_EQ(current.posterior(c), (std::vector<double>{0.5, 0.5}));
  current.add(std::vector<Finding>{hard(c, 0), hard(a, 0), hard(b, 0)});
  EXPECT_EQ(current.findings().size(), 3U);
}

TEST(Case, CopiesGoTheirOwnWays) {
  support::Builder builder;
  const std::size_t a = builder.variable("a", {"y", "n"}, {}, {0.2, 0.8});
  const std::size_t b = builder.variable("b", {"y", "n"}, {a}, {0.9, 0.1, 0.3, 0.7});
  Case first{Solver(builder.model())};
  static_cast<void>(first.posteriors());
  Case second = first;
  second.add_finding(b, 0);
  EXPECT_NEAR(second.posterior(a)[0], 0.18 / 0.42, 1e-15);
  EXPECT_NEAR(first.posterior(a)[0], 0.2, 1e-15);
  EXPECT_TRUE(first.findings().empty());
}

// Cases of one solver in 8 threads give the bits they give in one.
TEST(Case, ThreadsShareASolver) {
  Dice dice(2'300'000);
  support::RandomModelOptions options;
  options.fewest_variables = 10;
  for (const bool whole : {true, false}) {
    const FaultModel model = support::random_model(dice, options);
    const Solver solver(model, plan_options(whole));
    const auto answers = [&solver, &model](std::uint64_t seed) {
      Dice own(seed);
      std::vector<double> numbers;
      for (std::size_t i = 0; i < 100; ++i) {
        Case current{solver};
        for (const Finding& finding : support::random_findings(own, model, own.below(4))) {
          try {
            current.add(finding);
          } catch (const ImpossibleFindings&) {
            numbers.push_back(-1.0);
          }
        }
        for (const std::vector<double>& row : current.posteriors())
          numbers.insert(numbers.end(), row.begin(), row.end());
        numbers.push_back(current.log_evidence());
      }
      return numbers;
    };
    std::vector<std::vector<double>> together(8);
    std::vector<std::thread> threads;
    for (std::size_t t = 0; t < 8; ++t) threads.emplace_back([&, t] { together[t] = answers(t); });
    for (std::thread& thread : threads) thread.join();
    for (std::size_t t = 0; t < 8; ++t) EXPECT_EQ(together[t], answers(t)) << "thread " << t;
  }
}

// Root (0.5, 0.5) with 2000 children, all observed 1: 1999 of them say nothing at 0.001, the last one 0.003 to 0.001.
// P(R=1 | e) = 0.75, P(e) = 2 * 0.001^2000.
TEST(Case, ThousandsOfFindingsDoNotUnderflow) {
  support::Builder builder;
  const std::size_t root = builder.variable("r", {"0", "1"}, {}, {0.5, 0.5});
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < 2000; ++i) {
    const double given_one = i == 1999 ? 0.003 : 0.001;
    const std::size_t child =
        builder.variable("c" + std::to_string(i), {"0", "1"}, {root}, {0.999, 0.001, 1.0 - given_one, given_one});
    findings.push_back({.variable = child, .weights = {0.0, 1.0}, .state = 1});
  }
  for (const bool whole : {true, false}) {
    Case current{Solver(builder.model(), plan_options(whole))};
    current.add(findings);
    EXPECT_NEAR(current.posterior(root)[1], 0.75, 1e-10);
    EXPECT_NEAR(current.log_evidence(), 2000.0 * std::log(0.001) + std::log(2.0), 1e-8);
  }
}

// The same far down: each link of a chain of 3000 passes the findings on.
TEST(Case, LongChainsDoNotUnderflow) {
  support::Builder builder;
  std::size_t before = builder.variable("x0", {"0", "1"}, {}, {0.5, 0.5});
  std::vector<Finding> findings;
  for (std::size_t i = 1; i < 3000; ++i) {
    before = builder.variable("x" + std::to_string(i), {"0", "1"}, {before}, {0.9, 0.1, 0.1, 0.9});
    const std::size_t seen = builder.variable("y" + std::to_string(i), {"0", "1"}, {before}, {0.99, 0.01, 0.99, 0.01});
    findings.push_back({.variable = seen, .weights = {0.0, 1.0}, .state = 1});
  }
  Case current{Solver(builder.model())};
  current.add(findings);
  EXPECT_NEAR(current.posterior("x1500")[0], 0.5, 1e-10);
  EXPECT_NEAR(current.log_evidence(), 2999.0 * std::log(0.01), 1e-7);
}

}  // namespace

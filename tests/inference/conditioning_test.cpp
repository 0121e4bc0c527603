// Posteriors by conditioning against enumeration, and, if the tree of the whole does not fit, against a solver that
// is allowed more memory.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/conditioning.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "support/build.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

TEST(Conditioning, EqualsEnumerationWhateverItIsOn) {
  Dice dice(71);
  std::size_t compared = 0;
  for (std::size_t round = 0; round < support::rounds(200); ++round) {
    const FaultModel model = support::random_model(dice);
    const std::vector<Finding> findings = support::random_findings(dice, model, dice.between(0, 2));
    const Enumeration oracle(model);
    if (oracle.evidence(findings) < 1e-9) continue;
    ConditioningOptions options;
    for (std::size_t v = 0; v < model.size() && options.on.size() < 3; ++v) {
      if (finding_of(findings, v) == nullptr && dice.between(0, 1) == 0) options.on.push_back(v);
    }
    const ConditionedPosteriors found = posteriors_by_conditioning(Solver(model), findings, options);
    EXPECT_NEAR(found.log_evidence, std::log(oracle.evidence(findings)), 1e-10);
    const std::vector<std::vector<double>> exact = oracle.posteriors(findings);
    for (std::size_t v = 0; v < model.size(); ++v) {
      for (std::size_t s = 0; s < exact[v].size(); ++s) EXPECT_NEAR(found.of_variable[v][s], exact[v][s], 1e-10);
    }
    ++compared;
  }
  EXPECT_GT(compared, support::rounds(200) / 2);
}

Finding hard(std::size_t variable, std::size_t state) {
  Finding finding{.variable = variable, .weights = {0.0, 0.0}, .state = state};
  finding.weights[state] = 1.0;
  return finding;
}

TEST(Conditioning, AnswersWhereTheTreeIsRefusedForMemory) {
  Dice dice(72);
  const FaultModel model = support::grid(9, dice);
  const std::vector<Finding> findings = {hard(80, 1), hard(40, 0)};
  Case large{Solver(model)};
  large.add(findings);
  SolverOptions little;
  little.memory_limit_bytes = 200'000.0;
  const Solver small(model, little);
  ASSERT_THROW(Case(small).add(findings), TooLarge);
  const ConditionedPosteriors found = posteriors_by_conditioning(small, findings);
  EXPECT_GT(found.on.size(), 0U);
  EXPECT_EQ(found.cases, std::size_t{1} << found.on.size());
  EXPECT_NEAR(found.log_evidence, large.log_evidence(), 1e-10);
  const std::vector<std::vector<double>> exact = large.posteriors();
  for (std::size_t v = 0; v < model.size(); ++v) EXPECT_NEAR(found.of_variable[v][1], exact[v][1], 1e-10);
}

TEST(Conditioning, RefusesWhatCannotBe) {
  Dice dice(73);
  const FaultModel model = support::grid(9, dice);
  SolverOptions little;
  little.memory_limit_bytes = 200'000.0;
  const Solver small(model, little);
  const std::vector<Finding> findings = {hard(80, 1)};
  EXPECT_THROW((void)posteriors_by_conditioning(small, findings, {{80}, 100}), ArgumentError);
  EXPECT_THROW((void)posteriors_by_conditioning(small, findings, {{3, 3}, 100}), ArgumentError);
  EXPECT_THROW((void)posteriors_by_conditioning(small, findings, {{}, 2}), TooLarge);
  support::Builder builder;
  const std::size_t cause = builder.component("cause", 0.1);
  builder.variable("effect", {"no", "yes"}, {cause}, {1.0, 0.0, 0.0, 1.0});
  const std::vector<Finding> impossible = {hard(0, 0), hard(1, 1)};
  EXPECT_THROW((void)posteriors_by_conditioning(Solver(builder.model()), impossible), ImpossibleFindings);
}

}  // namespace

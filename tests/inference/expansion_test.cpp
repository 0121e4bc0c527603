// Chains of noisy-MAX effects in every order, and known states put into tables, against enumeration.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/network/expansion.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/variable_elimination.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;

/// P(variable, findings) from the network.
std::vector<double> joint_with_findings(const Network& network, const std::vector<Finding>& findings,
                                        std::size_t variable) {
  std::vector<Potential> factors = network.factors;
  for (const Finding& finding : findings) {
    if (network.slot_of[finding.variable] == no_slot) continue;
    factors.push_back({{network.slot_of[finding.variable]}, finding.weights});
  }
  const std::vector<std::size_t> kept = {network.slot_of[variable]};
  double log_scale = 0.0;
  Potential table = eliminate(std::move(factors), network.state_counts, kept, 1e9, &log_scale);
  for (double& value : table.values) value *= std::exp(log_scale);
  return table.values;
}

/// A model of noisy-MAX effects, most with more causes than a table is written out for.
FaultModel noisy_model(Dice& dice) {
  support::RandomModelOptions options;
  options.fewest_variables = 8;
  options.max_variables = 11;
  options.max_states = 3;
  options.max_parents = 7;
  options.max_joint_states = 6000.0;
  options.noisy_share = 0.8;
  return support::random_model(dice, options);
}

TEST(Expansion, EveryOrderOfChainsEqualsEnumeration) {
  std::size_t with_chains = 0;
  std::size_t other_orders = 0;
  for (std::size_t round = 0; round < support::rounds(40); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    Dice dice(7'000'000 + round);
    const FaultModel model = noisy_model(dice);
    const support::Enumeration right(model);
    const std::size_t asked = dice.below(model.size());
    const std::vector<Finding> findings = support::random_findings(dice, model, dice.between(1, 6));
    const double evidence = right.evidence(findings);
    if (!(evidence > 0.0)) continue;
    std::vector<double> expected = right.joint(findings, {asked});
    for (double& value : expected) value *= evidence;
    CaseShape shape = shape_of_case(model, {asked}, findings);
    shape.presence[asked] = Presence::present;
    const Network first = expand(model, shape.presence, shape.known);
    for (std::uint64_t seed = 0; seed < 4; ++seed) {
      const Network network = expand(model, shape.presence, shape.known, seed);
      support::expect_near(joint_with_findings(network, findings, asked), expected, 1e-12);
      for (std::size_t f = 0; f < network.factors.size(); ++f) {
        other_orders += network.factors[f].values == first.factors[f].values ? 0 : 1;
      }
    }
    const Network nothing_known = expand(model, shape.presence);
    support::expect_near(joint_with_findings(nothing_known, findings, asked), expected, 1e-12);
    with_chains += has_chains(model) ? 1 : 0;
    if (HasFailure()) return;
  }
  EXPECT_GT(with_chains, 15U);
  EXPECT_GT(other_orders, 30U);
}

// Many effects found present at once, none of the tables small: each case has a junction tree of its own.
TEST(Expansion, CasesWithManyAbnormalFindingsEqualEnumeration) {
  std::size_t cases = 0;
  std::size_t impossible = 0;
  for (std::size_t round = 0; round < support::rounds(40); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    Dice dice(8'000'000 + round);
    const FaultModel model = noisy_model(dice);
    const support::Enumeration right(model);
    SolverOptions options;
    options.whole_tree_entries = 0.0;
    const Solver solver(model, options);
    Case current(solver);
    std::vector<Finding> findings;
    for (std::size_t v = 0; v < model.size(); ++v) {
      const std::size_t states = model.state_count(v);
      if (states < 2 || dice.chance(model.parents(v).empty() ? 0.7 : 0.3)) continue;
      Finding finding{.variable = v, .weights = std::vector<double>(states, 0.0), .state = dice.between(1, states - 1)};
      finding.weights[*finding.state] = 1.0;
      findings.push_back(finding);
      if (right.evidence(findings) > 0.0) {
        current.add(finding);
        continue;
      }
      findings.pop_back();
      EXPECT_THROW(current.add(finding), ImpossibleFindings);
      ++impossible;
    }
    EXPECT_NEAR(current.log_evidence(), std::log(right.evidence(findings)), 1e-10);
    for (std::size_t v = 0; v < model.size(); ++v) {
      support::expect_near(current.posterior(v), right.joint(findings, {v}), 1e-10);
      const std::size_t other = dice.below(model.size());
      if (other == v) continue;
      support::expect_near(current.joint(std::vector<VariableIndex>{v, other}).probabilities,
                           right.joint(findings, {v, other}), 1e-10);
    }
    cases += solver.has_shared_tree() ? 0 : 1;
    if (HasFailure()) return;
  }
  EXPECT_GT(cases, 20U);
  EXPECT_GT(impossible, 5U);
}

}  // namespace

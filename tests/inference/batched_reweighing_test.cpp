// Expectations of products, many at once, against the sum over all joint states.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/engine/batched_reweighing.hpp"

#include <gtest/gtest.h>

#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;
using WeightList = std::vector<Reweighing::Weights>;

constexpr double tolerance = 1e-10;

WeightList random_weights(Dice& dice, const FaultModel& model) {
  WeightList list;
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (!dice.chance(0.4)) continue;
    list.push_back({v, {}});
    for (std::size_t s = 0; s < model.state_count(v); ++s) {
      list.back().of_state.push_back(dice.chance(0.2) ? 0.0 : dice.uniform());
    }
  }
  return list;
}

/// The findings with these weights as likelihoods beside them.
std::vector<Finding> with_weights(std::vector<Finding> findings, const WeightList& list) {
  for (const Reweighing::Weights& weights : list)
    findings.push_back({.variable = weights.variable, .weights = weights.of_state, .state = std::nullopt});
  return findings;
}

void fill(BatchedReweighing& batch, const std::vector<WeightList>& products, std::size_t wanted) {
  batch.start(products.size());
  for (std::size_t p = 0; p < products.size(); ++p) {
    for (const Reweighing::Weights& weights : products[p]) batch.weigh(p, weights.variable, weights.of_state);
  }
  batch.want(wanted);
  batch.run();
}

void expect_right(BatchedReweighing& batch, const Enumeration& oracle, const std::vector<Finding>& findings,
                  const std::vector<WeightList>& products, std::size_t wanted, std::size_t states) {
  fill(batch, products, wanted);
  for (std::size_t p = 0; p < products.size(); ++p) {
    const std::vector<Finding> weighed = with_weights(findings, products[p]);
    const double mean = oracle.evidence(weighed) / oracle.evidence(findings);
    EXPECT_NEAR(batch.expectation(p), mean, tolerance);
    if (mean <= 0.0) continue;
    const std::vector<double> posterior = oracle.joint(weighed, {wanted});
    for (std::size_t s = 0; s < states; ++s) EXPECT_NEAR(batch.joint(p, wanted, s), mean * posterior[s], tolerance);
  }
}

TEST(BatchedReweighing, OfRandomModelsAgainstEnumeration) {
  Dice dice(20266);
  for (std::size_t round = 0; round < support::rounds(200); ++round) {
    const FaultModel model = support::random_model(dice, {});
    const Enumeration oracle(model);
    const std::vector<Finding> findings = support::random_findings(dice, model, dice.below(3));
    if (oracle.evidence(findings) <= 1e-6) continue;
    Case current(Solver(model, {.whole_tree_entries = 1e9}));
    current.add(findings);
    BatchedReweighing batch = current.batched_reweighing();
    const std::size_t wanted = dice.below(model.size());
    std::vector<WeightList> products;
    for (std::size_t p = 0; p < dice.between(1, 20); ++p) products.push_back(random_weights(dice, model));
    expect_right(batch, oracle, findings, products, wanted, model.state_count(wanted));

    const WeightList given = random_weights(dice, model);
    const std::vector<Finding> beside = with_weights(findings, given);
    if (oracle.evidence(beside) <= 1e-9 * oracle.evidence(findings)) continue;
    batch.give(given);
    expect_right(batch, oracle, beside, products, wanted, model.state_count(wanted));
    batch.give({});
    expect_right(batch, oracle, findings, products, wanted, model.state_count(wanted));
  }
}

/// A product's answer has the same bits whatever is beside it and whatever ran before.
TEST(BatchedReweighing, DoesNotHangOnTheCompany) {
  Dice dice(20267);
  for (std::size_t round = 0; round < support::rounds(50); ++round) {
    const FaultModel model = support::random_model(dice, {});
    const Case current(Solver(model, {.whole_tree_entries = 1e9}));
    std::vector<WeightList> products(11, random_weights(dice, model));
    for (std::size_t p = 0; p < 10; ++p) {
      for (Reweighing::Weights& weights : products[p]) {
        for (double& w : weights.of_state) w = dice.uniform();
      }
    }
    BatchedReweighing together = current.batched_reweighing();
    fill(together, products, 0);
    const double last = together.expectation(10);
    BatchedReweighing alone = current.batched_reweighing();
    fill(alone, {products[10]}, 0);
    EXPECT_EQ(last, alone.expectation(0));
    fill(together, {products[10]}, 0);
    EXPECT_EQ(last, together.expectation(0));
  }
}

}  // namespace

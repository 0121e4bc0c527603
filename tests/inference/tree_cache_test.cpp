// Junction trees kept for cases of the same shape change no answer, and a case that fails halfway stays as it was.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/junction_tree/tree_cache.hpp"

#include <gtest/gtest.h>

#include <stdexcept>
#include <thread>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/compare.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;

FaultModel noisy_model(Dice& dice) {
  support::RandomModelOptions options;
  options.fewest_variables = 8;
  options.max_parents = 6;
  options.noisy_share = 0.7;
  return support::random_model(dice, options);
}

SolverOptions plan_per_case() {
  SolverOptions options;
  options.whole_tree_entries = 0.0;
  return options;
}

CaseShape shape_with(const FaultModel& model, const std::vector<Finding>& findings) {
  std::vector<VariableIndex> all(model.size());
  for (std::size_t v = 0; v < all.size(); ++v) all[v] = v;
  return shape_of_case(model, all, findings);
}

TEST(TreeCache, GivesTheSamePlanForTheSameShape) {
  Dice dice(1);
  const FaultModel model = noisy_model(dice);
  const Solver solver(model, plan_per_case());
  const CaseShape nothing_found = shape_with(model, {});
  const std::shared_ptr<const JunctionTree> tree = solver.junction_tree_for(nothing_found);
  EXPECT_EQ(solver.junction_tree_for(nothing_found), tree);
  const CaseShape less_wanted = shape_of_case(model, {0}, {});
  ASSERT_NE(less_wanted, nothing_found);
  EXPECT_NE(solver.junction_tree_for(less_wanted), tree);
  EXPECT_EQ(solver.junction_tree_for(nothing_found), tree);
}

TEST(TreeCache, StaysWithinItsBytesAndDropsWhatWasUsedLongestAgo) {
  Dice dice(2);
  const FaultModel model = noisy_model(dice);
  const Solver solver(model, plan_per_case());
  const std::shared_ptr<const JunctionTree> tree = solver.junction_tree_for(shape_with(model, {}));
  const auto numbered = [](std::size_t number) { return CaseShape{{}, {number}}; };
  TreeCache none(0.0);
  none.keep(numbered(1), tree);
  EXPECT_EQ(none.find(numbered(1)), nullptr);
  const double bytes = TreeCache::bytes_of(*tree, numbered(1));
  TreeCache two(2.5 * bytes);
  two.keep(numbered(1), tree);
  two.keep(numbered(2), tree);
  EXPECT_NE(two.find(numbered(1)), nullptr);
  two.keep(numbered(3), tree);
  EXPECT_EQ(two.find(numbered(2)), nullptr);
  EXPECT_NE(two.find(numbered(1)), nullptr);
  EXPECT_NE(two.find(numbered(3)), nullptr);
}

// The same bits from a junction tree that is kept, one made anew, and in several threads.
TEST(TreeCache, ChangesNoAnswer) {
  for (std::size_t round = 0; round < support::rounds(20); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    Dice dice(3'000 + round);
    const FaultModel model = noisy_model(dice);
    SolverOptions options = plan_per_case();
    const Solver keeping(model, options);
    options.cached_trees_bytes = 0.0;
    const Solver forgetting(model, options);
    std::vector<std::vector<Finding>> walk;
    for (int i = 0; i < 6; ++i) walk.push_back(support::random_findings(dice, model, dice.below(5)));
    std::vector<std::vector<std::vector<double>>> right;
    for (const std::vector<Finding>& findings : walk) {
      Case fresh(forgetting);
      right.push_back(fresh.try_findings(findings) ? fresh.posteriors() : std::vector<std::vector<double>>{});
    }
    const auto go = [&] {
      Case current(keeping);
      for (int time = 0; time < 3; ++time) {
        for (std::size_t i = 0; i < walk.size(); ++i) {
          const bool possible = current.try_findings(walk[i]);
          EXPECT_EQ(possible, !right[i].empty());
          EXPECT_TRUE(!possible || current.posteriors() == right[i]);
        }
      }
    };
    std::thread other(go);
    go();
    other.join();
  }
}

TEST(Case, ViewsAreThePosteriors) {
  for (std::size_t round = 0; round < support::rounds(20); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    Dice dice(4'000 + round);
    const FaultModel model = noisy_model(dice);
    for (const double whole : {0.0, 1e9}) {
      SolverOptions options;
      options.whole_tree_entries = whole;
      Case current(Solver(model, options));
      if (!current.try_findings(support::random_findings(dice, model, dice.below(4)))) continue;
      const std::vector<std::vector<double>> right = current.posteriors();
      for (std::size_t v = 0; v < model.size(); ++v) {
        const std::span<const double> view = current.posterior_view(v);
        const std::vector<double> seen(view.begin(), view.end());
        if (current.batched_reweighing().can_weigh(v) || current.finding_of(v) != nullptr) {
          EXPECT_EQ(seen, right[v]);
        } else {  // side by side with others in one, alone in the other
          support::expect_near(seen, right[v], 1e-14);
        }
      }
    }
  }
}

TEST(Case, KeepsItsFindingsWhereAChangeIsStopped) {
  Dice dice(5);
  const FaultModel model = noisy_model(dice);
  bool stop = false;
  SolverOptions options = plan_per_case();
  options.cached_trees_bytes = 0.0;
  StopOptions polled;
  polled.poll = [&stop] {
    if (stop) throw std::runtime_error("stopped");
  };
  Case current(Solver(model, options));
  const StopScope scope(current, Stop(polled));
  std::vector<Finding> findings;
  for (std::size_t v = 0; v < model.size(); ++v) {
    findings.push_back(
        {.variable = v, .weights = std::vector<double>(model.state_count(v), 0.5), .state = std::nullopt});
    findings.back().weights[0] = 1.0;
  }
  const Finding last = findings.back();
  findings.pop_back();
  current.add(findings);
  const std::vector<std::vector<double>> right = current.posteriors();
  Finding changed = findings[1];
  changed.weights[0] = 0.25;
  stop = true;
  EXPECT_THROW(current.add(last), std::runtime_error);
  EXPECT_THROW(current.change(changed), std::runtime_error);
  EXPECT_THROW(current.take_back(1), std::runtime_error);
  EXPECT_THROW(current.take_back_to(2), std::runtime_error);
  EXPECT_THROW(static_cast<void>(current.try_findings({last})), std::runtime_error);
  stop = false;
  EXPECT_EQ(current.findings(), findings);
  EXPECT_EQ(current.posteriors(), right);
}

}  // namespace

// Every call that can be long is stopped: at its first look, halfway and at its last, and the case is what it was.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/stop.hpp"

#include <gtest/gtest.h>

#include <functional>
#include <string>
#include <vector>

#include "decision/workbench.hpp"
#include "faultodds/decision/evidence/evidence.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"
#include "faultodds/inference/batch.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/sampling.hpp"

namespace {

using namespace faultodds;

struct Enough {};

/// A stop that counts how often it is looked at, and throws Enough at one of the looks.
struct Looks {
  std::size_t seen = 0;
  std::size_t last = 0;  // 0: none
  Stop stop{StopOptions{.poll = [this] {
    if (++seen == last) throw Enough{};
  }}};
};

class Stopping : public ::testing::TestWithParam<bool> {
 protected:
  /// A junction tree for each case, or one for all.
  Stopping() : solver_(model(), options(GetParam())), current_(solver_) {
    current_.add_finding("dark", "present");
    current_.add_finding(current_.model().index_of("flickers"), 0);
  }

  static SolverOptions options(bool tree_for_each) {
    SolverOptions made;
    if (tree_for_each) made.whole_tree_entries = 0.0;
    made.two_layer_multiplications = 0.0;
    made.cached_trees_bytes = 0.0;
    return made;
  }
  static FaultModel model() { return read_model(FAULTODDS_SOURCE_DIR "/models/tutorial.json"); }

  /// Runs to the end, then is stopped at the first, the middle and the last look.
  void stops(const std::function<void(Case&, const Stop&)>& call) {
    const std::vector<std::vector<double>> right = current_.posteriors();
    const std::vector<Finding> findings = current_.findings();
    Looks all;
    Case fresh(current_);
    call(fresh, all.stop);
    ASSERT_GT(all.seen, 0U);
    for (const std::size_t last : {std::size_t{1}, (all.seen + 1) / 2, all.seen}) {
      Looks looks;
      looks.last = last;
      Case stopped(current_);
      EXPECT_THROW(call(stopped, looks.stop), Enough) << last << " of " << all.seen;
      EXPECT_FALSE(stopped.stop().is_set());
      EXPECT_EQ(stopped.findings(), findings);
      EXPECT_EQ(stopped.posteriors(), right);
    }
  }

  Solver solver_;
  Case current_;
};

INSTANTIATE_TEST_SUITE_P(, Stopping, ::testing::Bool(),
                         [](const auto& one) { return std::string(one.param ? "TreeForEachCase" : "TreeForAll"); });

TEST_P(Stopping, EndsRankings) {
  stops([](Case& current, const Stop& stop) { static_cast<void>(rank_tests(current, {}, {}, stop)); });
  stops([](Case& current, const Stop& stop) { static_cast<void>(look_ahead(current, {}, stop)); });
  stops([](Case& current, const Stop& stop) { static_cast<void>(best_batch(current, {}, stop)); });
}

TEST_P(Stopping, EndsExplanations) {
  stops([](Case& current, const Stop& stop) { static_cast<void>(explain(current, {}, 3, {}, stop)); });
  stops([](Case& current, const Stop& stop) { static_cast<void>(most_probable_explanations(current, 3, stop)); });
  stops([](Case& current, const Stop& stop) {
    static_cast<void>(weigh_evidence(current, not_sound(current.model(), current.model().index_of("battery")), stop));
  });
  stops([](Case& current, const Stop& stop) { static_cast<void>(conflict(current, stop)); });
}

TEST_P(Stopping, EndsWhatLeadsToAPlan) {
  stops([](Case& current, const Stop& stop) { static_cast<void>(hypotheses_of(current, {}, stop)); });
  stops([](Case& current, const Stop& stop) { static_cast<void>(problem_of(current, {}, stop)); });
  stops([](Case& current, const Stop& stop) { static_cast<void>(after_repair(current, 0, stop)); });
}

TEST_P(Stopping, EndsWorkOnManyCases) {
  stops([](Case& current, const Stop& stop) {
    const std::vector<std::int32_t> states{0, 1, 1, 0};
    const CaseRows rows{4, {current.findings()[0].variable}, states, {}};
    static_cast<void>(answer_cases(current.solver(), rows, std::vector<VariableIndex>{0}, {}, stop));
  });
  stops([](Case& current, const Stop& stop) {
    const ConditioningOptions on{{0}, 16};
    static_cast<void>(posteriors_by_conditioning(current.solver(), {}, on, stop));
  });
  stops([](Case& current, const Stop& stop) {
    static_cast<void>(sample_posteriors(current.model(), current.findings(), {2000, 1}, stop));
  });
}

TEST_P(Stopping, EndsCompiling) {
  stops([](Case& current, const Stop& stop) {
    Case again(Solver(current.model(), current.solver().options(), stop));
    const StopScope scope(again, stop);
    again.add(current.findings());
    static_cast<void>(again.posteriors());
  });
}

/// Where a problem is stopped there is nothing to be left as it was, and some work has an answer at any time.
class StoppedPlanning : public ::testing::Test {
 protected:
  StoppedPlanning() {
    Case current(Solver(read_model(FAULTODDS_SOURCE_DIR "/models/low-power-petrol.json")));
    current.add_finding("low_power", "present");
    CaseProblemOptions options;
    options.max_tests = 12;
    problem_ = problem_of(current, options).problem;
    start_ = start_of(problem_);
  }

  void stops(const std::function<void(const Stop&)>& call) {
    Looks all;
    call(all.stop);
    ASSERT_GT(all.seen, 1U);
    for (const std::size_t last : {std::size_t{1}, (all.seen + 1) / 2, all.seen}) {
      Looks looks;
      looks.last = last;
      EXPECT_THROW(call(looks.stop), Enough) << last << " of " << all.seen;
    }
  }

  TroubleshootingProblem problem_;
  Situation start_;
};

TEST_F(StoppedPlanning, EndsWeighing) {
  stops([&](const Stop& stop) { static_cast<void>(price_steps(problem_, start_, 1, stop)); });
  stops([&](const Stop& stop) { static_cast<void>(weigh_steps(problem_, start_, 1, stop)); });
  stops([&](const Stop& stop) {
    static_cast<void>(greedy_policy_tree(problem_, {.min_probability = 0.05, .max_nodes = 100'000}, stop));
  });
  EXPECT_THROW(static_cast<void>(weigh_steps(problem_, start_, 4, Stop::after(0.05))), Stopped);
  EXPECT_THROW(static_cast<void>(look_ahead_policy_tree(problem_, 4, {}, Stop::after(0.05))), Stopped);
}

TEST_F(StoppedPlanning, KeepsTheBestThatWasFound) {
  SearchOptions short_search{.max_steps = 5};
  short_search.tree.min_probability = 0.01;
  const OptimalPolicyTree atonce = optimal_policy_tree(problem_, short_search, Stop::after(0.0));
  EXPECT_TRUE(atonce.stopped);
  EXPECT_EQ(atonce.steps, 0U);
  const OptimalPolicyTree later = optimal_policy_tree(problem_, short_search);
  EXPECT_FALSE(later.stopped);
  EXPECT_EQ(later.steps, 5U);
  for (const OptimalPolicyTree& found : {atonce, later}) {
    EXPECT_LE(found.lower_bound, found.upper_bound);
    EXPECT_NEAR(found.upper_bound, expected_cost(problem_, found.policy_tree), 1e-9 * found.upper_bound);
  }
  EXPECT_LE(later.upper_bound, atonce.upper_bound);
  EXPECT_LE(atonce.lower_bound, later.lower_bound);
}

TEST_F(StoppedPlanning, KeepsTheBestOrderOfRepairs) {
  const RepairOrder stopped = best_repair_order(problem_, {.max_steps = 20}, Stop::after(0.0));
  EXPECT_TRUE(stopped.stopped);
  EXPECT_FALSE(stopped.best);
  EXPECT_LE(stopped.lower_bound, stopped.expected_cost);
}

}  // namespace

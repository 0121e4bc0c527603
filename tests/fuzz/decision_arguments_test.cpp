// Every public call of decision/ with indices, sizes, names and amounts that do not fit: all are refused, none reads
// beyond memory. Worth most under the address sanitizer.
// SPDX-License-Identifier: BSD-3-Clause
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/planning/separation.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"
#include "faultodds/io/model_file.hpp"
#include "fuzz/wrong_values.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::no_index;
using support::other_size;
using support::refuses;
using support::survives;

/// Options of a kind with something changed.
template <class Options, class Change>
Options changed(const Change& change) {
  Options options;
  change(options);
  return options;
}

class WrongDecisions : public ::testing::Test {
 protected:
  static constexpr std::size_t times = 40;

  WrongDecisions() : model_(read_model(FAULTODDS_SOURCE_DIR "/models/tutorial.json")), current_(Solver(model_)) {
    current_.add_finding("dark", "present");
  }

  std::size_t no_variable() { return no_index(dice_, model_.size()); }

  Dice dice_{2};
  FaultModel model_;
  Case current_;
};

TEST_F(WrongDecisions, InRankings) {
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    const std::string name(1 + dice_.below(30), 'x');
    const double wrong = support::wrong_weight(dice_);
    std::vector<RankOptions> ranking(9);
    ranking[0].targets = {nobody};
    ranking[1].tests = {nobody};
    std::vector<Means> all(9);
    all[2].tools = {name};
    all[3].skill = name;
    all[4].open_access = {name};
    all[5].conditions = {name};
    all[6].closed_access = {name};
    all[7].labour_rate = wrong;
    all[8].max_cost = wrong;
    for (std::size_t o = 0; o < all.size(); ++o) {
      const std::string what = "options " + std::to_string(o);
      refuses(what, [&] { static_cast<void>(rank_tests(current_, ranking[o], all[o])); });
      refuses(what, [&] {
        static_cast<void>(look_ahead(current_, {.ranking = ranking[o], .means = all[o], .candidates = 3}));
      });
      refuses(what, [&] {
        static_cast<void>(best_batch(current_, changed<TestBatchOptions>([&](auto& made) {
                                       made.ranking = ranking[o];
                                       made.means = all[o];
                                     })));
      });
      refuses(what, [&] {
        CaseProblemOptions options;
        options.means = all[o];
        options.tests = ranking[o].tests;
        options.hypotheses.components = ranking[o].targets;
        static_cast<void>(problem_of(current_, options));
      });
    }
    refuses("has_revealed", [&] { static_cast<void>(has_revealed(current_, nobody)); });
    refuses("leading_faults", [&] { static_cast<void>(leading_faults(current_, {nobody}, 3)); });
    refuses("is_ruled_out", [&] { static_cast<void>(is_ruled_out(current_, nobody)); });
    refuses("unmet_preconditions", [&] { static_cast<void>(unmet_preconditions(current_, nobody)); });
    refuses("state_of", [&] { static_cast<void>(state_of(current_, Gate{nobody, {0}})); });
    refuses("separating_targets",
            [&] { static_cast<void>(separating_targets(current_, 0, std::vector<VariableIndex>{nobody})); });
    refuses("separating_targets", [&] { static_cast<void>(separating_targets(current_, nobody, {})); });
    refuses("best_batch", [&] {
      static_cast<void>(best_batch(current_, changed<TestBatchOptions>([&](auto& made) { made.access = name; })));
    });
    const Means late{.stated_after = no_index(dice_, 1)};
    survives("stated_after", [&] { static_cast<void>(rank_tests(current_, {}, late)); });
  }
}

TEST_F(WrongDecisions, AboutWork) {
  for (std::size_t i = 0; i < times; ++i) {
    const std::string name(1 + dice_.below(30), 'x');
    Work work;
    work.access = {name};
    refuses("cost_of", [&] { static_cast<void>(cost_of(current_, work, {})); });
    refuses("cost_of", [&] { static_cast<void>(cost_of(model_, work, {})); });
    refuses("conditions_of", [&] { static_cast<void>(conditions_of(model_, work)); });
    Work hot;
    hot.conditions = {name};
    refuses("cost_of", [&] { static_cast<void>(cost_of(model_, hot, {})); });
    Work by_context;
    by_context.by_context = {{{{no_variable(), {0}}}, 1.0, {}, {}}};
    refuses("cost_of", [&] { static_cast<void>(cost_of(current_, by_context, {})); });
    WorkCost cost;
    (dice_.chance(0.5) ? cost.opens : cost.brings) = {name};
    refuses("tools_of", [&] { static_cast<void>(tools_of(model_, {}, cost)); });
    refuses("cautions_of", [&] { static_cast<void>(cautions_of(model_, {}, cost)); });
    refuses("skill_of", [&] { static_cast<void>(skill_of(model_, {}, cost)); });
    survives("after_work", [&] { static_cast<void>(after_work(model_, {}, cost)); });
    survives("in_place_in", [&] { static_cast<void>(in_place_in(current_, {{name}, {name}}, no_index(dice_, 1))); });
  }
}

TEST_F(WrongDecisions, AboutEvidence) {
  const std::size_t battery = model_.index_of("battery");
  const std::size_t states = model_.state_count(battery);
  const std::size_t test = model_.with_role(Role::test).front();
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    const std::size_t no_state = no_index(dice_, states);
    refuses("not_sound", [&] { static_cast<void>(not_sound(model_, nobody)); });
    for (const Claim& claim : {Claim{nobody, {0}}, Claim{battery, {no_state}}, Claim{battery, {}}}) {
      refuses("weigh_evidence", [&] { static_cast<void>(weigh_evidence(current_, claim)); });
    }
    refuses("claim_in_words", [&] { static_cast<void>(claim_in_words(model_, {battery, {no_state}})); });
    refuses("claim_in_words", [&] { static_cast<void>(claim_in_words(model_, {nobody, {0}})); });
    refuses("finding_in_words", [&] { static_cast<void>(finding_in_words(model_, {battery, {}, {}})); });
    Evidence evidence = weigh_evidence(current_, not_sound(model_, battery));
    evidence.findings.resize(other_size(dice_, evidence.findings.size()));
    refuses("explain_in_words", [&] { static_cast<void>(explain_in_words(current_, evidence)); });
    Conflict found = conflict(current_);
    found.bits = 10.0;
    found.with_rest_bits.resize(other_size(dice_, found.with_rest_bits.size()) + 1, 1.0);
    if (found.with_rest_bits.size() != current_.findings().size()) {
      refuses("explain_in_words", [&] { static_cast<void>(explain_in_words(current_, found)); });
    }
    const std::vector<FaultProbability> faults{{battery, 1, 0.1}};
    refuses("contrast", [&] { static_cast<void>(contrast(current_, nobody, faults)); });
    refuses("contrast", [&] {
      static_cast<void>(contrast(current_, test, std::vector<FaultProbability>{{battery, no_state, 0.1}}));
    });
    TestContrast said = contrast(current_, test, faults);
    said.pairs = {{0, no_index(dice_, 1), 0.5}};
    refuses("explain_in_words", [&] { static_cast<void>(explain_in_words(model_, said)); });
    refuses("overlap", [&] {
      static_cast<void>(overlap(std::vector<double>(2, 0.5), std::vector<double>(other_size(dice_, 2), 0.5)));
    });
  }
}

TEST_F(WrongDecisions, OnTheWayToAPlan) {
  const std::size_t repairs = model_.parts().repairs.size();
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    refuses("hypotheses_of", [&] {
      static_cast<void>(
          hypotheses_of(current_, changed<HypothesesOptions>([&](auto& made) { made.components = {nobody}; })));
    });
    refuses("hypotheses_of", [&] {
      static_cast<void>(hypotheses_of(current_, changed<HypothesesOptions>([](auto& made) { made.most = 0; })));
    });
    refuses("allows_one_fault", [&] { static_cast<void>(allows_one_fault(current_, {nobody})); });
    refuses("problem_of", [&] {
      static_cast<void>(problem_of(
          current_, changed<CaseProblemOptions>([&](auto& made) { made.repairs_done = {no_index(dice_, repairs)}; })));
    });
    refuses("problem_of", [&] {
      static_cast<void>(problem_of(current_, changed<CaseProblemOptions>([&](auto& made) {
                                     made.ends.hand_over = support::wrong_weight(dice_);
                                   })));
    });
    refuses("after_repair", [&] { static_cast<void>(after_repair(current_, no_index(dice_, repairs))); });
    const Repaired by_hand{current_, nobody, {Gate{nobody, {0}}}, {}, {}};
    refuses("after_repair", [&] { static_cast<void>(after_repair(by_hand, 0)); });
    const Repaired past{current_, 0, {}, {nobody}, {}};
    refuses("after_repair", [&] { static_cast<void>(after_repair(past, 0)); });
  }
  const Repaired by_hand{current_, 0, {}, {}, {}};
  EXPECT_EQ(after_repair(by_hand, 0).current.posteriors(), after_repair(current_, 0).current.posteriors());
}

/// Planning problems that do not fit together, and situations and steps that do not fit a problem.
class WrongPlanning : public ::testing::Test {
 protected:
  static constexpr std::size_t times = 150;

  TroubleshootingProblem problem() {
    return source_.problem({.hypotheses = 2 + dice_.below(4),
                            .tests = 1 + dice_.below(3),
                            .repairs = 1 + dice_.below(3),
                            .set_ups = 1 + dice_.below(3)});
  }

  /// With one of its lists too short or too long, or a belief that is none.
  Situation wrong(Situation situation) {
    const std::size_t which = dice_.below(5);
    if (which == 4) {
      situation.belief[dice_.below(situation.belief.size())] = support::wrong_weight(dice_);
    } else if (which == 3) {
      situation.belief.resize(other_size(dice_, situation.belief.size()), 0.1);
    } else {
      std::vector<bool>* const lists[] = {&situation.tests_done, &situation.repairs_done, &situation.in_place};
      lists[which]->resize(other_size(dice_, lists[which]->size()), false);
    }
    return situation;
  }

  void wrong(TroubleshootingProblem& problem) {
    TestAction& test = problem.tests[dice_.below(problem.tests.size())];
    RepairAction& repair = problem.repairs[dice_.below(problem.repairs.size())];
    switch (dice_.below(9)) {
      case 0:
        problem.weights.resize(other_size(dice_, problem.weights.size()), 0.5);
        break;
      case 1:
        test.table.pop_back();
        break;
      case 2:
        test.set_ups = {no_index(dice_, problem.set_ups.size())};
        break;
      case 3:
        repair.success.resize(other_size(dice_, repair.success.size()), 0.5);
        break;
      case 4:
        repair.becomes.assign(problem.hypotheses.size(), problem.hypotheses.size() + dice_.below(100));
        break;
      case 5:
        repair.set_ups = {no_index(dice_, problem.set_ups.size())};
        break;
      case 6:
        problem.set_ups[0].needs = {no_index(dice_, problem.set_ups.size())};
        break;
      case 7:
        problem.hypotheses.clear();
        break;
      default:
        test.cost = support::wrong_weight(dice_);
    }
  }

  Dice dice_{3};
  faultodds_tests::ProblemSource source_{3};
};

TEST_F(WrongPlanning, Situations) {
  for (std::size_t i = 0; i < times; ++i) {
    const TroubleshootingProblem right = problem();
    const Situation bad = wrong(start_of(right));
    refuses("possible_steps", [&] { static_cast<void>(possible_steps(right, bad)); });
    refuses("step_cost", [&] { static_cast<void>(step_cost(right, bad, {StepKind::test, 0})); });
    refuses("results_of", [&] { static_cast<void>(results_of(right, bad, {StepKind::repair, 0})); });
    refuses("cheapest_end", [&] { static_cast<void>(cheapest_end(right, bad)); });
    refuses("price_steps", [&] { static_cast<void>(price_steps(right, bad)); });
    refuses("weigh_steps", [&] { static_cast<void>(weigh_steps(right, bad)); });
    refuses("perfect_information_cost", [&] { static_cast<void>(perfect_information_cost(right, bad)); });
    refuses("cost_lower_bound", [&] { static_cast<void>(cost_lower_bound(right, bad)); });
    refuses("p_over_c_order", [&] { static_cast<void>(p_over_c_order(right, bad)); });
    refuses("greedy_policy", [&] { static_cast<void>(greedy_policy(right)(bad)); });
    refuses("look_ahead_policy", [&] { static_cast<void>(look_ahead_policy(right, 1)(bad)); });
    refuses("fixed_order_policy", [&] { static_cast<void>(fixed_order_policy(right, {{0}, 0.5})(bad)); });
    std::vector<bool> in_place(other_size(dice_, right.set_ups.size()), false);
    refuses("set_up_work", [&] { static_cast<void>(set_up_work(right, in_place, {})); });
  }
}

TEST_F(WrongPlanning, Steps) {
  for (std::size_t i = 0; i < times; ++i) {
    TroubleshootingProblem right = problem();
    right.ends.live_with.reset();
    const Situation start = start_of(right);
    const std::vector<Step> steps = {{StepKind::test, no_index(dice_, right.tests.size())},
                                     {StepKind::repair, no_index(dice_, right.repairs.size())},
                                     {StepKind::live_with, 0}};
    for (const Step& step : steps) {
      refuses("step_cost", [&] { static_cast<void>(step_cost(right, start, step)); });
      refuses("results_of", [&] { static_cast<void>(results_of(right, start, step)); });
      refuses("follow", [&] { static_cast<void>(follow(right, [&](const Situation&) { return step; })); });
    }
    refuses("step_cost", [&] { static_cast<void>(step_cost(right, start, {StepKind::ask_again, 0})); });
    refuses("follow", [&] { static_cast<void>(follow(right, Policy{})); });
    refuses("price_steps", [&] { static_cast<void>(price_steps(right, start, 0)); });
    const std::size_t no_test = no_index(dice_, right.tests.size());
    refuses("fixed_order_policy", [&] { static_cast<void>(fixed_order_policy(right, {{no_test}, 0.5})); });
    const std::size_t no_repair = no_index(dice_, right.repairs.size());
    refuses("priced_repair_order", [&] { static_cast<void>(priced_repair_order(right, std::vector{no_repair})); });
    refuses("proposed_among", [&] { static_cast<void>(proposed_among({})); });
    const std::size_t no_set_up = no_index(dice_, right.set_ups.size());
    refuses("set_up_work", [&] {
      static_cast<void>(set_up_work(right, std::vector<bool>(right.set_ups.size()), std::vector{no_set_up}));
    });
  }
}

TEST_F(WrongPlanning, Problems) {
  for (std::size_t i = 0; i < times; ++i) {
    TroubleshootingProblem bad = problem();
    const Situation start = start_of(bad);
    wrong(bad);
    refuses("validate", [&] { validate(bad); });
    refuses("start_of", [&] { static_cast<void>(start_of(bad)); });
    refuses("possible_steps", [&] { static_cast<void>(possible_steps(bad, start)); });
    refuses("step_cost", [&] { static_cast<void>(step_cost(bad, start, {StepKind::test, 0})); });
    refuses("results_of", [&] { static_cast<void>(results_of(bad, start, {StepKind::test, 0})); });
    refuses("cheapest_end", [&] { static_cast<void>(cheapest_end(bad, start)); });
    refuses("weigh_steps", [&] { static_cast<void>(weigh_steps(bad, start)); });
    refuses("greedy_policy_tree", [&] { static_cast<void>(greedy_policy_tree(bad)); });
    refuses("look_ahead_policy_tree", [&] { static_cast<void>(look_ahead_policy_tree(bad, 1)); });
    refuses("optimal_policy_tree", [&] { static_cast<void>(optimal_policy_tree(bad)); });
    refuses("best_repair_order", [&] { static_cast<void>(best_repair_order(bad)); });
    refuses("p_over_c_order", [&] { static_cast<void>(p_over_c_order(bad)); });
    refuses("p_over_c_is_best", [&] { static_cast<void>(p_over_c_is_best(bad)); });
    refuses("perfect_information_cost", [&] { static_cast<void>(perfect_information_cost(bad, start)); });
    refuses("cost_lower_bound", [&] { static_cast<void>(cost_lower_bound(bad, start)); });
  }
}

TEST_F(WrongPlanning, PolicyTrees) {
  for (std::size_t i = 0; i < times; ++i) {
    const TroubleshootingProblem right = problem();
    PolicyTree tree = greedy_policy_tree(right);
    survives("expected_cost", [&] { static_cast<void>(expected_cost(right, PolicyTree{})); });
    std::vector<std::size_t> branching;
    for (std::size_t n = 0; n < tree.nodes.size(); ++n) {
      if (!tree.nodes[n].branches.empty()) branching.push_back(n);
    }
    if (branching.empty()) continue;
    PolicyNode& node = tree.nodes[branching[dice_.below(branching.size())]];
    if (dice_.chance(0.5)) {
      node.branches[dice_.below(node.branches.size())].node = no_index(dice_, tree.nodes.size());
      refuses("folded", [&] { static_cast<void>(folded(tree, 0.1)); });
    } else {
      node.step.index = no_index(dice_, right.tests.size() + right.repairs.size());
    }
    survives("expected_cost", [&] { static_cast<void>(expected_cost(right, tree)); });
  }
}

}  // namespace

// Bodies of case_problem.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/ranking/entropy.hpp"
#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/decision/work/cost.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

/// Makes the problem of a case part by part: set-ups, hypotheses, tests, repairs, ends.
class CaseProblemWriter {
 public:
  CaseProblemWriter(const Case& current, const CaseProblemOptions& options)
      : case_(current), model_(current.model()), options_(options), in_place_(in_place_in(current, options.means)) {
    require_known(model_, options.means);
    const std::size_t repairs = model_.parts().repairs.size();
    for (const RepairIndex repair : options.repairs_done) {
      if (repair < repairs) continue;
      throw ArgumentError("repairs_done", "index " + std::to_string(repair),
                          "the model has " + std::to_string(repairs) + " repairs", ErrorCode::index_out_of_range);
    }
  }

  [[nodiscard]] CaseProblem write() {
    write_set_ups();
    candidates_ = candidate_tests();
    write_hypotheses();
    write_tests();
    write_repairs();
    write_ends();
    validate(result_.problem);
    return std::move(result_);
  }

 private:
  /// By test: P(outcome).
  using OutcomesOfTests = std::vector<std::vector<double>>;
  /// A hypothesis that was looked at on the way, and the tests under it.
  struct Watched {
    std::vector<Fault> faults;
    OutcomesOfTests outcomes;
  };

  /// Of the work itself, without set-ups.
  [[nodiscard]] double own_cost(Work work) const {
    work.access.clear();
    work.conditions.clear();
    return cost_of(case_, work, {}, options_.means.labour_rate).cost;
  }

  [[nodiscard]] double labour(double minutes) const {
    return minutes / 60.0 * options_.means.labour_rate.value_or(model_.header().labour_rate);
  }

  void write_set_ups() {
    std::vector<SetUp>& set_ups = result_.problem.set_ups;
    for (const Access& access : model_.parts().access) {
      set_ups.push_back({access.name, own_cost(access.work), {}, {}, is_among(in_place_.access, access.name)});
    }
    for (const Condition& condition : model_.parts().conditions) {
      set_ups.push_back({condition.name,
                         own_cost(condition.work),
                         {},
                         condition.group,
                         is_among(in_place_.conditions, condition.name)});
    }
    for (std::size_t i = 0; i < model_.parts().access.size(); ++i) {
      for (const std::string& before : model_.parts().access[i].work.access) set_ups[i].needs.push_back(set_up(before));
    }
  }

  [[nodiscard]] std::size_t set_up(const std::string& name) const {
    const std::vector<SetUp>& all = result_.problem.set_ups;
    const auto at = std::find_if(all.begin(), all.end(), [&](const SetUp& one) { return one.name == name; });
    return static_cast<std::size_t>(at - all.begin());
  }

  [[nodiscard]] std::vector<std::size_t> set_ups_of(const Work& work) const {
    std::vector<std::size_t> wanted;
    for (const std::string& name : work.access) wanted.push_back(set_up(name));
    for (const std::string& name : conditions_of(model_, work)) wanted.push_back(set_up(name));
    return wanted;
  }

  /// Within the means and limits of the case.
  [[nodiscard]] bool allowed(const Work& work) const {
    const WorkCost cost = cost_of(case_, work, in_place_, options_.means.labour_rate);
    return beyond_means(model_, options_.means, work, cost).empty();
  }

  void write_hypotheses() {
    result_.hypotheses =
        hypotheses_with(case_, options_.hypotheses, [&](const std::vector<Fault>& faults, const Case& under) {
          watched_.push_back({faults, outcomes_under(under)});
        });
    if (options_.hypotheses.assumption == FaultAssumption::several_faults) add_what_repairs_leave();
    for (const Hypothesis& hypothesis : result_.hypotheses.list) {
      result_.problem.hypotheses.push_back(name_of(hypothesis.faults));
      result_.problem.weights.push_back(hypothesis.probability);
    }
    result_.rest_is_last = result_.hypotheses.left_out > 1e-12;
    if (!result_.rest_is_last) return;
    result_.problem.hypotheses.emplace_back("something else");
    result_.problem.weights.push_back(result_.hypotheses.left_out);
  }

  /// Sets that remain when a fault of several is repaired, down to single faults.
  void add_what_repairs_leave() {
    std::vector<Hypothesis>& list = result_.hypotheses.list;
    for (std::size_t h = 0; h < list.size(); ++h) {
      for (std::size_t i = 0; list[h].faults.size() > 1 && i < list[h].faults.size(); ++i) {
        std::vector<Fault> rest = list[h].faults;
        rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
        if (position_of(rest) == list.size()) list.push_back({std::move(rest), 0.0});
      }
    }
  }

  [[nodiscard]] std::size_t position_of(const std::vector<Fault>& faults) const {
    const std::vector<Hypothesis>& list = result_.hypotheses.list;
    const auto at = std::find_if(list.begin(), list.end(), [&](const Hypothesis& one) { return one.faults == faults; });
    return static_cast<std::size_t>(at - list.begin());
  }

  [[nodiscard]] std::string name_of(const std::vector<Fault>& faults) const {
    if (faults.empty()) return "no fault in question";
    std::string name;
    for (const Fault& fault : faults) {
      const Variable& component = model_.variable(fault.component);
      name += (name.empty() ? "" : " and ") + shown(component) + ": " + shown(component.states[fault.state]);
    }
    return name;
  }

  [[nodiscard]] std::vector<VariableIndex> candidate_tests() const {
    std::vector<VariableIndex> tests = options_.tests.empty() ? model_.with_role(Role::test) : options_.tests;
    std::erase_if(tests, [&](VariableIndex test) {
      return case_.finding_of(test) != nullptr || has_revealed(case_, test) ||
             !unmet_preconditions(case_, test).empty() || !allowed(as_test(model_.variable(test)).work);
    });
    return tests;
  }

  [[nodiscard]] OutcomesOfTests outcomes_under(const Case& under) const {
    OutcomesOfTests outcomes;
    outcomes.reserve(candidates_.size());
    for (const VariableIndex test : candidates_) outcomes.push_back(under.posterior(test));
    return outcomes;
  }

  /// By hypothesis of the list, then what was left out, then a vehicle without any fault in question.
  [[nodiscard]] std::vector<OutcomesOfTests> outcomes_of_all() {
    std::vector<OutcomesOfTests> rows;
    HypothesisTrial trial(case_, result_.hypotheses.components);
    const auto add_row = [&](const Case& under) {
      const StopScope scope(under, case_.stop());
      rows.push_back(outcomes_under(under));
    };
    for (const Hypothesis& hypothesis : result_.hypotheses.list) {
      const auto seen = std::find_if(watched_.begin(), watched_.end(),
                                     [&](const Watched& one) { return one.faults == hypothesis.faults; });
      if (seen != watched_.end()) {
        rows.push_back(std::move(seen->outcomes));
      } else {
        add_row(trial.assume(hypothesis.faults) ? trial.current() : without_symptoms(hypothesis.faults));
      }
    }
    if (result_.rest_is_last) add_rest(rows);
    add_row(without_symptoms({}));
    return rows;
  }

  /// What remains after repairs need not agree with earlier findings, so that only what is known of contexts counts.
  /// The case as it is if the model rules the hypothesis out altogether.
  [[nodiscard]] Case without_symptoms(const std::vector<Fault>& faults) const {
    std::vector<Finding> findings = findings_of(model_, result_.hypotheses.components, faults);
    for (const Finding& finding : case_.findings()) {
      if (model_.variable(finding.variable).role() == Role::context) findings.push_back(finding);
    }
    Case under(case_.solver());
    const StopScope scope(under, case_.stop());
    return under.try_findings(std::move(findings)) ? under : case_;
  }

  /// The average outcome beyond the list.
  void add_rest(std::vector<OutcomesOfTests>& rows) const {
    const OutcomesOfTests listed = mean_of(rows);
    OutcomesOfTests& row = rows.emplace_back();
    const std::vector<std::vector<double>> all = case_.posteriors();
    for (std::size_t t = 0; t < candidates_.size(); ++t) {
      std::vector<double> rest = all[candidates_[t]];
      if (result_.hypotheses.assumption == FaultAssumption::several_faults) {
        for (std::size_t o = 0; o < rest.size(); ++o) rest[o] = std::max(0.0, rest[o] - listed[t][o]);
      }
      const double sum = std::accumulate(rest.begin(), rest.end(), 0.0);
      for (double& p : rest) p = sum > 0.0 ? p / sum : 1.0 / static_cast<double>(rest.size());
      row.push_back(std::move(rest));
    }
  }

  /// Sum over the listed hypotheses of their probability times the outcome's.
  [[nodiscard]] OutcomesOfTests mean_of(const std::vector<OutcomesOfTests>& rows) const {
    OutcomesOfTests mean = rows.front();
    for (std::size_t t = 0; t < mean.size(); ++t) {
      std::fill(mean[t].begin(), mean[t].end(), 0.0);
      for (std::size_t h = 0; h < rows.size(); ++h) {
        for (std::size_t o = 0; o < mean[t].size(); ++o) mean[t][o] += result_.problem.weights[h] * rows[h][t][o];
      }
    }
    return mean;
  }

  void write_tests() {
    const std::vector<OutcomesOfTests> rows = outcomes_of_all();
    std::vector<TestAction> actions;
    std::vector<double> merit;
    for (std::size_t t = 0; t < candidates_.size(); ++t) {
      actions.push_back(test_action(candidates_[t], t, rows));
      const Work& work = as_test(model_.variable(candidates_[t])).work;
      merit.push_back(
          gain_ratio(gain_of(actions.back()), cost_of(case_, work, in_place_, options_.means.labour_rate).cost));
    }
    std::vector<std::size_t> order(candidates_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::erase_if(order, [&](std::size_t t) { return !(merit[t] > 0.0); });
    sort_stably(order, [&](std::size_t a, std::size_t b) { return merit[a] > merit[b]; });
    if (order.size() > options_.max_tests) order.resize(options_.max_tests);
    std::sort(order.begin(), order.end());
    for (const std::size_t t : order) {
      result_.problem.tests.push_back(std::move(actions[t]));
      result_.tests.push_back(candidates_[t]);
    }
  }

  [[nodiscard]] TestAction test_action(VariableIndex test, std::size_t position,
                                       const std::vector<OutcomesOfTests>& rows) const {
    const Variable& variable = model_.variable(test);
    const Work& work = as_test(variable).work;
    TestAction action{variable.name, own_cost(work), set_ups_of(work), {}, {}};
    for (const State& state : variable.states) action.outcomes.push_back(state.name);
    for (const auto& row : rows) {
      action.table.insert(action.table.end(), row[position].begin(), row[position].end());
    }
    return action;
  }

  /// Information about the hypothesis, in bits.
  [[nodiscard]] double gain_of(const TestAction& action) const {
    const std::vector<double>& weights = result_.problem.weights;
    const std::size_t outcomes = action.outcomes.size();
    std::vector<double> mean(outcomes, 0.0);
    double given = 0.0;
    for (std::size_t h = 0; h < weights.size(); ++h) {
      const std::span<const double> row(action.table.data() + h * outcomes, outcomes);
      given += weights[h] * entropy_bits(row);
      for (std::size_t o = 0; o < outcomes; ++o) mean[o] += weights[h] * row[o];
    }
    const double gain = entropy_bits(mean) - given;
    return gain > 1e-9 ? gain : 0.0;
  }

  void write_repairs() {
    const std::vector<Repair>& repairs = model_.parts().repairs;
    for (std::size_t r = 0; r < repairs.size(); ++r) {
      const std::vector<RepairIndex>& done = options_.repairs_done;
      if (std::find(done.begin(), done.end(), r) != done.end() || !allowed(repairs[r].work)) continue;
      RepairAction action = repair_action(repairs[r]);
      const bool useful = std::any_of(action.success.begin(), action.success.end(), [](double p) { return p > 0.0; });
      if (!useful) continue;
      result_.problem.repairs.push_back(std::move(action));
      result_.repairs.push_back(r);
    }
  }

  [[nodiscard]] RepairAction repair_action(const Repair& repair) const {
    RepairAction action{repair.name, own_cost(repair.work), set_ups_of(repair.work), {}, {}, verification_of(repair)};
    for (const Hypothesis& hypothesis : result_.hypotheses.list) {
      std::vector<Fault> rest = hypothesis.faults;
      const auto mended = std::find_if(
          rest.begin(), rest.end(), [&](const Fault& fault) { return can_mend(repair, fault.component, fault.state); });
      action.success.push_back(mended == rest.end() ? 0.0 : repair.success);
      if (mended != rest.end()) rest.erase(mended);
      action.becomes.push_back(rest.empty() ? RepairAction::cured : position_of(rest));
    }
    if (result_.rest_is_last) {
      action.success.push_back(0.0);
      action.becomes.push_back(RepairAction::cured);
    }
    return action;
  }

  [[nodiscard]] Verification verification_of(const Repair& repair) const {
    const std::optional<RepairCheck>& check = repair.verification ? repair.verification : model_.parts().verification;
    if (!check) return {};
    return {cost_of(case_, check->work, in_place_, options_.means.labour_rate).cost, check->false_cured,
            check->false_still_there};
  }

  void write_ends() {
    TroubleshootingProblem& problem = result_.problem;
    problem.ends.hand_over = options_.ends.hand_over;
    if (!problem.ends.hand_over) write_cheapest_hand_over();
    problem.ends.live_with = options_.ends.live_with;
    if (!problem.ends.live_with && model_.parts().live_with) problem.ends.live_with = model_.parts().live_with->money;
    if (!problem.ends.hand_over && !problem.ends.live_with) {
      throw ArgumentError("hand_over", "neither the model nor the options say what handing over costs",
                          "give a fee for handing over, or add a hand-over to the model", ErrorCode::nothing_given);
    }
    problem.ends.comeback = options_.ends.comeback;
    if (!problem.ends.comeback && model_.parts().comeback) {
      const Comeback& comeback = *model_.parts().comeback;
      problem.ends.comeback = comeback.money.value_or(0.0) + labour(comeback.minutes.value_or(0.0));
    }
    if (!problem.ends.comeback)
      problem.ends.comeback = problem.ends.hand_over ? *problem.ends.hand_over + expected(problem.repair_elsewhere)
                                                     : *problem.ends.live_with;
  }

  /// The one that is expected to cost least now.
  void write_cheapest_hand_over() {
    TroubleshootingProblem& problem = result_.problem;
    const std::vector<HandOver>& all = model_.parts().hand_overs;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (!all[i].money) continue;
      std::vector<double> repairs = repairs_elsewhere(all[i]);
      const double cost = *all[i].money + expected(repairs);
      if (!(cost < least)) continue;
      least = cost;
      problem.ends.hand_over = all[i].money;
      problem.repair_elsewhere = std::move(repairs);
      result_.hand_over = i;
    }
  }

  /// Over the hypotheses as weighed at the start; nothing if there are no amounts.
  [[nodiscard]] double expected(const std::vector<double>& amounts) const {
    const std::vector<double>& weights = result_.problem.weights;
    return std::inner_product(amounts.begin(), amounts.end(), weights.begin(), 0.0) /
           std::accumulate(weights.begin(), weights.end(), 0.0);
  }

  /// By hypothesis.
  [[nodiscard]] std::vector<double> repairs_elsewhere(const HandOver& to) const {
    std::vector<double> costs;
    if (!to.repair) return costs;
    for (const Hypothesis& hypothesis : result_.hypotheses.list) {
      double cost = hypothesis.faults.empty() ? to.repair->other : 0.0;
      for (const Fault& fault : hypothesis.faults) cost += repair_elsewhere(*to.repair, fault);
      costs.push_back(cost);
    }
    if (result_.rest_is_last) costs.push_back(to.repair->other);
    return costs;
  }

  [[nodiscard]] double repair_elsewhere(const RepairElsewhere& terms, const Fault& fault) const {
    std::optional<double> least;
    for (const Repair& repair : model_.parts().repairs) {
      if (!can_mend(repair, fault.component, fault.state)) continue;
      const double cost = cost_of(case_, repair.work, {}, options_.means.labour_rate).cost;
      least = std::min(cost, least.value_or(cost));
    }
    return least ? terms.times_ours * *least : terms.other;
  }

  const Case& case_;
  const FaultModel& model_;
  const CaseProblemOptions& options_;
  InPlace in_place_;
  std::vector<VariableIndex> candidates_;  // tests
  std::vector<Watched> watched_;           // of one fault, in the order of hypotheses_with
  CaseProblem result_;
};

}  // namespace detail

inline CaseProblem problem_of(const Case& current, const CaseProblemOptions& options, const Stop& stop) {
  const StopScope scope(current, stop);
  return detail::CaseProblemWriter(current, options).write();
}

}  // namespace faultodds

// Bodies of test_batch.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "faultodds/decision/ranking/joint_gains.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"

namespace faultodds {
namespace detail {

/// Whether a piece of work is behind an access job, directly or through others.
inline bool is_behind(const FaultModel& model, const Work& work, const std::string& access) {
  return std::any_of(work.access.begin(), work.access.end(), [&](const std::string& name) {
    return name == access || is_behind(model, access_of(model, name).work, access);
  });
}

/// What the tests of a batch cost together, and an order to do them in: the next is one that changes no condition if
/// there is one, otherwise the first that is left.
struct BatchCost {
  WorkCost all;
  std::vector<VariableIndex> order;
};

inline BatchCost cost_of_batch(const Case& current, std::vector<VariableIndex> tests, InPlace in_place,
                               std::optional<double> labour_rate) {
  const FaultModel& model = current.model();
  BatchCost batch;
  while (!tests.empty()) {
    const auto costs = [&](VariableIndex test) {
      return cost_of(current, as_test(model.variable(test)).work, in_place, labour_rate);
    };
    auto next =
        std::find_if(tests.begin(), tests.end(), [&](VariableIndex test) { return costs(test).brings.empty(); });
    if (next == tests.end()) next = tests.begin();
    const WorkCost cost = costs(*next);
    batch.all.minutes += cost.minutes;
    batch.all.money += cost.money;
    batch.all.wait_minutes += cost.wait_minutes;
    batch.all.cost += cost.known ? cost.cost : 1.0;
    batch.all.opens.insert(batch.all.opens.end(), cost.opens.begin(), cost.opens.end());
    batch.all.brings.insert(batch.all.brings.end(), cost.brings.begin(), cost.brings.end());
    in_place = after_work(model, std::move(in_place), cost);
    batch.order.push_back(*next);
    tests.erase(next);
  }
  return batch;
}

class BatchGrower {
 public:
  BatchGrower(const Case& current, const TestBatchOptions& options)
      : case_(current),
        model_(current.model()),
        options_(options),
        scratch_(current),
        scope_(scratch_, current.stop()) {
    const RankOptions& ranking = options.ranking;
    if (ranking.by == RankBy::cost) {
      throw ArgumentError("by", "it is cost, and no test at all costs least",
                          "let the batch go by gain_per_cost, gain or gain_per_minute");
    }
    require_known(model_, options.means);
    if (!options.access.empty()) static_cast<void>(model_.index_of_access(options.access));
    if (!options.condition.empty()) static_cast<void>(model_.index_of_condition(options.condition));
    batch_.targets = ranking.targets.empty() ? faults_in_question(current) : ranking.targets;
    in_place_ = in_place_in(current, options.means);
    leaves_ = {{current.findings(), 1.0}};
    choose_candidates();
  }

  TestBatch run() {
    while (grow()) {
    }
    const BatchCost cost = cost_of_chosen({});
    batch_.order = cost.order;
    batch_.minutes = cost.all.minutes;
    batch_.money = cost.all.money;
    batch_.cost = cost.all.cost;
    batch_.wait_minutes = cost.all.wait_minutes;
    batch_.opens = cost.all.opens;
    batch_.brings = cost.all.brings;
    batch_.gain_per_cost = gain_ratio(batch_.gain_bits, batch_.cost);
    return std::move(batch_);
  }

 private:
  /// A combination of outcomes of the batch, as findings on top of those of the case.
  struct Leaf {
    std::vector<Finding> findings;
    double probability = 0.0;
  };

  void choose_candidates() {
    RankOptions all = options_.ranking;
    all.targets = batch_.targets;
    all.gain = GainKind::joint;
    all.joint_only = true;
    all.effects = false;
    if (all.tests.empty()) {
      all.tests = model_.with_role(Role::test);
      std::erase_if(all.tests, [&](VariableIndex test) { return has_revealed(case_, test); });
    }
    std::erase_if(all.tests, [&](VariableIndex test) { return !is_wanted(as_test(model_.variable(test)).work); });
    if (all.tests.empty()) return;
    const Ranking ranking = rank_tests(case_, all, options_.means);
    for (const TestForecast& forecast : ranking.tests) {
      if (forecast.gain_bits > min_gain) candidates_.push_back(forecast.test);
    }
    batch_.left_out = ranking.left_out;
  }

  [[nodiscard]] bool is_wanted(const Work& work) const {
    if (!options_.access.empty() && !is_behind(model_, work, options_.access)) return false;
    if (options_.condition.empty()) return true;
    return is_among(conditions_of(model_, work), options_.condition);
  }

  [[nodiscard]] BatchCost cost_of_chosen(std::optional<std::size_t> one_more) const {
    std::vector<VariableIndex> tests;
    for (const BatchedTest& chosen : batch_.chosen) tests.push_back(chosen.test);
    if (one_more) tests.push_back(*one_more);
    return cost_of_batch(case_, std::move(tests), in_place_, options_.means.labour_rate);
  }

  /// How good a batch is; of those that cost nothing, the one that tells more is better.
  struct Merit {
    double ratio = 0.0;
    double gain_bits = 0.0;

    [[nodiscard]] bool exceeds(const Merit& other) const {
      if (std::isinf(ratio) && std::isinf(other.ratio)) return gain_bits > other.gain_bits * (1.0 + nearly_alike);
      return ratio > other.ratio * (1.0 + nearly_alike);
    }
  };

  [[nodiscard]] Merit merit(double gain_bits, const WorkCost& cost) const {
    switch (options_.ranking.by) {
      case RankBy::gain:
        return {gain_bits, gain_bits};
      case RankBy::gain_per_minute:
        return {gain_ratio(gain_bits, cost.minutes), gain_bits};
      case RankBy::gain_per_cost:
      case RankBy::cost:
        break;
    }
    return {gain_ratio(gain_bits, cost.cost), gain_bits};
  }

  /// Adds the test that makes the batch best; false if it ends.
  bool grow() {
    const std::vector<double> gains = gains_of_candidates();
    const Merit now = batch_.chosen.empty() ? Merit{} : merit(batch_.gain_bits, cost_of_chosen({}).all);
    std::optional<std::size_t> best;  // by place among the candidates
    Merit merit_of_best;
    batch_.end = BatchEnd::no_test_left;
    for (std::size_t c = 0; c < candidates_.size(); ++c) {
      if (!(gains[c] > min_gain)) continue;
      const Merit with = merit(batch_.gain_bits + gains[c], cost_of_chosen(candidates_[c]).all);
      if (!with.exceeds(now)) {
        if (batch_.end == BatchEnd::no_test_left) batch_.end = BatchEnd::not_worth_it;
      } else if (batch_.chosen.size() >= options_.max_tests) {
        batch_.end = BatchEnd::max_tests;
        return false;
      } else if (leaves_.size() * model_.state_count(candidates_[c]) > options_.max_outcomes) {
        batch_.end = BatchEnd::max_outcomes;
      } else if (!best || with.exceeds(merit_of_best)) {
        best = c;
        merit_of_best = with;
      }
    }
    if (!best) return false;
    batch_.gain_bits += gains[*best];
    const std::size_t test = candidates_[*best];
    const double cost = cost_of_chosen(test).all.cost;
    batch_.chosen.push_back({test, batch_.gain_bits, cost});
    candidates_.erase(candidates_.begin() + static_cast<std::ptrdiff_t>(*best));
    split(test);
    return true;
  }

  /// I(targets; candidate | findings, outcomes of the batch) by candidate; NaN if a table is too large.
  [[nodiscard]] std::vector<double> gains_of_candidates() {
    std::vector<double> gains(candidates_.size(), 0.0);
    for (const Leaf& leaf : leaves_) {
      if (!scratch_.try_findings(leaf.findings)) continue;
      BatchedReweighing batch = scratch_.batched_reweighing();
      JointGains of_leaf(scratch_, batch, batch_.targets, options_.ranking.joint_entries);
      for (std::size_t c = 0; c < candidates_.size(); ++c) {
        const std::optional<double> bits = of_leaf.gain_bits(candidates_[c]);
        gains[c] += leaf.probability * bits.value_or(std::numeric_limits<double>::quiet_NaN());
      }
    }
    return gains;
  }

  void split(VariableIndex test) {
    std::vector<Leaf> next;
    for (Leaf& leaf : leaves_) {
      if (!scratch_.try_findings(leaf.findings)) continue;
      const std::vector<double> outcomes = scratch_.posterior(test);
      std::erase_if(leaf.findings, [test](const Finding& finding) { return finding.variable == test; });
      for (std::size_t y = 0; y < outcomes.size(); ++y) {
        if (!(outcomes[y] > smallest_mass)) continue;
        next.push_back({leaf.findings, leaf.probability * outcomes[y]});
        next.back().findings.push_back({test, std::vector<double>(outcomes.size(), 0.0), y});
        next.back().findings.back().weights[y] = 1.0;
      }
    }
    leaves_ = std::move(next);
  }

  static constexpr double min_gain = 1e-12;       // bits; less is rounding
  static constexpr double nearly_alike = 1e-9;    // relative; the earlier test is taken then
  static constexpr double smallest_mass = 1e-14;  // less likely outcomes are rounding, and count for nothing

  const Case& case_;
  const FaultModel& model_;
  const TestBatchOptions& options_;
  Case scratch_;
  StopScope scope_;
  TestBatch batch_;
  InPlace in_place_;
  std::vector<VariableIndex> candidates_;  // in the order of the ranking
  std::vector<Leaf> leaves_;
};

}  // namespace detail

inline TestBatch best_batch(const Case& current, const TestBatchOptions& options, const Stop& stop) {
  const StopScope scope(current, stop);
  return detail::BatchGrower(current, options).run();
}

}  // namespace faultodds

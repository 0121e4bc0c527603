// Bodies of look_ahead.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/separation.hpp"
#include "faultodds/decision/ranking/entropy.hpp"
#include "faultodds/decision/ranking/joint_gains.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/outcome_joints.hpp"
#include "faultodds/decision/ranking/outcome_products.hpp"

namespace faultodds {
namespace detail {

/// Gains of candidates about fixed targets as functions of numbers that are linear in the measure: what a GainForm says
/// of each, or its joints with each target.
class LinearGains {
 public:
  LinearGains(const Case& current, BatchedReweighing& batch, std::span<const VariableIndex> tests,
              std::span<const VariableIndex> targets, const RankOptions& options, GainKind kind)
      : case_(current), batch_(batch), tests_(tests), targets_(targets) {
    if (kind == GainKind::joint) {
      JointGains gains(current, batch, targets, options.joint_entries);
      for (const VariableIndex test : tests) {
        if (std::optional<GainForm> form = gains.form_of(test); form.has_value()) forms_.push_back(*std::move(form));
      }
      possible_ = forms_.size() == tests.size();
    } else {
      possible_ = have_products(current, batch, tests, targets);
    }
  }

  [[nodiscard]] bool possible() const noexcept { return possible_; }

  /// By test: its numbers under the measure of the batch.
  [[nodiscard]] std::vector<std::vector<double>> measure() const {
    std::vector<std::vector<double>> numbers;
    if (!forms_.empty()) {
      for (const GainForm& form : forms_) numbers.push_back(form.measure(batch_));
      return numbers;
    }
    for (const OutcomeJoints& joints : outcome_joints(case_, batch_, tests_, targets_)) {
      numbers.emplace_back();
      for (const std::vector<double>& joint : joints.with) {
        numbers.back().insert(numbers.back().end(), joint.begin(), joint.end());
      }
    }
    return numbers;
  }

  /// Gain of the test at this place, of its numbers under a measure of this mass.
  [[nodiscard]] double gain_bits(std::size_t place, std::span<const double> numbers, double mass) const {
    if (!forms_.empty()) return forms_[place].gain_bits(numbers, mass);
    const std::size_t outcomes = case_.model().state_count(tests_[place]);
    double bits = 0.0;
    std::size_t begin = 0;
    for (const VariableIndex target : targets_) {
      const std::size_t states = case_.model().state_count(target);
      std::vector<double> joint;
      for (const double p : numbers.subspan(begin, outcomes * states)) joint.push_back(std::max(0.0, p / mass));
      bits += mutual_information_bits(joint, states);
      begin += outcomes * states;
    }
    return bits;
  }

 private:
  const Case& case_;
  BatchedReweighing& batch_;
  std::span<const VariableIndex> tests_;
  std::span<const VariableIndex> targets_;
  std::vector<GainForm> forms_;
  bool possible_ = false;
};

class TwoStep {
 public:
  TwoStep(const Case& current, const LookAheadOptions& options)
      : case_(current),
        model_(current.model()),
        options_(options.ranking),
        means_(options.means),
        batch_(current.batched_reweighing()) {
    RankOptions first = options.ranking;
    first.effects = false;
    Ranking ranking = rank_tests(current, first, means_);
    ahead_.gain = ranking.gain;
    ahead_.targets = std::move(ranking.targets);
    candidates_ = std::move(ranking.tests);
    candidates_.resize(std::min(candidates_.size(), options.candidates));
    if (candidates_.empty()) {
      throw ArgumentError("candidates", "there is no test to look at", "allow for more tests, or take findings back",
                          ErrorCode::nothing_given);
    }
    for (const TestForecast& candidate : candidates_) tests_.push_back(candidate.test);
    in_place_ = in_place_in(case_, means_);
  }

  LookAhead run() {
    const LinearGains gains(case_, batch_, tests_, ahead_.targets, options_, ahead_.gain);
    std::vector<std::vector<double>> base;
    if (gains.possible()) base = gains.measure();
    for (std::size_t place = 0; place < candidates_.size(); ++place) {
      case_.stop().check();
      case_.stop().report({.of = "tests", .done = place, .total = candidates_.size()});
      const std::optional<OutcomeProducts> form = products_of(place, gains);
      add(place, form.has_value() ? after_products(place, *form, gains, base) : after_findings(place));
      batch_.give({});
    }
    sort();
    return std::move(ahead_);
  }

 private:
  /// By outcome of the first test, the gain of each candidate after it (NaN if it cannot be ranked).
  using GainsAfter = std::vector<std::vector<double>>;

  /// Nothing if the first test's outcome could change what the others depend on.
  [[nodiscard]] std::optional<OutcomeProducts> products_of(std::size_t place, const LinearGains& gains) {
    const std::size_t first = tests_[place];
    if (!gains.possible()) return std::nullopt;
    const std::vector<bool> above = ancestors_of(model_, {first});
    for (const VariableIndex test : tests_) {
      if (above[test]) return std::nullopt;
    }
    const std::vector<VariableIndex>& targets = ahead_.targets;
    if (std::find(targets.begin(), targets.end(), first) != targets.end()) return std::nullopt;
    return outcome_products(case_, batch_, first);
  }

  GainsAfter after_products(std::size_t place, const OutcomeProducts& form, const LinearGains& gains,
                            const std::vector<std::vector<double>>& base) {
    std::vector<double> masses;
    std::vector<std::vector<std::vector<double>>> numbers;  // by product and test
    for (const OutcomeProducts::Product& product : form.products) {
      batch_.give({});
      masses.push_back(product.factor * mean_of(product.weights));
      if (masses.back() > 0.0) {
        batch_.give(product.weights);
        numbers.push_back(gains.measure());
      } else {
        numbers.push_back(base);
      }
    }
    const std::vector<double> mass_of = by_outcome(form, masses, {1.0});
    GainsAfter after(form.outcomes, std::vector<double>(tests_.size(), std::numeric_limits<double>::quiet_NaN()));
    for (std::size_t t = 0; t < tests_.size(); ++t) {
      if (t == place) continue;
      std::vector<double> rows;
      for (std::size_t p = 0; p < numbers.size(); ++p) {
        for (const double number : numbers[p][t]) rows.push_back(masses[p] * number);
      }
      const std::vector<double> of_outcome = by_outcome(form, rows, base[t]);
      for (std::size_t y = 0; y < form.outcomes; ++y) {
        if (mass_of[y] <= smallest_mass) continue;
        after[y][t] = gains.gain_bits(t, std::span(of_outcome).subspan(y * base[t].size(), base[t].size()), mass_of[y]);
      }
    }
    outcomes_ = mass_of;
    return after;
  }

  [[nodiscard]] double mean_of(const std::vector<Reweighing::Weights>& weights) {
    batch_.start(1);
    for (const Reweighing::Weights& of_variable : weights) {
      batch_.weigh(0, of_variable.variable, of_variable.of_state);
    }
    batch_.run();
    return batch_.expectation(0);
  }

  GainsAfter after_findings(std::size_t place) {
    outcomes_ = case_.posterior(tests_[place]);
    GainsAfter after(outcomes_.size(), std::vector<double>(tests_.size(), std::numeric_limits<double>::quiet_NaN()));
    RankOptions next_options = options_;
    next_options.targets = ahead_.targets;
    next_options.gain = ahead_.gain;
    next_options.joint_only = true;
    next_options.effects = false;
    next_options.tests = tests_;
    std::erase(next_options.tests, tests_[place]);
    if (next_options.tests.empty()) return after;
    for (std::size_t y = 0; y < outcomes_.size(); ++y) {
      if (outcomes_[y] <= smallest_mass) continue;
      Case next = case_;
      const StopScope scope(next, case_.stop());
      next.change(hard_finding(model_, tests_[place], y));
      for (const TestForecast& forecast : rank_tests(next, next_options, means_).tests) {
        const auto at = std::find(tests_.begin(), tests_.end(), forecast.test);
        after[y][static_cast<std::size_t>(at - tests_.begin())] = forecast.gain_bits;
      }
    }
    return after;
  }

  void add(std::size_t place, const GainsAfter& after) {
    const TestForecast& first = candidates_[place];
    WorkCost done;
    done.opens = first.opens;
    done.brings = first.brings;
    const InPlace in_place = after_work(model_, in_place_, done);
    TwoTests two{first.test, first.gain_bits,    first.gain_bits, first.minutes, first.cost, 0.0, first.opens,
                 {},         first.wait_minutes, first.brings};
    for (std::size_t y = 0; y < after.size(); ++y) {
      if (outcomes_[y] <= smallest_mass) continue;
      std::vector<TestForecast> seconds;
      for (std::size_t t = 0; t < tests_.size(); ++t) {
        if (t == place || std::isnan(after[y][t])) continue;
        const Work& work = as_test(model_.variable(tests_[t])).work;
        seconds.push_back(forecast_of(tests_[t], after[y][t], cost_of(case_, work, in_place, means_.labour_rate)));
      }
      sort_by_merit(seconds, options_.by);
      SecondTest second{y, outcomes_[y], std::nullopt, 0.0, 0.0, 0.0, {}};
      if (!seconds.empty()) {
        const TestForecast& best = seconds[0];
        second = {y,         outcomes_[y], best.test,         best.gain_bits, best.minutes,
                  best.cost, best.opens,   best.wait_minutes, best.brings};
      }
      two.gain_bits += second.probability * second.gain_bits;
      two.minutes += second.probability * second.minutes;
      two.cost += second.probability * second.cost;
      two.wait_minutes += second.probability * second.wait_minutes;
      two.second.push_back(second);
    }
    two.gain_per_cost = gain_ratio(two.gain_bits, two.cost);
    ahead_.tests.push_back(std::move(two));
  }

  void sort() {
    std::vector<TestForecast> order;
    for (const TwoTests& two : ahead_.tests) {
      WorkCost cost;
      cost.known = true;
      cost.minutes = two.minutes;
      cost.cost = two.cost;
      order.push_back(forecast_of(two.first, two.gain_bits, cost));
    }
    sort_by_merit(order, options_.by);
    std::vector<TwoTests> sorted;
    sorted.reserve(order.size());
    for (const TestForecast& forecast : order) {
      sorted.push_back(*std::find_if(ahead_.tests.begin(), ahead_.tests.end(),
                                     [&](const TwoTests& two) { return two.first == forecast.test; }));
    }
    ahead_.tests = std::move(sorted);
  }

  static constexpr double smallest_mass = 1e-14;  // less likely outcomes are rounding, and count for nothing

  const Case& case_;
  const FaultModel& model_;
  const RankOptions& options_;
  const Means& means_;
  BatchedReweighing batch_;
  LookAhead ahead_;
  std::vector<TestForecast> candidates_;
  std::vector<VariableIndex> tests_;
  InPlace in_place_;
  std::vector<double> outcomes_;  // of the first test in hand
};

}  // namespace detail

inline LookAhead look_ahead(const Case& current, const LookAheadOptions& options, const Stop& stop) {
  const StopScope scope(current, stop);
  return detail::TwoStep(current, options).run();
}

}  // namespace faultodds

// Bodies of strategy_bounds.hpp.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace faultodds {

namespace detail {

/// Those of `wanted` that are not in place, and all that is missing behind them; each once.
inline std::vector<std::size_t> missing_set_ups(const TroubleshootingProblem& problem,
                                                const std::vector<bool>& in_place,
                                                std::span<const std::size_t> wanted) {
  std::vector<std::size_t> missing;
  const auto add = [&](std::span<const std::size_t> more) {
    for (const std::size_t s : more) {
      if (!in_place[s] && std::find(missing.begin(), missing.end(), s) == missing.end()) missing.push_back(s);
    }
  };
  add(wanted);
  for (std::size_t i = 0; i < missing.size(); ++i) add(problem.set_ups[missing[i]].needs);
  return missing;
}

inline PerfectInformation::PerfectInformation(const TroubleshootingProblem& problem)
    : problem_(problem),
      mended_by_(problem.hypotheses.size()),
      cheapest_end_(std::min(problem.hand_over.value_or(std::numeric_limits<double>::infinity()),
                             problem.live_with.value_or(std::numeric_limits<double>::infinity()))) {
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    const RepairAction& repair = problem.repairs[r];
    for (std::size_t h = 0; h < mended_by_.size(); ++h) {
      if (repair.success[h] > 0.0) mended_by_[h].push_back(r);
    }
    // Whatever else is done, a case can end by a wrong "cured".
    if (repair.verification.false_cured > 0.0) cheapest_end_ = std::min(cheapest_end_, problem.comeback.value());
  }
}

inline const KnownCosts& PerfectInformation::costs(const std::vector<bool>& repairs_done,
                                                   const std::vector<bool>& in_place) {
  constexpr std::size_t repairs_in_a_row = 3;
  std::vector<bool> key = repairs_done;
  key.insert(key.end(), in_place.begin(), in_place.end());
  const auto [at, is_new] = kept_.try_emplace(std::move(key));
  KnownCosts& costs = at->second;
  if (!is_new) return costs;
  std::vector<bool> done = repairs_done;
  costs.ways.resize(mended_by_.size());
  for (std::size_t h = 0; h < mended_by_.size(); ++h) {
    double least = cheapest_end_;
    for (const std::size_t r : mended_by_[h]) {
      if (repairs_done[r]) continue;
      costs.ways[h].push_back({r, way(h, r, done, in_place, repairs_in_a_row)});
      least = std::min(least, costs.ways[h].back().cost);
    }
    costs.least.push_back(least);
  }
  costs.least.push_back(0.0);
  return costs;
}

inline double PerfectInformation::cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                                       const std::vector<bool>& in_place) {
  const std::vector<double>& least = costs(repairs_done, in_place).least;
  double sum = 0.0;
  for (std::size_t h = 0; h < weights.size(); ++h) sum += weights[h] * least[h];
  return sum;
}

inline double PerfectInformation::known(std::size_t hypothesis, std::vector<bool>& repairs_done,
                                        const std::vector<bool>& in_place, std::size_t depth) const {
  double least = cheapest_end_;
  for (const std::size_t r : mended_by_[hypothesis]) {
    if (!repairs_done[r]) least = std::min(least, way(hypothesis, r, repairs_done, in_place, depth));
  }
  return least;
}

inline double PerfectInformation::way(std::size_t hypothesis, std::size_t repair, std::vector<bool>& repairs_done,
                                      const std::vector<bool>& in_place, std::size_t depth) const {
  const RepairAction& action = problem_.repairs[repair];
  double cost = action.cost + action.verification.cost;
  if (depth == 0) return cost;
  // Each missing set-up once, and none ended by another: no way through the case pays less for them.
  std::vector<bool> now = in_place;
  for (const std::size_t s : missing_set_ups(problem_, in_place, action.set_ups)) {
    cost += problem_.set_ups[s].cost;
    now[s] = true;
  }
  const double comes_back = action.verification.false_cured * problem_.comeback.value_or(0.0);
  const auto goes_on = [&](std::size_t h) {
    return comes_back + (1.0 - action.verification.false_cured) * known(h, repairs_done, now, depth - 1);
  };
  const double success = action.success[hypothesis];
  const std::size_t after = after_repair(action, hypothesis, mended_by_.size());
  repairs_done[repair] = true;
  if (success < 1.0) cost += (1.0 - success) * goes_on(hypothesis);
  if (after < mended_by_.size()) cost += success * goes_on(after);
  repairs_done[repair] = false;
  return cost;
}

inline RepairChain::RepairChain(const TroubleshootingProblem& problem)
    : problem_(problem),
      mends_(problem.repairs.size()),
      weights_(problem.hypotheses.size() + 1),
      says_cured_(weights_.size()),
      says_still_there_(weights_.size()) {
  for (std::size_t r = 0; r < mends_.size(); ++r) {
    for (std::size_t h = 0; h < problem.hypotheses.size(); ++h) {
      if (problem.repairs[r].success[h] > 0.0) mends_[r].push_back(h);
    }
  }
}

inline std::size_t RepairChain::next_repair(const std::vector<bool>& in_place) const {
  std::size_t best = mends_.size();
  double best_works = 0.0, best_cost = 0.0;
  for (std::size_t r = 0; r < mends_.size(); ++r) {
    if (done_[r]) continue;
    const RepairAction& repair = problem_.repairs[r];
    double works = 0.0;
    for (const std::size_t h : mends_[r]) works += weights_[h] * repair.success[h];
    if (!(works > 0.0)) continue;
    const double cost = repair.cost + repair.verification.cost + set_up_cost(problem_, in_place, repair.set_ups);
    const double mine = works * best_cost;
    const double others = best_works * cost;
    if (best == mends_.size() || mine > others || (mine == others && cost < best_cost)) {
      best = r;
      best_works = works;
      best_cost = cost;
    }
  }
  return best;
}

inline double RepairChain::end_cost() const {
  const double not_cured = sum_of(std::span(weights_).first(weights_.size() - 1));
  const double infinite = std::numeric_limits<double>::infinity();
  return std::min(problem_.hand_over ? *problem_.hand_over * (not_cured + weights_.back()) : infinite,
                  problem_.live_with ? *problem_.live_with * not_cured : infinite);
}

inline double RepairChain::cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                                const std::vector<bool>& in_place) {
  weights_.assign(weights.begin(), weights.end());
  done_ = repairs_done;
  ends_.clear();
  steps_.clear();
  order_.clear();
  std::vector<bool> now = in_place;
  for (std::size_t r = next_repair(now); r < mends_.size(); r = next_repair(now)) {
    const RepairAction& repair = problem_.repairs[r];
    SetUpWork work;
    bring_about(problem_, repair.set_ups, now, work);
    ends_.push_back(end_cost());
    const double sum = sum_of(weights_);
    weigh_repair(repair, weights_, says_cured_, says_still_there_);
    const double not_cured = sum_of(std::span(says_cured_).first(says_cured_.size() - 1));
    steps_.push_back((work.cost + repair.cost + repair.verification.cost) * sum +
                     problem_.comeback.value_or(0.0) * not_cured);
    order_.push_back(r);
    done_[r] = true;
    weights_.swap(says_still_there_);
  }
  double value = end_cost();
  std::size_t length = order_.size();
  for (std::size_t i = order_.size(); i-- > 0;) {
    value += steps_[i];
    if (ends_[i] <= value) {
      value = ends_[i];
      length = i;
    }
  }
  order_.resize(length);
  return value;
}

inline Step RepairChain::first_step(const Situation& situation) {
  (void)cost(situation.belief, situation.repairs_done, situation.in_place);
  return order_.empty() ? cheapest_end(problem_, situation) : Step{StepKind::repair, order_.front()};
}

/// Sum over outcomes of p log2(p / q) of a row.
inline double divergence_bits(const TestAction& test, std::size_t h, std::span<const double> mean) {
  double sum = 0.0;
  for (std::size_t o = 0; o < mean.size(); ++o) {
    const double p = outcome_probability(test, h, o);
    if (p > 0.0) sum += p * std::log2(p / mean[o]);
  }
  return sum;
}

/// At least the capacity of a test as a channel from hypothesis to outcome: the largest divergence of a row from any
/// one distribution (Blahut 1972), whose choice some iterations make good.
inline double capacity_bits(const TestAction& test) {
  constexpr int iterations = 60;
  const std::size_t rows = test.table.size() / test.outcomes.size();
  std::vector<double> input(rows, 1.0 / static_cast<double>(rows));
  std::vector<double> divergence(rows);
  double least = std::log2(static_cast<double>(test.outcomes.size()));
  for (int i = 0; i < iterations; ++i) {
    std::vector<double> mean(test.outcomes.size(), 0.0);
    for (std::size_t h = 0; h < rows; ++h) {
      for (std::size_t o = 0; o < mean.size(); ++o) mean[o] += input[h] * outcome_probability(test, h, o);
    }
    double largest = 0.0, sum = 0.0;
    for (std::size_t h = 0; h < rows; ++h) {
      divergence[h] = divergence_bits(test, h, mean);
      largest = std::max(largest, divergence[h]);
      input[h] *= std::exp2(divergence[h]);
      sum += input[h];
    }
    for (double& p : input) p /= sum;
    least = std::min(least, largest);
  }
  return least;
}

inline double binary_entropy_bits(double p) {
  return p > 0.0 && p < 1.0 ? -p * std::log2(p) - (1.0 - p) * std::log2(1.0 - p) : 0.0;
}

inline InformationPrice::InformationPrice(const TroubleshootingProblem& problem, PerfectInformation& perfect)
    : problem_(problem), perfect_(perfect) {
  for (const TestAction& test : problem.tests) capacities_.push_back(capacity_bits(test));
}

inline void InformationPrice::collect(const Situation& situation, const KnownCosts& known) {
  tests_.clear();
  repairs_.clear();
  const std::size_t n = problem_.hypotheses.size();
  for (std::size_t t = 0; t < problem_.tests.size(); ++t) {
    const TestAction& test = problem_.tests[t];
    if (situation.tests_done[t] || !tells_something(test, situation.belief)) continue;
    std::vector<double> mean(test.outcomes.size(), 0.0), largest(test.outcomes.size(), 0.0);
    for (std::size_t h = 0; h < n; ++h) {
      if (!(situation.belief[h] > 0.0)) continue;
      for (std::size_t o = 0; o < mean.size(); ++o) {
        mean[o] += situation.belief[h] * outcome_probability(test, h, o);
        largest[o] = std::max(largest[o], outcome_probability(test, h, o));
      }
    }
    double gain = 0.0;
    for (std::size_t h = 0; h < n; ++h) {
      if (situation.belief[h] > 0.0) gain += situation.belief[h] * divergence_bits(test, h, mean);
    }
    const double capacity = std::min(capacities_[t], std::log2(sum_of(largest)));
    if (!(capacity > 0.0)) continue;
    tests_.push_back({test.cost, std::min(gain, capacity), test.cost / capacity, 0.0});
  }
  std::vector<double> works(problem_.repairs.size(), 0.0);
  for (std::size_t h = 0; h < n; ++h) {
    for (const KnownWay& way : known.ways[h]) works[way.repair] += situation.belief[h];
  }
  for (std::size_t r = 0; r < works.size(); ++r) {
    if (!(works[r] > 0.0)) continue;
    const RepairAction& repair = problem_.repairs[r];
    const double either = std::min(works[r], std::max(0.0, 1.0 - works[r]));
    repairs_.push_back({repair.cost + repair.verification.cost, binary_entropy_bits(either), 0.0, either});
  }
}

/// What all sources together can earn at this price of a bit, at most.
inline double InformationPrice::yield(double price) const {
  double sum = 0.0;
  for (const Source& test : tests_) sum += std::max(0.0, price - test.per_bit) * test.most_bits;
  for (const Source& repair : repairs_) {
    const double best = 1.0 / (1.0 + std::exp2(repair.cost / price));
    sum += best <= repair.in_vain_or_not ? price * std::log2(1.0 + std::exp2(-repair.cost / price))
                                         : price * repair.most_bits - repair.cost * repair.in_vain_or_not;
  }
  return sum;
}

/// Lower bound on the minimum over channels of E[d] + price I, without the least d of each hypothesis.
inline double InformationPrice::blahut(double price, std::span<const double> belief) {
  constexpr int iterations = 12;
  std::fill(share_.begin(), share_.end(), 1.0 / static_cast<double>(share_.size()));
  double best = 0.0;
  for (int i = 0; i < iterations; ++i) {
    std::fill(score_.begin(), score_.end(), 0.0);
    double value = 0.0;
    for (std::size_t h = 0; h + 1 < begin_.size(); ++h) {
      if (!(belief[h] > 0.0)) continue;
      double mixture = 0.0;
      for (std::size_t w = begin_[h]; w < begin_[h + 1]; ++w) mixture += share_[label_[w]] * weight_[w];
      if (!(mixture > 0.0)) return best;
      for (std::size_t w = begin_[h]; w < begin_[h + 1]; ++w) score_[label_[w]] += belief[h] * weight_[w] / mixture;
      value -= belief[h] * std::log2(mixture);
    }
    const double largest = *std::max_element(score_.begin(), score_.end());
    best = std::max(best, price * (value - std::log2(largest)));
    for (std::size_t l = 0; l < share_.size(); ++l) share_[l] *= score_[l];
  }
  return best;
}

inline double InformationPrice::at_price(double price, const Situation& situation, const KnownCosts& known) {
  const std::size_t end_label = problem_.repairs.size();
  share_.assign(end_label + 1, 0.0);
  score_.assign(end_label + 1, 0.0);
  begin_.assign(1, 0);
  label_.clear();
  weight_.clear();
  for (std::size_t h = 0; h < known.ways.size(); ++h) {
    for (const KnownWay& way : known.ways[h]) {
      label_.push_back(way.repair);
      weight_.push_back(std::exp2((known.least[h] - way.cost) / price));
    }
    label_.push_back(end_label);
    weight_.push_back(std::exp2((known.least[h] - perfect_.cheapest_end()) / price));
    begin_.push_back(label_.size());
  }
  return blahut(price, situation.belief) - yield(price);
}

inline double InformationPrice::cost(const Situation& situation) {
  constexpr int halvings = 8;
  const KnownCosts& known = perfect_.costs(situation.repairs_done, situation.in_place);
  const double perfect = perfect_.cost(situation.belief, situation.repairs_done, situation.in_place);
  if (situation.belief.back() > 0.0) return perfect;
  collect(situation, known);
  // The bound is concave in the price: narrow down its largest value between a price at which nothing is bought and
  // one at which a bit costs as much as any end.
  double low = 1e-4 * perfect_.cheapest_end(), high = 2.0 * perfect_.cheapest_end();
  if (!(low > 0.0)) return perfect;
  double extra = 0.0;
  for (int i = 0; i < halvings; ++i) {
    const double below = std::exp2(0.5 * (std::log2(low) + std::log2(high)) - 0.1 * std::log2(high / low));
    const double above = std::exp2(0.5 * (std::log2(low) + std::log2(high)) + 0.1 * std::log2(high / low));
    const double value_below = at_price(below, situation, known);
    const double value_above = at_price(above, situation, known);
    extra = std::max({extra, value_below, value_above});
    (value_below < value_above ? low : high) = value_below < value_above ? below : above;
  }
  return perfect + extra;
}

}  // namespace detail

inline double perfect_information_cost(const TroubleshootingProblem& problem, const Situation& situation) {
  detail::PerfectInformation information(problem);
  return information.cost(situation.belief, situation.repairs_done, situation.in_place);
}

inline double cost_lower_bound(const TroubleshootingProblem& problem, const Situation& situation) {
  detail::PerfectInformation perfect(problem);
  return detail::InformationPrice(problem, perfect).cost(situation);
}

}  // namespace faultodds

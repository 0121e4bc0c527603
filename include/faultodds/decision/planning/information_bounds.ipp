// Bodies of information_bounds.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/ranking/entropy.hpp"

namespace faultodds {

namespace detail {

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

inline double test_gain_bits(const TestAction& test, std::span<const double> belief) {
  const std::size_t rows = std::min(belief.size(), test.table.size() / test.outcomes.size());
  std::vector<double> joint;
  joint.reserve(rows * test.outcomes.size());
  for (std::size_t h = 0; h < rows; ++h) {
    for (std::size_t o = 0; o < test.outcomes.size(); ++o) {
      joint.push_back(belief[h] * outcome_probability(test, h, o));
    }
  }
  return mutual_information_bits(joint, test.outcomes.size());
}

inline InformationPrice::InformationPrice(const TroubleshootingProblem& problem, PerfectInformation& perfect)
    : problem_(problem), perfect_(perfect) {
  const std::size_t n = problem.hypotheses.size();
  for (const TestAction& test : problem.tests) {
    const std::size_t width = test.outcomes.size();
    capacities_.push_back(capacity_bits(test));
    for (std::size_t h = 0; h < n; ++h) {
      row_entropies_.push_back(entropy_bits(std::span(test.table).subspan(h * width, width)));
    }
  }
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
    for (const double p : mean) gain -= p > 0.0 ? p * std::log2(p) : 0.0;
    for (std::size_t h = 0; h < n; ++h) gain -= situation.belief[h] * row_entropies_[t * n + h];
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
    repairs_.push_back(
        {repair.cost + repair.verification.cost, entropy_bits(std::array{either, 1.0 - either}), 0.0, either});
  }
}

/// What all sources together can earn at this price of a bit, at most.
inline double InformationPrice::yield(double price) const {
  double sum = 0.0;
  for (const Source& test : tests_) sum += std::max(0.0, price - test.per_bit) * test.max_bits;
  for (const Source& repair : repairs_) {
    const double best = 1.0 / (1.0 + std::exp2(repair.cost / price));
    sum += best <= repair.in_vain_or_not ? price * std::log2(1.0 + std::exp2(-repair.cost / price))
                                         : price * repair.max_bits - repair.cost * repair.in_vain_or_not;
  }
  return sum;
}

/// Lower bound on the minimum over channels of E[d] + price I, without the least d of each hypothesis. Goes on from the
/// shares of the labels that the call before found.
inline double InformationPrice::blahut(double price, std::span<const double> belief) {
  constexpr int iterations = 6;
  double best = 0.0;
  for (int i = 0; i < iterations; ++i) {
    std::fill(score_.begin(), score_.end(), 0.0);
    double value = 0.0;
    for (std::size_t h = 0; h + 1 < begin_.size(); ++h) {
      if (begin_[h] == begin_[h + 1]) continue;
      double mixture = 0.0;
      for (std::size_t w = begin_[h]; w < begin_[h + 1]; ++w) mixture += share_[label_[w]] * weight_[w];
      if (!(mixture > 0.0)) return best;
      const double scale = belief[h] / mixture;
      for (std::size_t w = begin_[h]; w < begin_[h + 1]; ++w) score_[label_[w]] += scale * weight_[w];
      value -= belief[h] * std::log2(mixture);
    }
    const double largest = *std::max_element(score_.begin(), score_.end());
    best = std::max(best, price * (value - std::log2(largest)));
    for (std::size_t l = 0; l < share_.size(); ++l) share_[l] *= score_[l];
  }
  return best;
}

inline double InformationPrice::at_price(double price, const Situation& situation) {
  constexpr double min_share = 1e-3;
  for (std::size_t w = 0; w < label_.size(); ++w) weight_[w] = std::exp2(-excess_[w] / price);
  // No label that one price has no use for is lost for the next.
  double sum = 0.0;
  for (const std::size_t l : used_) sum += share_[l] = std::max(share_[l], min_share);
  for (const std::size_t l : used_) share_[l] /= sum;
  return blahut(price, situation.belief) - yield(price);
}

/// Labels of each hypothesis that is possible, with what they cost beyond its cheapest.
inline void InformationPrice::set_up_labels(const Situation& situation, const KnownCosts& known) {
  const std::size_t end_label = problem_.repairs.size();
  begin_.assign(1, 0);
  label_.clear();
  excess_.clear();
  for (std::size_t h = 0; h < known.ways.size(); ++h) {
    if (situation.belief[h] > 0.0) {
      for (const KnownWay& way : known.ways[h]) {
        label_.push_back(way.repair);
        excess_.push_back(way.cost - known.least[h]);
      }
      label_.push_back(end_label);
      excess_.push_back(perfect_.ends()[h] - known.least[h]);
    }
    begin_.push_back(label_.size());
  }
  weight_.resize(label_.size());
  score_.assign(end_label + 1, 0.0);
  share_.assign(end_label + 1, 0.0);
  used_.clear();
  for (const std::size_t label : label_) {
    if (share_[label] > 0.0) continue;
    share_[label] = 1.0;
    used_.push_back(label);
  }
}

inline double InformationPrice::cost(const Situation& situation) {
  const KnownCosts& known = perfect_.costs(situation.repairs_done, situation.in_place);
  const double perfect = perfect_.cost(situation.belief, situation.repairs_done, situation.in_place);
  if (situation.belief.back() > 0.0 || !(dearest_end() > 0.0)) return perfect;
  collect(situation, known);
  set_up_labels(situation, known);
  return perfect + std::max(0.0, best_price_value(situation));
}

/// No bit is worth more than the end of the case.
inline double InformationPrice::dearest_end() const {
  return *std::max_element(perfect_.ends().begin(), perfect_.ends().end());
}

/// The bound is concave in the price, with kinks where a test begins to pay, one of which is often its top: golden
/// section, then the kinks beside what that found.
inline double InformationPrice::best_price_value(const Situation& situation) {
  constexpr int evaluations = 8;
  constexpr double golden = 0.6180339887498949;
  constexpr double margin = 3.0;
  double low = std::log2(dearest_end()), high = low;
  for (const Source& test : tests_) {
    if (test.per_bit > 0.0) low = std::min(low, std::log2(test.per_bit));
  }
  low -= margin;
  double below = high - golden * (high - low), above = low + golden * (high - low);
  double value_below = at_price(std::exp2(below), situation), value_above = at_price(std::exp2(above), situation);
  for (int i = 2; i < evaluations; ++i) {
    if (value_below < value_above) {
      low = std::exchange(below, above);
      value_below = value_above;
      above = low + golden * (high - low);
      value_above = at_price(std::exp2(above), situation);
    } else {
      high = std::exchange(above, below);
      value_above = value_below;
      below = high - golden * (high - low);
      value_below = at_price(std::exp2(below), situation);
    }
  }
  const double best = std::exp2(value_below < value_above ? above : below);
  double kink_below = 0.0, kink_above = std::numeric_limits<double>::infinity();
  for (const Source& test : tests_) {
    if (test.per_bit <= best) kink_below = std::max(kink_below, test.per_bit);
    if (test.per_bit >= best) kink_above = std::min(kink_above, test.per_bit);
  }
  double value = std::max(value_below, value_above);
  if (kink_below > 0.0) value = std::max(value, at_price(kink_below, situation));
  if (std::isfinite(kink_above)) value = std::max(value, at_price(kink_above, situation));
  return value;
}

}  // namespace detail

inline double cost_lower_bound(const TroubleshootingProblem& problem, const Situation& situation) {
  validate(problem);
  detail::check_situation(problem, situation);
  detail::PerfectInformation perfect(problem);
  return detail::InformationPrice(problem, perfect).cost(situation);
}

}  // namespace faultodds

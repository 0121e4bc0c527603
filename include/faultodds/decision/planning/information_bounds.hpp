// A lower bound on the expected cost of any policy tree that counts what it costs to tell the hypotheses apart.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/decision/planning/cost_bounds.hpp"

namespace faultodds {

/// The largest lower bound known for this situation: perfect_information_cost, or if it applies the cost of the
/// information that the tests must give.
[[nodiscard]] double cost_lower_bound(const TroubleshootingProblem& problem, const Situation& situation);

namespace detail {

/// I(hypothesis; outcome) in bits.
[[nodiscard]] double test_gain_bits(const TestAction& test, std::span<const double> belief);

/// Cost of the information without which the right repair cannot be chosen, on top of perfect information.
///
/// Call the first repair that does some work on the true hypothesis h, or the end that comes before any, the label l of
/// a run. What the steps before it show must amount to I(h; l) bits. A test t yields at most its capacity when done,
/// and over all runs at most I(h; t) under the present belief, since tests are independent given h and h does not
/// change before the label. A failed repair costs c and yields at most the entropy of its failing. Each policy tree
/// thus costs at least min over P(l | h) of E[d(h, l)] + G(I(h; l)), d being the cost from the label on and G the least
/// cost of that many bits: a rate-distortion problem. For each price k of a bit, Blahut's iteration bounds the minimum
/// of E[d] + k I from below (Blahut 1972), and the price is chosen to make the most of it.
class InformationPrice {
 public:
  /// Refers to both.
  InformationPrice(const TroubleshootingProblem& problem, PerfectInformation& perfect);

  /// Lower bound on the expected cost from here. Only perfect information if the vehicle may be cured already.
  [[nodiscard]] double cost(const Situation& situation);

 private:
  struct Source {
    double cost = 0.0;  // of a test, or of a failed repair
    double max_bits = 0.0;
    double per_bit = 0.0;         // least cost of a bit, of a test
    double in_vain_or_not = 0.0;  // of a repair: the smaller of both probabilities
  };

  void collect(const Situation& situation, const KnownCosts& known);
  void set_up_labels(const Situation& situation, const KnownCosts& known);
  [[nodiscard]] double dearest_end() const;
  [[nodiscard]] double best_price_value(const Situation& situation);
  [[nodiscard]] double at_price(double price, const Situation& situation);
  [[nodiscard]] double yield(double price) const;
  [[nodiscard]] double blahut(double price, std::span<const double> belief);

  const TroubleshootingProblem& problem_;
  PerfectInformation& perfect_;
  std::vector<double> capacities_;     // by test, over all hypotheses
  std::vector<double> row_entropies_;  // by test and hypothesis, in bits
  std::vector<Source> tests_, repairs_;
  std::vector<std::size_t> begin_, label_;  // labels of each hypothesis as ranges
  std::vector<double> excess_,
      weight_;                     // of each label of each hypothesis: cost beyond the cheapest, and 2^-(that/price)
  std::vector<std::size_t> used_;  // labels
  std::vector<double> share_, score_;  // by label
};

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/planning/information_bounds.ipp"

// What a strategy costs at least and at most from a situation on, worked out without a search.
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <vector>

#include "faultodds/decision/troubleshooting.hpp"

namespace faultodds {

/// The expected cost of perfect information: the hypothesis is known, and what a repair did is seen at once. No
/// strategy costs less. Where a hypothesis takes more than a few repairs, those after them are counted at the cheapest
/// one.
[[nodiscard]] double perfect_information_cost(const TroubleshootingProblem& problem, const Situation& situation);

/// The largest lower bound known for this situation: perfect_information_cost, or where it applies the cost of the
/// information that the tests must give.
[[nodiscard]] double cost_lower_bound(const TroubleshootingProblem& problem, const Situation& situation);

namespace detail {

/// A repair that does some work where a hypothesis is true, and what it costs from that repair on at least.
struct KnownWay {
  std::size_t repair = 0;
  double cost = 0.0;
};

/// What each hypothesis costs when it is known.
struct KnownCosts {
  std::vector<double> least;                // by hypothesis; 0 for the cured state, which is the last
  std::vector<std::vector<KnownWay>> ways;  // by hypothesis: its repairs, instead of the cheapest end
};

/// Cost of perfect information, kept by what is done and in place. Refers to the problem.
class PerfectInformation {
 public:
  explicit PerfectInformation(const TroubleshootingProblem& problem);

  [[nodiscard]] const KnownCosts& costs(const std::vector<bool>& repairs_done, const std::vector<bool>& in_place);
  /// From weights (not normalised), in proportion to their sum.
  [[nodiscard]] double cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                            const std::vector<bool>& in_place);
  /// Of a case whose hypothesis is known and not mended.
  [[nodiscard]] double cheapest_end() const noexcept { return cheapest_end_; }

 private:
  [[nodiscard]] double known(std::size_t hypothesis, std::vector<bool>& repairs_done, const std::vector<bool>& in_place,
                             std::size_t depth) const;
  [[nodiscard]] double way(std::size_t hypothesis, std::size_t repair, std::vector<bool>& repairs_done,
                           const std::vector<bool>& in_place, std::size_t depth) const;

  const TroubleshootingProblem& problem_;
  std::vector<std::vector<std::size_t>> mended_by_;  // by hypothesis
  double cheapest_end_;
  std::map<std::vector<bool>, KnownCosts> kept_;
};

/// Cost of the information without which the right repair cannot be chosen, on top of perfect information.
///
/// Call the first repair that does some work on the true hypothesis h, or the end that comes before any, the label l of
/// a run. What the steps before it show must amount to I(h; l) bits. A test t yields at most its capacity when done,
/// and over all runs at most I(h; t) under the present belief, since tests are independent given h and h does not
/// change before the label. A repair in vain costs c and yields at most the entropy of its failing. Each strategy thus
/// costs at least min over P(l | h) of E[d(h, l)] + G(I(h; l)), d being the cost from the label on and G the least cost
/// of that many bits: a rate-distortion problem. For each price k of a bit, Blahut's iteration bounds the minimum of
/// E[d] + k I from below (Blahut 1972), and the price is chosen to make most of it.
class InformationPrice {
 public:
  /// Refers to both.
  InformationPrice(const TroubleshootingProblem& problem, PerfectInformation& perfect);

  /// Lower bound on the expected cost from here. Only perfect information where the vehicle may be cured already.
  [[nodiscard]] double cost(const Situation& situation);

 private:
  struct Source {
    double cost = 0.0;  // of a test, or of a repair in vain
    double most_bits = 0.0;
    double per_bit = 0.0;         // least cost of a bit, of a test
    double in_vain_or_not = 0.0;  // of a repair: the smaller of both probabilities
  };

  void collect(const Situation& situation, const KnownCosts& known);
  [[nodiscard]] double at_price(double price, const Situation& situation, const KnownCosts& known);
  [[nodiscard]] double yield(double price) const;
  [[nodiscard]] double blahut(double price, std::span<const double> belief);

  const TroubleshootingProblem& problem_;
  PerfectInformation& perfect_;
  std::vector<double> capacities_;  // by test, over all hypotheses
  std::vector<Source> tests_, repairs_;
  std::vector<std::size_t> begin_, label_;  // ways of each hypothesis as ranges
  std::vector<double> weight_, share_, score_;
};

/// Repairs by P over C, cut where the end is cheaper. Refers to the problem; keeps memory for its work, so that one
/// belongs to one thread.
class RepairChain {
 public:
  explicit RepairChain(const TroubleshootingProblem& problem);

  /// Expected cost from weights (not normalised, the cured state last), in proportion to their sum.
  [[nodiscard]] double cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                            const std::vector<bool>& in_place);
  /// Repairs of the chain that the last call of `cost` priced.
  [[nodiscard]] std::span<const std::size_t> repairs() const noexcept { return order_; }
  /// First repair of the chain, or the end.
  [[nodiscard]] Step first_step(const Situation& situation);

 private:
  [[nodiscard]] std::size_t next_repair(const std::vector<bool>& in_place) const;
  [[nodiscard]] double end_cost() const;

  const TroubleshootingProblem& problem_;
  std::vector<std::vector<std::size_t>> mends_;  // hypotheses by repair
  std::vector<double> weights_, says_cured_, says_still_there_;
  std::vector<bool> done_;
  std::vector<double> ends_, steps_;  // cost of ending before each repair, and of each repair
  std::vector<std::size_t> order_;
};

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/strategy_bounds.ipp"

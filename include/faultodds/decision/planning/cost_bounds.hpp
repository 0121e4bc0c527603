// Bounds on what a policy costs from a situation on, worked out without a search.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"

namespace faultodds {

/// The expected cost of perfect information: the hypothesis is known, and what a repair did is seen at once. No
/// policy costs less. If a hypothesis takes more than a few repairs, those after them are counted at the
/// cheapest one.
[[nodiscard]] double perfect_information_cost(const TroubleshootingProblem& problem, const Situation& situation);

namespace detail {

/// A repair that does some work if a hypothesis is true, and the least that it costs from that repair on.
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
  /// The cheapest end of a case whose hypothesis is known and not mended, by hypothesis.
  [[nodiscard]] std::span<const double> ends() const noexcept { return ends_; }

 private:
  [[nodiscard]] double known(std::size_t hypothesis, std::vector<bool>& repairs_done, const std::vector<bool>& in_place,
                             std::size_t depth) const;
  [[nodiscard]] double way(std::size_t hypothesis, std::size_t repair, std::vector<bool>& repairs_done,
                           const std::vector<bool>& in_place, std::size_t depth) const;

  const TroubleshootingProblem& problem_;
  std::vector<std::vector<std::size_t>> mended_by_;  // by hypothesis
  std::vector<double> ends_;                         // by hypothesis
  std::map<std::vector<bool>, KnownCosts> kept_;
};

/// Repairs by P over C, cut short once the end is cheaper. Refers to the problem; keeps memory for its work, so that
/// one belongs to one thread.
class RepairChain {
 public:
  explicit RepairChain(const TroubleshootingProblem& problem);

  /// Expected cost from weights (not normalised, the cured state last), in proportion to their sum.
  [[nodiscard]] double cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                            const std::vector<bool>& in_place);
  /// Expected cost of a step and then the chain; of a step that ends the case, its own.
  [[nodiscard]] double cost_after(const Situation& situation, const Step& step);
  /// Repairs of the chain that the last call of `cost` priced.
  [[nodiscard]] std::span<const std::size_t> repairs() const noexcept { return order_; }
  /// First repair of the chain, or the end.
  [[nodiscard]] Step first_step(const Situation& situation);

 private:
  void start(std::span<const double> weights, const std::vector<bool>& repairs_done, const std::vector<bool>& in_place);
  void renew_work(std::size_t repair);
  void renew_cost(std::size_t repair);
  [[nodiscard]] std::size_t next_repair() const;
  void carry_out(std::size_t repair);
  [[nodiscard]] double end_cost() const;

  const TroubleshootingProblem& problem_;
  std::vector<std::vector<std::size_t>> mends_;     // hypotheses by repair
  std::vector<std::vector<std::size_t>> concerns_;  // by repair, those whose chance it changes beyond a common factor
  std::vector<double> weights_, says_cured_, says_still_there_;
  std::vector<double> after_;  // weights after a step before the chain
  std::vector<bool> in_place_;
  std::vector<std::size_t> open_;    // repairs not done that may do some work
  std::vector<double> works_;        // by repair, in proportion to the weights at the start
  std::vector<double> costs_;        // by repair, with what must be brought about now
  std::vector<double> ends_, paid_;  // cost of ending before each repair of the chain, and of the repair
  std::vector<std::size_t> order_;
};
/// Those of `wanted` that are not in place, and all that is missing behind them; each once.
[[nodiscard]] std::vector<std::size_t> missing_set_ups(const TroubleshootingProblem& problem,
                                                       const std::vector<bool>& in_place,
                                                       std::span<const std::size_t> wanted);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/planning/cost_bounds.ipp"

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

/// Those of `wanted` that are not in place, and all that is missing behind them; each once.
[[nodiscard]] std::vector<std::size_t> missing_set_ups(const TroubleshootingProblem& problem,
                                                       const std::vector<bool>& in_place,
                                                       std::span<const std::size_t> wanted);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/planning/cost_bounds.ipp"

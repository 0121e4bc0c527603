// What a step costs in the end if some more steps are looked at, and nothing is tested beyond.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <limits>
#include <span>
#include <vector>

#include "faultodds/decision/planning/repair_chain.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds::detail {

/// P(outcome | hypothesis) of each test, the cured vehicle last: an outcome after the other, hypotheses running
/// fastest.
class OutcomeRows {
 public:
  explicit OutcomeRows(const TroubleshootingProblem& problem);

  /// One for each hypothesis, then that of the cured vehicle: 1 if the test has no row for it, since it is not tested.
  [[nodiscard]] std::span<const double> row(std::size_t test, std::size_t outcome) const noexcept {
    return std::span(rows_).subspan((first_[test] + outcome) * width_, width_);
  }

 private:
  std::size_t width_;
  std::vector<std::size_t> first_;  // by test
  std::vector<double> rows_;
};

/// Expected costs by looking ahead: every step and what it leads to, to some depth, and the repair chain from there.
/// Refers to the problem and the chain; works in memory of its own, so that one belongs to one thread.
class MoneyLookAhead {
 public:
  MoneyLookAhead(const TroubleshootingProblem& problem, RepairChain& chain, Stop stop = {});

  /// Of taking this step, which counts as one of `depth`; of a step that ends the case, its own cost.
  [[nodiscard]] double cost_of(const Situation& situation, const Step& step, std::size_t depth);
  /// Of the best step, or of the repair chain if this is less.
  [[nodiscard]] double best_cost(const Situation& situation, std::size_t depth);

 private:
  /// Weights of the hypotheses, not normalised, and what is summed over them.
  struct Place {
    std::span<const double> weights;  // the cured state last
    double mass = 0.0;                // probability of getting here
    SetUpStates::State state = 0;
    double not_cured = 0.0;
    double least = 0.0;  // no way from here costs less
  };

  static constexpr double any = std::numeric_limits<double>::infinity();

  [[nodiscard]] Place place_of(const Situation& situation, std::size_t depth);
  [[nodiscard]] Place place_of(std::span<const double> weights, double mass, SetUpStates::State state) const;
  /// These may return any cost from `enough` on if the true one is not less.
  [[nodiscard]] double after_test(const Place& place, std::size_t test, std::size_t depth, double enough);
  [[nodiscard]] double after_repair(const Place& place, std::size_t repair, std::size_t depth, double enough);
  /// Without tests at depth 0.
  [[nodiscard]] double best(const Place& place, std::size_t depth);
  [[nodiscard]] bool does_work(std::size_t repair, std::span<const double> weights) const;

  const TroubleshootingProblem& problem_;
  RepairChain& chain_;
  Stop stop_;
  OutcomeRows rows_;
  std::vector<std::vector<double>> weights_;  // by depth
  Flags tests_done_, repairs_done_;
};

}  // namespace faultodds::detail

#include "faultodds/decision/planning/money_look_ahead.ipp"

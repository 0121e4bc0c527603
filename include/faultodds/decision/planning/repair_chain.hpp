// Repairs one after the other by P over C: what is expected from any belief on if nothing is tested any more.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/decision/planning/set_up_states.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"

namespace faultodds::detail {

/// Truths that are read in inner loops.
using Flags = std::vector<unsigned char>;

/// A repair seen from the hypotheses that it mends.
struct Mending {
  std::size_t hypothesis;
  std::size_t becomes;  ///< the number of hypotheses: cured
  double success;
};

/// Repairs by P over C, cut short once the end is cheaper. Refers to the problem; keeps memory for its work, so that
/// one belongs to one thread. Goes on only as long as something cheaper may come: what is paid already and what
/// the rest costs if it is known (PerfectInformation with everything in place) must be less than the best end so far.
class RepairChain {
 public:
  explicit RepairChain(const TroubleshootingProblem& problem);

  /// Expected cost from weights (not normalised, the cured state last), in proportion to their sum.
  [[nodiscard]] double cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                            const std::vector<bool>& in_place);
  [[nodiscard]] double cost(std::span<const double> weights, const Flags& repairs_done, SetUpStates::State state);
  /// Repairs of the chain that the last call of `cost` priced.
  [[nodiscard]] std::span<const std::size_t> repairs() const noexcept { return order_; }
  /// First repair of the chain, or the end.
  [[nodiscard]] Step first_step(const Situation& situation);

  [[nodiscard]] SetUpStates& set_ups() noexcept { return set_ups_; }
  /// What this repair mends.
  [[nodiscard]] std::span<const Mending> mendings(std::size_t repair) const noexcept {
    return std::span(mendings_).subspan(first_mending_[repair], first_mending_[repair + 1] - first_mending_[repair]);
  }
  /// By hypothesis, 0 for the cured state: no way through a case costs less, whatever is in place.
  [[nodiscard]] std::span<const double> least() const noexcept { return least_; }

 private:
  /// Sums over the hypotheses, in proportion to the weights.
  struct Totals {
    double not_cured = 0.0;
    double hand_over = 0.0;
    double least = 0.0;
  };

  void add_mendings();
  void add_concerns();
  [[nodiscard]] Totals totals() const;
  void start(std::span<const double> weights, const Flags& repairs_done, const double* costs);
  /// How probable it is that the repair succeeds, in proportion to the weights.
  [[nodiscard]] double work_of(std::size_t repair) const;
  void renew_ratios(const double* costs);
  void renew_work(std::size_t repair, const double* costs);
  [[nodiscard]] std::size_t next_repair(const double* costs) const;
  void carry_out(std::size_t repair, Totals& totals);
  [[nodiscard]] double end_cost(const Totals& totals, double scale, double cured) const;

  const TroubleshootingProblem& problem_;
  SetUpStates set_ups_;
  std::vector<std::size_t> first_mending_;  // by repair, and the number of all
  std::vector<Mending> mendings_;
  std::vector<std::vector<std::size_t>> concerns_;  // by repair, those whose chance it changes beyond a common factor
  std::vector<double> hand_over_, least_;           // by hypothesis
  std::vector<double> weights_;                     // of those not cured
  std::vector<double> mended_;                      // by mending of the repair that is carried out
  Flags open_;                                      // by repair
  std::vector<double> works_, ratios_;  // by repair: probability of success, and that for its cost; 0 if done
  Flags done_;
  std::vector<std::size_t> order_;
};

}  // namespace faultodds::detail

#include "faultodds/decision/planning/repair_chain.ipp"

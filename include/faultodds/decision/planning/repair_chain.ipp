// Bodies of repair_chain.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <limits>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/repair_chain.hpp"

namespace faultodds::detail {

inline RepairChain::RepairChain(const TroubleshootingProblem& problem)
    : problem_(problem),
      set_ups_(problem),
      concerns_(problem.repairs.size()),
      hand_over_(problem.hypotheses.size(), 0.0),
      weights_(problem.hypotheses.size()),
      open_(problem.repairs.size()),
      works_(problem.repairs.size()),
      ratios_(problem.repairs.size()),
      done_(problem.repairs.size()) {
  add_mendings();
  add_concerns();
  for (std::size_t h = 0; problem.ends.hand_over && h < hand_over_.size(); ++h) {
    hand_over_[h] = hand_over_cost(problem, h);
  }
  const std::vector<bool> nothing_done(problem.repairs.size(), false);
  const std::vector<bool> everything(problem.set_ups.size(), true);
  least_ = PerfectInformation(problem).costs(nothing_done, everything).least;
}

inline void RepairChain::add_mendings() {
  const std::size_t n = problem_.hypotheses.size();
  std::size_t most = 0;
  for (const RepairAction& repair : problem_.repairs) {
    first_mending_.push_back(mendings_.size());
    for (std::size_t h = 0; h < n; ++h) {
      if (repair.success[h] > 0.0) mendings_.push_back({h, hypothesis_after(repair, h, n), repair.success[h]});
    }
    most = std::max(most, mendings_.size() - first_mending_.back());
  }
  first_mending_.push_back(mendings_.size());
  mended_.resize(most);
}

inline void RepairChain::add_concerns() {
  for (std::size_t r = 0; r < concerns_.size(); ++r) {
    Flags changed(problem_.hypotheses.size() + 1, 0);
    for (const Mending& mending : mendings(r)) changed[mending.hypothesis] = changed[mending.becomes] = 1;
    for (std::size_t other = 0; other < concerns_.size(); ++other) {
      const auto is_changed = [&](const Mending& mending) { return changed[mending.hypothesis] != 0; };
      const std::span<const Mending> all = mendings(other);
      if (other != r && std::any_of(all.begin(), all.end(), is_changed)) concerns_[r].push_back(other);
    }
  }
}

inline RepairChain::Totals RepairChain::totals() const {
  Totals totals;
  totals.not_cured = quick_sum(weights_);
  totals.hand_over = quick_product(weights_, hand_over_);
  totals.least = quick_product(weights_, least_);
  return totals;
}

inline void RepairChain::start(std::span<const double> weights, const Flags& repairs_done, const double* costs) {
  std::copy_n(weights.begin(), weights_.size(), weights_.begin());
  order_.clear();
  for (std::size_t r = 0; r < open_.size(); ++r) {
    open_[r] = repairs_done[r] == 0 ? 1 : 0;
    works_[r] = open_[r] != 0 ? work_of(r) : 0.0;
  }
  renew_ratios(costs);
}

inline double RepairChain::work_of(std::size_t repair) const {
  double works = 0.0;
  for (const Mending& mending : mendings(repair)) works += weights_[mending.hypothesis] * mending.success;
  return works;
}

inline void RepairChain::renew_ratios(const double* costs) {
  for (std::size_t r = 0; r < works_.size(); ++r) ratios_[r] = works_[r] > 0.0 ? works_[r] / costs[r] : 0.0;
}

inline void RepairChain::renew_work(std::size_t repair, const double* costs) {
  const double works = work_of(repair);
  works_[repair] = works;
  ratios_[repair] = works > 0.0 ? works / costs[repair] : 0.0;
}

/// The open repair with the most work for its cost; of ratios that differ by rounding the cheaper, then the first.
/// Their number if none does any work.
inline std::size_t RepairChain::next_repair(const double* costs) const {
  constexpr double rounding = 1e-12;
  double most = 0.0;
  for (const double ratio : ratios_) most = std::max(most, ratio);
  std::size_t best = ratios_.size();
  if (!(most > 0.0)) return best;
  const double equal = most * (1.0 - rounding);
  for (std::size_t r = 0; r < ratios_.size(); ++r) {
    if (ratios_[r] >= equal && (best == ratios_.size() || costs[r] < costs[best])) best = r;
  }
  return best;
}

/// Of those not cured, without the share that a wrong "cured" takes out. All at once: what becomes of one hypothesis is
/// not mended by the same repair.
inline void RepairChain::carry_out(std::size_t repair, Totals& totals) {
  const std::span<const Mending> all = mendings(repair);
  for (std::size_t i = 0; i < all.size(); ++i) mended_[i] = weights_[all[i].hypothesis] * all[i].success;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto [from, to, success] = all[i];
    weights_[from] -= mended_[i];
    totals.hand_over -= mended_[i] * hand_over_[from];
    totals.least -= mended_[i] * least_[from];
    if (to == weights_.size()) {
      totals.not_cured -= mended_[i];
      continue;
    }
    weights_[to] += mended_[i];
    totals.hand_over += mended_[i] * hand_over_[to];
    totals.least += mended_[i] * least_[to];
  }
}

inline double RepairChain::end_cost(const Totals& totals, double scale, double cured) const {
  const double infinite = std::numeric_limits<double>::infinity();
  const EndCosts& ends = problem_.ends;
  return std::min(ends.hand_over ? scale * totals.hand_over + *ends.hand_over * cured : infinite,
                  ends.live_with ? *ends.live_with * scale * totals.not_cured : infinite);
}

inline double RepairChain::cost(std::span<const double> weights, const std::vector<bool>& repairs_done,
                                const std::vector<bool>& in_place) {
  std::copy(repairs_done.begin(), repairs_done.end(), done_.begin());
  return cost(weights, done_, set_ups_.state_of(in_place));
}

inline double RepairChain::cost(std::span<const double> weights, const Flags& repairs_done, SetUpStates::State state) {
  const double* costs = set_ups_.repair_costs(state);
  start(weights, repairs_done, costs);
  Totals left = totals();
  double cured = weights.back();
  double scale = 1.0;  // of those not cured: what no wrong "cured" has taken out
  double paid = 0.0;
  double best = end_cost(left, scale, cured);
  std::size_t length = 0;
  while (paid + scale * left.least < best) {
    const std::size_t repair = next_repair(costs);
    if (repair == works_.size()) break;
    const Verification& check = problem_.repairs[repair].verification;
    paid += costs[repair] * (scale * left.not_cured + cured);
    const double before = left.not_cured;
    carry_out(repair, left);
    if (check.false_cured > 0.0) {
      paid += problem_.ends.comeback.value() * check.false_cured * scale * left.not_cured;
    }
    cured = (cured + scale * (before - left.not_cured)) * check.false_still_there;
    scale *= 1.0 - check.false_cured;
    order_.push_back(repair);
    open_[repair] = 0;
    works_[repair] = ratios_[repair] = 0.0;
    const SetUpStates::State next = set_ups_.after_repair(state, repair);
    costs = set_ups_.repair_costs(next);
    for (const std::size_t other : concerns_[repair]) {
      if (open_[other] != 0) renew_work(other, costs);
    }
    if (next != state) renew_ratios(costs);
    state = next;
    const double here = paid + end_cost(left, scale, cured);
    if (!(here < best)) continue;
    best = here;
    length = order_.size();
  }
  order_.resize(length);
  return best;
}

inline Step RepairChain::first_step(const Situation& situation) {
  (void)cost(situation.belief, situation.repairs_done, situation.in_place);
  return order_.empty() ? end_from(problem_, situation) : Step{StepKind::repair, order_.front()};
}

}  // namespace faultodds::detail

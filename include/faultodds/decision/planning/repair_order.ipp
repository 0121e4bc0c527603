// Bodies of repair_order.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <bit>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/repair_chain.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {

namespace detail {

/// Repairs that may do some work from here, in the order of the problem.
inline std::vector<std::size_t> useful_repairs(const TroubleshootingProblem& problem, const Situation& situation) {
  std::vector<std::size_t> useful;
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    if (!situation.repairs_done[r] && may_work(problem.repairs[r], situation.belief)) useful.push_back(r);
  }
  return useful;
}

/// True if a condition must change, or may have to be brought back, for a repair.
inline bool needs_condition(const TroubleshootingProblem& problem, std::size_t repair) {
  const std::vector<bool> nothing(problem.set_ups.size(), false);
  const std::vector<std::size_t> all = missing_set_ups(problem, nothing, problem.repairs[repair].set_ups);
  return std::any_of(all.begin(), all.end(), [&](std::size_t s) { return !problem.set_ups[s].group.empty(); });
}

/// True if a repair cures what it does any work on, among the hypotheses that are possible.
inline bool always_cures(const RepairAction& repair, std::span<const double> belief) {
  const std::size_t n = repair.success.size();
  for (std::size_t h = 0; h < n; ++h) {
    if (belief[h] > 0.0 && repair.success[h] > 0.0 && hypothesis_after(repair, h, n) != n) return false;
  }
  return true;
}

/// True if handing over costs the same for each hypothesis that is possible.
inline bool hands_over_for_the_same(const TroubleshootingProblem& problem, std::span<const double> belief) {
  std::optional<double> first;
  for (std::size_t h = 0; h < problem.repair_elsewhere.size(); ++h) {
    if (!(belief[h] > 0.0)) continue;
    if (first.value_or(problem.repair_elsewhere[h]) != problem.repair_elsewhere[h]) return false;
    first = problem.repair_elsewhere[h];
  }
  return true;
}

inline RepairOrder priced(const TroubleshootingProblem& problem, Situation situation,
                          std::span<const std::size_t> repairs) {
  RepairOrder order;
  order.lower_bound = perfect_information_cost(problem, situation);
  double reached = 1.0;
  for (const std::size_t r : repairs) {
    const Step step{StepKind::repair, r};
    std::vector<StepResult> results = results_after(problem, situation, step);
    order.expected_cost += reached * cost_of_step(problem, situation, step);
    if (results[0].probability > 0.0) {
      order.expected_cost +=
          reached * results[0].probability * cost_of_step(problem, results[0].situation, {StepKind::done, 0});
    }
    order.repairs.push_back(r);
    reached *= results[1].probability;
    if (!(reached > 0.0)) break;
    situation = std::move(results[1].situation);
  }
  order.end = end_from(problem, situation);
  order.probability_left = reached;
  if (reached > 0.0) order.expected_cost += reached * cost_of_step(problem, situation, order.end);
  order.lower_bound = std::min(order.expected_cost, order.lower_bound);
  return order;
}

/// Dynamic programming over the sets of repairs that failed (Held & Karp 1962, for sequences in general).
class RepairSets {
 public:
  RepairSets(const TroubleshootingProblem& problem, const Situation& start, std::vector<std::size_t> repairs,
             const Stop& stop)
      : problem_(problem),
        start_(start),
        repairs_(std::move(repairs)),
        stop_(stop),
        left_(std::size_t{1} << repairs_.size()) {
    std::vector<double> weights = start.belief;
    ends_.resize(left_.size());
    fill(0, 0, std::move(weights));
    for (const std::size_t r : repairs_)
      missing_.push_back(missing_set_ups(problem, start.in_place, problem.repairs[r].set_ups));
  }

  [[nodiscard]] std::vector<std::size_t> best() {
    const std::size_t sets = left_.size();
    const std::size_t ends = repairs_.size();
    std::vector<double> cost(sets);
    std::vector<std::uint8_t> choice(sets, static_cast<std::uint8_t>(ends));
    for (std::size_t set = sets; set-- > 0;) {
      if (set % between_looks == 0) stop_.check();
      const double unseen = unseen_failing(set);
      cost[set] = ends_[set] * unseen;
      if (!(cost[set] > 0.0)) continue;
      const std::vector<bool> in_place = in_place_after(set);
      for (std::size_t i = 0; i < ends; ++i) {
        if ((set >> i & 1) != 0) continue;
        const std::size_t next = set | (std::size_t{1} << i);
        const RepairAction& repair = problem_.repairs[repairs_[i]];
        double here = repair.cost + repair.verification.cost;
        for (const std::size_t s : missing_[i]) here += in_place[s] ? 0.0 : problem_.set_ups[s].cost;
        here = here * left_[set] * unseen + cost[next] +
               problem_.ends.comeback.value_or(0.0) * left_[next] * unseen * repair.verification.false_cured;
        if (here < cost[set]) {
          cost[set] = here;
          choice[set] = static_cast<std::uint8_t>(i);
        }
      }
    }
    std::vector<std::size_t> order;
    for (std::size_t set = 0; choice[set] < ends; set |= std::size_t{1} << choice[set]) {
      order.push_back(repairs_[choice[set]]);
      if (order.size() == ends) break;
    }
    return order;
  }

 private:
  static constexpr std::size_t between_looks = 256;  // sets

  /// left_[set]: probability that the repairs of the set all fail; ends_[set]: that, times the cost of ending then.
  void fill(std::size_t at, std::size_t set, std::vector<double> weights) {
    if (at == repairs_.size()) {
      if (set % between_looks == 0) stop_.check();
      left_[set] = sum_of(weights);
      const double infinite = std::numeric_limits<double>::infinity();
      ends_[set] = std::min(problem_.ends.hand_over ? hand_over_cost(problem_, weights) : infinite,
                            problem_.ends.live_with ? *problem_.ends.live_with * left_[set] : infinite);
      return;
    }
    fill(at + 1, set, weights);
    const std::vector<double>& success = problem_.repairs[repairs_[at]].success;
    for (std::size_t h = 0; h < success.size(); ++h) weights[h] *= 1.0 - success[h];
    fill(at + 1, set | (std::size_t{1} << at), std::move(weights));
  }

  /// Probability that failing is seen each time.
  [[nodiscard]] double unseen_failing(std::size_t set) const {
    double seen = 1.0;
    for (std::size_t i = 0; i < repairs_.size(); ++i) {
      if ((set >> i & 1) != 0) seen *= 1.0 - problem_.repairs[repairs_[i]].verification.false_cured;
    }
    return seen;
  }

  [[nodiscard]] std::vector<bool> in_place_after(std::size_t set) const {
    std::vector<bool> in_place = start_.in_place;
    for (std::size_t i = 0; i < repairs_.size(); ++i) {
      if ((set >> i & 1) == 0) continue;
      for (const std::size_t s : missing_[i]) in_place[s] = true;
    }
    return in_place;
  }

  const TroubleshootingProblem& problem_;
  const Situation& start_;
  std::vector<std::size_t> repairs_;
  const Stop& stop_;
  std::vector<double> left_, ends_;
  std::vector<std::vector<std::size_t>> missing_;
};

inline std::vector<std::size_t> repairs_of(const PolicyTree& policy_tree) {
  std::vector<std::size_t> repairs;
  for (std::size_t at = 0; policy_tree.nodes[at].step.kind == StepKind::repair;) {
    repairs.push_back(policy_tree.nodes[at].step.index);
    const PolicyBranch& last = policy_tree.nodes[at].branches.back();
    if (last.outcome == 0) break;
    at = last.node;
  }
  return repairs;
}

}  // namespace detail

inline RepairOrder priced_repair_order(const TroubleshootingProblem& problem, std::span<const std::size_t> repairs) {
  Situation start = start_of(problem);
  std::vector<bool> named(problem.repairs.size(), false);
  for (const std::size_t r : repairs) {
    detail::check_index("repairs", r, problem.repairs.size(), "repairs");
    if (named[r])
      throw ArgumentError("repairs", "names repair " + std::to_string(r) + " twice", "name each once",
                          ErrorCode::named_twice);
    named[r] = true;
  }
  return detail::priced(problem, std::move(start), repairs);
}

inline bool p_over_c_is_best(const TroubleshootingProblem& problem) {
  const Situation start = start_of(problem);
  if (!detail::hands_over_for_the_same(problem, start.belief)) return false;
  const std::vector<std::size_t> useful = detail::useful_repairs(problem, start);
  std::vector<bool> mended(problem.hypotheses.size(), false);
  std::vector<bool> taken(problem.set_ups.size(), false);
  for (const std::size_t r : useful) {
    const RepairAction& repair = problem.repairs[r];
    if (repair.verification.false_cured > 0.0 || repair.verification.false_still_there > 0.0) return false;
    if (!detail::always_cures(repair, start.belief) || detail::needs_condition(problem, r)) return false;
    for (std::size_t h = 0; h < mended.size(); ++h) {
      if (!(start.belief[h] > 0.0 && repair.success[h] > 0.0)) continue;
      if (mended[h]) return false;
      mended[h] = true;
    }
    for (const std::size_t s : detail::missing_set_ups(problem, start.in_place, problem.repairs[r].set_ups)) {
      if (taken[s]) return false;
      taken[s] = true;
    }
  }
  return true;
}

inline RepairOrder p_over_c_order(const TroubleshootingProblem& problem) {
  RepairOrder order = p_over_c_order(problem, start_of(problem));
  order.best = p_over_c_is_best(problem);
  if (order.best) order.lower_bound = order.expected_cost;
  return order;
}

inline RepairOrder p_over_c_order(const TroubleshootingProblem& problem, const Situation& situation) {
  validate(problem);
  detail::check_situation(problem, situation);
  detail::RepairChain chain(problem);
  (void)chain.cost(situation.belief, situation.repairs_done, situation.in_place);
  return detail::priced(problem, situation, chain.repairs());
}

namespace detail {

/// By dynamic programming over sets; by P over C if that is stopped.
inline RepairOrder best_order_by_sets(const TroubleshootingProblem& problem, const Situation& start,
                                      std::vector<std::size_t> useful, const Stop& stop) {
  const std::size_t sets = std::size_t{1} << useful.size();
  try {
    RepairOrder order = priced(problem, start, RepairSets(problem, start, std::move(useful), stop).best());
    order.lower_bound = order.expected_cost;
    order.best = true;
    order.steps = sets;
    return order;
  } catch (const Stopped&) {
    RepairOrder order = p_over_c_order(problem, start);
    order.stopped = true;
    return order;
  }
}

}  // namespace detail

inline RepairOrder best_repair_order(const TroubleshootingProblem& problem, const RepairOrderOptions& options,
                                     const Stop& stop) {
  constexpr std::size_t max_sets_possible = 24;
  if (options.max_in_sets > max_sets_possible) {
    throw ArgumentError("options.max_in_sets", std::to_string(options.max_in_sets),
                        "must be at most " + std::to_string(max_sets_possible), ErrorCode::wrong_number);
  }
  if (p_over_c_is_best(problem)) return p_over_c_order(problem);
  const Situation start = start_of(problem);
  std::vector<std::size_t> useful = detail::useful_repairs(problem, start);
  const bool order_of_failed_matters = std::any_of(useful.begin(), useful.end(), [&](std::size_t r) {
    return !detail::always_cures(problem.repairs[r], start.belief) || detail::needs_condition(problem, r) ||
           problem.repairs[r].verification.false_still_there > 0.0;
  });
  if (!order_of_failed_matters && useful.size() <= options.max_in_sets) {
    return detail::best_order_by_sets(problem, start, std::move(useful), stop);
  }
  TroubleshootingProblem without_tests = problem;
  without_tests.tests.clear();
  SearchOptions search;
  search.max_steps = options.max_steps;
  const OptimalPolicyTree found = optimal_policy_tree(without_tests, search, stop);
  RepairOrder order = detail::priced(problem, start, detail::repairs_of(found.policy_tree));
  order.lower_bound = std::min(found.lower_bound, order.expected_cost);
  order.best = found.optimal;
  order.steps = found.steps;
  order.stopped = found.stopped;
  return order;
}

}  // namespace faultodds

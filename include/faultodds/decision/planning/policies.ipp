// Bodies of policies.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/money_look_ahead.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/ranking/entropy.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {

namespace detail {

/// A copy of the problem, and the memory that pricing by looking ahead and with perfect information takes.
struct PolicyMemory {
  explicit PolicyMemory(const TroubleshootingProblem& given, Stop stopped_by = {})
      : problem((validate(given), given)),
        chain(problem),
        money(problem, chain, stopped_by),
        perfect(problem),
        stop(std::move(stopped_by)) {}

  TroubleshootingProblem problem;
  RepairChain chain;
  MoneyLookAhead money;
  PerfectInformation perfect;
  Stop stop;
};

inline int sooner_over(StepKind kind) { return kind == StepKind::test ? 2 : kind == StepKind::repair ? 1 : 0; }

/// More bits for the cost; of equal ones the cheaper, then the order of the problem.
inline bool tells_more_for_its_cost(const PricedStep& a, const PricedStep& b) {
  const double mine = a.gain_bits * b.step_cost;
  const double others = b.gain_bits * a.step_cost;
  if (mine != others) return mine > others;
  if (a.step_cost != b.step_cost) return a.step_cost < b.step_cost;
  return a.step.index < b.step.index;
}

/// By expected cost. Costs that differ by rounding are equal, whichever way they were added up; of equal steps the ends
/// come first, then repairs, then tests, and of tests the one that tells more for its cost.
inline void sort_by_expected_cost(std::vector<PricedStep>& steps) {
  constexpr double rounding = 1e-9;
  sort_stably(steps, [](const PricedStep& a, const PricedStep& b) { return a.expected_cost < b.expected_cost; });
  std::vector<std::pair<std::size_t, PricedStep>> grouped;  // the first that costs the same, and the step
  std::size_t first = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (steps[i].expected_cost > steps[first].expected_cost * (1.0 + rounding)) first = i;
    grouped.emplace_back(first, steps[i]);
  }
  sort_stably(grouped, [](const auto& one, const auto& other) {
    if (one.first != other.first) return one.first < other.first;
    const PricedStep& a = one.second;
    const PricedStep& b = other.second;
    if (a.step.kind != b.step.kind) return sooner_over(a.step.kind) < sooner_over(b.step.kind);
    return a.step.kind == StepKind::test ? tells_more_for_its_cost(a, b) : a.step.index < b.step.index;
  });
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i] = grouped[i].second;
}

inline std::vector<PricedStep> price_steps(const TroubleshootingProblem& problem, MoneyLookAhead& money,
                                           const Situation& situation, std::size_t depth) {
  if (depth == 0) throw ArgumentError("depth", "0", "must be at least 1", ErrorCode::wrong_number);
  check_situation(problem, situation);
  const double without_tests = money.best_cost(situation, 0);
  std::vector<PricedStep> priced;
  for (const Step& step : steps_from(problem, situation)) {
    PricedStep& entry = priced.emplace_back();
    entry.step = step;
    entry.step_cost = cost_of_step(problem, situation, step);
    entry.expected_cost = money.cost_of(situation, step, depth);
    entry.saves = without_tests - entry.expected_cost;
    if (step.kind == StepKind::test) entry.gain_bits = test_gain_bits(problem.tests[step.index], situation.belief);
  }
  sort_by_expected_cost(priced);
  return priced;
}

inline Step fixed_order_step(PolicyMemory& memory, const FixedOrder& order, const Situation& situation) {
  check_situation(memory.problem, situation);
  constexpr double rounding = 1e-12;
  const TroubleshootingProblem& problem = memory.problem;
  std::optional<std::size_t> due;
  double due_probability = 0.0;
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    if (situation.repairs_done[r]) continue;
    double works = 0.0;
    for (std::size_t h = 0; h < problem.hypotheses.size(); ++h) {
      works += situation.belief[h] * problem.repairs[r].success[h];
    }
    if (works >= order.repair_at - rounding && works > due_probability) {
      due = r;
      due_probability = works;
    }
  }
  if (due) return {StepKind::repair, *due};
  for (const std::size_t t : order.tests) {
    if (!situation.tests_done[t]) return {StepKind::test, t};
  }
  return memory.chain.first_step(situation);
}

/// What knowing everything would save for each bit that is open, less what is settled by the easy bits.
inline double worth_of_a_bit(PolicyMemory& memory, const Situation& situation) {
  constexpr double discount = 1.0 / 3.0;
  const double open_bits = entropy_bits(situation.belief);
  if (!(open_bits > 0.0)) return 0.0;
  const double without_tests = memory.chain.cost(situation.belief, situation.repairs_done, situation.in_place);
  const double knowing = memory.perfect.cost(situation.belief, situation.repairs_done, situation.in_place);
  return discount * (without_tests - knowing) / open_bits;
}

inline Step greedy_step(PolicyMemory& memory, const Situation& situation) {
  check_situation(memory.problem, situation);
  memory.stop.check();
  const double bit = worth_of_a_bit(memory, situation);
  std::vector<PricedStep> tests;
  std::size_t best = 0;
  bool pays = false;
  for (const Step& step : steps_from(memory.problem, situation)) {
    if (step.kind != StepKind::test) continue;
    PricedStep& test = tests.emplace_back();
    test.step = step;
    test.step_cost = cost_of_step(memory.problem, situation, step);
    test.gain_bits = test_gain_bits(memory.problem.tests[step.index], situation.belief);
    pays = pays || test.gain_bits * bit > test.step_cost;
    if (tells_more_for_its_cost(test, tests[best])) best = tests.size() - 1;
  }
  if (!pays && !tests.empty()) {
    const double without = memory.chain.cost(situation.belief, situation.repairs_done, situation.in_place);
    pays = std::any_of(tests.begin(), tests.end(),
                       [&](const PricedStep& test) { return memory.money.cost_of(situation, test.step, 1) < without; });
  }
  return pays ? tests[best].step : memory.chain.first_step(situation);
}

[[nodiscard]] inline double greedy_cost(PolicyMemory& memory, const Situation& situation, double reached);

/// Expected cost of this test and then of going by greedy_step; `reached` is the probability of getting here.
inline double greedy_cost_after(PolicyMemory& memory, const Situation& situation, const Step& test, double reached) {
  double sum = cost_of_step(memory.problem, situation, test);
  for (const StepResult& result : results_after(memory.problem, situation, test)) {
    if (!(result.probability > 0.0)) continue;
    sum += result.probability * greedy_cost(memory, result.situation, reached * result.probability);
  }
  return sum;
}

/// Expected cost of going by greedy_step; without tests if that is rare, and from the first repair on.
inline double greedy_cost(PolicyMemory& memory, const Situation& situation, double reached) {
  constexpr double min_probability = 0.005;
  if (reached >= min_probability) {
    const Step step = greedy_step(memory, situation);
    if (step.kind == StepKind::test) return greedy_cost_after(memory, situation, step, reached);
  }
  return memory.chain.cost(situation.belief, situation.repairs_done, situation.in_place);
}

}  // namespace detail

inline Policy fixed_order_policy(const TroubleshootingProblem& problem, FixedOrder order) {
  auto memory = std::make_shared<detail::PolicyMemory>(problem);
  std::vector<bool> named(problem.tests.size(), false);
  for (const std::size_t t : order.tests) {
    detail::check_index("order.tests", t, problem.tests.size(), "tests");
    if (named[t])
      throw ArgumentError("order.tests", "names test " + std::to_string(t) + " twice", "name each once",
                          ErrorCode::named_twice);
    named[t] = true;
  }
  if (!(order.repair_at > 0.0 && order.repair_at <= 1.0)) {
    throw ArgumentError("order.repair_at", std::to_string(order.repair_at), "must be above 0 and at most 1",
                        ErrorCode::wrong_number);
  }
  return [memory = std::move(memory), order = std::move(order)](const Situation& situation) {
    return detail::fixed_order_step(*memory, order, situation);
  };
}

inline Policy greedy_policy(const TroubleshootingProblem& problem) {
  return [memory = std::make_shared<detail::PolicyMemory>(problem)](const Situation& situation) {
    return detail::greedy_step(*memory, situation);
  };
}

inline Policy look_ahead_policy(const TroubleshootingProblem& problem, std::size_t depth, const Stop& stop) {
  return [memory = std::make_shared<detail::PolicyMemory>(problem, stop), depth](const Situation& situation) {
    return detail::price_steps(memory->problem, memory->money, situation, depth).front().step;
  };
}

inline std::vector<PricedStep> price_steps(const TroubleshootingProblem& problem, const Situation& situation,
                                           std::size_t depth, const Stop& stop) {
  validate(problem);
  detail::RepairChain chain(problem);
  detail::MoneyLookAhead money(problem, chain, stop);
  return detail::price_steps(problem, money, situation, depth);
}

inline Weighing weigh_steps(const TroubleshootingProblem& problem, const Situation& situation, std::size_t depth,
                            const Stop& stop) {
  constexpr std::size_t followed = 4;
  detail::PolicyMemory memory(problem, stop);
  Weighing weighing{detail::price_steps(memory.problem, memory.money, situation, depth), 0};
  const Step first = detail::greedy_step(memory, situation);
  std::size_t tests = 0;
  for (PricedStep& entry : weighing.steps) {
    if (entry.step.kind != StepKind::test || (++tests > followed && entry.step != first)) continue;
    const double cost = detail::greedy_cost_after(memory, situation, entry.step, 1.0);
    if (!(cost < entry.expected_cost)) continue;
    entry.saves += entry.expected_cost - cost;
    entry.expected_cost = cost;
  }
  detail::sort_by_expected_cost(weighing.steps);
  weighing.proposed = proposed_among(weighing.steps);
  return weighing;
}

inline std::size_t proposed_among(std::span<const PricedStep> steps) {
  constexpr double indifference = 0.01;
  if (steps.empty()) throw ArgumentError("steps", "is empty", "give those of weigh_steps", ErrorCode::nothing_given);
  std::size_t best = 0;
  const double most = steps.front().expected_cost * (1.0 + indifference);
  for (std::size_t i = 1; steps.front().step.kind == StepKind::test && i < steps.size(); ++i) {
    const bool as_good = steps[i].step.kind == StepKind::test && steps[i].expected_cost <= most;
    if (as_good && detail::tells_more_for_its_cost(steps[i], steps[best])) best = i;
  }
  return best;
}

inline PolicyTree fixed_order_policy_tree(const TroubleshootingProblem& problem, const FixedOrder& order,
                                          const PolicyTreeOptions& options, const Stop& stop) {
  return follow(problem, fixed_order_policy(problem, order), options, stop);
}

inline PolicyTree greedy_policy_tree(const TroubleshootingProblem& problem, const PolicyTreeOptions& options,
                                     const Stop& stop) {
  return follow(problem, greedy_policy(problem), options, stop);
}

inline PolicyTree look_ahead_policy_tree(const TroubleshootingProblem& problem, std::size_t depth,
                                         const PolicyTreeOptions& options, const Stop& stop) {
  return follow(problem, look_ahead_policy(problem, depth, stop), options, stop);
}

}  // namespace faultodds

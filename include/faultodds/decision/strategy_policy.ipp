// Bodies of strategy_policy.hpp.
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <utility>

#include "faultodds/decision/strategy_bounds.hpp"
#include "faultodds/decision/strategy_information.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {

namespace detail {

/// A copy of the problem, and the memory that pricing without tests takes.
struct PolicyMemory {
  explicit PolicyMemory(const TroubleshootingProblem& given) : problem((validate(given), given)), chain(problem) {}

  TroubleshootingProblem problem;
  RepairChain chain;
};

/// Expected cost to the end when `depth` more steps are looked at; without tests beyond.
class MoneyLookAhead {
 public:
  MoneyLookAhead(const TroubleshootingProblem& problem, RepairChain& chain) : problem_(problem), chain_(chain) {}

  /// Of taking this step, which counts as one of `depth`.
  [[nodiscard]] double cost_of(const Situation& situation, const Step& step, std::size_t depth) {
    if (depth == 1) return chain_.cost_after(situation, step);
    double sum = step_cost(problem_, situation, step);
    const std::vector<StepResult> results = results_of(problem_, situation, step);
    for (std::size_t outcome = 0; outcome < results.size(); ++outcome) {
      const StepResult& result = results[outcome];
      if (!(result.probability > 0.0)) continue;
      const bool says_cured = step.kind == StepKind::repair && outcome == 0;
      sum += result.probability * (says_cured ? step_cost(problem_, result.situation, {StepKind::done, 0})
                                              : best_cost(result.situation, depth - 1));
    }
    return sum;
  }

  [[nodiscard]] double best_cost(const Situation& situation, std::size_t depth) {
    double least = chain_.cost(situation.belief, situation.repairs_done, situation.in_place);
    if (depth == 0) return least;
    for (const Step& step : possible_steps(problem_, situation)) {
      least = std::min(least, cost_of(situation, step, depth));
    }
    return least;
  }

 private:
  const TroubleshootingProblem& problem_;
  RepairChain& chain_;
};

inline int sooner_over(StepKind kind) { return kind == StepKind::test ? 2 : kind == StepKind::repair ? 1 : 0; }

inline std::vector<PricedStep> price_steps(const TroubleshootingProblem& problem, RepairChain& chain,
                                           const Situation& situation, std::size_t depth) {
  if (depth == 0) throw ArgumentError("depth", "0", "must be at least 1");
  MoneyLookAhead money(problem, chain);
  const double without_tests = money.best_cost(situation, 0);
  std::vector<PricedStep> priced;
  for (const Step& step : possible_steps(problem, situation)) {
    PricedStep& entry = priced.emplace_back();
    entry.step = step;
    entry.step_cost = step_cost(problem, situation, step);
    entry.expected_cost = money.cost_of(situation, step, depth);
    entry.saves = without_tests - entry.expected_cost;
    if (step.kind == StepKind::test) entry.gain_bits = test_gain_bits(problem.tests[step.index], situation.belief);
  }
  std::stable_sort(priced.begin(), priced.end(), [](const PricedStep& a, const PricedStep& b) {
    if (a.expected_cost != b.expected_cost) return a.expected_cost < b.expected_cost;
    return sooner_over(a.step.kind) < sooner_over(b.step.kind);
  });
  return priced;
}

inline Step fixed_order_step(PolicyMemory& memory, const FixedOrder& order, const Situation& situation) {
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

inline Step greedy_step(PolicyMemory& memory, const Situation& situation) {
  const std::vector<PricedStep> priced = price_steps(memory.problem, memory.chain, situation, 1);
  const PricedStep* best = nullptr;
  bool pays = false;
  for (const PricedStep& entry : priced) {
    if (entry.step.kind != StepKind::test) continue;
    pays = pays || entry.saves > 0.0;
    const double mine = best == nullptr ? 1.0 : entry.gain_bits * best->step_cost;
    const double others = best == nullptr ? 0.0 : best->gain_bits * entry.step_cost;
    const bool equal = best != nullptr && mine == others;
    if (mine > others || (equal && entry.step_cost < best->step_cost) ||
        (equal && entry.step_cost == best->step_cost && entry.step.index < best->step.index)) {
      best = &entry;
    }
  }
  return pays ? best->step : memory.chain.first_step(situation);
}

}  // namespace detail

inline StepPolicy fixed_order_policy(const TroubleshootingProblem& problem, FixedOrder order) {
  auto memory = std::make_shared<detail::PolicyMemory>(problem);
  std::vector<bool> named(problem.tests.size(), false);
  for (const std::size_t t : order.tests) {
    detail::check_index("order.tests", t, problem.tests.size(), "tests");
    if (named[t]) throw ArgumentError("order.tests", "names test " + std::to_string(t) + " twice", "name each once");
    named[t] = true;
  }
  if (!(order.repair_at > 0.0 && order.repair_at <= 1.0)) {
    throw ArgumentError("order.repair_at", std::to_string(order.repair_at), "must be above 0 and at most 1");
  }
  return [memory = std::move(memory), order = std::move(order)](const Situation& situation) {
    return detail::fixed_order_step(*memory, order, situation);
  };
}

inline StepPolicy greedy_policy(const TroubleshootingProblem& problem) {
  return [memory = std::make_shared<detail::PolicyMemory>(problem)](const Situation& situation) {
    return detail::greedy_step(*memory, situation);
  };
}

inline StepPolicy look_ahead_policy(const TroubleshootingProblem& problem, std::size_t depth) {
  return [memory = std::make_shared<detail::PolicyMemory>(problem), depth](const Situation& situation) {
    return detail::price_steps(memory->problem, memory->chain, situation, depth).front().step;
  };
}

inline std::vector<PricedStep> price_steps(const TroubleshootingProblem& problem, const Situation& situation,
                                           std::size_t depth) {
  validate(problem);
  detail::RepairChain chain(problem);
  return detail::price_steps(problem, chain, situation, depth);
}

inline Strategy fixed_order_strategy(const TroubleshootingProblem& problem, const FixedOrder& order,
                                     const StrategyOptions& options) {
  return follow(problem, fixed_order_policy(problem, order), options);
}

inline Strategy greedy_strategy(const TroubleshootingProblem& problem, const StrategyOptions& options) {
  return follow(problem, greedy_policy(problem), options);
}

inline Strategy look_ahead_strategy(const TroubleshootingProblem& problem, std::size_t depth,
                                    const StrategyOptions& options) {
  return follow(problem, look_ahead_policy(problem, depth), options);
}

}  // namespace faultodds

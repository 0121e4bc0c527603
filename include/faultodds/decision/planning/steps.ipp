// Bodies of troubleshooting.hpp: what can be done from a situation, what it costs and leads to.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <string>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"

namespace faultodds {

namespace detail {

inline void check_situation(const TroubleshootingProblem& problem, const Situation& situation) {
  check_size("situation.belief", situation.belief.size(), problem.hypotheses.size() + 1,
             "one for each hypothesis, then that the vehicle is cured");
  check_size("situation.tests_done", situation.tests_done.size(), problem.tests.size(), "one for each test");
  check_size("situation.repairs_done", situation.repairs_done.size(), problem.repairs.size(), "one for each repair");
  check_size("situation.in_place", situation.in_place.size(), problem.set_ups.size(), "one for each set-up");
  for (std::size_t h = 0; h < situation.belief.size(); ++h) {
    const double p = situation.belief[h];
    if (p >= 0.0 && std::isfinite(p)) continue;
    throw ArgumentError("situation.belief[" + std::to_string(h) + ']', std::to_string(p),
                        "must be a finite number that is not negative", ErrorCode::wrong_number);
  }
}

inline void check_step(const TroubleshootingProblem& problem, const Step& step) {
  if (step.kind == StepKind::test) check_index("step", step.index, problem.tests.size(), "tests");
  if (step.kind == StepKind::repair) check_index("step", step.index, problem.repairs.size(), "repairs");
  const bool no_hand_over = step.kind == StepKind::hand_over && !problem.ends.hand_over;
  if (no_hand_over || (step.kind == StepKind::live_with && !problem.ends.live_with)) {
    throw ArgumentError("step", "is an end that the problem does not offer", "choose one of possible_steps",
                        ErrorCode::not_offered);
  }
}

inline SetUpWork set_ups_missing(const TroubleshootingProblem& problem, const std::vector<bool>& in_place,
                                 std::span<const std::size_t> wanted) {
  SetUpWork work;
  std::vector<bool> now = in_place;
  bring_about(problem, wanted, now, work);
  return work;
}

inline std::vector<Step> steps_from(const TroubleshootingProblem& problem, const Situation& situation) {
  std::vector<Step> steps;
  for (std::size_t t = 0; t < problem.tests.size(); ++t) {
    if (!situation.tests_done[t] && tells_something(problem.tests[t], situation.belief)) {
      steps.push_back({StepKind::test, t});
    }
  }
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    if (!situation.repairs_done[r] && may_work(problem.repairs[r], situation.belief)) {
      steps.push_back({StepKind::repair, r});
    }
  }
  if (problem.ends.hand_over) steps.push_back({StepKind::hand_over, 0});
  if (problem.ends.live_with) steps.push_back({StepKind::live_with, 0});
  return steps;
}

inline double cost_of_step(const TroubleshootingProblem& problem, const Situation& situation, const Step& step) {
  const double set_up_cost = set_ups_missing(problem, situation.in_place, wanted_by(problem, step)).cost;
  const double not_cured = sum_of(std::span(situation.belief).first(problem.hypotheses.size()));
  switch (step.kind) {
    case StepKind::test:
      return set_up_cost + problem.tests[step.index].cost;
    case StepKind::repair:
      return set_up_cost + problem.repairs[step.index].cost + problem.repairs[step.index].verification.cost;
    case StepKind::hand_over:
      return hand_over_cost(problem, situation.belief);
    case StepKind::live_with:
      return problem.ends.live_with.value() * not_cured;
    case StepKind::done:
      return not_cured > 0.0 ? problem.ends.comeback.value_or(0.0) * not_cured : 0.0;
    case StepKind::ask_again:
      break;
  }
  throw ArgumentError("step", "is `ask_again`", "its cost is in the node of the policy tree", ErrorCode::not_offered);
}

inline std::vector<StepResult> results_after(const TroubleshootingProblem& problem, const Situation& situation,
                                             const Step& step) {
  std::vector<StepResult> results;
  if (step.kind != StepKind::test && step.kind != StepKind::repair) return results;
  Situation next = situation;
  SetUpWork work;
  bring_about(problem, wanted_by(problem, step), next.in_place, work);
  if (step.kind == StepKind::test) {
    const TestAction& test = problem.tests[step.index];
    next.tests_done[step.index] = true;
    results.assign(test.outcomes.size(), {0.0, next});
    for (std::size_t o = 0; o < results.size(); ++o) {
      weigh_outcome(test, o, situation.belief, results[o].situation.belief);
    }
  } else {
    next.repairs_done[step.index] = true;
    results.assign(2, {0.0, next});
    weigh_repair(problem.repairs[step.index], situation.belief, results[0].situation.belief,
                 results[1].situation.belief);
  }
  for (StepResult& result : results) result.probability = normalise(result.situation.belief);
  return results;
}

inline Step end_from(const TroubleshootingProblem& problem, const Situation& situation) {
  const Step hand_over{StepKind::hand_over, 0};
  const Step live_with{StepKind::live_with, 0};
  if (!problem.ends.hand_over) return live_with;
  if (!problem.ends.live_with) return hand_over;
  return cost_of_step(problem, situation, live_with) < cost_of_step(problem, situation, hand_over) ? live_with
                                                                                                   : hand_over;
}

}  // namespace detail

inline SetUpWork set_up_work(const TroubleshootingProblem& problem, const std::vector<bool>& in_place,
                             std::span<const std::size_t> wanted) {
  validate(problem);
  detail::check_size("in_place", in_place.size(), problem.set_ups.size(), "one for each set-up");
  detail::check_wanted(problem, "wanted", wanted);
  return detail::set_ups_missing(problem, in_place, wanted);
}

inline std::vector<Step> possible_steps(const TroubleshootingProblem& problem, const Situation& situation) {
  validate(problem);
  detail::check_situation(problem, situation);
  return detail::steps_from(problem, situation);
}

inline double step_cost(const TroubleshootingProblem& problem, const Situation& situation, const Step& step) {
  validate(problem);
  detail::check_situation(problem, situation);
  detail::check_step(problem, step);
  return detail::cost_of_step(problem, situation, step);
}

inline std::vector<StepResult> results_of(const TroubleshootingProblem& problem, const Situation& situation,
                                          const Step& step) {
  validate(problem);
  detail::check_situation(problem, situation);
  detail::check_step(problem, step);
  return detail::results_after(problem, situation, step);
}

inline Step cheapest_end(const TroubleshootingProblem& problem, const Situation& situation) {
  validate(problem);
  detail::check_situation(problem, situation);
  return detail::end_from(problem, situation);
}

}  // namespace faultodds

// Bodies of policy_tree.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/decision/planning/repair_chain.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {

namespace detail {

inline std::vector<LeadingHypothesis> leading_of(std::span<const double> belief, std::size_t most) {
  std::vector<LeadingHypothesis> leading;
  for (std::size_t h = 0; h + 1 < belief.size(); ++h) {
    if (belief[h] > 0.0) leading.push_back({h, belief[h]});
  }
  sort_stably(leading, [](const auto& a, const auto& b) { return a.probability > b.probability; });
  leading.resize(std::min(most, leading.size()));
  return leading;
}

/// Grows a policy tree from the start, node by node, by what its guide says.
class PolicyTreeTree {
 public:
  PolicyTreeTree(const TroubleshootingProblem& problem, const PolicyGuide& guide, const PolicyTreeOptions& options,
                 const Stop& stop)
      : problem_(problem),
        guide_(guide),
        options_(options),
        stop_(stop),
        perfect_(problem),
        price_(problem, perfect_),
        chain_(problem) {}

  [[nodiscard]] PolicyTree grow() {
    PolicyTree policy_tree;
    policy_tree.nodes.emplace_back().probability = 1.0;
    std::vector<Open> open{{0, 0, start_of(problem_), false}};
    while (!open.empty()) {
      stop_.check();
      const Open here = std::move(open.back());
      open.pop_back();
      fill(policy_tree.nodes[here.node], here);
      const Step step = policy_tree.nodes[here.node].step;
      std::vector<StepResult> results = results_after(problem_, here.situation, step);
      for (std::size_t outcome = 0; outcome < results.size(); ++outcome) {
        StepResult& result = results[outcome];
        if (!(result.probability > 0.0)) continue;
        const std::size_t node = policy_tree.nodes.size();
        refuse_too_large(node);
        policy_tree.nodes.emplace_back().probability = policy_tree.nodes[here.node].probability * result.probability;
        policy_tree.nodes[here.node].branches.push_back({outcome, result.probability, node});
        const bool says_cured = step.kind == StepKind::repair && outcome == 0;
        open.push_back(
            {node, says_cured ? 0 : guide_.next(here.place, outcome), std::move(result.situation), says_cured});
      }
    }
    add_up(policy_tree);
    return policy_tree;
  }

 private:
  struct Open {
    std::size_t node;
    std::size_t place;
    Situation situation;
    bool says_cured;
  };

  void fill(PolicyNode& node, const Open& here) {
    node.step = here.says_cured ? Step{StepKind::done, 0} : step_at(here, node.probability);
    if (!here.says_cured) check(here.situation, node.step);
    node.set_ups = set_ups_missing(problem_, here.situation.in_place, wanted_by(problem_, node.step)).set_ups;
    node.step_cost = cost_of_step(problem_, here.situation, node.step);
    node.leading = leading_of(here.situation.belief, options_.leading);
    node.probability_cured = here.situation.belief.back();
    node.lower_bound = here.says_cured ? node.step_cost : price_.cost(here.situation);
  }

  [[nodiscard]] Step step_at(const Open& here, double probability) {
    if (probability < options_.min_probability) return chain_.first_step(here.situation);
    return guide_.step(here.situation, here.place);
  }

  void check(const Situation& situation, const Step& step) const {
    const bool test = step.kind == StepKind::test;
    if (!test && step.kind != StepKind::repair) {
      if ((step.kind == StepKind::hand_over && problem_.ends.hand_over) ||
          (step.kind == StepKind::live_with && problem_.ends.live_with)) {
        return;
      }
      throw ArgumentError("policy", "chose an end that the problem does not offer", "choose one of possible_steps",
                          ErrorCode::not_offered);
    }
    const std::vector<bool>& done = test ? situation.tests_done : situation.repairs_done;
    const std::string what = (test ? "test " : "repair ") + std::to_string(step.index);
    check_index("policy", step.index, done.size(), test ? "tests" : "repairs");
    if (done[step.index])
      throw ArgumentError("policy", "chose " + what + " again", "choose one of possible_steps", ErrorCode::not_offered);
  }

  void refuse_too_large(std::size_t nodes) const {
    if (nodes < options_.max_nodes) return;
    const double bytes = static_cast<double>(sizeof(PolicyNode) + options_.leading * sizeof(LeadingHypothesis));
    throw TooLarge("a policy tree of more than " + std::to_string(options_.max_nodes) + " nodes",
                   bytes * static_cast<double>(nodes), bytes * static_cast<double>(options_.max_nodes),
                   "raise min_probability, so that improbable branches end sooner");
  }

  static void add_up(PolicyTree& policy_tree) {
    for (std::size_t i = policy_tree.nodes.size(); i-- > 0;) {
      PolicyNode& node = policy_tree.nodes[i];
      node.expected_cost = node.step_cost;
      for (const PolicyBranch& branch : node.branches) {
        node.expected_cost += branch.probability * policy_tree.nodes[branch.node].expected_cost;
      }
    }
  }

  const TroubleshootingProblem& problem_;
  const PolicyGuide& guide_;
  const PolicyTreeOptions& options_;
  const Stop& stop_;
  PerfectInformation perfect_;
  InformationPrice price_;
  RepairChain chain_;
};

/// Follows one hypothesis at a time through a policy tree.
class PolicyTreeWalk {
 public:
  PolicyTreeWalk(const TroubleshootingProblem& problem, const PolicyTree& policy_tree, const Stop& stop)
      : problem_(problem), nodes_(policy_tree.nodes), stop_(stop) {}

  /// Expected cost from a node on if the vehicle is in this state.
  [[nodiscard]] double cost(std::size_t at, std::size_t state, const Situation& reached) const {
    stop_.check();
    if (at >= nodes_.size())
      throw ArgumentError("policy_tree", "lacks node " + std::to_string(at), "let branches exist",
                          ErrorCode::index_out_of_range);
    const Step& step = nodes_[at].step;
    const std::size_t cured_state = problem_.hypotheses.size();
    switch (step.kind) {
      case StepKind::hand_over:
        return hand_over_cost(problem_, state);
      case StepKind::live_with:
        return state == cured_state ? 0.0 : problem_.ends.live_with.value();
      case StepKind::done:
        return state == cured_state ? 0.0 : problem_.ends.comeback.value_or(0.0);
      case StepKind::ask_again:
        throw ArgumentError("policy_tree.nodes[" + std::to_string(at) + ']', "was folded for printing",
                            "give the policy tree as it was before");
      default:
        return working_cost(at, state, reached);
    }
  }

 private:
  [[nodiscard]] double working_cost(std::size_t at, std::size_t state, const Situation& reached) const {
    const Step& step = nodes_[at].step;
    const bool test = step.kind == StepKind::test;
    const std::size_t cured_state = problem_.hypotheses.size();
    Situation next = reached;
    std::vector<bool>& done = test ? next.tests_done : next.repairs_done;
    check_index({"policy_tree.nodes", at, "step"}, step.index, done.size(), "of these");
    if (done[step.index]) {
      throw ArgumentError("policy_tree.nodes[" + std::to_string(at) + "].step", "is done a second time",
                          "do each step once on a way", ErrorCode::named_twice);
    }
    done[step.index] = true;
    SetUpWork work;
    bring_about(problem_, wanted_by(problem_, step), next.in_place, work);
    double sum = work.cost;
    if (test) {
      const TestAction& action = problem_.tests[step.index];
      sum += action.cost;
      for (std::size_t o = 0; o < action.outcomes.size(); ++o) {
        sum += branch_cost(at, o, outcome_probability(action, state, o), state, next);
      }
      return sum;
    }
    const RepairAction& action = problem_.repairs[step.index];
    const Verification& check = action.verification;
    sum += action.cost + check.cost;
    const double success = state == cured_state ? 0.0 : action.success[state];
    const std::size_t mended = state == cured_state ? cured_state : hypothesis_after(action, state, cured_state);
    for (const auto& [chance, now] : {std::pair{success, mended}, std::pair{1.0 - success, state}}) {
      const double still_there = now == cured_state ? check.false_still_there : 1.0 - check.false_cured;
      sum += branch_cost(at, 0, chance * (1.0 - still_there), now, next);
      sum += branch_cost(at, 1, chance * still_there, now, next);
    }
    return sum;
  }

  [[nodiscard]] double branch_cost(std::size_t at, std::size_t outcome, double probability, std::size_t state,
                                   const Situation& next) const {
    if (!(probability > 0.0)) return 0.0;
    for (const PolicyBranch& branch : nodes_[at].branches) {
      if (branch.outcome == outcome && branch.node > at) return probability * cost(branch.node, state, next);
    }
    throw ArgumentError("policy_tree.nodes[" + std::to_string(at) + "].branches",
                        "hold no later node for outcome " + std::to_string(outcome) + ", which can come", "add it");
  }

  const TroubleshootingProblem& problem_;
  const std::vector<PolicyNode>& nodes_;
  const Stop& stop_;
};

}  // namespace detail

inline PolicyTree detail::follow(const TroubleshootingProblem& problem, const PolicyGuide& guide,
                                 const PolicyTreeOptions& options, const Stop& stop) {
  validate(problem);
  return PolicyTreeTree(problem, guide, options, stop).grow();
}

inline PolicyTree follow(const TroubleshootingProblem& problem, const Policy& policy, const PolicyTreeOptions& options,
                         const Stop& stop) {
  if (!policy) throw ArgumentError("policy", "is empty", "give a rule that names a step", ErrorCode::nothing_given);
  return detail::follow(problem,
                        {[&policy](const Situation& situation, std::size_t) { return policy(situation); },
                         [](std::size_t, std::size_t) { return std::size_t{0}; }},
                        options, stop);
}

inline double expected_cost(const TroubleshootingProblem& problem, const PolicyTree& policy_tree, const Stop& stop) {
  Situation start = start_of(problem);
  const std::vector<double> belief = std::move(start.belief);
  const detail::PolicyTreeWalk walk(problem, policy_tree, stop);
  double sum = 0.0;
  for (std::size_t h = 0; h < belief.size(); ++h) {
    if (belief[h] > 0.0) sum += belief[h] * walk.cost(0, h, start);
  }
  return sum;
}

inline PolicyTree folded(const PolicyTree& policy_tree, double min_probability) {
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    for (const PolicyBranch& branch : policy_tree.nodes[i].branches) {
      if (branch.node > i && branch.node < policy_tree.nodes.size()) continue;
      throw ArgumentError("policy_tree.nodes[" + std::to_string(i) + "].branches",
                          "lead to node " + std::to_string(branch.node), "let each lead to a later node that exists",
                          ErrorCode::index_out_of_range);
    }
  }
  PolicyTree result;
  std::vector<std::size_t> new_index(policy_tree.nodes.size(), 0);
  std::vector<bool> kept(policy_tree.nodes.size(), false);
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    if (i > 0 && !kept[i]) continue;
    new_index[i] = result.nodes.size();
    PolicyNode& node = result.nodes.emplace_back(policy_tree.nodes[i]);
    if (i > 0 && node.probability < min_probability && !node.branches.empty()) {
      node.step = {StepKind::ask_again, 0};
      node.step_cost = node.expected_cost;
      node.set_ups.clear();
      node.branches.clear();
    }
    for (const PolicyBranch& branch : node.branches) kept[branch.node] = true;
  }
  for (PolicyNode& node : result.nodes) {
    for (PolicyBranch& branch : node.branches) branch.node = new_index[branch.node];
  }
  return result;
}

}  // namespace faultodds

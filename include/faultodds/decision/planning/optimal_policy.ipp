// Bodies of optimal_policy.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <iterator>
#include <limits>
#include <set>
#include <string>
#include <unordered_map>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/money_look_ahead.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"

namespace faultodds {

namespace detail {

/// Situations met so far, with what is known of their least cost from both sides.
class PolicyTreeSearch {
 public:
  static constexpr std::size_t nowhere = std::numeric_limits<std::size_t>::max();

  /// Which steps a look into the problem takes: those that may be the best, those that are the best as far as is known,
  /// or the tests with the most information for their cost.
  enum class Look { promising, surest, informative };

  explicit PolicyTreeSearch(const TroubleshootingProblem& problem)
      : problem_(problem), perfect_(problem), price_(problem, perfect_), chain_(problem), money_(problem, chain_) {
    for (const RepairAction& repair : problem.repairs) {
      for (std::size_t h = 0; h < problem.hypotheses.size(); ++h) {
        const bool remains = hypothesis_after(repair, h, problem.hypotheses.size()) != problem.hypotheses.size();
        if (repair.success[h] > 0.0 && remains) support_only_shrinks_ = false;
      }
      if (repair.verification.false_still_there > 0.0) support_only_shrinks_ = false;
    }
    (void)node_of(start_of(problem));
  }

  [[nodiscard]] double lower() const { return nodes_.front().lower; }
  [[nodiscard]] double upper() const { return nodes_.front().upper; }
  [[nodiscard]] std::size_t situations() const { return nodes_.size(); }

  /// Works out the steps of one more situation, or sees that there is no need; false if nothing is left to be done.
  [[nodiscard]] bool advance(Look look) {
    std::size_t at = 0;
    bool learnt = false;
    while (nodes_[at].expanded) {
      const std::size_t action = chosen(nodes_[at], look);
      if (action == nowhere) return learnt;
      if (!nodes_[at].actions[action].opened) {
        open(at, action);
        learnt = true;
        continue;
      }
      std::vector<Child>& children = nodes_[at].actions[action].children;
      const std::size_t next = look == Look::promising ? most_uncertain(children) : min_visited(children);
      if (next == nowhere) return learnt;
      if (look != Look::promising) ++children[next].visits;
      at = children[next].node;
    }
    expand(at);
    carry_up(at);
    return true;
  }

  /// What to do in a situation as far as is known; `nowhere` if that is to do without tests.
  [[nodiscard]] std::size_t best_action(std::size_t at) const {
    if (at == nowhere || !nodes_[at].expanded) return nowhere;
    const Node& node = nodes_[at];
    std::size_t best = nowhere;
    double least = node.without_tests;
    for (std::size_t a = 0; a < node.actions.size(); ++a) {
      if (node.actions[a].upper < least) {
        best = a;
        least = node.actions[a].upper;
      }
    }
    return best;
  }

  [[nodiscard]] Step step_of(std::size_t at, const Situation& situation) {
    const std::size_t action = best_action(at);
    return action == nowhere ? chain_.first_step(situation) : nodes_[at].actions[action].step;
  }

  [[nodiscard]] std::size_t next_of(std::size_t at, std::size_t outcome) const {
    const std::size_t action = best_action(at);
    if (action == nowhere) return nowhere;
    for (const Child& child : nodes_[at].actions[action].children) {
      if (child.outcome == outcome) return child.node;
    }
    return nowhere;
  }

 private:
  struct Child {
    std::size_t outcome;
    double probability;
    std::size_t node;
    std::size_t visits = 0;  // but those that took the promising steps
  };

  struct Action {
    Step step;
    double fixed = 0.0;  // cost of the step and of what ends the case there
    double lower = 0.0;
    double upper = 0.0;
    double gain_per_cost = 0.0;  // of a test
    bool opened = false;
    std::vector<Child> children;
  };

  struct Node {
    Situation situation;
    double lower = 0.0;
    double upper = 0.0;
    double without_tests = 0.0;
    double end = 0.0;
    bool expanded = false;
    std::size_t depth = 0;  // tests and repairs that are no longer left: more in every situation that follows
    std::vector<Action> actions;
    std::vector<std::size_t> parents;
  };

  /// The node of a situation, made if there is none yet.
  [[nodiscard]] std::size_t node_of(Situation situation) {
    if (support_only_shrinks_) drop_what_is_pointless(situation);
    const auto [at, is_new] = known_.try_emplace(key_of(situation), nodes_.size());
    if (!is_new) return at->second;
    Node& node = nodes_.emplace_back();
    node.without_tests = chain_.cost(situation.belief, situation.repairs_done, situation.in_place);
    node.end = cost_of_step(problem_, situation, end_from(problem_, situation));
    node.upper = node.without_tests;
    node.lower = std::min(node.upper, price_.cost(situation));
    node.depth =
        static_cast<std::size_t>(std::count(situation.tests_done.begin(), situation.tests_done.end(), true) +
                                 std::count(situation.repairs_done.begin(), situation.repairs_done.end(), true));
    node.situation = std::move(situation);
    return at->second;
  }

  /// What can tell or mend nothing now never can, if no hypothesis comes up again.
  void drop_what_is_pointless(Situation& situation) const {
    for (std::size_t t = 0; t < problem_.tests.size(); ++t) {
      if (!tells_something(problem_.tests[t], situation.belief)) situation.tests_done[t] = true;
    }
    for (std::size_t r = 0; r < problem_.repairs.size(); ++r) {
      if (!may_work(problem_.repairs[r], situation.belief)) situation.repairs_done[r] = true;
    }
  }

  /// Beliefs that differ by rounding have one key.
  [[nodiscard]] static std::string key_of(const Situation& situation) {
    constexpr double grid = 1e12;
    std::string key;
    for (const std::vector<bool>* flags : {&situation.tests_done, &situation.repairs_done, &situation.in_place}) {
      for (std::size_t i = 0; i < flags->size(); i += 8) {
        unsigned bits = 0;
        for (std::size_t b = i; b < std::min(i + 8, flags->size()); ++b) bits = 2 * bits + ((*flags)[b] ? 1U : 0U);
        key.push_back(static_cast<char>(bits));
      }
    }
    for (const double p : situation.belief) {
      const std::int64_t rounded = std::llround(p * grid);
      char bytes[sizeof rounded];
      std::memcpy(bytes, &rounded, sizeof rounded);
      key.append(bytes, sizeof rounded);
    }
    return key;
  }

  void expand(std::size_t at) {
    std::vector<Action> actions;
    const double worth_it = nodes_[at].upper;
    for (const Step& step : steps_from(problem_, nodes_[at].situation)) {
      if (step.kind != StepKind::test && step.kind != StepKind::repair) continue;
      Action action = priced(nodes_[at].situation, step);
      action.lower = std::max(action.lower, nodes_[at].lower);
      if (action.lower < worth_it) actions.push_back(std::move(action));
    }
    nodes_[at].actions = std::move(actions);
    nodes_[at].expanded = true;
  }

  /// The step with the bounds of what follows, which is not kept.
  [[nodiscard]] Action priced(const Situation& situation, const Step& step) {
    Action action;
    action.step = step;
    action.fixed = cost_of_step(problem_, situation, step);
    action.upper = money_.cost_of(situation, step, 1);
    std::vector<bool> in_place = situation.in_place;
    SetUpWork work;
    bring_about(problem_, wanted_by(problem_, step), in_place, work);
    if (step.kind == StepKind::test) {
      action.gain_per_cost = test_gain_bits(problem_.tests[step.index], situation.belief) / action.fixed;
      action.lower = action.fixed + perfect_.cost(situation.belief, situation.repairs_done, in_place);
      return action;
    }
    std::vector<bool> repairs_done = situation.repairs_done;
    repairs_done[step.index] = true;
    says_cured_.resize(situation.belief.size());
    still_there_.resize(situation.belief.size());
    weigh_repair(problem_.repairs[step.index], situation.belief, says_cured_, still_there_);
    const double comes_back = sum_of(std::span(says_cured_).first(says_cured_.size() - 1));
    if (comes_back > 0.0) action.fixed += problem_.ends.comeback.value() * comes_back;
    action.lower = action.fixed + perfect_.cost(still_there_, repairs_done, in_place);
    return action;
  }

  /// Keeps the situations that a step leads to.
  void open(std::size_t at, std::size_t action) {
    const Step step = nodes_[at].actions[action].step;
    std::vector<StepResult> results = results_after(problem_, nodes_[at].situation, step);
    std::vector<Child> children;
    for (std::size_t o = step.kind == StepKind::repair ? 1 : 0; o < results.size(); ++o) {
      if (!(results[o].probability > 0.0)) continue;
      const std::size_t node = node_of(std::move(results[o].situation));
      children.push_back({o, results[o].probability, node});
      std::vector<std::size_t>& parents = nodes_[node].parents;
      if (std::find(parents.begin(), parents.end(), at) == parents.end()) parents.push_back(at);
    }
    nodes_[at].actions[action].children = std::move(children);
    nodes_[at].actions[action].opened = true;
    carry_up(at);
  }

  /// Bounds of a node from those of what follows; true if they changed.
  [[nodiscard]] bool renew(Node& node) const {
    if (!node.expanded) return false;
    double lower = node.end, upper = node.upper;
    for (Action& action : node.actions) {
      if (action.opened) {
        action.lower = action.upper = action.fixed;
        for (const Child& child : action.children) {
          action.lower += child.probability * nodes_[child.node].lower;
          action.upper += child.probability * nodes_[child.node].upper;
        }
      }
      lower = std::min(lower, action.lower);
      upper = std::min(upper, action.upper);
    }
    lower = std::min(std::max(lower, node.lower), upper);
    const bool changed = lower != node.lower || upper != node.upper;
    node.lower = lower;
    node.upper = upper;
    return changed;
  }

  /// From a node to the start, those that have more left to do last.
  void carry_up(std::size_t from) {
    std::set<std::pair<std::size_t, std::size_t>> waiting{{nodes_[from].depth, from}};
    while (!waiting.empty()) {
      const auto last = std::prev(waiting.end());
      const std::size_t at = last->second;
      waiting.erase(last);
      if (!renew(nodes_[at])) continue;
      for (const std::size_t parent : nodes_[at].parents) waiting.insert({nodes_[parent].depth, parent});
    }
  }

  [[nodiscard]] static std::size_t chosen(const Node& node, Look look) {
    if (look == Look::promising) return most_promising(node);
    const std::size_t informative = look == Look::informative ? most_informative(node) : nowhere;
    return informative != nowhere ? informative : min_upper(node);
  }

  [[nodiscard]] static std::size_t most_informative(const Node& node) {
    std::size_t best = nowhere;
    double most = 0.0;
    for (std::size_t a = 0; a < node.actions.size(); ++a) {
      if (!(node.actions[a].lower < node.upper) || !(node.actions[a].gain_per_cost > most)) continue;
      most = node.actions[a].gain_per_cost;
      best = a;
    }
    return best;
  }

  [[nodiscard]] static std::size_t most_promising(const Node& node) {
    std::size_t best = nowhere;
    for (std::size_t a = 0; a < node.actions.size(); ++a) {
      const Action& action = node.actions[a];
      if (!(action.lower < node.upper)) continue;
      const bool better = best == nowhere || action.lower < node.actions[best].lower ||
                          (action.lower == node.actions[best].lower && action.upper < node.actions[best].upper);
      if (better) best = a;
    }
    return best;
  }

  [[nodiscard]] static std::size_t min_upper(const Node& node) {
    std::size_t best = nowhere;
    for (std::size_t a = 0; a < node.actions.size(); ++a) {
      if (!(node.actions[a].lower < node.upper)) continue;
      if (best == nowhere || node.actions[a].upper < node.actions[best].upper) best = a;
    }
    return best;
  }

  [[nodiscard]] double gap_of(const Child& child) const { return nodes_[child.node].upper - nodes_[child.node].lower; }

  [[nodiscard]] std::size_t most_uncertain(const std::vector<Child>& children) const {
    std::size_t best = nowhere;
    double widest = 0.0;
    for (std::size_t c = 0; c < children.size(); ++c) {
      const double gap = children[c].probability * gap_of(children[c]);
      if (!(gap > widest)) continue;
      widest = gap;
      best = c;
    }
    return best;
  }

  /// Visits in proportion to probability.
  [[nodiscard]] std::size_t min_visited(const std::vector<Child>& children) const {
    std::size_t best = nowhere;
    double most = 0.0;
    for (std::size_t c = 0; c < children.size(); ++c) {
      const double due = children[c].probability / static_cast<double>(1 + children[c].visits);
      if (!(gap_of(children[c]) > 0.0) || !(due > most)) continue;
      most = due;
      best = c;
    }
    return best;
  }

  const TroubleshootingProblem& problem_;
  bool support_only_shrinks_ = true;
  PerfectInformation perfect_;
  InformationPrice price_;
  RepairChain chain_;
  MoneyLookAhead money_;
  std::vector<Node> nodes_;
  std::unordered_map<std::string, std::size_t> known_;
  std::vector<double> says_cured_, still_there_;
};

}  // namespace detail

inline OptimalPolicyTree optimal_policy_tree(const TroubleshootingProblem& problem, const SearchOptions& options,
                                             const Stop& stop) {
  validate(problem);
  detail::PolicyTreeSearch search(problem);
  OptimalPolicyTree result;
  using Look = detail::PolicyTreeSearch::Look;
  constexpr Look turns[] = {Look::promising, Look::surest, Look::promising, Look::informative};
  const auto closed = [&] { return search.upper() - search.lower() <= options.tolerance * search.upper(); };
  while (!closed() && result.steps < options.max_steps && search.situations() < options.max_situations) {
    result.stopped = stop.requested();
    if (result.stopped) break;
    const Look look = turns[result.steps % std::size(turns)];
    if (!search.advance(look) && (look == Look::promising || !search.advance(Look::promising))) break;
    ++result.steps;
    stop.report(
        {.of = "situations", .done = result.steps, .lower_bound = search.lower(), .upper_bound = search.upper()});
  }
  result.policy_tree = detail::follow(
      problem,
      {[&search](const Situation& situation, std::size_t place) { return search.step_of(place, situation); },
       [&search](std::size_t place, std::size_t outcome) { return search.next_of(place, outcome); }},
      options.tree, {});
  result.upper_bound = result.policy_tree.expected_cost();
  result.lower_bound = std::min(search.lower(), result.upper_bound);
  result.optimal = result.upper_bound - result.lower_bound <= options.tolerance * result.upper_bound;
  result.policy_tree.nodes.front().lower_bound = result.lower_bound;
  return result;
}

}  // namespace faultodds

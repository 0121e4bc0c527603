// A policy tree: the decision tree from here to the end of the case.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds {

/// What a step can come to, and the node that follows.
struct PolicyBranch {
  std::size_t outcome = 0;   ///< of the test; for a repair 0: "cured", 1: "still there"
  double probability = 0.0;  ///< given the node above; those of a node sum to one
  std::size_t node = 0;
};

/// A hypothesis and its probability before a step.
struct LeadingHypothesis {
  std::size_t hypothesis = 0;
  double probability = 0.0;
};

/// One step of a policy tree.
struct PolicyNode {
  Step step;
  std::vector<std::size_t> set_ups;        ///< brought about first, in this order
  double step_cost = 0.0;                  ///< of the step itself, as `step_cost`; of `ask_again`, what was left out
  double expected_cost = 0.0;              ///< from here to the end of the case, this step included
  double lower_bound = 0.0;                ///< no policy costs less from here
  double probability = 0.0;                ///< of arriving here
  std::vector<PolicyBranch> branches;      ///< by outcome, those that can come; empty if the case ends
  std::vector<LeadingHypothesis> leading;  ///< most probable first, before the step; equal ones by their index
  double probability_cured = 0.0;          ///< that the vehicle is cured already, before the step
};

/// Node 0 is the start. A node's branches lead to nodes of higher index.
struct PolicyTree {
  std::vector<PolicyNode> nodes;

  [[nodiscard]] double expected_cost() const { return nodes.empty() ? 0.0 : nodes.front().expected_cost; }
};

/// A rule that says what to do in a situation: one of possible_steps, or any test or repair that is not done yet. Those
/// of policies.hpp keep memory for their work, so that one belongs to one thread at a time.
using Policy = std::function<Step(const Situation&)>;

struct PolicyTreeOptions {
  /// Branches reached with less do without further tests: repairs by P over C, then the end.
  double min_probability = 1e-6;
  std::size_t max_nodes = 1'000'000;
  std::size_t leading = 3;  ///< hypotheses that a node lists, those with weight
};

/// The tree that follows a policy from the start to the end of the case. Throws ArgumentError if the policy names a
/// step that does not exist or was done already, and TooLarge if the tree has more nodes than `max_nodes`; Stopped.
[[nodiscard]] PolicyTree follow(const TroubleshootingProblem& problem, const Policy& policy,
                                const PolicyTreeOptions& options = {}, const Stop& stop = {});

/// Expected cost of a policy tree, worked out from the problem and the policy tree's steps alone, whatever costs and
/// probabilities its nodes hold: for each hypothesis, its way through the tree. Throws ArgumentError if a branch
/// that can come is missing, a step is done twice, or a node is `ask_again`; Stopped.
[[nodiscard]] double expected_cost(const TroubleshootingProblem& problem, const PolicyTree& policy_tree,
                                   const Stop& stop = {});

/// A copy for printing, in which nodes reached with less than `min_probability` are `ask_again`, with their expected
/// cost and bound kept. The start stays. Throws ArgumentError if a branch leads to a node that does not exist or is no
/// later one.
[[nodiscard]] PolicyTree folded(const PolicyTree& policy_tree, double min_probability);

namespace detail {

/// A policy that knows its way: places are its own, 0 the start.
struct PolicyGuide {
  std::function<Step(const Situation&, std::size_t place)> step;
  std::function<std::size_t(std::size_t place, std::size_t outcome)> next;  ///< place after that step
};

[[nodiscard]] PolicyTree follow(const TroubleshootingProblem& problem, const PolicyGuide& guide,
                                const PolicyTreeOptions& options, const Stop& stop);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/planning/policy_tree.ipp"

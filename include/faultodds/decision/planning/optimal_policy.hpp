// The policy tree with the least expected cost, by AND/OR search with bounds from both sides.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>

#include "faultodds/decision/planning/policy_tree.hpp"

namespace faultodds {

struct SearchOptions {
  std::size_t max_steps = 20'000;        ///< situations whose steps are worked out; 0 gives the bounds at the start
  std::size_t max_situations = 200'000;  ///< kept in memory; the search ends there too
  double tolerance = 1e-9;               ///< relative gap of the bounds that counts as none
  PolicyTreeOptions tree{.min_probability = 0.0};  ///< how the policy tree is written down
};

/// The best policy tree found, and how good it is known to be.
struct OptimalPolicyTree {
  PolicyTree policy_tree;    ///< the best one found; its expected cost is the upper bound
  double lower_bound = 0.0;  ///< no policy tree costs less
  double upper_bound = 0.0;
  bool optimal = false;  ///< the bounds meet within the tolerance
  std::size_t steps = 0;
  bool stopped = false;  ///< ended by the stop of the call
};

/// Best policy tree among all that take possible_steps, whatever the hypotheses, imperfect tests, imperfect repairs and
/// set-ups. Situations reached on different ways are one if belief (within 1e-12), set-ups in place and what is left
/// to do agree. In turn the search follows the steps that may be the best to the most uncertain outcome, those that are
/// the best as far as is known, and the most informative tests; both bounds are carried to the start after each step,
/// so that more steps never make them worse. Lower bounds: perfect information and the price of information
/// (information_bounds.hpp). Upper bounds: repairs by P over C, then the end. Work is counted, not timed: the same
/// problem and options give the same policy tree. Once `stop` says so, the search ends with the best policy tree found
/// so far and its bounds; after each step the stop's progress is told of both bounds ("situations"). (AND/OR search for
/// test sequences: Pattipati & Alexandridis 1990; two-sided bounds: Smith & Simmons 2005.)
[[nodiscard]] OptimalPolicyTree optimal_policy_tree(const TroubleshootingProblem& problem,
                                                    const SearchOptions& options = {}, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/planning/optimal_policy.ipp"

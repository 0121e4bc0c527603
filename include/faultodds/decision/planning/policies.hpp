// Policies, by rule of thumb or by computation, and the policy trees that follow from them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/decision/planning/policy_tree.hpp"

namespace faultodds {

/// A fixed order as workshops teach it (air, fuel, spark, exhaust): the tests are done in this order, and what is found
/// is repaired.
struct FixedOrder {
  std::vector<std::size_t> tests;
  /// A repair not done yet is due once it would cure with at least this probability; the most probable one comes first.
  double repair_at = 0.5;
};

/// When the order is through and nothing is due: repairs by P over C, then the end. The policy keeps a copy of
/// `problem`. Throws ArgumentError if a test is named twice or does not exist, or `repair_at` is not in (0, 1].
[[nodiscard]] Policy fixed_order_policy(const TroubleshootingProblem& problem, FixedOrder order);

/// The test with the most information about the hypothesis (in bits, given the belief) for its cost, as long as some
/// test pays; then repairs by P over C, then the end. A test pays if it alone saves money compared with doing without
/// tests, and also if it costs less than a third of its share of what knowing everything would save, the share being
/// its part of the bits that are open: several tests may pay together though none does alone. Equal ratios: the
/// cheaper, then the order of the problem.
[[nodiscard]] Policy greedy_policy(const TroubleshootingProblem& problem);

/// The step with the least expected cost when `depth` steps are looked at in all their outcomes, and then repairs
/// follow by P over C, then the end. Depth 1 values each test by itself, depth 2 also what only pays together with what
/// comes next. Work grows with (tests + repairs)^depth; the policy keeps a copy of `stop` and throws Stopped.
[[nodiscard]] Policy look_ahead_policy(const TroubleshootingProblem& problem, std::size_t depth = 2,
                                       const Stop& stop = {});

/// A step and what it costs to take it now.
struct PricedStep {
  Step step;
  double step_cost = 0.0;      ///< of the step itself
  double expected_cost = 0.0;  ///< to the end of the case: the step, then the best as far as looked ahead
  /// Value of the step in money: expected cost of doing without tests, minus `expected_cost`. Negative if it does
  /// not pay.
  double saves = 0.0;
  double gain_bits = 0.0;  ///< of a test about the hypothesis
};

/// All possible steps side by side, by expected cost; of equal ones (to 1e-9) the ends first, then repairs, then tests,
/// of these the one that tells more for its cost. Each is
/// looked at to `depth` steps, itself included. Throws Stopped.
[[nodiscard]] std::vector<PricedStep> price_steps(const TroubleshootingProblem& problem, const Situation& situation,
                                                  std::size_t depth = 2, const Stop& stop = {});

/// Steps side by side, and which of them to propose.
struct Weighing {
  std::vector<PricedStep> steps;  ///< by expected cost
  std::size_t proposed = 0;       ///< a place among them
};

/// As price_steps; and since a few steps ahead may not show that testing pays, the four best tests and the one that
/// greedy_policy begins with are priced by following that policy after them, if this is less (branches reached
/// with less than half a percent do without further tests). Proposed is the cheapest step; if that is a test, of all
/// tests that cost at most 1 % more in the end the one with the most bits for its cost, since what is cheap and
/// informative is done first and such costs are not told apart any better. There must be a step. Throws
/// Stopped.
[[nodiscard]] Weighing weigh_steps(const TroubleshootingProblem& problem, const Situation& situation,
                                   std::size_t depth = 2, const Stop& stop = {});

/// The step that weigh_steps proposes among these, which are in its order; a place. Throws ArgumentError if there
/// are none.
[[nodiscard]] std::size_t proposed_among(std::span<const PricedStep> steps);

[[nodiscard]] PolicyTree fixed_order_policy_tree(const TroubleshootingProblem& problem, const FixedOrder& order,
                                                 const PolicyTreeOptions& options = {}, const Stop& stop = {});
[[nodiscard]] PolicyTree greedy_policy_tree(const TroubleshootingProblem& problem,
                                            const PolicyTreeOptions& options = {}, const Stop& stop = {});
[[nodiscard]] PolicyTree look_ahead_policy_tree(const TroubleshootingProblem& problem, std::size_t depth = 2,
                                                const PolicyTreeOptions& options = {}, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/planning/policies.ipp"

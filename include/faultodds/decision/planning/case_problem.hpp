// From a case to the planning problem that policy trees are made for.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/planning/hypotheses.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/decision/work/end_costs.hpp"
#include "faultodds/decision/work/means.hpp"

namespace faultodds {

/// What may be done in the case, and what it costs.
struct CaseProblemOptions {
  HypothesesOptions hypotheses{};
  std::vector<VariableIndex> tests{};       ///< to plan with; empty: every one not done
  Means means{};                            ///< for repairs as for tests
  std::size_t max_tests = 24;               ///< those that tell most for their cost
  std::vector<RepairIndex> repairs_done{};  ///< by index; not done again
  EndCosts ends{};
};

/// A planning problem, and what its numbers mean in the model.
struct CaseProblem {
  TroubleshootingProblem problem;
  /// Those of the problem, in its order. Two may follow that the list of hypotheses_of does not hold: sets that remain
  /// when one fault of several is repaired (of probability 0), and, last, everything left out as one, if
  /// `rest_is_last`.
  Hypotheses hypotheses;
  bool rest_is_last = false;
  std::vector<VariableIndex> tests;        ///< variable behind each test of the problem
  std::vector<RepairIndex> repairs;        ///< repair of the model behind each
  std::optional<HandOverIndex> hand_over;  ///< of the model; nothing: the fee was given, or there is none
};

/// The problem of a case. P(outcome | hypothesis) is exact for each test; that tests err independently given the
/// hypothesis is an approximation if they share a context that is not known or a hidden variable. What was left out
/// of the hypotheses is one more, which no repair mends and on which each test has its average outcome. Partial repairs
/// count as no cure. Costs are money with minutes at the labour rate; waiting costs nothing. What a specialist's repair
/// costs follows from the cheapest repair of each fault, whatever is open, by whatever tools and skill. Throws what
/// hypotheses_of and rank_tests throw, and ArgumentError if neither the model nor the options name a fee for handing
/// over or a cost of living with it.
[[nodiscard]] CaseProblem problem_of(const Case& current, const CaseProblemOptions& options = {},
                                     const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/planning/case_problem.ipp"

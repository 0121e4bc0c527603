// Lower bounds on the expected cost of any strategy that count the cost of telling the hypotheses apart.
#pragma once

#include "faultodds/decision/troubleshooting.hpp"

namespace faultodds {

/// The expected cost of perfect information: the hypothesis is known, and what a repair did is seen at once. No
/// strategy costs less. Where a hypothesis takes more than a few repairs, those after them are counted at the cheapest
/// one.
[[nodiscard]] double perfect_information_cost(const TroubleshootingProblem& problem, const Situation& situation);

/// The largest lower bound known for this situation: perfect_information_cost, or where it applies the cost of the
/// information that the tests must give.
[[nodiscard]] double cost_lower_bound(const TroubleshootingProblem& problem, const Situation& situation);

}  // namespace faultodds

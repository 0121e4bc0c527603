// Repairs one after the other, without tests: expected cost of a sequence, and the best sequence.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds {

/// A sequence of repairs that is followed until a verification says cured, and what it costs.
struct RepairOrder {
  std::vector<std::size_t> repairs;
  Step end;                       ///< hand-over or living with it, after the last repair
  double probability_left = 0.0;  ///< of coming to that end
  double expected_cost = 0.0;
  double lower_bound = 0.0;  ///< no sequence costs less; the same as the expected cost if the sequence is the best
  bool best = false;         ///< proved to be the best sequence
  std::size_t steps = 0;     ///< of the search: sets or sequences looked at
  bool stopped = false;      ///< ended by the stop of the call: the best sequence found until then
};

/// Expected cost of the sequence with set-ups and verifications, each repair paid with the probability that it is
/// reached, then of the cheaper end: the expected cost of repair of Heckerman, Breese & Rommelse 1995. No claim to be
/// the best. Throws ArgumentError if a repair is named twice or does not exist.
[[nodiscard]] RepairOrder priced_repair_order(const TroubleshootingProblem& problem,
                                              std::span<const std::size_t> repairs);

/// True if the order by probability of cure over cost (P over C) is the best sequence: each possible hypothesis is
/// mended by at most one repair and then cured, verifications are never wrong, and no two repairs that can cure share
/// set-ups that are not in place yet, or have set-ups of a group, and handing over costs the same whatever is wrong
/// (Kadane & Simon 1977; Heckerman, Breese & Rommelse 1995).
[[nodiscard]] bool p_over_c_is_best(const TroubleshootingProblem& problem);

/// The repairs by P over C, probabilities and costs as they are when their turn comes, cut short once ending the case
/// is cheaper. `best` if p_over_c_is_best. Equal ratios: the cheaper first, then the order of the problem.
[[nodiscard]] RepairOrder p_over_c_order(const TroubleshootingProblem& problem);

/// The same from any situation.
[[nodiscard]] RepairOrder p_over_c_order(const TroubleshootingProblem& problem, const Situation& situation);

struct RepairOrderOptions {
  std::size_t max_in_sets = 18;     ///< repairs up to which all subsets are gone through
  std::size_t max_steps = 100'000;  ///< of the search beyond
};

/// The sequence with the least expected cost, hand-over or living with it at the best moment included. Exact by dynamic
/// programming over sets of failed repairs if the order of these does not matter for what follows (every repair
/// cures or leaves things as they are, no verification says wrongly still there, no set-ups of a group) and they are
/// few; otherwise by a search with bounds that stops after `max_steps` and then says what it could not rule out. Work
/// is counted, not timed: the same problem gives the same sequence. Once `stop` says so, the best sequence found so far
/// comes back with what is known of its bound.
[[nodiscard]] RepairOrder best_repair_order(const TroubleshootingProblem& problem,
                                            const RepairOrderOptions& options = {}, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/planning/repair_order.ipp"

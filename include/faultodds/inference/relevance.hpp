// Which variables matter to a case, and how each enters its network.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/expansion.hpp"

namespace faultodds {

/// The variables of `wanted` and all their ancestors are present; all others are left out (they sum to one). With
/// potentials everything is present. Variables of `absent` (found in state 0) that are noisy-MAX effects without a
/// present child are split instead of present. One entry for each variable of the model.
[[nodiscard]] std::vector<Presence> relevant(const FaultModel& model, std::span<const std::size_t> wanted,
                                             std::span<const std::size_t> absent);

inline std::vector<Presence> relevant(const FaultModel& model, std::span<const std::size_t> wanted,
                                      std::span<const std::size_t> absent) {
  const bool markov = !model.parts().potentials.empty();
  std::vector<Presence> presence(model.size(), markov ? Presence::present : Presence::left_out);
  if (markov) return presence;
  for (const std::size_t variable : wanted) presence[variable] = Presence::present;
  const std::vector<std::size_t>& order = model.topological_order();
  for (std::size_t i = order.size(); i-- > 0;) {
    if (presence[order[i]] == Presence::left_out) continue;
    for (const std::size_t parent : model.parents(order[i])) presence[parent] = Presence::present;
  }
  for (const std::size_t variable : absent) {
    bool needed = !std::holds_alternative<NoisyMax>(model.variable(variable).distribution);
    for (const std::size_t child : model.children(variable)) needed = needed || presence[child] != Presence::left_out;
    if (!needed) presence[variable] = Presence::split_absent;
  }
  return presence;
}

}  // namespace faultodds

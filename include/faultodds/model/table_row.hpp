// One row of a conditional table, whatever kind of distribution it belongs to.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <type_traits>
#include <variant>

#include "faultodds/model/table.hpp"

namespace faultodds::detail {

/// Distribution of the larger of two independent graded effects. Only sums and products of what is given, so that small
/// probabilities keep all their digits; the cumulative product, without its subtraction.
inline void take_larger(std::span<double> so_far, std::span<const double> other) {
  double below_so_far = 0.0;
  double up_to_other = 0.0;
  for (std::size_t y = 0; y < so_far.size(); ++y) {
    up_to_other += other[y];
    const double here = so_far[y];
    so_far[y] = here * up_to_other + below_so_far * other[y];
    below_so_far += here;
  }
}

/// Counts the configurations of some variables up, the last running fastest.
inline void next_configuration(std::span<StateIndex> states, std::span<const std::size_t> sizes) {
  for (std::size_t i = states.size(); i-- > 0;) {
    if (++states[i] < sizes[i]) return;
    states[i] = 0;
  }
}

[[nodiscard]] inline bool holds(const Gate& gate, StateIndex state) {
  return std::find(gate.states.begin(), gate.states.end(), state) != gate.states.end();
}

/// Fills one row of a written-out table; `state_of(v)` is the state of parent v in this configuration.
template <class StateOf>
void fill_row(const NoisyMax& noisy, std::span<double> row, const StateOf& state_of) {
  std::copy(noisy.leak.begin(), noisy.leak.end(), row.begin());
  for (const Link& link : noisy.links) {
    const bool acts = std::all_of(link.only_when.begin(), link.only_when.end(),
                                  [&](const Gate& gate) { return holds(gate, state_of(gate.variable)); });
    if (acts) take_larger(row, link.effect.row(state_of(link.cause)));
  }
}
template <class StateOf>
void fill_row(const CountOf& count, std::span<double> row, const StateOf& state_of) {
  const auto holding = std::count_if(count.inputs.begin(), count.inputs.end(),
                                     [&](const Gate& input) { return holds(input, state_of(input.variable)); });
  const bool reached = static_cast<std::size_t>(holding) >= count.at_least;
  row[0] = reached ? 0.0 : 1.0;
  row[1] = reached ? 1.0 : 0.0;
}
template <class StateOf>
void fill_row(const Examination& examination, std::span<double> row, const StateOf& state_of) {
  const std::size_t state = state_of(examination.component);
  row[1] = state == 0 ? examination.false_alarm : examination.detection[state - 1];
  row[0] = 1.0 - row[1];
}

/// The same for a distribution of any kind that is no table already.
template <class StateOf>
void fill_row(const Distribution& distribution, std::span<double> row, const StateOf& state_of) {
  std::visit(
      [&](const auto& compact) {
        using Kind = std::decay_t<decltype(compact)>;
        if constexpr (!std::is_same_v<Kind, FullTable> && !std::is_same_v<Kind, Unweighted>) {
          fill_row(compact, row, state_of);
        }
      },
      distribution);
}

}  // namespace faultodds::detail

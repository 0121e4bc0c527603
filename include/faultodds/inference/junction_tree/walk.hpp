// Entries of a table in the order in which another one is walked.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/junction_tree/layout.hpp"
#include "faultodds/inference/network/network.hpp"

namespace faultodds::detail {

inline bool holds(std::span<const std::size_t> set, std::size_t slot) {
  return std::find(set.begin(), set.end(), slot) != set.end();
}

/// How far one step of each slot of `order` moves in `form`; 0 for slots that it does not hold.
inline std::vector<std::size_t> strides_of(const Form& form, const Slots& order) {
  std::vector<std::size_t> strides(order.size(), 0);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const auto at = std::find(form.slots.begin(), form.slots.end(), order[i]);
    if (at != form.slots.end()) strides[i] = form.strides[static_cast<std::size_t>(at - form.slots.begin())];
  }
  return strides;
}

/// Calls `visit` with the sum of digit x stride for every configuration of `order`, the last running fastest.
template <typename Visit>
void walk(const Slots& order, std::span<const std::size_t> state_counts, std::span<const std::size_t> strides,
          Visit&& visit) {
  Slots digits(order.size(), 0);
  std::size_t index = 0;
  for (;;) {
    visit(index);
    std::size_t i = order.size();
    while (i-- > 0) {
      index += strides[i];
      if (++digits[i] < state_counts[order[i]]) break;
      index -= strides[i] * digits[i];
      digits[i] = 0;
    }
    if (i == no_slot) return;
  }
}

}  // namespace faultodds::detail

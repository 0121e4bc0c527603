// Sets of effects and their subsets.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>

namespace faultodds::detail {

using EffectSet = std::uint32_t;  ///< a bit for each effect

/// Calls visit(subset) for all subsets, ascending.
template <typename Visit>
void for_each_subset(EffectSet set, Visit&& visit) {
  EffectSet subset = 0;
  do {
    visit(subset);
    subset = (subset - set) & set;
  } while (subset != 0);
}

/// The number of a subset among all those of `set`, ascending.
[[nodiscard]] inline std::uint32_t number_in(EffectSet set, EffectSet subset) {
  std::uint32_t number = 0;
  std::uint32_t value = 1;
  for (EffectSet left = set; left != 0; left &= left - 1, value *= 2) {
    if ((subset & left & (~left + 1)) != 0) number += value;
  }
  return number;
}

[[nodiscard]] inline std::size_t subsets_of(EffectSet set) { return std::size_t{1} << std::popcount(set); }

}  // namespace faultodds::detail

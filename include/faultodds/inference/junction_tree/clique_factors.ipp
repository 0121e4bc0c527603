// Body of clique_factors.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <limits>
#include <utility>

#include "faultodds/inference/junction_tree/clique_factors.hpp"
#include "faultodds/inference/network/factor.hpp"

namespace faultodds::detail {

inline std::vector<Potential> multiply_together(std::vector<Potential> factors,
                                                std::span<const std::size_t> state_counts, double max_entries) {
  for (;;) {
    double least = std::numeric_limits<double>::infinity();
    std::array<std::size_t, 2> pick{};
    for (std::size_t a = 0; a < factors.size(); ++a) {
      for (std::size_t b = a + 1; b < factors.size(); ++b) {
        const std::array<Potential, 2> both{Potential{factors[a].scope, {}}, Potential{factors[b].scope, {}}};
        const double entries = entries_of(common_scope(both), state_counts);
        if (entries >= least || entries > max_entries) continue;
        least = entries;
        pick = {a, b};
      }
    }
    if (pick[0] == pick[1]) return factors;
    const std::array<Potential, 2> both{std::move(factors[pick[0]]), std::move(factors[pick[1]])};
    factors[pick[0]] = product(both, common_scope(both), state_counts);
    factors.erase(factors.begin() + static_cast<std::ptrdiff_t>(pick[1]));
  }
}

}  // namespace faultodds::detail

// A large table kept as the product of a few small ones, so that a sweep reads them from the cache instead of memory.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/network/network.hpp"

namespace faultodds::detail {

/// Multiplies factors together, smallest products first, as long as none holds more than `max_entries` entries.
/// Scopes of products are ascending.
[[nodiscard]] std::vector<Potential> multiply_together(std::vector<Potential> factors,
                                                       std::span<const std::size_t> state_counts, double max_entries);

}  // namespace faultodds::detail

#include "faultodds/inference/junction_tree/clique_factors.ipp"

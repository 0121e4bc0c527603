// Exact answers by eliminating one variable after another (Zhang & Poole 1994; Dechter 1999): simple, and independent
// of the junction tree.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/network/factor.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds {

/// The product of all factors with every variable outside `keep` summed out: a table over `keep`, in that order, its
/// largest entry one (or all zero). The natural logarithm of what it was divided by goes to `log_scale` if that is
/// not null. Variables in no factor count as absent, unless they are kept. Throws ArgumentError if `keep` names a
/// variable twice, and TooLarge, before anything is allocated, if the tables would take more than
/// `memory_limit_bytes`; Stopped.
[[nodiscard]] Potential eliminate(std::vector<Potential> factors, std::span<const std::size_t> state_counts,
                                  std::span<const std::size_t> keep, double memory_limit_bytes,
                                  double* log_scale = nullptr, const Stop& stop = {});

/// A configuration of largest product, and that product's natural logarithm (minus infinity if all products are
/// zero).
struct Maximum {
  std::vector<std::size_t> states;  ///< by variable; 0 for variables in no factor and for those summed out
  double log_value = 0.0;
};

/// The largest product of all factors over the variables outside `sum_first`, after those in `sum_first` were summed
/// out (max-product elimination; Dechter 1999). Among equal ones always the same. Throws TooLarge and Stopped as
/// `eliminate` does.
[[nodiscard]] Maximum maximise(std::vector<Potential> factors, std::span<const std::size_t> state_counts,
                               std::span<const std::size_t> sum_first, double memory_limit_bytes,
                               const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/inference/network/variable_elimination.ipp"

// Algebra of dense tables over discrete variables: product, sum, maximum, weights.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/model/table.hpp"

namespace faultodds {

// A factor is a Potential: a scope of distinct variables, the last of them running fastest. `state_counts` has the
// number of states of every variable, by index.

/// Number of entries of a table over `scope`; a double, because honest sizes can exceed every integer type.
[[nodiscard]] double entries_of(std::span<const std::size_t> scope, std::span<const std::size_t> state_counts);

/// All variables of the factors, ascending, each once.
[[nodiscard]] std::vector<std::size_t> common_scope(std::span<const Potential> factors);

/// Product of the factors as a table over `scope`, which must hold all their variables, in any order. Without factors
/// every entry is one.
[[nodiscard]] Potential product(std::span<const Potential> factors, std::vector<std::size_t> scope,
                                std::span<const std::size_t> state_counts);

/// The factor with `variables` summed out; variables outside its scope are passed over.
[[nodiscard]] Potential sum_out(const Potential& factor, std::span<const std::size_t> variables,
                                std::span<const std::size_t> state_counts);

/// A maximum over one variable: the largest values over the rest of the scope, and for each the state that reaches it
/// (the lowest one among those equal).
struct MaxOut {
  Potential largest;
  std::vector<std::uint32_t> reached_at;
};
/// `variable` must be in the scope.
[[nodiscard]] MaxOut max_out(const Potential& factor, std::size_t variable, std::span<const std::size_t> state_counts);

/// The part of the factor where `variable` (which must be in its scope) has this state; the variable leaves the scope.
[[nodiscard]] Potential fix_state(const Potential& factor, std::size_t variable, std::size_t state,
                                  std::span<const std::size_t> state_counts);

/// Multiplies the factor by weights[state of `variable`] (which must be in its scope).
void weigh(Potential& factor, std::size_t variable, std::span<const double> weights,
           std::span<const std::size_t> state_counts);

/// Divides the factor by its largest entry and returns the natural logarithm of that; 0 for a factor of zeros, which
/// stays as it is.
double rescale(Potential& factor);

namespace detail {

/// table *= factor, whose scope is part of the table's.
void multiply_in(Potential& table, const Potential& factor, std::span<const std::size_t> state_counts);
/// The scope without some variables.
[[nodiscard]] std::vector<std::size_t> without(std::span<const std::size_t> scope,
                                               std::span<const std::size_t> variables);
/// Entries of a table that is small enough to exist.
[[nodiscard]] std::size_t count_entries(std::span<const std::size_t> scope, std::span<const std::size_t> state_counts);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/network/factor.ipp"

// Entropies and mutual information of tables, in bits (Cover & Thomas 2006, chapter 2).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>

#include "faultodds/model/table.hpp"

namespace faultodds {

/// H(p) = -sum p log2 p of a distribution, in bits; 0 log 0 is 0.
[[nodiscard]] double entropy_bits(std::span<const double> distribution);

namespace detail {

/// Mutual information below this is rounding.
inline constexpr double rounding_bits = 1e-15;

/// I(X; Y) of a joint table with `columns` states of Y running fastest, as the mean of log2 P(x, y) / (P(x) P(y)).
[[nodiscard]] double mutual_information_bits(std::span<const double> joint, std::size_t columns);

/// The same if the joint is weights[x] / mass x rows(x, y), and `of_column` are its sums over x.
[[nodiscard]] double mutual_information_bits(std::span<const double> weights, double mass, const Table& rows,
                                             std::span<const double> of_column);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/ranking/entropy.ipp"

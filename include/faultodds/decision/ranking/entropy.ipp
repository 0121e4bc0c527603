// Bodies of entropy.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/decision/ranking/entropy.hpp"

namespace faultodds {

inline double entropy_bits(std::span<const double> distribution) {
  double bits = 0.0;
  for (const double p : distribution) {
    if (p > 0.0) bits -= p * std::log2(p);
  }
  return std::max(bits, 0.0);
}

namespace detail {

inline double mutual_information_bits(std::span<const double> joint, std::size_t columns) {
  std::vector<double> of_column(columns, 0.0);
  for (std::size_t row = 0; row < joint.size(); row += columns) {
    for (std::size_t c = 0; c < columns; ++c) of_column[c] += joint[row + c];
  }
  double bits = 0.0;
  for (std::size_t row = 0; row < joint.size(); row += columns) {
    double of_row = 0.0;
    for (std::size_t c = 0; c < columns; ++c) of_row += joint[row + c];
    for (std::size_t c = 0; c < columns; ++c) {
      const double p = joint[row + c];
      if (p > 0.0) bits += p * std::log2(p / (of_row * of_column[c]));
    }
  }
  return bits < rounding_bits ? 0.0 : bits;
}

inline double mutual_information_bits(std::span<const double> weights, double mass, const Table& rows,
                                      std::span<const double> of_column) {
  double bits = 0.0;
  for (std::size_t row = 0; row < weights.size(); ++row) {
    const double of_row = weights[row] / mass;
    if (of_row <= 0.0) continue;
    for (std::size_t c = 0; c < of_column.size(); ++c) {
      const double p = rows(row, c);
      if (p > 0.0) bits += of_row * p * std::log2(p / of_column[c]);
    }
  }
  return bits < rounding_bits ? 0.0 : bits;
}

}  // namespace detail

}  // namespace faultodds

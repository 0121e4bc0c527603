// Scaling of messages, so that long products neither underflow nor overflow.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cmath>
#include <cstddef>

namespace faultodds::detail {

/// values *= 2^exponent
inline void scale_by_power(double* values, std::size_t size, int exponent) {
  const double scale = std::ldexp(1.0, exponent / 2);  // in two steps, since the whole may be beyond a double
  const double rest = std::ldexp(1.0, exponent - exponent / 2);
  for (std::size_t i = 0; i < size; ++i) values[i] = values[i] * scale * rest;
}

/// Below this, beside a largest value of about one, a message counts as zero: its reciprocal would overflow.
inline constexpr double smallest_message = 1e-300;

}  // namespace faultodds::detail

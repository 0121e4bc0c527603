// Uniform numbers made of random bits, the same on every platform: the standard does not fix its distributions.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>

namespace faultodds::detail {

/// In the open interval (0, 1), evenly spaced, and never one of its ends: the logarithm is finite. Takes 64 random
/// bits, of which the upper 52 count, so that every value is exact.
[[nodiscard]] constexpr double uniform(std::uint64_t bits) noexcept {
  return (static_cast<double>(bits >> 12U) + 0.5) * 0x1.0p-52;
}

}  // namespace faultodds::detail

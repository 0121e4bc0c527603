// What the causes leave open about a noisy-MAX effect, without a table over its causes.
#pragma once

#include <cstddef>
#include <optional>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// E[H(effect | causes) | findings] in bits, within 1e-10, of an effect on which nothing found hangs.
///
/// With C_y = P(effect <= y | causes), a product over the causes, and r = C_(y-1) / C_y,
///   P(y | causes) ln P(y | causes) = C_y (1 - r) (ln C_y + ln(1 - r)).
/// The logarithms of products are sums over causes, read from one propagation with weights; (1 - r) ln(1 - r) is a
/// short sum of powers of r (exponential_sum.hpp), each of which is one propagation. Nothing where the table is not a
/// noisy-MAX one, or its gates are not settled by findings.
[[nodiscard]] std::optional<double> noisy_entropy_bits(const Case& current, std::size_t effect);

}  // namespace faultodds

#include "faultodds/decision/noisy_entropy.ipp"

// P(reading | outcome), up to a common factor. Part of reading.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <cstddef>
#include <limits>
#include <variant>
#include <vector>

#include "faultodds/inference/reading.hpp"

namespace faultodds::detail {

/// Phi(b) - Phi(a) of the standard normal for a <= b, exact in both tails.
inline double normal_mass(double a, double b) {
  constexpr double root_half = 0.70710678118654752440;
  if (a > 0.0) return normal_mass(-b, -a);
  if (b > 0.0) return 1.0 - 0.5 * std::erfc(-a * root_half) - 0.5 * std::erfc(b * root_half);
  return 0.5 * (std::erfc(-b * root_half) - std::erfc(-a * root_half));
}

/// Natural logarithm of a normal density.
inline double log_normal_density(double x, double mean, double sd) {
  constexpr double log_root_two_pi = 0.91893853320467274178;
  const double z = (x - mean) / sd;
  return -0.5 * z * z - std::log(sd) - log_root_two_pi;
}

inline double log_weight(const NormalSpread& shape, const CombinedReading& reading) {
  return log_normal_density(reading.value, shape.mean, std::hypot(shape.sd, reading.error));
}

inline double log_weight(const UniformSpread& shape, const CombinedReading& reading) {
  const double length = shape.to - shape.from;
  if (reading.error > 0.0) {
    const double mass =
        normal_mass((shape.from - reading.value) / reading.error, (shape.to - reading.value) / reading.error);
    return std::log(mass / length);
  }
  const bool inside = shape.from <= reading.value && reading.value <= shape.to;
  return inside ? -std::log(length) : -std::numeric_limits<double>::infinity();
}

/// With a gauge error: over z = (log x - log median) / log_sd, in pieces cut where the true value may be likeliest, and
/// scaled by the greatest integrand there, so that far tails do not underflow.
inline double log_weight(const LognormalSpread& shape, const CombinedReading& reading) {
  const double log_median = std::log(shape.median);
  if (reading.error == 0.0) {
    if (reading.value <= 0.0) return -std::numeric_limits<double>::infinity();
    return log_normal_density(std::log(reading.value), log_median, shape.log_sd) - std::log(reading.value);
  }
  const auto log_integrand = [&](double z) {
    const double x = std::exp(log_median + shape.log_sd * z);
    return log_normal_density(z, 0.0, 1.0) + log_normal_density(reading.value, x, reading.error);
  };
  constexpr double reach = 9.0;
  const double at_error = (std::log(reading.error) - log_median) / shape.log_sd;
  std::vector<double> cuts = {-reach, 0.0, reach, at_error - 3.0, at_error};
  if (reading.value > 0.0) {
    const double at_reading = (std::log(reading.value) - log_median) / shape.log_sd;
    const double width = std::min(reach, 8.0 * reading.error / (shape.log_sd * reading.value));
    cuts.insert(cuts.end(), {at_reading - width, at_reading, at_reading + width});
  }
  std::ranges::sort(cuts);
  double highest = -std::numeric_limits<double>::infinity();
  for (const double z : cuts) highest = std::max(highest, log_integrand(z));
  double sum = 0.0;
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    if (cuts[i - 1] == cuts[i]) continue;
    sum += boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
        [&](double z) { return std::exp(log_integrand(z) - highest); }, cuts[i - 1], cuts[i], 12, 1e-10);
  }
  return highest + std::log(sum);
}

/// Densities of the reading under the spread of each outcome, the greatest scaled to one; all zero if no spread can
/// give the reading.
inline std::vector<double> spread_weights(const Reading& reading, const CombinedReading& combined,
                                          std::size_t outcomes) {
  std::vector<double> logarithms(outcomes, -std::numeric_limits<double>::infinity());
  for (const Spread& spread : reading.spreads) {
    logarithms[spread.outcome] =
        std::visit([&](const auto& shape) { return log_weight(shape, combined); }, spread.shape);
  }
  const double greatest = *std::ranges::max_element(logarithms);
  std::vector<double> weights(outcomes, 0.0);
  if (!std::isfinite(greatest)) return weights;
  std::ranges::transform(logarithms, weights.begin(), [=](double one) { return std::exp(one - greatest); });
  return weights;
}

/// Normal masses of the bands about a reading that lies in a band of `outcome`; zero for the other outcomes if they
/// hold less than a millionth of it all.
inline std::vector<double> band_weights(const Reading& reading, const CombinedReading& combined, StateIndex outcome,
                                        std::size_t outcomes) {
  constexpr double negligible = 1e-6;
  std::vector<double> weights(outcomes, 0.0);
  weights[outcome] = 1.0;
  if (combined.error == 0.0) return weights;
  std::ranges::fill(weights, 0.0);
  constexpr double open = std::numeric_limits<double>::infinity();
  double others = 0.0;
  for (const Band& band : reading.bands) {
    const double mass = normal_mass((band.from.value_or(-open) - combined.value) / combined.error,
                                    (band.below.value_or(open) - combined.value) / combined.error);
    weights[band.outcome] += mass;
    if (band.outcome != outcome) others += mass;
  }
  if (others >= negligible * (weights[outcome] + others)) return weights;
  std::ranges::fill(weights, 0.0);
  weights[outcome] = 1.0;
  return weights;
}

}  // namespace faultodds::detail

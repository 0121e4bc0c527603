// (1 - r) ln(1 - r) as a short sum of powers of r, so that its expectation takes a few products of weights.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <map>
#include <utility>
#include <vector>

namespace faultodds {

/// A term `weight` x r^power.
struct PowerTerm {
  double power = 0.0;
  double weight = 0.0;
};

/// Sums of powers, with the rules they are made of kept for the next.
class EntropyTerms {
 public:
  /// Terms whose sum is sum_{k>=2} r^k / (k (k - 1)) = r + (1 - r) ln(1 - r) within 2e-11 for every r in [0, largest],
  /// with largest <= 1. The weights are positive, so nothing cancels. The first powers are kept as they are; the rest
  /// are Gauss rules for the sum over k in panels that grow fourfold, with fewer points the less a panel counts
  /// (Gautschi 2004, Orthogonal Polynomials, section 2.2: discrete Stieltjes procedure; Golub & Welsch 1969).
  [[nodiscard]] std::vector<PowerTerm> up_to(double largest);

 private:
  std::map<std::pair<double, std::size_t>, std::vector<PowerTerm>> rules_;  // by first power of the panel and points
};

/// The same, for a single use.
[[nodiscard]] std::vector<PowerTerm> entropy_terms(double largest);

}  // namespace faultodds

#include "faultodds/decision/ranking/exponential_sum.ipp"

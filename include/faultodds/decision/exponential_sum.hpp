// (1 - r) ln(1 - r) as a short sum of powers of r, so that its expectation takes a few propagations.
#pragma once

#include <vector>

namespace faultodds {

/// A term `weight` x r^power.
struct PowerTerm {
  double power = 0.0;
  double weight = 0.0;
};

/// Terms whose sum is sum_{k>=2} r^k / (k (k - 1)) = r + (1 - r) ln(1 - r) within 2e-11 for every r in [0, largest],
/// with largest <= 1. The weights are positive and so nothing cancels. The first powers stand as they are; the rest are
/// Gauss rules for the sum over k in panels that grow fourfold (Gautschi 2004, Orthogonal Polynomials, section 2.2:
/// discrete Stieltjes procedure; Golub & Welsch 1969).
[[nodiscard]] std::vector<PowerTerm> entropy_terms(double largest);

}  // namespace faultodds

#include "faultodds/decision/exponential_sum.ipp"

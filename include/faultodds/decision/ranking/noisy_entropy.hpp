// What the causes leave open about a noisy-MAX effect, without a table over its causes.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/decision/ranking/exponential_sum.hpp"
#include "faultodds/inference/case.hpp"

namespace faultodds {

/// E[H(effect | causes) | findings] in bits, within 1e-10, of an effect on which nothing found depends. Nothing if the
/// table is not a noisy-MAX one, its gates are not settled by findings, or a cause is not in the case's tree.
[[nodiscard]] std::optional<double> noisy_entropy_bits(const Case& current, std::size_t effect);

namespace detail {

/// E[sum_y P(y | causes) ln P(y | causes)] as a sum of expectations of products, made once for any measure on the
/// causes.
///
/// With C_y = P(effect <= y | causes), a product over the causes, and r = C_(y-1) / C_y,
///   P(y | causes) ln P(y | causes) = C_y (1 - r) (ln C_y + ln(1 - r)).
/// The logarithm of a product is a sum over causes, and C times that sum the slope at zero of the product of all
/// w_i (1 + t ln w_i); (1 - r) ln(1 - r) is a short sum of powers of r (exponential_sum.hpp).
class NoisyForm {
 public:
  /// `links` are those of `noisy` that act.
  NoisyForm(const NoisyMax& noisy, const std::vector<const Link*>& links, EntropyTerms& terms);

  [[nodiscard]] std::size_t products() const noexcept { return leak_.size() - 1 + powers_.size(); }
  /// P(effect <= y) for each y but the last, and then that expectation (in nats): linear in the measure of `batch`.
  [[nodiscard]] std::vector<double> measure(BatchedReweighing& batch) const;

 private:
  using WeightList = std::vector<Reweighing::Weights>;
  struct Power {
    double factor = 0.0;
    WeightList weights;
  };

  void add_logs(std::size_t y);
  void add_rest(std::size_t y, EntropyTerms& terms);
  [[nodiscard]] WeightList ratios(std::size_t y) const;
  void add_power(std::size_t y, const WeightList& ratio, double power, double factor);
  void add_slope(std::size_t y, const WeightList& logs);

  std::vector<double> leak_;       // by y: P_leak(<= y)
  std::vector<WeightList> up_to_;  // by y: P_i(<= y | cause i)
  std::vector<Power> powers_;
};

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/ranking/noisy_entropy.ipp"

// Expectations of products: E[prod_i w_i(x_i) | findings], each from one propagation.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/junction_tree/propagation.hpp"

namespace faultodds {

namespace detail {

/// Weights entered into a propagation beside those that it has from findings.
class GivenWeights {
 public:
  /// Weights on one variable, one for each of its states; none negative.
  struct Weights {
    std::size_t variable = 0;
    std::vector<double> of_state;
  };

  /// Those given by the call before are gone. Each variable once; all have slots.
  void give(Propagation& propagation, std::span<const Weights> weights);

 private:
  struct Given {
    std::size_t slot = 0;
    bool weighed = false;         // without what was given
    std::vector<double> weights;  // the same
  };

  std::vector<Given> given_;
};

}  // namespace detail

/// A propagation with further weights on some variables. Made once for many expectations: only what differs from
/// one to the next is worked out again.
class Reweighing {
 public:
  using Weights = detail::GivenWeights::Weights;

  /// A copy of `propagation`, in which the findings are entered already.
  explicit Reweighing(Propagation propagation);

  void stop_by(const Stop& stop) { propagation_.stop_by(stop); }

  /// E[prod w(x) | findings]. Weights given before and not now are gone. Each variable once; all must have slots.
  [[nodiscard]] double expectation(std::span<const Weights> weights);

 private:
  Propagation propagation_;
  double log_before_;
  detail::GivenWeights given_;
};

namespace detail {

/// P(effect <= y | causes) without the leak, as a product of weights on the causes of these links, each variable once.
[[nodiscard]] std::vector<Reweighing::Weights> up_to(const std::vector<const Link*>& links, std::size_t y);

/// P(effect = y) for all y from P(effect <= y) for all but the last, which is one. Rounding below zero becomes zero.
[[nodiscard]] std::vector<double> single_states(std::span<const double> up_to);

/// The links of a noisy-MAX effect that act under the findings; nothing if a gate is not settled by a hard finding,
/// or a cause has no slot (`slot_of` by variable).
[[nodiscard]] std::optional<std::vector<const Link*>> acting_links(const NoisyMax& noisy,
                                                                   std::span<const Finding> findings,
                                                                   std::span<const std::size_t> slot_of);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/junction_tree/reweighing.ipp"

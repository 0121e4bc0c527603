// Expectations of products: E[prod_i w_i(x_i) | findings], each from one propagation.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/propagation.hpp"

namespace faultodds {

/// A propagation with further weights on some variables. Made once for many expectations: only what differs from
/// one to the next is worked out again.
class Reweighing {
 public:
  /// Weights on one variable, one for each of its states; none negative.
  struct Weights {
    std::size_t variable = 0;
    std::vector<double> of_state;
  };

  /// A copy of `propagation`, in which `findings` are entered already.
  Reweighing(const Propagation& propagation, std::span<const Finding> findings);

  /// True where the variable is part of the case's plan, so that it can be weighed.
  [[nodiscard]] bool can_weigh(std::size_t variable) const;
  /// E[prod w(x) | findings]. Weights given before and not now are gone. Each variable once; all must be weighable.
  [[nodiscard]] double expectation(std::span<const Weights> weights);
  /// P(x | findings) w(x) / E[w]: the posterior of a variable under the weights of the last expectation, which was not
  /// zero.
  [[nodiscard]] std::span<const double> marginal(std::size_t variable);

  /// The links of a noisy-MAX effect that act: gates settled by hard findings, causes weighable. Nothing where that is
  /// not so.
  [[nodiscard]] std::optional<std::vector<const Link*>> acting_links(const NoisyMax& noisy) const;

 private:
  std::span<const Finding> findings_;
  Propagation propagation_;
  double log_before_;
  std::vector<std::size_t> weighed_;  // variables
};

namespace detail {

/// P_i(effect <= y | state) for each state of the link's cause.
[[nodiscard]] std::vector<double> up_to(const Link& link, std::size_t y);

/// The links of a noisy-MAX effect that act under the findings; nothing where a gate is not settled by a hard finding,
/// or a cause has no slot (`slot_of` by variable).
[[nodiscard]] std::optional<std::vector<const Link*>> acting_links(const NoisyMax& noisy,
                                                                   std::span<const Finding> findings,
                                                                   std::span<const std::size_t> slot_of);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/reweighing.ipp"

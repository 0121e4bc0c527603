// How the effects of a case are accounted for: which causes are joined first, and in which order the rest.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/two_layer/subset_chain.hpp"
#include "faultodds/inference/two_layer/two_layer_network.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds::detail {

/// What is joined in one step with all that is carried, whose function is large: causes that account for few effects
/// between them, joined by themselves before; or some links of one cause that has many.
struct CauseGroup {
  /// A cause, or a leak, which is a cause that is always present.
  struct Member {
    std::size_t cause = no_slot;  ///< of the network; no_slot: a leak
    std::size_t states = 1;
    EffectSet effects = 0;
    std::vector<double> shares;  ///< [state][subset of its effects]: P(it accounts for exactly these | state)
  };

  SubsetItem item;
  std::vector<Member> members;  ///< empty: some links of one cause
  std::size_t cause = no_slot;  ///< that cause, if its function is asked for here
};

/// The groups in the order in which they are joined, chosen for a short run; nothing if there are too many effects.
struct CauseOrder {
  std::vector<CauseGroup> groups;
  double multiplications = 0.0;  ///< of one run, about; infinite if there are too many effects
  double bytes = 0.0;            ///< that a run needs for what is carried
};
[[nodiscard]] CauseOrder cause_order(const TwoLayerNetwork& network);

/// A case in a form to be worked out, immutable.
class CompiledTwoLayer {
 public:
  CompiledTwoLayer(TwoLayerNetwork network, std::vector<CauseGroup> groups, const Stop& stop);

  [[nodiscard]] const TwoLayerNetwork& network() const noexcept { return network_; }
  [[nodiscard]] const std::vector<CauseGroup>& groups() const noexcept { return groups_; }
  /// Joins the members of a group.
  [[nodiscard]] const SubsetChain& chain_of(std::size_t group) const { return chains_[group]; }
  /// Joins the groups.
  [[nodiscard]] const SubsetChain& chain() const noexcept { return chain_; }

 private:
  TwoLayerNetwork network_;
  std::vector<CauseGroup> groups_;
  std::vector<SubsetChain> chains_;
  SubsetChain chain_;
};

}  // namespace faultodds::detail

#include "faultodds/inference/two_layer/cause_order.ipp"

// Expectations of many products side by side: E[prod_i w_i(x_i) | findings] for a whole batch of weights in one sweep.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/inference/engine/any_engine.hpp"
#include "faultodds/inference/network/network.hpp"

namespace faultodds {

/// Products of weights on the posterior of a case, worked out by whichever engine the case
/// has. The same batch gives the same bits. Throws ArgumentError for products, variables and states that it
/// does not have, and for answers that were not worked out.
class BatchedReweighing {
 public:
  /// `form` is what the engine of a case makes of its findings, which must be possible.
  explicit BatchedReweighing(detail::AnyReweighing form) : form_(std::move(form)) {}

  /// By variable: its slot; no_slot if it has none.
  [[nodiscard]] std::span<const std::size_t> slot_of() const;
  /// True if the variable has a slot.
  [[nodiscard]] bool can_weigh(std::size_t variable) const {
    return variable < slot_of().size() && slot_of()[variable] != no_slot;
  }

  /// From now on its work is stopped by this.
  void stop_by(const Stop& stop);

  /// From here on the posterior is that under these weights as well, each variable once; those given by the call before
  /// are gone. They must be possible together with the findings. The batch starts anew.
  void give(std::span<const Reweighing::Weights> weights);

  /// A new batch of this many products, all weights one, nothing wanted.
  void start(std::size_t products);
  /// Multiplies weights, one for each state of the variable and none negative, into one product.
  void weigh(std::size_t product, std::size_t variable, std::span<const double> weights);
  /// Asks for the joint of each product with this variable.
  void want(std::size_t variable);
  /// False if the batch would take too much memory; then it must not run.
  [[nodiscard]] bool fits();
  void run();

  /// After a run: E[product | findings].
  [[nodiscard]] double expectation(std::size_t product) const;
  /// After a run: E[product, variable = state | findings] of a wanted variable.
  [[nodiscard]] double joint(std::size_t product, std::size_t variable, std::size_t state) const;
  /// E[product of these weights | findings] by itself, for a batch that does not fit; nothing may be given.
  [[nodiscard]] double expectation_alone(std::span<const Reweighing::Weights> weights);
  /// P(variable | findings).
  [[nodiscard]] std::span<const double> posterior(std::size_t variable);
  /// Whether joint_in_clique(variables) is at hand.
  [[nodiscard]] bool in_one_clique(std::span<const VariableIndex> variables);
  /// P(variables | findings), the last of them running fastest, where it is at hand; otherwise empty.
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const VariableIndex> variables);

 private:
  void check_variable(std::size_t variable) const;
  void check_weights(std::size_t variable, std::size_t weights) const;
  void check_answer(std::size_t product) const;

  std::size_t products_ = 0;
  bool answered_ = false;     // what the batch asks for now
  std::vector<bool> wanted_;  // by variable
  detail::AnyReweighing form_;
};

}  // namespace faultodds

#include "faultodds/inference/engine/batched_reweighing.ipp"

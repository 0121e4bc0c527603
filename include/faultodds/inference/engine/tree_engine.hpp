// A case worked out on a junction tree.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "faultodds/inference/engine/engine.hpp"
#include "faultodds/inference/junction_tree/propagation.hpp"
#include "faultodds/inference/junction_tree/tree_reweighing.hpp"
#include "faultodds/inference/network/finding_weights.hpp"

namespace faultodds::detail {

/// Serves every case: with the tree of the whole model, or with one for the shape of the case.
class TreeEngine {
 public:
  static constexpr bool joint_by_products = false;

  /// `shape`: that the tree of the model was made for; of the tree of the whole model, empty.
  TreeEngine(const FaultModel& model, std::shared_ptr<const JunctionTree> tree, CaseShape shape = {})
      : shape_(std::move(shape)), propagation_(std::move(tree)) {
    if (!shape_.presence.empty()) weights_.emplace(model, propagation_.tree().state_counts());
  }

  /// `shape` as leave_out_weights() leaves it.
  [[nodiscard]] bool serves(const CaseShape& shape) const { return shape_.presence.empty() || shape == shape_; }
  void enter(std::span<const Finding> findings);
  void stop_by(const Stop& stop) { propagation_.stop_by(stop); }
  [[nodiscard]] std::span<const std::size_t> slot_of() const { return propagation_.tree().slot_of(); }
  [[nodiscard]] double log_evidence() { return propagation_.log_evidence() + log_factor_; }
  [[nodiscard]] std::span<const double> marginal(std::size_t slot) { return propagation_.marginal(slot); }
  void read_all() { propagation_.read_all(); }
  [[nodiscard]] std::vector<double> joint(std::span<const std::size_t> slots) {
    return propagation_.joint_in_clique(slots);
  }
  [[nodiscard]] TreeReweighing reweighing() const { return TreeReweighing(propagation_); }

  [[nodiscard]] const Propagation& propagation() const noexcept { return propagation_; }

 private:
  void enter_into_slots(std::span<const Finding> findings);

  CaseShape shape_;
  Propagation propagation_;
  std::optional<FindingWeights> weights_;  // unless every variable has a slot
  std::vector<std::size_t> entered_;       // the slots with weights; without weights_: by slot, the finding
  double log_factor_ = 0.0;
};

static_assert(CaseEngine<TreeEngine>);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/tree_engine.ipp"

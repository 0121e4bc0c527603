// Posteriors of a case of two layers by sums over who accounts for what (two_layer_network.hpp, subset_chain.hpp).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/inference/junction_tree/reweighing.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/inference/two_layer/cause_order.hpp"

namespace faultodds::detail {

/// Runs through a tree, as many at a time as a vector has lanes. Nothing is allocated after construction.
class SubsetBlock {
 public:
  explicit SubsetBlock(std::shared_ptr<const CompiledTwoLayer> tree);

  /// Looked at before each run.
  void stop_by(const Stop& stop) { stop_.set(stop); }

  /// Weights of a cause, to be filled in before running: [state][lane].
  [[nodiscard]] double* weights(std::size_t cause) { return weights_.data() + begin_[cause]; }
  /// Works out the sum over all states of all causes that the effects depend on.
  void forward();
  [[nodiscard]] const double* total() const { return outer_.result(); }
  /// After forward(): works out the slopes of the total in all weights.
  void back();
  /// Of a cause with links: [state][lane].
  [[nodiscard]] const double* slopes(std::size_t cause) const { return slopes_.data() + begin_[cause]; }

 private:
  [[nodiscard]] std::size_t states_of(std::size_t cause) const;
  void copy_weights(const CauseGroup& group, double* function);

  std::shared_ptr<const CompiledTwoLayer> tree_;
  std::vector<std::size_t> begin_;  // by cause, in doubles
  AlignedDoubles weights_, slopes_;
  std::vector<SubsetRun> inner_;  // by group
  SubsetRun outer_;
  OwnStop stop_;
};

/// A case of two layers, worked out. Copies share the tree.
class TwoLayerSums {
 public:
  explicit TwoLayerSums(std::shared_ptr<const CompiledTwoLayer> tree, const Stop& stop = {});

  [[nodiscard]] const std::shared_ptr<const CompiledTwoLayer>& tree() const noexcept { return tree_; }
  /// By variable: its cause; no_slot if it has none.
  [[nodiscard]] std::span<const std::size_t> slot_of() const noexcept { return tree_->network().place_of; }
  /// Natural logarithm of P(findings); minus infinity if they cannot all be true.
  [[nodiscard]] double log_evidence() const noexcept { return log_evidence_; }
  /// P(state | findings) of a cause. Precondition: log_evidence() is finite.
  [[nodiscard]] std::span<const double> marginal(std::size_t cause) const {
    return std::span(marginals_).subspan(begin_[cause], begin_[cause + 1] - begin_[cause]);
  }
  /// Weights of a cause as they enter a block; their sum is one.
  [[nodiscard]] std::span<const double> weights(std::size_t cause) const {
    return std::span(weights_).subspan(begin_[cause], begin_[cause + 1] - begin_[cause]);
  }
  /// The sum over all states of all causes that the effects depend on.
  [[nodiscard]] double total() const noexcept { return total_; }

  void stop_by(const Stop& stop) { stop_.set(stop); }
  /// Takes these weights beside the findings in place of those taken before.
  void give(std::span<const Reweighing::Weights> given);

 private:
  void work_out();

  std::shared_ptr<const CompiledTwoLayer> tree_;
  std::vector<std::size_t> begin_;  // by cause, and the end
  std::vector<double> weights_;     // by cause and state
  std::vector<double> marginals_;   // the same
  double log_evidence_ = 0.0;
  double total_ = 1.0;
  OwnStop stop_;
};

/// The case in this form; nothing if it has none, or where a run would take more than `most` multiplications.
[[nodiscard]] std::optional<TwoLayerSums> two_layer_sums(const Solver& solver, const CaseShape& shape,
                                                         std::span<const Finding> findings, double most,
                                                         const Stop& stop = {});

}  // namespace faultodds::detail

#include "faultodds/inference/two_layer/two_layer_sums.ipp"

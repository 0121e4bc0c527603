// Expectations of many products side by side, on a case of two layers.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/two_layer/two_layer_sums.hpp"

namespace faultodds::detail {

/// The part of BatchedReweighing (which see) that works on two-layer sums: every variable that can be weighed is a
/// cause, and no two of them share a clique.
class TwoLayerReweighing {
 public:
  explicit TwoLayerReweighing(TwoLayerSums sums);

  [[nodiscard]] std::span<const std::size_t> slot_of() const noexcept { return sums_.slot_of(); }
  [[nodiscard]] std::size_t state_count(std::size_t variable) const {
    return sums_.weights(slot_of()[variable]).size();
  }
  void stop_by(const Stop& stop);
  void give(std::span<const Reweighing::Weights> weights);
  void start(std::size_t products);
  void weigh(std::size_t product, std::size_t variable, std::span<const double> weights);
  void want(std::size_t variable);
  [[nodiscard]] static bool fits() { return true; }
  void run();
  [[nodiscard]] double expectation(std::size_t product) const { return expectations_[product]; }
  [[nodiscard]] double joint(std::size_t product, std::size_t variable, std::size_t state) const;
  [[nodiscard]] double expectation_alone(std::span<const Reweighing::Weights> weights);
  [[nodiscard]] std::span<const double> posterior(std::size_t variable) const {
    return sums_.marginal(slot_of()[variable]);
  }
  [[nodiscard]] static bool in_one_clique(std::span<const VariableIndex> variables) { return variables.size() < 2; }
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const VariableIndex> variables) const;

 private:
  /// What one batch says about a cause.
  struct Mark {
    std::size_t cause = 0;
    bool weighed = false;
    bool wanted = false;
    std::vector<double> weights;  // [block][state][lane]
    std::vector<double> joints;   // the same
  };

  [[nodiscard]] bool is_linked(std::size_t cause) const { return !sums_.tree()->network().causes[cause].links.empty(); }
  Mark& mark(std::size_t variable);
  void weigh_block(std::size_t number);
  void read_block(std::size_t number);

  TwoLayerSums sums_;
  SubsetBlock block_;
  std::size_t products_ = 0;
  std::vector<std::size_t> mark_of_;  // by cause; no_slot if it has none
  std::vector<Mark> marks_;
  std::vector<double> expectations_;
};

}  // namespace faultodds::detail

#include "faultodds/inference/two_layer/two_layer_reweighing.ipp"

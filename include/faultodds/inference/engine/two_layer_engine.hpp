// A case of two layers worked out by sums over who accounts for what.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "faultodds/inference/engine/engine.hpp"
#include "faultodds/inference/two_layer/two_layer_reweighing.hpp"
#include "faultodds/inference/two_layer/two_layer_sums.hpp"

namespace faultodds::detail {

/// Serves the one case that it was made for: findings on independent causes and on their noisy-MAX effects.
class TwoLayerEngine {
 public:
  static constexpr bool joint_by_products = true;

  explicit TwoLayerEngine(TwoLayerSums sums) : sums_(std::move(sums)) {}

  [[nodiscard]] static bool serves(const CaseShape& /*shape*/) { return false; }
  void enter(std::span<const Finding> /*findings*/) {}
  void stop_by(const Stop& stop) { sums_.stop_by(stop); }
  [[nodiscard]] std::span<const std::size_t> slot_of() const { return sums_.slot_of(); }
  [[nodiscard]] double log_evidence() const { return sums_.log_evidence(); }
  [[nodiscard]] std::span<const double> marginal(std::size_t slot) const { return sums_.marginal(slot); }
  void read_all() {}
  [[nodiscard]] std::vector<double> joint(std::span<const std::size_t> slots) const;
  [[nodiscard]] TwoLayerReweighing reweighing() const { return TwoLayerReweighing(sums_); }

 private:
  TwoLayerSums sums_;
};

static_assert(CaseEngine<TwoLayerEngine>);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/two_layer_engine.ipp"

// A case worked out under each joint state of a few variables, for which nothing else fits into memory.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <variant>
#include <vector>

#include "faultodds/inference/engine/conditioned_reweighing.hpp"
#include "faultodds/inference/engine/cutset.hpp"
#include "faultodds/inference/engine/engine.hpp"

namespace faultodds::detail {

/// P(x | findings) = sum over s of P(s | findings) P(x | s, findings), s being the joint states of the cutset (cutset
/// conditioning: Pearl 1988, section 4.3). Exact; the memory of one smaller case (of all of them as long as they fit
/// into the limit together), the time of many. Serves the one case that it was made for. Slots are variables.
class ConditionedEngine {
 public:
  static constexpr bool joint_by_products = true;

  /// Works out the marginals. Throws TooLarge if the case does not fit under some joint state; Stopped.
  ConditionedEngine(const Solver& solver, Cutset cutset, std::span<const Finding> findings, const Stop& stop);

  [[nodiscard]] static bool serves(const CaseShape& /*shape*/) { return false; }
  void enter(std::span<const Finding> /*findings*/) {}
  void stop_by(const Stop& stop) { stop_.set(stop); }
  [[nodiscard]] std::span<const std::size_t> slot_of() const { return branches_->slot_of; }
  [[nodiscard]] double log_evidence() const { return branches_->log_evidence; }
  [[nodiscard]] std::span<const double> marginal(std::size_t slot) const { return branches_->marginals[slot]; }
  void read_all() {}
  [[nodiscard]] std::vector<double> joint(std::span<const std::size_t> slots) const;
  [[nodiscard]] ConditionedReweighing reweighing() const;

  [[nodiscard]] const ConditionedBranches& branches() const noexcept { return *branches_; }

 private:
  std::shared_ptr<const ConditionedBranches> branches_;
  OwnStop stop_;
};

static_assert(CaseEngine<ConditionedEngine>);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/conditioned_engine.ipp"

// Posteriors of a case of two layers by sums over who accounts for what (cover_network.hpp, cover_chain.hpp).
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/inference/cover_plan.hpp"
#include "faultodds/inference/reweighing.hpp"
#include "faultodds/inference/solver.hpp"

namespace faultodds::detail {

/// Runs through a plan, as many at a time as a vector has lanes. Nothing is allocated after construction.
class CoverBlock {
 public:
  explicit CoverBlock(std::shared_ptr<const CoverPlan> plan);

  /// Weights of a cause, to be filled in before running: [state][lane].
  [[nodiscard]] double* weights(std::size_t cause) { return weights_.data() + begin_[cause]; }
  /// Works out the sum over all states of all causes that the effects hang on.
  void forward();
  [[nodiscard]] const double* total() const { return outer_.result(); }
  /// After forward(): works out the slopes of the total in all weights.
  void back();
  /// Of a cause with links: [state][lane].
  [[nodiscard]] const double* slopes(std::size_t cause) const { return slopes_.data() + begin_[cause]; }

 private:
  [[nodiscard]] std::size_t states_of(std::size_t cause) const;
  void copy_weights(const CoverGroup& group, double* function);

  std::shared_ptr<const CoverPlan> plan_;
  std::vector<std::size_t> begin_;  // by cause, in doubles
  AlignedDoubles weights_, slopes_;
  std::vector<CoverRun> inner_;  // by group
  CoverRun outer_;
};

/// A case of two layers, worked out. Copies share the plan.
class CoverSums {
 public:
  explicit CoverSums(std::shared_ptr<const CoverPlan> plan);

  [[nodiscard]] const std::shared_ptr<const CoverPlan>& plan() const noexcept { return plan_; }
  /// By variable: its cause; no_slot where it has none.
  [[nodiscard]] std::span<const std::size_t> slot_of() const noexcept { return plan_->network().place_of; }
  /// Natural logarithm of P(findings); minus infinity where they cannot all be true.
  [[nodiscard]] double log_evidence() const noexcept { return log_evidence_; }
  /// P(state | findings) of a cause. Precondition: log_evidence() is finite.
  [[nodiscard]] std::span<const double> marginal(std::size_t cause) const {
    return std::span(marginals_).subspan(begin_[cause], begin_[cause + 1] - begin_[cause]);
  }
  /// Weights of a cause as they enter a block; their sum is one.
  [[nodiscard]] std::span<const double> weights(std::size_t cause) const {
    return std::span(weights_).subspan(begin_[cause], begin_[cause + 1] - begin_[cause]);
  }
  /// The sum over all states of all causes that the effects hang on.
  [[nodiscard]] double total() const noexcept { return total_; }

  /// Takes these weights beside the findings in place of those taken before.
  void give(std::span<const Reweighing::Weights> given);

 private:
  void work_out();

  std::shared_ptr<const CoverPlan> plan_;
  std::vector<std::size_t> begin_;  // by cause, and the end
  std::vector<double> weights_;     // by cause and state
  std::vector<double> marginals_;   // the same
  double log_evidence_ = 0.0;
  double total_ = 1.0;
};

/// The case in this form; nothing where it has none, or where a run would take more than `most` multiplications.
[[nodiscard]] std::optional<CoverSums> cover_sums(const Solver& solver, const CaseShape& shape,
                                                  std::span<const Finding> findings, double most);

}  // namespace faultodds::detail

#include "faultodds/inference/cover_sums.ipp"

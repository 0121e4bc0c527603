// Findings on a plan, and the messages they send: what changes from case to case.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "faultodds/inference/plan.hpp"

namespace faultodds {

/// Copies share the plan and nothing else. Only what a changed finding touches is worked out again: messages towards
/// the root on its path, and outward messages as far as somebody asks.
class Propagation {
 public:
  explicit Propagation(std::shared_ptr<const Plan> plan);

  [[nodiscard]] const Plan& plan() const noexcept { return *plan_; }

  /// Enters or replaces the weights of a slot, one for each state.
  void set_weights(std::size_t slot, std::span<const double> weights);
  void clear_weights(std::size_t slot);
  void clear_all();

  /// Natural logarithm of the sum over everything, with the weights in; minus infinity where that is zero.
  [[nodiscard]] double log_evidence();
  /// P(state | weights), one for each state of the slot. Precondition: log_evidence() is finite.
  [[nodiscard]] std::span<const double> marginal(std::size_t slot);
  /// Reads the marginals of all slots in one sweep over every clique.
  void read_all();
  /// Joint of slots that share a clique (as `scope` orders them, the last running fastest); empty where none holds all.
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const std::size_t> scope);

 private:
  void touch(std::size_t slot);
  void collect();
  void send_up(std::size_t index);
  void visit(std::size_t index);
  void reach(std::size_t index);
  void enter(const Plan::Node& node, std::size_t column, const double* values);
  void enter_from_below(const Plan::Node& node);
  void normalise_homes(const Plan::Node& node);
  double* sums_of(const detail::Layout& layout, std::size_t column);

  std::shared_ptr<const Plan> plan_;
  std::vector<double> weights_;             // by slot and state
  std::vector<std::uint8_t> weighted_;      // by slot
  std::vector<std::uint32_t> findings_in_;  // by clique: weighted slots at home here or behind it
  std::vector<std::uint8_t> stale_;         // by clique: its message towards the root
  std::vector<std::uint8_t> visited_;       // by clique: outward messages and marginals are current
  std::vector<double> up_;                  // by clique: towards the root
  std::vector<double> down_;                // by clique: from its parent
  std::vector<int> exponent_;               // by clique: power of two taken out of its message towards the root
  std::vector<double> marginals_;           // by slot and state
  double root_sum_ = 1.0;
  std::vector<std::vector<double>> spread_;  // scratch, by column
  std::vector<std::vector<double>> sums_;    // scratch, by column
  detail::Parts<detail::Input> inputs_;
  detail::Parts<detail::Output> outputs_;
};

}  // namespace faultodds

#include "faultodds/inference/propagation.ipp"

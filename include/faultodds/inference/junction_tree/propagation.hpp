// Findings on a tree, and the messages they send: what changes from case to case.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "faultodds/inference/junction_tree/junction_tree.hpp"

namespace faultodds {

/// Copies share the junction tree and nothing else. Only what a changed finding touches is worked out again: messages
/// towards the root on its path, and outward messages as far as somebody asks. Nothing is allocated after construction.
class Propagation {
 public:
  explicit Propagation(std::shared_ptr<const JunctionTree> tree);

  [[nodiscard]] const JunctionTree& tree() const noexcept { return *tree_; }
  [[nodiscard]] const std::shared_ptr<const JunctionTree>& shared_tree() const noexcept { return tree_; }
  /// Holds the tree no longer; from then on it can only be assigned to.
  void let_go() noexcept { tree_.reset(); }
  /// From now on its work is stopped by this, until another one is set: looked at for every clique that is swept. What
  /// throws leaves all findings as they were. Copies are not stopped by it.
  void stop_by(const Stop& stop) { stop_.set(stop); }

  /// Enters or replaces the weights of a slot, one for each state.
  void set_weights(std::size_t slot, std::span<const double> weights);
  void clear_weights(std::size_t slot);
  /// The weights entered, one for each state; empty if there are none.
  [[nodiscard]] std::span<const double> weights(std::size_t slot) const {
    const std::size_t states = weighted_[slot] != 0 ? tree_->state_counts()[slot] : 0;
    return {weights_.data() + tree_->state_begin(slot), states};
  }
  void clear_all();

  /// Natural logarithm of the sum over everything, with the weights in; minus infinity if that is zero.
  [[nodiscard]] double log_evidence();
  /// P(state | weights), one for each state of the slot. Precondition: log_evidence() is finite.
  [[nodiscard]] std::span<const double> marginal(std::size_t slot);
  /// Reads the marginals of all slots in one sweep over every clique.
  void read_all();
  /// Joint of slots that share a clique (as `scope` orders them, the last running fastest); empty if none holds all.
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const std::size_t> scope);
  /// P(entry | weights) up to a factor for each entry of a clique's blocks as they are kept, padding included.
  void products_of_clique(std::size_t clique, std::vector<double>& products);

 private:
  /// The operands of a sweep, in memory that is used again and again.
  struct Operands {
    std::vector<detail::Input> scalar_inputs, vector_inputs;
    std::vector<detail::Output> scalar_outputs, vector_outputs;

    void clear();
    void add(bool vector, detail::Input input) { (vector ? vector_inputs : scalar_inputs).push_back(input); }
    void add(bool vector, detail::Output output) { (vector ? vector_outputs : scalar_outputs).push_back(output); }
  };

  void count_findings(std::size_t slot, bool weighted, bool hard);
  void touch(std::size_t slot);
  void weigh_lanes(const JunctionTree::Node& node);
  void collect();
  void send_up(std::size_t index);
  /// How far a clique's outward messages and marginals are current.
  enum class Visit : std::uint8_t { none, where_open, everywhere };
  void visit(std::size_t index, Visit wanted);
  void reach(std::size_t index, Visit wanted);
  void enter(const JunctionTree::Node& node);
  void enter_down(const JunctionTree::Node& node);
  void ask_below(const JunctionTree::Node& node, Visit wanted);
  void sweep(const JunctionTree::Node& node, double* lane_sums);
  void pass_down(std::size_t child, double scale, const double* sums);
  void read_hosts(const JunctionTree::Node& node, const double* lane_sums);
  void multiply_block(const JunctionTree::Node& node, std::size_t block, std::span<double> product) const;
  [[nodiscard]] std::size_t index_of(const JunctionTree::Node& node) const {
    return static_cast<std::size_t>(&node - tree_->nodes().data());
  }

  std::shared_ptr<const JunctionTree> tree_;
  detail::AlignedDoubles weights_;             // by slot and state
  std::vector<std::uint8_t> weighted_;         // by slot
  std::vector<std::uint8_t> hard_;             // by slot: one state alone has a weight, so that it is known
  std::vector<std::uint32_t> findings_in_;     // by clique: weighted slots hosted here or behind it
  std::vector<std::uint32_t> open_in_;         // by clique: slots hosted here or behind it that are not known
  std::vector<std::uint32_t> weighted_lanes_;  // by clique: weighted inner slots hosted here
  std::vector<std::uint8_t> stale_;            // by clique: its message towards the root
  std::vector<Visit> visited_;                 // by clique
  detail::AlignedDoubles lane_weights_;        // by clique: product of the weights of its inner slots
  detail::AlignedDoubles up_;                  // by clique: towards the root
  detail::AlignedDoubles inverse_;             // by clique: what divides the message from its parent
  detail::AlignedDoubles down_;                // by clique: from its parent
  detail::AlignedDoubles copies_;              // of messages up and down, spread out for those who read them so
  detail::AlignedDoubles sums_;                // scratch
  std::vector<int> exponent_;                  // by clique: power of two taken out of its message towards the root
  detail::AlignedDoubles marginals_;           // by slot and state
  std::vector<std::size_t> path_;              // scratch
  double root_sum_ = 1.0;
  Operands operands_;
  detail::OwnStop stop_;
};

}  // namespace faultodds

#include "faultodds/inference/junction_tree/propagation.ipp"

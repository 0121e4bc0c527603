// A plan: the junction tree of a network with its tables, compiled once and read-only afterwards.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/checkpoint.hpp"
#include "faultodds/inference/clique_tree.hpp"
#include "faultodds/inference/layout.hpp"

namespace faultodds {

/// Each clique holds P(its slots beyond the separator | separator), no findings given, so that a message towards the
/// root is one wherever no finding lies behind it. Blocks that are zero in the belief without findings are dropped.
class Plan {
 public:
  /// Where a slot's findings enter and its marginal is read.
  struct Home {
    std::size_t slot = 0;
    std::size_t column = 0;  ///< in the layout of the clique
  };

  struct Node {
    Clique shape;
    detail::Layout layout;
    std::vector<double> table;               ///< [block][width]
    std::vector<std::size_t> child_columns;  ///< by child; the parent's column is 0
    std::vector<Home> homes;
    std::size_t message_begin = 0;  ///< of this clique's separator among all messages
    std::size_t message_size = 1;
  };

  /// Compiles `network` under the elimination order (all its slots). Throws TooLarge before any table is allocated.
  Plan(Network network, std::span<const std::size_t> order, double memory_limit_bytes, Checkpoint checkpoint = {});
  /// What the tables of such a plan take; allocates none.
  [[nodiscard]] static double bytes_needed(const Network& network, std::span<const std::size_t> order);

  [[nodiscard]] const std::vector<Node>& nodes() const noexcept { return nodes_; }
  [[nodiscard]] const std::vector<std::size_t>& state_counts() const noexcept { return state_counts_; }
  [[nodiscard]] const std::vector<std::size_t>& slot_of() const noexcept { return slot_of_; }
  [[nodiscard]] std::size_t home_of(std::size_t slot) const { return home_of_[slot]; }  ///< a clique
  [[nodiscard]] std::size_t state_begin(std::size_t slot) const { return state_begin_[slot]; }
  [[nodiscard]] std::size_t total_states() const noexcept { return state_begin_.back(); }
  [[nodiscard]] std::size_t total_messages() const noexcept { return total_messages_; }
  /// Logarithm of the sum of the product of all factors; minus infinity where that is zero.
  [[nodiscard]] double log_constant() const noexcept { return log_constant_; }
  /// Gives the caller a chance to stop: called for every clique that is built or swept.
  void pass_checkpoint() const {
    if (checkpoint_) checkpoint_();
  }
  /// Bytes of all tables and offsets.
  [[nodiscard]] double bytes() const noexcept { return bytes_; }

 private:
  struct Scratch;
  struct Largest {
    double bytes = 0.0;          ///< of all tables
    double block_entries = 0.0;  ///< of the largest table
  };
  using Scopes = std::vector<std::vector<std::size_t>>;  ///< of a clique's operands

  Plan(const Network& network, std::span<const std::size_t> order);
  void place_homes(const CliqueTree& tree);
  [[nodiscard]] Scopes operand_scopes(std::size_t index) const;
  [[nodiscard]] Largest measure() const;
  [[nodiscard]] std::vector<std::vector<const Potential*>> share_out(const std::vector<Potential>& factors) const;
  void build(std::size_t index, const std::vector<const Potential*>& factors, Scratch& scratch);
  void drop_blocks(Scratch& scratch);
  void narrow_messages(const std::vector<double>& beliefs);

  std::vector<std::size_t> state_counts_;
  std::vector<std::size_t> slot_of_;
  std::vector<std::size_t> home_of_;
  std::vector<std::size_t> state_begin_;
  std::vector<Node> nodes_;
  std::size_t total_messages_ = 0;
  double log_constant_ = 0.0;
  double bytes_ = 0.0;
  Checkpoint checkpoint_;
};

}  // namespace faultodds

#include "faultodds/inference/plan.ipp"

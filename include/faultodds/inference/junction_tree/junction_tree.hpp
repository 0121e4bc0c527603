// A junction tree: the junction tree of a network with its tables, compiled once and read-only afterwards.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/junction_tree/layout.hpp"
#include "faultodds/inference/junction_tree/tree_shape.hpp"
#include "faultodds/inference/junction_tree/workspaces.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds {

/// Each clique holds P(its slots beyond the separator | separator), no findings given, so that a message towards the
/// root is one wherever no finding lies behind it. Blocks that are zero in the belief without findings are dropped.
class JunctionTree {
 public:
  /// What a clique takes beside its tables and messages, about.
  static constexpr double bytes_beside_tables = 1024.0;

  /// Where a slot's findings enter and its marginal is read. An outer slot has a column of its own; what concerns inner
  /// slots is the same for all blocks.
  struct Host {
    std::size_t slot = 0;
    std::size_t column = 0;  ///< 0: an inner slot
    std::size_t states = 0;
    std::size_t begin = 0;   ///< of its states among all
    std::size_t stride = 0;  ///< lanes from one state to the next
    std::size_t rounds = 0;  ///< how often all its states come by in a block

    [[nodiscard]] bool inner() const noexcept { return column == 0; }
  };

  /// Of a clique's separator, in both directions.
  struct Message {
    std::size_t begin = 0;  ///< among all messages
    std::size_t size = 1;   ///< whole vectors
    detail::Side above;     ///< as the parent meets it
    detail::Side below;     ///< as the clique meets it; its column is 0
  };

  /// One of the tables whose product is a large clique's table, as the clique meets it.
  struct CliqueFactor {
    std::size_t column = 0;
    bool vector = false;
    detail::AlignedDoubles values;
  };

  struct Node {
    Clique shape;
    detail::Layout layout;
    std::size_t columns = 1;
    std::vector<std::uint32_t> offsets;  ///< [block][column]: parent, children, outer hosts, clique_factors
    detail::AlignedDoubles table;        ///< [block][width]; empty if clique factors take its place
    std::vector<CliqueFactor> clique_factors;
    detail::AlignedDoubles unit_inverse;  ///< with clique factors: what their message without findings is divided by
    Message message;
    std::vector<Host> hosts;
    std::size_t inner_hosts = 0;
    std::size_t lanes_begin = 0;  ///< of the clique's lane weights among all
  };

  /// Compiles `network` under the elimination order (all its slots). `layouts`: what was found out about cliques of
  /// other trees. Throws TooLarge before any table is allocated; Stopped.
  JunctionTree(Network network, std::span<const std::size_t> order, double memory_limit_bytes, const Stop& stop = {},
               detail::Memo* layouts = nullptr);
  /// What making such a junction tree takes at most at once, its network included and all else about as much as it is
  /// found to be; allocates no tables.
  [[nodiscard]] static double bytes_needed(const Network& network, std::span<const std::size_t> order);

  [[nodiscard]] const std::vector<Node>& nodes() const noexcept { return nodes_; }
  [[nodiscard]] const std::vector<std::size_t>& state_counts() const noexcept { return state_counts_; }
  [[nodiscard]] const std::vector<std::size_t>& slot_of() const noexcept { return slot_of_; }
  [[nodiscard]] std::size_t host_of(std::size_t slot) const { return host_of_[slot]; }  ///< a clique
  /// Where the states of a slot begin among all, with room for whole vectors.
  [[nodiscard]] std::size_t state_begin(std::size_t slot) const { return state_begin_[slot]; }
  [[nodiscard]] std::size_t total_states() const noexcept { return state_begin_.back(); }
  [[nodiscard]] std::size_t total_messages() const noexcept { return total_messages_; }
  [[nodiscard]] std::size_t total_copies() const noexcept { return total_copies_; }
  [[nodiscard]] std::size_t total_lanes() const noexcept { return total_lanes_; }
  /// Doubles that the sums of one sweep can need before they are gathered up.
  [[nodiscard]] std::size_t max_sums() const noexcept { return max_sums_; }
  [[nodiscard]] std::size_t max_columns() const noexcept { return max_columns_; }
  /// Logarithm of the sum of the product of all factors; minus infinity if that is zero.
  [[nodiscard]] double log_constant() const noexcept { return log_constant_; }
  /// Bytes of all tables and offsets.
  [[nodiscard]] double bytes() const noexcept { return bytes_; }
  [[nodiscard]] const detail::Kernels& kernels() const noexcept { return *kernels_; }
  /// For whoever works with the tree at the moment.
  [[nodiscard]] detail::Workspaces& workspaces() const noexcept { return workspaces_; }

 private:
  struct Building;

  [[nodiscard]] static double bytes_needed(const Network& network, const TreeShape& tree);
  void take_shape(const TreeShape& tree);
  [[nodiscard]] std::vector<std::vector<const Potential*>> share_out(const std::vector<Potential>& factors) const;
  void fill(std::size_t index, const std::vector<const Potential*>& factors, Building& building);
  void believe(std::size_t index, Building& building);
  void lay_out(std::size_t index, const detail::Support& support, Building& building);
  [[nodiscard]] bool worth_factoring(const std::vector<Potential>& parts, double entries) const;
  void keep_clique_factors(Node& node, std::vector<Potential>& clique_factors, bool padded);
  void place_hosts();
  void address_messages(const Building& building);
  void address_clique_factor(Node& node, CliqueFactor& clique_factor, const Potential& dense);
  void set_offsets(Node& node, std::size_t column, const detail::Form& form);
  void address_hosts(Node& node);
  void count_scratch();

  std::vector<std::size_t> state_counts_;
  std::vector<std::size_t> slot_of_;
  std::vector<std::size_t> host_of_;
  std::vector<std::size_t> state_begin_;
  std::vector<Node> nodes_;
  std::size_t total_messages_ = 0;
  std::size_t total_copies_ = 0;
  std::size_t total_lanes_ = 0;
  std::size_t max_sums_ = 0;
  std::size_t max_columns_ = 0;
  double log_constant_ = 0.0;
  double bytes_ = 0.0;
  const detail::Kernels* kernels_ = &detail::native_kernels();
  mutable detail::Workspaces workspaces_;
};

}  // namespace faultodds

#include "faultodds/inference/junction_tree/junction_tree.ipp"

// The solver: a fault model compiled for inference. Shared between cases and threads; its answers never change.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>

#include "faultodds/inference/junction_tree/junction_tree.hpp"
#include "faultodds/inference/junction_tree/tree_cache.hpp"
#include "faultodds/inference/memo.hpp"
#include "faultodds/inference/network/elimination_order.hpp"
#include "faultodds/inference/network/link_weights.hpp"
#include "faultodds/inference/network/network.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// How a model is compiled.
struct SolverOptions {
  /// Tables of one junction tree may take this much; beyond it TooLarge is thrown before anything is allocated.
  double memory_limit_bytes = 8.0 * 1024 * 1024 * 1024;
  /// Tries for a good elimination order at least (the first one is without noise). More tries, smaller tables.
  std::size_t order_tries = 24;
  std::uint64_t order_seed = 1;
  /// Further tries, the more the larger the tables: OrderEffort::steps_per_entry.
  double order_steps_per_entry = 20.0;
  /// Models whose whole tree stays below this many table entries get one junction tree for all cases. Others get a
  /// junction tree for the relevant part of each case. Models without noisy-MAX tables get one junction tree wherever
  /// memory allows.
  double whole_tree_entries = 1 << 15;
  /// Where each case gets a junction tree of its own: the junction trees used last are kept up to this size, for cases
  /// that come back to the same shape (a finding added and taken back; the next vehicle with the same complaint). 0:
  /// none.
  double cached_trees_bytes = 64.0 * 1024 * 1024;
  /// Where each case gets a junction tree of its own: cases of two layers (findings that depend on independent causes)
  /// are answered by two-layer sums instead, up to about this many multiplications for a product; and up to 256 times
  /// as many if no junction tree fits into memory. 0: never.
  double two_layer_multiplications = 1 << 22;
  /// If nothing else fits into memory: a case is worked out under each joint state of a few variables, chosen so that
  /// what is left fits, up to so many joint states. Exact, in the time of as many cases. 0: never; TooLarge says so.
  std::size_t max_conditioned_cases = 0;
};

class Solver {
 public:
  /// Compiles `model`. Throws TooLarge only if the parts that every case needs exceed the memory limit; Stopped.
  explicit Solver(FaultModel model, SolverOptions options = {}, const Stop& stop = {});
  // What is behind a solver is shared, and moving one copies it: what was moved from stays whole.
  Solver(const Solver&) = default;
  Solver& operator=(const Solver&) = default;
  ~Solver() = default;

  [[nodiscard]] const FaultModel& model() const noexcept { return data_->model; }
  [[nodiscard]] const SolverOptions& options() const noexcept { return data_->options; }
  /// True if one junction tree serves all cases.
  [[nodiscard]] bool has_shared_tree() const noexcept { return data_->whole != nullptr; }
  /// The junction tree that serves all cases; null if each case gets its own.
  [[nodiscard]] const std::shared_ptr<const JunctionTree>& shared_tree() const noexcept { return data_->whole; }
  /// A junction tree for cases of this shape: one kept, or one made now. Throws TooLarge before any table is allocated;
  /// Stopped.
  [[nodiscard]] std::shared_ptr<const JunctionTree> junction_tree_for(const CaseShape& shape,
                                                                      const Stop& stop = {}) const;
  [[nodiscard]] const detail::LinkWeights& link_weights() const noexcept { return data_->link_weights; }
  /// For what follows from the noisy-MAX table of a variable: its number, then the numbers of some of its links.
  [[nodiscard]] detail::Memo& of_links() const noexcept { return *data_->of_links; }
  /// Components and context, which every junction tree of a case holds.
  [[nodiscard]] const std::vector<VariableIndex>& always_wanted() const noexcept { return data_->always_wanted; }

 private:
  struct Data {
    FaultModel model;
    SolverOptions options;
    std::shared_ptr<const JunctionTree> whole;
    std::shared_ptr<TreeCache> trees;
    std::shared_ptr<detail::Memo> of_links;
    std::shared_ptr<detail::Memo> layouts;  // of cliques that were laid out
    detail::LinkWeights link_weights;
    std::vector<VariableIndex> always_wanted;
  };

  std::shared_ptr<const Data> data_;
};

/// What compiling the whole model would cost; cheap, allocates no tables. Throws Stopped.
[[nodiscard]] CostEstimate estimate_cost(const FaultModel& model, const SolverOptions& options = {},
                                         const Stop& stop = {});

namespace detail {

/// A network with the order in which a junction tree eliminates its variables.
struct OrderedNetwork {
  Network network;
  EliminationOrder order;
};

/// The network of this shape with the chains and the elimination order that look smallest. Small ones get few
/// tries: a longer search would take longer than the answers.
[[nodiscard]] OrderedNetwork ordered_network(const FaultModel& model, const CaseShape& shape,
                                             const SolverOptions& options, const Stop& stop = {});

/// The network of the whole model, which all cases can share.
[[nodiscard]] OrderedNetwork ordered_whole_network(const FaultModel& model, const SolverOptions& options,
                                                   const Stop& stop = {});

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/solver.ipp"

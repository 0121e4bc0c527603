// Expectations of many products side by side, on a junction tree: for a whole batch of weights in one sweep.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/inference/junction_tree/propagation.hpp"
#include "faultodds/inference/junction_tree/reweighing.hpp"

namespace faultodds::detail {

/// Batches of products on one junction tree. Each product has a lane of a vector, and a batch of them runs over the
/// part of the tree that joins the variables concerned and no other: with the findings absorbed, messages from outside
/// that part are one. The same batch gives the same bits; in another company, on other variables, a product may differ
/// by rounding. What follows from the tree alone is kept for other cases.
class TreeBatch {
 public:
  explicit TreeBatch(const JunctionTree& tree);

  /// Begins anew, on findings that are entered in this propagation of the tree and possible.
  void begin(const Propagation& propagation);
  /// Lets go of the tree, which may hold this.
  void end() noexcept;

  [[nodiscard]] std::span<const std::size_t> slot_of() const noexcept { return propagation_->tree().slot_of(); }
  [[nodiscard]] std::size_t state_count(std::size_t variable) const { return states_of(slot_of()[variable]); }
  void stop_by(const Stop& stop);
  void give(std::span<const Reweighing::Weights> weights);
  void start(std::size_t products);
  void weigh(std::size_t product, std::size_t variable, std::span<const double> weights);
  void want(std::size_t variable);
  /// False if the cliques to be swept are too large for lanes: each of their entries takes up to some 100 bytes.
  [[nodiscard]] bool fits();
  void run();
  [[nodiscard]] double expectation(std::size_t product) const { return expectations_[product]; }
  [[nodiscard]] double joint(std::size_t product, std::size_t variable, std::size_t state) const;
  [[nodiscard]] double expectation_alone(std::span<const Reweighing::Weights> weights);
  [[nodiscard]] std::span<const double> posterior(std::size_t variable);
  [[nodiscard]] bool in_one_clique(std::span<const VariableIndex> variables) const;
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const VariableIndex> variables);

 private:
  static constexpr std::size_t lanes = products_at_once;
  using Offsets = std::vector<std::uint32_t>;  // by positive entry of a clique: where in an operand, in doubles

  /// A clique's belief with the slots that a run has no use for summed out, in the order of its separator's states.
  /// Kept for other runs.
  struct View {
    std::vector<std::size_t> kept;  // slots
    bool of_joint = false;          // of P(clique | findings), otherwise of P(clique | separator, findings)
    bool current = false;
    std::vector<std::uint32_t> place;   // by entry of the belief: which of the view's it goes to
    std::vector<std::uint32_t> sample;  // by entry of the view: one of the belief's that goes there
    std::vector<std::uint32_t> runs;    // where entries with another separator state begin, and the end
    std::vector<double> values;
    std::vector<Offsets> offsets;  // by operand; empty until it is asked for
  };
  /// A clique's belief, filled in when it is first met. Operands: the separator, those of the children, the slots.
  struct Belief {
    bool current = false;
    bool has_entries = false;
    std::vector<std::uint32_t> entries;  // those that can be positive, by their number among all
    std::vector<std::uint32_t> source;   // the same, by their place among the blocks of the clique
    std::vector<double> joint;           // P(clique | findings)
    std::vector<double> conditional;     // P(clique | separator, findings)
    std::vector<Offsets> offsets;        // by operand; empty until it is asked for
    std::vector<View> views;
    std::size_t view = 0;  // that of the run
  };
  using Input = ProductsInput;
  using Output = ProductsOutput;
  /// What one batch says about a slot.
  struct Mark {
    std::size_t slot = 0;
    bool weighed = false;
    bool wanted = false;
    std::size_t weights_begin = 0;  // [block][state][lane]
    std::size_t joints_begin = 0;   // the same
  };

  [[nodiscard]] const Clique& shape(std::size_t clique) const { return propagation_->tree().nodes()[clique].shape; }
  [[nodiscard]] std::size_t states_of(std::size_t slot) const { return propagation_->tree().state_counts()[slot]; }
  Mark& mark(std::size_t variable);
  void span_tree();
  void forget_beliefs();
  void list_entries(std::size_t clique);
  const Belief& belief(std::size_t clique);
  const std::uint32_t* offsets_of(std::size_t clique, std::size_t operand);
  const std::uint32_t* offsets_in_view(std::size_t clique, std::size_t operand);
  void choose_view(std::size_t clique);
  [[nodiscard]] View make_view(std::size_t clique, std::vector<std::size_t> kept);
  void fill_view(std::size_t clique);
  const std::uint32_t* zeros_for(std::size_t clique);
  [[nodiscard]] std::vector<std::uint32_t> all_offsets(std::size_t clique, std::span<const std::size_t> scope) const;
  void gather_inputs(std::size_t clique, std::size_t block);
  void collect(std::size_t clique, std::size_t block);
  void distribute(std::size_t clique, std::size_t block);
  void sweep(std::span<const double> values) const;
  void sweep_runs(const View& view) const;
  [[nodiscard]] std::size_t message_end(std::size_t clique) const;

  std::optional<Propagation> propagation_;
  GivenWeights given_;
  std::vector<Belief> beliefs_;             // by clique
  std::vector<std::size_t> message_begin_;  // by clique, in doubles
  std::vector<double> up_, down_;           // messages of one block of lanes
  std::size_t products_ = 0;
  std::vector<Mark> marks_;
  std::vector<std::size_t> mark_of_;                   // by slot; no_slot if it has none
  std::vector<std::uint32_t> weighed_in_, wanted_in_;  // by clique: marked slots hosted here or behind it
  std::vector<std::vector<std::size_t>> marks_at_;     // by clique
  std::size_t top_ = 0;                                // the clique where the spanned part is rooted
  bool spanned_ = false;
  std::vector<std::size_t> region_;  // spanned cliques, parents first
  std::vector<double> weights_, joints_, expectations_;
  std::vector<Input> inputs_;
  std::vector<Output> outputs_;
  std::vector<std::uint32_t> zeros_;    // offsets of an operand with one entry
  std::vector<double> product_, sums_;  // scratch: of one clique
  std::vector<std::size_t> kept_;       // scratch
  std::optional<Reweighing> alone_;     // for expectations one at a time
  OwnStop stop_;
};

/// The part of BatchedReweighing (which see) that works on a junction tree. The batch is one of the tree's workspaces.
class TreeReweighing {
 public:
  /// The findings are entered in the propagation already and possible.
  explicit TreeReweighing(const Propagation& propagation);
  TreeReweighing(TreeReweighing&&) = default;
  TreeReweighing& operator=(TreeReweighing&&) = default;
  ~TreeReweighing();

  [[nodiscard]] std::span<const std::size_t> slot_of() const noexcept { return batch_->slot_of(); }
  [[nodiscard]] std::size_t state_count(std::size_t variable) const { return batch_->state_count(variable); }
  void stop_by(const Stop& stop) { batch_->stop_by(stop); }
  void give(std::span<const Reweighing::Weights> weights) { batch_->give(weights); }
  void start(std::size_t products) { batch_->start(products); }
  void weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
    batch_->weigh(product, variable, weights);
  }
  void want(std::size_t variable) { batch_->want(variable); }
  [[nodiscard]] bool fits() { return batch_->fits(); }
  void run() { batch_->run(); }
  [[nodiscard]] double expectation(std::size_t product) const { return batch_->expectation(product); }
  [[nodiscard]] double joint(std::size_t product, std::size_t variable, std::size_t state) const {
    return batch_->joint(product, variable, state);
  }
  [[nodiscard]] double expectation_alone(std::span<const Reweighing::Weights> weights) {
    return batch_->expectation_alone(weights);
  }
  [[nodiscard]] std::span<const double> posterior(std::size_t variable) { return batch_->posterior(variable); }
  [[nodiscard]] bool in_one_clique(std::span<const VariableIndex> variables) const {
    return batch_->in_one_clique(variables);
  }
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const VariableIndex> variables) {
    return batch_->joint_in_clique(variables);
  }

 private:
  std::shared_ptr<const JunctionTree> tree_;
  std::shared_ptr<TreeBatch> batch_;
};

}  // namespace faultodds::detail

#include "faultodds/inference/junction_tree/tree_reweighing.ipp"

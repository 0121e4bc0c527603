// Bodies of tree_reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <utility>

#include "faultodds/inference/junction_tree/tree_reweighing.hpp"
#include "faultodds/inference/network/factor.hpp"

namespace faultodds::detail {

inline TreeBatch::TreeBatch(const JunctionTree& tree) : beliefs_(tree.nodes().size()) {
  std::size_t total = 0;
  for (std::size_t c = 0; c < beliefs_.size(); ++c) {
    const Clique& here = tree.nodes()[c].shape;
    message_begin_.push_back(total);
    total += count_entries(here.separator, tree.state_counts()) * lanes;
    beliefs_[c].offsets.resize(1 + here.children.size() + here.slots.size());
  }
  up_.resize(total);
  mark_of_.assign(tree.state_counts().size(), no_slot);
  weighed_in_.assign(beliefs_.size(), 0);
  wanted_in_.assign(beliefs_.size(), 0);
  marks_at_.resize(beliefs_.size());
}

inline void TreeBatch::begin(const Propagation& propagation) {
  propagation_ = propagation;
  given_ = {};
  alone_.reset();
  forget_beliefs();
  start(0);
}

/// Keeps what follows from the tree alone, unless that is much.
inline void TreeBatch::end() noexcept {
  static constexpr std::size_t max_entries = 1U << 16U;  // of views and of beliefs, up to some 100 bytes each
  alone_.reset();
  stop_by({});
  std::size_t of_views = 0;
  std::size_t of_beliefs = 0;
  for (const Belief& belief : beliefs_) {
    of_beliefs += belief.entries.size();
    for (const View& view : belief.views) of_views += view.sample.size();
  }
  for (Belief& belief : beliefs_) {
    if (of_views > max_entries) std::vector<View>().swap(belief.views);
    if (of_beliefs <= max_entries) continue;
    std::vector<Offsets> offsets = std::move(belief.offsets);  // as many, each empty
    for (Offsets& of_operand : offsets) Offsets().swap(of_operand);
    belief = {};
    belief.offsets = std::move(offsets);
  }
  propagation_->let_go();
}

inline void TreeBatch::forget_beliefs() {
  for (Belief& belief : beliefs_) {
    belief.current = false;
    for (View& view : belief.views) view.current = false;
  }
}

inline TreeReweighing::TreeReweighing(const Propagation& propagation)
    : tree_(propagation.shared_tree()), batch_(tree_->workspaces().take()) {
  if (batch_ == nullptr) batch_ = std::make_shared<TreeBatch>(*tree_);
  batch_->begin(propagation);
}

inline TreeReweighing::~TreeReweighing() {
  static constexpr std::size_t max_messages = 1U << 16U;  // doubles; a batch takes some 200 bytes for each
  if (batch_ == nullptr || tree_->total_messages() > max_messages) return;
  batch_->end();
  tree_->workspaces().put(std::move(batch_));
}

inline std::size_t TreeBatch::message_end(std::size_t clique) const {
  return clique + 1 < message_begin_.size() ? message_begin_[clique + 1] : up_.size();
}

inline bool TreeBatch::in_one_clique(std::span<const VariableIndex> variables) const {
  const JunctionTree& tree = propagation_->tree();
  return std::any_of(tree.nodes().begin(), tree.nodes().end(), [&](const JunctionTree::Node& node) {
    const std::vector<std::size_t>& slots = node.shape.slots;
    return std::all_of(variables.begin(), variables.end(), [&](std::size_t variable) {
      return std::binary_search(slots.begin(), slots.end(), tree.slot_of()[variable]);
    });
  });
}

inline std::vector<double> TreeBatch::joint_in_clique(std::span<const VariableIndex> variables) {
  std::vector<std::size_t> scope;
  for (const std::size_t variable : variables) scope.push_back(propagation_->tree().slot_of()[variable]);
  return propagation_->joint_in_clique(scope);
}

inline std::span<const double> TreeBatch::posterior(std::size_t variable) {
  return propagation_->marginal(propagation_->tree().slot_of()[variable]);
}

inline double TreeBatch::expectation_alone(std::span<const Reweighing::Weights> weights) {
  if (!alone_.has_value()) alone_.emplace(*propagation_);
  alone_->stop_by(stop_.get());
  return alone_->expectation(weights);
}

inline void TreeBatch::give(std::span<const Reweighing::Weights> weights) {
  given_.give(*propagation_, weights);
  forget_beliefs();
  start(0);
}

inline void TreeBatch::start(std::size_t products) {
  products_ = products;
  for (const Mark& mark : marks_) {
    mark_of_[mark.slot] = no_slot;
    marks_at_[propagation_->tree().host_of(mark.slot)].clear();
  }
  marks_.clear();
  weights_.clear();
  joints_.clear();
  spanned_ = false;
}

inline TreeBatch::Mark& TreeBatch::mark(std::size_t variable) {
  const std::size_t slot = propagation_->tree().slot_of()[variable];
  if (mark_of_[slot] == no_slot) {
    mark_of_[slot] = marks_.size();
    marks_at_[propagation_->tree().host_of(slot)].push_back(marks_.size());
    marks_.push_back({slot});
    spanned_ = false;
  }
  return marks_[mark_of_[slot]];
}

inline void TreeBatch::weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
  Mark& at = mark(variable);
  const std::size_t states = weights.size();
  if (!at.weighed) {
    at.weighed = true;
    at.weights_begin = weights_.size();
    weights_.resize(weights_.size() + (products_ + lanes - 1) / lanes * lanes * states, 1.0);
    spanned_ = false;
  }
  double* const lane = weights_.data() + at.weights_begin + product / lanes * lanes * states + product % lanes;
  for (std::size_t s = 0; s < states; ++s) lane[s * lanes] *= weights[s];
}

inline void TreeBatch::want(std::size_t variable) {
  Mark& at = mark(variable);
  if (at.wanted) return;
  at.wanted = true;
  at.joints_begin = joints_.size();
  joints_.resize(joints_.size() + (products_ + lanes - 1) / lanes * lanes * states_of(at.slot));
  spanned_ = false;
}

inline double TreeBatch::joint(std::size_t product, std::size_t variable, std::size_t state) const {
  const std::size_t slot = propagation_->tree().slot_of()[variable];
  const std::size_t block = product / lanes;
  return joints_[marks_[mark_of_[slot]].joints_begin + (block * states_of(slot) + state) * lanes + product % lanes];
}

/// Finds the cliques that join the hosts of all marked slots.
inline void TreeBatch::span_tree() {
  if (spanned_) return;
  spanned_ = true;
  std::fill(weighed_in_.begin(), weighed_in_.end(), 0U);
  std::fill(wanted_in_.begin(), wanted_in_.end(), 0U);
  for (const Mark& mark : marks_) {
    const std::size_t host = propagation_->tree().host_of(mark.slot);
    weighed_in_[host] += mark.weighed ? 1U : 0U;
    wanted_in_[host] += mark.wanted ? 1U : 0U;
  }
  for (std::size_t c = beliefs_.size(); c-- > 1;) {
    weighed_in_[shape(c).parent] += weighed_in_[c];
    wanted_in_[shape(c).parent] += wanted_in_[c];
  }
  const auto holds_all = [&](std::size_t c) {
    return weighed_in_[c] == weighed_in_[0] && wanted_in_[c] == wanted_in_[0];
  };
  top_ = 0;
  for (bool deeper = true; deeper;) {
    const std::vector<std::size_t>& children = shape(top_).children;
    const auto child = std::find_if(children.begin(), children.end(), holds_all);
    deeper = child != children.end() && marks_at_[top_].empty();
    if (deeper) top_ = *child;
  }
  region_.clear();
  region_.push_back(top_);
  for (std::size_t i = 0; i < region_.size(); ++i) {
    for (const std::size_t child : shape(region_[i]).children) {
      if (weighed_in_[child] + wanted_in_[child] > 0) region_.push_back(child);
    }
  }
}

inline bool TreeBatch::fits() {
  static constexpr double max_entries = 1 << 23;
  span_tree();
  double entries = 0.0;
  for (const std::size_t c : region_) entries += entries_of(shape(c).slots, propagation_->tree().state_counts());
  return entries <= max_entries;
}

/// For every entry: its value and all inputs multiplied are added to all outputs, lane by lane.
inline void TreeBatch::sweep(std::span<const double> values) const {
  ProductsSweep sweep;
  sweep.table = values.data();
  sweep.entries = values.size();
  sweep.inputs = inputs_.data();
  sweep.input_count = inputs_.size();
  sweep.outputs = outputs_.data();
  sweep.output_count = outputs_.size();
  native_kernels().add_products(sweep);
}

/// The same if the only output depends on the separator, whose entries are overwritten: one that no run meets is
/// zero and stays so.
inline void TreeBatch::sweep_runs(const View& view) const {
  RunSweep sweep;
  sweep.table = view.values.data();
  sweep.runs = view.runs.data();
  sweep.run_count = view.runs.empty() ? 0 : view.runs.size() - 1;
  sweep.inputs = inputs_.data();
  sweep.input_count = inputs_.size();
  sweep.output_offsets = outputs_[0].offsets;
  sweep.output = outputs_[0].values;
  native_kernels().sum_runs(sweep);
}

/// Weights of the slots hosted here, and messages from the children with weights behind them.
inline void TreeBatch::gather_inputs(std::size_t clique, std::size_t block) {
  inputs_.clear();
  outputs_.clear();
  const Clique& here = shape(clique);
  for (std::size_t i = 0; i < here.children.size(); ++i) {
    const std::size_t child = here.children[i];
    if (weighed_in_[child] > 0) inputs_.push_back({offsets_in_view(clique, 1 + i), up_.data() + message_begin_[child]});
  }
  for (const std::size_t m : marks_at_[clique]) {
    const Mark& mark = marks_[m];
    if (!mark.weighed) continue;
    const auto at = std::find(here.slots.begin(), here.slots.end(), mark.slot);
    const std::size_t operand = 1 + here.children.size() + static_cast<std::size_t>(at - here.slots.begin());
    inputs_.push_back({offsets_in_view(clique, operand),
                       weights_.data() + mark.weights_begin + block * lanes * states_of(mark.slot)});
  }
}

inline void TreeBatch::stop_by(const Stop& stop) {
  stop_.set(stop);
  if (propagation_.has_value()) propagation_->stop_by(stop);
}

inline void TreeBatch::collect(std::size_t clique, std::size_t block) {
  gather_inputs(clique, block);
  outputs_.push_back({offsets_in_view(clique, 0), up_.data() + message_begin_[clique]});
  sweep_runs(beliefs_[clique].views[beliefs_[clique].view]);
}

/// With its own message from above in place: joints of the wanted slots hosted here, and messages to the children that
/// lead to wanted ones.
inline void TreeBatch::distribute(std::size_t clique, std::size_t block) {
  static constexpr double smallest = 1e-300;  // below it a message counts as zero, and meets zeros only
  gather_inputs(clique, block);
  const Clique& place = shape(clique);
  if (clique != top_) inputs_.push_back({offsets_in_view(clique, 0), down_.data() + message_begin_[clique]});
  for (std::size_t i = 0; i < place.children.size(); ++i) {
    const std::size_t child = place.children[i];
    if (wanted_in_[child] == 0) continue;
    double* const message = down_.data() + message_begin_[child];
    std::fill(message, down_.data() + message_end(child), 0.0);
    outputs_.push_back({offsets_in_view(clique, 1 + i), message});
  }
  for (const std::size_t m : marks_at_[clique]) {
    const Mark& mark = marks_[m];
    if (!mark.wanted) continue;
    const auto at = std::find(place.slots.begin(), place.slots.end(), mark.slot);
    const std::size_t operand = 1 + place.children.size() + static_cast<std::size_t>(at - place.slots.begin());
    double* const joint = joints_.data() + mark.joints_begin + block * lanes * states_of(mark.slot);
    std::fill(joint, joint + lanes * states_of(mark.slot), 0.0);
    outputs_.push_back({offsets_in_view(clique, operand), joint});
  }
  const View& view = beliefs_[clique].views[beliefs_[clique].view];
  if (clique == top_) outputs_.push_back({zeros_.data(), expectations_.data() + block * lanes});
  if (clique == top_ && outputs_.size() == 1) {
    sweep_runs(view);
  } else {
    sweep(view.values);
  }
  for (const std::size_t child : place.children) {
    if (wanted_in_[child] == 0 || weighed_in_[child] == 0) continue;
    for (std::size_t i = message_begin_[child]; i < message_end(child); ++i) {
      down_[i] = up_[i] < smallest ? 0.0 : down_[i] / up_[i];
    }
  }
}

inline void TreeBatch::run() {
  span_tree();
  const std::size_t blocks = (products_ + lanes - 1) / lanes;
  expectations_.assign(blocks * lanes, 0.0);
  if (wanted_in_[0] > 0) down_.resize(up_.size());
  for (const std::size_t clique : region_) choose_view(clique);
  for (std::size_t block = 0; block < blocks; ++block) {
    stop_.check();
    for (std::size_t i = region_.size(); i-- > 1;) {
      if (weighed_in_[region_[i]] > 0) collect(region_[i], block);
    }
    for (std::size_t i = 0; i < region_.size(); ++i) {
      if (i == 0 || wanted_in_[region_[i]] > 0) distribute(region_[i], block);
    }
  }
}

}  // namespace faultodds::detail

#include "faultodds/inference/junction_tree/tree_beliefs.ipp"

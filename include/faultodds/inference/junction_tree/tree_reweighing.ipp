// Bodies of tree_reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <utility>

#include "faultodds/inference/junction_tree/tree_reweighing.hpp"
#include "faultodds/inference/network/factor.hpp"

namespace faultodds::detail {

inline TreeReweighing::TreeReweighing(Propagation propagation, std::span<const Finding> findings)
    : propagation_(std::move(propagation)), findings_(findings), beliefs_(propagation_.tree().nodes().size()) {
  const JunctionTree& tree = propagation_.tree();
  std::size_t total = 0;
  for (std::size_t c = 0; c < beliefs_.size(); ++c) {
    message_begin_.push_back(total);
    total += count_entries(shape(c).separator, tree.state_counts()) * lanes;
    beliefs_[c].offsets.resize(1 + shape(c).children.size() + shape(c).slots.size());
  }
  up_.resize(total);
  mark_of_.assign(tree.state_counts().size(), no_slot);
  weighed_in_.assign(beliefs_.size(), 0);
  wanted_in_.assign(beliefs_.size(), 0);
  marks_at_.resize(beliefs_.size());
}

inline std::size_t TreeReweighing::message_end(std::size_t clique) const {
  return clique + 1 < message_begin_.size() ? message_begin_[clique + 1] : up_.size();
}

inline bool TreeReweighing::in_one_clique(std::span<const std::size_t> variables) const {
  const JunctionTree& tree = propagation_.tree();
  return std::any_of(tree.nodes().begin(), tree.nodes().end(), [&](const JunctionTree::Node& node) {
    const std::vector<std::size_t>& slots = node.shape.slots;
    return std::all_of(variables.begin(), variables.end(), [&](std::size_t variable) {
      return std::binary_search(slots.begin(), slots.end(), tree.slot_of()[variable]);
    });
  });
}

inline std::vector<double> TreeReweighing::joint_in_clique(std::span<const std::size_t> variables) {
  std::vector<std::size_t> scope;
  for (const std::size_t variable : variables) scope.push_back(propagation_.tree().slot_of()[variable]);
  return propagation_.joint_in_clique(scope);
}

inline std::span<const double> TreeReweighing::posterior(std::size_t variable) {
  return propagation_.marginal(propagation_.tree().slot_of()[variable]);
}

inline double TreeReweighing::expectation_alone(std::span<const Reweighing::Weights> weights) {
  if (!alone_.has_value()) alone_.emplace(propagation_, findings_);
  alone_->stop_by(stop_.get());
  return alone_->expectation(weights);
}

inline void TreeReweighing::give(std::span<const Reweighing::Weights> weights) {
  give_weights(propagation_, findings_, weights, given_);
  for (Belief& belief : beliefs_) {
    belief.current = false;
    for (View& view : belief.views) view.current = false;
  }
  start(0);
}

inline void TreeReweighing::start(std::size_t products) {
  products_ = products;
  for (const Mark& mark : marks_) {
    mark_of_[mark.slot] = no_slot;
    marks_at_[propagation_.tree().host_of(mark.slot)].clear();
  }
  marks_.clear();
  weights_.clear();
  joints_.clear();
  spanned_ = false;
}

inline TreeReweighing::Mark& TreeReweighing::mark(std::size_t variable) {
  const std::size_t slot = propagation_.tree().slot_of()[variable];
  if (mark_of_[slot] == no_slot) {
    mark_of_[slot] = marks_.size();
    marks_at_[propagation_.tree().host_of(slot)].push_back(marks_.size());
    marks_.push_back({slot});
    spanned_ = false;
  }
  return marks_[mark_of_[slot]];
}

inline void TreeReweighing::weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
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

inline void TreeReweighing::want(std::size_t variable) {
  Mark& at = mark(variable);
  if (at.wanted) return;
  at.wanted = true;
  at.joints_begin = joints_.size();
  joints_.resize(joints_.size() + (products_ + lanes - 1) / lanes * lanes * states_of(at.slot));
  spanned_ = false;
}

inline double TreeReweighing::joint(std::size_t product, std::size_t variable, std::size_t state) const {
  const std::size_t slot = propagation_.tree().slot_of()[variable];
  const std::size_t block = product / lanes;
  return joints_[marks_[mark_of_[slot]].joints_begin + (block * states_of(slot) + state) * lanes + product % lanes];
}

/// Finds the cliques that join the hosts of all marked slots.
inline void TreeReweighing::span_tree() {
  if (spanned_) return;
  spanned_ = true;
  std::fill(weighed_in_.begin(), weighed_in_.end(), 0U);
  std::fill(wanted_in_.begin(), wanted_in_.end(), 0U);
  for (const Mark& mark : marks_) {
    const std::size_t host = propagation_.tree().host_of(mark.slot);
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

inline bool TreeReweighing::fits() {
  static constexpr double max_entries = 1 << 23;
  span_tree();
  double entries = 0.0;
  for (const std::size_t c : region_) entries += entries_of(shape(c).slots, propagation_.tree().state_counts());
  return entries <= max_entries;
}

/// For every entry of a clique, zeros included: the number of the entry of `scope` that it belongs to.
inline std::vector<std::uint32_t> TreeReweighing::all_offsets(std::size_t clique,
                                                              std::span<const std::size_t> scope) const {
  std::vector<std::uint32_t> offsets{0};
  std::vector<std::uint32_t> longer;
  for (const std::size_t slot : shape(clique).slots) {
    const std::size_t states = states_of(slot);
    std::size_t stride = 0;
    if (const auto at = std::find(scope.begin(), scope.end(), slot); at != scope.end()) {
      stride = 1;
      for (auto after = at + 1; after != scope.end(); ++after) stride *= states_of(*after);
    }
    longer.clear();
    longer.reserve(offsets.size() * states);
    for (const std::uint32_t offset : offsets) {
      for (std::size_t s = 0; s < states; ++s) longer.push_back(offset + static_cast<std::uint32_t>(s * stride));
    }
    std::swap(offsets, longer);
  }
  return offsets;
}

inline const TreeReweighing::Belief& TreeReweighing::belief(std::size_t clique) {
  Belief& belief = beliefs_[clique];
  if (belief.current) return belief;
  const std::vector<double> all = propagation_.joint_of_clique(clique, shape(clique).slots);
  if (belief.entries.empty()) {  // without given weights, which only take entries away
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (all[i] > 0.0 || !given_.empty()) belief.entries.push_back(static_cast<std::uint32_t>(i));
    }
  }
  const std::uint32_t* const separator = offsets_of(clique, 0);
  std::vector<double> sums((message_end(clique) - message_begin_[clique]) / lanes, 0.0);
  belief.joint.resize(belief.entries.size());
  belief.conditional.resize(belief.entries.size());
  for (std::size_t i = 0; i < belief.joint.size(); ++i) {
    belief.joint[i] = all[belief.entries[i]];
    sums[separator[i] / lanes] += belief.joint[i];
  }
  for (std::size_t i = 0; i < belief.joint.size(); ++i) {
    const double sum = sums[separator[i] / lanes];
    belief.conditional[i] = sum > 0.0 ? belief.joint[i] / sum : 0.0;
  }
  belief.current = true;
  return belief;
}

inline const std::uint32_t* TreeReweighing::offsets_of(std::size_t clique, std::size_t operand) {
  Belief& belief = beliefs_[clique];
  Offsets& offsets = belief.offsets[operand];
  if (!offsets.empty()) return offsets.data();
  const Clique& here = shape(clique);
  const std::size_t children = here.children.size();
  std::vector<std::size_t> scope = here.separator;
  if (operand > children) {
    scope = {here.slots[operand - 1 - children]};
  } else if (operand > 0) {
    scope = shape(here.children[operand - 1]).separator;
  }
  const std::vector<std::uint32_t> all = all_offsets(clique, scope);
  offsets.reserve(belief.entries.size());
  for (const std::uint32_t entry : belief.entries) offsets.push_back(all[entry] * static_cast<std::uint32_t>(lanes));
  return offsets.data();
}

/// The slots of a clique that the run meets decide on its view.
inline void TreeReweighing::choose_view(std::size_t clique) {
  const Clique& here = shape(clique);
  std::vector<std::size_t> kept;
  if (clique != top_) kept = here.separator;
  for (const std::size_t child : here.children) {
    if (weighed_in_[child] + wanted_in_[child] == 0) continue;
    kept.insert(kept.end(), shape(child).separator.begin(), shape(child).separator.end());
  }
  for (const std::size_t m : marks_at_[clique]) kept.push_back(marks_[m].slot);
  std::sort(kept.begin(), kept.end());
  kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
  static_cast<void>(belief(clique));
  std::vector<View>& views = beliefs_[clique].views;
  const auto same = std::find_if(views.begin(), views.end(), [&](const View& view) {
    return view.of_joint == (clique == top_) && view.kept == kept;
  });
  beliefs_[clique].view = static_cast<std::size_t>(same - views.begin());
  if (same == views.end()) views.push_back(make_view(clique, std::move(kept)));
  fill_view(clique);
}

inline TreeReweighing::View TreeReweighing::make_view(std::size_t clique, std::vector<std::size_t> kept) {
  static constexpr std::uint32_t nowhere = 0xffffffffU;
  const Belief& belief = beliefs_[clique];
  View view;
  view.of_joint = clique == top_;
  view.offsets.resize(belief.offsets.size());
  const std::vector<std::uint32_t> all = all_offsets(clique, kept);
  std::vector<std::uint32_t> number(static_cast<std::size_t>(all.back()) + 1, nowhere);
  for (std::size_t i = 0; i < belief.entries.size(); ++i) {
    std::uint32_t& at = number[all[belief.entries[i]]];
    if (at != nowhere) continue;
    at = static_cast<std::uint32_t>(i);
    view.sample.push_back(at);
  }
  const std::uint32_t* const separator = view.of_joint ? zeros_for(clique) : offsets_of(clique, 0);
  std::stable_sort(view.sample.begin(), view.sample.end(),
                   [separator](std::uint32_t a, std::uint32_t b) { return separator[a] < separator[b]; });
  for (std::size_t e = 0; e < view.sample.size(); ++e) {
    if (e == 0 || separator[view.sample[e]] != separator[view.sample[e - 1]]) {
      view.runs.push_back(static_cast<std::uint32_t>(e));
    }
    number[all[belief.entries[view.sample[e]]]] = static_cast<std::uint32_t>(e);
  }
  view.runs.push_back(static_cast<std::uint32_t>(view.sample.size()));
  view.place.reserve(belief.entries.size());
  for (const std::uint32_t entry : belief.entries) view.place.push_back(number[all[entry]]);
  view.kept = std::move(kept);
  return view;
}

inline void TreeReweighing::fill_view(std::size_t clique) {
  const Belief& belief = beliefs_[clique];
  View& view = beliefs_[clique].views[belief.view];
  if (view.current) return;
  view.current = true;
  const std::vector<double>& from = view.of_joint ? belief.joint : belief.conditional;
  view.values.assign(view.sample.size(), 0.0);
  for (std::size_t i = 0; i < from.size(); ++i) view.values[view.place[i]] += from[i];
}

/// Offsets of an operand with one entry.
inline const std::uint32_t* TreeReweighing::zeros_for(std::size_t clique) {
  zeros_.resize(std::max(zeros_.size(), beliefs_[clique].entries.size()), 0U);
  return zeros_.data();
}

inline const std::uint32_t* TreeReweighing::offsets_in_view(std::size_t clique, std::size_t operand) {
  const std::uint32_t* const full = offsets_of(clique, operand);
  View& view = beliefs_[clique].views[beliefs_[clique].view];
  Offsets& offsets = view.offsets[operand];
  if (offsets.empty()) {
    for (const std::uint32_t entry : view.sample) offsets.push_back(full[entry]);
  }
  return offsets.data();
}

/// For every entry: its value and all inputs multiplied are added to all outputs, lane by lane.
inline void TreeReweighing::sweep(std::span<const double> values) const {
  using Eight = Eigen::Array<double, static_cast<int>(lanes), 1>;
  for (std::size_t i = 0; i < values.size(); ++i) {
    Eight product = Eight::Constant(values[i]);
    for (const Input& input : inputs_) product *= Eigen::Map<const Eight>(input.values + input.offsets[i]);
    for (const Output& output : outputs_) Eigen::Map<Eight>(output.values + output.offsets[i]) += product;
  }
}

/// The same if the only output depends on the separator, whose entries are overwritten: one that no run meets is
/// zero and stays so.
inline void TreeReweighing::sweep_runs(const View& view) const {
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
inline void TreeReweighing::gather_inputs(std::size_t clique, std::size_t block) {
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

inline void TreeReweighing::stop_by(const Stop& stop) {
  stop_.set(stop);
  propagation_.stop_by(stop);
}

inline void TreeReweighing::collect(std::size_t clique, std::size_t block) {
  gather_inputs(clique, block);
  outputs_.push_back({offsets_in_view(clique, 0), up_.data() + message_begin_[clique]});
  sweep_runs(beliefs_[clique].views[beliefs_[clique].view]);
}

/// With its own message from above in place: joints of the wanted slots hosted here, and messages to the children that
/// lead to wanted ones.
inline void TreeReweighing::distribute(std::size_t clique, std::size_t block) {
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

inline void TreeReweighing::run() {
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

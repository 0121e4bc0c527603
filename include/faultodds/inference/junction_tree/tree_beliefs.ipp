// Bodies of tree_reweighing.hpp: the beliefs of cliques, and what a run looks at of them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>

#include "faultodds/inference/junction_tree/tree_reweighing.hpp"
#include "faultodds/inference/junction_tree/walk.hpp"
#include "faultodds/inference/network/factor.hpp"

namespace faultodds::detail {

/// For every entry of a clique, zeros included: the number of the entry of `scope` that it belongs to.
inline std::vector<std::uint32_t> TreeBatch::all_offsets(std::size_t clique, std::span<const std::size_t> scope) const {
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

/// Entries that are possible without findings.
inline void TreeBatch::list_entries(std::size_t clique) {
  Belief& belief = beliefs_[clique];
  belief.has_entries = true;
  const JunctionTree::Node& node = propagation_->tree().nodes()[clique];
  std::span<const std::size_t> states = propagation_->tree().state_counts();
  const Form form = dense_form(node.shape.slots, states);
  std::vector<std::size_t> of_lane = lane_entries(node.layout, form, states);
  of_lane.resize(count_entries(node.layout.inner, states));
  const std::vector<std::uint32_t> of_block = block_entries(node.layout, form, states);
  std::vector<std::pair<std::uint32_t, std::uint32_t>> found;  // number among all, place among the blocks
  for (std::size_t block = 0; block < of_block.size(); ++block) {
    for (std::size_t lane = 0; lane < of_lane.size(); ++lane) {
      const std::size_t place = block * node.layout.width + lane;
      if (!node.table.empty() && node.table[place] <= 0.0) continue;
      found.emplace_back(of_block[block] + static_cast<std::uint32_t>(of_lane[lane]),
                         static_cast<std::uint32_t>(place));
    }
  }
  std::sort(found.begin(), found.end());
  belief.entries.reserve(found.size());
  belief.source.reserve(found.size());
  for (const auto& [entry, place] : found) {
    belief.entries.push_back(entry);
    belief.source.push_back(place);
  }
}

inline const TreeBatch::Belief& TreeBatch::belief(std::size_t clique) {
  Belief& belief = beliefs_[clique];
  if (belief.current) return belief;
  if (!belief.has_entries) list_entries(clique);
  propagation_->products_of_clique(clique, product_);
  double total = 0.0;
  for (const std::uint32_t place : belief.source) total += product_[place];
  const std::uint32_t* const separator = offsets_of(clique, 0);
  sums_.assign((message_end(clique) - message_begin_[clique]) / lanes, 0.0);
  belief.joint.resize(belief.entries.size());
  belief.conditional.resize(belief.entries.size());
  for (std::size_t i = 0; i < belief.joint.size(); ++i) {
    belief.joint[i] = product_[belief.source[i]] / total;
    sums_[separator[i] / lanes] += belief.joint[i];
  }
  for (std::size_t i = 0; i < belief.joint.size(); ++i) {
    const double sum = sums_[separator[i] / lanes];
    belief.conditional[i] = sum > 0.0 ? belief.joint[i] / sum : 0.0;
  }
  belief.current = true;
  return belief;
}

inline const std::uint32_t* TreeBatch::offsets_of(std::size_t clique, std::size_t operand) {
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
inline void TreeBatch::choose_view(std::size_t clique) {
  const Clique& here = shape(clique);
  std::vector<std::size_t>& kept = kept_;
  kept.clear();
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
  if (same == views.end()) views.push_back(make_view(clique, kept));
  fill_view(clique);
}

inline TreeBatch::View TreeBatch::make_view(std::size_t clique, std::vector<std::size_t> kept) {
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

inline void TreeBatch::fill_view(std::size_t clique) {
  const Belief& belief = beliefs_[clique];
  View& view = beliefs_[clique].views[belief.view];
  if (view.current) return;
  view.current = true;
  const std::vector<double>& from = view.of_joint ? belief.joint : belief.conditional;
  view.values.assign(view.sample.size(), 0.0);
  for (std::size_t i = 0; i < from.size(); ++i) view.values[view.place[i]] += from[i];
}

/// Offsets of an operand with one entry.
inline const std::uint32_t* TreeBatch::zeros_for(std::size_t clique) {
  zeros_.resize(std::max(zeros_.size(), beliefs_[clique].entries.size()), 0U);
  return zeros_.data();
}

inline const std::uint32_t* TreeBatch::offsets_in_view(std::size_t clique, std::size_t operand) {
  const std::uint32_t* const full = offsets_of(clique, operand);
  View& view = beliefs_[clique].views[beliefs_[clique].view];
  Offsets& offsets = view.offsets[operand];
  if (offsets.empty()) {
    for (const std::uint32_t entry : view.sample) offsets.push_back(full[entry]);
  }
  return offsets.data();
}

}  // namespace faultodds::detail

// Bodies of conditioned_reweighing.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <utility>

#include "faultodds/inference/engine/conditioned_reweighing.hpp"

namespace faultodds::detail {

inline ConditionedReweighing::ConditionedReweighing(std::shared_ptr<const ConditionedBranches> branches)
    : branches_(std::move(branches)), kept_(branches_->branches.size()) {
  for (const ConditionedBranch& branch : branches_->branches) shares_.push_back(branch.share);
}

/// The work on the reweighing of a branch that counts, under the weights given.
template <class Work>
void ConditionedReweighing::in_branch(std::size_t branch, const Work& work) {
  stop_.check();
  const ConditionedBranch& of = branches_->branches[branch];
  std::optional<Direct> made;
  std::optional<Direct>& held = of.engine != nullptr ? kept_[branch] : made;
  if (!held.has_value()) {
    const DirectEngine engine = branches_->engine_of(of, stop_.get());
    held = std::visit([&](const auto& one) { return Direct(one.reweighing()); }, engine);
    if (!given_.empty()) std::visit([&](auto& batch) { batch.give(split(branch, given_).others); }, *held);
  }
  std::visit(
      [&](auto& batch) {
        batch.stop_by(stop_.get());
        work(batch);
      },
      *held);
}

inline ConditionedReweighing::Split ConditionedReweighing::split(std::size_t branch,
                                                                 std::span<const Reweighing::Weights> weights) const {
  Split made;
  for (const Reweighing::Weights& one : weights) {
    const std::size_t place = branches_->place_in_cutset[one.variable];
    if (place == no_slot) {
      made.others.push_back(one);
    } else {
      made.factor *= one.of_state[branches_->branches[branch].states[place]];
    }
  }
  return made;
}

/// Shares go with the mass that the weights leave of each branch.
inline void ConditionedReweighing::give(std::span<const Reweighing::Weights> weights) {
  given_.clear();
  for (std::optional<Direct>& kept : kept_) {
    if (kept.has_value()) std::visit([](auto& batch) { batch.give({}); }, *kept);
  }
  double sum = 0.0;
  for (std::size_t b = 0; b < shares_.size(); ++b) {
    const Split parts = split(b, weights);
    shares_[b] = branches_->branches[b].share * parts.factor;
    if (!(shares_[b] > 0.0)) continue;
    if (!parts.others.empty()) {
      in_branch(b, [&](auto& batch) { shares_[b] *= batch.expectation_alone(parts.others); });
    }
    sum += shares_[b];
  }
  for (double& share : shares_) share = sum > 0.0 ? share / sum : 0.0;
  given_.assign(weights.begin(), weights.end());
  for (std::size_t b = 0; b < shares_.size(); ++b) {
    if (!(shares_[b] > 0.0) || !kept_[b].has_value()) continue;
    std::visit([&](auto& batch) { batch.give(split(b, given_).others); }, *kept_[b]);
  }
  posteriors_.clear();
  start(0);
}

inline void ConditionedReweighing::start(std::size_t products) {
  products_ = products;
  weighed_.clear();
  wanted_.clear();
}

inline void ConditionedReweighing::weigh(std::size_t product, std::size_t variable, std::span<const double> weights) {
  weighed_.push_back({product, variable, {weights.begin(), weights.end()}});
}

inline void ConditionedReweighing::want(std::size_t variable) {
  if (std::find(wanted_.begin(), wanted_.end(), variable) == wanted_.end()) wanted_.push_back(variable);
}

/// Tells a branch what the batch is about, the cutset left out.
template <class Batch>
void ConditionedReweighing::prepare(Batch& batch) {
  batch.start(products_);
  for (const Weighed& one : weighed_) {
    if (branches_->place_in_cutset[one.variable] == no_slot) batch.weigh(one.product, one.variable, one.weights);
  }
  for (const std::size_t variable : wanted_) {
    if (branches_->place_in_cutset[variable] == no_slot) batch.want(variable);
  }
}

inline bool ConditionedReweighing::fits() {
  bool all_fit = true;
  for (std::size_t b = 0; all_fit && b < shares_.size(); ++b) {
    if (!(shares_[b] > 0.0)) continue;
    in_branch(b, [&](auto& batch) {
      prepare(batch);
      all_fit = batch.fits();
    });
  }
  return all_fit;
}

/// By product: its expectation in this branch, with the branch's share and the weights on the cutset.
inline std::vector<double> ConditionedReweighing::factors(std::size_t branch) const {
  std::vector<double> factors(products_, shares_[branch]);
  for (const Weighed& one : weighed_) {
    const std::size_t place = branches_->place_in_cutset[one.variable];
    if (place != no_slot) factors[one.product] *= one.weights[branches_->branches[branch].states[place]];
  }
  return factors;
}

template <class Batch>
void ConditionedReweighing::add_run(Batch& batch, std::size_t branch) {
  prepare(batch);
  batch.run();
  const std::vector<double> factor = factors(branch);
  for (std::size_t p = 0; p < products_; ++p) expectations_[p] += factor[p] * batch.expectation(p);
  for (const std::size_t variable : wanted_) {
    std::vector<double>& joint = joints_.at(variable);
    const std::size_t states = state_count(variable);
    const std::size_t place = branches_->place_in_cutset[variable];
    for (std::size_t p = 0; p < products_; ++p) {
      if (place != no_slot) {
        joint[p * states + branches_->branches[branch].states[place]] += factor[p] * batch.expectation(p);
        continue;
      }
      for (std::size_t s = 0; s < states; ++s) joint[p * states + s] += factor[p] * batch.joint(p, variable, s);
    }
  }
}

inline void ConditionedReweighing::run() {
  expectations_.assign(products_, 0.0);
  joints_.clear();
  for (const std::size_t variable : wanted_) joints_[variable].assign(products_ * state_count(variable), 0.0);
  for (std::size_t b = 0; b < shares_.size(); ++b) {
    if (shares_[b] > 0.0) in_branch(b, [&](auto& batch) { add_run(batch, b); });
  }
}

inline double ConditionedReweighing::expectation_alone(std::span<const Reweighing::Weights> weights) {
  double sum = 0.0;
  for (std::size_t b = 0; b < shares_.size(); ++b) {
    const Split parts = split(b, weights);
    const double share = shares_[b] * parts.factor;
    if (share > 0.0) in_branch(b, [&](auto& batch) { sum += share * batch.expectation_alone(parts.others); });
  }
  return sum;
}

inline std::span<const double> ConditionedReweighing::posterior(std::size_t variable) {
  if (given_.empty()) return branches_->marginals[variable];
  const auto [known, is_new] = posteriors_.try_emplace(variable);
  if (is_new) known->second = joint_in_clique(std::array<VariableIndex, 1>{variable});
  return known->second;
}

inline bool ConditionedReweighing::in_one_clique(std::span<const VariableIndex> variables) {
  const std::vector<VariableIndex> outside = branches_->outside_cutset(variables);
  bool in_all = true;
  for (std::size_t b = 0; in_all && b < shares_.size(); ++b) {
    if (shares_[b] > 0.0) in_branch(b, [&](auto& batch) { in_all = batch.in_one_clique(outside); });
  }
  return in_all;
}

inline std::vector<double> ConditionedReweighing::joint_in_clique(std::span<const VariableIndex> variables) {
  const std::vector<VariableIndex> outside = branches_->outside_cutset(variables);
  std::vector<double> joint;
  for (std::size_t b = 0; b < shares_.size(); ++b) {
    if (!(shares_[b] > 0.0)) continue;
    std::vector<double> here{1.0};
    if (!outside.empty()) in_branch(b, [&](auto& batch) { here = batch.joint_in_clique(outside); });
    if (here.empty()) return {};
    joint.resize(branches_->entries_of(variables), 0.0);
    const std::vector<std::size_t> places = branches_->places_in_joint(branches_->branches[b], variables);
    for (std::size_t i = 0; i < here.size(); ++i) joint[places[i]] += shares_[b] * here[i];
  }
  return joint;
}

}  // namespace faultodds::detail

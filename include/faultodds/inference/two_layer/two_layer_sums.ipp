// Bodies of two_layer_sums.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "faultodds/inference/two_layer/effect_sets.hpp"
#include "faultodds/inference/two_layer/two_layer_sums.hpp"

namespace faultodds::detail {

inline SubsetBlock::SubsetBlock(std::shared_ptr<const CompiledTwoLayer> tree)
    : tree_(std::move(tree)), outer_(tree_->chain()) {
  std::size_t total = 0;
  for (const TwoLayerNetwork::Cause& cause : tree_->network().causes) {
    begin_.push_back(total);
    total += cause.weights.size() * lanes;
  }
  weights_.resize(total);
  slopes_.resize(total);
  for (std::size_t g = 0; g < tree_->groups().size(); ++g) inner_.emplace_back(tree_->chain_of(g));
}

inline std::size_t SubsetBlock::states_of(std::size_t cause) const {
  return tree_->network().causes[cause].weights.size();
}

/// The function of a cause whose state is carried.
inline void SubsetBlock::copy_weights(const CauseGroup& group, double* function) {
  const std::size_t states = states_of(group.cause);
  std::copy_n(weights(group.cause), states * lanes, function);
  std::fill(function + states * lanes, function + subsets_of(group.item.state) * lanes, 0.0);
}

inline void SubsetBlock::forward() {
  stop_.check();
  static constexpr std::array<double, lanes> ones{1.0, 1.0, 1.0, 1.0};
  for (std::size_t g = 0; g < inner_.size(); ++g) {
    const CauseGroup& group = tree_->groups()[g];
    if (group.cause != no_slot) copy_weights(group, outer_.function(g));
    if (group.members.empty()) continue;
    for (std::size_t i = 0; i < group.members.size(); ++i) {
      const CauseGroup::Member& member = group.members[i];
      const double* const weights = member.cause == no_slot ? ones.data() : this->weights(member.cause);
      const std::size_t size = member.shares.size() / member.states;
      double* const function = inner_[g].function(i);
      std::fill_n(function, size * lanes, 0.0);
      for (std::size_t s = 0; s < member.states; ++s) {
        for (std::size_t u = 0; u < size; ++u) {
          for (std::size_t lane = 0; lane < lanes; ++lane) {
            function[u * lanes + lane] += member.shares[s * size + u] * weights[s * lanes + lane];
          }
        }
      }
    }
    inner_[g].forward();
    std::copy_n(inner_[g].result(), lanes * subsets_of(group.item.effects), outer_.function(g));
  }
  outer_.forward();
}

inline void SubsetBlock::back() {
  stop_.check();
  static constexpr std::array<double, lanes> ones{1.0, 1.0, 1.0, 1.0};
  outer_.back(ones.data());
  for (std::size_t g = 0; g < inner_.size(); ++g) {
    const CauseGroup& group = tree_->groups()[g];
    if (group.cause != no_slot) {
      std::copy_n(outer_.slope(g), states_of(group.cause) * lanes, slopes_.data() + begin_[group.cause]);
    }
    if (group.members.empty()) continue;
    inner_[g].back(outer_.slope(g));
    for (std::size_t i = 0; i < group.members.size(); ++i) {
      const CauseGroup::Member& member = group.members[i];
      if (member.cause == no_slot) continue;
      const std::size_t size = member.shares.size() / member.states;
      const double* const of_function = inner_[g].slope(i);
      double* const slopes = slopes_.data() + begin_[member.cause];
      std::fill_n(slopes, member.states * lanes, 0.0);
      for (std::size_t s = 0; s < member.states; ++s) {
        for (std::size_t u = 0; u < size; ++u) {
          for (std::size_t lane = 0; lane < lanes; ++lane) {
            slopes[s * lanes + lane] += member.shares[s * size + u] * of_function[u * lanes + lane];
          }
        }
      }
    }
  }
}

inline TwoLayerSums::TwoLayerSums(std::shared_ptr<const CompiledTwoLayer> tree, const Stop& stop)
    : tree_(std::move(tree)) {
  stop_.set(stop);
  begin_.push_back(0);
  for (const TwoLayerNetwork::Cause& cause : tree_->network().causes) {
    begin_.push_back(begin_.back() + cause.weights.size());
  }
  marginals_.resize(begin_.back());
  give({});
}

inline void TwoLayerSums::give(std::span<const Reweighing::Weights> given) {
  const TwoLayerNetwork& network = tree_->network();
  weights_.clear();
  for (const TwoLayerNetwork::Cause& cause : network.causes) {
    weights_.insert(weights_.end(), cause.weights.begin(), cause.weights.end());
  }
  log_evidence_ = network.log_factor;
  for (const Reweighing::Weights& factor : given) {
    const std::size_t cause = slot_of()[factor.variable];
    double sum = 0.0;
    for (std::size_t s = 0; s < factor.of_state.size(); ++s) sum += weights_[begin_[cause] + s] *= factor.of_state[s];
    for (std::size_t s = 0; s < factor.of_state.size(); ++s) weights_[begin_[cause] + s] /= sum;
    log_evidence_ += std::log(sum);
  }
  work_out();
}

inline void TwoLayerSums::work_out() {
  const TwoLayerNetwork& network = tree_->network();
  SubsetBlock block(tree_);
  block.stop_by(stop_.get());
  for (std::size_t c = 0; c < network.causes.size(); ++c) {
    const std::span<const double> of_cause = weights(c);
    for (std::size_t i = 0; i < of_cause.size() * lanes; ++i) block.weights(c)[i] = of_cause[i / lanes];
  }
  block.forward();
  total_ = *block.total();
  log_evidence_ += std::log(total_);
  if (!std::isfinite(log_evidence_)) return;
  block.back();
  for (std::size_t c = 0; c < network.causes.size(); ++c) {
    const bool linked = !network.causes[c].links.empty();
    for (std::size_t s = 0; s < weights(c).size(); ++s) {
      const double share = linked ? block.slopes(c)[s * lanes] / total_ : 1.0;
      marginals_[begin_[c] + s] = weights(c)[s] * share;
    }
  }
}

inline std::optional<TwoLayerSums> two_layer_sums(const Solver& solver, const CaseShape& shape,
                                                  std::span<const Finding> findings, double most, const Stop& stop) {
  if (most <= 0.0) return std::nullopt;
  std::optional<TwoLayerNetwork> network = two_layer_network(solver.model(), shape, findings);
  if (!network.has_value()) return std::nullopt;
  CauseOrder order = cause_order(*network);
  if (!(order.multiplications <= most) || order.bytes > solver.options().memory_limit_bytes) return std::nullopt;
  return TwoLayerSums(std::make_shared<const CompiledTwoLayer>(*std::move(network), std::move(order.groups), stop),
                      stop);
}

}  // namespace faultodds::detail

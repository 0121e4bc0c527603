// Bodies of noisy_entropy.hpp.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "faultodds/decision/exponential_sum.hpp"
#include "faultodds/decision/noisy_entropy.hpp"

namespace faultodds {
namespace detail {

class NoisyEntropy {
 public:
  NoisyEntropy(const Case& current, const NoisyMax& noisy) : reweighing_(current.reweighing()) {
    auto links = reweighing_.acting_links(noisy);
    acting_ = links.has_value();
    if (!acting_) return;
    double leak = 0.0;
    for (std::size_t y = 0; y < noisy.leak.size(); ++y) {
      leak += noisy.leak[y];
      leak_.push_back(y + 1 == noisy.leak.size() ? 1.0 : leak);
      std::vector<Reweighing::Weights> of_y;
      for (const Link* link : *links) weigh(of_y, link->cause, up_to(*link, y));
      if (y + 1 == noisy.leak.size()) {
        for (Reweighing::Weights& weights : of_y) std::fill(weights.of_state.begin(), weights.of_state.end(), 1.0);
      }
      up_to_.push_back(std::move(of_y));
    }
  }

  [[nodiscard]] bool acting() const noexcept { return acting_; }

  double bits() {
    double nats = 0.0;
    for (std::size_t y = 0; y < leak_.size(); ++y) nats -= mean_of_state(y);
    return std::max(0.0, nats / std::numbers::ln2);
  }

 private:
  /// E[P(y | causes) ln P(y | causes)].
  double mean_of_state(std::size_t y) {
    double mean = mean_times_log(y, y);
    if (y == 0) return mean;
    mean -= mean_times_log(y - 1, y);
    if (leak_[y] > 0.0) mean += mean_of_rest(y);
    return mean;
  }

  /// E[C_a ln C_b], for a <= b, so that C_a is zero wherever C_b is.
  double mean_times_log(std::size_t a, std::size_t b) {
    if (leak_[a] == 0.0) return 0.0;
    const double mean = leak_[a] * reweighing_.expectation(up_to_[a]);
    if (mean == 0.0) return 0.0;
    double log = std::log(leak_[b]);
    for (const Reweighing::Weights& weights : up_to_[b]) {
      const std::span<const double> marginal = reweighing_.marginal(weights.variable);
      for (std::size_t s = 0; s < marginal.size(); ++s) {
        if (marginal[s] > 0.0) log += marginal[s] * std::log(weights.of_state[s]);
      }
    }
    return mean * log;
  }

  /// E[C_y (1 - r) ln(1 - r)] with r = C_(y-1) / C_y.
  double mean_of_rest(std::size_t y) {
    const double leak_ratio = leak_[y - 1] / leak_[y];
    if (leak_ratio == 0.0) return 0.0;
    double largest = leak_ratio;  // of r below one
    std::vector<Reweighing::Weights> ratio = up_to_[y];
    for (std::size_t i = 0; i < ratio.size(); ++i) {
      for (std::size_t s = 0; s < ratio[i].of_state.size(); ++s) {
        double& r = ratio[i].of_state[s];
        r = r == 0.0 ? 0.0 : std::min(1.0, up_to_[y - 1][i].of_state[s] / r);
        if (leak_ratio == 1.0 && r < 1.0) largest = largest == 1.0 ? r : std::max(largest, r);
      }
    }
    double mean = -leak_[y - 1] * reweighing_.expectation(up_to_[y - 1]);
    double at_one = 1.0;  // of the sum at r = 1, what the terms leave out
    for (const PowerTerm& term : entropy_terms(largest)) {
      at_one -= term.weight;
      mean += term.weight * std::pow(leak_ratio, term.power) * mean_of_power(y, ratio, term.power);
    }
    if (leak_ratio == 1.0) mean += at_one * mean_of_ones(y, ratio);
    return mean;
  }

  /// E[C_y prod r_i^power], the leak's part of r aside.
  double mean_of_power(std::size_t y, std::span<const Reweighing::Weights> ratio, double power) {
    std::vector<Reweighing::Weights> weights = up_to_[y];
    for (std::size_t i = 0; i < weights.size(); ++i) {
      for (std::size_t s = 0; s < weights[i].of_state.size(); ++s) {
        weights[i].of_state[s] *= std::pow(ratio[i].of_state[s], power);
      }
    }
    return leak_[y] * reweighing_.expectation(weights);
  }

  /// E[C_y; r = 1], the limit of the powers.
  double mean_of_ones(std::size_t y, std::span<const Reweighing::Weights> ratio) {
    std::vector<Reweighing::Weights> weights = up_to_[y];
    for (std::size_t i = 0; i < weights.size(); ++i) {
      for (std::size_t s = 0; s < weights[i].of_state.size(); ++s) {
        if (ratio[i].of_state[s] < 1.0) weights[i].of_state[s] = 0.0;
      }
    }
    return leak_[y] * reweighing_.expectation(weights);
  }

  Reweighing reweighing_;
  bool acting_ = false;
  std::vector<double> leak_;                             // by y: P_leak(<= y)
  std::vector<std::vector<Reweighing::Weights>> up_to_;  // by y: P_i(<= y | cause i)
};

}  // namespace detail

inline std::optional<double> noisy_entropy_bits(const Case& current, std::size_t effect) {
  const auto* noisy = std::get_if<NoisyMax>(&current.model().variable(effect).distribution);
  if (noisy == nullptr) return std::nullopt;
  detail::NoisyEntropy entropy(current, *noisy);
  if (!entropy.acting()) return std::nullopt;
  return entropy.bits();
}

}  // namespace faultodds

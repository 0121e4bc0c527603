// Bodies of noisy_entropy.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/decision/ranking/noisy_entropy.hpp"

namespace faultodds {
namespace detail {

inline NoisyForm::NoisyForm(const NoisyMax& noisy, const std::vector<const Link*>& links, EntropyTerms& terms) {
  double leak = 0.0;
  for (std::size_t y = 0; y < noisy.leak.size(); ++y) {
    const bool last = y + 1 == noisy.leak.size();
    leak += noisy.leak[y];
    leak_.push_back(last ? 1.0 : leak);
    WeightList of_y = up_to(links, y);
    if (last) {
      for (Reweighing::Weights& weights : of_y) std::fill(weights.of_state.begin(), weights.of_state.end(), 1.0);
    }
    up_to_.push_back(std::move(of_y));
  }
  for (std::size_t y = 0; y + 1 < leak_.size(); ++y) add_logs(y);
  for (std::size_t y = 1; y < leak_.size(); ++y) add_rest(y, terms);
}

/// C_y (ln C_y - ln C_(y+1)) - C_y; the last comes from what follows y.
inline void NoisyForm::add_logs(std::size_t y) {
  if (leak_[y] == 0.0) return;
  WeightList logs = up_to_[y];
  for (std::size_t i = 0; i < logs.size(); ++i) {
    for (std::size_t s = 0; s < logs[i].of_state.size(); ++s) {
      const double here = up_to_[y][i].of_state[s];  // zero here means that the product is zero
      logs[i].of_state[s] = here > 0.0 ? std::log(here) - std::log(up_to_[y + 1][i].of_state[s]) : 0.0;
    }
  }
  powers_.push_back({leak_[y] * (std::log(leak_[y]) - std::log(leak_[y + 1]) - 1.0), up_to_[y]});
  add_slope(y, logs);
}

/// C_y times the sum of the logs, as the slope of E[C_y prod (1 + t log_i)] at t = 0. That is a polynomial in t, whose
/// n-th derivative is at most `most` to the n-th, so that the central differences below are off by 1e-13 x most
/// (Fornberg 1988, table 1: order 8).
inline void NoisyForm::add_slope(std::size_t y, const WeightList& logs) {
  static constexpr std::array<double, 4> differences{4.0 / 5.0, -1.0 / 5.0, 4.0 / 105.0, -1.0 / 280.0};
  static constexpr double step = 0.05;
  double most = 0.0;
  for (const Reweighing::Weights& log : logs) {
    most -= *std::min_element(log.of_state.begin(), log.of_state.end());  // none is positive
  }
  if (most == 0.0) return;
  for (std::size_t d = 0; d < differences.size(); ++d) {
    for (const double side : {1.0, -1.0}) {
      Power made{side * differences[d] * leak_[y] * most / step, up_to_[y]};
      const double t = side * static_cast<double>(d + 1) * step / most;
      for (std::size_t i = 0; i < logs.size(); ++i) {
        for (std::size_t s = 0; s < logs[i].of_state.size(); ++s) {
          made.weights[i].of_state[s] *= 1.0 + t * logs[i].of_state[s];
        }
      }
      powers_.push_back(std::move(made));
    }
  }
}

/// r_i of y without the leak's part.
inline NoisyForm::WeightList NoisyForm::ratios(std::size_t y) const {
  WeightList ratio = up_to_[y];
  for (std::size_t i = 0; i < ratio.size(); ++i) {
    for (std::size_t s = 0; s < ratio[i].of_state.size(); ++s) {
      double& r = ratio[i].of_state[s];
      r = r == 0.0 ? 0.0 : std::min(1.0, up_to_[y - 1][i].of_state[s] / r);
    }
  }
  return ratio;
}

/// C_y (r + (1 - r) ln(1 - r)). If no cause acts, r is the leak's part alone, which is taken by itself, since it is
/// the largest r and would need the most terms.
inline void NoisyForm::add_rest(std::size_t y, EntropyTerms& terms) {
  const double leak_ratio = leak_[y] > 0.0 ? leak_[y - 1] / leak_[y] : 0.0;
  if (leak_ratio == 0.0) return;
  const WeightList ratio = ratios(y);
  double largest = 0.0;  // of r if some cause acts
  for (const Reweighing::Weights& of_cause : ratio) {
    for (const double r : of_cause.of_state) {
      if (r < 1.0) largest = std::max(largest, leak_ratio * r);
    }
  }
  double alone = leak_ratio < 1.0 ? leak_ratio + (1.0 - leak_ratio) * std::log1p(-leak_ratio) : 1.0;
  for (const PowerTerm& term : terms.up_to(largest)) {
    const double of_leak = term.weight * std::pow(leak_ratio, term.power);
    alone -= of_leak;
    add_power(y, ratio, term.power, leak_[y] * of_leak);
  }
  Power ones{leak_[y] * alone, up_to_[y]};
  for (std::size_t i = 0; i < ratio.size(); ++i) {
    for (std::size_t s = 0; s < ratio[i].of_state.size(); ++s) {
      if (ratio[i].of_state[s] < 1.0) ones.weights[i].of_state[s] = 0.0;
    }
  }
  powers_.push_back(std::move(ones));
}

inline void NoisyForm::add_power(std::size_t y, const WeightList& ratio, double power, double factor) {
  Power made{factor, up_to_[y]};
  for (std::size_t i = 0; i < ratio.size(); ++i) {
    for (std::size_t s = 0; s < ratio[i].of_state.size(); ++s) {
      made.weights[i].of_state[s] *= std::pow(ratio[i].of_state[s], power);
    }
  }
  powers_.push_back(std::move(made));
}

inline std::vector<double> NoisyForm::measure(BatchedReweighing& batch) const {
  const auto weigh_all = [&batch](std::size_t product, const WeightList& list) {
    for (const Reweighing::Weights& weights : list) batch.weigh(product, weights.variable, weights.of_state);
  };
  batch.start(products());
  const std::size_t last = leak_.size() - 1;
  for (std::size_t y = 0; y < last; ++y) weigh_all(y, up_to_[y]);
  for (std::size_t p = 0; p < powers_.size(); ++p) weigh_all(last + p, powers_[p].weights);
  batch.run();
  std::vector<double> result;
  for (std::size_t y = 0; y < last; ++y) result.push_back(leak_[y] * batch.expectation(y));
  double nats = 0.0;
  for (std::size_t p = 0; p < powers_.size(); ++p) nats += powers_[p].factor * batch.expectation(last + p);
  result.push_back(nats);
  return result;
}

}  // namespace detail

inline std::optional<double> noisy_entropy_bits(const Case& current, std::size_t effect) {
  const auto* noisy = std::get_if<NoisyMax>(&current.model().variable(effect).distribution);
  if (noisy == nullptr) return std::nullopt;
  BatchedReweighing batch = current.batched_reweighing();
  const auto links = detail::acting_links(*noisy, current.findings(), batch.slot_of());
  if (!links.has_value()) return std::nullopt;
  EntropyTerms terms;
  return std::max(0.0, -detail::NoisyForm(*noisy, *links, terms).measure(batch).back() / std::numbers::ln2);
}

}  // namespace faultodds

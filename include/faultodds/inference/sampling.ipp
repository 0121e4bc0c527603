// Body of sampling.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <variant>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/uniform.hpp"
#include "faultodds/inference/sampling.hpp"
#include "faultodds/model/table_row.hpp"

namespace faultodds {
namespace detail {

/// Weighted samples of one model under some findings, and the sums that estimates are made of.
class WeightedSampling {
 public:
  WeightedSampling(const FaultModel& model, std::span<const Finding> findings, std::uint64_t seed)
      : model_(model), findings_of_(model.size(), nullptr), random_(seed), states_(model.size(), 0) {
    for (const Finding& finding : findings) findings_of_[finding.variable] = &finding;
    for (std::size_t v = 0; v < model.size(); ++v) sums_.emplace_back(model.state_count(v));
  }

  void draw() {
    double log_weight = 0.0;
    for (const std::size_t v : model_.topological_order()) log_weight += draw(v);
    add(log_weight);
    ++samples_;
  }

  [[nodiscard]] SampledPosteriors result() const {
    if (weight_ == 0.0) {
      throw ArgumentError("samples", "not one of " + std::to_string(samples_) + " samples agrees with the findings",
                          "ask for more samples, or for exact posteriors");
    }
    SampledPosteriors result;
    for (const std::vector<Sums>& of_states : sums_) {
      std::vector<Estimate>& estimates = result.of_variable.emplace_back();
      for (const Sums& sums : of_states) {
        const double p = sums.weight / weight_;
        // Sum of (w (f - p))^2, where f is one in this state and zero elsewhere.
        const double squares = std::max(0.0, sums.square * (1.0 - 2.0 * p) + p * p * square_);
        estimates.push_back({p, std::sqrt(squares) / weight_});
      }
    }
    const auto n = static_cast<double>(samples_);
    const double mean = weight_ / n;
    const double variance = std::max(0.0, square_ / n - mean * mean) / n;
    result.log_evidence = {std::log(mean) + log_unit_, std::sqrt(variance) / mean};
    result.effective_samples = weight_ * weight_ / square_;
    return result;
  }

 private:
  struct Sums {
    double weight = 0.0;
    double square = 0.0;
  };

  /// Takes the state of a hard finding or draws one from the row of the parents' states. Returns the logarithm of the
  /// weight that the finding of the variable brings.
  double draw(std::size_t v) {
    const std::span<const double> row = row_of(v);
    const Finding* finding = findings_of_[v];
    if (finding != nullptr && finding->state.has_value()) {
      states_[v] = *finding->state;
      return std::log(row[*finding->state]);
    }
    const double at = uniform(random_());
    double up_to = 0.0;
    StateIndex state;
    std::size_t last_possible = 0;
    for (; state < row.size(); ++state) {
      if (row[state] > 0.0) last_possible = state;
      up_to += row[state];
      if (at < up_to) break;
    }
    states_[v] = state < row.size() ? std::size_t{state} : last_possible;  // where rounding left the sum below one
    return finding == nullptr ? 0.0 : std::log(finding->weights[states_[v]]);
  }

  std::span<const double> row_of(std::size_t v) {
    const Distribution& distribution = model_.variable(v).distribution;
    if (const auto* full = std::get_if<FullTable>(&distribution)) {
      std::size_t row = 0;
      for (const VariableIndex parent : full->parents) row = row * model_.state_count(parent) + states_[parent];
      return full->rows.row(row);
    }
    row_.resize(model_.state_count(v));
    fill_row(distribution, std::span<double>(row_), [&](VariableIndex parent) { return states_[parent]; });
    return row_;
  }

  /// Weights are kept relative to the largest so far, which no number of findings can underflow.
  void add(double log_weight) {
    if (log_weight == -std::numeric_limits<double>::infinity()) return;
    if (weight_ == 0.0) log_unit_ = log_weight;
    if (log_weight > log_unit_) rescale(std::exp(log_unit_ - log_weight), log_weight);
    const double weight = std::exp(log_weight - log_unit_);
    weight_ += weight;
    square_ += weight * weight;
    for (std::size_t v = 0; v < states_.size(); ++v) {
      sums_[v][states_[v]].weight += weight;
      sums_[v][states_[v]].square += weight * weight;
    }
  }

  void rescale(double factor, double log_unit) {
    log_unit_ = log_unit;
    weight_ *= factor;
    square_ *= factor * factor;
    for (std::vector<Sums>& of_states : sums_) {
      for (Sums& sums : of_states) {
        sums.weight *= factor;
        sums.square *= factor * factor;
      }
    }
  }

  const FaultModel& model_;
  std::vector<const Finding*> findings_of_;  // by variable
  std::mt19937_64 random_;
  std::vector<std::size_t> states_;      // of the sample at hand
  std::vector<double> row_;              // scratch
  std::vector<std::vector<Sums>> sums_;  // by variable and state
  double weight_ = 0.0;
  double square_ = 0.0;
  double log_unit_ = 0.0;
  std::size_t samples_ = 0;
};

}  // namespace detail

inline SampledPosteriors sample_posteriors(const FaultModel& model, std::span<const Finding> findings,
                                           const SamplingOptions& options, const Stop& stop) {
  static constexpr std::size_t between_looks = 1000;
  if (options.samples == 0)
    throw ArgumentError("samples", "no samples are asked for", "ask for some thousands", ErrorCode::nothing_given);
  if (!model.parts().potentials.empty()) {
    throw ArgumentError("model", "a Markov network cannot be sampled from causes to effects",
                        "use a Solver, or a model whose variables all have probability tables");
  }
  detail::check_findings(model, findings);
  detail::WeightedSampling sampling(model, findings, options.seed);
  for (std::size_t i = 0; i < options.samples; ++i) {
    if (i % between_looks == 0) {
      stop.check();
      stop.report({.of = "samples", .done = i, .total = options.samples});
    }
    sampling.draw();
  }
  return sampling.result();
}

}  // namespace faultodds

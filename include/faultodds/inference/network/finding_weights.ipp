// Bodies of finding_weights.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <variant>

#include "faultodds/inference/network/conditional_row.hpp"
#include "faultodds/inference/network/finding_weights.hpp"

namespace faultodds {
namespace detail {

inline constexpr std::size_t to_be_left_out = not_known - 1;  ///< in place of a state

inline bool is_weight(const FaultModel& model, const CaseShape& shape, std::span<const Finding> findings,
                      const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  if (!finding.state.has_value() || variable.role() == Role::component || variable.role() == Role::context)
    return false;
  const std::vector<VariableIndex>& parents = model.parents(finding.variable);
  if (parents.empty()) return false;
  if (leads_on(model, shape.presence, finding.variable)) return false;
  const auto open =
      std::count_if(parents.begin(), parents.end(), [&](std::size_t parent) { return !known_state(findings, parent); });
  if (open <= 1) return true;
  const auto* noisy = std::get_if<NoisyMax>(&variable.distribution);
  if (noisy == nullptr || *finding.state != 0) return false;
  return std::all_of(noisy->links.begin(), noisy->links.end(), [&](const Link& link) {
    return std::all_of(link.only_when.begin(), link.only_when.end(),
                       [&](const Gate& gate) { return known_state(findings, gate.variable).has_value(); });
  });
}

inline FindingWeights::FindingWeights(FaultModel model, std::span<const std::size_t> state_counts)
    : model_(std::move(model)), begin_{0}, weighed_(state_counts.size(), 0) {
  begin_.reserve(state_counts.size() + 1);
  for (const std::size_t states : state_counts) begin_.push_back(begin_.back() + states);
  weights_.resize(begin_.back());
}

inline void FindingWeights::enter(std::span<const Finding> findings, std::span<const std::size_t> slot_of,
                                  std::span<const Presence> presence) {
  for (const std::size_t slot : slots_) weighed_[slot] = 0;
  slots_.clear();
  factor_ = 1.0;
  exponent_ = 0;
  findings_.clear();
  findings_.reserve(findings.size());
  for (const Finding& finding : findings) findings_.push_back(&finding);
  std::sort(findings_.begin(), findings_.end(),
            [](const Finding* a, const Finding* b) { return a->variable < b->variable; });
  for (const Finding* finding : findings_) {
    const std::size_t v = finding->variable;
    if (slot_of[v] != no_slot) {
      enter_own(*finding, slot_of[v]);
    } else if (presence[v] == Presence::left_out) {
      const std::vector<VariableIndex>& parents = model_.parents(v);
      const auto open =
          std::find_if(parents.begin(), parents.end(), [&](std::size_t p) { return known(p) == nullptr; });
      const bool one = open == parents.end() ||
                       std::all_of(open + 1, parents.end(), [&](std::size_t p) { return known(p) != nullptr; });
      if (one) {
        const std::size_t parent = open == parents.end() ? parents[0] : *open;
        enter_one_parent(*finding, parent, slot_of[parent]);
      } else {
        enter_absent(std::get<NoisyMax>(model_.variable(v).distribution), slot_of);
      }
    }
  }
}

/// The hard finding of a variable; null if there is none.
inline const Finding* FindingWeights::known(std::size_t variable) const {
  const auto found = std::lower_bound(findings_.begin(), findings_.end(), variable,
                                      [](const Finding* finding, std::size_t v) { return finding->variable < v; });
  const bool here = found != findings_.end() && (*found)->variable == variable && (*found)->state.has_value();
  return here ? *found : nullptr;
}

/// One in each state if nothing has spoken of the slot before.
inline double* FindingWeights::weights_of(std::size_t slot) {
  double* const weights = weights_.data() + begin_[slot];
  if (weighed_[slot] != 0) return weights;
  weighed_[slot] = 1;
  slots_.push_back(slot);
  std::fill(weights, weights_.data() + begin_[slot + 1], 1.0);
  return weights;
}

/// Keeps a product of many small numbers within the range of a double.
inline void FindingWeights::scale(std::size_t slot) {
  static constexpr double small = 1e-100;
  const auto begin = weights_.begin() + static_cast<std::ptrdiff_t>(begin_[slot]);
  const auto end = weights_.begin() + static_cast<std::ptrdiff_t>(begin_[slot + 1]);
  const double largest = *std::max_element(begin, end);
  if (largest >= small || largest == 0.0) return;
  const int exponent = std::ilogb(largest);
  for (auto weight = begin; weight != end; ++weight) *weight = std::ldexp(*weight, -exponent);
  exponent_ += exponent;
}

inline void FindingWeights::multiply(double factor) {
  int exponent = 0;
  factor_ = std::frexp(factor_ * factor, &exponent);
  exponent_ += exponent;
}

inline double FindingWeights::log_factor() const {
  if (factor_ == 1.0 && exponent_ == 0) return 0.0;
  return std::log(factor_) + static_cast<double>(exponent_) * std::numbers::ln2;
}

inline void FindingWeights::enter_own(const Finding& finding, std::size_t slot) {
  double* const weights = weights_of(slot);
  for (std::size_t s = 0; s < finding.weights.size(); ++s) weights[s] *= finding.weights[s];
  scale(slot);
}

/// P(finding | state of the parent), the other parents being of known state.
inline void FindingWeights::enter_one_parent(const Finding& finding, std::size_t parent, std::size_t slot) {
  double* const weights = weights_of(slot);
  row_.resize(std::max(row_.size(), finding.weights.size()));
  const std::span<double> row = std::span(row_).first(finding.weights.size());
  for (std::size_t s = 0; s < model_.state_count(parent); ++s) {
    conditional_row(model_, finding.variable, row,
                    [&](std::size_t p) { return p == parent ? s : std::size_t{*known(p)->state}; });
    weights[s] *= row[*finding.state] * finding.weights[*finding.state];
  }
  scale(slot);
}

/// P(effect absent | causes) = leak[0] x prod P_i(0 | cause i).
inline void FindingWeights::enter_absent(const NoisyMax& noisy, std::span<const std::size_t> slot_of) {
  multiply(noisy.leak[0]);
  for (const Link& link : noisy.links) {
    const bool acts = std::all_of(link.only_when.begin(), link.only_when.end(),
                                  [&](const Gate& gate) { return holds(gate, *known(gate.variable)->state); });
    if (!acts) continue;
    double* const weights = weights_of(slot_of[link.cause]);
    for (std::size_t s = 0; s < link.effect.rows(); ++s) weights[s] *= link.effect(s, 0);
    scale(slot_of[link.cause]);
  }
}

}  // namespace detail

inline void leave_out_weights(CaseShape& shape, const FaultModel& model, std::span<const Finding> findings) {
  if (!model.parts().potentials.empty()) return;
  // A mark of its own first: whether one variable goes does not depend on whether another has gone.
  for (const Finding& finding : findings) {
    if (detail::is_weight(model, shape, findings, finding)) shape.known[finding.variable] = detail::to_be_left_out;
  }
  for (const Finding& finding : findings) {
    if (shape.known[finding.variable] != detail::to_be_left_out) continue;
    shape.presence[finding.variable] = Presence::left_out;
    shape.known[finding.variable] = not_known;
  }
}

}  // namespace faultodds

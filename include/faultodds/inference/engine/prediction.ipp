// Bodies of case.hpp: posteriors of all variables, and of those that its form does not hold.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <utility>
#include <variant>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/expansion.hpp"

namespace faultodds {

inline std::vector<std::vector<double>> Case::posteriors() const {
  static constexpr std::size_t at_a_time = 64;  // products
  require_possible();
  std::visit([](auto& engine) { engine.read_all(); }, *engine_);
  std::optional<BatchedReweighing> batch;
  std::vector<std::vector<double>> all(model().size());
  std::vector<OutsideEffect> waiting;
  std::size_t products = 0;
  const auto predict_waiting = [&] {
    std::vector<std::vector<double>> predicted = predict_together(waiting, batch);
    for (std::size_t i = 0; i < waiting.size(); ++i) all[waiting[i].variable] = std::move(predicted[i]);
    waiting.clear();
    products = 0;
  };
  for (std::size_t variable = 0; variable < model().size(); ++variable) {
    if (slot_of()[variable] != no_slot || finding_of(variable) != nullptr) {
      all[variable] = posterior(variable);
    } else if (auto result = predict_from_parents(variable, 0.0); result.has_value()) {
      all[variable] = *std::move(result);
    } else if (auto effect = outside_effect(variable); effect.has_value()) {
      products += effect->noisy->leak.size() - 1;
      waiting.push_back(*std::move(effect));
      if (products >= at_a_time) predict_waiting();
    } else {
      all[variable] = predict(variable);
    }
  }
  predict_waiting();
  return all;
}

/// The posterior of a variable outside the form of the case. Nothing found depends on it, so it follows from its
/// parents.
inline std::vector<double> Case::predict(std::size_t variable) const {
  static constexpr double max_products = 1 << 12;
  if (auto result = predict_from_parents(variable, 0.0); result.has_value()) return *result;
  std::optional<BatchedReweighing> batch;
  if (auto effect = outside_effect(variable); effect.has_value()) {
    return std::move(predict_together(std::array{*std::move(effect)}, batch)[0]);
  }
  if (auto result = predict_from_parents(variable, max_products); result.has_value()) return *result;
  return eliminate_joint(std::array{variable});
}

/// Where the joint of all parents is at hand or takes no more than so many products: sum of P(parents | findings)
/// P(variable | parents).
inline std::optional<std::vector<double>> Case::predict_from_parents(std::size_t variable, double max_products) const {
  static constexpr double max_entries = 1 << 12;
  if (detail::table_entries(model(), variable) > max_entries) return std::nullopt;
  const std::vector<double> parents = joint_of_few(model().parents(variable), max_products);
  if (parents.empty()) return std::nullopt;
  const FullTable table = written_out(model(), variable);
  std::vector<double> result(table.rows.columns(), 0.0);
  for (std::size_t row = 0; row < parents.size(); ++row) {
    for (std::size_t s = 0; s < result.size(); ++s) result[s] += parents[row] * table.rows(row, s);
  }
  return result;
}

/// Nothing if the variable is no noisy-MAX effect, or the case does not settle which of its links act.
inline std::optional<Case::OutsideEffect> Case::outside_effect(std::size_t variable) const {
  const auto* noisy = std::get_if<NoisyMax>(&model().variable(variable).distribution);
  if (noisy == nullptr) return std::nullopt;
  auto links = detail::acting_links(*noisy, findings_, slot_of());
  if (!links.has_value()) return std::nullopt;
  return OutsideEffect{variable, noisy, *std::move(links)};
}

/// P(effect <= y | findings) = E[P_leak(<= y) prod_i P_i(<= y | cause i)], the products of all effects side by side.
/// `batch` is made where it is needed, and may serve many calls.
inline std::vector<std::vector<double>> Case::predict_together(std::span<const OutsideEffect> effects,
                                                               std::optional<BatchedReweighing>& batch) const {
  if (effects.empty()) return {};
  std::size_t products = 0;
  for (const OutsideEffect& effect : effects) products += effect.noisy->leak.size() - 1;
  if (!batch.has_value()) batch.emplace(batched_reweighing());
  batch->start(products);
  std::size_t product = 0;
  for (const OutsideEffect& effect : effects) {
    for (std::size_t y = 0; y + 1 < effect.noisy->leak.size(); ++y, ++product) {
      for (const Reweighing::Weights& weights : detail::up_to(effect.links, y)) {
        batch->weigh(product, weights.variable, weights.of_state);
      }
    }
  }
  const bool fits = batch->fits();
  if (fits) batch->run();
  std::vector<std::vector<double>> results;
  product = 0;
  for (const OutsideEffect& effect : effects) {
    std::vector<double> up_to;
    double leak = 0.0;
    for (std::size_t y = 0; y + 1 < effect.noisy->leak.size(); ++y, ++product) {
      leak += effect.noisy->leak[y];
      up_to.push_back(leak *
                      (fits ? batch->expectation(product) : batch->expectation_alone(detail::up_to(effect.links, y))));
    }
    results.push_back(detail::single_states(up_to));
  }
  return results;
}

}  // namespace faultodds

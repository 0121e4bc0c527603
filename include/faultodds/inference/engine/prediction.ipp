// Bodies of case.hpp: posteriors of all variables, and of those that its form does not hold.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <utility>
#include <variant>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/conditional_row.hpp"
#include "faultodds/inference/network/expansion.hpp"

namespace faultodds {

inline std::vector<std::vector<double>> Case::posteriors() const {
  static constexpr std::size_t at_a_time = 64;  // products
  require_possible();
  std::visit([](auto& engine) { engine.read_all(); }, *engine_);
  std::optional<BatchedReweighing> batch;
  std::vector<std::vector<double>> all(model().size());
  std::vector<Outside> waiting;
  std::size_t products = 0;
  const auto predict_waiting = [&] {
    std::vector<std::vector<double>> predicted = predict_together(waiting, batch);
    for (std::size_t i = 0; i < waiting.size(); ++i) all[waiting[i].variable] = std::move(predicted[i]);
    waiting.clear();
    products = 0;
  };
  for (VariableIndex variable = 0; variable < model().size(); ++variable) {
    if (slot_of()[variable] != no_slot || finding_of(variable) != nullptr) {
      all[variable] = posterior(variable);
    } else if (auto result = predict_from_one(variable); result.has_value()) {
      all[variable] = *std::move(result);
    } else if (auto apart = outside(variable); apart.has_value()) {
      products += apart->products();
      waiting.push_back(*std::move(apart));
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
inline std::vector<double> Case::predict(VariableIndex variable) const {
  static constexpr double max_products = 1 << 12;
  if (auto result = predict_from_one(variable); result.has_value()) return *std::move(result);
  std::optional<BatchedReweighing> batch;
  if (const auto apart = outside(variable); apart.has_value()) {
    return std::move(predict_together(std::span(&*apart, 1), batch)[0]);
  }
  if (auto result = predict_from_parents(variable, max_products); result.has_value()) return *std::move(result);
  return eliminate_joint(std::array{variable});
}

/// Where all parents but one at most are known: sum of P(parent | findings) P(variable | parents).
inline std::optional<std::vector<double>> Case::predict_from_one(VariableIndex variable) const {
  if (std::holds_alternative<Unweighted>(model().variable(variable).distribution)) return std::nullopt;
  std::optional<std::size_t> open;
  for (const std::size_t parent : model().parents(variable)) {
    if (detail::known_state(findings_, parent).has_value()) continue;
    if (open.has_value() || slot_of()[parent] == no_slot) return std::nullopt;
    open = parent;
  }
  std::vector<double> result(model().state_count(variable), 0.0);
  std::size_t state = 0;
  const auto state_of = [&](std::size_t parent) {
    return parent == open ? state : std::size_t{*detail::known_state(findings_, parent)};
  };
  if (!open.has_value()) {
    detail::conditional_row(model(), variable, result, state_of);
    return result;
  }
  std::vector<double> row(result.size());
  for (const std::size_t slot = slot_of()[*open]; state < model().state_count(*open); ++state) {
    detail::conditional_row(model(), variable, row, state_of);
    const double share = std::visit([&](auto& engine) { return engine.marginal(slot)[state]; }, *engine_);
    for (std::size_t s = 0; s < row.size(); ++s) result[s] += share * row[s];
  }
  return result;
}

/// Where the joint of all parents is at hand or takes no more than so many products: sum of P(parents | findings)
/// P(variable | parents).
inline std::optional<std::vector<double>> Case::predict_from_parents(VariableIndex variable,
                                                                     double max_products) const {
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

/// Takes one more parent among those whose joint states are gone through, unless its state is known. False if it has
/// no slot, or there would be too many.
inline bool Case::go_over(Outside& outside, std::size_t parent) const {
  static constexpr std::size_t max_states = 16;
  const std::vector<std::size_t>& over = outside.over;
  if (detail::known_state(findings_, parent).has_value() || std::find(over.begin(), over.end(), parent) != over.end())
    return true;
  outside.over.push_back(parent);
  outside.joint_states *= model().state_count(parent);
  return slot_of()[parent] != no_slot && outside.joint_states <= max_states;
}

/// Nothing if it does not follow from a few products.
inline std::optional<Case::Outside> Case::outside(VariableIndex variable) const {
  const Distribution& distribution = model().variable(variable).distribution;
  if (std::holds_alternative<Unweighted>(distribution)) return std::nullopt;
  if (const auto* noisy = std::get_if<NoisyMax>(&distribution); noisy != nullptr) {
    Outside made{variable, {}, 1, noisy->leak.size() - 1, true};
    const bool few = std::all_of(noisy->links.begin(), noisy->links.end(), [&](const Link& link) {
      return std::all_of(link.only_when.begin(), link.only_when.end(),
                         [&](const Gate& gate) { return go_over(made, gate.variable); }) &&
             (slot_of()[link.cause] != no_slot || (made.over.empty() && !acts(link, made, 0)));
    });
    if (few) return made;
  }
  Outside made{variable, {}, 1, 1, false};
  const std::vector<VariableIndex>& parents = model().parents(variable);
  if (!std::all_of(parents.begin(), parents.end(), [&](std::size_t parent) { return go_over(made, parent); })) {
    return std::nullopt;
  }
  return made;
}

/// The state of a parent in the joint state of this number, the last of them running fastest.
inline std::size_t Case::state_in(const Outside& outside, std::size_t number, std::size_t parent) const {
  if (const std::optional<StateIndex> known = detail::known_state(findings_, parent); known.has_value()) return *known;
  for (std::size_t i = outside.over.size(); outside.over[--i] != parent;)
    number /= model().state_count(outside.over[i]);
  return number % model().state_count(parent);
}

/// Whether a link acts in the joint state of this number.
inline bool Case::acts(const Link& link, const Outside& outside, std::size_t number) const {
  return std::all_of(link.only_when.begin(), link.only_when.end(),
                     [&](const Gate& gate) { return detail::holds(gate, state_in(outside, number, gate.variable)); });
}

/// Calls weigh(product, variable, weights) for all weights of its products.
template <class Weigh>
void Case::weigh_outside(const Outside& outside, Weigh&& weigh) const {
  const auto* noisy = std::get_if<NoisyMax>(&model().variable(outside.variable).distribution);
  std::vector<double> here;
  for (std::size_t number = 0; number < outside.joint_states; ++number) {
    const std::size_t first = number * outside.levels;
    for (const std::size_t parent : outside.over) {
      here.assign(model().state_count(parent), 0.0);
      here[state_in(outside, number, parent)] = 1.0;
      for (std::size_t y = 0; y < outside.levels; ++y) weigh(first + y, parent, here);
    }
    for (std::size_t i = 0; outside.noisy && i < noisy->links.size(); ++i) {
      if (!acts(noisy->links[i], outside, number)) continue;
      for (std::size_t y = 0; y < outside.levels; ++y) {
        weigh(first + y, noisy->links[i].cause, solver_.link_weights().up_to(outside.variable, i, y));
      }
    }
  }
}

/// The same as lists of weights, by product, each variable once.
inline std::vector<std::vector<Reweighing::Weights>> Case::products_of(const Outside& outside) const {
  std::vector<std::vector<Reweighing::Weights>> products(outside.products());
  weigh_outside(outside, [&](std::size_t product, std::size_t variable, std::span<const double> weights) {
    std::vector<Reweighing::Weights>& list = products[product];
    const auto known =
        std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.variable == variable; });
    if (known == list.end()) {
      list.push_back({variable, {weights.begin(), weights.end()}});
    } else {
      for (std::size_t s = 0; s < weights.size(); ++s) known->of_state[s] *= weights[s];
    }
  });
  return products;
}

/// P(effect <= y | findings) = E[P_leak(<= y) prod_i P_i(<= y | cause i)], for each joint state of unknown gates by
/// itself; otherwise the sum of P(parents | findings) P(variable | parents).
inline std::vector<double> Case::read_outside(const Outside& outside, std::span<const double> expectations) const {
  const std::size_t v = outside.variable;
  if (outside.noisy) {
    const std::vector<double>& leak = std::get<NoisyMax>(model().variable(v).distribution).leak;
    std::vector<double> up_to(outside.levels, 0.0);
    for (std::size_t i = 0; i < expectations.size(); ++i) up_to[i % outside.levels] += expectations[i];
    double sum = 0.0;
    for (std::size_t y = 0; y < up_to.size(); ++y) up_to[y] *= sum += leak[y];
    return detail::single_states(up_to);
  }
  std::vector<double> result(model().state_count(v), 0.0);
  std::vector<double> row(result.size());
  for (std::size_t number = 0; number < outside.joint_states; ++number) {
    detail::conditional_row(model(), v, row, [&](std::size_t parent) { return state_in(outside, number, parent); });
    for (std::size_t s = 0; s < row.size(); ++s) result[s] += expectations[number] * row[s];
  }
  return result;
}

/// The products of all variables side by side. `batch` is made where it is needed, and may serve many calls.
inline std::vector<std::vector<double>> Case::predict_together(std::span<const Outside> variables,
                                                               std::optional<BatchedReweighing>& batch) const {
  if (variables.empty()) return {};
  std::size_t products = 0;
  for (const Outside& one : variables) products += one.products();
  if (!batch.has_value()) batch.emplace(batched_reweighing());
  batch->start(products);
  std::size_t first = 0;
  for (const Outside& one : variables) {
    weigh_outside(one, [&](std::size_t product, std::size_t variable, std::span<const double> weights) {
      batch->weigh(first + product, variable, weights);
    });
    first += one.products();
  }
  std::vector<double> expectations;
  if (batch->fits()) {
    batch->run();
    for (std::size_t product = 0; product < products; ++product) expectations.push_back(batch->expectation(product));
  } else {
    for (const Outside& one : variables) {
      for (const std::vector<Reweighing::Weights>& weights : products_of(one)) {
        expectations.push_back(batch->expectation_alone(weights));
      }
    }
  }
  std::vector<std::vector<double>> results;
  first = 0;
  for (const Outside& one : variables) {
    results.push_back(read_outside(one, std::span(expectations).subspan(first, one.products())));
    first += one.products();
  }
  return results;
}

}  // namespace faultodds

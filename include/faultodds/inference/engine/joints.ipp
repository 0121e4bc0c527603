// Bodies of case.hpp: joints of several variables.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <numeric>
#include <type_traits>
#include <utility>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/odometer.hpp"
#include "faultodds/inference/network/variable_elimination.hpp"

namespace faultodds {

namespace detail {

/// P(variables | findings) by variable elimination.
inline std::vector<double> eliminate_joint(const Solver& solver, std::span<const Finding> findings,
                                           std::span<const VariableIndex> variables, const Stop& stop) {
  std::vector<VariableIndex> wanted(variables.begin(), variables.end());
  CaseShape shape = shape_of_case(solver.model(), wanted, findings);
  for (const std::size_t variable : variables) shape.presence[variable] = Presence::present;
  Network network = expand(solver.model(), shape.presence, shape.known);
  for (const Finding& finding : findings) {
    const std::size_t slot = network.slot_of[finding.variable];
    if (slot != no_slot) network.factors.push_back({{slot}, finding.weights});
  }
  std::vector<std::size_t> keep;
  for (const std::size_t variable : variables) keep.push_back(network.slot_of[variable]);
  double log_scale = 0.0;
  Potential table = eliminate(std::move(network.factors), network.state_counts, keep,
                              solver.options().memory_limit_bytes, &log_scale, stop);
  double sum = 0.0;
  for (const double value : table.values) sum += value;
  for (double& value : table.values) value /= sum;
  return std::move(table.values);
}

}  // namespace detail

/// The joint of variables without hard findings if it is at hand or, with engines that say so, if it has no more than
/// so many entries, each of which is a product; otherwise empty.
inline std::vector<double> Case::joint_of_open(std::span<const VariableIndex> variables, double max_products) const {
  std::vector<std::size_t> scope, sizes;
  double entries = 1.0;
  for (const std::size_t variable : variables) {
    scope.push_back(slot_of()[variable]);
    if (scope.back() == no_slot) return {};
    sizes.push_back(model().state_count(variable));
    entries *= static_cast<double>(sizes.back());
  }
  std::vector<double> at_hand = std::visit([&](auto& engine) { return engine.joint(scope); }, *engine_);
  const bool by_products =
      std::visit([](const auto& engine) { return std::decay_t<decltype(engine)>::joint_by_products; }, *engine_);
  if (!at_hand.empty() || !by_products) return at_hand;
  if (entries > max_products) return {};
  BatchedReweighing batch = batched_reweighing();
  batch.start(static_cast<std::size_t>(entries));
  detail::Odometer odometer(sizes);
  for (std::size_t product = 0; product < static_cast<std::size_t>(entries); ++product) {
    for (std::size_t i = 0; i < variables.size(); ++i) {
      std::vector<double> here(sizes[i], 0.0);
      here[odometer.digits()[i]] = 1.0;
      batch.weigh(product, variables[i], here);
    }
    odometer.next();
  }
  if (!batch.fits()) return {};
  batch.run();
  std::vector<double> joint;
  for (std::size_t product = 0; product < static_cast<std::size_t>(entries); ++product) {
    joint.push_back(batch.expectation(product));
  }
  return joint;
}

/// The same for any variables.
inline std::vector<double> Case::joint_of_few(std::span<const VariableIndex> variables, double max_products) const {
  std::vector<VariableIndex> scope;
  std::vector<std::size_t> sizes, strides;  // of the variables without a hard finding
  std::size_t entries = 1;
  std::size_t found_at = 0;  // the entry of all hard findings, the others in their first states
  for (std::size_t i = variables.size(); i-- > 0;) {
    if (const auto found = detail::known_state(findings_, variables[i]); found.has_value()) {
      found_at += *found * entries;
    } else {
      scope.insert(scope.begin(), variables[i]);
      sizes.insert(sizes.begin(), model().state_count(variables[i]));
      strides.insert(strides.begin(), entries);
    }
    entries *= model().state_count(variables[i]);
  }
  std::vector<double> open{1.0};
  if (!scope.empty()) open = joint_of_open(scope, max_products);
  if (open.empty() || scope.size() == variables.size()) return open;
  std::vector<double> joint(entries, 0.0);
  detail::Odometer odometer(std::move(sizes));
  for (const double probability : open) {
    joint[std::inner_product(strides.begin(), strides.end(), odometer.digits().begin(), found_at)] = probability;
    odometer.next();
  }
  return joint;
}

inline std::optional<JointPosterior> Case::joint_at_hand(std::span<const VariableIndex> variables) const {
  require_possible();
  for (std::size_t i = 0; i < variables.size(); ++i) {
    const auto here = variables.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(variables.begin(), here, variables[i]) != here) {
      throw ArgumentError(model().variable(variables[i]).name, "named twice in a joint", "name each variable once",
                          ErrorCode::named_twice);
    }
  }
  for (const std::size_t variable : variables) static_cast<void>(model().variable(variable));  // range check
  static constexpr double max_products = 64.0;
  std::vector<double> probabilities = joint_of_few(variables, max_products);
  if (probabilities.empty()) return std::nullopt;
  return JointPosterior{{variables.begin(), variables.end()}, std::move(probabilities)};
}

inline JointPosterior Case::joint(std::span<const VariableIndex> variables) const {
  static constexpr double max_products = 1 << 12;
  if (auto at_hand = joint_at_hand(variables); at_hand.has_value()) return *std::move(at_hand);
  if (std::vector<double> few = joint_of_few(variables, max_products); !few.empty()) {
    return {{variables.begin(), variables.end()}, std::move(few)};
  }
  return {{variables.begin(), variables.end()}, eliminate_joint(variables)};
}

inline std::vector<double> Case::eliminate_joint(std::span<const VariableIndex> variables) const {
  double bytes = sizeof(double);
  for (const std::size_t variable : variables) bytes *= static_cast<double>(model().state_count(variable));
  if (bytes > solver_.options().memory_limit_bytes) {
    throw TooLarge("the joint of " + std::to_string(variables.size()) + " variables", bytes,
                   solver_.options().memory_limit_bytes, "ask for fewer at once, or for each by itself");
  }
  const auto* conditioned = std::get_if<detail::ConditionedEngine>(&*engine_);
  if (conditioned == nullptr) return detail::eliminate_joint(solver_, findings_, variables, stop());
  std::vector<double> joint;
  for (const detail::ConditionedBranch& branch : conditioned->branches().branches) {
    const std::vector<double> here = detail::eliminate_joint(solver_, branch.findings, variables, stop());
    joint.resize(here.size(), 0.0);
    for (std::size_t i = 0; i < here.size(); ++i) joint[i] += branch.share * here[i];
  }
  return joint;
}

}  // namespace faultodds

// What works a case out: the concept, and the engines there are.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <concepts>
#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/junction_tree/reweighing.hpp"
#include "faultodds/inference/network/finding_weights.hpp"
#include "faultodds/inference/network/relevance.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds::detail {

/// Many products of weights side by side, on the posterior of a case: what BatchedReweighing (which see) asks of an
/// engine, and checks beforehand. Variables are those of the model; each that is named has a slot.
template <class T>
concept BatchEngine = requires(T batch, const T& done, std::size_t number, std::span<const double> weights,
                               std::span<const Reweighing::Weights> given, std::span<const VariableIndex> variables,
                               const Stop& stop) {
  { done.slot_of() } -> std::convertible_to<std::span<const std::size_t>>;
  { done.state_count(number) } -> std::same_as<std::size_t>;
  batch.stop_by(stop);
  batch.give(given);
  batch.start(number);
  batch.weigh(number, number, weights);
  batch.want(number);
  { batch.fits() } -> std::same_as<bool>;
  batch.run();
  { done.expectation(number) } -> std::same_as<double>;
  { done.joint(number, number, number) } -> std::same_as<double>;
  /// E[product of these weights], one at a time, for batches that do not fit; nothing is given.
  { batch.expectation_alone(given) } -> std::same_as<double>;
  { batch.posterior(number) } -> std::convertible_to<std::span<const double>>;
  { batch.in_one_clique(variables) } -> std::same_as<bool>;
  { batch.joint_in_clique(variables) } -> std::same_as<std::vector<double>>;
};

/// One way of working a case out. Copies are independent, so that one belongs to one thread at a time.
template <class T>
concept CaseEngine = std::copyable<T> &&
    requires(T engine, const T& fixed, const CaseShape& shape, std::span<const Finding> findings, std::size_t slot,
             std::span<const std::size_t> slots, const Stop& stop) {
  /// Whether it serves a case of this shape too, once its findings are entered: one that
  /// leave_out_weights() has seen.
  { fixed.serves(shape) } -> std::same_as<bool>;
  /// All findings of the case, in place of those entered before.
  engine.enter(findings);
  engine.stop_by(stop);
  /// By variable of the model: where its marginal is found; no_slot if it has none, because nothing that was found
  /// depends on it.
  { fixed.slot_of() } -> std::convertible_to<std::span<const std::size_t>>;
  /// Natural logarithm of P(findings); minus infinity if they are impossible. What follows needs them possible.
  { engine.log_evidence() } -> std::same_as<double>;
  /// P(state | findings).
  { engine.marginal(slot) } -> std::convertible_to<std::span<const double>>;
  /// All marginals will be asked for.
  engine.read_all();
  /// P(states of these slots | findings), the last running fastest, if it is at hand; otherwise empty.
  { engine.joint(slots) } -> std::same_as<std::vector<double>>;
  /// True if a joint that is not at hand is to be had from products of weights, one for each of its entries.
  { T::joint_by_products } -> std::convertible_to<bool>;
  /// For products of weights.
  { fixed.reweighing() } -> BatchEngine;
};

}  // namespace faultodds::detail

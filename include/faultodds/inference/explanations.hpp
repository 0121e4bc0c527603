// The most probable joint states of some variables: which set of faults explains the findings.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// A joint state, and its probability given the findings.
struct Explanation {
  std::vector<StateIndex> states;  ///< one for each variable of the Explanations it belongs to
  double probability = 0.0;

  bool operator==(const Explanation&) const = default;
};

/// Joint states of `variables`, most probable first.
struct Explanations {
  std::vector<VariableIndex> variables;
  std::vector<Explanation> best;
};

/// A component in one particular unsound state.
struct Fault {
  VariableIndex component;
  StateIndex state;

  bool operator==(const Fault&) const = default;
};

struct ExplainOptions {
  /// Propagations that may be spent. With P the probability of the last explanation asked for and n variables, at most
  /// about n / P are needed.
  std::size_t max_propagations = 200'000;
};

/// The `count` most probable joint states of `variables` given the findings, everything else summed out; fewer if
/// fewer are possible. Empty `variables` mean all components or, in a model without, all variables without a hard
/// finding. Exact: best-first search over partial joint states, each bounded by its own probability. Probabilities that
/// are equal within a relative 1e-11 or so are ordered by their states. Where no junction tree of all `variables` fits
/// into memory, each propagation is a case worked out by whatever engine it has, by conditioning for one. Throws
/// ArgumentError if a variable is named twice or does not exist, and Stopped, saying how far it got, once the
/// propagations are spent, or by `stop`.
[[nodiscard]] Explanations explain(const Case& current, std::span<const VariableIndex> variables, std::size_t count,
                                   const ExplainOptions& options = {}, const Stop& stop = {});

/// The `count` most probable joint states of everything that matters at once: findings, components, context and what
/// they depend on; in a model without components, all variables. By max-product elimination, and for those after the
/// first by partitioning (Nilsson 1998). Throws TooLarge if the tables would exceed the memory limit; a noisy-MAX
/// effect found present must here be written out over all its causes, which `explain` never does. Throws Stopped.
[[nodiscard]] Explanations most_probable_explanations(const Case& current, std::size_t count, const Stop& stop = {});

/// The components among `variables` that are not in their first state, in that order. Throws ArgumentError unless the
/// explanation holds a state of each.
[[nodiscard]] std::vector<Fault> faults_of(const FaultModel& model, std::span<const VariableIndex> variables,
                                           const Explanation& explanation);

}  // namespace faultodds

#include "faultodds/inference/explanations.ipp"

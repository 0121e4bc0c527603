// How the outcome of a test depends on what a case's junction tree holds, as products of weights.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// One product for each outcome but one. E[factor x product, anything] is the joint of that thing with: the outcome;
/// or, if they are cumulative, with any outcome up to it.
struct OutcomeProducts {
  struct Product {
    StateIndex outcome;
    double factor = 1.0;
    std::vector<Reweighing::Weights> weights;
  };
  bool cumulative = false;
  std::size_t outcomes = 0;
  std::size_t left_out = 0;  ///< the outcome without a product, which takes the rest
  std::vector<Product> products;
};

/// For a test in the tree, one whose only parent is in the tree, or a noisy-MAX one with its causes in the tree, if
/// nothing found depends on it. Otherwise nothing.
[[nodiscard]] std::optional<OutcomeProducts> outcome_products(const Case& current, BatchedReweighing& batch,
                                                              VariableIndex test);

/// Turns expectations with each product (each a row of `width` numbers) into those with each outcome, given those
/// with none (`rest`). By outcome a row of `width` numbers.
[[nodiscard]] std::vector<double> by_outcome(const OutcomeProducts& form, const std::vector<double>& of_products,
                                             const std::vector<double>& rest);

}  // namespace faultodds

#include "faultodds/decision/ranking/outcome_products.ipp"

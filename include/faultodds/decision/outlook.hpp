// What the posteriors would be after an outcome that has not been seen yet.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// The case as it would stand with this outcome; nothing where the outcome cannot come. A test on which nothing else
/// hangs and that has one parent is met by a likelihood on the parent, P(outcome | parent), which needs no new plan.
[[nodiscard]] std::optional<Case> after_outcome(const Case& current, std::size_t test, std::size_t outcome,
                                                double probability);

namespace detail {

/// P(outcome | state of the single parent), where the test has one and no children.
inline std::optional<Finding> as_parent_likelihood(const FaultModel& model, std::size_t test, std::size_t outcome) {
  if (model.parents(test).size() != 1 || !model.children(test).empty() || !model.parts().potentials.empty()) {
    return std::nullopt;
  }
  const FullTable table = written_out(model, test);
  Finding finding{table.parents[0], {}, std::nullopt};
  for (std::size_t row = 0; row < table.rows.rows(); ++row) finding.weights.push_back(table.rows(row, outcome));
  return finding;
}

}  // namespace detail

inline std::optional<Case> after_outcome(const Case& current, std::size_t test, std::size_t outcome,
                                         double probability) {
  if (probability <= 0.0) return std::nullopt;
  Case next = current;
  std::optional<Finding> likelihood;
  if (current.finding_of(test) == nullptr) likelihood = detail::as_parent_likelihood(current.model(), test, outcome);
  if (likelihood.has_value()) {
    if (const Finding* known = current.finding_of(likelihood->variable); known != nullptr) {
      for (std::size_t s = 0; s < known->weights.size(); ++s) likelihood->weights[s] *= known->weights[s];
    }
    next.change(std::move(*likelihood));
  } else {
    next.change(detail::set_finding(current.model(), test, std::array{outcome}));
  }
  return next;
}

}  // namespace faultodds

// The belief in hypotheses after tests and repairs, and what a case costs that ends.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"

namespace faultodds::detail {

/// P(outcome | hypothesis); `h` may be the cured state if the table has its row.
inline double outcome_probability(const TestAction& test, std::size_t h, std::size_t outcome) {
  return test.table[h * test.outcomes.size() + outcome];
}

inline std::size_t hypothesis_after(const RepairAction& repair, std::size_t h, std::size_t cured_state) {
  return repair.becomes.empty() || repair.becomes[h] == RepairAction::cured ? cured_state : repair.becomes[h];
}

/// A test is informative if two hypotheses that are possible have different rows.
inline bool tells_something(const TestAction& test, std::span<const double> belief) {
  const std::size_t width = test.outcomes.size();
  std::optional<std::size_t> first;
  for (std::size_t h = 0; h < belief.size(); ++h) {
    if (!(belief[h] > 0.0)) continue;
    if (!first) {
      first = h;
      continue;
    }
    for (std::size_t o = 0; o < width; ++o) {
      if (outcome_probability(test, h, o) != outcome_probability(test, *first, o)) return true;
    }
  }
  return false;
}

inline bool may_work(const RepairAction& repair, std::span<const double> belief) {
  for (std::size_t h = 0; h < repair.success.size(); ++h) {
    if (belief[h] > 0.0 && repair.success[h] > 0.0) return true;
  }
  return false;
}

inline double sum_of(std::span<const double> weights) {
  double sum = 0.0;
  for (const double weight : weights) sum += weight;
  return sum;
}

/// Sum of term(i) for i below `count`, as four sums side by side: the same order always, and no waiting for the one
/// before.
template <class Term>
[[nodiscard]] double sum_in_four(std::size_t count, const Term& term) {
  double sums[4] = {};
  std::size_t i = 0;
  for (; i + 4 <= count; i += 4) {
    for (std::size_t k = 0; k < 4; ++k) sums[k] += term(i + k);
  }
  for (; i < count; ++i) sums[0] += term(i);
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

/// The sum, and the sum of products with the first of `factors`.
inline double quick_sum(std::span<const double> weights) {
  return sum_in_four(weights.size(), [&](std::size_t i) { return weights[i]; });
}
inline double quick_product(std::span<const double> weights, std::span<const double> factors) {
  return sum_in_four(weights.size(), [&](std::size_t i) { return weights[i] * factors[i]; });
}

/// The belief in proportion to `weights`, and their sum.
inline double normalise(std::vector<double>& weights) {
  const double sum = sum_of(weights);
  if (sum > 0.0) {
    for (double& weight : weights) weight /= sum;
  }
  return sum;
}

/// Weights after the outcome of a test, not normalised. The cured state keeps its weight if the test has no row for
/// it, which then is 0.
inline void weigh_outcome(const TestAction& test, std::size_t outcome, std::span<const double> belief,
                          std::span<double> weights) {
  const std::size_t rows = test.table.size() / test.outcomes.size();
  for (std::size_t h = 0; h < belief.size(); ++h) {
    weights[h] = h < rows ? belief[h] * outcome_probability(test, h, outcome) : belief[h];
  }
}

/// Weights after a repair, not normalised: if the verification says cured, and if it says still there.
inline void weigh_repair(const RepairAction& repair, std::span<const double> belief, std::span<double> says_cured,
                         std::span<double> says_still_there) {
  const std::size_t n = repair.success.size();
  std::fill(says_cured.begin(), says_cured.end(), 0.0);
  for (std::size_t h = 0; h < n; ++h) {
    says_cured[h] += belief[h] * (1.0 - repair.success[h]);
    says_cured[hypothesis_after(repair, h, n)] += belief[h] * repair.success[h];
  }
  says_cured[n] += belief[n];
  for (std::size_t h = 0; h <= n; ++h) {
    const double says = h == n ? 1.0 - repair.verification.false_still_there : repair.verification.false_cured;
    says_still_there[h] = says_cured[h] * (1.0 - says);
    says_cured[h] *= says;
  }
}

/// Of handing over, in proportion to the weights, the cured state last; `hand_over` is given.
inline double hand_over_cost(const TroubleshootingProblem& problem, std::span<const double> weights) {
  double cost = problem.ends.hand_over.value() * sum_of(weights);
  for (std::size_t h = 0; h < problem.repair_elsewhere.size(); ++h) cost += weights[h] * problem.repair_elsewhere[h];
  return cost;
}

/// The same if the hypothesis is known.
inline double hand_over_cost(const TroubleshootingProblem& problem, std::size_t h) {
  return problem.ends.hand_over.value() + (h < problem.repair_elsewhere.size() ? problem.repair_elsewhere[h] : 0.0);
}

}  // namespace faultodds::detail

// Variable elimination and factor algebra against sums over all joint states.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/network/variable_elimination.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "faultodds/model/errors.hpp"
#include "support/compare.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using Sizes = std::vector<std::size_t>;

double value_at(const Potential& factor, const Sizes& sizes, const std::vector<std::size_t>& states) {
  std::size_t index = 0;
  for (const std::size_t v : factor.scope) index = index * sizes[v] + states[v];
  return factor.values[index];
}

template <typename Visit>
void for_each_joint_state(const Sizes& sizes, Visit&& visit) {
  std::vector<std::size_t> states(sizes.size(), 0);
  for (;;) {
    visit(states);
    std::size_t v = sizes.size();
    while (v-- > 0) {
      if (++states[v] < sizes[v]) break;
      states[v] = 0;
    }
    if (v == static_cast<std::size_t>(-1)) return;
  }
}

struct Factors {
  Sizes sizes;
  std::vector<std::size_t> all;
  std::vector<Potential> factors;
};

/// Random factors; every variable is in at least one.
Factors random_problem(Dice& dice) {
  Factors problem;
  const std::size_t n = dice.between(1, 7);
  for (std::size_t v = 0; v < n; ++v) {
    problem.sizes.push_back(dice.between(1, 4));
    problem.all.push_back(v);
  }
  const std::size_t count = dice.below(8);
  for (std::size_t f = 0; f < n + count; ++f) {
    Potential factor{f < n ? std::vector<std::size_t>{f} : dice.some_of(problem.all, dice.below(5)), {}};
    factor.values.resize(static_cast<std::size_t>(entries_of(factor.scope, problem.sizes)));
    for (double& value : factor.values) value = dice.chance(0.15) ? 0.0 : dice.uniform();
    problem.factors.push_back(std::move(factor));
  }
  return problem;
}

double product_at(const Factors& problem, const std::vector<std::size_t>& states) {
  double value = 1.0;
  for (const Potential& factor : problem.factors) value *= value_at(factor, problem.sizes, states);
  return value;
}

TEST(VariableElimination, EqualsTheSumOverAllJointStates) {
  for (std::size_t i = 0; i < support::rounds(1500); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(4'000'000 + i);
    const Factors problem = random_problem(dice);
    const std::vector<std::size_t> keep = dice.some_of(problem.all, dice.below(4));
    Potential right{keep, std::vector<double>(static_cast<std::size_t>(entries_of(keep, problem.sizes)), 0.0)};
    for_each_joint_state(problem.sizes, [&](const std::vector<std::size_t>& states) {
      std::size_t index = 0;
      for (const std::size_t v : keep) index = index * problem.sizes[v] + states[v];
      right.values[index] += product_at(problem, states);
    });
    double log_scale = 0.0;
    Potential found = eliminate(problem.factors, problem.sizes, keep, 1e9, &log_scale);
    EXPECT_EQ(found.scope, keep);
    for (double& value : found.values) value *= std::exp(log_scale);
    support::expect_near(found.values, right.values, 1e-12);
    if (HasFailure()) return;
  }
}

TEST(VariableElimination, FindsALargestProduct) {
  for (std::size_t i = 0; i < support::rounds(1500); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(4'100'000 + i);
    const Factors problem = random_problem(dice);
    const std::vector<std::size_t> summed =
        dice.chance(0.5) ? dice.some_of(problem.all, 2) : std::vector<std::size_t>{};
    std::vector<double> sums(static_cast<std::size_t>(entries_of(problem.all, problem.sizes)), 0.0);
    const auto index_of = [&](const std::vector<std::size_t>& states) {
      std::size_t index = 0;
      for (const std::size_t v : problem.all) {
        const bool gone = std::find(summed.begin(), summed.end(), v) != summed.end();
        index = index * problem.sizes[v] + (gone ? 0 : states[v]);
      }
      return index;
    };
    for_each_joint_state(problem.sizes, [&](const std::vector<std::size_t>& states) {
      sums[index_of(states)] += product_at(problem, states);
    });
    const double right = *std::max_element(sums.begin(), sums.end());
    const Maximum found = maximise(problem.factors, problem.sizes, summed, 1e9);
    if (right == 0.0) {
      EXPECT_EQ(found.log_value, -std::numeric_limits<double>::infinity());
      continue;
    }
    EXPECT_NEAR(std::exp(found.log_value), right, 1e-12);
    EXPECT_NEAR(sums[index_of(found.states)], right, 1e-12);
    if (HasFailure()) return;
  }
}

TEST(VariableElimination, RefusesWhatIsTooLargeAndWhatIsNamedTwice) {
  const Sizes sizes(60, 5);
  std::vector<Potential> factors;
  std::vector<std::size_t> all;
  for (std::size_t v = 0; v < 60; ++v) {
    factors.push_back({{v}, std::vector<double>(5, 0.2)});
    all.push_back(v);
  }
  EXPECT_THROW(static_cast<void>(eliminate(factors, sizes, all, 1e12)), TooLarge);
  EXPECT_THROW(static_cast<void>(eliminate(factors, sizes, std::vector<std::size_t>{3, 4, 3}, 1e12)), ArgumentError);
  double log_scale = 1.0;
  EXPECT_EQ(eliminate(factors, sizes, std::vector<std::size_t>{7}, 1e6, &log_scale).values,
            std::vector<double>(5, 1.0));
  EXPECT_NEAR(log_scale, std::log(0.2), 1e-12);
}

TEST(VariableElimination, ThousandsOfSmallFactorsDoNotUnderflow) {
  std::vector<Potential> factors;
  for (int i = 0; i < 5000; ++i) {
    factors.push_back({{0}, {1e-3, 2e-3}});
    factors.push_back({{0}, {2e-3, 1e-3}});
  }
  for (int i = 0; i < 1000; ++i) factors.push_back({{}, {1e-200}});
  double log_scale = 0.0;
  const Potential found = eliminate(std::move(factors), Sizes{2}, std::vector<std::size_t>{0}, 1e6, &log_scale);
  support::expect_near(found.values, {1.0, 1.0}, 1e-9);
  EXPECT_NEAR(log_scale, 10000.0 * std::log(1e-3) + 5000.0 * std::log(2.0) + 1000.0 * std::log(1e-200), 1e-6);
}

TEST(Factor, PartsOfATable) {
  const Sizes sizes = {2, 3, 2};
  const Potential table{{0, 1, 2}, {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}};
  EXPECT_EQ(fix_state(table, 1, 2, sizes), (Potential{{0, 2}, {5, 6, 11, 12}}));
  EXPECT_EQ(sum_out(table, std::vector<std::size_t>{1}, sizes), (Potential{{0, 2}, {9, 12, 27, 30}}));
  EXPECT_EQ(sum_out(table, std::vector<std::size_t>{2, 0}, sizes), (Potential{{1}, {18, 26, 34}}));
  const MaxOut largest = max_out(table, 0, sizes);
  EXPECT_EQ(largest.largest, (Potential{{1, 2}, {7, 8, 9, 10, 11, 12}}));
  EXPECT_EQ(largest.reached_at, std::vector<std::uint32_t>(6, 1));
  Potential weighed = table;
  weigh(weighed, 1, std::vector<double>{1.0, 0.0, 2.0}, sizes);
  EXPECT_EQ(weighed.values, (std::vector<double>{1, 2, 0, 0, 10, 12, 7, 8, 0, 0, 22, 24}));
  const std::vector<Potential> turned = {product(std::vector<Potential>{table}, {2, 0, 1}, sizes)};
  EXPECT_EQ(turned[0].values, (std::vector<double>{1, 3, 5, 7, 9, 11, 2, 4, 6, 8, 10, 12}));
  EXPECT_EQ(product(turned, {0, 1, 2}, sizes), table);
}

}  // namespace

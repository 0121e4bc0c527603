// Elimination orders: what they promise, checked by eliminating once more in the plainest way.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/network/elimination_order.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstddef>
#include <set>
#include <vector>

#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;

using Scopes = std::vector<std::vector<std::size_t>>;
using Sizes = std::vector<std::size_t>;

struct Cost {
  double total = 0.0;    // of the maximal cliques
  double largest = 0.0;  // of all
};

Cost cost_of(const Sizes& sizes, const Scopes& scopes, const std::vector<std::size_t>& order) {
  std::vector<std::set<std::size_t>> neighbours(sizes.size());
  for (const auto& scope : scopes) {
    for (const std::size_t a : scope) neighbours[a].insert(scope.begin(), scope.end());
  }
  std::vector<std::set<std::size_t>> cliques;
  for (const std::size_t v : order) {
    std::set<std::size_t> clique = neighbours[v];
    clique.insert(v);
    for (const std::size_t u : clique) {
      neighbours[u].insert(clique.begin(), clique.end());
      neighbours[u].erase(v);
    }
    cliques.push_back(clique);
  }
  Cost cost;
  for (const auto& clique : cliques) {
    double entries = 1.0;
    for (const std::size_t v : clique) entries *= static_cast<double>(sizes[v]);
    const bool maximal = std::none_of(cliques.begin(), cliques.end(), [&](const auto& other) {
      return other.size() > clique.size() && std::includes(other.begin(), other.end(), clique.begin(), clique.end());
    });
    if (maximal) cost.total += entries;
    cost.largest = std::max(cost.largest, entries);
  }
  return cost;
}

TEST(EliminationOrder, CostsWhatItSaysAndKeepsTheLastLast) {
  for (std::size_t i = 0; i < support::rounds(400); ++i) {
    SCOPED_TRACE("round " + std::to_string(i));
    Dice dice(3'000'000 + i);
    const std::size_t n = dice.between(1, 80);
    Sizes sizes;
    std::vector<std::size_t> all;
    for (std::size_t v = 0; v < n; ++v) {
      sizes.push_back(dice.between(1, 5));
      all.push_back(v);
    }
    Scopes scopes;
    const std::size_t count = dice.below(2 * n);
    for (std::size_t s = 0; s < count; ++s) scopes.push_back(dice.some_of(all, dice.below(4)));
    const std::vector<std::size_t> last =
        dice.chance(0.5) ? dice.some_of(all, dice.below(5)) : std::vector<std::size_t>{};

    const EliminationOrder found =
        find_order(sizes, scopes, last,
                   {.tries = dice.between(1, 8), .seed = i, .steps_per_entry = dice.chance(0.2) ? 500.0 : 0.0});
    std::vector<std::size_t> sorted = found.order;
    std::sort(sorted.begin(), sorted.end());
    EXPECT_EQ(sorted, all);
    for (std::size_t k = 0; k < last.size(); ++k) {
      EXPECT_NE(std::find(last.begin(), last.end(), found.order[n - 1 - k]), last.end());
    }
    const Cost cost = cost_of(sizes, scopes, found.order);
    EXPECT_NEAR(found.total_entries, cost.total, 1e-9 * cost.total);
    EXPECT_EQ(found.largest, cost.largest);
    if (HasFailure()) return;
  }
}

// A graph without holes needs no fill edges: the cliques are those of the graph, whatever the order they are found in.
TEST(EliminationOrder, TreesCostTheirEdges) {
  Dice dice(3'100'000);
  Sizes sizes = {3};
  Scopes scopes;
  double right = 0.0;
  for (std::size_t v = 1; v < 500; ++v) {
    sizes.push_back(dice.between(2, 5));
    scopes.push_back({dice.below(v), v});
    right += static_cast<double>(sizes[scopes.back()[0]] * sizes[v]);
  }
  EXPECT_EQ(find_order(sizes, scopes, {}, {1, 1}).total_entries, right);
}

// A grid of n x n binary variables has treewidth n (Robertson & Seymour 1986): the largest clique has at least 2^(n+1)
// entries, and good orders reach that.
TEST(EliminationOrder, GridsReachTheirTreewidth) {
  for (const std::size_t n : {2U, 3U, 4U, 5U, 6U}) {
    Scopes scopes;
    for (std::size_t r = 0; r < n; ++r) {
      for (std::size_t c = 0; c < n; ++c) {
        if (c + 1 < n) scopes.push_back({r * n + c, r * n + c + 1});
        if (r + 1 < n) scopes.push_back({r * n + c, r * n + n + c});
      }
    }
    EXPECT_EQ(find_order(Sizes(n * n, 2), scopes, {}, {200, 1}).largest, static_cast<double>(std::size_t{2} << n)) << n;
  }
}

TEST(EliminationOrder, SameArgumentsSameOrderAndMoreTriesAreNeverWorse) {
  Dice dice(3'200'000);
  std::vector<std::size_t> all;
  Sizes sizes;
  for (std::size_t v = 0; v < 60; ++v) {
    all.push_back(v);
    sizes.push_back(dice.between(2, 4));
  }
  Scopes scopes;
  for (std::size_t s = 0; s < 90; ++s) scopes.push_back(dice.some_of(all, 3));
  double before = find_order(sizes, scopes, {}, {1, 5}).total_entries;
  for (const std::size_t tries : {2U, 4U, 16U, 64U}) {
    const EliminationOrder found = find_order(sizes, scopes, {}, {tries, 5});
    EXPECT_EQ(found.order, find_order(sizes, scopes, {}, {tries, 5}).order);
    EXPECT_LE(found.total_entries, before);
    before = found.total_entries;
  }
}

TEST(EliminationOrder, NothingToEliminate) {
  EXPECT_TRUE(find_order({}, {}, {}, {3, 1}).order.empty());
  EXPECT_EQ(find_order(Sizes{4}, {}, {}, {3, 1}).total_entries, 4.0);
}

}  // namespace

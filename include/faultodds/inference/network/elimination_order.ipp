// Bodies of elimination_order.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <numeric>
#include <utility>

#include "faultodds/inference/network/elimination_order.hpp"
#include "faultodds/inference/network/greedy_elimination.hpp"

namespace faultodds {
namespace detail {

/// The interaction graph as sorted neighbour lists, for taking off simplicial vertices: on sparse networks of any size
/// that leaves a small core.
class SparseGraph {
 public:
  using Vertices = std::vector<std::size_t>;

  SparseGraph(std::span<const std::size_t> state_counts, std::span<const std::vector<std::size_t>> scopes)
      : state_counts_(state_counts), neighbours_(state_counts.size()), waiting_(state_counts.size()) {
    for (const Vertices& scope : scopes) {
      for (const std::size_t a : scope) {
        neighbours_[a].insert(neighbours_[a].end(), scope.begin(), scope.end());
      }
    }
    for (std::size_t v = 0; v < neighbours_.size(); ++v) {
      Vertices& list = neighbours_[v];
      std::sort(list.begin(), list.end());
      list.erase(std::unique(list.begin(), list.end()), list.end());
      const auto self = std::lower_bound(list.begin(), list.end(), v);
      if (self != list.end() && *self == v) list.erase(self);
    }
  }

  [[nodiscard]] const Vertices& neighbours(std::size_t vertex) const { return neighbours_[vertex]; }
  /// Separators of eliminated cliques that lie wholly among the vertices left, each once.
  [[nodiscard]] std::vector<Vertices> open_separators() const {
    std::vector<Vertices> open;
    for (const Separator& separator : separators_) {
      if (!separator.resolved && !separator.vertices.empty()) open.push_back(separator.vertices);
    }
    std::sort(open.begin(), open.end());
    open.erase(std::unique(open.begin(), open.end()), open.end());
    return open;
  }

  /// Eliminates simplicial vertices where `allowed`, until none is left.
  void take_off(std::vector<bool> allowed, EliminationProgress& progress) {
    Vertices candidates(neighbours_.size());
    std::iota(candidates.rbegin(), candidates.rend(), std::size_t{0});
    std::vector<bool> queued(neighbours_.size(), true);
    while (!candidates.empty()) {
      const std::size_t v = candidates.back();
      candidates.pop_back();
      queued[v] = false;
      if (!allowed[v] || !simplicial(v)) continue;
      allowed[v] = false;
      eliminate(v, progress);
      for (const std::size_t u : separators_.back().vertices) {
        if (queued[u] || !allowed[u]) continue;
        queued[u] = true;
        candidates.push_back(u);
      }
    }
  }

 private:
  /// What an eliminated clique shares with the rest. It is resolved once one of its vertices is eliminated.
  struct Separator {
    Vertices vertices;
    bool resolved = false;
  };

  [[nodiscard]] bool simplicial(std::size_t v) const {
    const Vertices& around = neighbours_[v];
    return std::all_of(around.begin(), around.end(), [&](std::size_t u) {
      const Vertices& list = neighbours_[u];
      if (list.size() < around.size()) return false;
      auto at = list.begin();
      for (const std::size_t w : around) {
        if (w == u) continue;
        at = std::lower_bound(at, list.end(), w);
        if (at == list.end() || *at != w) return false;
      }
      return true;
    });
  }

  /// A clique is not maximal exactly if it equals the separator of one eliminated before.
  void eliminate(std::size_t v, EliminationProgress& progress) {
    Separator separator{std::move(neighbours_[v])};
    bool maximal = true;
    for (const std::size_t s : waiting_[v]) {
      if (separators_[s].resolved) continue;
      separators_[s].resolved = true;
      if (separators_[s].vertices.size() == separator.vertices.size() + 1) maximal = false;
    }
    auto entries = static_cast<double>(state_counts_[v]);
    for (const std::size_t u : separator.vertices) {
      entries *= static_cast<double>(state_counts_[u]);
      neighbours_[u].erase(std::lower_bound(neighbours_[u].begin(), neighbours_[u].end(), v));
      waiting_[u].push_back(separators_.size());
    }
    separators_.push_back(std::move(separator));
    progress.add(v, entries, maximal);
  }

  std::span<const std::size_t> state_counts_;
  std::vector<Vertices> neighbours_;
  std::vector<Separator> separators_;
  std::vector<std::vector<std::size_t>> waiting_;  // by vertex: separators that hold it
};

inline DenseCore make_core(const SparseGraph& graph, std::span<const std::size_t> state_counts,
                           const std::vector<bool>& held_back, const std::vector<std::size_t>& eliminated) {
  std::vector<bool> gone(state_counts.size(), false);
  for (const std::size_t v : eliminated) gone[v] = true;
  DenseCore core;
  std::vector<std::size_t> vertex_of(state_counts.size(), 0);
  for (std::size_t v = 0; v < state_counts.size(); ++v) {
    if (gone[v]) continue;
    vertex_of[v] = core.size();
    core.variables.push_back(v);
    core.states.push_back(static_cast<double>(state_counts[v]));
    core.log_states.push_back(std::max<std::int64_t>(1, std::llround(16.0 * std::log2(core.states.back()))));
    core.held_back.push_back(held_back[v]);
  }
  core.words = (core.size() + word_bits - 1) / word_bits;
  core.rows.assign(core.size() * core.words, 0);
  for (std::size_t i = 0; i < core.size(); ++i) {
    for (const std::size_t u : graph.neighbours(core.variables[i])) set_bit(&core.rows[i * core.words], vertex_of[u]);
  }
  for (const std::vector<std::size_t>& separator : graph.open_separators()) {
    core.separators.resize(core.separators.size() + core.words, 0);
    Word* row = core.separators.data() + core.separators.size() - core.words;
    for (const std::size_t u : separator) set_bit(row, vertex_of[u]);
  }
  return core;
}

/// Searches from one core: single tries, and what they add up to.
class OrderSearch {
 public:
  OrderSearch(const DenseCore& core, EliminationProgress prefix, std::uint64_t seed)
      : prefix_(std::move(prefix)), elimination_(core), size_(core.size()), seed_(seed), dice_(~seed) {
    best_.total = std::numeric_limits<double>::infinity();
  }

  /// Every third try starts from nothing; the others, once there have been some, keep a beginning of the best order.
  void try_once() {
    static constexpr std::array<double, 6> temperatures = {0.02, 0.1, 0.2, 0.3, 0.4, 0.5};
    static constexpr std::size_t first_tries = 20;
    const std::size_t number = tries_++;
    const double temperature = number < 2 ? 0.0 : temperatures[number / 2 % temperatures.size()];
    const bool anew = number < first_tries || number % 3 == 0;
    const std::size_t kept = anew ? 0 : static_cast<std::size_t>(dice_() % size_);
    EliminationProgress progress = prefix_;
    const bool finished =
        elimination_.run({number % 2 == 1, temperature}, SplitMix(seed_ + 0x632be59bd9b4e019U * number),
                         std::span(best_order_).first(kept), best_.total, progress);
    if (number > 0 && !(finished && progress.total < best_.total)) return;
    best_ = std::move(progress);
    best_order_ = elimination_.order();
    steps_to_best_ = elimination_.steps();
  }

  [[nodiscard]] std::size_t tries() const noexcept { return tries_; }

  /// Whether more tries are worth their steps beside what the tables cost, and likely to find something.
  [[nodiscard]] bool worth_going_on(const OrderEffort& effort) const {
    static constexpr double patience = 8.0;
    const double steps = elimination_.steps();
    if (size_ <= 1 || steps > patience * steps_to_best_ + effort.steps_without_success) return false;
    return steps < std::min(effort.max_steps, effort.steps_per_entry * best_.total);
  }

  EliminationProgress take() { return std::move(best_); }

 private:
  EliminationProgress prefix_;
  GreedyElimination elimination_;
  std::size_t size_;
  std::uint64_t seed_;
  SplitMix dice_;
  std::size_t tries_ = 0;
  EliminationProgress best_;
  std::vector<std::size_t> best_order_;  // vertices of the core
  double steps_to_best_ = 0.0;
};

}  // namespace detail

inline EliminationOrder find_order(std::span<const std::size_t> state_counts,
                                   std::span<const std::vector<std::size_t>> scopes, std::span<const std::size_t> last,
                                   const OrderEffort& effort, const Stop& stop) {
  std::vector<bool> held_back(state_counts.size(), false);
  for (const std::size_t v : last) held_back[v] = true;
  std::vector<bool> allowed = held_back;
  allowed.flip();

  detail::SparseGraph graph(state_counts, scopes);
  detail::EliminationProgress prefix;
  graph.take_off(std::move(allowed), prefix);
  const detail::DenseCore core = detail::make_core(graph, state_counts, held_back, prefix.order);
  detail::OrderSearch search(core, std::move(prefix), effort.seed);
  search.try_once();
  while (core.size() > 1 && (search.tries() < effort.tries || search.worth_going_on(effort))) {
    stop.check();
    search.try_once();
  }
  detail::EliminationProgress best = search.take();
  return {std::move(best.order), best.total, best.largest};
}

}  // namespace faultodds

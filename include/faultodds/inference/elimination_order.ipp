// Bodies of elimination_order.hpp.
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <numeric>
#include <utility>

#include "faultodds/inference/elimination_order.hpp"

namespace faultodds {
namespace detail {

/// SplitMix64 (Steele, Lea & Flood 2014): the same numbers on every platform.
class SplitMix {
 public:
  explicit SplitMix(std::uint64_t seed) : state_(seed) {}

  std::uint64_t operator()() {
    state_ += 0x9e3779b97f4a7c15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31U);
  }

 private:
  std::uint64_t state_;
};

/// Elimination so far: which variables, at what cost.
struct EliminationProgress {
  std::vector<std::size_t> order;
  double total = 0.0;
  double largest = 0.0;

  void add(std::size_t variable, double clique_entries, bool maximal) {
    order.push_back(variable);
    if (maximal) total += clique_entries;
    largest = std::max(largest, clique_entries);
  }
};

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

  /// A clique is not maximal exactly where it equals the separator of one eliminated before.
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

/// A set of small numbers as bits.
using Word = std::uint64_t;
inline constexpr std::size_t word_bits = 64;

inline bool has_bit(const Word* row, std::size_t bit) {
  return ((row[bit / word_bits] >> (bit % word_bits)) & 1U) != 0;
}
inline void set_bit(Word* row, std::size_t bit) { row[bit / word_bits] |= Word{1} << (bit % word_bits); }
inline void clear_bit(Word* row, std::size_t bit) { row[bit / word_bits] &= ~(Word{1} << (bit % word_bits)); }

template <typename Visit>
void for_each_bit(Word word, std::size_t base, Visit&& visit) {
  for (; word != 0; word &= word - 1) visit(base + static_cast<std::size_t>(std::countr_zero(word)));
}

/// What is left of the graph after simplicial vertices are gone, renumbered; adjacency in bit rows.
struct DenseCore {
  std::vector<std::size_t> variables;    // by vertex of the core
  std::vector<double> states;            // by vertex
  std::vector<std::int64_t> log_states;  // by vertex: in sixteenths of a bit, so that sums are exact; at least 1
  std::vector<bool> held_back;           // by vertex: to be eliminated last
  std::size_t words = 0;
  std::vector<Word> rows;        // adjacency
  std::vector<Word> separators;  // rows of separators left open by vertices eliminated before

  [[nodiscard]] std::size_t size() const noexcept { return variables.size(); }
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

/// One way of scoring vertices.
struct Scoring {
  bool weighted = false;     // fill edges count by the logarithms of their ends' state counts
  double temperature = 0.0;  // of the noise; zero: none
};

/// One try: eliminates the core in a greedy order with fill counts kept up to date.
class GreedyElimination {
 public:
  /// `core` must outlive this.
  explicit GreedyElimination(const DenseCore& core) : core_(core), words_(core.words) {}

  /// Adds the core's vertices to `progress`. False, leaving it incomplete, once its total exceeds `most`.
  bool run(const Scoring& scoring, SplitMix random, double most, EliminationProgress& progress) {
    start(scoring);
    for (const bool held_back : {false, true}) {
      candidates_.clear();
      for (std::size_t v = 0; v < core_.size(); ++v) {
        if (core_.held_back[v] == held_back) candidates_.push_back(v);
      }
      while (!candidates_.empty()) {
        const std::size_t at = cheapest(scoring, random);
        const std::size_t v = candidates_[at];
        candidates_[at] = candidates_.back();
        candidates_.pop_back();
        eliminate(v, progress);
        if (progress.total > most) return false;
      }
    }
    return true;
  }

 private:
  [[nodiscard]] Word* row(std::size_t v) { return rows_.data() + v * words_; }

  void start(const Scoring& scoring) {
    const std::size_t n = core_.size();
    rows_ = core_.rows;
    if (scoring.weighted) {
      weights_ = core_.log_states;
    } else {
      weights_.assign(n, 1);
    }
    open_.clear();
    for (std::size_t s = 0; s * words_ < core_.separators.size(); ++s) open_.push_back(&core_.separators[s * words_]);
    fill_.assign(n, 0);
    clique_bits_.assign(n, 0);
    keys_.assign(n, 0.0);
    stale_.assign(n, 1);
    for (std::size_t v = 0; v < n; ++v) {
      const Word* around = row(v);
      clique_bits_[v] = core_.log_states[v];
      std::int64_t twice = 0;
      for_each_in(around, [&](std::size_t u) {
        clique_bits_[v] += core_.log_states[u];
        twice += weights_[u] * (weight_of_difference(around, row(u)) - weights_[u]);
      });
      fill_[v] = twice / 2;
    }
  }

  template <typename Visit>
  void for_each_in(const Word* set, Visit&& visit) const {
    for (std::size_t i = 0; i < words_; ++i) for_each_bit(set[i], i * word_bits, visit);
  }

  [[nodiscard]] std::int64_t weight_of_difference(const Word* set, const Word* without) const {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < words_; ++i) {
      for_each_bit(set[i] & ~without[i], i * word_bits, [&](std::size_t u) { sum += weights_[u]; });
    }
    return sum;
  }

  /// Position among the candidates; the first simplicial one if there is any.
  std::size_t cheapest(const Scoring& scoring, SplitMix& random) {
    std::size_t best = 0;
    double best_key = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < candidates_.size(); ++i) {
      const std::size_t v = candidates_[i];
      if (fill_[v] == 0) return i;
      if (stale_[v] != 0) {
        stale_[v] = 0;
        keys_[v] = key(v, scoring, random);
      }
      if (keys_[v] < best_key) {
        best_key = keys_[v];
        best = i;
      }
    }
    return best;
  }

  /// The score; without noise ties go to the smaller clique.
  [[nodiscard]] double key(std::size_t v, const Scoring& scoring, SplitMix& random) const {
    const auto score = static_cast<double>(fill_[v]);
    if (scoring.temperature == 0.0) return score + 1e-9 * static_cast<double>(clique_bits_[v]);
    const double uniform = (static_cast<double>(random() >> 11U) + 0.5) * 0x1.0p-53;
    return std::log(score) - scoring.temperature * std::log(-std::log(uniform));
  }

  /// Joins a and b, which are neighbours of some vertex but not of each other.
  void join(std::size_t a, std::size_t b) {
    Word* row_a = row(a);
    Word* row_b = row(b);
    const std::int64_t edge = weights_[a] * weights_[b];
    std::int64_t only_a = 0;
    std::int64_t only_b = 0;
    for (std::size_t i = 0; i < words_; ++i) {
      const std::size_t base = i * word_bits;
      for_each_bit(row_a[i] & row_b[i], base, [&](std::size_t c) {
        fill_[c] -= edge;
        stale_[c] = 1;
      });
      for_each_bit(row_a[i] & ~row_b[i], base, [&](std::size_t c) { only_a += weights_[c]; });
      for_each_bit(row_b[i] & ~row_a[i], base, [&](std::size_t c) { only_b += weights_[c]; });
    }
    fill_[a] += weights_[b] * only_a;
    fill_[b] += weights_[a] * only_b;
    clique_bits_[a] += core_.log_states[b];
    clique_bits_[b] += core_.log_states[a];
    set_bit(row_a, b);
    set_bit(row_b, a);
  }

  /// Whether the clique of v is more than the separator of one eliminated before; resolves the separators that hold v.
  bool is_maximal(std::size_t v) {
    bool maximal = true;
    for (std::size_t i = 0; i < open_.size();) {
      const Word* separator = open_[i];
      if (!has_bit(separator, v)) {
        ++i;
        continue;
      }
      bool equal = true;
      for (std::size_t w = 0; w < words_ && equal; ++w) equal = (row(v)[w] & ~separator[w]) == 0;
      if (equal) maximal = false;
      open_[i] = open_.back();
      open_.pop_back();
    }
    return maximal;
  }

  void eliminate(std::size_t v, EliminationProgress& progress) {
    const bool maximal = is_maximal(v);
    Word* around = row(v);
    double entries = core_.states[v];
    neighbours_.clear();
    for_each_in(around, [&](std::size_t u) {
      neighbours_.push_back(u);
      entries *= core_.states[u];
    });
    if (fill_[v] != 0) complete(around);
    for (const std::size_t u : neighbours_) {
      fill_[u] -= weights_[v] * (weight_of_difference(row(u), around) - weights_[v]);
      clear_bit(row(u), v);
      clique_bits_[u] -= core_.log_states[v];
      stale_[u] = 1;
    }
    if (!neighbours_.empty()) open_.push_back(around);
    progress.add(core_.variables[v], entries, maximal);
  }

  /// Joins all of `neighbours_`, whose bits are `around`.
  void complete(const Word* around) {
    for (const std::size_t a : neighbours_) {
      for (std::size_t i = a / word_bits; i < words_; ++i) {
        for_each_bit(around[i] & ~row(a)[i], i * word_bits, [&](std::size_t b) {
          if (b > a) join(a, b);
        });
      }
    }
  }

  const DenseCore& core_;
  std::size_t words_;
  std::vector<Word> rows_;  // of an eliminated vertex: its neighbours at that time
  std::vector<std::int64_t> weights_;
  std::vector<std::int64_t> fill_;         // weight of the edges its elimination would add
  std::vector<std::int64_t> clique_bits_;  // log of the table entries of its clique
  std::vector<double> keys_;
  std::vector<char> stale_;  // the score changed since the key was worked out
  std::vector<std::size_t> candidates_;
  std::vector<const Word*> open_;  // separators of eliminated cliques, none of whose vertices is eliminated yet
  std::vector<std::size_t> neighbours_;
};

}  // namespace detail

inline EliminationOrder find_order(std::span<const std::size_t> state_counts,
                                   std::span<const std::vector<std::size_t>> scopes, std::span<const std::size_t> last,
                                   std::size_t tries, std::uint64_t seed) {
  std::vector<bool> held_back(state_counts.size(), false);
  for (const std::size_t v : last) held_back[v] = true;
  std::vector<bool> allowed = held_back;
  allowed.flip();

  detail::SparseGraph graph(state_counts, scopes);
  detail::EliminationProgress prefix;
  graph.take_off(std::move(allowed), prefix);
  const detail::DenseCore core = detail::make_core(graph, state_counts, held_back, prefix.order);

  detail::EliminationProgress best;
  best.total = std::numeric_limits<double>::infinity();
  detail::GreedyElimination elimination(core);
  for (std::size_t i = 0; i < std::max<std::size_t>(tries, 1); ++i) {
    const double temperature = i < 2 ? 0.0 : 0.3 + 0.05 * static_cast<double>(i / 2 % 5);
    detail::EliminationProgress progress = prefix;
    const bool finished = elimination.run({i % 2 == 1, temperature}, detail::SplitMix(seed + 0x632be59bd9b4e019U * i),
                                          best.total, progress);
    if ((finished && progress.total < best.total) || i == 0) best = std::move(progress);
    if (core.size() <= 1) break;
  }
  return {std::move(best.order), best.total, best.largest};
}

}  // namespace faultodds

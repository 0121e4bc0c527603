// Greedy elimination of a graph whose adjacency is rows of bits: one try of the search for an elimination order.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "faultodds/inference/network/uniform.hpp"

namespace faultodds::detail {

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

/// One way of scoring vertices.
struct Scoring {
  bool weighted = false;     // fill edges count by the logarithms of their ends' state counts
  double temperature = 0.0;  // of the noise; zero: none
};

/// Greedy elimination of a core, again and again, with fill counts kept up to date.
class GreedyElimination {
 public:
  /// `core` must outlive this.
  explicit GreedyElimination(const DenseCore& core) : core_(core), words_(core.words) {}

  /// Eliminates the core, first the vertices of `beginning` in their order, then the rest by their scores; adds all to
  /// `progress`. False, leaving it incomplete, once its total exceeds `most`.
  bool run(const Scoring& scoring, SplitMix random, std::span<const std::size_t> beginning, double most,
           EliminationProgress& progress) {
    start(scoring, random);
    for (const std::size_t v : beginning) eliminate(v, progress);
    for (const bool held_back : {false, true}) {
      candidates_.clear();
      for (std::size_t v = 0; v < core_.size(); ++v) {
        if (core_.held_back[v] == held_back && eliminated_[v] == 0) candidates_.push_back(v);
      }
      while (!candidates_.empty()) {
        const std::size_t at = cheapest(scoring);
        const std::size_t v = candidates_[at];
        candidates_[at] = candidates_.back();
        candidates_.pop_back();
        eliminate(v, progress);
        if (progress.total > most) return false;
      }
    }
    return true;
  }

  /// Vertices in the order in which the last run eliminated them.
  [[nodiscard]] const std::vector<std::size_t>& order() const noexcept { return order_; }
  /// Steps of all runs so far, each a few instructions.
  [[nodiscard]] double steps() const noexcept { return static_cast<double>(steps_); }

 private:
  static constexpr std::size_t noise_steps = 40;

  [[nodiscard]] Word* row(std::size_t v) { return rows_.data() + v * words_; }

  void start(const Scoring& scoring, SplitMix& random) {
    const std::size_t n = core_.size();
    rows_ = core_.rows;
    weights_.assign(n, 1);
    if (scoring.weighted) weights_ = core_.log_states;
    open_.clear();
    for (std::size_t s = 0; s * words_ < core_.separators.size(); ++s) open_.push_back(&core_.separators[s * words_]);
    order_.clear();
    eliminated_.assign(n, 0);
    noise_.assign(n, 1.0);
    if (scoring.temperature > 0.0) {
      for (double& factor : noise_) factor = std::pow(-std::log(uniform(random())), -scoring.temperature);
    }
    Fill& first = first_fill_[scoring.weighted ? 1 : 0];
    if (first.missing.size() != n) first = count_fill();
    fill_ = first.missing;
    around_ = first.around;
    clique_bits_ = first.clique_bits;
    steps_ += n * (words_ + noise_steps);
  }

  /// By vertex, before any elimination, under one way of weighing.
  struct Fill {
    std::vector<std::int64_t> missing;      // weight of the edges that are missing among its neighbours
    std::vector<std::int64_t> around;       // weight of its neighbours
    std::vector<std::int64_t> clique_bits;  // log of the table entries of its clique
  };

  [[nodiscard]] Fill count_fill() {
    const std::size_t n = core_.size();
    Fill fill{std::vector<std::int64_t>(n, 0), std::vector<std::int64_t>(n, 0), core_.log_states};
    for (std::size_t v = 0; v < n; ++v) {
      const Word* around = row(v);
      std::int64_t twice = 0;
      for_each_in(around, [&](std::size_t u) {
        fill.around[v] += weights_[u];
        fill.clique_bits[v] += core_.log_states[u];
        twice += weights_[u] * (weight_of_difference(around, row(u)) - weights_[u]);
      });
      fill.missing[v] = twice / 2;
    }
    return fill;
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

  /// Position among the candidates; the first simplicial one if there is any. Without noise ties go to the smaller
  /// clique.
  std::size_t cheapest(const Scoring& scoring) {
    const double tie_breaker = scoring.temperature > 0.0 ? 0.0 : 1e-9;
    std::size_t best = 0;
    double best_key = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < candidates_.size(); ++i) {
      const std::size_t v = candidates_[i];
      if (fill_[v] == 0) {
        steps_ += i;
        return i;
      }
      const double key = static_cast<double>(fill_[v]) * noise_[v] + tie_breaker * static_cast<double>(clique_bits_[v]);
      if (key < best_key) {
        best_key = key;
        best = i;
      }
    }
    steps_ += candidates_.size();
    return best;
  }

  /// Joins a and b, which are neighbours of some vertex but not of each other.
  void join(std::size_t a, std::size_t b) {
    Word* row_a = row(a);
    Word* row_b = row(b);
    const std::int64_t edge = weights_[a] * weights_[b];
    std::int64_t both = 0;
    std::uint64_t shared = 0;
    for (std::size_t i = 0; i < words_; ++i) {
      for_each_bit(row_a[i] & row_b[i], i * word_bits, [&](std::size_t c) {
        fill_[c] -= edge;
        both += weights_[c];
        ++shared;
      });
    }
    fill_[a] += weights_[b] * (around_[a] - both);
    fill_[b] += weights_[a] * (around_[b] - both);
    around_[a] += weights_[b];
    around_[b] += weights_[a];
    clique_bits_[a] += core_.log_states[b];
    clique_bits_[b] += core_.log_states[a];
    set_bit(row_a, b);
    set_bit(row_b, a);
    steps_ += words_ + 2 * shared;
  }

  /// Whether the clique of v is more than the separator of one eliminated before; resolves the separators that hold v.
  bool is_maximal(std::size_t v) {
    bool maximal = true;
    steps_ += open_.size();
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
      // All of `around` are joined now, so what only u has beside them is the rest of what is around u.
      const std::int64_t only_u = around_[u] - weights_[v] - (around_[v] - weights_[u]);
      fill_[u] -= weights_[v] * only_u;
      around_[u] -= weights_[v];
      clear_bit(row(u), v);
      clique_bits_[u] -= core_.log_states[v];
    }
    steps_ += 2 * neighbours_.size() + words_ + core_.size() / 8;
    if (!neighbours_.empty()) open_.push_back(around);
    eliminated_[v] = 1;
    order_.push_back(v);
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
  std::uint64_t steps_ = 0;
  std::vector<Word> rows_;  // of an eliminated vertex: its neighbours at that time
  std::vector<std::int64_t> weights_;
  std::vector<std::int64_t> fill_;         // weight of the edges its elimination would add
  std::vector<std::int64_t> around_;       // weight of its neighbours
  std::vector<std::int64_t> clique_bits_;  // log of the table entries of its clique
  std::array<Fill, 2> first_fill_;         // without weights, with weights
  std::vector<double> noise_;              // factors of the scores
  std::vector<char> eliminated_;
  std::vector<std::size_t> order_;
  std::vector<std::size_t> candidates_;
  std::vector<const Word*> open_;  // separators of eliminated cliques, none of whose vertices is eliminated yet
  std::vector<std::size_t> neighbours_;
};

}  // namespace faultodds::detail

// Probability tables: how a variable depends on its parents.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <concepts>
#include <cstddef>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/model/index.hpp"

namespace faultodds {

/// A matrix of doubles by rows, with value equality.
class Table {
 public:
  Table() = default;
  /// Takes no number in braces for `columns`: `Table(1, {1})` and `Table(1, {0.5})` are tables of these values.
  template <std::integral Columns>
  explicit Table(std::size_t rows, Columns columns, double fill = 0.0)
      : rows_(rows),
        columns_(static_cast<std::size_t>(columns)),
        values_(rows * static_cast<std::size_t>(columns), fill) {}
  /// Takes `values` row by row; its size must be a multiple of `columns`.
  Table(std::size_t columns, std::vector<double> values)
      : rows_(columns == 0 ? 0 : values.size() / columns), columns_(columns), values_(std::move(values)) {}

  [[nodiscard]] std::size_t rows() const noexcept { return rows_; }
  [[nodiscard]] std::size_t columns() const noexcept { return columns_; }
  [[nodiscard]] double& operator()(std::size_t row, std::size_t column) { return values_[row * columns_ + column]; }
  [[nodiscard]] double operator()(std::size_t row, std::size_t column) const {
    return values_[row * columns_ + column];
  }
  [[nodiscard]] std::span<double> row(std::size_t index) { return {values_.data() + index * columns_, columns_}; }
  [[nodiscard]] std::span<const double> row(std::size_t index) const {
    return {values_.data() + index * columns_, columns_};
  }
  [[nodiscard]] const std::vector<double>& values() const noexcept { return values_; }

  bool operator==(const Table&) const = default;

 private:
  std::size_t rows_ = 0;
  std::size_t columns_ = 0;
  std::vector<double> values_;
};

/// P(variable | parents): a row for each configuration of the parents (the last parent runs fastest), a column for
/// each state. Without parents it is one row, the prior.
struct FullTable {
  std::vector<VariableIndex> parents;  ///< indices of variables
  Table rows;

  bool operator==(const FullTable&) const = default;
};

/// A condition on a variable: it is in one of these states.
struct Gate {
  VariableIndex variable;
  std::vector<StateIndex> states;

  bool operator==(const Gate&) const = default;
};

/// One cause of a noisy-MAX effect. `effect` has a row for each state of the cause and a column for each state of the
/// effect: what this cause alone would bring about. Row 0 (cause sound) and rows whose gates are shut leave the effect
/// untouched: they are (1, 0, ..., 0).
struct Link {
  VariableIndex cause;
  Table effect;
  std::vector<Gate> only_when;  ///< the cause acts only when all of these hold
  std::string source;

  bool operator==(const Link&) const = default;
};

/// Noisy-MAX with leak (Henrion 1989; Diez 1993); noisy-OR (Pearl 1988) if the effect has two states. State 0 is
/// "absent": P(effect <= y | causes) = P_leak(<= y) * prod_i P_i(<= y | cause i).
struct NoisyMax {
  std::vector<double> leak;  ///< a probability for each state of the effect
  std::vector<Link> links;

  bool operator==(const NoisyMax&) const = default;
};

/// Deterministic count: state 1 when at least `at_least` of the inputs hold, otherwise state 0. Any: 1; all: their
/// number.
struct CountOf {
  std::vector<Gate> inputs;
  std::size_t at_least = 1;

  bool operator==(const CountOf&) const = default;
};

/// A test that examines one component: outcome 0 is the good one, outcome 1 the bad one.
/// P(bad | sound) = false_alarm; P(bad | fault s) = detection[s - 1].
struct Examination {
  VariableIndex component;
  std::vector<double> detection;  ///< one for each fault state
  double false_alarm = 0.0;

  bool operator==(const Examination&) const = default;
};

/// No conditional table of its own: every state has weight one. Only potentials involve such a variable (Markov
/// networks from interchange files).
struct Unweighted {
  bool operator==(const Unweighted&) const = default;
};

using Distribution = std::variant<FullTable, NoisyMax, CountOf, Examination, Unweighted>;

/// A table of non-negative weights over some variables, the last of them running fastest. Need not be a probability.
struct Potential {
  std::vector<std::size_t> scope;
  std::vector<double> values;

  bool operator==(const Potential&) const = default;
};

/// The variables a distribution depends on, each once, in order of first mention.
[[nodiscard]] std::vector<VariableIndex> parents_of(const Distribution& distribution);

inline std::vector<VariableIndex> parents_of(const Distribution& distribution) {
  std::vector<VariableIndex> parents;
  const auto add = [&parents](VariableIndex variable) {
    for (const std::size_t known : parents) {
      if (known == variable) return;
    }
    parents.push_back(variable);
  };
  if (const auto* full = std::get_if<FullTable>(&distribution)) {
    for (const VariableIndex parent : full->parents) add(parent);
  } else if (const auto* noisy = std::get_if<NoisyMax>(&distribution)) {
    for (const Link& link : noisy->links) {
      add(link.cause);
      for (const Gate& gate : link.only_when) add(gate.variable);
    }
  } else if (const auto* count = std::get_if<CountOf>(&distribution)) {
    for (const Gate& input : count->inputs) add(input.variable);
  } else if (const auto* examination = std::get_if<Examination>(&distribution)) {
    add(examination->component);
  }
  return parents;
}

}  // namespace faultodds

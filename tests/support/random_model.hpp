// Random fault models of all table kinds, and random findings on them, from a seed.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <numeric>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/uniform.hpp"
#include "faultodds/model/fault_model.hpp"
#include "support/build.hpp"

namespace support {

using namespace faultodds;

/// Repetitions of a random test: `usual`, or as many times more as the environment variable FAULTODDS_ROUNDS says.
inline std::size_t rounds(std::size_t usual) {
  const char* const factor = std::getenv("FAULTODDS_ROUNDS");
  const long times = factor == nullptr ? 1 : std::strtol(factor, nullptr, 10);
  return usual * static_cast<std::size_t>(std::max(1L, times));
}

/// Random numbers that are the same on every platform.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}

  /// Below `end`, which must not be 0.
  std::size_t below(std::size_t end) { return static_cast<std::size_t>(engine_() % end); }
  /// In [first, last].
  std::size_t between(std::size_t first, std::size_t last) { return first + below(last - first + 1); }
  double uniform() { return detail::uniform(engine_()); }
  bool chance(double probability) { return uniform() < probability; }

  template <typename T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

  /// Some of `items`, `count` of them or all, in random order.
  template <typename T>
  std::vector<T> some_of(std::vector<T> items, std::size_t count) {
    shuffle(items);
    items.resize(std::min(count, items.size()));
    return items;
  }

  /// A row of probabilities; some are deterministic, some have zeros, some are very uneven.
  std::vector<double> row(std::size_t states) {
    std::vector<double> values(states, 0.0);
    const double kind = uniform();
    if (kind < 0.15) {
      values[below(states)] = 1.0;
      return values;
    }
    for (double& value : values) {
      value = uniform() + 1e-3;
      if (kind < 0.35 && chance(0.4)) value = 0.0;
      if (kind > 0.8) value = std::pow(value, 8.0);
    }
    const double sum = std::accumulate(values.begin(), values.end(), 0.0);
    if (sum == 0.0) {
      values[below(states)] = 1.0;
      return values;
    }
    for (double& value : values) value /= sum;
    return values;
  }

 private:
  std::mt19937_64 engine_;
};

struct RandomModelOptions {
  std::size_t fewest_variables = 2;
  std::size_t max_variables = 12;
  std::size_t max_states = 4;
  std::size_t max_parents = 4;
  double max_joint_states = 4096.0;
  bool only_full_tables = false;
  double noisy_share = 0.35;  // of noisy-MAX tables among those with parents
};

class RandomModel {
 public:
  RandomModel(Dice& dice, const RandomModelOptions& options) : dice_(dice), options_(options) {
    parts_.header.name = "random";
    choose_variables();
    std::vector<std::size_t> order(parts_.variables.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    dice_.shuffle(order);
    for (std::size_t i = 0; i < order.size(); ++i) {
      const std::size_t count = dice_.below(std::min(i, options_.max_parents) + 1);
      const std::vector<VariableIndex> before(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(i));
      choose_distribution(order[i], dice_.some_of(before, count));
    }
  }

  ModelParts take() { return std::move(parts_); }

 private:
  [[nodiscard]] std::size_t states_of(std::size_t v) const { return parts_.variables[v].states.size(); }

  void choose_variables() {
    const std::size_t wanted = dice_.between(options_.fewest_variables, options_.max_variables);
    double joint = 1.0;
    for (std::size_t v = 0; v < wanted; ++v) {
      std::size_t states = dice_.chance(0.5) ? 2 : dice_.between(2, options_.max_states);
      if (dice_.chance(0.03)) states = 1;
      if (joint * static_cast<double>(states) > options_.max_joint_states) break;
      joint *= static_cast<double>(states);
      Variable variable;
      variable.name = "v" + std::to_string(v);
      for (std::size_t s = 0; s < states; ++s) variable.states.push_back({"s" + std::to_string(s), ""});
      parts_.variables.push_back(std::move(variable));
    }
  }

  void choose_distribution(std::size_t v, const std::vector<VariableIndex>& parents) {
    Variable& variable = parts_.variables[v];
    const double role = dice_.uniform();
    const bool root = parents.empty();
    variable.what = root ? (role < 0.2 ? RoleFacts(Context{}) : Component{})
                         : (role < 0.15   ? RoleFacts(Component{})
                            : role < 0.3  ? RoleFacts(Hidden{})
                            : role < 0.65 ? RoleFacts(Symptom{})
                                          : Test{});
    const double kind = options_.only_full_tables || root ? 1.0 : dice_.uniform();
    if (kind < options_.noisy_share) {
      variable.distribution = noisy_max(v, parents);
    } else if (kind < 0.5 && states_of(v) == 2) {
      variable.distribution = count_of(parents);
    } else if (kind < 0.6 && states_of(v) == 2) {
      variable.distribution = examination(parents[0]);
    } else {
      variable.distribution = full_table(v, parents);
    }
  }

  FullTable full_table(std::size_t v, const std::vector<VariableIndex>& parents) {
    std::size_t rows = 1;
    for (const std::size_t parent : parents) rows *= states_of(parent);
    std::vector<double> values;
    for (std::size_t r = 0; r < rows; ++r) {
      const std::vector<double> row = dice_.row(states_of(v));
      values.insert(values.end(), row.begin(), row.end());
    }
    return {parents, Table(states_of(v), std::move(values))};
  }

  Gate gate(std::size_t v) {
    std::vector<StateIndex> states(states_of(v));
    std::iota(states.begin(), states.end(), std::size_t{0});
    return {v, dice_.some_of(states, dice_.between(1, states.size()))};
  }

  NoisyMax noisy_max(std::size_t v, const std::vector<VariableIndex>& parents) {
    NoisyMax noisy;
    noisy.leak.assign(states_of(v), 0.0);
    noisy.leak[0] = 1.0;
    if (dice_.chance(0.6)) noisy.leak = dice_.row(states_of(v));
    for (std::size_t i = 0; i < parents.size(); ++i) {
      if (i > 0 && dice_.chance(0.2)) continue;
      Link link;
      link.cause = parents[i];
      std::vector<double> values(states_of(v), 0.0);
      values[0] = 1.0;
      for (std::size_t s = 1; s < states_of(link.cause); ++s) {
        const std::vector<double> row = dice_.row(states_of(v));
        values.insert(values.end(), row.begin(), row.end());
      }
      link.effect = Table(states_of(v), std::move(values));
      for (const std::size_t other : parents) {
        if (other != link.cause && dice_.chance(0.2)) link.only_when.push_back(gate(other));
      }
      noisy.links.push_back(std::move(link));
    }
    return noisy;
  }

  CountOf count_of(const std::vector<VariableIndex>& parents) {
    CountOf count;
    for (const std::size_t parent : parents) count.inputs.push_back(gate(parent));
    count.at_least = dice_.between(1, parents.size());
    return count;
  }

  Examination examination(std::size_t component) {
    Examination result{
        .component = component, .detection = {}, .false_alarm = dice_.chance(0.3) ? 0.0 : dice_.uniform() * 0.3};
    for (std::size_t s = 1; s < states_of(component); ++s) {
      result.detection.push_back(dice_.chance(0.2) ? 1.0 : dice_.uniform());
    }
    return result;
  }

  Dice& dice_;
  RandomModelOptions options_;
  ModelParts parts_;
};

inline FaultModel random_model(Dice& dice, const RandomModelOptions& options = {}) {
  return FaultModel(RandomModel(dice, options).take());
}

/// A random Markov network: unweighted variables under potentials, some of them zero in places.
inline FaultModel random_markov_network(Dice& dice) {
  RandomModelOptions options;
  options.only_full_tables = true;
  options.max_variables = 9;
  ModelParts parts = RandomModel(dice, options).take();
  const std::size_t n = parts.variables.size();
  std::vector<std::size_t> all(n);
  std::iota(all.begin(), all.end(), std::size_t{0});
  for (Variable& variable : parts.variables) {
    variable.what = Unclassified{};
    variable.distribution = Unweighted{};
  }
  const std::size_t count = dice.between(1, n + 2);
  for (std::size_t i = 0; i < count; ++i) {
    Potential potential{dice.some_of(all, dice.between(0, 3)), {}};
    std::size_t size = 1;
    for (const std::size_t v : potential.scope) size *= parts.variables[v].states.size();
    for (std::size_t j = 0; j < size; ++j) potential.values.push_back(dice.chance(0.1) ? 0.0 : dice.uniform() * 5.0);
    potential.values[dice.below(size)] = 0.5;
    parts.potentials.push_back(std::move(potential));
  }
  return FaultModel(std::move(parts));
}

/// A random finding on this variable: mostly hard, otherwise one of several states, or weights.
inline Finding random_finding(Dice& dice, const FaultModel& model, std::size_t variable) {
  const std::size_t states = model.state_count(variable);
  Finding finding{.variable = variable, .weights = std::vector<double>(states, 0.0), .state = std::nullopt};
  const double kind = dice.uniform();
  if (kind < 0.6) {
    finding.state = dice.below(states);
    finding.weights[*finding.state] = 1.0;
  } else if (kind < 0.75) {
    for (double& weight : finding.weights) weight = dice.chance(0.5) ? 1.0 : 0.0;
    finding.weights[dice.below(states)] = 1.0;
    const auto possible = std::count(finding.weights.begin(), finding.weights.end(), 1.0);
    const auto first = std::find(finding.weights.begin(), finding.weights.end(), 1.0);
    if (possible == 1) finding.state = static_cast<std::size_t>(first - finding.weights.begin());
  } else {
    for (double& weight : finding.weights) weight = dice.chance(0.15) ? 0.0 : dice.uniform() * 3.0;
    finding.weights[dice.below(states)] = 1.5;
  }
  return finding;
}

/// Findings on different variables, `count` of them or one for each variable.
inline std::vector<Finding> random_findings(Dice& dice, const FaultModel& model, std::size_t count) {
  std::vector<std::size_t> all(model.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::vector<Finding> findings;
  for (const std::size_t v : dice.some_of(all, count)) findings.push_back(random_finding(dice, model, v));
  return findings;
}

/// A grid in which each variable depends on the one above and the one to the left.
inline FaultModel grid(std::size_t side, Dice& dice) {
  Builder builder;
  for (std::size_t i = 0; i < side * side; ++i) {
    std::vector<VariableIndex> parents;
    if (i >= side) parents.push_back(i - side);
    if (i % side > 0) parents.push_back(i - 1);
    std::vector<double> rows;
    for (std::size_t row = 0; row < std::size_t{1} << parents.size(); ++row) {
      const double p = 0.05 + 0.9 * dice.uniform();
      rows.insert(rows.end(), {1.0 - p, p});
    }
    builder.variable("v" + std::to_string(i), {"no", "yes"}, parents, rows);
  }
  return builder.model();
}

}  // namespace support

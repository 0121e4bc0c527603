// Bodies of factor.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>

#include "faultodds/inference/network/factor.hpp"

namespace faultodds {
namespace detail {

/// How far one step of each variable of `walked` moves in a table over `scope`; 0 for variables outside it.
inline std::vector<std::size_t> steps_in(std::span<const std::size_t> scope, std::span<const std::size_t> walked,
                                         std::span<const std::size_t> state_counts) {
  std::vector<std::size_t> steps(walked.size(), 0);
  std::size_t step = 1;
  for (std::size_t i = scope.size(); i-- > 0;) {
    const auto at = std::find(walked.begin(), walked.end(), scope[i]);
    if (at != walked.end()) steps[static_cast<std::size_t>(at - walked.begin())] = step;
    step *= state_counts[scope[i]];
  }
  return steps;
}

/// Calls visit(offset, length, step) for runs that together cover all configurations of `walked`, the last variable
/// running fastest; entries of a run lie at offset, offset + step, ... in the other table.
template <typename Visit>
void for_each_run(std::span<const std::size_t> walked, std::span<const std::size_t> steps,
                  std::span<const std::size_t> state_counts, Visit&& visit) {
  std::size_t outer = walked.size();
  std::size_t length = 1;
  std::size_t step = 0;
  // Trailing variables that move evenly in the other table are one run.
  while (outer > 0 && (length == 1 || steps[outer - 1] == step * length)) {
    --outer;
    if (length == 1) step = steps[outer];
    length *= state_counts[walked[outer]];
  }
  std::vector<std::size_t> digits(outer, 0);
  std::size_t offset = 0;
  for (;;) {
    visit(offset, length, step);
    std::size_t i = outer;
    for (; i > 0; --i) {
      offset += steps[i - 1];
      if (++digits[i - 1] < state_counts[walked[i - 1]]) break;
      offset -= steps[i - 1] * digits[i - 1];
      digits[i - 1] = 0;
    }
    if (i == 0) return;
  }
}

inline void multiply_in(Potential& table, const Potential& factor, std::span<const std::size_t> state_counts) {
  const std::vector<std::size_t> steps = steps_in(factor.scope, table.scope, state_counts);
  double* entry = table.values.data();
  const double* const values = factor.values.data();
  for_each_run(table.scope, steps, state_counts, [&](std::size_t offset, std::size_t length, std::size_t step) {
    const double* const from = values + offset;
    if (step == 1) {
      for (std::size_t i = 0; i < length; ++i) entry[i] *= from[i];
    } else if (step == 0) {
      const double value = *from;
      for (std::size_t i = 0; i < length; ++i) entry[i] *= value;
    } else {
      for (std::size_t i = 0; i < length; ++i) entry[i] *= from[i * step];
    }
    entry += length;
  });
}

/// The same for a table that holds nothing yet.
inline void fill_from(Potential& table, const Potential& factor, std::span<const std::size_t> state_counts) {
  const std::vector<std::size_t> steps = steps_in(factor.scope, table.scope, state_counts);
  table.values.clear();
  table.values.reserve(count_entries(table.scope, state_counts));
  for_each_run(table.scope, steps, state_counts, [&](std::size_t offset, std::size_t length, std::size_t step) {
    const double* const from = factor.values.data() + offset;
    if (step == 1) {
      table.values.insert(table.values.end(), from, from + length);
    } else if (step == 0) {
      table.values.insert(table.values.end(), length, *from);
    } else {
      for (std::size_t i = 0; i < length; ++i) table.values.push_back(from[i * step]);
    }
  });
}

inline std::vector<std::size_t> without(std::span<const std::size_t> scope, std::span<const std::size_t> variables) {
  std::vector<std::size_t> rest;
  for (const std::size_t v : scope) {
    if (std::find(variables.begin(), variables.end(), v) == variables.end()) rest.push_back(v);
  }
  return rest;
}

inline std::size_t count_entries(std::span<const std::size_t> scope, std::span<const std::size_t> state_counts) {
  std::size_t entries = 1;
  for (const std::size_t v : scope) entries *= state_counts[v];
  return entries;
}

/// A scope cut at one variable: entries of what comes before it, its states, entries of what comes after it.
struct Cut {
  std::size_t before = 1;
  std::size_t states = 1;
  std::size_t behind = 1;
};

inline Cut cut_at(std::span<const std::size_t> scope, std::size_t variable, std::span<const std::size_t> state_counts) {
  const auto at = static_cast<std::size_t>(std::find(scope.begin(), scope.end(), variable) - scope.begin());
  return {count_entries(scope.first(at), state_counts), state_counts[variable],
          count_entries(scope.subspan(at + 1), state_counts)};
}

}  // namespace detail

inline double entries_of(std::span<const std::size_t> scope, std::span<const std::size_t> state_counts) {
  double entries = 1.0;
  for (const std::size_t v : scope) entries *= static_cast<double>(state_counts[v]);
  return entries;
}

inline std::vector<std::size_t> common_scope(std::span<const Potential> factors) {
  std::vector<std::size_t> scope;
  for (const Potential& factor : factors) scope.insert(scope.end(), factor.scope.begin(), factor.scope.end());
  std::sort(scope.begin(), scope.end());
  scope.erase(std::unique(scope.begin(), scope.end()), scope.end());
  return scope;
}

inline Potential product(std::span<const Potential> factors, std::vector<std::size_t> scope,
                         std::span<const std::size_t> state_counts) {
  Potential table{std::move(scope), {}};
  if (factors.empty()) {
    table.values.assign(detail::count_entries(table.scope, state_counts), 1.0);
    return table;
  }
  detail::fill_from(table, factors[0], state_counts);
  for (const Potential& factor : factors.subspan(1)) detail::multiply_in(table, factor, state_counts);
  return table;
}

inline Potential sum_out(const Potential& factor, std::span<const std::size_t> variables,
                         std::span<const std::size_t> state_counts) {
  Potential result{detail::without(factor.scope, variables), {}};
  result.values.assign(detail::count_entries(result.scope, state_counts), 0.0);
  const std::vector<std::size_t> steps = detail::steps_in(result.scope, factor.scope, state_counts);
  const double* entry = factor.values.data();
  double* const values = result.values.data();
  detail::for_each_run(factor.scope, steps, state_counts,
                       [&](std::size_t offset, std::size_t length, std::size_t step) {
                         double* const to = values + offset;
                         for (std::size_t i = 0; i < length; ++i) to[i * step] += entry[i];
                         entry += length;
                       });
  return result;
}

inline MaxOut max_out(const Potential& factor, std::size_t variable, std::span<const std::size_t> state_counts) {
  const detail::Cut cut = detail::cut_at(factor.scope, variable, state_counts);
  MaxOut result;
  result.largest.scope = detail::without(factor.scope, {&variable, 1});
  result.largest.values.resize(cut.before * cut.behind);
  result.reached_at.assign(cut.before * cut.behind, 0);
  for (std::size_t i = 0; i < cut.before; ++i) {
    const double* const from = factor.values.data() + i * cut.states * cut.behind;
    double* const largest = result.largest.values.data() + i * cut.behind;
    std::copy(from, from + cut.behind, largest);
    for (std::size_t s = 1; s < cut.states; ++s) {
      for (std::size_t j = 0; j < cut.behind; ++j) {
        if (!(from[s * cut.behind + j] > largest[j])) continue;
        largest[j] = from[s * cut.behind + j];
        result.reached_at[i * cut.behind + j] = static_cast<std::uint32_t>(s);
      }
    }
  }
  return result;
}

inline Potential fix_state(const Potential& factor, std::size_t variable, std::size_t state,
                           std::span<const std::size_t> state_counts) {
  const detail::Cut cut = detail::cut_at(factor.scope, variable, state_counts);
  Potential result{detail::without(factor.scope, {&variable, 1}), {}};
  result.values.reserve(cut.before * cut.behind);
  for (std::size_t i = 0; i < cut.before; ++i) {
    const double* const from = factor.values.data() + (i * cut.states + state) * cut.behind;
    result.values.insert(result.values.end(), from, from + cut.behind);
  }
  return result;
}

inline void weigh(Potential& factor, std::size_t variable, std::span<const double> weights,
                  std::span<const std::size_t> state_counts) {
  const detail::Cut cut = detail::cut_at(factor.scope, variable, state_counts);
  double* entry = factor.values.data();
  for (std::size_t i = 0; i < cut.before; ++i) {
    for (std::size_t s = 0; s < cut.states; ++s) {
      for (std::size_t j = 0; j < cut.behind; ++j) *entry++ *= weights[s];
    }
  }
}

inline double rescale(Potential& factor) {
  double largest = 0.0;
  for (const double value : factor.values) largest = std::max(largest, value);
  if (largest == 0.0) return 0.0;
  for (double& value : factor.values) value /= largest;
  return std::log(largest);
}

}  // namespace faultodds

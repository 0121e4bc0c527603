// Many cases through one solver: rows of findings in, log P(findings) and posteriors out.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

inline constexpr std::int32_t not_observed = -1;

/// The findings of many cases, a row each. Only looked at, never copied: what the spans show must stay until the call
/// is over.
struct CaseRows {
  /// A likelihood finding in some or all of the cases.
  struct Likelihood {
    VariableIndex variable;
    std::span<const double> weights;  ///< [row][state]; NaN in all states of a row: not observed
  };

  std::size_t count = 0;                 ///< of rows
  std::vector<VariableIndex> variables;  ///< of the columns
  std::span<const std::int32_t> states;  ///< [row][column]: the state found, or not_observed
  std::vector<Likelihood> likelihoods;
};

struct BatchOptions {
  std::size_t threads = 1;  ///< 0: as many as the machine runs at once
};

/// Answers to many cases, in the order of their rows.
struct CaseAnswers {
  std::vector<VariableIndex> variables;  ///< those asked for
  std::vector<std::size_t> begin;        ///< by variable asked for: its first column; at the end, the number of columns
  std::vector<double> log_evidence;      ///< by row; natural logarithm of P(findings), minus infinity if impossible
  std::vector<double> probabilities;     ///< [row][column]; NaN throughout a row whose findings are impossible together

  /// P(state | findings) of the variable asked for at `position`, one for each of its states.
  [[nodiscard]] std::span<const double> posterior(std::size_t row, std::size_t position) const {
    const std::size_t first = row * begin.back() + begin[position];
    return {probabilities.data() + first, begin[position + 1] - begin[position]};
  }
};

/// log P(findings) and the posteriors of `variables` for every row, bit for bit those of a Case that has the row's
/// findings alone, entered in the order of the columns and then of the likelihoods: whatever the other rows are, and
/// with any number of threads. Rows are worked on in an order in which little changes from one to the next.
/// Throws ArgumentError if a variable is named twice or does not exist, a state is out of range, weights are wrong,
/// or a span does not fit the number of rows, naming the row; TooLarge if the answers would exceed the solver's
/// memory limit, or a case would; Stopped. With several threads the stop is looked at by the calling thread too, while
/// it waits.
[[nodiscard]] CaseAnswers answer_cases(const Solver& solver, const CaseRows& rows,
                                       std::span<const VariableIndex> variables, const BatchOptions& options = {},
                                       const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/inference/batch.ipp"

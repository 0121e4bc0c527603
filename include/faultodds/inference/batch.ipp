// Bodies of batch.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <atomic>
#include <cmath>
#include <condition_variable>
#include <exception>
#include <limits>
#include <mutex>
#include <numeric>
#include <optional>
#include <string>
#include <thread>
#include <utility>

#include "faultodds/inference/batch.hpp"

namespace faultodds {
namespace detail {

inline void check_each_once(const FaultModel& model, std::span<const VariableIndex> variables, const char* argument) {
  std::vector<bool> seen(model.size(), false);
  for (const VariableIndex variable : variables) {
    const std::string& name = model.variable(variable).name;
    if (seen[variable])
      throw ArgumentError(argument, '"' + name + "\" is named twice", "name each variable once",
                          ErrorCode::named_twice);
    seen[variable] = true;
  }
}

inline void check_size(const char* argument, std::size_t size, std::size_t rows, std::size_t columns) {
  if (size == rows * columns) return;
  throw ArgumentError(argument, std::to_string(size) + " numbers",
                      "give " + std::to_string(columns) + " for each of the " + std::to_string(rows) + " rows",
                      ErrorCode::wrong_size);
}

inline void check_states(const FaultModel& model, const CaseRows& rows) {
  const std::size_t columns = rows.variables.size();
  check_size("states", rows.states.size(), rows.count, columns);
  std::vector<std::int32_t> counts;
  for (const VariableIndex variable : rows.variables) {
    counts.push_back(static_cast<std::int32_t>(model.state_count(variable)));
  }
  for (std::size_t i = 0; i < rows.states.size(); ++i) {
    const std::int32_t state = rows.states[i];
    const std::int32_t count = counts[i % columns];
    if (state >= not_observed && state < count) continue;
    throw ArgumentError("states",
                        "row " + std::to_string(i / columns) + ", \"" +
                            model.variable(rows.variables[i % columns]).name + "\": state " + std::to_string(state),
                        "it has the states 0 to " + std::to_string(count - 1) + ", and -1 means not observed",
                        ErrorCode::index_out_of_range);
  }
}

inline bool is_observed(std::span<const double> weights) {
  return !std::all_of(weights.begin(), weights.end(), [](double weight) { return std::isnan(weight); });
}

inline void check_likelihood(const FaultModel& model, const CaseRows::Likelihood& likelihood, std::size_t rows) {
  const std::size_t states = model.state_count(likelihood.variable);
  check_size("likelihoods", likelihood.weights.size(), rows, states);
  for (std::size_t row = 0; row < rows; ++row) {
    const std::span<const double> weights = likelihood.weights.subspan(row * states, states);
    if (!is_observed(weights)) continue;
    try {
      check_finding(model, {likelihood.variable, {weights.begin(), weights.end()}, std::nullopt});
    } catch (const ArgumentError& error) {
      throw ArgumentError("likelihoods", "row " + std::to_string(row) + ": " + error.argument() + ": " + error.found(),
                          error.remedy() + "; give NaN for every state if there is no finding", error.code());
    }
  }
}

inline void check_rows(const FaultModel& model, const CaseRows& rows) {
  std::vector<VariableIndex> observed = rows.variables;
  for (const CaseRows::Likelihood& likelihood : rows.likelihoods) observed.push_back(likelihood.variable);
  check_each_once(model, observed, "rows");
  check_states(model, rows);
  for (const CaseRows::Likelihood& likelihood : rows.likelihoods) check_likelihood(model, likelihood, rows.count);
}

/// Rows as one worker reads them.
class BatchReader {
 public:
  BatchReader(const FaultModel& model, const CaseRows& rows) : model_(&model), rows_(&rows) {
    std::size_t most = 1;
    for (const VariableIndex variable : rows.variables) most = std::max(most, model.state_count(variable));
    one_.assign(2 * most - 1, 0.0);
    one_[most - 1] = 1.0;
  }

  [[nodiscard]] std::int32_t state(std::size_t row, std::size_t column) const {
    return rows_->states[row * rows_->variables.size() + column];
  }
  /// One in this state, zero in the others.
  [[nodiscard]] std::span<const double> certain(VariableIndex variable, StateIndex state) const {
    return {one_.data() + one_.size() / 2 - state, model_->state_count(variable)};
  }
  /// The weights of a likelihood in this row; empty if it is not observed.
  [[nodiscard]] std::span<const double> weights(std::size_t row, const CaseRows::Likelihood& likelihood) const {
    const std::size_t states = model_->state_count(likelihood.variable);
    const std::span<const double> weights = likelihood.weights.subspan(row * states, states);
    return is_observed(weights) ? weights : std::span<const double>();
  }
  [[nodiscard]] bool same(std::size_t a, std::size_t b) const {
    const auto same_part = [a, b](auto all, std::size_t size) {
      const auto first = all.begin() + static_cast<std::ptrdiff_t>(a * size);
      const auto second = all.begin() + static_cast<std::ptrdiff_t>(b * size);
      return std::equal(first, first + static_cast<std::ptrdiff_t>(size), second);
    };
    return same_part(rows_->states, rows_->variables.size()) &&
           std::all_of(rows_->likelihoods.begin(), rows_->likelihoods.end(), [&](const auto& likelihood) {
             return same_part(likelihood.weights, model_->state_count(likelihood.variable));
           });
  }
  [[nodiscard]] std::vector<Finding> findings(std::size_t row) const {
    std::vector<Finding> findings;
    for (std::size_t column = 0; column < rows_->variables.size(); ++column) {
      if (state(row, column) == not_observed) continue;
      const auto found = static_cast<std::size_t>(state(row, column));
      const std::span<const double> weights = certain(rows_->variables[column], found);
      findings.push_back({rows_->variables[column], {weights.begin(), weights.end()}, found});
    }
    for (const CaseRows::Likelihood& likelihood : rows_->likelihoods) {
      const std::span<const double> found = weights(row, likelihood);
      if (!found.empty()) findings.push_back({likelihood.variable, {found.begin(), found.end()}, std::nullopt});
    }
    return findings;
  }

 private:
  const FaultModel* model_;
  const CaseRows* rows_;
  std::vector<double> one_;  // a one with as many zeros on either side as a variable can need
};

/// Works on one row after the other, on the junction tree that serves all cases.
class WholePlanWorker {
 public:
  WholePlanWorker(const Solver& solver, const CaseRows& rows, std::span<const VariableIndex> asked, const Stop& stop)
      : rows_(&rows), asked_(asked), reader_(solver.model(), rows), propagation_(solver.shared_tree()), stop_(stop) {
    for (const VariableIndex variable : asked) {
      const auto found = std::find(rows.variables.begin(), rows.variables.end(), variable);
      column_of_.push_back(static_cast<std::size_t>(found - rows.variables.begin()));
    }
  }

  /// Returns log P(findings); fills in the posteriors if that is finite.
  double answer(std::size_t row, double* probabilities) {
    propagation_.stop_by(stop_);
    enter(row);
    const double log_evidence = propagation_.log_evidence();
    if (!std::isfinite(log_evidence)) return log_evidence;
    for (std::size_t i = 0; i < asked_.size(); ++i) {
      const std::span<const double> posterior = posterior_of(row, i);
      probabilities = std::copy(posterior.begin(), posterior.end(), probabilities);
    }
    return log_evidence;
  }

 private:
  void enter(std::size_t row) {
    const std::vector<std::size_t>& slot_of = propagation_.tree().slot_of();
    const auto weigh = [this](std::size_t slot, std::span<const double> weights) {
      if (weights.empty()) {
        propagation_.clear_weights(slot);
      } else {
        propagation_.set_weights(slot, weights);
      }
    };
    for (std::size_t column = 0; column < rows_->variables.size(); ++column) {
      const std::size_t variable = rows_->variables[column];
      const std::int32_t state = reader_.state(row, column);
      weigh(slot_of[variable], state == not_observed ? std::span<const double>()
                                                     : reader_.certain(variable, static_cast<std::size_t>(state)));
    }
    for (const CaseRows::Likelihood& likelihood : rows_->likelihoods) {
      weigh(slot_of[likelihood.variable], reader_.weights(row, likelihood));
    }
  }

  std::span<const double> posterior_of(std::size_t row, std::size_t position) {
    const std::size_t column = column_of_[position];
    if (column < rows_->variables.size() && reader_.state(row, column) != not_observed) {
      return reader_.certain(asked_[position], static_cast<std::size_t>(reader_.state(row, column)));
    }
    return propagation_.marginal(propagation_.tree().slot_of()[asked_[position]]);
  }

  const CaseRows* rows_;
  std::span<const VariableIndex> asked_;
  std::vector<std::size_t> column_of_;  // by variable asked for; the number of columns if it has none
  BatchReader reader_;
  Propagation propagation_;
  Stop stop_;
};

/// The same for solvers that make a junction tree for each case, kept as long as the next row can use it.
class PlanPerCaseWorker {
 public:
  PlanPerCaseWorker(const Solver& solver, const CaseRows& rows, std::span<const VariableIndex> asked, const Stop& stop)
      : asked_(asked), reader_(solver.model(), rows), current_(solver), stop_(stop) {}

  double answer(std::size_t row, double* probabilities) {
    const StopScope scope(current_, stop_);
    if (!current_.try_findings(reader_.findings(row))) return -std::numeric_limits<double>::infinity();
    for (const VariableIndex variable : asked_) {
      const std::vector<double> posterior = current_.posterior(variable);
      probabilities = std::copy(posterior.begin(), posterior.end(), probabilities);
    }
    return current_.log_evidence();
  }

 private:
  std::span<const VariableIndex> asked_;
  BatchReader reader_;
  Case current_;
  Stop stop_;
};

/// Row numbers in an order in which little changes from one to the next. With one tree, what is far from the root
/// changes least often. With a junction tree for each case, rows that share one come together: those in which the same
/// variables are observed, the same of them in their first state.
inline std::vector<std::size_t> order_of_work(const Solver& solver, const CaseRows& rows) {
  std::vector<std::size_t> columns(rows.variables.size());
  std::iota(columns.begin(), columns.end(), std::size_t{0});
  if (const std::shared_ptr<const JunctionTree>& tree = solver.shared_tree(); tree != nullptr) {
    const auto host = [&](std::size_t column) { return tree->host_of(tree->slot_of()[rows.variables[column]]); };
    std::stable_sort(columns.begin(), columns.end(), [&](auto a, auto b) { return host(a) > host(b); });
  }
  const auto first_difference = [&](std::size_t a, std::size_t b, auto key_of) {
    const std::int32_t* const one = rows.states.data() + a * columns.size();
    const std::int32_t* const other = rows.states.data() + b * columns.size();
    for (const std::size_t column : columns) {
      if (key_of(one[column]) != key_of(other[column])) return key_of(one[column]) < key_of(other[column]) ? -1 : 1;
    }
    return 0;
  };
  const auto comes_first = [&](std::size_t a, std::size_t b) {
    if (!solver.has_shared_tree()) {
      const int by_plan = first_difference(a, b, [](std::int32_t state) { return std::min(state, 1); });
      if (by_plan != 0) return by_plan < 0;
    }
    return first_difference(a, b, [](std::int32_t state) { return state; }) < 0;
  };
  std::vector<std::size_t> order(rows.count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), comes_first);
  return order;
}

/// Hands rows out to workers, piece by piece in order. The first row in that order that fails decides what is thrown.
class BatchWork {
 public:
  BatchWork(const Solver& solver, const CaseRows& rows, CaseAnswers& answers, const Stop& stop)
      : solver_(solver),
        rows_(rows),
        answers_(answers),
        stop_(stop),
        order_(order_of_work(solver, rows)),
        end_(rows.count) {}

  void run(std::size_t threads) {
    threads = std::max<std::size_t>(1, std::min(threads, rows_.count));
    piece_ = std::clamp<std::size_t>(rows_.count / (8 * threads), 1, 256);
    if (threads == 1) {
      work();
    } else {
      run_beside(threads);
    }
    if (error_ != nullptr) std::rethrow_exception(error_);
  }

 private:
  void run_beside(std::size_t threads) {
    std::vector<std::jthread> workers;
    running_ = threads;
    for (std::size_t i = 0; i < threads; ++i) {
      workers.emplace_back([this] {
        work();
        const std::lock_guard guard(mutex_);
        --running_;
        finished_.notify_one();
      });
    }
    static constexpr std::chrono::milliseconds between_checks{20};
    std::unique_lock guard(mutex_);
    while (!finished_.wait_for(guard, between_checks, [this] { return running_ == 0; })) {
      guard.unlock();
      try {
        stop_.check();
      } catch (...) {
        fail(0, std::current_exception());
      }
      guard.lock();
    }
  }

  void work() {
    try {
      if (solver_.has_shared_tree()) {
        work_with(WholePlanWorker(solver_, rows_, answers_.variables, stop_));
      } else {
        work_with(PlanPerCaseWorker(solver_, rows_, answers_.variables, stop_));
      }
    } catch (...) {
      fail(0, std::current_exception());
    }
  }

  template <typename Worker>
  void work_with(Worker worker) {
    const BatchReader reader(solver_.model(), rows_);
    while (true) {
      const std::size_t begin = next_.fetch_add(piece_);
      for (std::size_t i = begin; i < begin + piece_; ++i) {
        if (i >= end_.load()) return;
        try {
          const bool again = i > begin && reader.same(order_[i - 1], order_[i]);
          if (again) {
            copy_answer(order_[i - 1], order_[i]);
          } else {
            answer(worker, order_[i]);
          }
        } catch (...) {
          fail(i, std::current_exception());
          return;
        }
      }
    }
  }

  template <typename Worker>
  void answer(Worker& worker, std::size_t row) {
    double* const probabilities = probabilities_of(row);
    answers_.log_evidence[row] = worker.answer(row, probabilities);
    if (std::isfinite(answers_.log_evidence[row])) return;
    std::fill_n(probabilities, answers_.begin.back(), std::numeric_limits<double>::quiet_NaN());
  }

  void copy_answer(std::size_t from, std::size_t to) {
    answers_.log_evidence[to] = answers_.log_evidence[from];
    std::copy_n(probabilities_of(from), answers_.begin.back(), probabilities_of(to));
  }

  double* probabilities_of(std::size_t row) { return answers_.probabilities.data() + row * answers_.begin.back(); }

  void fail(std::size_t position, std::exception_ptr error) {
    const std::lock_guard guard(mutex_);
    if (error_ != nullptr && position >= end_.load()) return;
    end_.store(position);
    error_ = std::move(error);
  }

  const Solver& solver_;
  const CaseRows& rows_;
  CaseAnswers& answers_;
  const Stop& stop_;
  std::vector<std::size_t> order_;
  std::size_t piece_ = 1;
  std::atomic<std::size_t> next_{0};
  std::atomic<std::size_t> end_;  // work before this position is still wanted
  std::mutex mutex_;              // of what follows
  std::condition_variable finished_;
  std::size_t running_ = 0;
  std::exception_ptr error_;
};

}  // namespace detail

inline CaseAnswers answer_cases(const Solver& solver, const CaseRows& rows, std::span<const VariableIndex> variables,
                                const BatchOptions& options, const Stop& stop) {
  const FaultModel& model = solver.model();
  detail::check_each_once(model, variables, "variables");
  detail::check_rows(model, rows);
  CaseAnswers answers;
  answers.variables.assign(variables.begin(), variables.end());
  answers.begin.push_back(0);
  for (const VariableIndex variable : variables) {
    answers.begin.push_back(answers.begin.back() + model.state_count(variable));
  }
  const double numbers = static_cast<double>(rows.count) * static_cast<double>(1 + answers.begin.back());
  if (numbers * sizeof(double) > solver.options().memory_limit_bytes) {
    throw TooLarge("holding the answers of " + std::to_string(rows.count) + " cases", numbers * sizeof(double),
                   solver.options().memory_limit_bytes, "give fewer rows at a time, or ask for fewer variables");
  }
  answers.log_evidence.assign(rows.count, 0.0);
  answers.probabilities.assign(rows.count * answers.begin.back(), 0.0);
  const std::size_t at_once = std::max(1U, std::thread::hardware_concurrency());
  detail::BatchWork(solver, rows, answers, stop).run(options.threads == 0 ? at_once : options.threads);
  return answers;
}

}  // namespace faultodds

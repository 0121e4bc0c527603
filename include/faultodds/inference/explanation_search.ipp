// Best-first search for the most probable joint states of some variables.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <queue>
#include <string>
#include <utility>

#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/inference/network/relevance.hpp"

namespace faultodds::detail {

/// A propagation with the findings of the case, on a junction tree that holds all of `variables`; nothing if no such
/// tree fits into memory.
inline std::optional<Propagation> propagation_over(const Case& current, const std::vector<VariableIndex>& variables) {
  const Solver& solver = current.solver();
  std::shared_ptr<const JunctionTree> tree = solver.shared_tree();
  if (tree == nullptr) {
    CaseShape shape = shape_of_case(solver.model(), variables, current.findings());
    // Variables asked for are wanted as such, be they absent effects.
    for (const std::size_t v : variables) shape.presence[v] = Presence::present;
    try {
      tree = solver.junction_tree_for(shape, current.stop());
    } catch (const TooLarge&) {
      return std::nullopt;  // the engine of the case needs none
    }
  }
  Propagation propagation(tree);
  for (const Finding& finding : current.findings()) {
    const std::size_t slot = tree->slot_of()[finding.variable];
    if (slot != no_slot) propagation.set_weights(slot, finding.weights);
  }
  return propagation;
}

/// A set of joint states: those of the variables that have one are given, the others are open.
struct PartialState {
  static constexpr std::size_t open = static_cast<std::size_t>(-1);

  double probability = 1.0;
  std::int64_t rank = 0;           // the probability on a coarse logarithmic scale, on which equal ones are equal
  std::vector<StateIndex> states;  // by position among the variables to explain

  void set_probability(double value) {
    probability = value;
    rank = std::llround(std::log(value) * 1e11);
  }
  [[nodiscard]] bool complete() const { return std::find(states.begin(), states.end(), open) == states.end(); }
};

/// True if `a` comes after `b`: less probable or, among equals, with later states. An open state counts as the
/// first: that is the earliest it can become.
struct ComesAfter {
  bool operator()(const PartialState& a, const PartialState& b) const {
    if (a.rank != b.rank) return a.rank < b.rank;
    for (std::size_t i = 0; i < a.states.size(); ++i) {
      const std::size_t of_a = a.states[i] == PartialState::open ? StateIndex{} : a.states[i];
      const std::size_t of_b = b.states[i] == PartialState::open ? StateIndex{} : b.states[i];
      if (of_a != of_b) return of_a > of_b;
    }
    return false;
  }
};

/// Marginals of the variables to explain, given the states of some of them, from one junction tree.
class MarginalsByTree {
 public:
  MarginalsByTree(const Case& current, const std::vector<VariableIndex>& variables, Propagation propagation)
      : propagation_(std::move(propagation)) {
    propagation_.stop_by(current.stop());
    for (const std::size_t v : variables) {
      slots_.push_back(propagation_.tree().slot_of()[v]);
      const Finding* finding = current.finding_of(v);
      found_.push_back(finding == nullptr ? std::vector<double>{} : finding->weights);
    }
  }

  /// By position among the variables. False if rounding leaves nothing of them.
  [[nodiscard]] bool enter(const std::vector<StateIndex>& states) {
    for (std::size_t i = 0; i < slots_.size(); ++i) enter(i, states[i]);
    return true;
  }

  [[nodiscard]] std::span<const double> marginal(std::size_t position) {
    return propagation_.marginal(slots_[position]);
  }

 private:
  void enter(std::size_t position, StateIndex state) {
    if (state != PartialState::open) {
      certain_.assign(propagation_.tree().state_counts()[slots_[position]], 0.0);
      certain_[state] = 1.0;
      propagation_.set_weights(slots_[position], certain_);
    } else if (!found_[position].empty()) {
      propagation_.set_weights(slots_[position], found_[position]);
    } else {
      propagation_.clear_weights(slots_[position]);
    }
  }

  Propagation propagation_;
  std::vector<std::size_t> slots_;          // by position
  std::vector<std::vector<double>> found_;  // by position: weights of its finding; empty if there is none
  std::vector<double> certain_;             // scratch
};

/// The same from a case with these states as findings, whatever engine works it out.
class MarginalsByCase {
 public:
  MarginalsByCase(const Case& current, const std::vector<VariableIndex>& variables)
      : found_(current.findings()), variables_(variables), trial_(current), scope_(trial_, current.stop()) {}

  [[nodiscard]] bool enter(const std::vector<StateIndex>& states) {
    std::vector<Finding> findings = found_;
    for (std::size_t i = 0; i < variables_.size(); ++i) {
      if (states[i] == PartialState::open) continue;
      std::erase_if(findings, [&](const Finding& one) { return one.variable == variables_[i]; });
      findings.push_back(hard_finding(trial_.model(), variables_[i], states[i]));
    }
    return trial_.try_findings(std::move(findings));
  }

  [[nodiscard]] std::span<const double> marginal(std::size_t position) {
    marginal_ = trial_.posterior(variables_[position]);
    return marginal_;
  }

 private:
  std::vector<Finding> found_;
  const std::vector<VariableIndex>& variables_;
  Case trial_;
  StopScope scope_;
  std::vector<double> marginal_;  // the last one asked for
};

template <class Marginals>
class ExplanationSearch {
 public:
  ExplanationSearch(Marginals& marginals, const std::vector<VariableIndex>& variables, const ExplainOptions& options)
      : variables_(variables), options_(options), marginals_(marginals) {
    PartialState all;
    all.states.assign(variables_.size(), PartialState::open);
    queue_.push(std::move(all));
  }

  Explanations run(std::size_t count) {
    Explanations result{variables_, {}};
    while (result.best.size() < count && !queue_.empty()) {
      PartialState next = queue_.top();
      queue_.pop();
      if (next.complete()) {
        result.best.push_back({std::move(next.states), next.probability});
      } else {
        if (spent_ == options_.max_propagations) stop(result.best.size(), count, next.probability);
        branch(next);
      }
    }
    return result;
  }

 private:
  [[noreturn]] void stop(std::size_t found, std::size_t count, double bound) const {
    throw Stopped("stopped after " + std::to_string(spent_) + " propagations with " + std::to_string(found) + " of " +
                      std::to_string(count) + " explanations found; none of the others is more probable than " +
                      std::to_string(bound) +
                      "; explain fewer variables, ask for fewer explanations, or allow more propagations",
                  ErrorCode::effort_spent);
  }

  /// Splits on the open variable whose state is least certain, which bounds the children most tightly.
  void branch(const PartialState& parent) {
    ++spent_;
    if (!marginals_.enter(parent.states)) return;
    std::size_t chosen = 0;
    double least = 2.0;
    for (std::size_t i = 0; i < variables_.size(); ++i) {
      if (parent.states[i] != PartialState::open) continue;
      const std::span<const double> marginal = marginals_.marginal(i);
      const double most_probable = *std::max_element(marginal.begin(), marginal.end());
      if (most_probable >= least) continue;
      least = most_probable;
      chosen = i;
    }
    const std::span<const double> marginal = marginals_.marginal(chosen);
    for (std::size_t s = 0; s < marginal.size(); ++s) {
      if (!(parent.probability * marginal[s] > 0.0)) continue;
      PartialState child = parent;
      child.states[chosen] = s;
      child.set_probability(parent.probability * marginal[s]);
      queue_.push(std::move(child));
    }
  }

  const std::vector<VariableIndex>& variables_;
  const ExplainOptions& options_;
  Marginals& marginals_;
  std::priority_queue<PartialState, std::vector<PartialState>, ComesAfter> queue_;
  std::size_t spent_ = 0;
};

}  // namespace faultodds::detail

// Bodies of explanations.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <string>
#include <utility>

#include "faultodds/inference/explanation_search.ipp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/network/relevance.hpp"
#include "faultodds/inference/network/variable_elimination.hpp"

namespace faultodds {
namespace detail {

inline std::vector<VariableIndex> to_explain(const Case& current, std::span<const VariableIndex> variables) {
  const FaultModel& model = current.model();
  std::vector<VariableIndex> chosen(variables.begin(), variables.end());
  if (chosen.empty()) chosen = model.with_role(Role::component);
  if (chosen.empty()) {
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (!known_state(current.findings(), v)) chosen.push_back(v);
    }
  }
  for (const std::size_t v : chosen) static_cast<void>(model.variable(v));  // throws if there is none
  std::vector<VariableIndex> sorted = chosen;
  std::sort(sorted.begin(), sorted.end());
  const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
  if (twice != sorted.end()) {
    throw ArgumentError(model.variable(*twice).name, "named twice among the variables to explain",
                        "name each variable once", ErrorCode::named_twice);
  }
  return chosen;
}

/// True if, whatever the states of the others, at most one state of the last variable in the scope is possible.
inline bool settles_last(const Potential& factor, std::span<const std::size_t> state_counts) {
  const std::size_t states = state_counts[factor.scope.back()];
  for (std::size_t row = 0; row < factor.values.size(); row += states) {
    const auto begin = factor.values.begin() + static_cast<std::ptrdiff_t>(row);
    const auto possible =
        std::count_if(begin, begin + static_cast<std::ptrdiff_t>(states), [](double weight) { return weight > 0.0; });
    if (possible > 1) return false;
  }
  return true;
}

/// Auxiliary slots that do not follow with certainty from the variables of the model: maximising over them would be
/// wrong, they must be summed out. (Over the others summing and maximising are the same.)
inline std::vector<std::size_t> uncertain_auxiliaries(const Network& network) {
  std::vector<bool> sure(network.state_counts.size(), false);
  for (const std::size_t slot : network.slot_of) {
    if (slot != no_slot) sure[slot] = true;
  }
  for (bool changed = true; changed;) {
    changed = false;
    for (const Potential& factor : network.factors) {
      if (factor.scope.empty() || sure[factor.scope.back()]) continue;
      const bool from_sure =
          std::all_of(factor.scope.begin(), factor.scope.end() - 1, [&](std::size_t slot) { return sure[slot]; });
      if (!from_sure || !settles_last(factor, network.state_counts)) continue;
      sure[factor.scope.back()] = true;
      changed = true;
    }
  }
  std::vector<std::size_t> uncertain;
  for (std::size_t slot = 0; slot < sure.size(); ++slot) {
    if (!sure[slot]) uncertain.push_back(slot);
  }
  return uncertain;
}

/// Joint states without those found already, as disjoint parts (Nilsson 1998).
class BestStates {
 public:
  /// `slots`: those to be maximised over, in the order in which parts are cut.
  BestStates(Network network, std::vector<std::size_t> slots, double memory_limit_bytes, const Stop& stop)
      : network_(std::move(network)),
        slots_(std::move(slots)),
        summed_(uncertain_auxiliaries(network_)),
        memory_limit_bytes_(memory_limit_bytes),
        stop_(stop) {
    Part all;
    for (const std::size_t slot : slots_) all.allowed.emplace_back(network_.state_counts[slot], 1.0);
    add(std::move(all));
  }

  /// The best joint state not yet returned; nothing if no other is possible.
  std::optional<Maximum> next() {
    if (parts_.empty()) return std::nullopt;
    const auto best = std::max_element(
        parts_.begin(), parts_.end(), [](const Part& a, const Part& b) { return a.best.log_value < b.best.log_value; });
    const Part found = std::move(*best);
    parts_.erase(best);
    pending_ = found;
    return found.best;
  }

  /// Cuts the part of the last joint state returned into parts that do not hold it.
  void split() {
    Part rest = std::move(pending_);
    const Maximum found = rest.best;
    for (std::size_t i = 0; i < slots_.size(); ++i) {
      const std::size_t state = found.states[slots_[i]];
      Part other = rest;
      other.allowed[i][state] = 0.0;
      const bool possible =
          std::any_of(other.allowed[i].begin(), other.allowed[i].end(), [](double w) { return w > 0.0; });
      if (possible) add(std::move(other));
      rest.allowed[i].assign(rest.allowed[i].size(), 0.0);
      rest.allowed[i][state] = 1.0;
    }
  }

 private:
  struct Part {
    std::vector<std::vector<double>> allowed;  // by position among the slots, by state: 1 or 0
    Maximum best;
  };

  void add(Part part) {
    std::vector<Potential> factors = network_.factors;
    for (std::size_t i = 0; i < slots_.size(); ++i) factors.push_back({{slots_[i]}, part.allowed[i]});
    part.best = maximise(std::move(factors), network_.state_counts, summed_, memory_limit_bytes_, stop_);
    if (std::isfinite(part.best.log_value)) parts_.push_back(std::move(part));
  }

  Network network_;
  std::vector<std::size_t> slots_;
  std::vector<std::size_t> summed_;
  double memory_limit_bytes_;
  Stop stop_;
  std::vector<Part> parts_;
  Part pending_;
};

}  // namespace detail

inline Explanations explain(const Case& current, std::span<const VariableIndex> variables, std::size_t count,
                            const ExplainOptions& options, const Stop& stop) {
  const StopScope scope(current, stop);
  const std::vector<VariableIndex> chosen = detail::to_explain(current, variables);
  if (auto propagation = detail::propagation_over(current, chosen)) {
    detail::MarginalsByTree by_tree(current, chosen, *std::move(propagation));
    return detail::ExplanationSearch(by_tree, chosen, options).run(count);
  }
  detail::MarginalsByCase by_case(current, chosen);
  return detail::ExplanationSearch(by_case, chosen, options).run(count);
}

inline Explanations most_probable_explanations(const Case& current, std::size_t count, const Stop& stop) {
  const StopScope scope(current, stop);
  const FaultModel& model = current.model();
  std::vector<VariableIndex> wanted = current.solver().always_wanted();
  if (model.with_role(Role::component).empty()) {
    wanted.resize(model.size());
    std::iota(wanted.begin(), wanted.end(), std::size_t{0});
  }
  const CaseShape shape = shape_of_case(model, wanted, current.findings());
  Network network = expand(model, shape.presence, shape.known);
  for (const Finding& finding : current.findings()) {
    const std::size_t slot = network.slot_of[finding.variable];
    if (slot != no_slot) network.factors.push_back({{slot}, finding.weights});
  }

  Explanations result;
  std::vector<std::size_t> slots;
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (shape.presence[v] == Presence::left_out) continue;
    result.variables.push_back(v);
    if (network.slot_of[v] != no_slot) slots.push_back(network.slot_of[v]);
  }
  const std::vector<std::size_t> slot_of = network.slot_of;
  detail::BestStates states(std::move(network), std::move(slots), current.solver().options().memory_limit_bytes,
                            current.stop());
  while (result.best.size() < count) {
    const std::optional<Maximum> found = states.next();
    if (!found.has_value()) break;
    Explanation explanation{{}, std::exp(found->log_value - current.log_evidence())};
    // A variable without a slot is an effect found absent.
    for (const std::size_t v : result.variables) {
      explanation.states.push_back(slot_of[v] == no_slot ? 0 : found->states[slot_of[v]]);
    }
    result.best.push_back(std::move(explanation));
    if (result.best.size() < count) states.split();
  }
  return result;
}

inline std::vector<Fault> faults_of(const FaultModel& model, std::span<const VariableIndex> variables,
                                    const Explanation& explanation) {
  if (explanation.states.size() != variables.size()) {
    throw ArgumentError("explanation", std::to_string(explanation.states.size()) + " states",
                        "give one for each of the " + std::to_string(variables.size()) + " variables",
                        ErrorCode::wrong_size);
  }
  std::vector<Fault> faults;
  for (std::size_t i = 0; i < variables.size(); ++i) {
    detail::check_state(model, variables[i], explanation.states[i]);
    const bool component = model.variable(variables[i]).role() == Role::component;
    if (component && explanation.states[i] != 0) faults.push_back({variables[i], explanation.states[i]});
  }
  return faults;
}

}  // namespace faultodds

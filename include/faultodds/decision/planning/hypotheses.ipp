// Bodies of hypotheses.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/hypotheses.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

inline std::vector<Finding> findings_of(const FaultModel& model, const std::vector<VariableIndex>& components,
                                        const std::vector<Fault>& faults) {
  std::vector<Finding> findings;
  findings.reserve(components.size());
  for (const VariableIndex component : components) {
    const auto fault =
        std::find_if(faults.begin(), faults.end(), [&](const Fault& one) { return one.component == component; });
    const std::size_t state = fault == faults.end() ? StateIndex{} : fault->state;
    Finding finding{component, std::vector<double>(model.state_count(component), 0.0), state};
    finding.weights[state] = 1.0;
    findings.push_back(std::move(finding));
  }
  return findings;
}

/// A known fault is part of every hypothesis, since it still has to be mended.
inline std::vector<VariableIndex> open_and_known(const Case& current) {
  std::vector<VariableIndex> components = faults_in_question(current);
  const std::vector<VariableIndex> known = known_faults(current);
  components.insert(components.end(), known.begin(), known.end());
  std::sort(components.begin(), components.end());
  return components;
}

/// Those named, or else open_and_known. Throws ArgumentError if one is no component or is named twice.
inline std::vector<VariableIndex> components_in_question(const Case& current, const std::vector<VariableIndex>& named) {
  const std::vector<VariableIndex> components = named.empty() ? open_and_known(current) : named;
  std::vector<VariableIndex> sorted = components;
  std::sort(sorted.begin(), sorted.end());
  for (const VariableIndex component : sorted) {
    if (current.model().variable(component).role() != Role::component) {
      throw ArgumentError("components", "\"" + current.model().variable(component).name + "\" is not a component",
                          "name components");
    }
  }
  const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
  if (twice != sorted.end()) {
    throw ArgumentError("components", "\"" + current.model().variable(*twice).name + "\" is named twice",
                        "name each component once", ErrorCode::named_twice);
  }
  return components;
}

inline HypothesisTrial::HypothesisTrial(const Case& current, std::vector<VariableIndex> components)
    : model_(current.model()), components_(std::move(components)), trial_(current), scope_(trial_, current.stop()) {
  for (const Finding& finding : current.findings()) {
    const bool in_question = std::find(components_.begin(), components_.end(), finding.variable) != components_.end();
    (in_question ? weighed_ : others_).push_back(finding);
  }
}

inline bool HypothesisTrial::assume(const std::vector<Fault>& faults) {
  std::vector<Finding> findings = others_;
  log_weight_ = 0.0;
  for (Finding& finding : findings_of(model_, components_, faults)) {
    const Finding* weights = finding_of(weighed_, finding.variable);
    if (weights != nullptr) log_weight_ += std::log(weights->weights[*finding.state]);
    findings.push_back(std::move(finding));
  }
  return std::isfinite(log_weight_) && trial_.try_findings(std::move(findings));
}

/// No fault, then each fault alone.
inline std::vector<std::vector<Fault>> single_faults(const FaultModel& model,
                                                     const std::vector<VariableIndex>& components) {
  std::vector<std::vector<Fault>> sets(1);
  for (const VariableIndex component : components) {
    for (std::size_t s = 1; s < model.state_count(component); ++s) sets.push_back({{component, s}});
  }
  return sets;
}

inline Hypotheses one_fault_hypotheses(const Case& current, Hypotheses result, const OneFaultWatcher& watch) {
  HypothesisTrial trial(current, result.components);
  double total = 0.0;
  for (std::vector<Fault>& faults : single_faults(current.model(), result.components)) {
    if (!trial.assume(faults)) continue;
    if (watch) watch(faults, trial.current());
    const double probability = std::exp(trial.log_probability() - current.log_evidence());
    result.list.push_back({std::move(faults), probability});
    total += probability;
  }
  if (!(total > 0.0)) {
    throw ArgumentError("assumption", "the findings are impossible with one fault among the components in question",
                        "assume several faults, or name other components", ErrorCode::one_fault_impossible);
  }
  result.assumed = total;
  for (Hypothesis& hypothesis : result.list) hypothesis.probability /= total;
  sort_stably(result.list,
              [](const Hypothesis& one, const Hypothesis& other) { return one.probability > other.probability; });
  return result;
}

inline Hypotheses several_fault_hypotheses(const Case& current, Hypotheses result, std::size_t most) {
  const Explanations explanations = explain(current, result.components, most);
  for (const Explanation& explanation : explanations.best) {
    result.list.push_back({faults_of(current.model(), explanations.variables, explanation), explanation.probability});
  }
  return result;
}

inline Hypotheses hypotheses_with(const Case& current, const HypothesesOptions& options, const OneFaultWatcher& watch) {
  if (options.most == 0)
    throw ArgumentError("most", "0 hypotheses are asked for", "ask for at least one", ErrorCode::nothing_given);
  Hypotheses result;
  result.components = components_in_question(current, options.components);
  result.assumption = options.assumption;
  result = options.assumption == FaultAssumption::one_fault
               ? one_fault_hypotheses(current, std::move(result), watch)
               : several_fault_hypotheses(current, std::move(result), options.most);
  if (result.list.size() > options.most) result.list.resize(options.most);
  double listed = 0.0;
  for (const Hypothesis& hypothesis : result.list) listed += hypothesis.probability;
  result.left_out = std::max(0.0, 1.0 - listed);
  return result;
}

}  // namespace detail

inline bool allows_one_fault(const Case& current, const std::vector<VariableIndex>& components, const Stop& stop) {
  const StopScope scope(current, stop);
  const std::vector<VariableIndex> in_question = detail::components_in_question(current, components);
  detail::HypothesisTrial trial(current, in_question);
  const std::vector<std::vector<Fault>> sets = detail::single_faults(current.model(), in_question);
  return std::any_of(sets.begin(), sets.end(), [&](const std::vector<Fault>& faults) {
    return trial.assume(faults) && std::exp(trial.log_probability() - current.log_evidence()) > 0.0;
  });
}

inline Hypotheses hypotheses_of(const Case& current, const HypothesesOptions& options, const Stop& stop) {
  const StopScope scope(current, stop);
  return detail::hypotheses_with(current, options, {});
}

}  // namespace faultodds

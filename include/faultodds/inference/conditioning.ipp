// Bodies of conditioning.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/engine/cutset.hpp"
#include "faultodds/inference/network/odometer.hpp"

namespace faultodds {
namespace detail {

/// Adds up the cases.
class Conditioning {
 public:
  Conditioning(const Solver& solver, std::span<const Finding> findings, const ConditioningOptions& options,
               const Stop& stop)
      : solver_(solver), findings_(findings.begin(), findings.end()), stop_(stop) {
    check_findings(solver.model(), findings_);
    cutset_ = options.on.empty() ? choose_cutset(solver, findings_, options.max_cases, stop)
                                 : named_cutset(solver, findings_, options.on, options.max_cases, stop);
  }

  [[nodiscard]] ConditionedPosteriors work_out() {
    const FaultModel& model = solver_.model();
    ConditionedPosteriors result{cutset_.variables, 0, -std::numeric_limits<double>::infinity(), {}};
    for (std::size_t v = 0; v < model.size(); ++v) result.of_variable.emplace_back(model.state_count(v), 0.0);
    std::vector<std::size_t> sizes;
    for (const VariableIndex variable : cutset_.variables) sizes.push_back(model.state_count(variable));
    Odometer odometer(sizes);
    Case current(solver_);
    const StopScope scope(current, stop_);
    for (double left = cutset_.cases; left >= 1.0; left -= 1.0, odometer.next()) {
      stop_.check();
      stop_.report({.of = "cases",
                    .done = static_cast<std::size_t>(cutset_.cases - left),
                    .total = static_cast<std::size_t>(cutset_.cases)});
      std::vector<Finding> all = findings_;
      for (std::size_t i = 0; i < cutset_.variables.size(); ++i) {
        all.push_back(hard_finding(model, cutset_.variables[i], odometer.digits()[i]));
      }
      if (current.try_findings(std::move(all))) add(current, result);
    }
    if (result.cases == 0) refuse();
    return result;
  }

 private:
  [[noreturn]] void refuse() const {
    std::vector<ClashingFinding> clash;
    for (const Finding& finding : findings_) clash.push_back(clashing(solver_.model(), finding));
    throw ImpossibleFindings(std::move(clash));
  }

  /// Weighed by P(findings, s); what was added so far is scaled to that of the most probable one.
  static void add(const Case& current, ConditionedPosteriors& result) {
    ++result.cases;
    const double before = result.log_evidence;
    const double here = current.log_evidence();
    const double larger = std::max(before, here);
    result.log_evidence = larger + std::log(std::exp(before - larger) + std::exp(here - larger));
    const double keep = std::exp(before - result.log_evidence);
    const double share = std::exp(here - result.log_evidence);
    const std::vector<std::vector<double>> posteriors = current.posteriors();
    for (std::size_t v = 0; v < posteriors.size(); ++v) {
      for (std::size_t s = 0; s < posteriors[v].size(); ++s) {
        result.of_variable[v][s] = keep * result.of_variable[v][s] + share * posteriors[v][s];
      }
    }
  }

  const Solver& solver_;
  std::vector<Finding> findings_;
  const Stop& stop_;
  Cutset cutset_;
};

}  // namespace detail

inline ConditionedPosteriors posteriors_by_conditioning(const Solver& solver, std::span<const Finding> findings,
                                                        const ConditioningOptions& options, const Stop& stop) {
  return detail::Conditioning(solver, findings, options, stop).work_out();
}

}  // namespace faultodds

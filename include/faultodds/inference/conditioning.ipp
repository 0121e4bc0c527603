// Bodies of conditioning.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/network/odometer.hpp"

namespace faultodds {
namespace detail {

/// Chooses what to condition on, and adds up the cases.
class Conditioning {
 public:
  Conditioning(const Solver& solver, std::span<const Finding> findings, const ConditioningOptions& options,
               const Stop& stop)
      : solver_(solver), findings_(findings.begin(), findings.end()), options_(options), stop_(stop) {
    check_findings(solver.model(), findings_);
    for (const std::size_t variable : options.on) take(variable);
    if (options.on.empty()) choose();
  }

  [[nodiscard]] ConditionedPosteriors work_out() {
    const FaultModel& model = solver_.model();
    ConditionedPosteriors result{on_, 0, -std::numeric_limits<double>::infinity(), {}};
    for (std::size_t v = 0; v < model.size(); ++v) result.of_variable.emplace_back(model.state_count(v), 0.0);
    std::vector<std::size_t> sizes;
    for (const std::size_t variable : on_) sizes.push_back(model.state_count(variable));
    Odometer odometer(sizes);
    Case current(solver_);
    const StopScope scope(current, stop_);
    for (double left = cases_; left >= 1.0; left -= 1.0, odometer.next()) {
      stop_.check();
      stop_.report(
          {.of = "cases", .done = static_cast<std::size_t>(cases_ - left), .total = static_cast<std::size_t>(cases_)});
      std::vector<Finding> all = findings_;
      for (std::size_t i = 0; i < on_.size(); ++i) {
        all.push_back(set_finding(model, on_[i], std::array{odometer.digits()[i]}));
      }
      if (current.try_findings(std::move(all))) add(current, result);
    }
    if (result.cases == 0) refuse();
    return result;
  }

 private:
  void take(std::size_t variable) {
    const std::string& name = solver_.model().variable(variable).name;
    if (faultodds::finding_of(findings_, variable) != nullptr) {
      throw ArgumentError("on", '"' + name + "\" has a finding", "name variables of which nothing was found",
                          ErrorCode::already_found);
    }
    if (std::find(on_.begin(), on_.end(), variable) != on_.end()) {
      throw ArgumentError("on", '"' + name + "\" is named twice", "name each variable once", ErrorCode::named_twice);
    }
    on_.push_back(variable);
    cases_ *= static_cast<double>(solver_.model().state_count(variable));
    if (cases_ > static_cast<double>(options_.max_cases)) refuse_so_many(bytes_with(on_));
  }

  [[nodiscard]] OrderedNetwork network_with(const std::vector<std::size_t>& known) const {
    std::vector<Finding> all = findings_;
    for (const std::size_t variable : known) {
      all.push_back(set_finding(solver_.model(), variable, std::array{std::size_t{0}}));
    }
    SolverOptions quick = solver_.options();
    quick.order_tries = 1;
    quick.order_steps_per_entry = 0.0;
    return ordered_network(solver_.model(), shape_of_case(solver_.model(), always_wanted(solver_.model()), all), quick,
                           stop_);
  }

  [[nodiscard]] double bytes_with(const std::vector<std::size_t>& known) const {
    const OrderedNetwork made = network_with(known);
    return JunctionTree::bytes_needed(made.network, made.order.order);
  }

  /// Greedily the variable whose states leave least, among those in most factors.
  void choose() {
    if (solver_.has_shared_tree()) return;
    double bytes = bytes_with(on_);
    while (bytes > solver_.options().memory_limit_bytes) {
      std::optional<std::size_t> best;
      double least = std::numeric_limits<double>::infinity();
      for (const std::size_t variable : candidates()) {
        std::vector<std::size_t> known = on_;
        known.push_back(variable);
        const double left = bytes_with(known);
        if (left < least) {
          least = left;
          best = variable;
        }
      }
      if (!best) refuse_so_many(bytes);
      take(*best);
      bytes = least;
    }
  }

  [[nodiscard]] std::vector<std::size_t> candidates() const {
    constexpr std::size_t most = 8;
    const Network network = network_with(on_).network;
    std::vector<std::size_t> factors_of(network.state_counts.size(), 0);
    for (const Potential& factor : network.factors) {
      for (const std::size_t slot : factor.scope) ++factors_of[slot];
    }
    std::vector<std::pair<std::size_t, std::size_t>> order;  // by factors, most first
    for (std::size_t v = 0; v < network.slot_of.size(); ++v) {
      const bool is_open =
          faultodds::finding_of(findings_, v) == nullptr && std::find(on_.begin(), on_.end(), v) == on_.end();
      if (network.slot_of[v] != no_slot && is_open) order.emplace_back(factors_of[network.slot_of[v]], v);
    }
    std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    if (order.size() > most) order.resize(most);
    std::vector<std::size_t> variables;
    for (const auto& [factors, variable] : order) variables.push_back(variable);
    return variables;
  }

  [[noreturn]] void refuse_so_many(double bytes) const {
    throw TooLarge("one of " + std::to_string(options_.max_cases) + " cases", bytes,
                   solver_.options().memory_limit_bytes,
                   "allow for more cases or more memory, or estimate by sampling");
  }

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
  const ConditioningOptions& options_;
  const Stop& stop_;
  std::vector<std::size_t> on_;
  double cases_ = 1.0;
};

}  // namespace detail

inline ConditionedPosteriors posteriors_by_conditioning(const Solver& solver, std::span<const Finding> findings,
                                                        const ConditioningOptions& options, const Stop& stop) {
  return detail::Conditioning(solver, findings, options, stop).work_out();
}

}  // namespace faultodds

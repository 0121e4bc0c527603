// Bodies of cutset.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "faultodds/inference/engine/cutset.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/inference/network/finding_weights.hpp"
#include "faultodds/inference/network/relevance.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds::detail {

class CutsetSearch {
 public:
  CutsetSearch(const Solver& solver, std::span<const Finding> findings, std::size_t max_cases, const Stop& stop)
      : solver_(solver), findings_(findings), max_cases_(max_cases), stop_(stop) {}

  void take(std::size_t variable) {
    const std::string& name = solver_.model().variable(variable).name;
    if (faultodds::finding_of(findings_, variable) != nullptr) {
      throw ArgumentError("on", '"' + name + "\" has a finding", "name variables of which nothing was found",
                          ErrorCode::already_found);
    }
    if (is_taken(variable)) {
      throw ArgumentError("on", '"' + name + "\" is named twice", "name each variable once", ErrorCode::named_twice);
    }
    cutset_.variables.push_back(variable);
    cutset_.cases *= static_cast<double>(solver_.model().state_count(variable));
    if (cutset_.cases > static_cast<double>(max_cases_)) refuse(bytes_with(cutset_.variables));
  }

  void choose() {
    if (solver_.has_shared_tree()) return;
    double bytes = bytes_with(cutset_.variables);
    while (bytes > solver_.options().memory_limit_bytes) {
      std::optional<std::size_t> best;
      double least = std::numeric_limits<double>::infinity();
      for (const std::size_t variable : candidates()) {
        std::vector<VariableIndex> known = cutset_.variables;
        known.push_back(variable);
        const double left = bytes_with(known);
        if (left < least) {
          least = left;
          best = variable;
        }
      }
      if (!best) refuse(bytes);
      take(*best);
      bytes = least;
    }
  }

  [[nodiscard]] Cutset cutset() && { return std::move(cutset_); }

 private:
  [[nodiscard]] bool is_taken(std::size_t variable) const {
    return std::find(cutset_.variables.begin(), cutset_.variables.end(), variable) != cutset_.variables.end();
  }

  [[nodiscard]] OrderedNetwork network_with(const std::vector<VariableIndex>& known) const {
    std::vector<Finding> all(findings_.begin(), findings_.end());
    for (const std::size_t variable : known) {
      all.push_back(hard_finding(solver_.model(), variable, 0));
    }
    SolverOptions quick = solver_.options();
    quick.order_tries = 1;
    quick.order_steps_per_entry = 0.0;
    CaseShape shape = shape_of_case(solver_.model(), solver_.always_wanted(), all);
    leave_out_weights(shape, solver_.model(), all);
    return ordered_network(solver_.model(), shape, quick, stop_);
  }

  [[nodiscard]] double bytes_with(const std::vector<VariableIndex>& known) const {
    const OrderedNetwork made = network_with(known);
    return JunctionTree::bytes_needed(made.network, made.order.order);
  }

  [[nodiscard]] std::vector<VariableIndex> candidates() const {
    constexpr std::size_t most = 8;
    const Network network = network_with(cutset_.variables).network;
    std::vector<std::size_t> factors_of(network.state_counts.size(), 0);
    for (const Potential& factor : network.factors) {
      for (const std::size_t slot : factor.scope) ++factors_of[slot];
    }
    std::vector<std::pair<std::size_t, std::size_t>> order;  // by factors, most first
    for (std::size_t v = 0; v < network.slot_of.size(); ++v) {
      const bool is_open = faultodds::finding_of(findings_, v) == nullptr && !is_taken(v);
      if (network.slot_of[v] != no_slot && is_open) order.emplace_back(factors_of[network.slot_of[v]], v);
    }
    sort_stably(order, [](const auto& a, const auto& b) { return a.first > b.first; });
    if (order.size() > most) order.resize(most);
    std::vector<VariableIndex> variables;
    for (const auto& [factors, variable] : order) variables.push_back(variable);
    return variables;
  }

  [[noreturn]] void refuse(double bytes) const {
    throw TooLarge("one of " + std::to_string(max_cases_) + " cases", bytes, solver_.options().memory_limit_bytes,
                   "allow for more cases or more memory, or estimate by sampling");
  }

  const Solver& solver_;
  std::span<const Finding> findings_;
  std::size_t max_cases_;
  const Stop& stop_;
  Cutset cutset_;
};

inline Cutset choose_cutset(const Solver& solver, std::span<const Finding> findings, std::size_t max_cases,
                            const Stop& stop) {
  CutsetSearch search(solver, findings, max_cases, stop);
  search.choose();
  return std::move(search).cutset();
}

inline Cutset named_cutset(const Solver& solver, std::span<const Finding> findings,
                           std::span<const VariableIndex> variables, std::size_t max_cases, const Stop& stop) {
  CutsetSearch search(solver, findings, max_cases, stop);
  for (const std::size_t variable : variables) search.take(variable);
  return std::move(search).cutset();
}

}  // namespace faultodds::detail

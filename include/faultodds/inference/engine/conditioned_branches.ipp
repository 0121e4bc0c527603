// Bodies of conditioned_branches.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "faultodds/inference/engine/conditioned_branches.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/inference/network/finding_weights.hpp"
#include "faultodds/inference/network/odometer.hpp"

namespace faultodds::detail {

inline std::optional<TwoLayerEngine> cheap_two_layer(const Solver& solver, const CaseShape& shape,
                                                     std::span<const Finding> findings, const Stop& stop) {
  if (!may_have_two_layers(solver.model(), shape, findings)) return std::nullopt;
  auto sums = two_layer_sums(solver, shape, findings, solver.options().two_layer_multiplications, stop);
  if (!sums.has_value()) return std::nullopt;
  return TwoLayerEngine(*std::move(sums));
}

inline DirectEngine other_engine(const Solver& solver, CaseShape shape, std::span<const Finding> findings,
                                 const Stop& stop) {
  static constexpr double times_cheap = 256.0;
  try {
    std::shared_ptr<const JunctionTree> tree = solver.junction_tree_for(shape, stop);
    return TreeEngine(solver.model(), std::move(tree), std::move(shape));
  } catch (const TooLarge&) {
    for (const Finding& finding : findings) {  // here all of them are looked at
      if (shape.presence[finding.variable] == Presence::left_out) shape.presence[finding.variable] = Presence::present;
    }
    const double most = times_cheap * solver.options().two_layer_multiplications;
    auto two_layer = two_layer_sums(solver, shape, findings, most, stop);
    if (!two_layer.has_value()) throw;
    return TwoLayerEngine(*std::move(two_layer));
  }
}

inline DirectEngine direct_engine(const Solver& solver, CaseShape shape, std::span<const Finding> findings,
                                  const Stop& stop) {
  if (auto two_layer = cheap_two_layer(solver, shape, findings, stop); two_layer.has_value()) {
    return *std::move(two_layer);
  }
  leave_out_weights(shape, solver.model(), findings);
  return other_engine(solver, std::move(shape), findings, stop);
}

inline DirectEngine ConditionedBranches::engine_of(const ConditionedBranch& branch, const Stop& stop) const {
  if (branch.engine != nullptr) return *branch.engine;
  CaseShape shape = shape_of_case(solver.model(), solver.always_wanted(), branch.findings);
  DirectEngine made = direct_engine(solver, std::move(shape), branch.findings, stop);
  std::visit([&](auto& one) { one.enter(branch.findings); }, made);
  return made;
}

inline std::vector<VariableIndex> ConditionedBranches::outside_cutset(std::span<const VariableIndex> variables) const {
  std::vector<VariableIndex> outside;
  for (const std::size_t variable : variables) {
    if (place_in_cutset[variable] == no_slot) outside.push_back(variable);
  }
  return outside;
}

inline std::size_t ConditionedBranches::entries_of(std::span<const VariableIndex> variables) const {
  std::size_t entries = 1;
  for (const std::size_t variable : variables) entries *= solver.model().state_count(variable);
  return entries;
}

inline std::vector<std::size_t> ConditionedBranches::places_in_joint(const ConditionedBranch& branch,
                                                                     std::span<const VariableIndex> variables) const {
  std::vector<std::size_t> places{0};
  for (const std::size_t variable : variables) {
    const std::size_t states = solver.model().state_count(variable);
    const std::size_t place = place_in_cutset[variable];
    std::vector<std::size_t> longer;
    for (const std::size_t before : places) {
      if (place != no_slot) {
        longer.push_back(before * states + branch.states[place]);
        continue;
      }
      for (std::size_t s = 0; s < states; ++s) longer.push_back(before * states + s);
    }
    places = std::move(longer);
  }
  return places;
}

/// Works out one branch after the other, and adds up their marginals.
class BranchSum {
 public:
  BranchSum(const Solver& solver, Cutset cutset, const Stop& stop)
      : made_{solver, std::move(cutset), {}, {}, -std::numeric_limits<double>::infinity(), {}, {}}, stop_(stop) {
    const FaultModel& model = solver.model();
    made_.place_in_cutset.assign(model.size(), no_slot);
    for (std::size_t i = 0; i < made_.cutset.variables.size(); ++i) {
      made_.place_in_cutset[made_.cutset.variables[i]] = i;
    }
    for (std::size_t v = 0; v < model.size(); ++v) {
      made_.slot_of.push_back(v);
      made_.marginals.emplace_back(model.state_count(v), 0.0);
    }
  }

  void add(std::vector<Finding> findings, const std::vector<std::size_t>& states) {
    const FaultModel& model = made_.solver.model();
    for (std::size_t i = 0; i < states.size(); ++i) {
      findings.push_back(hard_finding(model, made_.cutset.variables[i], states[i]));
    }
    ConditionedBranch branch{std::move(findings), states, 0.0, nullptr};
    DirectEngine engine = made_.engine_of(branch, stop_);
    const double log_evidence = std::visit(
        [&](auto& one) {
          one.stop_by(stop_);
          return one.log_evidence();
        },
        engine);
    if (!std::isfinite(log_evidence)) return;
    weigh(log_evidence, branch);
    std::visit([&](auto& one) { add_marginals(one, branch); }, engine);
    keep(std::move(engine), branch);
    made_.branches.push_back(std::move(branch));
  }

  [[nodiscard]] ConditionedBranches take() && { return std::move(made_); }

 private:
  /// What was added before is scaled, so that all shares sum to one.
  void weigh(double log_evidence, ConditionedBranch& branch) {
    const double before = made_.log_evidence;
    const double larger = std::max(before, log_evidence);
    made_.log_evidence = larger + std::log(std::exp(before - larger) + std::exp(log_evidence - larger));
    const double keep = std::exp(before - made_.log_evidence);
    branch.share = std::exp(log_evidence - made_.log_evidence);
    for (ConditionedBranch& earlier : made_.branches) earlier.share *= keep;
    for (std::vector<double>& marginal : made_.marginals) {
      for (double& probability : marginal) probability *= keep;
    }
  }

  template <class Engine>
  void add_marginals(Engine& engine, const ConditionedBranch& branch) {
    engine.read_all();
    for (std::size_t v = 0; v < made_.slot_of.size(); ++v) {
      std::vector<double>& marginal = made_.marginals[v];
      const std::size_t place = made_.place_in_cutset[v];
      if (place != no_slot) {
        marginal[branch.states[place]] += branch.share;
        continue;
      }
      const std::size_t slot = engine.slot_of()[v];
      if (slot == no_slot) made_.slot_of[v] = no_slot;
      if (made_.slot_of[v] == no_slot) continue;
      const std::span<const double> here = engine.marginal(slot);
      for (std::size_t s = 0; s < marginal.size(); ++s) marginal[s] += branch.share * here[s];
    }
  }

  /// As long as all trees and propagations fit into the limit together.
  void keep(DirectEngine engine, ConditionedBranch& branch) {
    if (const auto* tree = std::get_if<TreeEngine>(&engine); tree != nullptr) {
      kept_bytes_ += 2.0 * tree->propagation().tree().bytes();
    }
    if (kept_bytes_ > made_.solver.options().memory_limit_bytes) {
      for (ConditionedBranch& earlier : made_.branches) earlier.engine.reset();
      kept_bytes_ = std::numeric_limits<double>::infinity();
      return;
    }
    branch.engine = std::make_shared<const DirectEngine>(std::move(engine));
  }

  ConditionedBranches made_;
  const Stop& stop_;
  double kept_bytes_ = 0.0;
};

inline std::shared_ptr<const ConditionedBranches> split_by(const Solver& solver, Cutset cutset,
                                                           std::span<const Finding> findings, const Stop& stop) {
  std::vector<std::size_t> sizes;
  for (const std::size_t variable : cutset.variables) sizes.push_back(solver.model().state_count(variable));
  const auto total = static_cast<std::size_t>(cutset.cases);
  BranchSum sum(solver, std::move(cutset), stop);
  Odometer odometer(std::move(sizes));
  for (std::size_t done = 0; done < total; ++done, odometer.next()) {
    stop.check();
    stop.report({.of = "cases", .done = done, .total = total});
    sum.add({findings.begin(), findings.end()}, odometer.digits());
  }
  return std::make_shared<const ConditionedBranches>(std::move(sum).take());
}

}  // namespace faultodds::detail

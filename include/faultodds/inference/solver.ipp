// Bodies of solver.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/inference/network/expansion.hpp"
#include "faultodds/inference/network/relevance.hpp"
#include "faultodds/inference/solver.hpp"

namespace faultodds {
namespace detail {

inline EliminationOrder order_of(const Network& network, const OrderEffort& effort, const Stop& stop) {
  std::vector<std::vector<std::size_t>> scopes;
  for (const Potential& factor : network.factors) scopes.push_back(factor.scope);
  return find_order(network.state_counts, scopes, {}, effort, stop);
}

inline OrderEffort effort_of(const SolverOptions& options) {
  OrderEffort effort;
  effort.tries = options.order_tries;
  effort.seed = options.order_seed;
  effort.steps_per_entry = options.order_steps_per_entry;
  return effort;
}

/// More tries never make an order this many times better.
inline constexpr double max_saved = 1000.0;

inline OrderedNetwork ordered_network(const FaultModel& model, const CaseShape& shape, const SolverOptions& options,
                                      const Stop& stop) {
  static constexpr std::size_t quick_tries = 4;
  static constexpr double quick_entries = 1 << 12;
  static constexpr double entries_per_seed = 1 << 11;
  static constexpr std::uint64_t max_seeds = 16;
  const auto with_chains = [&](std::uint64_t seed) {
    OrderedNetwork made{expand(model, shape.presence, shape.known, seed), {}};
    made.order = order_of(made.network, {std::min(options.order_tries, quick_tries), options.order_seed}, stop);
    return made;
  };
  OrderedNetwork best = with_chains(0);
  if (has_chains(model)) {
    for (std::uint64_t seed = 1; seed <= max_seeds; ++seed) {
      const double entries = best.order.total_entries;
      if (entries < quick_entries || entries < entries_per_seed * static_cast<double>(seed)) break;
      if (OrderedNetwork other = with_chains(seed); other.order.total_entries < entries) best = std::move(other);
    }
  }
  if (best.order.total_entries <= 4.0 * quick_entries) return best;
  if (best.order.total_entries * sizeof(double) > max_saved * options.memory_limit_bytes) return best;
  EliminationOrder longer = order_of(best.network, effort_of(options), stop);
  if (longer.total_entries < best.order.total_entries) best.order = std::move(longer);
  return best;
}

inline Network whole_network(const FaultModel& model) {
  return expand(model, std::vector<Presence>(model.size(), Presence::present));
}

inline OrderedNetwork ordered_whole_network(const FaultModel& model, const SolverOptions& options, const Stop& stop) {
  OrderedNetwork whole{whole_network(model), {}};
  whole.order = order_of(whole.network, effort_of(options), stop);
  return whole;
}

/// The least number of entries of the whole network's factors, whatever the order of links in chains: all of a
/// chain's links but the first tell the running maximum before from the one after. Counts are left out.
inline double min_entries_written_out(const FaultModel& model) {
  double entries = 0.0;
  for (std::size_t v = 0; v < model.size(); ++v) {
    const Distribution& distribution = model.variable(v).distribution;
    if (!becomes_chain(model, v)) {
      entries += table_entries(model, v);
    } else if (const auto* noisy = std::get_if<NoisyMax>(&distribution); noisy != nullptr) {
      const auto states = static_cast<double>(model.state_count(v));
      double rows = 0.0;
      double max_rows = 0.0;
      for (const Link& link : noisy->links) {
        auto rows_here = static_cast<double>(model.state_count(link.cause));
        for (const Gate& gate : link.only_when) rows_here *= static_cast<double>(model.state_count(gate.variable));
        rows += rows_here;
        max_rows = std::max(max_rows, rows_here);
      }
      entries += rows * states * states - max_rows * states * (states - 1.0);
    }
  }
  return entries;
}

/// True if findings can make a case's network much smaller than the whole one: an effect that is absent splits.
inline bool has_noisy_effects(const FaultModel& model) {
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (std::holds_alternative<NoisyMax>(model.variable(v).distribution)) return true;
  }
  return false;
}

/// Null if the whole tree is not worth its size, or does not fit.
inline std::shared_ptr<const JunctionTree> make_whole_plan(const FaultModel& model, const SolverOptions& options,
                                                           const Stop& stop) {
  const bool noisy = has_noisy_effects(model);
  if (noisy && min_entries_written_out(model) > options.whole_tree_entries) return nullptr;  // a tree: hardly fewer
  Network network = whole_network(model);
  EliminationOrder order = order_of(network, {1, options.order_seed}, stop);
  if (noisy && order.total_entries > max_saved * options.whole_tree_entries) return nullptr;
  order = order_of(network, effort_of(options), stop);
  if (noisy && order.total_entries > options.whole_tree_entries) return nullptr;
  if (JunctionTree::bytes_needed(network, order.order) > options.memory_limit_bytes) return nullptr;
  return std::make_shared<const JunctionTree>(std::move(network), order.order, options.memory_limit_bytes, stop);
}

}  // namespace detail

inline Solver::Solver(FaultModel model, SolverOptions options, const Stop& stop) {
  std::shared_ptr<const JunctionTree> whole = detail::make_whole_plan(model, options, stop);
  auto trees = std::make_shared<TreeCache>(options.cached_trees_bytes);
  detail::LinkWeights link_weights(model);
  std::vector<VariableIndex> wanted = detail::always_wanted(model);
  data_ = std::make_shared<const Data>(Data{std::move(model), std::move(options), std::move(whole), std::move(trees),
                                            std::make_shared<detail::Memo>(), std::make_shared<detail::Memo>(),
                                            std::move(link_weights), std::move(wanted)});
}

inline std::shared_ptr<const JunctionTree> Solver::junction_tree_for(const CaseShape& shape, const Stop& stop) const {
  if (std::shared_ptr<const JunctionTree> kept = data_->trees->find(shape); kept != nullptr) return kept;
  detail::OrderedNetwork made = detail::ordered_network(model(), shape, options(), stop);
  auto tree = std::make_shared<const JunctionTree>(std::move(made.network), made.order.order,
                                                   options().memory_limit_bytes, stop, data_->layouts.get());
  data_->trees->keep(shape, tree);
  return tree;
}

inline CostEstimate estimate_cost(const FaultModel& model, const SolverOptions& options, const Stop& stop) {
  const detail::OrderedNetwork whole = detail::ordered_whole_network(model, options, stop);
  return estimate_cost(make_tree_shape(whole.network, whole.order.order), whole.network.state_counts);
}

}  // namespace faultodds

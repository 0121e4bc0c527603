// Bodies of solver.hpp.
#pragma once

#include <algorithm>
#include <utility>
#include <vector>

#include "faultodds/inference/relevance.hpp"
#include "faultodds/inference/solver.hpp"

namespace faultodds {
namespace detail {

inline EliminationOrder order_of(const Network& network, const OrderEffort& effort) {
  std::vector<std::vector<std::size_t>> scopes;
  for (const Potential& factor : network.factors) scopes.push_back(factor.scope);
  return find_order(network.state_counts, scopes, {}, effort);
}

inline OrderEffort effort_of(const SolverOptions& options) {
  OrderEffort effort;
  effort.tries = options.order_tries;
  effort.seed = options.order_seed;
  effort.steps_per_entry = options.order_steps_per_entry;
  return effort;
}

inline Network whole_network(const FaultModel& model) {
  return expand(model, std::vector<Presence>(model.size(), Presence::present));
}

inline double factor_entries(const Network& network) {
  double entries = 0.0;
  for (const Potential& factor : network.factors) entries += static_cast<double>(factor.values.size());
  return entries;
}

/// Null where the whole tree is not worth its size, or does not fit.
inline std::shared_ptr<const Plan> make_whole_plan(const FaultModel& model, const SolverOptions& options) {
  static constexpr double most_saved = 1000.0;  // more tries never make an order that much better
  const bool chains = has_chains(model);
  Network network = whole_network(model);
  if (chains && factor_entries(network) > options.whole_tree_entries) return nullptr;  // a tree is hardly smaller
  EliminationOrder order = order_of(network, {1, options.order_seed});
  if (chains && order.total_entries > most_saved * options.whole_tree_entries) return nullptr;
  order = order_of(network, effort_of(options));
  if (chains && order.total_entries > options.whole_tree_entries) return nullptr;
  if (Plan::bytes_needed(network, order.order) > options.memory_limit_bytes) return nullptr;
  return std::make_shared<const Plan>(std::move(network), order.order, options.memory_limit_bytes, options.checkpoint);
}

}  // namespace detail

inline Solver::Solver(FaultModel model, SolverOptions options) {
  std::shared_ptr<const Plan> whole = detail::make_whole_plan(model, options);
  data_ = std::make_shared<const Data>(Data{std::move(model), std::move(options), std::move(whole)});
}

inline CostEstimate estimate_cost(const FaultModel& model, const SolverOptions& options) {
  const Network network = detail::whole_network(model);
  const EliminationOrder order = detail::order_of(network, detail::effort_of(options));
  return estimate_cost(make_clique_tree(network, order.order), network.state_counts);
}

}  // namespace faultodds

// SPDX-License-Identifier: BSD-3-Clause
#include "memory_use.hpp"

#include <optional>
#include <utility>
#include <vector>

#include "allocations.hpp"

namespace faultodds_benchmarks {

namespace {

void estimate(const faultodds::detail::OrderedNetwork& made, MemoryUse& use) {
  const faultodds::TreeShape tree = faultodds::make_tree_shape(made.network, made.order.order);
  use.tables = faultodds::estimate_cost(tree, made.network.state_counts).bytes;
  use.estimate = faultodds::JunctionTree::bytes_needed(made.network, made.order.order);
}

/// Bytes in use at most while `work` runs, beyond `before`.
template <typename Work>
double max_bytes(std::size_t before, Work&& work) {
  start_peak();
  std::forward<Work>(work)();
  return static_cast<double>(peak_bytes()) - static_cast<double>(before);
}

}  // namespace

MemoryUse memory_use(faultodds::FaultModel model) {
  using namespace faultodds;
  SolverOptions options;
  options.whole_tree_entries = 1e18;
  MemoryUse use;
  estimate(detail::ordered_whole_network(model, options), use);
  const std::size_t before = bytes_in_use();
  std::optional<Solver> solver;
  use.compiling = max_bytes(before, [&] { solver.emplace(std::move(model), options); });
  if (!solver->has_shared_tree()) {
    throw TooLarge("one junction tree for all cases", use.estimate, options.memory_limit_bytes,
                   "each case has a junction tree of its own");
  }
  use.answering = max_bytes(before, [&] { static_cast<void>(Case(*solver).posteriors()); });
  return use;
}

MemoryUse memory_of_case(const faultodds::Solver& solver, std::span<const faultodds::Finding> findings) {
  using namespace faultodds;
  MemoryUse use;
  const CaseShape shape = shape_of_case(solver.model(), detail::always_wanted(solver.model()), findings);
  estimate(detail::ordered_network(solver.model(), shape, solver.options()), use);
  const std::size_t before = bytes_in_use();
  Case current(solver);
  use.compiling = max_bytes(before, [&] { current.add(findings); });
  use.answering = max_bytes(before, [&] { static_cast<void>(current.posteriors()); });
  return use;
}

}  // namespace faultodds_benchmarks

#include "memory_use.hpp"

#include <optional>
#include <utility>
#include <vector>

#include "allocations.hpp"

namespace faultodds_benchmarks {

namespace {

void foretell(const faultodds::Network& network, std::span<const std::size_t> order, MemoryUse& use) {
  use.tables = faultodds::estimate_cost(faultodds::make_clique_tree(network, order), network.state_counts).bytes;
  use.estimate = faultodds::Plan::bytes_needed(network, order);
}

/// Bytes in use at most while `work` runs, beyond `before`.
template <typename Work>
double most_bytes(std::size_t before, Work&& work) {
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
  {
    const Network network = detail::whole_network(model);
    foretell(network, detail::order_of(network, detail::effort_of(options)).order, use);
  }
  const std::size_t before = bytes_in_use();
  std::optional<Solver> solver;
  use.compiling = most_bytes(before, [&] { solver.emplace(std::move(model), options); });
  if (!solver->has_whole_plan()) {
    throw TooLarge("one plan for all cases", use.estimate, options.memory_limit_bytes,
                   "each case has a plan of its own");
  }
  use.answering = most_bytes(before, [&] { static_cast<void>(Case(*solver).posteriors()); });
  return use;
}

MemoryUse memory_of_case(const faultodds::Solver& solver, std::span<const faultodds::Finding> findings) {
  using namespace faultodds;
  MemoryUse use;
  {
    const CaseShape shape = shape_of_case(solver.model(), detail::always_wanted(solver.model()), findings);
    const detail::OrderedNetwork made = detail::ordered_network(solver.model(), shape, solver.options());
    foretell(made.network, made.order.order, use);
  }
  const std::size_t before = bytes_in_use();
  Case current(solver);
  use.compiling = most_bytes(before, [&] { current.add(findings); });
  use.answering = most_bytes(before, [&] { static_cast<void>(current.posteriors()); });
  return use;
}

}  // namespace faultodds_benchmarks

#include "memory_use.hpp"

#include <utility>
#include <vector>

#include "allocations.hpp"
#include "faultodds/inference/case.hpp"

namespace faultodds_benchmarks {

MemoryUse memory_use(faultodds::FaultModel model) {
  using namespace faultodds;
  SolverOptions options;
  options.whole_tree_entries = 1e18;
  MemoryUse use;
  {
    const Network network = detail::whole_network(model);
    const std::vector<std::size_t> order = detail::order_of(network, detail::effort_of(options)).order;
    use.tables = estimate_cost(make_clique_tree(network, order), network.state_counts).bytes;
    use.estimate = Plan::bytes_needed(network, order);
  }
  const auto before = static_cast<double>(bytes_in_use());
  start_peak();
  const Solver solver(std::move(model), options);
  if (!solver.has_whole_plan()) {
    throw TooLarge("one plan for all cases", use.estimate, options.memory_limit_bytes,
                   "each case has a plan of its own");
  }
  use.compiling = static_cast<double>(peak_bytes()) - before;
  start_peak();
  const Case current(solver);
  const std::vector<std::vector<double>> posteriors = current.posteriors();
  use.answering = static_cast<double>(peak_bytes()) - before;
  return use;
}

}  // namespace faultodds_benchmarks

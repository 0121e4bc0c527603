// From a fault model to a solver, with the usual search for an elimination order and with a single try.
// SPDX-License-Identifier: BSD-3-Clause
#include "allocations.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"
#include "walkers.hpp"

namespace {

using namespace faultodds_benchmarks;

void compile(benchmark::State& state, const NamedFile& file, std::size_t tries) {
  const faultodds::FaultModel model = faultodds::read_model(file.path);
  faultodds::SolverOptions options;
  if (tries > 0) options.order_tries = tries;
  const std::size_t before = allocations_so_far();
  for (auto _ : state) {
    faultodds::Solver solver(model, options);
    benchmark::DoNotOptimize(solver);
  }
  state.counters["allocations"] =
      benchmark::Counter(static_cast<double>(allocations_so_far() - before), benchmark::Counter::kAvgIterations);
  state.counters["variables"] = static_cast<double>(model.size());
  const faultodds::CostEstimate cost = faultodds::estimate_cost(model, options);
  state.counters["dense"] = cost.entries;
  state.counters["largest"] = cost.largest_clique;
  const faultodds::Solver solver(model, options);
  if (!solver.has_shared_tree()) return;
  state.counters["entries"] = kept_entries(*solver.shared_tree());
  state.counters["bytes"] = solver.shared_tree()->bytes();
}

const bool registered =
    for_each_model("compile/default",
                   [](benchmark::State& state, const NamedFile& file) { compile(state, file, 0); }) &&
    for_each_model("compile/one_try", [](benchmark::State& state, const NamedFile& file) { compile(state, file, 1); });

}  // namespace

// From a fault model to a solver.
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;

void compile(benchmark::State& state, const NamedFile& file) {
  const faultodds::FaultModel model = faultodds::read_model(file.path);
  for (auto _ : state) {
    faultodds::Solver solver(model);
    benchmark::DoNotOptimize(solver);
  }
  const faultodds::CostEstimate cost = faultodds::estimate_cost(model);
  state.counters["variables"] = static_cast<double>(model.size());
  state.counters["entries"] = cost.entries;
  state.counters["largest"] = cost.largest_clique;
}

const bool registered = for_each_model("compile", compile);

}  // namespace

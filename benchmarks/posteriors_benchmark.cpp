// The posteriors of all variables, along a walk of findings: everything worked out anew, or what one finding changes.
// SPDX-License-Identifier: BSD-3-Clause
#include "allocations.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"
#include "walkers.hpp"

namespace {

using namespace faultodds_benchmarks;

/// `take_step(i)` once along the walk to warm up, then timed by the step.
template <typename TakeStep>
void time_steps(benchmark::State& state, const faultodds::Solver& solver, std::size_t steps, TakeStep take_step) {
  for (std::size_t i = 0; i < steps; ++i) benchmark::DoNotOptimize(take_step(i));
  const std::size_t before = allocations_so_far();
  while (state.KeepRunningBatch(static_cast<benchmark::IterationCount>(steps))) {
    for (std::size_t i = 0; i < steps; ++i) benchmark::DoNotOptimize(take_step(i));
  }
  state.counters["allocations"] =
      benchmark::Counter(static_cast<double>(allocations_so_far() - before), benchmark::Counter::kAvgIterations);
  if (!solver.has_shared_tree()) return;
  const double entries = kept_entries(*solver.shared_tree());
  state.counters["entries"] = entries;
  state.counters["bytes"] = solver.shared_tree()->bytes();
  state.counters["time/entry"] =
      benchmark::Counter(entries, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

template <typename Walker, auto take_step>
void go(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  if (std::is_same_v<Walker, PropagationWalker> && !solver.has_shared_tree()) {
    state.SkipWithError("each case has a junction tree of its own");
    return;
  }
  Walker walker(solver, make_walk(solver));
  time_steps(state, solver, walker.size(), [&walker](std::size_t step) { return (walker.*take_step)(step); });
}

/// One variable asked after one finding more, and after it is taken back.
void one_posterior(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const std::vector<Step> walk = make_walk(solver, 1);
  const faultodds::Finding finding = hard_finding(solver.model(), walk[0].variable, *walk[0].state);
  const std::size_t asked = solver.model().topological_order().front();
  faultodds::Case current(solver);
  time_steps(state, solver, 2, [&](std::size_t step) {
    if (step == 0) {
      current.add(finding);
    } else {
      current.take_back(finding.variable);
    }
    return current.posterior(asked);
  });
}

const bool registered =
    for_each_model("posteriors/full", go<PropagationWalker, &PropagationWalker::full>) &&
    for_each_model("posteriors/incremental", go<PropagationWalker, &PropagationWalker::incremental>) &&
    for_each_model("posteriors/case/full", go<CaseWalker, &CaseWalker::full>) &&
    for_each_model("posteriors/case/incremental", go<CaseWalker, &CaseWalker::incremental>) &&
    for_each_model("posteriors/case/one", one_posterior);

}  // namespace

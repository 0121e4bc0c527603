// The posteriors of all variables: for a fresh case with ten findings, and after one more finding.
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;

void fresh_case(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const std::vector<faultodds::Finding> findings = case_with_findings(solver, 10).findings();
  for (auto _ : state) {
    faultodds::Case current(solver);
    current.add(findings);
    benchmark::DoNotOptimize(current.posteriors());
  }
  state.counters["operations/s"] = benchmark::Counter(faultodds::estimate_cost(solver.model()).operations,
                                                      benchmark::Counter::kIsIterationInvariantRate);
}

void one_more_finding(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  faultodds::Case current = case_with_findings(solver, 10);
  const std::vector<std::size_t> variables = observable(solver.model());
  std::size_t next = 0;
  while (next < variables.size() && current.finding_of(variables[next]) != nullptr) ++next;
  if (next == variables.size()) {
    state.SkipWithError("everything that can be observed is observed");
    return;
  }
  const faultodds::Finding finding = rarest_finding(current, variables[next]);
  for (auto _ : state) {
    current.add(finding);
    benchmark::DoNotOptimize(current.posteriors());
    current.take_back(finding.variable);
    benchmark::DoNotOptimize(current.posteriors());
  }
}

const bool registered = for_each_model("posteriors/fresh_case", fresh_case) &&
                        for_each_model("posteriors/one_more_and_back", one_more_finding);

}  // namespace

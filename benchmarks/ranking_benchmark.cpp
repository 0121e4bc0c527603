// The next test: gains of all tests at once, in the same unit as the posteriors of the same case.
#include <chrono>

#include "faultodds/decision/rank_tests.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;

// In a plain network nothing is called a component or a test: the variables without parents are in question, and those
// that can be observed serve as tests.
faultodds::RankOptions options_for(const faultodds::FaultModel& model) {
  faultodds::RankOptions options;
  options.gain = faultodds::GainKind::per_component;
  if (!model.with_role(faultodds::Role::component).empty()) return options;
  for (std::size_t variable = 0; variable < model.size(); ++variable) {
    if (model.parents(variable).empty()) options.targets.push_back(variable);
  }
  options.tests = observable(model);
  return options;
}

double seconds_of_one_propagation(const faultodds::Solver& solver) {
  const std::vector<faultodds::Finding> findings = case_with_findings(solver, 1).findings();
  faultodds::Case current(solver);
  const auto began = std::chrono::steady_clock::now();
  current.add(findings);
  benchmark::DoNotOptimize(current.posteriors());
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
}

void rank(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = case_with_findings(solver, 1);
  faultodds::RankOptions options = options_for(solver.model());
  std::erase_if(options.tests, [&current](std::size_t test) { return current.finding_of(test) != nullptr; });
  std::size_t tests = 0;
  for (auto _ : state) {
    const faultodds::Ranking ranking = faultodds::rank_tests(current, options);
    tests = ranking.tests.size();
    benchmark::DoNotOptimize(ranking);
  }
  state.counters["tests"] = static_cast<double>(tests);
  // How many propagations the ranking takes the time of.
  state.counters["propagations"] = benchmark::Counter(
      seconds_of_one_propagation(solver), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

const bool registered = for_each_model("ranking/per_component", rank);

}  // namespace

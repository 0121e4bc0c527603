// Diagnosis models of real size (two_layer.hpp): compiling the model, compiling a case with 12 effects present and 60
// absent, the posteriors of everything, and the gains of all tests that are left.
// SPDX-License-Identifier: BSD-3-Clause
#include <benchmark/benchmark.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/inference/case.hpp"
#include "two_layer.hpp"

namespace {

using namespace faultodds;

/// The vehicles differ in what their findings cost, so several of them share the time.
constexpr std::array<std::uint64_t, 4> vehicles = {1, 2, 3, 4};

Case case_of(const Solver& solver, std::uint64_t vehicle) {
  Case current(solver);
  current.add(benchmarks::drawn_findings(solver.model(), 12, 60, vehicle));
  return current;
}

/// One iteration does `work` for one vehicle.
template <typename Work>
void for_each_vehicle(benchmark::State& state, const benchmarks::TwoLayers& shape, Work&& work) {
  const Solver solver(benchmarks::two_layer_model(shape));
  std::vector<Case> cases;
  for (const std::uint64_t vehicle : vehicles) cases.push_back(case_of(solver, vehicle));
  std::size_t next = 0;
  for (auto _ : state) work(cases[next++ % cases.size()]);
}

void compile(benchmark::State& state, const benchmarks::TwoLayers& shape) {
  const FaultModel model = benchmarks::two_layer_model(shape);
  for (auto _ : state) {
    Solver solver(model);
    benchmark::DoNotOptimize(solver);
  }
}

/// The junction tree is made anew each time, and the check that the findings are possible is part of it.
void compile_case(benchmark::State& state, const benchmarks::TwoLayers& shape) {
  SolverOptions options;
  options.cached_trees_bytes = 0.0;
  const Solver solver(benchmarks::two_layer_model(shape), options);
  std::size_t next = 0;
  for (auto _ : state) {
    state.PauseTiming();
    const auto findings = benchmarks::drawn_findings(solver.model(), 12, 60, vehicles[next++ % vehicles.size()]);
    state.ResumeTiming();
    Case current(solver);
    current.add(findings);
    benchmark::DoNotOptimize(current.log_evidence());
  }
}

void posteriors(benchmark::State& state, const benchmarks::TwoLayers& shape) {
  for_each_vehicle(state, shape, [](const Case& before) {
    const Case current = before;
    benchmark::DoNotOptimize(current.posteriors());
  });
}

void rank(benchmark::State& state, const benchmarks::TwoLayers& shape) {
  RankOptions options;
  options.gain = GainKind::per_component;
  for_each_vehicle(state, shape, [&](const Case& before) {
    const Case current = before;
    benchmark::DoNotOptimize(rank_tests(current, options));
  });
}

const bool registered = [] {
  for (const benchmarks::TwoLayers& shape : {benchmarks::TwoLayers{}, benchmarks::TwoLayers{1000, 5000}}) {
    const std::string size = std::to_string(shape.components) + 'x' + std::to_string(shape.effects);
    const auto add = [&](const char* what, auto* body) {
      benchmark::RegisterBenchmark(("two_layers/" + size + '/' + what).c_str(), [body, shape](benchmark::State& state) {
        body(state, shape);
      })->Unit(benchmark::kMillisecond);
    };
    add("compile", &compile);
    add("compile_case", &compile_case);
    add("posteriors", &posteriors);
    add("rank", &rank);
  }
  return true;
}();

}  // namespace

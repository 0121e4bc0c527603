// The models every benchmark runs on.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <benchmark/benchmark.h>

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds_benchmarks {

/// A model file and a short name for it.
struct NamedFile {
  std::string name;
  std::filesystem::path path;
};

/// The models of this repository, and the networks in the folder FAULTODDS_NETWORKS if that variable is set; by
/// name.
[[nodiscard]] std::vector<NamedFile> model_files();

/// Registers `title/name` for each model file; `body` gets the benchmark's state and the file. A model that is too
/// large shows as an error in the list. For static initialisers: the value means nothing.
template <typename Body>
bool for_each_model(const std::string& title, Body body);

/// Variables that can be observed: symptoms and tests; in a plain network those without children.
[[nodiscard]] std::vector<faultodds::VariableIndex> observable(const faultodds::FaultModel& model);

/// The least probable outcome that is possible after the findings so far: work for the solver, and never a clash.
[[nodiscard]] faultodds::Finding rarest_finding(const faultodds::Case& current, std::size_t variable);

/// A case with up to `count` findings, spread evenly over what can be observed.
[[nodiscard]] faultodds::Case case_with_findings(const faultodds::Solver& solver, std::size_t count);

template <typename Body>
bool for_each_model(const std::string& title, Body body) {
  for (const NamedFile& file : model_files()) {
    benchmark::RegisterBenchmark((title + '/' + file.name).c_str(), [body, file](benchmark::State& state) {
      try {
        body(state, file);
      } catch (const faultodds::Error& error) {
        state.SkipWithError(error.what());
      }
    })->Unit(benchmark::kMillisecond);
  }
  return true;
}

}  // namespace faultodds_benchmarks

// Prints the memory that each model takes, estimated and used. Bytes do not depend on the machine's other work.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cstdio>
#include <exception>

#include "faultodds/io/model_file.hpp"
#include "memory_use.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;

/// Of one junction tree for all cases, or if that does not fit, of the junction tree of a case with twelve findings.
MemoryUse use_of(const NamedFile& file) {
  static constexpr std::size_t max_findings = 12;
  try {
    return memory_use(faultodds::read_model(file.path));
  } catch (const faultodds::TooLarge&) {
    faultodds::SolverOptions options;
    options.cached_trees_bytes = 0.0;
    const faultodds::Solver solver(faultodds::read_model(file.path), options);
    return memory_of_case(solver, case_with_findings(solver, max_findings).findings());
  }
}

}  // namespace

int main() {
  std::printf("%-20s %10s %10s %10s %10s %12s %19s\n", "megabytes", "tables", "estimate", "compiling", "answering",
              "most/tables", "estimate/compiling");
  for (const NamedFile& file : model_files()) {
    try {
      const MemoryUse use = use_of(file);
      std::printf("%-20s %10.3f %10.3f %10.3f %10.3f %12.2f %19.2f\n", file.name.c_str(), use.tables / 1e6,
                  use.estimate / 1e6, use.compiling / 1e6, use.answering / 1e6,
                  std::max(use.compiling, use.answering) / use.tables, use.estimate / use.compiling);
    } catch (const std::exception& error) {
      std::printf("%-20s %s\n", file.name.c_str(), error.what());
    }
    std::fflush(stdout);
  }
}

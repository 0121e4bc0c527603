// Model files and published networks, from the disk to a validated fault model.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;

void read(benchmark::State& state, const NamedFile& file) {
  for (auto _ : state) {
    benchmark::DoNotOptimize(faultodds::read_model(file.path));
  }
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(std::filesystem::file_size(file.path)));
}

const bool registered = for_each_model("reading", read);

}  // namespace

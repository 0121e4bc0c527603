// Posteriors estimated by sampling, for models that no exact method fits into memory. Never shown as exact ones.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <CLI/CLI.hpp>
#include <cstddef>
#include <cstdint>
#include <span>

#include "faultodds/inference/sampling.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {

/// Samples to be drawn; none: the answer is exact.
struct SampleOptions {
  std::size_t samples = 0;
  std::uint64_t seed = 1;
};

/// Adds --sample and --seed. Returns the former, which shuts out what has no estimate.
CLI::Option* add_sample_options(CLI::App& command, SampleOptions& options);

/// Of these variables. Names of members differ from those of exact answers.
[[nodiscard]] Json estimates_json(const FaultModel& model, std::span<const VariableIndex> variables,
                                  const SampledPosteriors& sampled, const SampleOptions& options);

void show_estimates(const Screen& screen, const FaultModel& model, std::span<const VariableIndex> variables,
                    const SampledPosteriors& sampled, const SampleOptions& options);

}  // namespace faultodds::program

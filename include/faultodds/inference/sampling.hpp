// Estimates by sampling, with their standard errors: for models that no exact method fits into memory.
// Likelihood weighting (Fung & Chang 1989; Shachter & Peot 1989).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds {

struct SamplingOptions {
  std::size_t samples = 100'000;
  std::uint64_t seed = 1;  ///< the same seed gives the same bytes
};

/// An estimate and its standard error. With few effective samples the error itself is uncertain.
struct Estimate {
  double value = 0.0;
  double standard_error = 0.0;
};

struct SampledPosteriors {
  std::vector<std::vector<Estimate>> of_variable;  ///< by variable and state: P(state | findings)
  Estimate log_evidence;                           ///< natural logarithm of P(findings)
  /// As many samples drawn straight from the posterior would tell as much (Kong 1992): (sum w)^2 / sum w^2. Distrust
  /// everything if these are few.
  double effective_samples = 0.0;
};

/// Never exact. Rare findings leave few effective samples, and then large errors; use a Solver wherever it fits.
/// Throws ArgumentError for a Markov network, for no samples, for findings that a case would refuse, and if not one
/// sample agrees with them; Stopped.
[[nodiscard]] SampledPosteriors sample_posteriors(const FaultModel& model, std::span<const Finding> findings,
                                                  const SamplingOptions& options = {}, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/inference/sampling.ipp"

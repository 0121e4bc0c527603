// A fault model written out as factors.
#pragma once

#include <span>

#include "faultodds/inference/network.hpp"

namespace faultodds {

/// The network of the variables with `presence` (one for each variable of the model; a present variable needs its
/// parents present). Noisy-MAX tables and counts with many parents become chains of auxiliary variables with small
/// factors, never tables over all parents.
[[nodiscard]] Network expand(const FaultModel& model, std::span<const Presence> presence);

/// True where some noisy-MAX table of the model becomes a chain of auxiliary variables.
[[nodiscard]] bool has_chains(const FaultModel& model);

}  // namespace faultodds

#include "faultodds/inference/expansion.ipp"

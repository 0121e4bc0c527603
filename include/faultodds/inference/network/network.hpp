// A network of factors: the form in which all exact methods see a fault model.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// How a variable of the model enters a network.
enum class Presence : std::uint8_t {
  left_out,      ///< not at all: nothing asked or found depends on it
  present,       ///< as a variable with its table
  split_absent,  ///< a noisy-MAX effect found absent, without relevant children: one factor for each cause, no variable
};

inline constexpr std::size_t no_slot = std::numeric_limits<std::size_t>::max();

inline constexpr std::size_t not_known = std::numeric_limits<std::size_t>::max();  ///< in place of a state

/// Factors over slots. A slot is a variable of the model or an auxiliary one.
struct Network {
  std::vector<std::size_t> state_counts;  ///< by slot
  std::vector<std::size_t> slot_of;       ///< by variable of the model; no_slot if it is not present
  std::vector<Potential>
      factors;  ///< scopes are slots, each once, the last running fastest; an empty scope is a constant
};

}  // namespace faultodds

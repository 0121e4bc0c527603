// A finding: something observed.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/model/index.hpp"

namespace faultodds {

/// Something observed. A hard finding has weight one on one state, a set finding on several, a likelihood finding has
/// P(what was seen | state) for each state, up to a common factor.
struct Finding {
  VariableIndex variable;
  std::vector<double> weights;      ///< one for each state, none negative, not all zero
  std::optional<StateIndex> state;  ///< the state of a hard finding

  bool operator==(const Finding&) const = default;
};

/// The finding of a variable; null if there is none.
[[nodiscard]] inline const Finding* finding_of(std::span<const Finding> findings, VariableIndex variable) {
  const auto found = std::find_if(findings.begin(), findings.end(),
                                  [variable](const Finding& finding) { return finding.variable == variable; });
  return found == findings.end() ? nullptr : &*found;
}

namespace detail {

/// The state of the hard finding of a variable; nothing if there is none.
[[nodiscard]] inline std::optional<StateIndex> known_state(std::span<const Finding> findings, VariableIndex variable) {
  const Finding* finding = faultodds::finding_of(findings, variable);
  return finding == nullptr ? std::nullopt : finding->state;
}

}  // namespace detail

}  // namespace faultodds

// What the ends of a case cost: the one description that planning problems, advice and jobs share.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <optional>

namespace faultodds {

/// What the ends of a case cost. In a planning problem an end without a cost is not possible. In options such an end
/// costs what the model says.
struct EndCosts {
  /// the fee that ends the case in any state; in options all that handing over costs, or nothing: the cheapest that the
  /// model names
  std::optional<double> hand_over{};
  std::optional<double> live_with{};  ///< leaving the complaint as it is, which ends the case
  /// of a vehicle that left as cured and was not, in the end; in options nothing: what the model says, else what a
  /// hand-over costs
  std::optional<double> comeback{};

  bool operator==(const EndCosts&) const = default;
};

}  // namespace faultodds

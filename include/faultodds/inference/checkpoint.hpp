// How a caller stops long work.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <chrono>
#include <functional>
#include <string>

#include "faultodds/model/errors.hpp"

namespace faultodds {

/// Called now and then during long work, from whichever thread does it; may throw to stop it. Whatever it throws
/// reaches the caller, and every object is left as it was.
using Checkpoint = std::function<void()>;

/// A checkpoint that throws Stopped once `seconds` have passed since it was made.
[[nodiscard]] inline Checkpoint stop_after(double seconds) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
  return [end, seconds] {
    if (std::chrono::steady_clock::now() < end) return;
    throw Stopped("stopped after the time limit of " + std::to_string(seconds) + " s");
  };
}

}  // namespace faultodds

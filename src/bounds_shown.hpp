// How the bounds of a search close, for whoever waits for it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <chrono>
#include <string>

#include "faultodds/model/stop.hpp"

namespace faultodds::program {

/// Shows them on standard error, now and then: on a terminal in one line that is written over, elsewhere in a line each
/// time.
class BoundsShown {
 public:
  BoundsShown(bool on_terminal, std::string currency);

  void show(const Progress& progress);
  /// Shows the last ones if some were shown, and takes the line of a terminal away.
  void end();

 private:
  using Clock = std::chrono::steady_clock;

  void write() const;

  bool on_terminal_;
  std::string currency_;
  Clock::time_point next_;
  Progress last_;
  bool shown_ = false;
};

}  // namespace faultodds::program

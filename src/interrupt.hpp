// Ctrl-C during long work: it ends cleanly, with what was found so far if there is something.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/model/stop.hpp"

namespace faultodds::program {

/// As long as one lives, Ctrl-C asks the work to end; pressed once more it ends the program at once. One at a time.
class Interruptible {
 public:
  Interruptible();
  Interruptible(const Interruptible&) = delete;
  Interruptible& operator=(const Interruptible&) = delete;
  ~Interruptible();

  /// Stops work on Ctrl-C, besides what the options say.
  [[nodiscard]] static Stop stop(StopOptions options = {});
  /// Whether Ctrl-C was pressed.
  [[nodiscard]] static bool pressed();

 private:
  void (*before_)(int);
};

}  // namespace faultodds::program

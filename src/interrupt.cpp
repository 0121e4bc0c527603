// SPDX-License-Identifier: BSD-3-Clause
#include "interrupt.hpp"

#include <atomic>
#include <csignal>
#include <utility>

namespace faultodds::program {
namespace {

std::atomic<bool> ctrl_c_pressed{false};  // a signal handler can reach nothing else
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void note_ctrl_c(int signal) {
  ctrl_c_pressed.store(true, std::memory_order_relaxed);
  std::signal(signal, SIG_DFL);
}

}  // namespace

Interruptible::Interruptible() : before_(std::signal(SIGINT, &note_ctrl_c)) {
  // A shell that starts a job in the background has it ignore Ctrl-C.
  if (before_ == SIG_IGN) std::signal(SIGINT, SIG_IGN);
  ctrl_c_pressed.store(false, std::memory_order_relaxed);
}

Interruptible::~Interruptible() {
  if (before_ != SIG_ERR) std::signal(SIGINT, before_);
}

Stop Interruptible::stop(StopOptions options) {
  options.flag = &ctrl_c_pressed;
  return Stop(std::move(options));
}

bool Interruptible::pressed() { return ctrl_c_pressed.load(std::memory_order_relaxed); }

}  // namespace faultodds::program

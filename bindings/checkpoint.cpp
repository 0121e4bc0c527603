// Stopping long work: signals (Ctrl-C) and the time limit of a thread.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <chrono>
#include <optional>
#include <sstream>

#include "bindings.hpp"

namespace faultodds::python {

namespace {

using Clock = std::chrono::steady_clock;

struct TimeLimit {
  Clock::time_point end;
  double seconds = 0.0;
};

thread_local std::optional<TimeLimit> time_limit;
thread_local Clock::time_point signals_seen;

constexpr std::chrono::milliseconds between_looks{30};

void look_for_signals() {
  const py::gil_scoped_acquire locked_again;
  if (PyErr_CheckSignals() != 0) throw py::error_already_set();
}

/// A time limit of the thread that enters it; the limit around it holds again afterwards.
class TimeLimitScope {
 public:
  explicit TimeLimitScope(double seconds) : seconds_(seconds) {
    if (!(seconds > 0.0)) {
      throw ArgumentError("seconds", "got " + std::to_string(seconds), "give a positive number of seconds");
    }
  }

  void enter() {
    outer_ = time_limit;
    const auto longest = std::chrono::duration<double>(std::chrono::hours(24 * 365));
    const auto span = std::min(std::chrono::duration<double>(seconds_), longest);
    const auto end = Clock::now() + std::chrono::duration_cast<Clock::duration>(span);
    if (!outer_ || end < outer_->end) time_limit = TimeLimit{end, seconds_};
  }

  void leave() { time_limit = outer_; }

 private:
  double seconds_;
  std::optional<TimeLimit> outer_;
};

}  // namespace

void pass_checkpoint() {
  const Clock::time_point now = Clock::now();
  if (time_limit && now >= time_limit->end) {
    std::ostringstream text;
    text << "stopped after the time limit of " << time_limit->seconds << " s";
    throw Stopped(text.str());
  }
  if (now - signals_seen < between_looks) return;
  signals_seen = now;
  look_for_signals();
}

void bind_checkpoint(py::module_& module) {
  py::class_<TimeLimitScope>(module, "time_limit",
                             R"(A limit on the time of everything this thread computes inside the block.

    with faultodds.time_limit(2.0):
        ranking = faultodds.rank_tests(case)

seconds: counted from the entry of the block; of nested limits the one that ends first holds. Work that passes it raises
Stopped and changes nothing. Ctrl-C needs no limit: it stops long work in the main thread with KeyboardInterrupt. Raises
ArgumentError where `seconds` is not positive.)")
      .def(py::init([](py::handle seconds) { return TimeLimitScope(number_of(seconds, "seconds")); }),
           py::arg("seconds"))
      .def("__enter__", [](TimeLimitScope& scope) { scope.enter(); })
      .def("__exit__",
           [](TimeLimitScope& scope, const py::object&, const py::object&, const py::object&) { scope.leave(); });
}

}  // namespace faultodds::python

// Stopping long work: signals (Ctrl-C), and what the blocks that a thread is in say.
// SPDX-License-Identifier: BSD-3-Clause
#include <atomic>
#include <chrono>
#include <cmath>
#include <memory>
#include <optional>
#include <vector>

#include "generated/records.hpp"

namespace faultodds::python {

namespace {

using Clock = std::chrono::steady_clock;

constexpr std::chrono::milliseconds between_looks{30};

/// True once in a while, for each thread.
bool look_again() {
  thread_local Clock::time_point seen;
  const Clock::time_point now = Clock::now();
  if (now - seen < between_looks) return false;
  seen = now;
  return true;
}

void look_for_signals() {
  if (!look_again()) return;
  const py::gil_scoped_acquire locked_again;
  if (PyErr_CheckSignals() != 0) throw py::error_already_set();
}

bool is_set(const py::object& flag) { return py::cast<bool>(flag.attr("is_set")()); }

/// A Python object that may be let go without the interpreter lock.
std::shared_ptr<py::object> kept(py::object object) {
  return {new py::object(std::move(object)), [](py::object* held) {
            const py::gil_scoped_acquire locked_again;
            delete held;
          }};
}

std::vector<Stop>& blocks() {
  thread_local std::vector<Stop> entered;
  return entered;
}

/// What stops everything that a thread computes inside a block; the blocks around it count too.
class Stopping {
 public:
  Stopping(std::optional<double> seconds, py::object flag, py::object progress)
      : seconds_(seconds), flag_(std::move(flag)), progress_(std::move(progress)) {
    if (seconds && !(*seconds > 0.0)) {
      throw ArgumentError("seconds", "got " + std::to_string(*seconds), "give a positive number of seconds",
                          ErrorCode::wrong_number);
    }
    if (!flag_.is_none() && !py::hasattr(flag_, "is_set")) {
      throw py::type_error("flag: give an object with a method is_set, such as a threading.Event");
    }
  }

  void enter() const {
    StopOptions options;
    options.seconds = seconds_;
    const auto set = std::make_shared<std::atomic<bool>>(false);
    if (!flag_.is_none()) {
      *set = is_set(flag_);
      options.flag = set.get();
      options.poll = [set, flag = kept(flag_)] {
        if (*set || !look_again()) return;
        const py::gil_scoped_acquire locked_again;
        if (PyErr_CheckSignals() != 0) throw py::error_already_set();
        *set = is_set(*flag);
      };
    }
    if (!progress_.is_none()) {
      // Who watches may set the flag, and the work is to end then, not at the next look.
      options.progress = [set, flag = kept(flag_), progress = kept(progress_)](const Progress& reached) {
        const py::gil_scoped_acquire locked_again;
        (*progress)(to_python(Names(), reached));
        if (!flag->is_none()) *set = is_set(*flag);
      };
    }
    blocks().push_back(Stop(std::move(options), thread_stop()));
  }

  static void leave() { blocks().pop_back(); }

 private:
  std::optional<double> seconds_;
  py::object flag_, progress_;
};

template <class Block>
void bind_block(py::class_<Block> bound) {
  bound.def("__enter__", [](const Block& scope) { scope.enter(); })
      .def("__exit__", [](const Block&, const py::object&, const py::object&, const py::object&) { Block::leave(); });
}

/// The same with a time limit alone.
class TimeLimit : public Stopping {
 public:
  explicit TimeLimit(double seconds) : Stopping(seconds, py::none(), py::none()) {}
};

}  // namespace

Stop thread_stop() {
  if (!blocks().empty()) return blocks().back();
  StopOptions options;
  options.poll = &look_for_signals;
  return Stop(std::move(options));
}

void bind_stop(py::module_& module) {
  bind_block(py::class_<TimeLimit>(module, "time_limit",
                                   R"(A limit on the time of everything this thread computes inside the block.

    with faultodds.time_limit(2.0):
        ranking = faultodds.rank_tests(case)

seconds: counted from the entry of the block; of nested limits the one that ends first holds. Work that passes it raises
Stopped and changes nothing, except optimal_policy_tree and best_repair_order, which return the best found so far.
Ctrl-C needs no limit: it stops long work in the main thread with KeyboardInterrupt. Raises ArgumentError if `seconds`
is not positive.)")
                 .def(py::init([](py::handle seconds) { return TimeLimit(number_of(seconds, "seconds")); }),
                      py::arg("seconds")));
  bind_block(py::class_<Stopping>(module, "stopping",
                                  R"(What stops everything this thread computes inside the block, and who watches it.

    enough = threading.Event()
    with faultodds.stopping(flag=enough, progress=print):
        plan = faultodds.optimal_policy_tree(problem)

seconds: as with time_limit. flag: an object whose is_set() says when to stop, such as a threading.Event that another
thread sets; it is looked at some thirty times a second. progress: is called with a Progress now and then, by the thread
that works; what it raises ends the work. Blocks around this one count too. Raises ArgumentError if `seconds` is not
positive, TypeError if `flag` has no is_set.)")
                 .def(py::init([](py::handle seconds, py::object flag, py::object progress) {
                        std::optional<double> limit;
                        if (!seconds.is_none()) limit = number_of(seconds, "seconds");
                        return Stopping(limit, std::move(flag), std::move(progress));
                      }),
                      py::arg("seconds") = py::none(), py::kw_only(), py::arg("flag") = py::none(),
                      py::arg("progress") = py::none()));
}

}  // namespace faultodds::python

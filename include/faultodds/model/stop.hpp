// How a caller stops long work, and watches it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstddef>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "faultodds/model/errors.hpp"

namespace faultodds {

/// How far long work has come.
struct Progress {
  std::string_view of;    ///< what is counted: "situations", "tests", "cases", "samples"
  std::size_t done = 0;   ///< so many of them
  std::size_t total = 0;  ///< of so many; 0: not known beforehand
  /// Of the expected cost, if a search closes in on it; otherwise NaN.
  double lower_bound = std::numeric_limits<double>::quiet_NaN();
  double upper_bound = std::numeric_limits<double>::quiet_NaN();  ///< the same
};

/// What ends long work before its time, and who watches it. What is left out ends nothing.
struct StopOptions {
  std::optional<double> seconds = {};                  ///< counted from when the Stop is made
  const std::atomic<bool>* flag = nullptr;             ///< true: stop. Must stay until the call is over
  std::function<void(const Progress&)> progress = {};  ///< called now and then; may throw, which ends the work too
  std::function<void()> poll = {};                     ///< called very often; may throw, which ends the work too
};

/// The stop of one call: its last argument wherever work can be long. Work that is stopped throws Stopped, or what a
/// callback throws, and leaves every object as it was; work that has an answer at any time returns the best so far and
/// says so (OptimalPolicyTree::stopped). Copies are one and the same stop, cheap to pass, and may be used from several
/// threads; callbacks are called from whichever thread works.
class Stop {
 public:
  /// Never stops.
  Stop() = default;
  /// `outer` counts too: it stops the work as well, and is told of its progress. Throws ArgumentError if `seconds` is
  /// negative or NaN.
  explicit Stop(StopOptions options, const Stop& outer = {})
      : data_(std::make_shared<const Data>(std::move(options), outer.data_)) {}
  /// Stops once so many seconds have passed.
  [[nodiscard]] static Stop after(double seconds) {
    StopOptions options;
    options.seconds = seconds;
    return Stop(std::move(options));
  }

  /// False if nothing can stop the work and nobody watches it.
  [[nodiscard]] bool is_set() const noexcept { return data_ != nullptr; }
  /// Whether the time is over or the flag is true. Throws what `poll` throws.
  [[nodiscard]] bool requested() const { return data_ != nullptr && data_->requested(); }
  /// Throws Stopped if that is so.
  void check() const {
    if (data_ != nullptr && data_->requested()) throw data_->reason();
  }
  /// Tells who watches.
  void report(const Progress& progress) const {
    for (const Data* data = data_.get(); data != nullptr; data = data->outer.get()) {
      if (data->options.progress) data->options.progress(progress);
    }
  }

 private:
  using Clock = std::chrono::steady_clock;

  struct Data {
    Data(StopOptions given, std::shared_ptr<const Data> around) : options(std::move(given)), outer(std::move(around)) {
      static constexpr double longest = 1e9;  // seconds; beyond it a clock could run over
      if (!options.seconds) return;
      if (!(*options.seconds >= 0.0)) {
        throw ArgumentError("seconds", std::to_string(*options.seconds), "give a number of at least 0",
                            ErrorCode::wrong_number);
      }
      end = Clock::now() + std::chrono::duration_cast<Clock::duration>(
                               std::chrono::duration<double>(std::min(*options.seconds, longest)));
    }

    [[nodiscard]] bool requested() const {
      if (options.poll) options.poll();
      return flagged() || is_over() || (outer != nullptr && outer->requested());
    }
    [[nodiscard]] bool is_over() const { return end && Clock::now() >= *end; }
    [[nodiscard]] bool flagged() const {
      return options.flag != nullptr && options.flag->load(std::memory_order_relaxed);
    }
    [[nodiscard]] Stopped reason() const {
      if (!flagged() && !is_over() && outer != nullptr) return outer->reason();
      if (!is_over()) return Stopped("stopped by the caller");
      std::string seconds = std::to_string(*options.seconds);
      seconds.erase(seconds.find_last_not_of('0') + 1);
      if (seconds.back() == '.') seconds.pop_back();
      return Stopped("stopped after the time limit of " + seconds + " s", ErrorCode::time_limit);
    }

    StopOptions options;
    std::shared_ptr<const Data> outer;
    std::optional<Clock::time_point> end;
  };

  std::shared_ptr<const Data> data_;
};

namespace detail {

/// The stop that an object goes by. Copies of the object, and what it is moved to, have none.
class OwnStop {
 public:
  OwnStop() = default;
  OwnStop(const OwnStop& /*other*/) noexcept {}
  OwnStop(OwnStop&& /*other*/) noexcept {}
  OwnStop& operator=(const OwnStop& /*other*/) noexcept { return *this; }
  OwnStop& operator=(OwnStop&& /*other*/) noexcept { return *this; }
  ~OwnStop() = default;

  [[nodiscard]] const Stop& get() const noexcept { return stop_; }
  void set(const Stop& stop) { stop_ = stop; }
  void check() const { stop_.check(); }

 private:
  Stop stop_;
};

}  // namespace detail

}  // namespace faultodds

// The stop of a call by itself: what ends work, who is told, and what is said.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/stop.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <limits>
#include <string>

namespace {

using namespace faultodds;

std::string said_by(const Stop& stop) {
  try {
    stop.check();
  } catch (const Stopped& stopped) {
    return stopped.what();
  }
  return "";
}

TEST(Stop, NeverStopsUnlessItIsTold) {
  EXPECT_FALSE(Stop().is_set());
  EXPECT_FALSE(Stop().requested());
  EXPECT_EQ(said_by(Stop()), "");
  EXPECT_EQ(said_by(Stop::after(1e30)), "");  // beyond what a clock can count
  EXPECT_EQ(said_by(Stop(StopOptions{})), "");
}

TEST(Stop, SaysWhyItStops) {
  EXPECT_EQ(said_by(Stop::after(0.0)), "stopped after the time limit of 0 s");
  const std::atomic<bool> flag{true};
  EXPECT_EQ(said_by(Stop(StopOptions{.seconds = 0.0, .flag = &flag})), "stopped after the time limit of 0 s");
  EXPECT_EQ(said_by(Stop(StopOptions{.seconds = 100.0, .flag = &flag})), "stopped by the caller");
}

TEST(Stop, RefusesTimesThatAreNone) {
  EXPECT_THROW(static_cast<void>(Stop::after(-1.0)), ArgumentError);
  EXPECT_THROW(static_cast<void>(Stop::after(std::numeric_limits<double>::quiet_NaN())), ArgumentError);
}

TEST(Stop, CopiesAreOneStop) {
  std::atomic<bool> flag{false};
  const Stop stop(StopOptions{.flag = &flag});
  const Stop copy = stop;  // NOLINT(performance-unnecessary-copy-initialization)
  flag = true;
  EXPECT_TRUE(stop.requested());
  EXPECT_TRUE(copy.requested());
}

TEST(Stop, GoesByTheOneAroundItToo) {
  std::atomic<bool> flag{false};
  std::size_t told = 0;
  const auto count = [&told](const Progress& progress) { told += progress.done; };
  const Stop outer(StopOptions{.flag = &flag, .progress = count});
  const Stop inner(StopOptions{.seconds = 100.0, .progress = count}, outer);
  inner.report({.of = "tests", .done = 3, .total = 7});
  EXPECT_EQ(told, 6U);
  EXPECT_FALSE(inner.requested());
  flag = true;
  EXPECT_EQ(said_by(inner), "stopped by the caller");
  EXPECT_EQ(said_by(Stop(StopOptions{.seconds = 100.0}, Stop::after(0.0))), "stopped after the time limit of 0 s");
}

}  // namespace

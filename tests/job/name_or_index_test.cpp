// Where a name or an index can be given, a number is an index, the literal 0 too.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/reading.hpp"
#include "faultodds/job/job.hpp"
#include "faultodds/model/names.hpp"
#include "job/workshop.hpp"
#include "support/build.hpp"

namespace {

using namespace faultodds;

static_assert(std::is_convertible_v<const char*, Name> && std::is_convertible_v<char[5], Name>);
static_assert(std::is_convertible_v<std::string, Name> && std::is_convertible_v<std::string_view, Name>);
static_assert(!std::is_convertible_v<int, Name> && !std::is_convertible_v<std::nullptr_t, Name>);
static_assert(!std::is_convertible_v<std::size_t, Name> && !std::is_convertible_v<VariableIndex, Name>);

Case lamp() {
  support::Builder builder;
  const std::size_t bulb = builder.component("bulb", 0.1);
  builder.variable("light", {"there", "missing"}, {bulb}, {0.99, 0.01, 0.0, 1.0}, Symptom{});
  return Case(Solver(builder.model()));
}

TEST(NameOrIndex, ALiteralZeroIsAnIndexInACase) {
  Case by_index = lamp();
  Case by_name = lamp();
  EXPECT_EQ(by_index.posterior(0), by_name.posterior("bulb"));
  by_index.add_finding(0, 0);
  by_name.add_finding("bulb", "sound");
  EXPECT_EQ(by_index.findings(), by_name.findings());
  by_index.take_back(0);
  by_index.add_finding(VariableIndex{1}, 0);
  EXPECT_EQ(by_index.finding_of(1)->state, StateIndex{0});
  Case weighed = lamp();
  weighed.add_likelihood(0, std::vector<double>{0.2, 0.8});
  EXPECT_EQ(weighed.findings().front().variable, 0U);
}

TEST(NameOrIndex, ALiteralZeroIsAnIndexInAJob) {
  Job job(support::workshop());
  job.add_finding(0, 0);
  EXPECT_EQ(job.current().findings().front().variable, 0U);
  const auto refused = [](const auto& call) {
    try {
      call();
    } catch (const Error& error) {
      return error.code();
    }
    return ErrorCode::stopped;
  };
  EXPECT_EQ(refused([&] { job.add_reading(0, "1 V"); }), ErrorCode::wrong_reading);
  EXPECT_EQ(refused([&] { job.add_revealed(0, {}); }), ErrorCode::nothing_given);
  job.hand_over(0);
  EXPECT_EQ(job.handed_over(), HandOverIndex{0});
  EXPECT_EQ(refused([&] { static_cast<void>(finding_from_reading(job.model(), 0, 1.0, "V")); }),
            ErrorCode::wrong_reading);
  Job other(support::workshop());
  other.add_finding("puddle", "present");
  other.add_repair(0);
  EXPECT_EQ(other.repairs().front(), RepairIndex{0});
}

}  // namespace

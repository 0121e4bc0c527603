// Errors as data: what a program in any language needs to word them itself.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/errors.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "faultodds/inference/case.hpp"
#include "faultodds/model/stop.hpp"
#include "support/build.hpp"

namespace {

using namespace faultodds;

/// What the call throws.
template <class Thrown, class Call>
Thrown thrown_by(const Call& call) {
  try {
    call();
  } catch (const Thrown& thrown) {
    return thrown;
  }
  throw std::logic_error("nothing was thrown");
}

TEST(ErrorCode, HasANameOfItsOwnEach) {
  std::set<std::string_view> names;
  const auto last = static_cast<std::size_t>(ErrorCode::effort_spent);
  for (std::size_t i = 0; i <= last; ++i) names.insert(name_of(static_cast<ErrorCode>(i)));
  EXPECT_EQ(names.size(), last + 1);
  EXPECT_EQ(name_of(ErrorCode::named_twice), "named_twice");
  EXPECT_EQ(name_of(ErrorCode::one_fault_impossible), "one_fault_impossible");
  EXPECT_EQ(name_of(ErrorCode::effort_spent), "effort_spent");
}

class Errors : public ::testing::Test {
 protected:
  Errors() {
    support::Builder builder;
    const std::size_t a = builder.variable("A", {"0", "1"}, {}, {0.9, 0.1});
    builder.variable("B", {"no", "yes", "maybe"}, {a}, {1.0, 0.0, 0.0, 0.0, 0.5, 0.5});
    solver_.emplace(builder.model());
  }

  [[nodiscard]] Case current() const { return Case(*solver_); }

  std::optional<Solver> solver_;
};

TEST_F(Errors, TellWhatWentWrongAsACode) {
  Case one = current();
  one.add_finding("A", "0");
  const auto code_of = [&](const auto& call) { return thrown_by<Error>(call).code(); };
  EXPECT_EQ(code_of([&] { one.add_finding("A", "1"); }), ErrorCode::already_found);
  EXPECT_EQ(code_of([&] { one.add_finding("C", "1"); }), ErrorCode::unknown_name);
  EXPECT_EQ(code_of([&] { one.add_finding(std::size_t{1}, std::size_t{3}); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { static_cast<void>(one.posterior(2)); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { one.add_likelihood(1, std::vector<double>{1.0}); }), ErrorCode::wrong_size);
  EXPECT_EQ(code_of([&] { one.add_likelihood(1, std::vector<double>{1.0, -1.0, 0.0}); }), ErrorCode::wrong_number);
  EXPECT_EQ(code_of([&] { one.add_one_of(1, {}); }), ErrorCode::nothing_given);
  EXPECT_EQ(code_of([&] { one.add({1, {0.0, 1.0, 0.5}, StateIndex{1}}); }), ErrorCode::contradictory);
  EXPECT_EQ(code_of([&] { one.add({1, {0.0, 1.0, 0.0}, StateIndex{0}}); }), ErrorCode::contradictory);
  EXPECT_EQ(code_of([&] { static_cast<void>(one.joint(std::vector<VariableIndex>{1, 1})); }), ErrorCode::named_twice);
  EXPECT_EQ(code_of([&] { one.add_finding("B", "yes"); }), ErrorCode::impossible_findings);
  EXPECT_EQ(code_of([&] { Stop::after(0.0).check(); }), ErrorCode::time_limit);
  ModelParts nameless;
  nameless.variables.resize(1);
  EXPECT_EQ(code_of([&] { static_cast<void>(FaultModel(nameless)); }), ErrorCode::model);
}

TEST_F(Errors, CarryTheirFacts) {
  Case one = current();
  const auto wrong = thrown_by<ArgumentError>([&] { one.add_likelihood(1, std::vector<double>{1.0}); });
  EXPECT_EQ(wrong.argument(), "B");
  EXPECT_EQ(wrong.found(), "1 weights");
  EXPECT_EQ(std::string(wrong.what()), "B: " + wrong.found() + "; " + wrong.remedy());
}

TEST_F(Errors, TellAClashAsFindings) {
  Case one = current();
  one.add_finding("A", "0");
  const auto clash = thrown_by<ImpossibleFindings>([&] { one.add_one_of(1, std::vector<StateIndex>{1, 2}); });
  ASSERT_EQ(clash.findings().size(), 2U);
  EXPECT_EQ(clash.findings()[0].name, "A");
  EXPECT_EQ(clash.findings()[0].variable, 0U);
  EXPECT_EQ(clash.findings()[0].state, "0");
  EXPECT_EQ(clash.findings()[1].state, "");
  const std::vector<std::pair<std::string, double>> weights = {{"no", 0.0}, {"yes", 1.0}, {"maybe", 1.0}};
  EXPECT_EQ(clash.findings()[1].weights, weights);
  EXPECT_EQ(clash.clash(), (std::vector<std::string>{"A=0", "B in {yes, maybe}"}));
}

// 3.4 MiB beside 3.4 MiB tells nobody anything.
TEST(TooLarge, TellsTheNeedFromTheLimit) {
  constexpr double mib = 1024.0 * 1024.0;
  const auto text = [](double needed, double limit) {
    return std::string(TooLarge("it", needed, limit, "wait").what());
  };
  EXPECT_EQ(text(5.0 * mib, 3.4 * mib), "it needs about 5 MiB, the limit is 3.4 MiB; wait");
  EXPECT_EQ(text(3.41 * mib, 3.4 * mib), "it needs about 3.41 MiB, the limit is 3.4 MiB; wait");
  EXPECT_EQ(text(3.40002 * mib, 3.4 * mib), "it needs about 3.40002 MiB, the limit is 3.4 MiB; wait");
  EXPECT_EQ(text(3.4000000001 * mib, 3.4 * mib), "it needs slightly more than the limit of 3.4 MiB; wait");
  EXPECT_EQ(text(1e40, mib), "it needs about more than 1e15 EiB, the limit is 1 MiB; wait");
}

}  // namespace

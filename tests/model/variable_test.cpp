// A variable is of one role, and holds what belongs to that role alone.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/variable.hpp"

#include <gtest/gtest.h>

#include <type_traits>
#include <utility>

#include "faultodds/model/errors.hpp"

namespace {

using namespace faultodds;

Variable named(const std::string& name, RoleFacts what) {
  Variable made;
  made.name = name;
  made.what = std::move(what);
  return made;
}

TEST(Variable, HasTheRoleOfWhatItIs) {
  EXPECT_EQ(Variable().role(), Role::unclassified);
  EXPECT_EQ(named("band", Context{}).role(), Role::context);
  EXPECT_EQ(named("pump", Component{}).role(), Role::component);
  EXPECT_EQ(named("power", Hidden{}).role(), Role::hidden);
  EXPECT_EQ(named("smell", Symptom{}).role(), Role::symptom);
  EXPECT_EQ(named("look", faultodds::Test{}).role(), Role::test);
  EXPECT_EQ(name_of(Role::unclassified), "unclassified");
  EXPECT_EQ(name_of(Role::test), "test");
}

TEST(Variable, GivesWhatBelongsToItsRole) {
  Variable look = named("look", faultodds::Test{});
  look.test().procedure = "Look at it.";
  EXPECT_EQ(std::as_const(look).test().procedure, "Look at it.");
  Variable pump = named("pump", Component{});
  pump.component().system = "fuel";
  EXPECT_EQ(std::as_const(pump).component().system, "fuel");
  Variable code = named("lean", Symptom{});
  code.symptom().code = "P0171";
  EXPECT_EQ(std::as_const(code).symptom().code, "P0171");
  Variable band = named("band", Context{});
  band.context().question = "How far has it run?";
  EXPECT_EQ(std::as_const(band).context().question, "How far has it run?");
}

TEST(Variable, RefusesWhatBelongsToAnotherRoleAndNamesBoth) {
  const Variable pump = named("pump", Component{});
  try {
    static_cast<void>(pump.test());
    FAIL();
  } catch (const ArgumentError& error) {
    EXPECT_EQ(error.code(), ErrorCode::wrong_role);
    EXPECT_EQ(error.argument(), "pump");
    EXPECT_NE(error.found().find("component, not test"), std::string::npos) << error.what();
  }
  Variable look = named("look", faultodds::Test{});
  EXPECT_THROW(static_cast<void>(look.context()), ArgumentError);
  EXPECT_THROW(static_cast<void>(look.component()), ArgumentError);
  EXPECT_THROW(static_cast<void>(look.symptom()), ArgumentError);
  EXPECT_THROW(static_cast<void>(Variable().test()), ArgumentError);
}

TEST(Variable, AsksItsQuestionIfItsRoleHasOne) {
  EXPECT_EQ(named("band", Context{"Far?"}).question(), "Far?");
  EXPECT_EQ(
      named("smell", Symptom{.question = "Does it smell?", .complaint = true, .code = {}, .conditions = {}}).question(),
      "Does it smell?");
  faultodds::Test look;
  look.question = "What is to be seen?";
  EXPECT_EQ(named("look", look).question(), "What is to be seen?");
  EXPECT_EQ(named("pump", Component{"fuel", true}).question(), "");
  EXPECT_EQ(named("power", Hidden{}).question(), "");
  EXPECT_EQ(Variable().question(), "");
  EXPECT_EQ(asked(named("look", look)), "What is to be seen?");
  EXPECT_EQ(asked(named("pump", Component{})), "pump");
}

TEST(Variable, OfAnotherRoleIsATestThatCostsAndRevealsNothing) {
  faultodds::Test look;
  look.work.minutes = 5.0;
  const Variable test = named("look", look);
  EXPECT_EQ(as_test(test), look);
  EXPECT_EQ(&as_test(test), &test.test());
  EXPECT_EQ(as_test(named("smell", Symptom{})), faultodds::Test());
}

TEST(Variable, IsTheRemainderOnlyAsAComponentThatIsMarked) {
  EXPECT_TRUE(is_remainder(named("other", Component{"", true})));
  EXPECT_FALSE(is_remainder(named("pump", Component{})));
  EXPECT_FALSE(is_remainder(Variable()));
}

// Moving a variable must not throw, or lists of variables would be copied as they grow.
static_assert(std::is_nothrow_move_constructible_v<RoleFacts>);

}  // namespace

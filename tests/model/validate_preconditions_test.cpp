// What may be a precondition of a test, and what is refused.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace {

using namespace faultodds;

Variable binary(const std::string& name, const RoleFacts& what, Distribution distribution) {
  Variable made;
  made.name = name;
  made.what = what;
  made.states = {{"no", ""}, {"yes", ""}};
  made.distribution = std::move(distribution);
  return made;
}

/// 0 weather, 1 pump, 2 code, 3 read (reveals the code), 4 look.
ModelParts sound_parts() {
  ModelParts parts;
  parts.variables = {binary("weather", Context{}, FullTable{{}, Table(2, {0.7, 0.3})}),
                     binary("pump", Component{}, FullTable{{}, Table(2, {0.9, 0.1})}),
                     binary("code", Symptom{}, FullTable{{1}, Table(2, {0.9, 0.1, 0.2, 0.8})}),
                     binary("read", Test{}, Examination{.component = 1, .detection = {0.8}, .false_alarm = 0.1}),
                     binary("look", Test{}, Examination{.component = 1, .detection = {0.9}, .false_alarm = 0.02})};
  parts.variables[3].test().reveals = {2};
  return parts;
}

/// The only problem of the model if the test of this index has these preconditions.
Problem problem_of(std::size_t test, std::vector<Gate> gates) {
  ModelParts parts = sound_parts();
  parts.variables[test].test().only_when = std::move(gates);
  try {
    const FaultModel model(parts);
  } catch (const ModelError& error) {
    EXPECT_EQ(error.problems().size(), 1U) << error.what();
    EXPECT_FALSE(error.problems()[0].remedy.empty());
    return error.problems()[0];
  }
  ADD_FAILURE() << "accepted";
  return {};
}

void expect_refusal(std::size_t test, std::vector<Gate> gates, const std::string& place, const std::string& words) {
  const Problem problem = problem_of(test, std::move(gates));
  EXPECT_EQ(problem.place, place);
  EXPECT_NE(problem.found.find(words), std::string::npos) << problem.found;
}

TEST(ValidatePreconditions, ContextsSymptomsAndOtherTestsCanBeNamed) {
  ModelParts parts = sound_parts();
  parts.variables[4].test().only_when = {{0, {1}}, {2, {0, 1}}, {3, {1}}};
  EXPECT_EQ(FaultModel(parts).variable(4).test().only_when.size(), 3U);
}

TEST(ValidatePreconditions, WhatNobodyFindsIsRefused) {
  expect_refusal(4, {{1, {1}}}, "look.only_when", "nobody finds \"pump\"");
  expect_refusal(4, {{4, {1}}}, "look.only_when", "depends on itself");
  expect_refusal(3, {{2, {1}}}, "read.only_when", "depends on \"code\", which it reveals itself");
  expect_refusal(4, {{9, {1}}}, "look.only_when", "index 9");
}

TEST(ValidatePreconditions, StatesAreThoseOfTheVariableEachOnce) {
  expect_refusal(4, {{0, {}}}, "look.only_when", "no state of \"weather\"");
  expect_refusal(4, {{0, {2}}}, "look.only_when", "state index 2");
  expect_refusal(4, {{0, {1, 1}}}, "look.only_when", "\"yes\" of \"weather\" twice");
  expect_refusal(4, {{0, {1}}, {0, {0}}}, "look.only_when", "\"weather\" twice");
}

TEST(ValidatePreconditions, WhatRulesATestOutIsCheckedAlike) {
  ModelParts parts = sound_parts();
  parts.variables[4].test().not_when = {{0, {1}}, {3, {1}}};
  parts.variables[3].test().not_when = {{4, {1}}};  // whichever comes first
  EXPECT_NO_THROW(FaultModel{parts});
  parts.variables[4].test().not_when = {{1, {1}}};
  try {
    const FaultModel model(parts);
    FAIL() << "accepted";
  } catch (const ModelError& error) {
    EXPECT_EQ(error.problems().at(0).place, "look.not_when");
  }
}

TEST(ValidatePreconditions, TestsThatAreEachOthersAreRefused) {
  ModelParts parts = sound_parts();
  parts.variables[3].test().only_when = {{4, {0}}};
  EXPECT_NO_THROW(FaultModel{parts});
  parts.variables[4].test().only_when = {{3, {0}}};
  try {
    const FaultModel model(parts);
    FAIL() << "accepted";
  } catch (const ModelError& error) {
    ASSERT_EQ(error.problems().size(), 1U) << error.what();
    EXPECT_EQ(error.problems()[0].place, "read.only_when");
    EXPECT_NE(error.problems()[0].found.find("read -> look -> read"), std::string::npos) << error.what();
  }
}

}  // namespace

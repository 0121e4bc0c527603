// What to do next: which step leads, and what is said of it.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/job/advice.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "decision/workbench.hpp"

namespace {

using namespace faultodds;
using Names = std::vector<std::string>;

const support::Workbench& lamp() {
  static const support::Workbench bench("tutorial.json");
  return bench;
}

/// The same model where nobody says what it costs to end a job.
Solver unpriced_lamp() {
  ModelParts parts = lamp().model().parts();
  parts.hand_overs.clear();
  return Solver(FaultModel(parts));
}

std::vector<AdvisedStep> all_steps(const Advice& advice) {
  std::vector<AdvisedStep> all = advice.alternatives;
  all.push_back(advice.proposed);
  return all;
}

const AdvisedStep& named(const std::vector<AdvisedStep>& steps, std::string_view name) {
  const auto found = std::find_if(steps.begin(), steps.end(), [&](const AdvisedStep& one) { return one.name == name; });
  if (found == steps.end()) throw UnknownName("step", std::string(name), {});
  return *found;
}

Names names_of(const std::vector<Term>& terms) {
  Names names;
  for (const Term& term : terms) names.push_back(term.name);
  return names;
}

bool is_test(const AdvisedStep& step) { return std::holds_alternative<TestStep>(step.step); }

// The rule of weigh_steps, from the prices alone: the least expected cost, or a test within 1 % of it.
void expect_the_least_cost_to_lead(const Case& current) {
  const Advice advice = advise(current);
  ASSERT_TRUE(advice.priced);
  EXPECT_TRUE(advice.led_by_cost);
  double least = std::numeric_limits<double>::infinity();
  for (const AdvisedStep& step : all_steps(advice)) {
    if (step.price) least = std::min(least, step.price->in_the_end);
  }
  ASSERT_TRUE(advice.proposed.price);
  EXPECT_LE(advice.proposed.price->in_the_end, is_test(advice.proposed) ? least * 1.01 : least);
  for (std::size_t i = 1; i < advice.alternatives.size(); ++i) {
    if (!advice.alternatives[i].price) continue;
    EXPECT_LE(advice.alternatives[i - 1].price.value().in_the_end, advice.alternatives[i].price->in_the_end);
  }
}

TEST(Advice, TheLeastExpectedCostLeads) {
  expect_the_least_cost_to_lead(lamp().vehicle({{"dark", "present"}}));
  expect_the_least_cost_to_lead(lamp().vehicle({{"dim", "present"}}));
  expect_the_least_cost_to_lead(lamp().vehicle({{"dark", "present"}, {"work_switch", "bad"}}));
}

TEST(Advice, EachStepIsThereOnce) {
  const Advice advice = advise(lamp().vehicle({{"dark", "present"}}));
  std::vector<AdvisedStep> all = all_steps(advice);
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) EXPECT_NE(all[i].step, all[j].step) << all[i].label;
  }
  Names names;
  for (const AdvisedStep& step : all) names.push_back(step.name);
  std::sort(names.begin(), names.end());
  EXPECT_EQ(names, (Names{"battery_voltage", "bulb_continuity", "clean_switch", "cycle_shop", "replace_battery",
                          "replace_bulb", "switch_resistance", "work_switch"}));
}

TEST(Advice, WhatIsPassedOverGivesWayToTheBestTest) {
  const Case current = lamp().vehicle({{"dark", "present"}, {"battery_voltage", "none"}});
  const Advice first = advise(current);
  ASSERT_TRUE(std::holds_alternative<RepairStep>(first.proposed.step));
  const Advice second = advise(current, {}, {.passed_over = {first.proposed.step}});
  EXPECT_EQ(second.passed_over, first.proposed.step);
  ASSERT_TRUE(is_test(second.proposed)) << second.proposed.label;
  for (const AdvisedStep& step : second.alternatives) {
    if (is_test(step) && step.price) {
      EXPECT_LE(second.proposed.price.value().in_the_end, step.price->in_the_end * 1.01);
    }
  }
}

TEST(Advice, WhatWasDeclinedIsNotOffered) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  JobProgress progress;
  for (std::size_t count = 0; count < 5; ++count) {
    const Advice advice = advise(current, {}, progress);
    for (const AdvisedStep& step : all_steps(advice)) {
      if (const auto* test = std::get_if<TestStep>(&step.step)) {
        EXPECT_EQ(std::count(progress.declined.begin(), progress.declined.end(), test->test), 0) << step.label;
      }
    }
    const auto next = std::find_if(advice.ranking.tests.begin(), advice.ranking.tests.end(),
                                   [](const TestForecast&) { return true; });
    if (next == advice.ranking.tests.end()) break;
    progress.declined.push_back(next->test);
  }
  const Advice none = advise(current, {}, progress);
  EXPECT_EQ(progress.declined.size(), 4U);
  EXPECT_FALSE(is_test(none.proposed));
}

TEST(Advice, LimitsBindEachStep) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  for (const AdvisedStep& step : all_steps(advise(current, {.means = {.max_cost = 1.0}}))) {
    if (is_test(step) || std::holds_alternative<RepairStep>(step.step)) {
      EXPECT_LE(step.cost, 1.0) << step.label;
    }
  }
  for (const AdvisedStep& step : all_steps(advise(current, {.means = {.max_minutes = 4.0}}))) {
    if (is_test(step) || std::holds_alternative<RepairStep>(step.step)) {
      EXPECT_LE(step.minutes + step.wait_minutes, 4.0) << step.label;
    }
  }
}

TEST(Advice, WhatIsInPlaceIsNotPaidAgain) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  const auto shut = all_steps(advise(current));
  const auto open = all_steps(advise(current, {.means = {.open_access = {"lamp_open"}}}));
  EXPECT_EQ(named(shut, "bulb_continuity").minutes, 5.0);  // 3 to open the lamp, 2 to measure
  EXPECT_EQ(named(open, "bulb_continuity").minutes, 2.0);
  EXPECT_EQ(names_of(named(shut, "bulb_continuity").opens), Names{"lamp_open"});
  EXPECT_TRUE(named(open, "bulb_continuity").opens.empty());
}

TEST(Advice, SaysAllThatAMechanicNeeds) {
  const Advice advice = advise(lamp().vehicle({{"dark", "present"}}));
  const std::vector<AdvisedStep> all = all_steps(advice);
  const AdvisedStep& voltage = named(all, "battery_voltage");
  EXPECT_EQ(voltage.label, "battery voltage under load");
  EXPECT_EQ(names_of(voltage.tools), (Names{"screwdriver", "multimeter", "load"}));
  EXPECT_EQ(names_of(voltage.cautions), (Names{"glass", "battery"}));
  EXPECT_EQ(voltage.cautions[0].description, "Let the bulb cool and hold it in a cloth: it may break.");
  EXPECT_EQ(voltage.opens.at(0).label, "lamp opened");
  EXPECT_EQ(voltage.skill.value().label, "rider");
  EXPECT_DOUBLE_EQ(voltage.cost, 5.0 * 48.0 / 60.0);
  EXPECT_EQ(voltage.outcomes.size(), 3U);
  const AdvisedStep& bulb = named(all, "replace_bulb");
  EXPECT_EQ(bulb.check.value().label, "light it and shake it");
  EXPECT_EQ(bulb.success, 0.99);
  const Case current = lamp().vehicle({{"dark", "present"}});
  EXPECT_DOUBLE_EQ(bulb.mends.value(), current.posterior("bulb")[1]);
  const AdvisedStep& shop = named(all, "cycle_shop");
  EXPECT_EQ(shop.tells, "has every lamp to try in its place");
  EXPECT_EQ(shop.price.value().now, 24.0);
  EXPECT_EQ(advice.currency, "EUR");
  EXPECT_TRUE(advice.invented);
  EXPECT_FALSE(advice.why.empty());
}

// Entering the outcome into a copy of the case gives the same probabilities.
TEST(Advice, OutcomesSayWhereTheyLeaveTheLeadingFaults) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  const Advice advice = advise(current);
  for (const AdvisedStep& step : all_steps(advice)) {
    for (const AdvisedOutcome& outcome : step.outcomes) {
      Case entered = current;
      entered.add_finding(std::get<TestStep>(step.step).test, outcome.state);
      ASSERT_EQ(outcome.leading.size(), advice.leading.size());
      for (std::size_t i = 0; i < advice.leading.size(); ++i) {
        const Fault& fault = advice.leading[i].fault;
        EXPECT_NEAR(outcome.leading[i], entered.posterior(fault.component)[fault.state], 1e-10);
      }
    }
  }
}

TEST(Advice, WithoutACostOfEndingALikelyFaultIsRepairedAndThenTheRankingLeads) {
  const Solver solver = unpriced_lamp();
  Case current(solver);
  current.add_finding("dark", "present");
  const Advice open = advise(current);
  EXPECT_FALSE(open.priced);
  ASSERT_TRUE(is_test(open.proposed));
  EXPECT_EQ(open.proposed.name, solver.model().variable(rank_tests(current).tests.front().test).name);
  current.add_finding("bulb_continuity", "bad");
  current.add_finding("battery_voltage", "good");
  ASSERT_GT(current.posterior("bulb")[1], 0.95);
  const Advice sure = advise(current);
  EXPECT_EQ(sure.proposed.name, "replace_bulb");
  EXPECT_EQ(sure.likely.value().label, "bulb: blown");
  const Advice past = advise(current, {}, {.passed_over = {sure.proposed.step}});
  EXPECT_TRUE(is_test(past.proposed)) << past.proposed.label;
  const Advice strict = advise(current, {.rules = {.min_fault_probability = 0.9999}});
  EXPECT_TRUE(is_test(strict.proposed));
}

// Like every other step.
TEST(Advice, ALikelyFaultIsNotRepairedBeyondTheMeans) {
  ModelParts parts = unpriced_lamp().model().parts();
  parts.repairs[unpriced_lamp().model().index_of_repair("replace_bulb")].work.tools = {"load"};
  Case current{Solver(FaultModel(parts))};
  current.add_finding("dark", "present");
  current.add_finding("bulb_continuity", "bad");
  current.add_finding("battery_voltage", "good");
  ASSERT_EQ(advise(current).proposed.name, "replace_bulb");
  const std::vector<std::pair<Means, std::string>> beyond = {{{.tools = Names{}}, "needs a tool"},
                                                             {{.max_cost = 0.5}, "costs more than 0.5 EUR"},
                                                             {{.max_minutes = 0.5}, "takes more than 0.5 min"}};
  for (const auto& [means, why] : beyond) {
    const Advice advice = advise(current, {.means = means});
    const auto* nothing = std::get_if<NoStep>(&advice.proposed.step);
    ASSERT_NE(nothing, nullptr) << advice.proposed.label;
    EXPECT_EQ(nothing->reason, NoStepReason::beyond_means);
    EXPECT_NE(advice.proposed.label.find("bulb: blown"), std::string::npos) << advice.proposed.label;
    EXPECT_NE(advice.proposed.description.find(why), std::string::npos) << advice.proposed.description;
    EXPECT_EQ(advice.likely.value().label, "bulb: blown");
    for (const AdvisedStep& step : advice.alternatives) EXPECT_NE(step.name, "replace_bulb");
    const Advice past = advise(current, {.means = means}, {.passed_over = {advice.proposed.step}});
    EXPECT_FALSE(past.proposed.step == advice.proposed.step) << "tested on all the same";
  }
}

TEST(Advice, WhatTheModelDoesNotListIsHandedOver) {
  Case current(unpriced_lamp());
  current.add_finding("dark", "present");
  current.add_finding("other", "present");
  const Advice advice = advise(current);
  EXPECT_TRUE(std::holds_alternative<HandOverStep>(advice.proposed.step));
  EXPECT_EQ(advice.known.at(0).label, "not any listed fault: present");
}

TEST(Advice, AsksForTheComplaintFirst) {
  const Advice advice = advise(lamp().vehicle({}));
  const FaultModel& model = lamp().model();
  ASSERT_TRUE(std::holds_alternative<AskStep>(advice.proposed.step));
  EXPECT_EQ(std::get<AskStep>(advice.proposed.step).variables,
            (std::vector<VariableIndex>{model.index_of("weather"), model.index_of("dark"), model.index_of("dim"),
                                        model.index_of("flickers")}));
  EXPECT_TRUE(is_test(advise(lamp().vehicle({}), {}, {.passed_over = {advice.proposed.step}}).proposed));
  EXPECT_TRUE(is_test(advise(lamp().vehicle({{"dark", "present"}})).proposed));
}

TEST(Advice, QuestionsAreThoseThatTellMost) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  const Advice advice = advise(current);
  ASSERT_FALSE(advice.questions.empty());
  for (const AdvisedQuestion& question : advice.questions) {
    RankOptions options;
    options.targets = advice.ranking.targets;
    options.tests = {question.variable};
    EXPECT_DOUBLE_EQ(question.gain_bits, rank_tests(current, options).tests.at(0).gain_bits);
  }
  EXPECT_TRUE(std::is_sorted(advice.questions.begin(), advice.questions.end(),
                             [](const auto& one, const auto& other) { return one.gain_bits > other.gain_bits; }));
  EXPECT_TRUE(advise(current, {.rules = {.max_questions = 0}}).questions.empty());
}

TEST(Advice, TellsASpecialistWhatIsLeftAndWhatIsRuledOut) {
  const Case current = lamp().vehicle({{"dark", "present"}, {"bulb_continuity", "good"}});
  const Advice advice = advise(current);
  EXPECT_EQ(advice.brief.found.size(), 2U);
  for (const AdvisedFault& fault : advice.brief.left) EXPECT_GE(fault.probability, 0.01);
  ASSERT_EQ(advice.brief.ruled_out.size(), 1U);
  EXPECT_EQ(advice.brief.ruled_out[0].label, "bulb: blown");
}

TEST(Advice, NothingIsProposedOnceTheJobIsOver) {
  const Advice advice = advise(lamp().vehicle({{"dark", "present"}}), {}, {.over = true});
  EXPECT_EQ(std::get<NoStep>(advice.proposed.step).reason, NoStepReason::job_is_over);
  EXPECT_EQ(kind_of(advice.proposed.step), "nothing");
}

TEST(Advice, TheRankingLeadsWhereThatIsAskedFor) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  for (const RankBy by : {RankBy::gain, RankBy::cost, RankBy::gain_per_minute}) {
    const Advice advice = advise(current, {.rules = {.ranking = {.by = by}, .by_expected_cost = false}});
    EXPECT_EQ(advice.proposed.step, JobStep{TestStep{advice.ranking.tests.front().test}});
    EXPECT_TRUE(advice.priced);
    EXPECT_FALSE(advice.led_by_cost);
  }
}

TEST(Advice, ProgressThatTheModelDoesNotHaveIsRefused) {
  const Case current = lamp().vehicle({{"dark", "present"}});
  EXPECT_THROW(static_cast<void>(advise(current, {}, {.declined = {999}})), ArgumentError);
  EXPECT_THROW(static_cast<void>(advise(current, {}, {.repairs_done = {999}})), ArgumentError);
  EXPECT_THROW(static_cast<void>(described(current, RepairStep{999}, {})), ArgumentError);
  EXPECT_THROW(static_cast<void>(described(current, HandOverStep{7}, {})), ArgumentError);
  EXPECT_THROW(static_cast<void>(advise(current, {.means = {.open_access = {"lid"}}})), UnknownName);
}

}  // namespace

// Hypotheses of a case and the planning problem made of them, against enumeration of all joint states.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/case_problem.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "faultodds/decision/planning/policies.hpp"
#include "support/build.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::Enumeration;

Finding hard(const FaultModel& model, std::size_t variable, std::size_t state) {
  Finding finding{
      .variable = variable, .weights = std::vector<double>(model.state_count(variable), 0.0), .state = state};
  finding.weights[state] = 1.0;
  return finding;
}

/// A random model in which the first half are components, the next a symptom, the rest tests, with a cost and a repair
/// each; and a finding on the symptom.
struct RandomCase {
  FaultModel model;
  std::vector<VariableIndex> components;
  std::vector<Finding> findings;
};

RandomCase random_case(Dice& dice) {
  support::RandomModelOptions options;
  options.fewest_variables = 5;
  options.max_variables = 8;
  options.max_states = 3;
  ModelParts parts = support::RandomModel(dice, options).take();
  const std::size_t half = parts.variables.size() / 2;
  std::vector<VariableIndex> components;
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    Variable& variable = parts.variables[v];
    variable.what = v < half ? RoleFacts(Component{}) : v == half ? RoleFacts(Symptom{}) : Test{};
    if (variable.role() == Role::test) variable.test().work.minutes = 1.0 + static_cast<double>(dice.below(20));
    if (v >= half) continue;
    components.push_back(v);
    if (variable.states.size() < 2) continue;
    Repair repair{.name = "mend_" + variable.name,
                  .label = "",
                  .procedure = "",
                  .component = v,
                  .mends = {1},
                  .success = 0.5 + 0.5 * dice.uniform(),
                  .work = {},
                  .source = ""};
    repair.work.money = 10.0 + static_cast<double>(dice.below(90));
    parts.repairs.push_back(std::move(repair));
  }
  parts.header.labour_rate = 60.0;
  parts.hand_overs = {
      {.name = "works", .label = "", .description = "", .money = 300.0, .wait_minutes = {}, .tells = "", .source = ""},
      {.name = "neighbour",
       .label = "",
       .description = "",
       .money = 120.0,
       .wait_minutes = {},
       .tells = "",
       .source = ""}};
  FaultModel model(std::move(parts));
  const std::size_t state = dice.below(model.state_count(half));
  std::vector<Finding> findings = {hard(model, half, state)};
  return {std::move(model), std::move(components), std::move(findings)};
}

std::vector<Finding> with_faults(const RandomCase& random, const std::vector<Fault>& faults) {
  std::vector<Finding> findings = random.findings;
  for (const std::size_t component : random.components) {
    std::size_t state = 0;
    for (const Fault& fault : faults) {
      if (fault.component == component) state = fault.state;
    }
    findings.push_back(hard(random.model, component, state));
  }
  return findings;
}

TEST(Hypotheses, EqualEnumeration) {
  Dice dice(31);
  std::size_t compared = 0;
  for (std::size_t round = 0; round < support::rounds(150); ++round) {
    const RandomCase random = random_case(dice);
    const Enumeration all(random.model);
    const double evidence = all.evidence(random.findings);
    Case current{Solver(random.model)};
    if (evidence < 1e-9 || !current.try_findings(random.findings)) continue;
    for (const FaultAssumption assumption : {FaultAssumption::one_fault, FaultAssumption::several_faults}) {
      const bool one = assumption == FaultAssumption::one_fault;
      double possible = 0.0;
      for (const auto& [states, probability] : all.explanations(random.findings, random.components)) {
        const auto faulty = std::count_if(states.begin(), states.end(), [](std::size_t s) { return s > 0; });
        if (!one || faulty <= 1) possible += probability;
      }
      if (possible < 1e-9) continue;
      const Hypotheses found =
          hypotheses_of(current, {.components = random.components, .assumption = assumption, .most = 1000});
      EXPECT_NEAR(found.assumed, possible, 1e-10);
      EXPECT_NEAR(found.left_out, 0.0, 1e-10);
      double before = 1.0;
      for (const Hypothesis& hypothesis : found.list) {
        EXPECT_TRUE(!one || hypothesis.faults.size() <= 1);
        const double expected = all.evidence(with_faults(random, hypothesis.faults)) / evidence / possible;
        EXPECT_NEAR(hypothesis.probability, expected, 1e-10);
        EXPECT_LE(hypothesis.probability, before + 1e-12);
        before = hypothesis.probability;
        ++compared;
      }
    }
  }
  EXPECT_GT(compared, support::rounds(150));
}

TEST(CaseProblem, OutcomesRepairsAndEndsAreThoseOfTheModel) {
  Dice dice(32);
  std::size_t compared = 0;
  for (std::size_t round = 0; round < support::rounds(150); ++round) {
    const RandomCase random = random_case(dice);
    const Enumeration all(random.model);
    Case current{Solver(random.model)};
    if (all.evidence(random.findings) < 1e-9 || !current.try_findings(random.findings)) continue;
    CaseProblemOptions options;
    options.hypotheses = {.components = random.components, .assumption = FaultAssumption::several_faults, .most = 1000};
    options.max_tests = 1000;
    const CaseProblem made = problem_of(current, options);
    const std::vector<Hypothesis>& list = made.hypotheses.list;
    EXPECT_NEAR(std::accumulate(made.problem.weights.begin(), made.problem.weights.end(), 0.0), 1.0, 1e-10);
    EXPECT_EQ(made.problem.ends.hand_over, 120.0);
    EXPECT_EQ(made.hand_over, 1U);
    for (std::size_t t = 0; t < made.tests.size(); ++t) {
      const std::size_t outcomes = random.model.state_count(made.tests[t]);
      EXPECT_EQ(made.problem.tests[t].cost, random.model.variable(made.tests[t]).test().work.minutes);
      for (std::size_t h = 0; h < list.size(); ++h) {
        if (list[h].probability < 1e-12) continue;
        const auto posterior = all.posteriors(with_faults(random, list[h].faults))[made.tests[t]];
        for (std::size_t o = 0; o < outcomes; ++o) {
          EXPECT_NEAR(made.problem.tests[t].table[h * outcomes + o], posterior[o], 1e-10);
          ++compared;
        }
      }
    }
    for (std::size_t r = 0; r < made.repairs.size(); ++r) {
      const Repair& repair = random.model.parts().repairs[made.repairs[r]];
      EXPECT_EQ(made.problem.repairs[r].cost, repair.work.money);
      for (std::size_t h = 0; h < list.size(); ++h) {
        const bool mends =
            std::find(list[h].faults.begin(), list[h].faults.end(), Fault{repair.component, 1}) != list[h].faults.end();
        EXPECT_EQ(made.problem.repairs[r].success[h], mends ? repair.success : 0.0);
        if (!mends) continue;
        const std::size_t rest = made.problem.repairs[r].becomes[h];
        EXPECT_EQ(rest == RepairAction::cured ? 0U : list[rest].faults.size(), list[h].faults.size() - 1);
      }
    }
  }
  EXPECT_GT(compared, support::rounds(150));
}

TEST(CaseProblem, WhatIsLeftOutKeepsTheAverage) {
  // Sum over hypotheses, the rest among them, of probability times P(outcome | hypothesis) is P(outcome).
  Dice dice(33);
  for (std::size_t round = 0; round < support::rounds(60); ++round) {
    const RandomCase random = random_case(dice);
    Case current{Solver(random.model)};
    if (Enumeration(random.model).evidence(random.findings) < 1e-9) continue;
    if (!current.try_findings(random.findings)) continue;
    CaseProblemOptions options;
    options.hypotheses = {.components = random.components, .assumption = FaultAssumption::several_faults, .most = 2};
    const CaseProblem made = problem_of(current, options);
    for (std::size_t t = 0; t < made.tests.size(); ++t) {
      const std::vector<double> expected = current.posterior(made.tests[t]);
      for (std::size_t o = 0; o < expected.size(); ++o) {
        double mean = 0.0;
        for (std::size_t h = 0; h < made.problem.weights.size(); ++h)
          mean += made.problem.weights[h] * made.problem.tests[t].table[h * expected.size() + o];
        EXPECT_NEAR(mean, expected[o], 1e-9);
      }
    }
  }
}

// Costs written down by hand: the specialist takes 1.5 times the cheapest repair of each fault, 70 for what none mends.
TEST(CaseProblem, RepairsElsewhereCostWhatTheCheapestRepairHereDoes) {
  support::Builder builder;
  const std::size_t pump = builder.component("pump", 0.1);
  const std::size_t seal = builder.component("seal", 0.2);
  const std::size_t leak = builder.variable("leak", {"absent", "present"}, {pump, seal},
                                            {0.99, 0.01, 0.2, 0.8, 0.1, 0.9, 0.02, 0.98}, Symptom{});
  builder.parts().access = {
      {.name = "cover",
       .label = "",
       .description = "",
       .work = {.minutes = 30.0, .money = {}, .access = {}, .tools = {}, .skill = {}, .cautions = {}, .source = {}}}};
  Repair dear{.name = "new_pump",
              .label = "",
              .procedure = "",
              .component = pump,
              .mends = {1},
              .success = 0.9,
              .work = {},
              .source = ""};
  dear.work.money = 400.0;
  dear.work.tools = {"press"};
  Repair cheap{.name = "mend_pump",
               .label = "",
               .procedure = "",
               .component = pump,
               .mends = {1},
               .success = 0.7,
               .work = {},
               .source = ""};
  cheap.work.money = 100.0;
  cheap.work.minutes = 60.0;
  cheap.work.access = {"cover"};
  builder.parts().tools = {{.name = "press", .label = "", .description = ""}};
  builder.parts().repairs = {dear, cheap};
  builder.parts().header.labour_rate = 40.0;
  builder.parts().hand_overs = {
      {.name = "all_in", .label = "", .description = "", .money = 500.0, .wait_minutes = {}, .tells = "", .source = ""},
      {.name = "by_the_job",
       .label = "",
       .description = "",
       .money = 60.0,
       .wait_minutes = {},
       .tells = "",
       .source = "",
       .repair = RepairElsewhere{1.5, 70.0}}};
  Case current{Solver(builder.model())};
  current.add(hard(current.model(), leak, 1));
  CaseProblemOptions options;
  options.hypotheses = {.components = {pump, seal}, .assumption = FaultAssumption::several_faults, .most = 10};
  options.means.tools.emplace();
  const CaseProblem made = problem_of(current, options);
  EXPECT_EQ(made.hand_over, 1U);
  ASSERT_EQ(made.problem.repair_elsewhere.size(), made.hypotheses.list.size());
  double mean = 0.0, mass = 0.0;
  for (std::size_t h = 0; h < made.hypotheses.list.size(); ++h) {
    double cost = made.hypotheses.list[h].faults.empty() ? 70.0 : 0.0;
    for (const Fault& fault : made.hypotheses.list[h].faults) {
      cost += fault.component == pump ? 1.5 * (100.0 + 40.0 + 20.0) : 70.0;
    }
    EXPECT_NEAR(made.problem.repair_elsewhere[h], cost, 1e-12);
    mean += made.problem.weights[h] * cost;
    mass += made.problem.weights[h];
  }
  EXPECT_NEAR(step_cost(made.problem, start_of(made.problem), {StepKind::hand_over, 0}), 60.0 + mean / mass, 1e-9);
  EXPECT_EQ(made.problem.ends.comeback, 60.0 + mean / mass);
  options.ends.hand_over = 200.0;
  EXPECT_TRUE(problem_of(current, options).problem.repair_elsewhere.empty());
}

// A fault that was seen still has to be mended: its repair is in the problem, and with one fault nothing else is.
TEST(CaseProblem, AKnownFaultIsPartOfEveryHypothesis) {
  support::Builder builder;
  const std::size_t battery = builder.component("battery", 0.1);
  const std::size_t bulb = builder.component("bulb", 0.2);
  const std::size_t seat = builder.component("seat", 0.3);  // has nothing to do with the complaint
  const std::size_t dark = builder.variable("dark", {"absent", "present"}, {battery, bulb},
                                            {0.99, 0.01, 0.1, 0.9, 0.05, 0.95, 0.01, 0.99}, Symptom{});
  for (const std::size_t component : {battery, bulb, seat}) {
    Repair repair{.name = "mend_" + std::to_string(component),
                  .label = "",
                  .procedure = "",
                  .component = component,
                  .mends = {1},
                  .success = 0.95,
                  .work = {},
                  .source = ""};
    repair.work.money = 10.0;
    builder.parts().repairs.push_back(repair);
  }
  builder.parts().hand_overs = {
      {.name = "shop", .label = "", .description = "", .money = 40.0, .wait_minutes = {}, .tells = "", .source = ""}};
  Case current{Solver(builder.model())};
  for (const std::size_t present : {dark, battery, seat}) current.add(hard(current.model(), present, 1));
  EXPECT_EQ(known_faults(current), std::vector<VariableIndex>{battery});
  const CaseProblem one = problem_of(current);
  ASSERT_EQ(one.hypotheses.list.size(), 1U);
  EXPECT_EQ(one.hypotheses.list[0].faults, (std::vector<Fault>{{battery, 1}}));
  EXPECT_EQ(one.repairs, std::vector<RepairIndex>{0});
  EXPECT_EQ(weigh_steps(one.problem, start_of(one.problem)).steps[0].step, (Step{StepKind::repair, 0}));
  CaseProblemOptions options;
  options.hypotheses.assumption = FaultAssumption::several_faults;
  for (const Hypothesis& hypothesis : problem_of(current, options).hypotheses.list) {
    EXPECT_TRUE(hypothesis.probability == 0.0 || hypothesis.faults.front() == (Fault{battery, 1}));
  }
}

TEST(CaseProblem, LimitsLeaveStepsOut) {
  Dice dice(34);
  const RandomCase random = random_case(dice);
  Case current{Solver(random.model)};
  ASSERT_TRUE(current.try_findings(random.findings));
  CaseProblemOptions options;
  options.means.max_cost = 0.5;
  const CaseProblem made = problem_of(current, options);
  EXPECT_TRUE(made.tests.empty());
  EXPECT_TRUE(made.repairs.empty());
  const std::vector<PricedStep> steps = price_steps(made.problem, start_of(made.problem));
  ASSERT_EQ(steps.size(), 1U);
  EXPECT_EQ(steps[0].step.kind, StepKind::hand_over);
}

TEST(CaseProblem, AnEndMustHaveACost) {
  Dice dice(35);
  const RandomCase random = random_case(dice);
  ModelParts parts = random.model.parts();
  parts.hand_overs.clear();
  Case current{Solver(FaultModel(parts))};
  ASSERT_TRUE(current.try_findings(random.findings));
  EXPECT_THROW((void)problem_of(current), ArgumentError);
  CaseProblemOptions options;
  options.ends.live_with = 50.0;
  EXPECT_NO_THROW((void)problem_of(current, options));
}

}  // namespace

// The case after a repair, against a simulation in which every cause of every symptom is a variable of its own.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/repaired.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>
#include <numeric>
#include <string>
#include <vector>

#include "support/build.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;

/// Components, some damaged by the one before, graded symptoms with gates on a context, and a test of each component.
struct Vehicle {
  support::Builder builder;
  std::size_t weather = 0;
  std::vector<VariableIndex> components;
  std::vector<VariableIndex> symptoms;
  std::vector<VariableIndex> tests;
};

std::vector<std::string> names(std::size_t count) {
  std::vector<std::string> result;
  for (std::size_t i = 0; i < count; ++i) result.push_back("s" + std::to_string(i));
  return result;
}

Link random_link(Dice& dice, std::size_t cause, std::size_t cause_states, std::size_t states) {
  Link link{.cause = cause, .effect = Table(cause_states, states), .only_when = {}, .source = {}};
  link.effect(0, 0) = 1.0;
  for (std::size_t s = 1; s < cause_states; ++s) {
    const std::vector<double> row = dice.row(states);
    for (std::size_t y = 0; y < states; ++y) link.effect(s, y) = row[y];
  }
  return link;
}

Vehicle random_vehicle(Dice& dice) {
  Vehicle vehicle;
  vehicle.weather = vehicle.builder.variable("weather", {"dry", "wet"}, {}, {0.7, 0.3}, Context{});
  std::vector<std::size_t> states;
  for (std::size_t i = 0; i < 3; ++i) {
    states.push_back(dice.between(2, 3));
    const bool damaged = i > 0 && dice.chance(0.4);
    FullTable table{{}, Table(damaged ? states[i - 1] : 1, states[i])};
    if (damaged) table.parents = {vehicle.components[i - 1]};
    for (std::size_t row = 0; row < table.rows.rows(); ++row) {
      const double sound = 0.3 + 0.6 * dice.uniform();
      for (std::size_t s = 0; s < states[i]; ++s)
        table.rows(row, s) = s == 0 ? sound : (1.0 - sound) / static_cast<double>(states[i] - 1);
    }
    vehicle.components.push_back(
        vehicle.builder.variable("c" + std::to_string(i), names(states[i]), table, Component{}));
    const double detects = 0.5 + 0.5 * dice.uniform();
    vehicle.tests.push_back(
        vehicle.builder.variable("t" + std::to_string(i), {"good", "bad"},
                                 Examination{.component = vehicle.components[i],
                                             .detection = std::vector<double>(states[i] - 1, detects),
                                             .false_alarm = 0.1},
                                 Test{}));
  }
  for (std::size_t i = 0; i < 2; ++i) {
    const std::size_t degrees = dice.between(2, 3);
    NoisyMax noisy{dice.row(degrees), {}};
    noisy.leak[0] += 0.2;
    for (double& p : noisy.leak) p /= 1.2;
    for (std::size_t c = 0; c < 3; ++c) {
      if (dice.chance(0.25)) continue;
      Link link = random_link(dice, vehicle.components[c], states[c], degrees);
      if (dice.chance(0.3)) link.only_when = {{vehicle.weather, {1}}};
      noisy.links.push_back(link);
    }
    vehicle.symptoms.push_back(vehicle.builder.variable("y" + std::to_string(i), names(degrees), noisy, Symptom{}));
  }
  return vehicle;
}

/// Everything that can be so before and after one repair, with its probability: the states of the model's variables
/// before, and those that may differ now.
struct World {
  double probability = 1.0;
  std::vector<std::size_t> before;
  std::vector<std::size_t> now;
};

using Visit = std::function<void(const World&)>;

/// Goes through all worlds: draws each cause's contribution to each symptom once, and keeps it while the cause stays.
class Worlds {
 public:
  Worlds(const FaultModel& model, const Repair& repair, Visit visit)
      : model_(model), repair_(repair), visit_(std::move(visit)) {}

  void go() {
    World world;
    world.before.assign(model_.size(), 0);
    world.now.assign(model_.size(), 0);
    causes_before(world, 0);
  }

 private:
  [[nodiscard]] bool is_cause(std::size_t v) const {
    return model_.variable(v).role() == Role::context || model_.variable(v).role() == Role::component;
  }

  void causes_before(const World& world, std::size_t position) {
    if (position == model_.size()) return mend(world);
    const std::size_t v = model_.topological_order()[position];
    if (!is_cause(v)) return causes_before(world, position + 1);
    const auto& table = std::get<FullTable>(model_.variable(v).distribution);
    const std::size_t row = table.parents.empty() ? 0 : world.before[table.parents[0]];
    for (std::size_t s = 0; s < model_.state_count(v); ++s) {
      World next = world;
      next.before[v] = next.now[v] = s;
      next.probability *= table.rows(row, s);
      causes_before(next, position + 1);
    }
  }

  void mend(const World& world) {
    const std::size_t c = repair_.component;
    const bool mendable = std::find(repair_.mends.begin(), repair_.mends.end(), world.before[c]) != repair_.mends.end();
    const double success = mendable ? repair_.success : 0.0;
    World mended = world;
    mended.probability *= success;
    mended.now[c] = 0;
    World as_before = world;
    as_before.probability *= 1.0 - success;
    for (const World& next : {mended, as_before}) {
      if (next.probability > 0.0) effects(next, 0);
    }
  }

  void effects(const World& world, std::size_t v) {
    if (v == model_.size()) return visit_(world);
    if (is_cause(v)) return effects(world, v + 1);
    if (const auto* noisy = std::get_if<NoisyMax>(&model_.variable(v).distribution)) {
      World next = world;
      leak(next, v, *noisy);
      return;
    }
    const auto& test = std::get<Examination>(model_.variable(v).distribution);
    const auto bad = [&](std::size_t s) { return s == 0 ? test.false_alarm : test.detection[s - 1]; };
    for (std::size_t first = 0; first < 2; ++first) {
      for (std::size_t second = 0; second < 2; ++second) {
        World next = world;
        next.before[v] = first;
        next.now[v] = second;
        const double p = bad(world.before[test.component]);
        const double q = bad(world.now[test.component]);
        next.probability *= (first == 1 ? p : 1.0 - p) * (second == 1 ? q : 1.0 - q);
        effects(next, v + 1);
      }
    }
  }

  void leak(const World& world, std::size_t v, const NoisyMax& noisy) {
    for (std::size_t y = 0; y < noisy.leak.size(); ++y) {
      World next = world;
      next.probability *= noisy.leak[y];
      next.before[v] = next.now[v] = y;
      contributions(next, v, noisy, 0);
    }
  }

  void contributions(const World& world, std::size_t v, const NoisyMax& noisy, std::size_t i) {
    if (world.probability == 0.0) return;
    if (i == noisy.links.size()) return effects(world, v + 1);
    const Link& link = noisy.links[i];
    const bool open = std::all_of(link.only_when.begin(), link.only_when.end(), [&](const Gate& gate) {
      return std::find(gate.states.begin(), gate.states.end(), world.before[gate.variable]) != gate.states.end();
    });
    const std::size_t row = open ? world.before[link.cause] : 0;
    for (std::size_t y = 0; y < noisy.leak.size(); ++y) {
      World next = world;
      next.probability *= link.effect(row, y);
      next.before[v] = std::max(next.before[v], y);
      if (world.now[link.cause] == world.before[link.cause]) next.now[v] = std::max(next.now[v], y);
      contributions(next, v, noisy, i + 1);
    }
  }

  const FaultModel& model_;
  const Repair& repair_;
  Visit visit_;
};

struct Said {
  std::size_t variable;
  std::size_t state;
};

bool holds(const std::vector<std::size_t>& states, const std::vector<Said>& said) {
  return std::all_of(said.begin(), said.end(), [&](const Said& one) { return states[one.variable] == one.state; });
}

TEST(Repaired, EqualsAllWorldsOneByOne) {
  Dice dice(2024);
  std::size_t compared = 0;
  for (std::size_t round = 0; round < support::rounds(40); ++round) {
    Vehicle vehicle = random_vehicle(dice);
    const std::size_t component = vehicle.components[dice.below(3)];
    RepairCheck check;
    check.false_cured = 0.1;
    check.false_still_there = 0.05;
    Repair repair{.name = "mend",
                  .label = "",
                  .procedure = "",
                  .component = component,
                  .mends = {1},
                  .success = 0.5 + 0.4 * dice.uniform(),
                  .work = {},
                  .source = ""};
    repair.verification = check;
    vehicle.builder.parts().repairs = {repair};
    vehicle.builder.parts().comeback = Comeback{.money = 50.0, .minutes = {}, .source = {}};
    const FaultModel model = vehicle.builder.model();
    const std::size_t complaint = vehicle.symptoms[0];
    const std::vector<Said> before = {{complaint, dice.between(1, model.state_count(complaint) - 1)},
                                      {vehicle.tests[dice.below(3)], dice.below(2)}};
    const std::size_t says = dice.below(2);
    // A test of another component that was done before needs no second one.
    const std::size_t again = vehicle.tests[dice.below(3)];
    const std::size_t done = before[1].variable;
    const bool stays = model.parents(done)[0] != component;
    const bool useless = again == done && stays;
    const std::vector<Said> now = useless ? std::vector<Said>{} : std::vector<Said>{{again, dice.below(2)}};

    std::map<std::pair<std::size_t, std::size_t>, double> expected;
    double total = 0.0;
    Worlds(model, repair, [&](const World& world) {
      if (!holds(world.before, before) || !holds(world.now, now)) return;
      const double still = world.now[complaint] > 0 ? 1.0 - check.false_cured : check.false_still_there;
      const double weight = world.probability * (says == 1 ? still : 1.0 - still);
      total += weight;
      for (std::size_t v = 0; v < model.size(); ++v) expected[{v, world.now[v]}] += weight;
    }).go();
    if (total < 1e-12) continue;

    Case current{Solver(model)};
    for (const Said& said : before) current.add_finding(said.variable, said.state);
    Repaired repaired = after_repair(current, 0);
    for (const Said& said : now) {
      repaired.current.add_finding(said.variable, said.state);
    }
    repaired.current.add_finding(repaired.check, says);
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (stays && v == done) continue;  // has a finding already
      const std::vector<double> posterior = repaired.current.posterior(v);
      for (std::size_t s = 0; s < posterior.size(); ++s) {
        EXPECT_NEAR(posterior[s], (expected[{v, s}]) / total, 1e-10) << model.variable(v).name << " round " << round;
      }
    }
    ++compared;
  }
  EXPECT_GT(compared, support::rounds(40) / 2);
}

/// Two faults, each of which brings about the complaint with some strength, and repairs that never fail.
FaultModel two_causes(double first, double second) {
  support::Builder builder;
  const std::size_t pump = builder.component("pump", 0.1);
  const std::size_t filter = builder.component("filter", 0.2);
  const auto link = [](std::size_t cause, double strength) {
    return Link{
        .cause = cause, .effect = Table(2, {1.0, 0.0, 1.0 - strength, strength}), .only_when = {}, .source = {}};
  };
  builder.variable("weak", {"absent", "present"}, NoisyMax{{1.0, 0.0}, {link(pump, first), link(filter, second)}},
                   Symptom{});
  builder.parts().repairs = {{.name = "new_pump",
                              .label = "",
                              .procedure = "",
                              .component = pump,
                              .mends = {1},
                              .success = 1.0,
                              .work = {},
                              .source = ""},
                             {.name = "new_filter",
                              .label = "",
                              .procedure = "",
                              .component = filter,
                              .mends = {1},
                              .success = 1.0,
                              .work = {},
                              .source = ""}};
  return builder.model();
}

TEST(Repaired, WhatACauseThatStaysBroughtAboutGoesOn) {
  // By hand: the complaint is still there after a perfect repair of the pump, so the filter brings it about, and did so
  // before: P(pump was faulty) is its prior, however weakly the filter acts.
  Case current{Solver(two_causes(0.9, 0.05))};
  current.add_finding("weak", "present");
  Repaired repaired = after_repair(current, 0);
  repaired.current.add_finding(repaired.check, 1);
  EXPECT_NEAR(repaired.current.posterior("filter")[1], 1.0, 1e-12);
  EXPECT_NEAR(repaired.current.posterior("pump")[1], 0.0, 1e-12);
  EXPECT_NEAR(repaired.current.posterior("pump_before_new_pump")[1], 0.1, 1e-12);
  EXPECT_NEAR(repaired.current.posterior("weak")[1], 1.0, 1e-12);
}

TEST(Repaired, ASecondRepairEndsIt) {
  Case current{Solver(two_causes(0.9, 0.6))};
  current.add_finding("weak", "present");
  Repaired first = after_repair(current, 0);
  first.current.add_finding(first.check, 1);
  const Repaired second = after_repair(first, 1);
  EXPECT_NEAR(second.current.posterior(second.check)[0], 1.0, 1e-12);
  const Repaired again = after_repair(first, 0);
  EXPECT_NEAR(again.current.posterior(again.check)[0], 0.0, 1e-12);
}

TEST(Repaired, ASymptomThatWasNotThereStaysAway) {
  Case current{Solver(two_causes(0.9, 0.6))};
  current.add_finding("weak", "absent");
  const double before = current.posterior("filter")[1];
  const Repaired repaired = after_repair(current, 0);
  ASSERT_NE(repaired.current.finding_of(2), nullptr);
  EXPECT_NEAR(repaired.current.posterior("filter")[1], before, 1e-12);
  EXPECT_NEAR(repaired.current.log_evidence(), current.log_evidence(), 1e-12);
}

TEST(Repaired, TheOrderOfRepairsMattersOnlyThroughWhatIsFoundBetween) {
  Dice dice(77);
  for (std::size_t round = 0; round < support::rounds(20); ++round) {
    Vehicle vehicle = random_vehicle(dice);
    for (std::size_t c = 0; c < 3; ++c) {
      Repair repair{.name = "mend_" + std::to_string(c),
                    .label = "",
                    .procedure = "",
                    .component = vehicle.components[c],
                    .mends = {1},
                    .success = 0.4 + 0.6 * dice.uniform(),
                    .work = {},
                    .source = ""};
      vehicle.builder.parts().repairs.push_back(repair);
    }
    Case current{Solver(vehicle.builder.model())};
    const std::vector<Finding> found = {{.variable = vehicle.symptoms[0], .weights = {0.0, 1.0}, .state = 1}};
    if (current.model().state_count(vehicle.symptoms[0]) != 2 || !current.try_findings(found)) continue;
    const Repaired one = after_repair(after_repair(current, 0), 2);
    const Repaired other = after_repair(after_repair(current, 2), 0);
    EXPECT_NEAR(one.current.log_evidence(), current.log_evidence(), 1e-12);
    for (const std::size_t c : vehicle.components) {
      const std::vector<double> a = one.current.posterior(c);
      const std::vector<double> b = other.current.posterior(c);
      for (std::size_t s = 0; s < a.size(); ++s) EXPECT_NEAR(a[s], b[s], 1e-12);
    }
    EXPECT_NEAR(one.current.posterior(one.check)[0], other.current.posterior(other.check)[0], 1e-12);
  }
}

TEST(Repaired, ARepairThatDoesNotExistIsRefused) {
  const Case current{Solver(two_causes(0.9, 0.6))};
  EXPECT_THROW((void)after_repair(current, 2), ArgumentError);
}

}  // namespace

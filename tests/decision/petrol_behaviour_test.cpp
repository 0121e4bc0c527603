// What a mechanic expects of the low-power petrol model: which faults lead after which findings, and what to test next.
// Source of every expectation here, unless a line says otherwise: common practice, no source. The numbers of the model
// are invented; the orders and directions are the trade's.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/io/model_file.hpp"

namespace {

using namespace faultodds;
using Findings = std::initializer_list<std::pair<std::string_view, std::string_view>>;
using Names = std::vector<std::string>;

const Solver& solver() {
  static const Solver compiled(read_model(FAULTODDS_SOURCE_DIR "/models/low-power-petrol.json"));
  return compiled;
}

Case vehicle(Findings findings) {
  Case made(solver());
  for (const auto& [variable, state] : findings) made.add_finding(variable, state);
  return made;
}

/// Probability of one fault.
double fault(const Case& current, std::string_view component, std::string_view state) {
  const std::size_t index = current.model().index_of(component);
  return current.posterior(index)[current.model().state_of(index, state)];
}

/// Probability that a component has any fault.
double suspicion(const Case& current, std::string_view component) { return 1.0 - current.posterior(component)[0]; }

/// Sum of the fault probabilities of a system.
double suspicion_of_system(const Case& current, std::string_view system) {
  double sum = 0.0;
  for (const std::size_t component : current.model().with_role(Role::component)) {
    const Variable& variable = current.model().variable(component);
    if (variable.component().system == system) sum += suspicion(current, variable.name);
  }
  return sum;
}

/// The `most` most probable faults, as "component=state".
Names leading(const Case& current, std::size_t most) {
  Names names;
  const FaultModel& model = current.model();
  for (const FaultProbability& leader : leading_faults(current, model.with_role(Role::component), most)) {
    const Variable& component = model.variable(leader.component);
    names.push_back(component.name + "=" + component.states[leader.state].name);
  }
  return names;
}

bool among(const Names& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// The ranking without the tests in `skipped`.
Ranking ranked(const Case& current, RankBy by = RankBy::gain_per_cost, const Names& skipped = {}) {
  RankOptions options;
  options.by = by;
  options.effects = false;
  options.tests = current.model().with_role(Role::test);
  std::erase_if(options.tests, [&](std::size_t test) { return among(skipped, current.model().variable(test).name); });
  return rank_tests(current, options);
}

/// Names of the ranked tests, the best one first.
Names ranked_names(const Case& current, RankBy by = RankBy::gain_per_cost, const Names& skipped = {}) {
  Names names;
  for (const TestForecast& forecast : ranked(current, by, skipped).tests) {
    names.push_back(current.model().variable(forecast.test).name);
  }
  return names;
}

/// Place of a test in a ranking, the best one 0; the number of tests if it is missing.
std::size_t place(const Names& ranking, std::string_view test) {
  return static_cast<std::size_t>(std::find(ranking.begin(), ranking.end(), test) - ranking.begin());
}

TEST(PetrolComplaint, IsNeitherRareNorTheRule) {
  const double probability = Case(solver()).posterior("low_power")[1];
  EXPECT_GT(probability, 0.1);
  EXPECT_LT(probability, 0.3);
}

TEST(PetrolComplaint, AloneLetsNoFaultStandOut) {
  const Case current = vehicle({{"low_power", "present"}});
  const auto components = current.model().with_role(Role::component);
  EXPECT_LT(leading_faults(current, components, 1).at(0).probability, 0.12);
}

TEST(PetrolComplaint, AloneAsksForCheapQuickTestsWithoutDismantling) {
  const Case current = vehicle({{"low_power", "present"}});
  const Ranking ranking = ranked(current);
  const std::vector<TestForecast>& tests = ranking.tests;
  ASSERT_GE(tests.size(), 45U);
  for (const LeftOut& left : ranking.left_out) EXPECT_NE(unmet_preconditions(current, left.test), "") << left.reason;
  for (std::size_t i = 0; i < 5; ++i) {
    const std::string& name = current.model().variable(tests[i].test).name;
    EXPECT_LE(tests[i].minutes, 10.0) << name;
    EXPECT_LE(tests[i].cost, 15.0) << name;
    EXPECT_TRUE(tests[i].opens.empty()) << name;
  }
  EXPECT_LT(place(ranked_names(current), "read_stored_codes"), 3U);
}

TEST(PetrolAir, LeanCodeWithLowAirMassPutsMeteringAndUnmeteredAirAboveThePump) {
  const Case current = vehicle({{"low_power", "present"}, {"code_p0171", "present"}, {"air_mass_at_idle", "low"}});
  for (const auto* component : {"air_mass_sensor", "intake_duct", "vacuum_hose"}) {
    EXPECT_GT(suspicion(current, component), 2.0 * suspicion(current, "fuel_pump")) << component;
  }
}

TEST(PetrolAir, VacuumLeakGivesLeanTrimsAtIdleThatFadeWithSpeed) {
  const Case fading = vehicle({{"low_power", "present"}, {"trims_at_idle", "lean"}, {"trims_at_2500", "normal"}});
  EXPECT_EQ(leading(fading, 1).at(0), "vacuum_hose=off_or_split");
  EXPECT_GT(suspicion(fading, "intake_gasket"), suspicion(fading, "fuel_pump"));

  const Case staying = vehicle({{"low_power", "present"}, {"trims_at_idle", "normal"}, {"trims_at_2500", "lean"}});
  EXPECT_GT(suspicion(staying, "fuel_pump"), 3.0 * suspicion(staying, "vacuum_hose"));
  EXPECT_GT(suspicion(staying, "air_mass_sensor"), 3.0 * suspicion(staying, "vacuum_hose"));
}

TEST(PetrolAir, RecentWorkOnTheIntakePointsToHosesLeftOff) {
  const Case worked = vehicle({{"low_power", "present"}, {"recent_work", "intake_side"}});
  const Names first = leading(worked, 3);
  EXPECT_TRUE(among(first, "vacuum_hose=off_or_split"));
  EXPECT_TRUE(among(first, "intake_duct=split"));
  const Case untouched = vehicle({{"low_power", "present"}, {"recent_work", "none"}});
  EXPECT_GT(fault(worked, "intake_duct", "split"), 3.0 * fault(untouched, "intake_duct", "split"));
  EXPECT_LT(place(ranked_names(worked), "look_at_hoses"), place(ranked_names(untouched), "look_at_hoses"));
}

TEST(PetrolAir, ALookProvesLittleAndAMeasurementMuch) {
  const Case before = vehicle({{"low_power", "present"}});
  const Case looked = vehicle({{"low_power", "present"}, {"look_at_hoses", "nothing_found"}});
  const Case smoked = vehicle({{"low_power", "present"}, {"smoke_test", "tight"}});
  EXPECT_GT(suspicion(looked, "vacuum_hose"), 0.4 * suspicion(before, "vacuum_hose"));
  EXPECT_LT(suspicion(smoked, "vacuum_hose"), 0.2 * suspicion(before, "vacuum_hose"));
}

TEST(PetrolAir, ATurbochargerIsSuspectedOnlyWhereThereIsOne) {
  const Case natural = vehicle({{"low_power", "present"}, {"induction", "natural"}});
  EXPECT_EQ(suspicion(natural, "turbocharger"), 0.0);
  EXPECT_EQ(suspicion(natural, "charge_pipe"), 0.0);
  const Case whistling =
      vehicle({{"induction", "turbo"}, {"low_power", "present"}, {"whistle_under_boost", "present"}});
  EXPECT_EQ(leading(whistling, 1).at(0), "charge_pipe=leaking");
}

TEST(PetrolAir, ACodeForTooLittleRecirculationCanMislead) {
  // P0401 says that too little flows (SAE J2012); with a rough idle and stalling the valve hangs open all the same.
  const Case shaking = vehicle({{"code_p0401", "present"}, {"rough_idle", "present"}, {"stalls_at_idle", "present"}});
  EXPECT_GT(fault(shaking, "egr_valve", "stuck_open"), fault(shaking, "egr_valve", "clogged"));
  const Case pinking = vehicle({{"code_p0401", "present"}, {"pinking_under_load", "present"}});
  EXPECT_GT(fault(pinking, "egr_valve", "clogged"), fault(pinking, "egr_valve", "stuck_open"));
}

TEST(PetrolAir, DirectInjectionCokesTheInletValves) {
  const Case direct = vehicle({{"injection", "direct"}, {"low_power", "present"}, {"distance", "high"}});
  const Case port = vehicle({{"injection", "port"}, {"low_power", "present"}, {"distance", "high"}});
  EXPECT_GT(suspicion(direct, "inlet_deposits"), 3.0 * suspicion(port, "inlet_deposits"));
}

TEST(PetrolFuel, AWeakPumpShowsUnderLoad) {
  const Case sagging =
      vehicle({{"low_power", "present"}, {"fuel_pressure_at_idle", "good"}, {"fuel_pressure_under_load", "sags"}});
  const Names first = leading(sagging, 2);
  EXPECT_TRUE(among(first, "fuel_pump=weak"));
  EXPECT_TRUE(among(first, "fuel_filter=clogged"));
  const Case idle_only = vehicle({{"low_power", "present"}, {"fuel_pressure_at_idle", "good"}});
  const Case under_load = vehicle({{"low_power", "present"}, {"fuel_pressure_under_load", "holds"}});
  EXPECT_GT(fault(idle_only, "fuel_pump", "weak"), 5.0 * fault(under_load, "fuel_pump", "weak"));
}

TEST(PetrolFuel, RunningNearEmptyWearsThePump) {
  const Case dry = vehicle({{"low_power", "present"}, {"fuelling", "run_near_empty"}});
  EXPECT_EQ(leading(dry, 1).at(0), "fuel_pump=weak");
}

TEST(PetrolFuel, DirtKillsAPump) {
  EXPECT_GT(fault(vehicle({{"fuel_in_tank", "stale_or_watery"}}), "fuel_pump", "weak"),
            3.0 * fault(vehicle({{"fuel_in_tank", "sound"}}), "fuel_pump", "weak"));
}

TEST(PetrolFuel, DoubtfulFuelAsksForASampleBeforeAnyGaugeIsFitted) {
  const Case current = vehicle({{"low_power", "present"}, {"fuelling", "doubtful_fuel"}});
  const Names ranking = ranked_names(current);
  for (const auto* gauge : {"fuel_pressure_at_idle", "fuel_pressure_under_load", "fuel_delivery", "injector_balance"}) {
    EXPECT_LT(place(ranking, "fuel_sample"), place(ranking, gauge)) << gauge;
  }
}

TEST(PetrolFuel, TroubleAfterRefuellingIsDoubtfulFuelOrThePurgeValve) {
  const Case doubtful = vehicle({{"fuelling", "doubtful_fuel"}, {"worse_after_refuelling", "present"}});
  EXPECT_GT(suspicion(doubtful, "fuel_in_tank"), suspicion(doubtful, "purge_valve"));
  const Case usual = vehicle({{"fuelling", "normal"}, {"worse_after_refuelling", "present"}});
  EXPECT_GT(suspicion(usual, "purge_valve"), suspicion(usual, "fuel_in_tank"));
}

TEST(PetrolFuel, AHissAtTheTankCapThatCuresItIsABlockedVent) {
  const Case current =
      vehicle({{"low_power", "present"}, {"fades_on_long_drive", "present"}, {"open_tank_cap", "hiss_and_cure"}});
  EXPECT_EQ(leading(current, 1).at(0), "tank_vent=blocked");
}

TEST(PetrolIgnition, RandomMisfireWithARoughIdleLeadsToIgnitionBeforeFuel) {
  const Case current = vehicle({{"low_power", "present"}, {"code_p0300", "present"}, {"rough_idle", "present"}});
  EXPECT_GT(suspicion_of_system(current, "ignition"), 2.0 * suspicion_of_system(current, "fuel"));
  EXPECT_EQ(leading(current, 1).at(0).substr(0, 11), "spark_plugs");
  const Names ranking = ranked_names(current);
  for (const auto* ignition : {"ignition_scope", "spark_test", "swap_coils", "look_at_plugs"}) {
    for (const auto* fuel : {"fuel_pressure_under_load", "fuel_delivery", "injector_balance", "fuel_sample"}) {
      EXPECT_LT(place(ranking, ignition), place(ranking, fuel)) << ignition << " before " << fuel;
    }
  }
}

TEST(PetrolIgnition, AMisfireInTheWetComesFromBootsAndLeads) {
  const Case current = vehicle({{"low_power", "present"}, {"misfire_felt", "present"}, {"worse_in_wet", "present"}});
  EXPECT_EQ(leading(current, 1).at(0), "plug_connections=tracking");
  const Names ranking = ranked_names(current);
  EXPECT_LT(place(ranking, "spray_water"), place(ranking, "look_at_plugs"));
}

TEST(PetrolIgnition, AMisfireThatMovesWithTheCoilIsTheCoil) {
  const Case current = vehicle({{"low_power", "present"}, {"misfire_felt", "present"}, {"swap_coils", "moves"}});
  EXPECT_GT(suspicion(current, "ignition_coil"), 0.8);
}

TEST(PetrolIgnition, AWornPlugOverstressesItsCoil) {
  EXPECT_GT(suspicion(vehicle({{"spark_plugs", "worn"}}), "ignition_coil"),
            3.0 * suspicion(vehicle({{"spark_plugs", "sound"}}), "ignition_coil"));
}

TEST(PetrolExhaust, SulphurWithTheCatalystCodeAndPoorClimbingLeadsToABackPressureTest) {
  Case current = vehicle({{"low_power", "present"}, {"poor_climbing", "present"}, {"sulphur_smell", "present"}});
  for (const std::size_t symptom : current.model().with_role(Role::symptom)) {
    const std::string& code = current.model().variable(symptom).symptom().code;
    if (!code.empty()) current.add_finding(symptom, code == "P0420" ? 1 : 0);
  }
  EXPECT_EQ(leading(current, 1).at(0), "catalyst=clogged");
  // The codes are read and entered one by one; a hand at the tail pipe costs next to nothing and may come before.
  Names skipped{"read_stored_codes", "read_freeze_frame"};
  EXPECT_EQ(ranked_names(current, RankBy::gain, skipped).at(0), "exhaust_back_pressure");
  skipped.emplace_back("feel_tail_pipe");
  EXPECT_EQ(ranked_names(current, RankBy::gain_per_cost, skipped).at(0), "exhaust_back_pressure");
}

TEST(PetrolExhaust, ARestrictionLowersManifoldVacuumAtASteady2500) {
  const Case current = vehicle({{"low_power", "present"}, {"vacuum_at_2500", "falls"}});
  const Names first = leading(current, 2);
  EXPECT_TRUE(among(first, "catalyst=clogged"));
  EXPECT_TRUE(among(first, "exhaust_pipe=crushed_or_collapsed"));
}

TEST(PetrolExhaust, ABlowFromBelowCrushesThePipe) {
  const Case current = vehicle({{"impact", "underbody"}, {"low_power", "present"}, {"poor_climbing", "present"}});
  EXPECT_EQ(leading(current, 1).at(0), "exhaust_pipe=crushed_or_collapsed");
}

TEST(PetrolExhaust, AMisfireSpoilsTheCatalyst) {
  EXPECT_GT(suspicion(vehicle({{"ignition_coil", "dead"}}), "catalyst"),
            5.0 * suspicion(vehicle({{"ignition_coil", "sound"}}), "catalyst"));
}

TEST(PetrolEngine, WithAirFuelSparkAndExhaustClearedMechanicsAndTimingLead) {
  const Case current = vehicle({{"low_power", "present"},
                                {"read_stored_codes", "none"},
                                {"look_at_air_filter", "clean"},
                                {"look_at_throttle", "clean"},
                                {"smoke_test", "tight"},
                                {"air_mass_at_idle", "normal"},
                                {"boost_on_the_road", "good"},
                                {"trims_at_idle", "normal"},
                                {"trims_at_2500", "normal"},
                                {"trims_under_load", "normal"},
                                {"fuel_pressure_under_load", "holds"},
                                {"fuel_sample", "clear"},
                                {"misfire_counters", "even"},
                                {"ignition_scope", "even"},
                                {"exhaust_back_pressure", "good"}});
  const double engine = suspicion_of_system(current, "engine");
  for (const auto* system : {"air", "fuel", "ignition", "exhaust", "sensing and control", "drag", "other"}) {
    EXPECT_GT(engine, suspicion_of_system(current, system)) << system;
  }
  for (const std::string& name : leading(current, 2)) {
    const std::string component = name.substr(0, name.find('='));
    EXPECT_EQ(current.model().variable(current.model().index_of(component)).component().system, "engine") << name;
  }
}

TEST(PetrolEngine, LowSteadyVacuumAfterWorkOnTheTimingDriveIsAToothOut) {
  const Case current =
      vehicle({{"low_power", "present"}, {"recent_work", "timing_drive"}, {"vacuum_at_idle", "low_steady"}});
  EXPECT_EQ(leading(current, 1).at(0), "valve_timing=tooth_out");
}

TEST(PetrolEngine, AFlickingVacuumNeedleAndOneLowCylinderAreAValve) {
  const Case current = vehicle({{"low_power", "present"}, {"vacuum_at_idle", "flicks"}, {"compression", "one_low"}});
  EXPECT_EQ(leading(current, 1).at(0), "valves=not_sealing");
  const Case gassing =
      vehicle({{"low_power", "present"}, {"compression", "one_low"}, {"combustion_gas_in_coolant", "yellow"}});
  EXPECT_EQ(leading(gassing, 1).at(0), "head_gasket=leaking");
}

TEST(PetrolEngine, LostCoolantCooksTheHeadGasket) {
  EXPECT_GT(suspicion(vehicle({{"cooling_system", "losing_coolant"}}), "head_gasket"),
            10.0 * suspicion(vehicle({{"cooling_system", "sound"}}), "head_gasket"));
}

TEST(PetrolDrag, AVehicleThatDoesNotCoastIsLookedAtOutsideTheEngine) {
  const Case current = vehicle({{"low_power", "present"}, {"coasts_short", "present"}});
  EXPECT_GT(suspicion_of_system(current, "drag"), suspicion_of_system(current, "engine"));
  EXPECT_GT(suspicion(current, "brakes"), 0.4);
  const Names ranking = ranked_names(current);
  EXPECT_LT(place(ranking, "wheel_temperatures"), place(ranking, "trims_under_load"));
  EXPECT_LT(place(ranking, "spin_wheels"), place(ranking, "compression"));
}

TEST(PetrolDrag, RevsThatRunAheadOfTheSpeedAreTheClutch) {
  const Case current = vehicle({{"low_power", "present"}, {"revs_without_speed", "present"}});
  EXPECT_EQ(leading(current, 1).at(0), "transmission=clutch_slipping");
}

TEST(PetrolDrag, RecentBrakeWorkOrALongRestMakesBrakesDrag) {
  const double plain = suspicion(vehicle({{"low_power", "present"}, {"recent_wheel_work", "none"}}), "brakes");
  EXPECT_GT(suspicion(vehicle({{"low_power", "present"}, {"recent_wheel_work", "brakes_or_wheels"}}), "brakes"),
            2.0 * plain);
  EXPECT_GT(suspicion(vehicle({{"low_power", "present"}, {"standing", "stood_for_weeks"}}), "brakes"), 2.0 * plain);
}

TEST(PetrolBench, ADriverWithoutToolsIsOfferedOnlyWhatTheDriverCanDo) {
  RankOptions options;
  options.effects = false;
  const Means none{.tools = std::vector<std::string>{}, .skill = "driver"};
  const Case current = vehicle({{"low_power", "present"}});
  const Ranking ranking = rank_tests(current, options, none);
  ASSERT_FALSE(ranking.tests.empty());
  for (const TestForecast& forecast : ranking.tests) {
    const Variable& test = current.model().variable(forecast.test);
    EXPECT_TRUE(test.test().work.tools.empty()) << test.name;
    EXPECT_EQ(test.test().work.skill, "driver") << test.name;
    EXPECT_TRUE(forecast.opens.empty()) << test.name;
  }
  EXPECT_FALSE(ranking.left_out.empty());
}

}  // namespace

// What a diesel mechanic expects of the low-power diesel model. Source of every expectation here: common practice, no
// source. The numbers of the model are invented; the orders and directions are the trade's.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include "decision/workbench.hpp"

namespace {

using namespace faultodds;
using support::among;
using support::Findings;

const support::Workbench& bench() {
  static const support::Workbench made("low-power-diesel.json");
  return made;
}

Case vehicle(Findings findings) { return bench().vehicle(findings); }

double suspicion(const Case& current, std::string_view component) { return bench().suspicion(current, component); }

double fault(const Case& current, std::string_view component, std::string_view state) {
  return bench().fault(current, component, state);
}

TEST(DieselBehaviour, TheComplaintAloneAccusesNobody) {
  const Case current = vehicle({{"low_power", "present"}});
  const std::string first = bench().suspects(current, 1).front();
  EXPECT_LT(suspicion(current, first), 0.15) << first;
  EXPECT_GT(suspicion(current, first), 0.03) << first;
}

TEST(DieselBehaviour, TheFirstFiveTestsAreCheapAndNeedNoDismantling) {
  const auto tests = bench().ranked(vehicle({{"low_power", "present"}}));
  ASSERT_GE(tests.size(), 40U);
  for (std::size_t i = 0; i < 5; ++i) {
    const TestForecast& forecast = tests[i];
    const std::string& name = bench().model().variable(forecast.test).name;
    EXPECT_TRUE(forecast.opens.empty()) << name;
    EXPECT_LE(forecast.minutes, 10.0) << name;
    EXPECT_LE(forecast.cost, 12.0) << name;
  }
  EXPECT_TRUE(among(bench().names(tests, 3), "read_stored_codes"));
}

TEST(DieselBehaviour, WhoOwnsNoToolsLooksAndFeels) {
  Means means;
  means.tools = {"lamp", "hand_tools"};
  means.skill = "driver";
  const Ranking ranking = rank_tests(vehicle({{"low_power", "present"}}), {}, means);
  ASSERT_GE(ranking.tests.size(), 5U);
  EXPECT_TRUE(among(bench().names(ranking.tests, 3), "look_under_bonnet"));
  EXPECT_TRUE(among(bench().names(ranking.tests, 5), "look_at_air_filter"));
  EXPECT_FALSE(among(bench().names(ranking.tests, ranking.tests.size()), "read_stored_codes"));
}

TEST(DieselBehaviour, LowBoostThatHissesIsAChargeAirLeakBeforeATurbocharger) {
  const Case current = vehicle({{"low_power", "present"}, {"code_p0299", "present"}, {"hiss_under_load", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "charge_hose");
  EXPECT_GT(suspicion(current, "charge_hose"), 5.0 * suspicion(current, "turbocharger"));
  EXPECT_GT(suspicion(current, "charge_cooler"), suspicion(current, "turbocharger"));
  const auto tests = bench().ranked(current, {}, {"read_stored_codes"});
  EXPECT_EQ(bench().place(tests, "squeeze_charge_hoses"), 0U);
  EXPECT_LT(bench().place(tests, "charge_leak_test"), bench().place(tests, "turbo_shaft"));
}

TEST(DieselBehaviour, LowBoostThatWhinesAndBurnsOilIsTheTurbocharger) {
  const Case current = vehicle(
      {{"low_power", "present"}, {"code_p0299", "present"}, {"turbo_whine", "present"}, {"blue_smoke", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "turbocharger");
  EXPECT_GT(fault(current, "turbocharger", "worn"), 10.0 * fault(current, "turbocharger", "vanes_sticking"));
}

TEST(DieselBehaviour, BlackSmokeWithTooLittleAirIsAirAndRecirculationBeforeFuel) {
  const Case current = vehicle({{"low_power", "present"}, {"black_smoke", "present"}, {"air_mass_on_road", "bad"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "egr_valve");
  EXPECT_GT(fault(current, "egr_valve", "stuck_open"), 5.0 * fault(current, "egr_valve", "stuck_closed"));
  EXPECT_GT(suspicion(current, "air_filter"), suspicion(current, "fuel_filter"));
  EXPECT_GT(bench().suspicion_of_system(current, "air"), 3.0 * bench().suspicion_of_system(current, "fuel"));
  const auto tests = bench().ranked(current);
  EXPECT_LE(bench().place(tests, "egr_command"), 1U);
  EXPECT_LT(bench().place(tests, "egr_command"), bench().place(tests, "egr_out_look"));
}

TEST(DieselBehaviour, HighDifferentialPressureIsTheParticulateFilter) {
  const Case current = vehicle({{"low_power", "present"}, {"filter_differential", "high"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "particulate_filter");
  EXPECT_GT(suspicion(current, "particulate_filter"), 0.6);
}

TEST(DieselBehaviour, ShortTripsMakeSootAndLongRoadsMakeAsh) {
  const Case town =
      vehicle({{"low_power", "present"}, {"filter_differential", "high"}, {"use", "short_trips"}, {"distance", "low"}});
  EXPECT_GT(fault(town, "particulate_filter", "soot_loaded"), 5.0 * fault(town, "particulate_filter", "ash_full"));
  const Case road =
      vehicle({{"low_power", "present"}, {"filter_differential", "high"}, {"use", "motorway"}, {"distance", "high"}});
  EXPECT_GT(fault(road, "particulate_filter", "ash_full"), fault(road, "particulate_filter", "soot_loaded"));
}

TEST(DieselBehaviour, ALukewarmHeaterExplainsAFilterThatNeverBurnsOff) {
  const Findings with_lamp = {{"low_power", "present"}, {"filter_lamp", "present"}, {"use", "short_trips"}};
  const Case lamp = vehicle(with_lamp);
  const Case cold = vehicle(
      {{"low_power", "present"}, {"filter_lamp", "present"}, {"use", "short_trips"}, {"temperature_low", "present"}});
  EXPECT_GT(suspicion(cold, "thermostat"), 5.0 * suspicion(lamp, "thermostat"));
  EXPECT_GT(suspicion(cold, "particulate_filter"), suspicion(lamp, "particulate_filter"));
}

TEST(DieselBehaviour, LowRailPressureUnderLoadWithAnOldFilterIsTheFilterFirst) {
  const Case current = vehicle({{"low_power", "present"}, {"rail_pressure_on_road", "bad"}, {"service", "overdue"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "fuel_filter");
  EXPECT_GT(suspicion(current, "fuel_filter"), 3.0 * suspicion(current, "high_pressure_pump"));
  const auto tests = bench().ranked(current);
  EXPECT_LT(bench().place(tests, "fuel_supply_pressure"), bench().place(tests, "pump_dead_head"));
  EXPECT_LT(bench().place(tests, "try_new_fuel_filter"), bench().place(tests, "pump_dead_head"));
}

TEST(DieselBehaviour, PressureAheadOfTheFilterPartsFilterFromPump) {
  const Case behind =
      vehicle({{"low_power", "present"}, {"fuel_supply_pressure", "bad"}, {"pressure_over_filter", "good"}});
  EXPECT_EQ(bench().suspects(behind, 1).front(), "fuel_filter");
  const Case both =
      vehicle({{"low_power", "present"}, {"fuel_supply_pressure", "bad"}, {"pressure_over_filter", "bad"}});
  EXPECT_EQ(bench().suspects(both, 1).front(), "lift_pump");
  EXPECT_GT(suspicion(both, "supply_line"), suspicion(both, "fuel_filter") / 2.0);
}

TEST(DieselBehaviour, GoodSupplyAndLowRailPressureMovesTheSearchToTheHighPressureSide) {
  const Case current =
      vehicle({{"low_power", "present"}, {"rail_pressure_on_road", "bad"}, {"fuel_supply_pressure", "good"}});
  const auto leaders = bench().suspects(current, 4);
  for (const char* name : {"rail_regulator", "injectors", "metering_valve", "high_pressure_pump"}) {
    EXPECT_TRUE(among(leaders, name)) << name;
  }
}

TEST(DieselBehaviour, FrostOnlyIsWaxInTheFilter) {
  const Case current = vehicle({{"low_power", "present"}, {"weather", "frost"}, {"only_cold_weather", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "fuel_filter");
  EXPECT_GT(fault(current, "fuel_filter", "waxed"), 10.0 * fault(current, "fuel_filter", "clogged"));
  EXPECT_DOUBLE_EQ(fault(vehicle({{"low_power", "present"}, {"weather", "mild"}}), "fuel_filter", "waxed"), 0.0);
}

TEST(DieselBehaviour, LongCrankingAfterFuelWorkIsAirInTheLine) {
  const Case current = vehicle({{"low_power", "present"}, {"recent_work", "fuel_work"}, {"long_cranking", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "supply_line");
  EXPECT_GT(fault(current, "supply_line", "drawing_air"), 3.0 * fault(current, "supply_line", "pinched"));
  const auto tests = bench().ranked(current, {"supply_line", "injectors", "high_pressure_pump", "rail_regulator"});
  EXPECT_LT(bench().place(tests, "bubbles_in_line"), bench().place(tests, "injector_leak_off"));
  EXPECT_LT(bench().place(tests, "bubbles_in_line"), bench().place(tests, "pump_dead_head"));
}

TEST(DieselBehaviour, NoBreathOnTopAfterAKnockIsAPinchedLine) {
  const Case current =
      vehicle({{"low_power", "present"}, {"recent_work", "underfloor_knock"}, {"weak_on_top", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "supply_line");
  EXPECT_GT(fault(current, "supply_line", "pinched"), 5.0 * fault(current, "supply_line", "drawing_air"));
}

TEST(DieselBehaviour, LimpModeWithTooMuchBoostIsStuckVanes) {
  const Case current = vehicle({{"low_power", "present"}, {"limp_mode", "present"}, {"code_p0234", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "turbocharger");
  EXPECT_GT(fault(current, "turbocharger", "vanes_sticking"), 10.0 * fault(current, "turbocharger", "worn"));
  EXPECT_EQ(bench().suspects(current, 2).back(), "boost_actuator");
}

TEST(DieselBehaviour, LimpModeSpeaksAgainstPlainClogging) {
  const Case slow = vehicle({{"low_power", "present"}});
  const Case limp = vehicle({{"low_power", "present"}, {"limp_mode", "present"}});
  EXPECT_LT(suspicion(limp, "air_filter"), suspicion(slow, "air_filter"));
  EXPECT_LT(suspicion(limp, "clutch"), suspicion(slow, "clutch"));
  EXPECT_GT(suspicion(limp, "turbocharger"), suspicion(slow, "turbocharger"));
  EXPECT_GT(suspicion(limp, "pedal_sensor"), suspicion(slow, "pedal_sensor"));
}

TEST(DieselBehaviour, RacingWithoutSpeedIsTheClutchAndNotTheEngine) {
  const Case current = vehicle({{"low_power", "present"}, {"revs_without_speed", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "clutch");
  EXPECT_LE(bench().place(bench().ranked(current, {}, {"read_stored_codes"}), "clutch_pull"), 1U);
}

TEST(DieselBehaviour, PetrolInTheTankIsFoundBySampleBeforeAnythingIsTakenApart) {
  const Case current = vehicle({{"low_power", "present"}, {"fuel_history", "petrol_added"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "tank_fuel");
  const auto tests = bench().ranked(current, {"tank_fuel", "high_pressure_pump"});
  EXPECT_EQ(bench().place(tests, "fuel_sample"), 0U);
  const Case proved =
      vehicle({{"low_power", "present"}, {"fuel_history", "petrol_added"}, {"fuel_sample", "petrol_smell"}});
  EXPECT_GT(suspicion(proved, "high_pressure_pump"),
            3.0 * suspicion(vehicle({{"low_power", "present"}}), "high_pressure_pump"));
}

TEST(DieselBehaviour, ALookProvesLittleAndAMeasurementMuch) {
  const double before = suspicion(vehicle({{"low_power", "present"}, {"hiss_under_load", "present"}}), "charge_hose");
  const double looked =
      suspicion(vehicle({{"low_power", "present"}, {"hiss_under_load", "present"}, {"look_under_bonnet", "good"}}),
                "charge_hose");
  const double measured = suspicion(
      vehicle({{"low_power", "present"}, {"hiss_under_load", "present"}, {"charge_leak_test", "good"}}), "charge_hose");
  EXPECT_LT(looked, before);
  EXPECT_GT(looked, 0.5 * before);
  EXPECT_LT(measured, 0.2 * before);
}

TEST(DieselBehaviour, ACodeOfTheAirMassCanMislead) {
  const Case current = vehicle({{"low_power", "present"}, {"code_p0101", "present"}});
  EXPECT_LT(suspicion(current, "air_mass_sensor"), 0.6);
  EXPECT_GT(suspicion(current, "air_mass_sensor"), 0.2);
  EXPECT_TRUE(among(bench().suspects(current, 3), "egr_valve"));
}

TEST(DieselBehaviour, ADeadCylinderPointsToTheInjectorBeforeCompression) {
  const Case current = vehicle(
      {{"low_power", "present"}, {"rough_idle", "present"}, {"white_smoke", "present"}, {"engine_lamp", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "injectors");
  EXPECT_GT(suspicion(current, "compression"), suspicion(current, "turbocharger"));
  const auto tests = bench().ranked(current, {"injectors", "compression"});
  EXPECT_EQ(bench().place(tests, "injector_corrections"), 0U);
  EXPECT_LT(bench().place(tests, "cranking_current"), bench().place(tests, "compression_gauge"));
}

TEST(DieselBehaviour, WithAirFuelAndExhaustClearedMechanicsControlAndDragLead) {
  const Case current = vehicle({{"low_power", "present"},
                                {"read_stored_codes", "none"},
                                {"boost_on_road", "good"},
                                {"rail_pressure_on_road", "good"},
                                {"air_mass_on_road", "good"},
                                {"filter_differential", "good"},
                                {"injector_corrections", "good"},
                                {"fuel_sample", "clear"}});
  const auto leaders = bench().suspects(current, 4);
  EXPECT_TRUE(among(leaders, "clutch"));
  EXPECT_TRUE(among(leaders, "brakes"));
  EXPECT_TRUE(among(leaders, "other_fault"));
}

}  // namespace

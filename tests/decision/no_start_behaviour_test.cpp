// What a mechanic expects of the model of a petrol engine that cranks and does not start. Source of every expectation
// here: common practice, no source. The numbers of the model are invented; the orders and directions are the trade's.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>

#include "decision/workbench.hpp"
#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/ranking/preconditions.hpp"

namespace {

using namespace faultodds;
using support::among;
using support::Findings;

const support::Workbench& bench() {
  static const support::Workbench made("no-start-petrol.json");
  return made;
}

Case vehicle(Findings findings) { return bench().vehicle(findings); }

double suspicion(const Case& current, std::string_view component) { return bench().suspicion(current, component); }

double fault(const Case& current, std::string_view component, std::string_view state) {
  return bench().fault(current, component, state);
}

std::size_t repair(std::string_view name) {
  const std::vector<Repair>& all = bench().model().parts().repairs;
  const auto at = std::find_if(all.begin(), all.end(), [&](const Repair& one) { return one.name == name; });
  return static_cast<std::size_t>(at - all.begin());
}

TEST(NoStartBehaviour, TheComplaintAloneAccusesNobody) {
  const Case current = vehicle({{"no_start", "present"}});
  const std::string first = bench().suspects(current, 1).front();
  EXPECT_LT(suspicion(current, first), 0.15) << first;
  EXPECT_GT(suspicion(current, first), 0.03) << first;
}

TEST(NoStartBehaviour, TheFirstFiveTestsAreCheapAndNeedNoDismantling) {
  const auto tests = bench().ranked(vehicle({{"no_start", "present"}}));
  ASSERT_GE(tests.size(), 35U);
  for (std::size_t i = 0; i < 5; ++i) {
    const TestForecast& forecast = tests[i];
    const std::string& name = bench().model().variable(forecast.test).name;
    EXPECT_TRUE(forecast.opens.empty()) << name;
    EXPECT_LE(forecast.minutes, 5.0) << name;
    EXPECT_LE(forecast.cost, 6.0) << name;
  }
  const auto first = bench().names(tests, 5);
  EXPECT_TRUE(among(first, "listen_for_pump"));
  EXPECT_TRUE(among(first, "listen_to_cranking"));
  EXPECT_TRUE(among(first, "gauge_and_last_filling"));
  EXPECT_LE(bench().place(tests, "read_stored_codes"), 6U);
}

TEST(NoStartBehaviour, AnEmptyTankIsAskedForBeforeThePumpIsReached) {
  const Case current = vehicle({{"no_start", "present"}, {"fuel_history", "ran_low"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "tank_level");
  const auto tests = bench().ranked(current);
  EXPECT_LE(bench().place(tests, "gauge_and_last_filling"), 2U);
  EXPECT_LT(bench().place(tests, "gauge_and_last_filling"), bench().place(tests, "pour_in_five_litres"));
  EXPECT_LT(bench().place(tests, "pour_in_five_litres"), bench().place(tests, "pump_supply"));
  EXPECT_EQ(bench().place(bench().ranked(current, {"tank_level"}), "gauge_and_last_filling"), 0U);
}

TEST(NoStartBehaviour, ASilentPumpWithoutFuelSmellIsPumpRelayFuseOrInertiaSwitch) {
  const Case current = vehicle({{"no_start", "present"}, {"no_fuel_smell", "present"}, {"listen_for_pump", "bad"}});
  const auto leaders = bench().suspects(current, 4);
  for (const char* name : {"fuel_pump", "pump_relay", "pump_fuse", "inertia_switch"}) {
    EXPECT_TRUE(among(leaders, name)) << name;
  }
  EXPECT_LT(suspicion(current, "tank_level"), suspicion(vehicle({{"no_start", "present"}}), "tank_level"));
  EXPECT_LT(suspicion(current, "coil_pack"), 0.02);
  const auto tests = bench().ranked(current);
  EXPECT_LT(bench().place(tests, "look_at_inertia_switch"), bench().place(tests, "pump_supply"));
  EXPECT_LT(bench().place(tests, "test_fuses"), bench().place(tests, "pump_supply"));
  EXPECT_LT(bench().place(tests, "feel_relays"), bench().place(tests, "pump_supply"));
}

TEST(NoStartBehaviour, VoltageAtASilentPumpCondemnsThePump) {
  const Findings silent = {{"no_start", "present"}, {"listen_for_pump", "bad"}};
  const Case fed = vehicle({{"no_start", "present"}, {"listen_for_pump", "bad"}, {"pump_supply", "good"}});
  const Case unfed = vehicle({{"no_start", "present"}, {"listen_for_pump", "bad"}, {"pump_supply", "bad"}});
  EXPECT_EQ(bench().suspects(fed, 1).front(), "fuel_pump");
  EXPECT_GT(suspicion(fed, "fuel_pump"), 5.0 * suspicion(fed, bench().suspects(fed, 2).back()));
  EXPECT_LT(suspicion(unfed, "fuel_pump"), 0.5 * suspicion(vehicle(silent), "fuel_pump"));
}

TEST(NoStartBehaviour, AKnockBeforeASilentPumpIsTheInertiaSwitch) {
  const Case current = vehicle({{"no_start", "present"}, {"recent_work", "knock"}, {"listen_for_pump", "bad"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "inertia_switch");
  EXPECT_EQ(bench().place(bench().ranked(current), "look_at_inertia_switch"), 0U);
}

TEST(NoStartBehaviour, NoEngineSpeedOnTheScanToolIsTheCrankshaftSensor) {
  const Case current = vehicle({{"no_start", "present"}, {"rpm_while_cranking", "bad"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "crank_sensor");
  EXPECT_EQ(bench().suspects(current, 2).back(), "main_relay");
  EXPECT_LT(suspicion(vehicle({{"no_start", "present"}, {"rpm_while_cranking", "good"}}), "crank_sensor"), 0.01);
}

TEST(NoStartBehaviour, NoEngineSpeedAndADarkLampIsTheFeedOfTheControlUnit) {
  const Case current =
      vehicle({{"no_start", "present"}, {"rpm_while_cranking", "bad"}, {"engine_lamp_dark", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "main_relay");
  EXPECT_GT(suspicion(current, "control_fuse"), suspicion(current, "crank_sensor"));
  EXPECT_GT(suspicion(current, "main_relay"), suspicion(current, "control_unit"));
  const auto tests = bench().ranked(current);
  EXPECT_LT(bench().place(tests, "test_fuses"), bench().place(tests, "control_unit_feeds"));
}

TEST(NoStartBehaviour, DiesHotAndStartsColdIsTheCrankshaftSensorFirst) {
  const Case current =
      vehicle({{"no_start", "present"}, {"only_when_hot", "present"}, {"died_on_the_road", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "crank_sensor");
  const auto leaders = bench().suspects(current, 4);
  EXPECT_TRUE(among(leaders, "coil_pack"));
  EXPECT_TRUE(among(leaders, "pump_relay"));
}

TEST(NoStartBehaviour, WetPlugsWithoutSparkAreIgnition) {
  const Case current = vehicle({{"no_start", "present"}, {"spark_test", "bad"}, {"look_at_plugs", "wet"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "coil_pack");
  EXPECT_GT(bench().suspicion_of_system(current, "ignition"), 5.0 * bench().suspicion_of_system(current, "fuel"));
  const auto tests = bench().ranked(current, {"coil_pack", "coil_feed", "ignition_leads"});
  EXPECT_EQ(bench().place(tests, "coil_supply"), 0U);
}

TEST(NoStartBehaviour, WetPlugsWithSparkAreFlooding) {
  const Case current = vehicle({{"no_start", "present"}, {"spark_test", "good"}, {"look_at_plugs", "wet"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "cylinders_wet");
}

TEST(NoStartBehaviour, DryPlugsWithSparkAreFuel) {
  const Case current = vehicle({{"no_start", "present"}, {"spark_test", "good"}, {"look_at_plugs", "dry"}});
  EXPECT_GT(bench().suspicion_of_system(current, "fuel"), 5.0 * bench().suspicion_of_system(current, "ignition"));
  EXPECT_EQ(bench().model().variable(bench().model().index_of(bench().suspects(current, 1).front())).component().system,
            "fuel");
}

TEST(NoStartBehaviour, AFlashingImmobiliserLampIsTheKey) {
  const Case current = vehicle({{"no_start", "present"}, {"look_at_immobiliser_lamp", "bad"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "immobiliser");
  EXPECT_GT(suspicion(current, "immobiliser"), 0.7);
  const auto tests = bench().ranked(current, {"immobiliser"});
  EXPECT_LE(bench().place(tests, "second_key"), 1U);
  EXPECT_LT(bench().place(tests, "second_key"), bench().place(tests, "control_unit_talks"));
}

TEST(NoStartBehaviour, KeyWorkPointsToTheImmobiliser) {
  const Case current = vehicle({{"no_start", "present"}, {"recent_work", "key_or_battery_work"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "immobiliser");
}

TEST(NoStartBehaviour, WhirringIsTheTimingBeltAndTheSearchStopsCranking) {
  const Case current = vehicle({{"no_start", "present"}, {"listen_to_cranking", "whirring"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "timing_belt");
  EXPECT_GT(fault(current, "timing_belt", "broken"), fault(current, "timing_belt", "jumped"));
  EXPECT_GT(suspicion(current, "compression"), 10.0 * suspicion(vehicle({{"no_start", "present"}}), "compression"));
  const auto tests = bench().ranked(current, {"timing_belt", "compression"});
  EXPECT_EQ(bench().place(tests, "watch_camshaft"), 0U);
  EXPECT_LT(bench().place(tests, "belt_look"), bench().place(tests, "compression_gauge"));
  const auto& cautions = bench().model().variable(bench().model().index_of("watch_camshaft")).test().work.cautions;
  EXPECT_TRUE(among(cautions, "no_more_cranking"));
}

TEST(NoStartBehaviour, WithANewBeltAnEngineThatStartsHasNoBentValves) {
  const Case before = vehicle({{"died_on_the_road", "present"}, {"listen_to_cranking", "whirring"}});
  EXPECT_GT(fault(before, "compression", "bent"), 0.3);
  Repaired after = after_repair(before, repair("renew_timing_belt"));
  after.current.add_finding(after.check, std::size_t{0});
  EXPECT_LT(fault(after.current, "compression", "bent"), 0.1);
}

TEST(NoStartBehaviour, WithANewBeltAnEngineThatStaysDeadHasBentValvesAndCompressionProvesThem) {
  const Case before = vehicle({{"died_on_the_road", "present"}, {"listen_to_cranking", "whirring"}});
  Repaired after = after_repair(before, repair("renew_timing_belt"));
  after.current.add_finding(after.check, std::size_t{1});
  EXPECT_GT(fault(after.current, "compression", "bent"), 0.8);
  EXPECT_EQ(unmet_preconditions(after.current, bench().model().index_of("compression_gauge")),
            "");  // the new belt holds
  Case tight = after.current;
  tight.add_finding("compression_gauge", "good");
  EXPECT_LT(fault(tight, "compression", "bent"), 0.5);
  after.current.add_finding("compression_gauge", "bad");
  EXPECT_GT(fault(after.current, "compression", "bent"), 0.95);
}

TEST(NoStartBehaviour, NobodyCranksOnForATestOnceTheEngineWhirrs) {
  const FaultModel& model = bench().model();
  const Case whirring = vehicle({{"no_start", "present"}, {"listen_to_cranking", "whirring"}});
  std::size_t cranking = 0;
  for (const std::size_t test : model.with_role(Role::test)) {
    const Variable& variable = model.variable(test);
    if (!among(as_test(variable).work.cautions, "no_more_cranking") || variable.name == "listen_to_cranking") continue;
    ++cranking;  // seeing whether the camshaft turns takes a touch of the starter, and settles it
    EXPECT_EQ(is_ruled_out(whirring, test), variable.name != "watch_camshaft") << variable.name;
    EXPECT_EQ(unmet_preconditions(vehicle({{"no_start", "present"}}), test), "") << variable.name;
  }
  EXPECT_GT(cranking, 10U);
}

TEST(NoStartBehaviour, KickingBackAfterBeltWorkIsABeltAToothOut) {
  const Case current = vehicle({{"no_start", "present"}, {"recent_work", "belt_work"}, {"backfires", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "timing_belt");
  EXPECT_GT(fault(current, "timing_belt", "jumped"), 5.0 * fault(current, "timing_belt", "broken"));
}

TEST(NoStartBehaviour, OnlyInTheWetIsTrackingOfTheLeads) {
  const Case current = vehicle({{"no_start", "present"}, {"weather", "wet"}, {"only_in_wet", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "ignition_leads");
  EXPECT_EQ(bench().place(bench().ranked(current, {"ignition_leads", "coil_pack"}), "water_spray"), 0U);
}

TEST(NoStartBehaviour, MovedColdAndBrieflyIsFlooding) {
  const Case current = vehicle(
      {{"no_start", "present"}, {"last_run", "moved_briefly"}, {"weather", "frost"}, {"strong_fuel_smell", "present"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "cylinders_wet");
  EXPECT_EQ(bench().place(bench().ranked(current, {"cylinders_wet"}), "clear_flood"), 0U);
}

TEST(NoStartBehaviour, SlowCrankingAfterWeeksIsTheBattery) {
  const Case current = vehicle({{"no_start", "present"}, {"stood", "weeks"}, {"listen_to_cranking", "slow"}});
  EXPECT_EQ(bench().suspects(current, 1).front(), "battery");
  EXPECT_GT(suspicion(current, "battery"), 5.0 * suspicion(current, "starter"));
}

TEST(NoStartBehaviour, WithSparkFuelAndPulseProvedMechanicsAndMixtureRemain) {
  const Case current = vehicle({{"no_start", "present"},
                                {"listen_for_pump", "good"},
                                {"spark_test", "good"},
                                {"injector_pulse", "good"},
                                {"fuel_pressure", "good"}});
  for (const char* name :
       {"coil_pack", "crank_sensor", "fuel_pump", "pump_relay", "immobiliser", "main_relay", "tank_level"}) {
    EXPECT_LT(suspicion(current, name), 0.03) << name;
  }
  for (const char* name : {"cylinders_wet", "timing_belt", "compression"}) {
    EXPECT_GT(suspicion(current, name), suspicion(vehicle({{"no_start", "present"}}), name)) << name;
  }
  EXPECT_GT(suspicion(current, "other_fault"), suspicion(vehicle({{"no_start", "present"}}), "other_fault"));
}

}  // namespace

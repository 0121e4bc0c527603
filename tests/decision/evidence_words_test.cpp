// What is said at the bench of weights, conflicts and contrasts. Numbers worked out by hand beside each.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/evidence/evidence_words.hpp"

#include <gtest/gtest.h>

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "support/build.hpp"

namespace {

using namespace faultodds;
using support::Builder;

void add(Case& current, std::initializer_list<std::pair<const char*, const char*>> findings) {
  for (const auto& [variable, state] : findings) current.add_finding(variable, state);
}

/// A pump that runs for certain only when it is sound, with a pressure and a noise.
FaultModel pump_model() {
  Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  b.variable("pressure", {"good", "low"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.2},
             Test{});
  b.variable("noise", {"usual", "loud"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.2},
             Test{});
  b.variable("runs", {"no", "yes"}, {pump}, {0.1, 0.9, 1.0, 0.0}, Test{});
  const std::size_t belt = b.component("belt", 0.2);
  b.variable("squeal", {"no", "yes"}, Examination{.component = belt, .detection = {0.5}, .false_alarm = 0.1},
             Symptom{});
  return b.model();
}

std::string why(const Case& current) {
  return explain_in_words(current, weigh_evidence(current, not_sound(current.model(), 0)));
}

// Odds 1/9, times 4.5 for the low pressure, times 1/8 for the usual noise: 1/16, so 5.9 %; 1/72 or 1/2 without the one
// or the other.
TEST(EvidenceWords, SayWhatSpeaksForAndAgainst) {
  Case current{Solver(pump_model())};
  EXPECT_EQ(why(current), "pump: faulty has a probability of 10 %; nothing has been found yet.");
  add(current, {{"pressure", "low"}, {"squeal", "yes"}, {"noise", "usual"}});
  EXPECT_EQ(why(current),
            "pump: faulty has a probability of 5.9 %; before anything was found it was 10 %. For it: \"pressure: low\" "
            "(without it 1.4 %). Against it: \"noise: usual\" (without it 33 %). One other finding hardly matters.");
}

// Odds 1/9 times 4.5 for a loud noise are 1/2.
TEST(EvidenceWords, SayWhatRulesOut) {
  Case current{Solver(pump_model())};
  add(current, {{"runs", "yes"}, {"noise", "loud"}});
  EXPECT_EQ(why(current),
            "pump: faulty is ruled out; before anything was found its probability was 10 %. Against it: \"runs: yes\" "
            "(without it 33 %). One other finding hardly matters.");
}

// Two looks at the same broken part: either says all, none would be missed.
TEST(EvidenceWords, SayThatSeveralFindingsSayTheSame) {
  Builder b;
  const std::size_t fuse = b.component("fuse", 0.25);
  const std::size_t power = b.variable("power", {"there", "missing"}, {fuse}, {0.9, 0.1, 0.0, 1.0}, Hidden{});
  b.variable("lamp", {"lit", "dark"}, {power}, {1.0, 0.0, 0.0, 1.0}, faultodds::Test{});
  b.variable("buzzer", {"loud", "mute"}, {power}, {1.0, 0.0, 0.0, 1.0}, faultodds::Test{});
  Case current{Solver(b.model())};
  add(current, {{"lamp", "dark"}, {"buzzer", "mute"}});
  EXPECT_EQ(why(current),  // odds 1/3 times 1 / 0.1
            "fuse: faulty has a probability of 77 %; before anything was found it was 25 %. Several findings say the "
            "same, so that none alone would be missed; \"lamp: dark\" by itself would put it at 77 %.");
}

TEST(EvidenceWords, SayNothingOfConflictWhereThereIsNone) {
  Case current{Solver(pump_model())};
  EXPECT_EQ(explain_in_words(current, conflict(current)), "");
  add(current, {{"pressure", "low"}, {"noise", "loud"}});
  EXPECT_EQ(explain_in_words(current, conflict(current)), "");
}

// Low pressure and good flow contradict each other but for a dead sensor, which has a probability of 1 in 1000.
TEST(EvidenceWords, NameWhatFitsWorstAndTheRareFault) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  const std::size_t sensor = b.component("sensor", 0.001);
  b.variable("pressure", {"good", "low"}, {pump, sensor}, {0.999, 0.001, 0.01, 0.99, 0.05, 0.95, 0.01, 0.99},
             faultodds::Test{});
  b.variable("flow", {"good", "low"}, Examination{.component = pump, .detection = {0.99}, .false_alarm = 0.02},
             faultodds::Test{});
  Case current{Solver(b.model())};
  add(current, {{"pressure", "low"}, {"flow", "good"}});
  // P(low) = 0.9 (0.999 * 0.001 + 0.001 * 0.99) + 0.1 (0.999 * 0.95 + 0.001 * 0.99) = 0.0967941, P(good) = 0.883;
  // together 0.9 * 0.98 * 0.001989 + 0.1 * 0.01 * 0.950040 = 0.00270434: 31.6 times less than their product.
  EXPECT_EQ(explain_in_words(current, conflict(current)),
            "The findings do not fit together: if they were unrelated, they would occur together 32 times as often. "
            "The worst fit is \"pressure: low\": check that again. Otherwise a rare fault would explain it: sensor: "
            "faulty.");
}

TEST(EvidenceWords, SayWhatATestTellsApart) {
  Builder b;
  const std::size_t fault =
      b.variable("fault", {"none", "pump", "filter", "sensor"}, {}, {0.7, 0.1, 0.1, 0.1}, Component{});
  const std::size_t test =
      b.variable("pressure", {"good", "low"}, {fault}, {0.9, 0.1, 0.1, 0.9, 0.1, 0.9, 0.8, 0.2}, faultodds::Test{});
  const FaultModel model = b.model();
  const Case current{Solver(model)};
  const std::vector<FaultProbability> faults = {{.component = fault, .state = 1, .probability = 0.0},
                                                {.component = fault, .state = 2, .probability = 0.0},
                                                {.component = fault, .state = 3, .probability = 0.0}};
  EXPECT_EQ(explain_in_words(model, contrast(current, test, faults)),
            "pressure best tells fault: pump from fault: sensor: \"good\" is expected in 10 % of cases with the "
            "one and 80 % with the other. It does not tell fault: pump from fault: filter.");
}

TEST(EvidenceWords, NameClaimsAndFindings) {
  Builder b;
  const std::size_t pump = b.variable("pump", {"sound", "worn", "dead"}, {}, {0.8, 0.1, 0.1}, Component{});
  const FaultModel model = b.model();
  EXPECT_EQ(claim_in_words(model, not_sound(model, pump)), "pump: any fault");
  EXPECT_EQ(claim_in_words(model, {pump, {1}}), "pump: worn");
  EXPECT_EQ(claim_in_words(model, {pump, {0, 1}}), "pump: sound or worn");
  EXPECT_EQ(finding_in_words(model, {pump, {0.0, 1.0, 1.0}, std::nullopt}), "pump: worn or dead");
  EXPECT_EQ(finding_in_words(model, {pump, {1.0, 0.5, 2.0}, std::nullopt}),
            "pump: weighed, sound 0.5, worn 0.25, dead 1");
}

}  // namespace

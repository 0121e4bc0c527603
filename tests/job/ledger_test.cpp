// The ledger of a job against sums worked out by hand: set-ups paid once, each entry as it was at the time.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/job/ledger.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <string>
#include <vector>

#include "faultodds/job/job.hpp"
#include "job/workshop.hpp"

namespace {

using namespace faultodds;
using Names = std::vector<std::string>;

TEST(Ledger, SetUpsArePaidOnce) {
  Job job(support::workshop());
  job.add_finding("puddle", "present");
  job.add_finding("leak", "good");   // 7 of its own, lift 8, undertray 11 and 3 EUR, hot 13 and 2 EUR
  job.add_finding("level", "good");  // 2 of its own, cold 1, 0.50 EUR and 120 of waiting
  const Ledger ledger = job.ledger();
  ASSERT_EQ(ledger.lines.size(), 2U) << "a symptom costs nothing and has no line";
  EXPECT_EQ(ledger.lines[0].entry, 1U);
  EXPECT_EQ(ledger.lines[0].charge.minutes, 7.0 + 8.0 + 11.0 + 13.0);
  EXPECT_EQ(ledger.lines[0].charge.money, 5.0);
  EXPECT_EQ(ledger.lines[0].charge.labour, 39.0);
  EXPECT_EQ(ledger.lines[0].charge.opens, (Names{"lift", "undertray"}));
  EXPECT_EQ(ledger.lines[0].charge.brings, Names{"hot"});
  EXPECT_EQ(ledger.lines[1].charge.minutes, 3.0);
  EXPECT_EQ(ledger.lines[1].charge.wait_minutes, 120.0);
  EXPECT_EQ(ledger.lines[1].charge.cost(), 3.5);
  EXPECT_EQ(ledger.in_place, (InPlace{{"lift", "undertray"}, {"in_bay", "cold"}}));
  EXPECT_EQ(ledger.total.cost(), 39.0 + 5.0 + 3.5);
  EXPECT_EQ(ledger.time(), 39.0 + 3.0 + 120.0);
}

TEST(Ledger, RepairChecksAndHandOverHaveLinesOfTheirOwn) {
  Job job(support::workshop());
  job.add_finding("leak", "good");                           // 39 min, 5 EUR
  job.add_finding("level", "good");                          // 3 min, 120 waiting, 0.50 EUR; the engine is cold
  job.add_repair("replace_pump", CheckResult::still_there);  // 30 min, 100 EUR: the undertray is off
  job.hand_over("shop");                                     // 200 EUR, 1440 waiting
  const Ledger ledger = job.ledger();
  ASSERT_EQ(ledger.lines.size(), 5U);
  EXPECT_EQ(ledger.lines[2].charge.minutes, 30.0);
  EXPECT_EQ(ledger.lines[2].charge.money, 100.0);
  EXPECT_TRUE(ledger.lines[2].charge.opens.empty());
  EXPECT_FALSE(ledger.lines[2].is_check);
  EXPECT_TRUE(ledger.lines[3].is_check) << "5 of its own, hot again 13 and 2 EUR";
  EXPECT_EQ(ledger.lines[3].entry, 2U);
  EXPECT_EQ(ledger.lines[3].charge.minutes, 18.0);
  EXPECT_EQ(ledger.lines[3].charge.wait_minutes, 10.0);
  EXPECT_EQ(ledger.lines[3].charge.money, 2.0);
  EXPECT_EQ(ledger.lines[4].charge.money, 200.0);
  EXPECT_EQ(ledger.total.minutes, 39.0 + 3.0 + 30.0 + 18.0);
  EXPECT_EQ(ledger.total.wait_minutes, 120.0 + 10.0 + 1440.0);
  EXPECT_EQ(ledger.total.money, 5.0 + 0.5 + 100.0 + 2.0 + 200.0);
  EXPECT_EQ(ledger.total.labour, 90.0);
  EXPECT_EQ(ledger.money, 30750);
  EXPECT_EQ(ledger.labour, 9000);
  EXPECT_EQ(ledger.cost(), 39750);
}

TEST(Ledger, WhatARepairOpensIsOpenForTheTestsAfterIt) {
  Job job(support::workshop());
  job.add_repair("replace_hose");  // 17, lift 8, undertray 11
  EXPECT_EQ(job.ledger().total.minutes, 36.0);
  EXPECT_EQ(job.ledger().lines.size(), 1U) << "it was not checked";
  EXPECT_EQ(job.means_now().conditions, job.ledger().in_place.conditions);
  EXPECT_EQ(job.means_now().open_access, (Names{"lift", "undertray"}));
  job.add_finding("leak", "good");  // 7, hot 13
  EXPECT_EQ(job.ledger().lines.back().charge.minutes, 20.0);
}

TEST(Ledger, WhatIsInPlaceAtTheStartAndWhatIsSeenLaterCostsNothing) {
  JobOptions options;
  options.means.open_access = {"lift"};
  Job job(support::workshop(), options);
  job.add_in_place({{"undertray"}, {"hot"}});
  EXPECT_TRUE(job.ledger().lines.empty());
  job.add_finding("leak", "good");
  EXPECT_EQ(job.ledger().total.minutes, 7.0);
  EXPECT_THROW(job.add_in_place({{"bonnet"}, {}}), UnknownName);
  EXPECT_THROW(job.add_in_place({{}, {"lukewarm"}}), UnknownName);
}

TEST(Ledger, DeclinedTestsAndLooksAreNotCharged) {
  Job job(support::workshop());
  job.decline("pressure", "no gauge");
  job.add_finding("hose", "faulty");
  EXPECT_TRUE(job.ledger().lines.empty());
  EXPECT_EQ(job.entries()[1].what.index(), EntryKind(PartEntry{}).index());
}

TEST(Ledger, ChargesStayAsTheyWereAtTheTime) {
  Job job(support::workshop());
  job.add_finding("pressure", "low");  // 6 min at 60 an hour, 1 EUR
  JobOptions dearer = job.options();
  dearer.means.labour_rate = 120.0;
  job.set_options(dearer);
  EXPECT_EQ(job.ledger().total.cost(), 7.0);
  job.add_finding("read_codes", "none");  // 4 min at 120 an hour
  EXPECT_EQ(job.ledger().total.cost(), 7.0 + 8.0);
}

TEST(Ledger, BudgetAndDeadlineAreWhatIsLeftOfThem) {
  JobOptions options;
  options.limits = {10.0, 60.0};
  options.means.max_cost = 8.0;
  Job job(support::workshop(), options);
  EXPECT_EQ(job.ledger().money_left, 10.0);
  EXPECT_EQ(job.means_now().max_cost, 8.0) << "the limit of one step is the lower one";
  job.add_finding("pressure", "low");  // 7 EUR, 6 min
  EXPECT_EQ(job.ledger().money_left, 3.0);
  EXPECT_EQ(job.ledger().minutes_left, 54.0);
  EXPECT_EQ(job.means_now().max_cost, 3.0);
  EXPECT_EQ(job.means_now().max_minutes, 54.0);
  job.add_finding("leak", "good");  // 44 EUR, 39 min: more than there is
  EXPECT_EQ(job.ledger().money_left, 0.0);
  EXPECT_EQ(job.ledger().minutes_left, 15.0);
  job.undo_to(0);
  EXPECT_EQ(job.ledger().money_left, 10.0);
}

TEST(Ledger, LinesAreRoundedToTheCentAndSummed) {
  std::vector<Entry> entries(3, Entry{HandOverEntry{0}, {}});
  for (Entry& entry : entries) entry.charge.money = 0.335;
  const Ledger ledger = ledger_of(support::workshop(), entries, {});
  EXPECT_EQ(ledger.money, 3 * 34) << "each line half up, so that the bill adds up";
  EXPECT_NEAR(ledger.total.money, 1.005, 1e-15);
}

TEST(Ledger, RefusesAmountsThatAreNone) {
  const FaultModel model = support::workshop();
  std::vector<Entry> entries(1, Entry{HandOverEntry{0}, {}});
  entries[0].charge.money = -1.0;
  EXPECT_THROW(static_cast<void>(ledger_of(model, entries, {})), ArgumentError);
  entries[0].charge.money = 0.0;
  entries[0].charge.minutes = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(static_cast<void>(ledger_of(model, entries, {})), ArgumentError);
  EXPECT_THROW(static_cast<void>(ledger_of(model, {}, {}, {-1.0, {}})), ArgumentError);
}

}  // namespace

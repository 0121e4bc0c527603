// The report of a job as data: what was done and what it cost, line by line as in the ledger; what is concluded.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/job/report_data.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "faultodds/report/job_report.hpp"
#include "job/workshop.hpp"

namespace {

using namespace faultodds;
using support::long_job;
using Names = std::vector<std::string>;

template <class Named>
Names labels_of(const std::vector<Named>& all) {
  Names labels;
  for (const Named& one : all) labels.push_back(one.label);
  return labels;
}

TEST(ReportOfJob, TellsFactsAndComplaintFromWhatWasDone) {
  JobOptions options;
  options.about = {{"Order", "4711"}};
  const JobReport report = report_of(long_job(options));
  EXPECT_EQ(report.title, "Leaks");
  EXPECT_EQ(report.version, "3");
  EXPECT_TRUE(report.invented);
  EXPECT_EQ(report.labour_rate, 60.0);
  EXPECT_EQ(report.about, options.about);
  EXPECT_EQ(report.vehicle, (std::vector<JobFact>{{"layout", "vee"}}));
  EXPECT_EQ(report.complaint, (std::vector<JobFact>{{"puddle", "present"}, {"hose", "faulty"}}));
  EXPECT_EQ(labels_of(report.steps),
            (Names{"read the codes", "pressure", "look for leaks", "replace the pump", "is it dry?", "replace the hose",
                   "is it dry?", "handed over to The leak shop"}));
}

TEST(ReportOfJob, StepsAreTheLinesOfTheLedger) {
  const Job job = long_job();
  const Ledger ledger = job.ledger();
  const JobReport report = report_of(job);
  ASSERT_EQ(report.steps.size(), ledger.lines.size());
  for (std::size_t i = 0; i < ledger.lines.size(); ++i) {
    EXPECT_EQ(report.steps[i].minutes, ledger.lines[i].charge.minutes);
    EXPECT_EQ(report.steps[i].wait_minutes, ledger.lines[i].charge.wait_minutes);
    EXPECT_EQ(report.steps[i].money, ledger.lines[i].charge.money);
    EXPECT_EQ(report.steps[i].labour, ledger.lines[i].charge.labour);
  }
  EXPECT_EQ(sums_of(report).cost, ledger.cost());
  EXPECT_EQ(report.steps[0].found, "code P1001; none of the other 1");
  // 41 psi is 282.685 kPa (NIST SP 811); the mean, 282.842 kPa, is 1.005 errors of 4 / sqrt(2) kPa above the limit, and
  // Phi(-1.005) / Phi(1.005) = 0.1574 / 0.8426.
  EXPECT_EQ(report.steps[1].found, "41 psi; 283 kPa: weighed: good 1, low 0.187");
  EXPECT_EQ(report.steps[2].first, (Names{"undertray off", "engine hot"})) << "the lift was up already";
  EXPECT_EQ(report.steps[3].kind, ReportStepKind::repair);
  EXPECT_EQ(report.steps[3].found, "done");
  EXPECT_EQ(report.steps[4].kind, ReportStepKind::other);
  EXPECT_EQ(report.steps[4].found, "still there, says the check");
  EXPECT_EQ(report.steps[7].kind, ReportStepKind::hand_over);
}

TEST(ReportOfJob, CautionsAreThoseOfWhatWasDoneInFull) {
  Job job(support::workshop());
  EXPECT_TRUE(report_of(job).cautions.empty());
  job.add_finding("leak", "good");
  EXPECT_EQ(report_of(job).cautions, (std::vector<ReportCaution>{{"Crushing", ""}})) << "of the lift";
}

TEST(ReportOfJob, ComparesFaultsWithWhenTheComplaintWasKnown) {
  Job job(support::workshop());
  job.add_finding("puddle", "present");
  const double before = job.current().posterior("hose")[1];
  job.add_finding("leak", "bad");
  const JobReport report = report_of(job);
  const auto hose = std::find_if(report.faults.begin(), report.faults.end(),
                                 [](const ReportFault& fault) { return fault.label == "hose: faulty"; });
  ASSERT_NE(hose, report.faults.end());
  EXPECT_EQ(hose->at_start, before);
  EXPECT_EQ(hose->probability, job.current().posterior("hose")[1]);
}

TEST(ReportOfJob, ListsTestsLeftAndThoseDeclinedWithTheReason) {
  Job job(support::workshop());
  job.add_finding("puddle", "present");
  job.decline("pressure", "no gauge");
  job.decline("level", "too hot");
  job.add_finding("level", "bad");
  const JobReport report = report_of(job);
  const Names labels = labels_of(report.open_tests);
  EXPECT_EQ(std::count(labels.begin(), labels.end(), "level"), 0) << "it was done in the end";
  ASSERT_FALSE(labels.empty());
  EXPECT_EQ(labels.back(), "pressure");
  EXPECT_EQ(report.open_tests.back().reason, "no gauge");
  EXPECT_EQ(report.open_tests.back().minutes, 6.0);
  for (const ReportOpenTest& open : report.open_tests) EXPECT_TRUE(open.settles >= 0.0 && open.settles <= 1.0);
}

TEST(ReportOfJob, ConcludesWhatIsKnown) {
  Job job(support::workshop());
  job.add_finding("puddle", "present");
  EXPECT_TRUE(report_of(job).conclusion.starts_with("Most likely: ")) << report_of(job).conclusion;
  ASSERT_TRUE(report_of(job).hand_over.has_value());
  EXPECT_EQ(report_of(job).hand_over->to, "The leak shop");
  EXPECT_EQ(report_of(job).hand_over->fee, 200.0);
  job.add_finding("hose", "faulty");
  EXPECT_EQ(report_of(job).conclusion, "Found: hose: faulty. The complaint is not settled.");
  job.hand_over("shop");
  EXPECT_EQ(report_of(job).conclusion,
            "The vehicle was handed over. Found: hose: faulty. The complaint is not settled.");
  job.undo();
  job.add_repair("replace_hose", CheckResult::cured);
  EXPECT_TRUE(report_of(job).conclusion.starts_with("After the last repair the check says that the complaint is gone"));
  EXPECT_FALSE(report_of(job).hand_over.has_value());
  job.close(JobEnd::cured, {{.component = job.model().index_of("hose"), .state = 1, .by = ConfirmedBy::repair}},
            "split at the clamp");
  EXPECT_EQ(report_of(job).conclusion,
            "The complaint is gone; confirmed by the repair: hose: faulty; split at the clamp.");
}

TEST(ReportOfJob, IsWrittenInEveryFormat) {
  const JobReport report = report_of(long_job());
  EXPECT_NE(write_report_markdown(report).find("replace the pump"), std::string::npos);
  EXPECT_NE(write_report_html(report).find("replace the pump"), std::string::npos);
  EXPECT_NE(write_report_json(report).find("replace the pump"), std::string::npos);
}

}  // namespace

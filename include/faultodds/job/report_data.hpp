// The report of a job as data: what was found and done, what it cost, what was concluded.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/job/job.hpp"

namespace faultodds {

/// A caution of the report.
struct ReportCaution {
  std::string label;
  std::string text;

  bool operator==(const ReportCaution&) const = default;
};

/// `other` is the check after a repair.
enum class ReportStepKind : std::uint8_t { test, repair, hand_over, other };

/// Something that was done, set-ups and verification included.
struct ReportStep {
  ReportStepKind kind = ReportStepKind::test;
  std::string label;                ///< "Fuel pressure at the rail"
  std::vector<std::string> first;   ///< what was opened or brought about for it, in order
  std::string found;                ///< "low (43 psi)"; of a repair what its check said: "still there"
  double minutes = 0.0;             ///< somebody worked
  double wait_minutes = 0.0;        ///< the vehicle waited and nobody worked
  double money = 0.0;               ///< parts, material, fees
  double labour = 0.0;              ///< minutes at the labour rate, in money
  std::vector<std::string> change;  ///< in words what this step did to the leading faults, a sentence each
  std::string note;

  bool operator==(const ReportStep&) const = default;
};

/// A fault in question.
struct ReportFault {
  std::string label;               ///< "fuel pump: worn"
  double probability = 0.0;        ///< now
  std::optional<double> at_start;  ///< when only the facts and the complaint were known

  bool operator==(const ReportFault&) const = default;
};

/// A test not done that would still tell something.
struct ReportOpenTest {
  std::string label;
  double settles = 0.0;  ///< share of what is open about the cause that it is expected to settle, 0 to 1
  double minutes = 0.0;
  double money = 0.0;
  double labour = 0.0;
  std::string reason;  ///< why it was not done: "no gauge"; empty: it was not worth its cost, or its turn did not come

  bool operator==(const ReportOpenTest&) const = default;
};

/// Handing the vehicle over, as the report puts it.
struct ReportHandOver {
  std::string to;                         ///< "Transmission specialist"
  std::optional<double> fee;              ///< expected; if it was paid it is among the steps
  std::optional<double> wait_minutes;     ///< until the vehicle is back
  std::vector<std::string> what_to_tell;  ///< sentences, besides the findings and the faults

  bool operator==(const ReportHandOver&) const = default;
};

/// All that a report says. Empty parts are left out of it.
struct JobReport {
  std::string title;
  std::string version;
  bool invented = false;  ///< the data of the model are invented
  std::string safety;
  std::string currency;
  double labour_rate = 0.0;         ///< money per hour
  std::vector<JobFact> about;       ///< of the report itself: date, workshop, order number
  std::vector<JobFact> vehicle;     ///< facts known beforehand
  std::vector<JobFact> complaint;   ///< what was noticed: symptom and state
  std::vector<ReportStep> steps;    ///< what was done, in order
  std::string conclusion;           ///< in a sentence or a paragraph
  std::vector<std::string> why;     ///< paragraphs
  std::vector<ReportFault> faults;  ///< all in question, in any order
  std::vector<ReportOpenTest> open_tests;
  std::optional<ReportHandOver> hand_over;
  std::vector<ReportCaution> cautions;  ///< of everything that was done or is advised

  bool operator==(const JobReport&) const = default;
};

/// Probability below which a report calls a fault ruled out if it was above it at the start.
inline constexpr double report_ruled_out = 0.01;

/// Tests not done that a report lists, those that tell most for their cost.
inline constexpr std::size_t report_open_tests = 12;

/// The report of a job as it is now. `ranking` is that of the tests left, with the means of now.
[[nodiscard]] JobReport report_of(const Job& job, const Ranking& ranking);
/// The same with the ranking of the advice (Job::advice). Throws as it does.
[[nodiscard]] JobReport report_of(const Job& job);

/// The faults of a report, most probable first; equal ones in the order given.
struct ReportFaults {
  std::vector<ReportFault> leading;    ///< from report_ruled_out on
  std::vector<ReportFault> ruled_out;  ///< below, and not at the start
  std::vector<ReportFault> rare;       ///< below, at the start as well
};

[[nodiscard]] ReportFaults sorted_faults(const JobReport& report);

}  // namespace faultodds

#include "faultodds/job/report_data.ipp"

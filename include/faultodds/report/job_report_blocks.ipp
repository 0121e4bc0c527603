// Bodies of job_report_blocks.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <utility>

#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart_step.hpp"
#include "faultodds/report/job_report.hpp"
#include "faultodds/report/job_report_blocks.hpp"

namespace faultodds::detail {

inline std::string cents_text(std::int64_t cents) {
  const std::int64_t size = cents < 0 ? -cents : cents;
  const std::string hundredths = std::to_string(size % 100);
  return (cents < 0 ? "-" : "") + std::to_string(size / 100) + (hundredths.size() < 2 ? ".0" : ".") + hundredths;
}

inline std::string cents_text(std::int64_t cents, const std::string& currency) {
  return cents_text(cents) + (currency.empty() ? "" : ' ' + currency);
}

/// Writes the blocks of a report one after the other.
class ReportBlockWriter {
 public:
  explicit ReportBlockWriter(const JobReport& report) : report_(report), sums_(sums_of(report)) {
    check_report(report);
  }

  [[nodiscard]] std::vector<ReportBlock> write() {
    head();
    facts("Vehicle", report_.vehicle);
    facts("Complaint and what was noticed", report_.complaint);
    result();
    cautions();
    steps();
    faults();
    open_tests();
    hand_over();
    return std::move(blocks_);
  }

 private:
  void add(ReportBlockKind kind, std::string text) {
    blocks_.emplace_back();
    blocks_.back().kind = kind;
    blocks_.back().text = std::move(text);
  }

  void heading(std::string text) { add(ReportBlockKind::heading, std::move(text)); }
  void paragraph(std::string text) { add(ReportBlockKind::paragraph, std::move(text)); }

  void list(std::vector<std::string> items) {
    add(ReportBlockKind::list, {});
    blocks_.back().items = std::move(items);
  }

  void table(ReportTable table) {
    add(ReportBlockKind::table, {});
    blocks_.back().table = std::move(table);
  }

  /// A column's name with the currency.
  [[nodiscard]] std::string priced(const std::string& column) const {
    return report_.currency.empty() ? column : column + " (" + report_.currency + ')';
  }

  void head() {
    add(ReportBlockKind::title, report_.title.empty() ? "Job report" : "Job report: " + report_.title);
    if (report_.invented) add(ReportBlockKind::warning, flow_invented());
    if (!report_.safety.empty()) add(ReportBlockKind::warning, "Safety: " + report_.safety);
    paragraph(
        "The vehicle maker's service information, local codes and licensed practice come first; probabilities are "
        "those of a model, not a proof.");
    std::vector<JobFact> about = report_.about;
    if (!report_.version.empty()) about.push_back({"Version of the model", report_.version});
    facts({}, about);
  }

  void facts(const std::string& title, const std::vector<JobFact>& facts) {
    if (facts.empty()) return;
    if (!title.empty()) heading(title);
    add(ReportBlockKind::facts, {});
    blocks_.back().facts = facts;
  }

  void result() {
    if (report_.conclusion.empty() && report_.why.empty()) return;
    heading("Conclusion");
    if (!report_.conclusion.empty()) add(ReportBlockKind::paragraph, report_.conclusion);
    for (const std::string& text : report_.why) paragraph(text);
  }

  void cautions() {
    if (report_.cautions.empty()) return;
    heading("Cautions for this work");
    for (const ReportCaution& caution : report_.cautions) {
      add(ReportBlockKind::warning, caution.text.empty() ? caution.label : caution.label + ": " + caution.text);
    }
  }

  [[nodiscard]] static ReportCell step_cell(const ReportStep& step) {
    ReportCell cell{step.kind == ReportStepKind::repair ? "Repair: " + step.label : step.label, {}};
    std::string first;
    for (const std::string& set_up : step.first) first += (first.empty() ? "" : ", then ") + set_up;
    if (!first.empty()) cell.small.push_back("First: " + first);
    if (!step.note.empty()) cell.small.push_back(step.note);
    return cell;
  }

  void steps() {
    heading("What was done and what it cost");
    if (report_.steps.empty()) return paragraph("Nothing has been done yet.");
    ReportTable all{{"No.", "Step", "Found", "Minutes", priced("Parts and fees"), priced("Labour"), priced("Cost")},
                    {true, false, false, true, true, true, true},
                    {},
                    true};
    for (std::size_t i = 0; i < report_.steps.size(); ++i) {
      const ReportStep& step = report_.steps[i];
      all.rows.push_back({{std::to_string(i + 1), {}},
                          step_cell(step),
                          {step.found, step.change},
                          {wording::number(step.minutes, 1), {}},
                          {cents_text(in_cents(step.money)), {}},
                          {cents_text(in_cents(step.labour)), {}},
                          {cents_text(sums_.step_costs[i]), {}}});
    }
    all.rows.push_back({{},
                        {"Sum", {}},
                        {},
                        {wording::number(sums_.minutes, 1), {}},
                        {cents_text(sums_.money), {}},
                        {cents_text(sums_.labour), {}},
                        {cents_text(sums_.cost), {}}});
    table(std::move(all));
    std::string note;
    if (report_.labour_rate > 0.0) {
      note = "Labour at " + cents_text(in_cents(report_.labour_rate), report_.currency) + " an hour. ";
    }
    note += "Amounts are rounded step by step; sums are those of the rounded amounts.";
    if (sums_.wait_minutes > 0.0) {
      constexpr double long_wait = 120.0;
      note += " In addition, the vehicle waited for " +
              (sums_.wait_minutes < long_wait ? wording::number(sums_.wait_minutes, 0) + " minutes"
                                              : wording::number(sums_.wait_minutes / 60.0, 1) + " hours") +
              ", which cost no labour.";
    }
    paragraph(note);
  }

  [[nodiscard]] static std::string with_start(const ReportFault& fault) {
    return fault.label + " (" + wording::percent(*fault.at_start) + " at the start, now " +
           wording::percent(fault.probability) + ')';
  }

  void faults() {
    if (report_.faults.empty()) return;
    heading("How sure that is");
    const ReportFaults sorted = sorted_faults(report_);
    if (sorted.leading.empty()) {
      paragraph("No fault in question is left with 1 % or more.");
    } else {
      table(leading_table(sorted.leading));
      const bool told = std::any_of(sorted.leading.begin(), sorted.leading.end(),
                                    [](const ReportFault& fault) { return fault.at_start.has_value(); });
      if (told) paragraph("At the start: with the vehicle and the complaint known, before anything was done.");
    }
    if (!sorted.ruled_out.empty()) {
      paragraph("Ruled out by what was found, now below 1 %:");
      std::vector<std::string> items;
      for (const ReportFault& fault : sorted.ruled_out) items.push_back(with_start(fault));
      list(std::move(items));
    }
    if (!sorted.rare.empty()) paragraph(rare_text(sorted.rare));
  }

  [[nodiscard]] static ReportTable leading_table(const std::vector<ReportFault>& faults) {
    ReportTable leading{{"Fault", "At the start", "Now"}, {false, true, true}, {}, false};
    for (const ReportFault& fault : faults) {
      leading.rows.push_back({{fault.label, {}},
                              {fault.at_start ? wording::percent(*fault.at_start) : "not known", {}},
                              {wording::percent(fault.probability), {}}});
    }
    return leading;
  }

  [[nodiscard]] static std::string rare_text(const std::vector<ReportFault>& rare) {
    constexpr std::size_t most = 8;
    std::string text = "Below 1 %, but not because of anything found against them: ";
    for (std::size_t i = 0; i < std::min(most, rare.size()); ++i) text += (i == 0 ? "" : "; ") + rare[i].label;
    if (rare.size() > most) text += "; and " + std::to_string(rare.size() - most) + " more";
    return text + '.';
  }

  void open_tests() {
    if (report_.open_tests.empty()) return;
    heading("What was not looked at");
    ReportTable open{
        {"Test", "Would settle", "Minutes", priced("Cost"), "Why not"}, {false, true, true, true, false}, {}, false};
    for (const ReportOpenTest& test : report_.open_tests) {
      open.rows.push_back({{test.label, {}},
                           {wording::percent(test.settles), {}},
                           {wording::number(test.minutes, 0), {}},
                           {cents_text(in_cents(test.money) + in_cents(test.labour)), {}},
                           {test.reason, {}}});
    }
    table(std::move(open));
    paragraph("Would settle: the share of what is open about the cause that the test is expected to settle.");
  }

  void hand_over() {
    if (!report_.hand_over) return;
    const ReportHandOver& over = *report_.hand_over;
    heading(over.to.empty() ? "Handing over" : "Handing over: " + over.to);
    std::vector<JobFact> terms;
    if (over.fee) terms.push_back({"Expected fee", cents_text(in_cents(*over.fee), report_.currency)});
    if (over.wait_minutes) {
      terms.push_back({"Until the vehicle is back", wording::number(*over.wait_minutes / 60.0, 1) + " hours"});
    }
    facts({}, terms);
    if (over.what_to_tell.empty()) return;
    paragraph("What to tell, besides what was found and what is left above:");
    list(over.what_to_tell);
  }

  const JobReport& report_;
  ReportSums sums_;
  std::vector<ReportBlock> blocks_;
};

inline std::vector<ReportBlock> report_blocks(const JobReport& report) { return ReportBlockWriter(report).write(); }

}  // namespace faultodds::detail

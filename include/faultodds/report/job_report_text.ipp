// Markdown and JSON of job_report.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string_view>

#include "faultodds/io/json_document.hpp"
#include "faultodds/report/job_report.hpp"
#include "faultodds/report/job_report_blocks.hpp"
#include "faultodds/report/text_escaping.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds {
namespace detail {

inline std::string report_cell_markdown(const ReportCell& cell) {
  std::string text = cell.text;
  for (const std::string& line : cell.small) text += (text.empty() ? "" : "; ") + line;
  return markdown_escaped(text);
}

inline std::string report_table_markdown(const ReportTable& table) {
  std::string text = "|";
  for (const std::string& column : table.columns) text += ' ' + markdown_escaped(column) + " |";
  text += "\n|";
  for (const bool number : table.numbers) text += number ? " ---: |" : " --- |";
  text += '\n';
  for (const std::vector<ReportCell>& row : table.rows) {
    const bool sum = table.ends_in_sum && &row == &table.rows.back();
    text += '|';
    for (const ReportCell& cell : row) {
      const std::string inside = report_cell_markdown(cell);
      text += sum && !inside.empty() ? " **" + inside + "** |" : ' ' + inside + " |";
    }
    text += '\n';
  }
  return text;
}

inline std::string report_block_markdown(const ReportBlock& block) {
  std::string text;
  switch (block.kind) {
    case ReportBlockKind::title:
      return "# " + markdown_escaped(block.text) + '\n';
    case ReportBlockKind::heading:
      return "## " + markdown_escaped(block.text) + '\n';
    case ReportBlockKind::paragraph:
      return markdown_escaped(block.text) + '\n';
    case ReportBlockKind::warning:
      return "**" + markdown_escaped(block.text) + "**\n";
    case ReportBlockKind::list:
      for (const std::string& item : block.items) text += "- " + markdown_escaped(item) + '\n';
      return text;
    case ReportBlockKind::facts:
      for (const JobFact& fact : block.facts) {
        text += "- " + markdown_escaped(fact.label) + ": **" + markdown_escaped(fact.value) + "**\n";
      }
      return text;
    case ReportBlockKind::table:
      break;
  }
  return report_table_markdown(block.table);
}

/// Hundredths as a number of units, the nearest double, which is written with two decimals at most.
inline double units(std::int64_t cents) { return static_cast<double>(cents) / 100.0; }

inline Json report_texts_json(const std::vector<std::string>& texts) {
  Json list = Json::array();
  for (const std::string& text : texts) list.push_back(clean_text(text));
  return list;
}

inline Json report_facts_json(const std::vector<JobFact>& facts) {
  Json list = Json::array();
  for (const JobFact& fact : facts) {
    list.push_back({{"label", clean_text(fact.label)}, {"value", clean_text(fact.value)}});
  }
  return list;
}

inline std::string_view report_kind(ReportStepKind kind) {
  switch (kind) {
    case ReportStepKind::test:
      return "test";
    case ReportStepKind::repair:
      return "repair";
    case ReportStepKind::hand_over:
      return "hand_over";
    case ReportStepKind::other:
      break;
  }
  return "other";
}

inline Json report_steps_json(const JobReport& report, const ReportSums& sums) {
  Json list = Json::array();
  for (std::size_t i = 0; i < report.steps.size(); ++i) {
    const ReportStep& step = report.steps[i];
    list.push_back({{"kind", report_kind(step.kind)},
                    {"label", clean_text(step.label)},
                    {"first", report_texts_json(step.first)},
                    {"found", clean_text(step.found)},
                    {"minutes", step.minutes},
                    {"wait_minutes", step.wait_minutes},
                    {"money", units(in_cents(step.money))},
                    {"labour", units(in_cents(step.labour))},
                    {"cost", units(sums.step_costs[i])},
                    {"change", report_texts_json(step.change)},
                    {"note", clean_text(step.note)}});
  }
  return list;
}

inline Json report_faults_json(const std::vector<ReportFault>& faults) {
  Json list = Json::array();
  for (const ReportFault& fault : faults) {
    list.push_back({{"label", clean_text(fault.label)},
                    {"probability", fault.probability},
                    {"at_start", fault.at_start ? Json(*fault.at_start) : Json()}});
  }
  return list;
}

inline Json report_open_tests_json(const std::vector<ReportOpenTest>& tests) {
  Json list = Json::array();
  for (const ReportOpenTest& test : tests) {
    const std::int64_t money = in_cents(test.money);
    const std::int64_t labour = in_cents(test.labour);
    list.push_back({{"label", clean_text(test.label)},
                    {"settles", test.settles},
                    {"minutes", test.minutes},
                    {"money", units(money)},
                    {"labour", units(labour)},
                    {"cost", units(money + labour)},
                    {"reason", clean_text(test.reason)}});
  }
  return list;
}

inline Json report_hand_over_json(const ReportHandOver& over) {
  return {{"to", clean_text(over.to)},
          {"fee", over.fee ? Json(units(in_cents(*over.fee))) : Json()},
          {"wait_minutes", over.wait_minutes ? Json(*over.wait_minutes) : Json()},
          {"what_to_tell", report_texts_json(over.what_to_tell)}};
}

}  // namespace detail

inline std::string write_report_markdown(const JobReport& report) {
  std::string text;
  for (const detail::ReportBlock& block : detail::report_blocks(report)) {
    text += (text.empty() ? "" : "\n") + detail::report_block_markdown(block);
  }
  return text;
}

inline std::string write_report_json(const JobReport& report) {
  detail::check_report(report);
  const ReportSums sums = sums_of(report);
  const ReportFaults faults = sorted_faults(report);
  Json json = {{"title", clean_text(report.title)},
               {"version", clean_text(report.version)},
               {"invented_data", report.invented},
               {"safety", clean_text(report.safety)},
               {"currency", clean_text(report.currency)},
               {"labour_rate", report.labour_rate},
               {"about", detail::report_facts_json(report.about)},
               {"vehicle", detail::report_facts_json(report.vehicle)},
               {"complaint", detail::report_facts_json(report.complaint)}};
  Json cautions = Json::array();
  for (const ReportCaution& caution : report.cautions) {
    cautions.push_back({{"label", clean_text(caution.label)}, {"text", clean_text(caution.text)}});
  }
  json["cautions"] = std::move(cautions);
  json["steps"] = detail::report_steps_json(report, sums);
  json["sums"] = {{"minutes", sums.minutes},
                  {"wait_minutes", sums.wait_minutes},
                  {"money", detail::units(sums.money)},
                  {"labour", detail::units(sums.labour)},
                  {"cost", detail::units(sums.cost)}};
  json["conclusion"] = clean_text(report.conclusion);
  json["why"] = detail::report_texts_json(report.why);
  json["faults"] = {{"leading", detail::report_faults_json(faults.leading)},
                    {"ruled_out", detail::report_faults_json(faults.ruled_out)},
                    {"rare", detail::report_faults_json(faults.rare)}};
  json["not_looked_at"] = detail::report_open_tests_json(report.open_tests);
  json["hand_over"] = report.hand_over ? detail::report_hand_over_json(*report.hand_over) : Json();
  return laid_out(json);
}

}  // namespace faultodds

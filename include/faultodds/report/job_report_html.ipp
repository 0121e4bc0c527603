// HTML of job_report.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string_view>

#include "faultodds/report/job_report.hpp"
#include "faultodds/report/job_report_blocks.hpp"
#include "faultodds/report/text_escaping.hpp"

namespace faultodds {
namespace detail {

/// Black on white whatever the reader's screen prefers, and ready for A4.
inline constexpr std::string_view report_style =
    "@page { size: A4; margin: 15mm; }\n"
    "html { color-scheme: light; background: #fff; }\n"
    "body { background: #fff; color: #000; font: 11pt/1.4 Helvetica, Arial, 'Liberation Sans', 'Nimbus Sans', "
    "sans-serif; max-width: 180mm; margin: 0 auto; padding: 4mm; overflow-wrap: break-word; }\n"
    "h1 { font-size: 18pt; line-height: 1.2; margin: 0 0 4mm; }\n"
    "h2 { font-size: 13pt; margin: 7mm 0 2mm; border-bottom: 0.3mm solid #000; break-after: avoid; }\n"
    "p { margin: 2mm 0; }\n"
    "ul { margin: 1mm 0; padding-left: 6mm; }\n"
    ".warning { border: 0.5mm solid #000; padding: 1.5mm 2.5mm; font-weight: bold; break-inside: avoid; }\n"
    "table { border-collapse: collapse; width: 100%; margin: 2mm 0; font-size: 10pt; }\n"
    "thead { display: table-header-group; }\n"
    "tr { break-inside: avoid; }\n"
    "th, td { border: 0.2mm solid #000; padding: 1mm 1.5mm; text-align: left; vertical-align: top; }\n"
    "thead th { border-bottom-width: 0.6mm; }\n"
    ".facts th, .facts td { border: 0; padding: 0.5mm 6mm 0.5mm 0; font-size: 11pt; }\n"
    ".facts th { font-weight: normal; width: 35%; }\n"
    ".facts td { font-weight: bold; }\n"
    ".number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }\n"
    "th.number { white-space: normal; }\n"
    ".sum td { border-top-width: 0.6mm; font-weight: bold; }\n"
    ".small { font-size: 8.5pt; }\n"
    "@media print { body { max-width: none; padding: 0; } }\n";

/// A percentage keeps its sign in the same line.
inline std::string report_html_text(const std::string& text) {
  std::string escaped = xml_escaped(text);
  for (std::size_t at = escaped.find(" %"); at != std::string::npos; at = escaped.find(" %", at)) {
    escaped.replace(at, 1, "&#160;");
  }
  return escaped;
}

/// Writes blocks as elements of a body.
class ReportHtml {
 public:
  [[nodiscard]] std::string body(const std::vector<ReportBlock>& blocks) {
    for (const ReportBlock& block : blocks) write(block);
    return std::move(html_);
  }

 private:
  void element(std::string_view name, std::string_view attributes, const std::string& text) {
    html_.append("<").append(name).append(attributes).append(">");
    html_.append(report_html_text(text)).append("</").append(name).append(">\n");
  }

  void write(const ReportBlock& block) {
    switch (block.kind) {
      case ReportBlockKind::title:
        return element("h1", "", block.text);
      case ReportBlockKind::heading:
        return element("h2", "", block.text);
      case ReportBlockKind::paragraph:
        return element("p", "", block.text);
      case ReportBlockKind::warning:
        return element("p", " class=\"warning\"", block.text);
      case ReportBlockKind::list:
        html_ += "<ul>\n";
        for (const std::string& item : block.items) element("li", "", item);
        html_ += "</ul>\n";
        return;
      case ReportBlockKind::facts:
        html_ += "<table class=\"facts\">\n<tbody>\n";
        for (const JobFact& fact : block.facts) {
          html_ += "<tr>\n";
          element("th", " scope=\"row\"", fact.label);
          element("td", "", fact.value);
          html_ += "</tr>\n";
        }
        html_ += "</tbody>\n</table>\n";
        return;
      case ReportBlockKind::table:
        break;
    }
    write(block.table);
  }

  void write(const ReportTable& table) {
    html_ += "<table>\n<thead>\n<tr>\n";
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
      element("th", table.numbers[c] ? " class=\"number\"" : "", table.columns[c]);
    }
    html_ += "</tr>\n</thead>\n<tbody>\n";
    for (const std::vector<ReportCell>& row : table.rows) {
      const bool sum = table.ends_in_sum && &row == &table.rows.back();
      html_ += sum ? "<tr class=\"sum\">\n" : "<tr>\n";
      for (std::size_t c = 0; c < row.size(); ++c) write(row[c], table.numbers[c]);
      html_ += "</tr>\n";
    }
    html_ += "</tbody>\n</table>\n";
  }

  void write(const ReportCell& cell, bool number) {
    html_ += number ? "<td class=\"number\">" : "<td>";
    html_ += report_html_text(cell.text);
    for (const std::string& line : cell.small) html_ += "<div class=\"small\">" + report_html_text(line) + "</div>";
    html_ += "</td>\n";
  }

  std::string html_;
};

}  // namespace detail

inline std::string write_report_html(const JobReport& report) {
  const std::vector<detail::ReportBlock> blocks = detail::report_blocks(report);
  std::string html = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n";
  html += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n";
  html += "<meta name=\"color-scheme\" content=\"light\"/>\n";
  html += "<title>" + detail::xml_escaped(blocks.front().text) + "</title>\n<style>\n";
  html.append(detail::report_style).append("</style>\n</head>\n<body>\n");
  return html += detail::ReportHtml().body(blocks) + "</body>\n</html>\n";
}

}  // namespace faultodds

// What a case report says, paragraph by paragraph, before it is written in a format.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/report/case_report_parts.hpp"

namespace faultodds::detail {

struct ReportCell {
  std::string text;
  std::vector<std::string> small;  ///< further lines in small print
};

struct ReportTable {
  std::vector<std::string> columns;
  std::vector<bool> numbers;  ///< by column: right-aligned
  std::vector<std::vector<ReportCell>> rows;
  bool ends_in_sum = false;
};

enum class ReportBlockKind : std::uint8_t { title, heading, paragraph, warning, list, facts, table };

struct ReportBlock {
  ReportBlockKind kind = ReportBlockKind::paragraph;
  std::string text;
  std::vector<std::string> items;  ///< of a list
  std::vector<ReportFact> facts;
  ReportTable table;
};

/// The whole report in reading order. Throws as the writers of case_report.hpp.
[[nodiscard]] std::vector<ReportBlock> report_blocks(const CaseReport& report);

/// "123.45".
[[nodiscard]] std::string cents_text(std::int64_t cents);
/// "123.45 EUR".
[[nodiscard]] std::string cents_text(std::int64_t cents, const std::string& currency);

/// The faults of a report, most probable first; equal ones in the order given.
struct ReportFaults {
  std::vector<ReportFault> leading;    ///< from report_ruled_out on
  std::vector<ReportFault> ruled_out;  ///< below, and not at the start
  std::vector<ReportFault> rare;       ///< below, at the start as well
};

[[nodiscard]] ReportFaults sorted_faults(const CaseReport& report);

}  // namespace faultodds::detail

#include "faultodds/report/case_report_blocks.ipp"

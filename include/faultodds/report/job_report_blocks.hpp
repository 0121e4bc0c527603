// What a job report says, paragraph by paragraph, before it is written in a format.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/job/report_data.hpp"

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
  std::vector<JobFact> facts;
  ReportTable table;
};

/// The whole report in reading order. Throws as the writers of job_report.hpp.
[[nodiscard]] std::vector<ReportBlock> report_blocks(const JobReport& report);

/// "123.45".
[[nodiscard]] std::string cents_text(std::int64_t cents);
/// "123.45 EUR".
[[nodiscard]] std::string cents_text(std::int64_t cents, const std::string& currency);

}  // namespace faultodds::detail

#include "faultodds/report/job_report_blocks.ipp"

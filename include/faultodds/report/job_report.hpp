// A case from complaint to conclusion, for the customer and the archive: Markdown, HTML and JSON.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/job/ledger.hpp"
#include "faultodds/job/report_data.hpp"

namespace faultodds {

/// What steps cost, in hundredths of the currency: money and labour are rounded step by step, and everything else is
/// summed from these, so that a report adds up to the cent.
struct ReportSums {
  std::vector<std::int64_t> step_costs;  ///< money and labour of each step
  std::int64_t money = 0;
  std::int64_t labour = 0;
  std::int64_t cost = 0;  ///< money and labour
  double minutes = 0.0;
  double wait_minutes = 0.0;
};

/// Throws ArgumentError if an amount or a time is negative or not finite.
[[nodiscard]] ReportSums sums_of(const JobReport& report);

/// As Markdown. The same report gives the same bytes. Throws ArgumentError as sums_of does, and if a probability is not
/// between 0 and 1.
[[nodiscard]] std::string write_report_markdown(const JobReport& report);
/// As one HTML document without outside resources that prints on A4. Throws as write_report_markdown does.
[[nodiscard]] std::string write_report_html(const JobReport& report);
/// As JSON for programs: costs in units of the currency, rounded as in the text. Throws as write_report_markdown does.
[[nodiscard]] std::string write_report_json(const JobReport& report);

namespace detail {

/// Throws ArgumentError as the writers do, but for the steps.
void check_report(const JobReport& report);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/report/job_report.ipp"
#include "faultodds/report/job_report_html.ipp"
#include "faultodds/report/job_report_text.ipp"

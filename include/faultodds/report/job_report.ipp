// Sums and checks of job_report.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string_view>

#include "faultodds/model/errors.hpp"
#include "faultodds/report/job_report.hpp"

namespace faultodds {
namespace detail {

inline std::string report_place(std::string_view list, std::size_t index, std::string_view field) {
  return std::string(list) + '[' + std::to_string(index) + "]." + std::string(field);
}

inline void require_share(double share, const std::string& place) {
  if (share >= 0.0 && share <= 1.0) return;
  throw ArgumentError(place, "it is " + std::to_string(share), "give a number from 0 to 1", ErrorCode::wrong_number);
}

inline void check_report(const JobReport& report) {
  require_amount(report.labour_rate, "labour_rate");
  for (std::size_t i = 0; i < report.faults.size(); ++i) {
    require_share(report.faults[i].probability, report_place("faults", i, "probability"));
    require_share(report.faults[i].at_start.value_or(0.0), report_place("faults", i, "at_start"));
  }
  for (std::size_t i = 0; i < report.open_tests.size(); ++i) {
    const ReportOpenTest& test = report.open_tests[i];
    require_share(test.settles, report_place("open_tests", i, "settles"));
    require_amount(test.minutes, report_place("open_tests", i, "minutes"));
    require_amount(test.money, report_place("open_tests", i, "money"));
    require_amount(test.labour, report_place("open_tests", i, "labour"));
  }
  if (!report.hand_over) return;
  require_amount(report.hand_over->fee.value_or(0.0), "hand_over.fee");
  require_amount(report.hand_over->wait_minutes.value_or(0.0), "hand_over.wait_minutes");
}

}  // namespace detail

inline ReportSums sums_of(const JobReport& report) {
  ReportSums sums;
  for (std::size_t i = 0; i < report.steps.size(); ++i) {
    const ReportStep& step = report.steps[i];
    detail::require_amount(step.minutes, detail::report_place("steps", i, "minutes"));
    detail::require_amount(step.wait_minutes, detail::report_place("steps", i, "wait_minutes"));
    detail::require_amount(step.money, detail::report_place("steps", i, "money"));
    detail::require_amount(step.labour, detail::report_place("steps", i, "labour"));
    const std::int64_t money = in_cents(step.money);
    const std::int64_t labour = in_cents(step.labour);
    sums.step_costs.push_back(money + labour);
    sums.money += money;
    sums.labour += labour;
    sums.cost += money + labour;
    sums.minutes += step.minutes;
    sums.wait_minutes += step.wait_minutes;
  }
  return sums;
}

}  // namespace faultodds

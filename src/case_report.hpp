// The report of a case at the bench, from its log.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <optional>
#include <string>

#include "case_log.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/report/job_report.hpp"

namespace faultodds::program {

/// What was found and done, what it cost, what was concluded. `ranking` is that of the case as it stands.
[[nodiscard]] JobReport report_of(const CaseLog& log, const Means& means, const Ranking& ranking);

/// What a case has cost so far.
struct Spent {
  double cost = 0.0;     ///< labour included
  double minutes = 0.0;  ///< waiting included
};

/// By the same books as the report.
[[nodiscard]] Spent spent_on(const CaseLog& log, const Means& means);

/// As Markdown, HTML or JSON, after the ending of the file's name; nothing where that is another.
[[nodiscard]] std::optional<std::string> written_report(const CaseLog& log, const Means& means, const Ranking& ranking,
                                                        const std::string& file);

}  // namespace faultodds::program

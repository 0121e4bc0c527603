// Where everything is on the pages of a flow chart.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/report/flow_chart_page.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds {

struct FlowSheet {
  double width = 210.0;  ///< A4 (ISO 216)
  double height = 297.0;
  double margin = 12.0;
  double gutter = 12.0;  ///< between columns
  std::size_t columns = 3;
};

/// Puts a policy tree on pages. The largest branch of a step goes on below it and the smaller ones in the next column,
/// so that n steps take at most log2 n + 1 columns (right-heavy horizontal-vertical drawing: Crescenzi, Di Battista &
/// Piperno 1992); the branches that come there most often are drawn first, the others go on further below or on later
/// pages, with marks at both ends. Throws as write_flow_chart_svg, and ArgumentError if the
/// sheet makes no sense.
[[nodiscard]] std::vector<FlowPage> lay_out_flow_chart(const PolicyTree& policy_tree, const FlowChartTexts& texts,
                                                       const FlowSheet& sheet = {});

}  // namespace faultodds

#include "faultodds/report/flow_chart_layout.ipp"

// A policy tree as a list of numbered steps for the screen.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/report/flow_chart_texts.hpp"
#include "text.hpp"

namespace faultodds::program {

/// Cautions in full, then the steps. The branch that most cases take goes on below; the others come before it,
/// indented. Cautions are named before what is done.
void show_chart(const Screen& screen, const PolicyTree& policy_tree, const FlowChartTexts& texts);

}  // namespace faultodds::program

// A policy tree as a printed flow chart: SVG and HTML on A4, DOT, Markdown, JSON.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <vector>

#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds {

/// A4 pages in black and white, one SVG document each. Tests are boxes, repairs rounded ones, hand-over has a double
/// frame, the end is an oval; every step says what it costs, what is expected to be paid from there to the end, and how
/// often a case comes there; arrows carry outcome and probability. The heaviest branch goes on below, lighter ones to
/// the right; what does not fit goes on at a numbered step of a later page. Cautions are given in full before the first
/// step and by their labels in each step, before what is done. Throws ArgumentError if the texts do not fit the
/// policy tree, or a step fits no page.
[[nodiscard]] std::vector<std::string> write_flow_chart_svg(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// The same pages in one HTML document without outside resources, which prints one page on each sheet.
[[nodiscard]] std::string write_flow_chart_html(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// In the DOT language. Throws ArgumentError if the texts do not fit the policy tree, as the following do.
[[nodiscard]] std::string write_flow_chart_dot(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// A nested numbered list in Markdown.
[[nodiscard]] std::string write_flow_chart_markdown(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// JSON for programs: the policy tree's nodes by index, with texts and numbers.
[[nodiscard]] std::string write_flow_chart_json(const PolicyTree& policy_tree, const FlowChartTexts& texts);

}  // namespace faultodds

#include "faultodds/report/flow_chart_svg.ipp"
#include "faultodds/report/flow_chart_text.ipp"

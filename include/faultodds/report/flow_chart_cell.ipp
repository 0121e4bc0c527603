// Bodies of flow_chart_cell.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <utility>

#include "faultodds/report/flow_chart_cell.hpp"
#include "faultodds/report/flow_chart_step.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds::detail {

inline std::size_t FlowColumn::add(std::string_view text, double size, bool bold, double indent) {
  const std::vector<std::string> lines = lines_of_width(text, width_ - indent, {size, bold});
  for (const std::string& line : lines) {
    texts_.push_back({{indent, below_ + 0.95 * size}, size, bold, false, line});
    below_ += size * FlowType::leading;
  }
  return lines.size();
}

inline void FlowColumn::add_caution(std::string_view label) {
  const std::size_t before = texts_.size();
  add("Caution: " + std::string(label), FlowType::text, true, FlowType::caution_width);
  if (texts_.size() > before) texts_[before].caution = true;
}

inline FlowShape shape_of(StepKind kind) {
  switch (kind) {
    case StepKind::test:
      return FlowShape::test;
    case StepKind::repair:
      return FlowShape::repair;
    case StepKind::hand_over:
      return FlowShape::hand_over;
    case StepKind::ask_again:
      return FlowShape::ask_again;
    case StepKind::live_with:
    case StepKind::done:
      break;
  }
  return FlowShape::end;
}

/// A step's texts in a box with at most this many lines of the procedure.
inline FlowBox composed_box(const FlowStep& step, const PolicyNode& node, double width, std::size_t max_lines) {
  const FlowShape shape = shape_of(node.step.kind);
  const double indent = goes_on(node) ? FlowType::number_width : 0.0;
  const double side = FlowType::padding + (shape == FlowShape::end ? FlowType::oval_width : 0.0);
  FlowColumn column(width - 2.0 * side, FlowType::padding);
  column.add(step.label, FlowType::title, true, indent);
  for (const std::string& caution : step.cautions) column.add_caution(caution);
  if (!step.first.empty()) column.add("First: " + step.first, FlowType::text);
  std::vector<std::string> lines = lines_of_width(step.procedure, width - 2.0 * side, {FlowType::text, false});
  if (lines.size() > max_lines) {
    lines.resize(max_lines);
    lines.push_back("(shortened)");
  }
  for (const std::string& line : lines) column.add(line, FlowType::text);
  if (!step.check.empty()) column.add("Then: " + step.check, FlowType::text);
  column.space(0.6);
  if (!step.likely.empty()) column.add("Likely: " + step.likely, FlowType::small);
  column.add(step.cost, FlowType::small);
  column.add(step.reached, FlowType::small);
  FlowBox box;
  box.shape = shape;
  box.width = width;
  box.height = column.below() + FlowType::padding - 0.4;
  box.texts = column.take();
  for (FlowText& text : box.texts) text.at.x += side;
  return box;
}

inline FlowBox flow_box(const PolicyTree& policy_tree, const FlowChartTexts& texts, std::size_t node, double width,
                        double max_height) {
  const FlowStep step = flow_step(policy_tree, texts, node);
  const PolicyNode& here = policy_tree.nodes[node];
  for (std::size_t max_lines = 40;; max_lines = max_lines * 2 / 3) {
    FlowBox box = composed_box(step, here, width, max_lines);
    box.node = node;
    if (box.height <= max_height) return box;
    if (max_lines == 0) {
      throw ArgumentError("texts", "the step \"" + step.label + "\" is longer than a page allows",
                          "shorten its texts, or write the chart as Markdown");
    }
  }
}

inline FlowBox flow_mark(std::size_t node, double width) {
  FlowBox box;
  box.shape = FlowShape::go_to;
  box.node = node;
  box.width = width * 0.7;
  box.height = 6.0;
  return box;
}

inline void say_above(FlowBox& box, std::string_view text, double width) {
  FlowColumn column(width - FlowType::arrow_room, 0.0);
  column.add(text, FlowType::text, true);
  const double height = column.below() + 0.8;
  box.above = column.take();
  for (FlowText& line : box.above) {
    line.at.x += FlowType::arrow_room;
    line.at.y -= height;
  }
  box.top = -height;
}

inline void move(FlowBox& box, double x, double y) {
  const auto shift = [&](std::vector<FlowText>& texts) {
    for (FlowText& text : texts) {
      text.at.x += x;
      text.at.y += y;
    }
  };
  shift(box.texts);
  shift(box.above);
  box.x += x;
  box.y += y;
  box.top += y;
}

}  // namespace faultodds::detail

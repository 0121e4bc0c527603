// One step of a flow chart with all its lines, before it has a place on a page.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/report/flow_chart_page.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds::detail {

/// Sizes of type, and room around it, in millimetres.
struct FlowType {
  static constexpr double title = 2.9;
  static constexpr double text = 2.7;
  static constexpr double small = 2.35;
  static constexpr double leading = 1.22;  ///< line to line, in sizes
  static constexpr double padding = 2.0;
  static constexpr double number_width = 6.5;   ///< room for a step's number before its title
  static constexpr double caution_width = 4.5;  ///< room for the mark of a caution
  static constexpr double arrow_room = 7.0;     ///< room for an arrow beside what is over a box
  static constexpr double oval_width = 3.0;     ///< more room at both sides of an oval
  static constexpr double entry = 4.0;          ///< from a box's upper edge to where an arrow comes in
};

/// Lines under one another.
class FlowColumn {
 public:
  FlowColumn(double width, double top) : width_(width), below_(top) {}

  /// Lines that begin `indent` from the left; returns how many.
  std::size_t add(std::string_view text, double size, bool bold = false, double indent = 0.0);
  void add_caution(std::string_view label);
  void space(double height) { below_ += height; }
  [[nodiscard]] double below() const { return below_; }
  [[nodiscard]] std::vector<FlowText> take() { return std::move(texts_); }

 private:
  double width_;
  double below_;
  std::vector<FlowText> texts_;
};

/// The box of a node with its texts, its upper left corner at the origin. A procedure that would make it higher than
/// `max_height` is cut; throws ArgumentError if the rest is still higher.
[[nodiscard]] FlowBox flow_box(const PolicyTree& policy_tree, const FlowChartTexts& texts, std::size_t node,
                               double width, double max_height);

/// The mark where a chart goes on elsewhere.
[[nodiscard]] FlowBox flow_mark(std::size_t node, double width);

/// Puts `text` over a box at the origin, in a column of this width; `top` becomes negative.
void say_above(FlowBox& box, std::string_view text, double width);

/// Moves a box with its texts.
void move(FlowBox& box, double x, double y);

}  // namespace faultodds::detail

#include "faultodds/report/flow_chart_cell.ipp"

// The boxes, texts and arrows of a page of a flow chart.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace faultodds {

/// All in millimetres from the upper left corner of the page.
struct FlowPoint {
  double x = 0.0;
  double y = 0.0;
};

struct FlowText {
  FlowPoint at;       ///< left end of the base line
  double size = 0.0;  ///< of the type
  bool bold = false;
  bool caution = false;  ///< first line of a caution: its mark is to the left
  std::string text;
};

enum class FlowShape {
  test,
  repair,
  end,  ///< done, or left as it is
  hand_over,
  ask_again,
  go_to  ///< the chart goes on at another place
};

struct FlowBox {
  FlowShape shape = FlowShape::test;
  std::size_t node = 0;  ///< of the policy tree; of `go_to`: where it goes on
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
  std::vector<FlowText> texts;  ///< within
  std::vector<FlowText> above;  ///< what leads here, over the box
  double top = 0.0;             ///< upper edge of what is over the box

  [[nodiscard]] double right() const { return x + width; }
  [[nodiscard]] double bottom() const { return y + height; }
};

/// From a box to what follows; the last point carries the head.
struct FlowArrow {
  std::size_t from = 0;  ///< boxes of the page, by index
  std::size_t to = 0;
  std::vector<FlowPoint> points;
};

struct FlowPage {
  std::vector<FlowText> texts;  ///< head and foot
  std::vector<FlowBox> boxes;
  std::vector<FlowArrow> arrows;
};

}  // namespace faultodds

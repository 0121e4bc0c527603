// Where everything stands on the pages of a flow chart.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/decision/strategy.hpp"
#include "faultodds/io/flow_chart_texts.hpp"

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
  bool caution = false;  ///< first line of a caution: its mark stands to the left
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
  std::size_t node = 0;  ///< of the strategy; of `go_to`: where it goes on
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
  std::vector<FlowText> texts;  ///< within
  std::vector<FlowText> above;  ///< what leads here, over the box
  double top = 0.0;             ///< upper edge of what stands over the box

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

struct FlowSheet {
  double width = 210.0;  ///< A4 (ISO 216)
  double height = 297.0;
  double margin = 12.0;
  double gutter = 12.0;  ///< between columns
  std::size_t columns = 3;
};

/// Puts a strategy on pages. The largest branch of a step goes on below it and the smaller ones in the next column, so
/// that n steps take at most log2 n + 1 columns (right-heavy horizontal-vertical drawing: Crescenzi, Di Battista &
/// Piperno 1992); the branches that come there most often are drawn first, the others go on further below or on later
/// pages, with marks at both ends. Throws as write_flow_chart_svg.
[[nodiscard]] std::vector<FlowPage> lay_out_flow_chart(const Strategy& strategy, const FlowChartTexts& texts,
                                                       const FlowSheet& sheet = {});

}  // namespace faultodds

#include "faultodds/io/flow_chart_layout.ipp"

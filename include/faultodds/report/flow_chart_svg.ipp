// SVG and HTML of flow_chart.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <string_view>

#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart.hpp"
#include "faultodds/report/flow_chart_layout.hpp"
#include "faultodds/report/flow_chart_step.hpp"
#include "faultodds/report/text_escaping.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds {
namespace detail {

/// One page as an SVG document, in millimetres.
class FlowSvg {
 public:
  FlowSvg(const FlowSheet& sheet, const FlowChartTexts& texts) : sheet_(sheet), texts_(texts) {}

  [[nodiscard]] std::string page(const FlowPage& page) {
    const std::string width = mm(sheet_.width);
    const std::string height = mm(sheet_.height);
    svg_ = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + width + "mm\" height=\"" + height +
           "mm\" viewBox=\"0 0 " + width + ' ' + height +
           "\" font-family=\"Helvetica, Arial, 'Liberation Sans', 'Nimbus Sans', 'DejaVu Sans Condensed', sans-serif\" "
           "fill=\"black\">\n";
    svg_ += "<title>" + xml_escaped(texts_.title.empty() ? "Flow chart" : texts_.title) + "</title>\n";
    svg_ += "<rect width=\"" + width + "\" height=\"" + height + "\" fill=\"white\"/>\n";
    for (const FlowText& text : page.texts) write(text);
    for (const FlowArrow& arrow : page.arrows) draw(arrow);
    for (const FlowBox& box : page.boxes) {
      svg_ += box.shape == FlowShape::go_to ? "<g>\n" : "<g id=\"node-" + std::to_string(box.node) + "\">\n";
      draw(box);
      for (const FlowText& text : box.above) write(text);
      for (const FlowText& text : box.texts) write(text);
      svg_ += "</g>\n";
    }
    return std::move(svg_ += "</svg>\n");
  }

 private:
  static constexpr std::string_view pen = " fill=\"none\" stroke=\"black\" stroke-width=\"0.3\"";

  /// To the hundredth, which is finer than any printer.
  [[nodiscard]] static std::string mm(double value) { return wording::number(value, 2); }
  [[nodiscard]] static std::string point(double x, double y) { return mm(x) + ',' + mm(y); }

  void rectangle(double x, double y, double width, double height, double rounding, std::string_view more = {}) {
    svg_ += "<rect x=\"" + mm(x) + "\" y=\"" + mm(y) + "\" width=\"" + mm(width) + "\" height=\"" + mm(height) + '"';
    if (rounding > 0.0) svg_ += " rx=\"" + mm(rounding) + '"';
    svg_.append(pen).append(more).append("/>\n");
  }

  void draw(const FlowBox& box) {
    switch (box.shape) {
      case FlowShape::test:
        return rectangle(box.x, box.y, box.width, box.height, 0.0);
      case FlowShape::repair:
        return rectangle(box.x, box.y, box.width, box.height, 3.0);
      case FlowShape::end:
        return rectangle(box.x, box.y, box.width, box.height, std::min(box.height / 2.0, 7.0));
      case FlowShape::hand_over:
        rectangle(box.x, box.y, box.width, box.height, 0.0);
        return rectangle(box.x + 0.8, box.y + 0.8, box.width - 1.6, box.height - 1.6, 0.0);
      case FlowShape::ask_again:
        return rectangle(box.x, box.y, box.width, box.height, 0.0, " stroke-dasharray=\"1.5 1\"");
      case FlowShape::go_to:
        break;
    }
    const double middle = box.y + box.height / 2.0;
    svg_ += "<polygon points=\"" + point(box.x, box.y) + ' ' + point(box.right() - 3.0, box.y) + ' ' +
            point(box.right(), middle) + ' ' + point(box.right() - 3.0, box.bottom()) + ' ' +
            point(box.x, box.bottom()) + '"';
    svg_.append(pen).append("/>\n");
  }

  void draw(const FlowArrow& arrow) {
    svg_ += "<polyline points=\"";
    for (const FlowPoint& at : arrow.points) svg_ += (&at == &arrow.points.front() ? "" : " ") + point(at.x, at.y);
    svg_.append("\"").append(pen).append("/>\n");
    const FlowPoint end = arrow.points.back();
    const FlowPoint before = arrow.points[arrow.points.size() - 2];
    constexpr double length = 1.8;
    constexpr double half = 0.7;
    const bool down = before.x == end.x;
    svg_ += "<polygon points=\"" + point(end.x, end.y) + ' ' +
            (down ? point(end.x - half, end.y - length) + ' ' + point(end.x + half, end.y - length)
                  : point(end.x - length, end.y - half) + ' ' + point(end.x - length, end.y + half)) +
            "\"/>\n";
  }

  /// A triangle with an exclamation mark.
  void caution_mark(const FlowText& text) {
    const double left = text.at.x - 4.2;
    const double foot = text.at.y + 0.2;
    svg_ += "<polygon points=\"" + point(left, foot) + ' ' + point(left + 3.2, foot) + ' ' +
            point(left + 1.6, foot - 2.8) + '"';
    svg_.append(pen).append("/>\n");
    svg_ += "<rect x=\"" + mm(left + 1.4) + "\" y=\"" + mm(foot - 1.9) + "\" width=\"0.4\" height=\"1\"/>\n";
    svg_ += "<rect x=\"" + mm(left + 1.4) + "\" y=\"" + mm(foot - 0.7) + "\" width=\"0.4\" height=\"0.4\"/>\n";
  }

  /// The width is that of Helvetica whatever face the reader has: a wider one is drawn narrower. Beyond ASCII widths
  /// are not known that well. Not every viewer heeds textLength, so lines are short enough for wide faces too.
  void write(const FlowText& text) {
    if (text.caution) caution_mark(text);
    svg_ += "<text x=\"" + mm(text.at.x) + "\" y=\"" + mm(text.at.y) + "\" font-size=\"" + mm(text.size) + '"';
    const bool ascii = std::all_of(text.text.begin(), text.text.end(), [](char c) { return c >= ' ' && c <= '~'; });
    if (ascii && !text.text.empty()) {
      svg_ +=
          " textLength=\"" + mm(text_width(text.text, {text.size, text.bold})) + "\" lengthAdjust=\"spacingAndGlyphs\"";
    }
    svg_ += (text.bold ? " font-weight=\"bold\">" : ">") + xml_escaped(text.text) + "</text>\n";
  }

  const FlowSheet& sheet_;
  const FlowChartTexts& texts_;
  std::string svg_;
};

}  // namespace detail

inline std::vector<std::string> write_flow_chart_svg(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  const FlowSheet sheet;
  std::vector<std::string> pages;
  detail::FlowSvg svg(sheet, texts);
  for (const FlowPage& page : lay_out_flow_chart(policy_tree, texts, sheet)) pages.push_back(svg.page(page));
  return pages;
}

inline std::string write_flow_chart_html(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  std::string html = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>" +
                     detail::xml_escaped(texts.title.empty() ? "Flow chart" : texts.title) +
                     "</title>\n<style>\n@page { size: A4; margin: 0; }\nbody { margin: 0; }\n"
                     "svg { display: block; margin: 0 auto; break-after: page; }\n</style>\n</head>\n<body>\n";
  for (const std::string& page : write_flow_chart_svg(policy_tree, texts)) html += page;
  return html += "</body>\n</html>\n";
}

}  // namespace faultodds

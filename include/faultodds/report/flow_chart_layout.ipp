// Bodies of flow_chart_layout.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "faultodds/model/stable_order.hpp"
#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart_cell.hpp"
#include "faultodds/report/flow_chart_layout.hpp"
#include "faultodds/report/flow_chart_step.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds {
namespace detail {

/// A policy tree with its boxes, ready to be placed.
struct FlowTree {
  const PolicyTree* policy_tree = nullptr;
  std::vector<FlowBox> boxes;          ///< by node, with what leads there over it
  std::vector<FlowBox> marks;          ///< the same, for where a node is left to another place
  std::vector<std::size_t> sizes;      ///< nodes below, itself included
  std::vector<VariableIndex> parents;  ///< of the start: itself

  [[nodiscard]] const PolicyNode& node(std::size_t index) const { return policy_tree->nodes[index]; }
};

/// Room on a page for the chart.
struct FlowRoom {
  double top = 0.0;
  double bottom = 0.0;
};

/// Places trees on one page, some of their nodes expanded and the others as marks.
class FlowPlacing {
 public:
  FlowPlacing(const FlowTree& tree, const FlowSheet& sheet, const FlowRoom& room, const std::vector<bool>& expanded)
      : tree_(tree),
        sheet_(sheet),
        room_(room),
        expanded_(expanded),
        below_(sheet.columns, room.top),
        entered_(sheet.columns, room.top) {}

  /// Draws the tree below a root under all that is there. False if the page is too small.
  [[nodiscard]] bool add(std::size_t root) {
    const double free = *std::max_element(below_.begin(), below_.end());
    std::fill(below_.begin(), below_.end(), free);
    std::fill(entered_.begin(), entered_.end(), free);
    place(root, 0, free);
    return fits_;
  }

  [[nodiscard]] FlowPage take() { return std::move(page_); }
  [[nodiscard]] const FlowPage& page() const { return page_; }

 private:
  static constexpr double gap = 4.5;        // between boxes of a column
  static constexpr double lane = 4.0;       // from a column's right edge to the line that serves the next
  static constexpr double last_lane = 3.5;  // from the last column's left edge to the line that serves it
  static constexpr double arrow_in = 3.5;   // from a box's left edge to an arrow from above

  [[nodiscard]] double column_width() const {
    const auto columns = static_cast<double>(sheet_.columns);
    return (sheet_.width - 2.0 * sheet_.margin - (columns - 1.0) * sheet_.gutter) / columns;
  }
  [[nodiscard]] double left_of(std::size_t column) const {
    return sheet_.margin + static_cast<double>(column) * (column_width() + sheet_.gutter);
  }
  [[nodiscard]] bool is_drawn(std::size_t node) const { return !goes_on(tree_.node(node)) || expanded_[node]; }

  /// Returns the index of the box.
  std::size_t place(std::size_t node, std::size_t column, double min_y) {
    FlowBox box = is_drawn(node) ? tree_.boxes[node] : tree_.marks[node];
    const bool parent = is_drawn(node) && goes_on(tree_.node(node));
    double y = std::max(below_[column], min_y);
    if (parent) y = std::max(y, entered_[column] + 2.0 + box.top - FlowType::entry);
    move(box, left_of(column), y - box.top);
    below_[column] = box.bottom() + gap;
    fits_ = fits_ && box.bottom() <= room_.bottom;
    const std::size_t index = page_.boxes.size();
    page_.boxes.push_back(std::move(box));
    if (parent && fits_) place_children(index, column);
    return index;
  }

  /// The child with the largest tree, of those that go on; nothing if none does.
  [[nodiscard]] std::optional<std::size_t> heaviest(const PolicyNode& node) const {
    std::optional<std::size_t> best;
    for (const PolicyBranch& branch : node.branches) {
      if (!goes_on(tree_.node(branch.node))) continue;
      if (!best || tree_.sizes[branch.node] > tree_.sizes[*best]) best = branch.node;
    }
    return best;
  }

  void place_children(VariableIndex parent, std::size_t column) {
    const PolicyNode& node = tree_.node(page_.boxes[parent].node);
    const std::optional<std::size_t> heavy = heaviest(node);
    const bool last = column + 1 == sheet_.columns;
    for (const PolicyBranch& branch : node.branches) {
      if (heavy == branch.node) continue;
      if (last) {
        fits_ = fits_ && !(goes_on(tree_.node(branch.node)) && expanded_[branch.node]);
        place_under(parent, branch.node, column, node.branches.size() > 1);
      } else {
        place_beside(parent, branch.node, column);
      }
      if (!fits_) return;
    }
    if (heavy) place_under(parent, *heavy, column, last && node.branches.size() > 1);
  }

  void place_beside(VariableIndex parent, VariableIndex child, std::size_t column) {
    const double above = is_drawn(child) ? -tree_.boxes[child].top : -tree_.marks[child].top;
    const std::size_t to = place(child, column + 1, page_.boxes[parent].y - above);
    const FlowBox& from_box = page_.boxes[parent];
    const FlowBox& to_box = page_.boxes[to];
    const double x = left_of(column) + column_width() + lane;
    const double exit = from_box.y + FlowType::entry;
    const double entry = to_box.y + std::min(FlowType::entry, to_box.height / 2.0);
    page_.arrows.push_back({parent, to, {{from_box.right(), exit}, {x, exit}, {x, entry}, {to_box.x, entry}}});
    entered_[column] = std::max(entered_[column], entry);
  }

  void place_under(VariableIndex parent, VariableIndex child, std::size_t column, bool at_the_side) {
    const std::size_t to = place(child, column, 0.0);
    const FlowBox& from_box = page_.boxes[parent];
    const FlowBox& to_box = page_.boxes[to];
    FlowArrow arrow{parent, to, {}};
    if (at_the_side) {
      const double x = from_box.x - last_lane;
      const double exit = from_box.bottom() - 2.5;
      const double entry = to_box.y + std::min(FlowType::entry, to_box.height / 2.0);
      arrow.points = {{from_box.x, exit}, {x, exit}, {x, entry}, {to_box.x, entry}};
    } else {
      arrow.points = {{from_box.x + arrow_in, from_box.bottom()}, {from_box.x + arrow_in, to_box.y}};
    }
    page_.arrows.push_back(std::move(arrow));
  }

  const FlowTree& tree_;
  const FlowSheet& sheet_;
  const FlowRoom& room_;
  const std::vector<bool>& expanded_;
  std::vector<double> below_;    // by column: where the next box may begin
  std::vector<double> entered_;  // by column: where the last arrow out of it to the right comes in
  bool fits_ = true;
  FlowPage page_;
};

/// Goes through a policy tree and fills page after page.
class FlowPages {
 public:
  FlowPages(const PolicyTree& policy_tree, const FlowChartTexts& texts, const FlowSheet& sheet)
      : policy_tree_(policy_tree),
        texts_(texts),
        sheet_(sheet),
        number_(policy_tree.nodes.size(), 0),
        page_of_(number_) {
    tree_.policy_tree = &policy_tree;
    make_boxes();
  }

  [[nodiscard]] std::vector<FlowPage> run() {
    write_head();
    waiting_ = {0};
    while (!waiting_.empty()) fill_page();
    for (std::size_t p = 0; p < pages_.size(); ++p) finish(p);
    return std::move(pages_);
  }

 private:
  static constexpr double foot_height = 8.0;

  [[nodiscard]] double bottom() const { return sheet_.height - sheet_.margin - foot_height; }
  [[nodiscard]] double width() const { return sheet_.width - 2.0 * sheet_.margin; }

  void make_boxes() {
    const auto columns = static_cast<double>(sheet_.columns);
    const double column = (width() - (columns - 1.0) * sheet_.gutter) / columns;
    const double max_height = (bottom() - sheet_.margin) * 0.6;
    const std::size_t count = policy_tree_.nodes.size();
    tree_.sizes.assign(count, 1);
    tree_.parents.assign(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
      tree_.boxes.push_back(flow_box(policy_tree_, texts_, i, column, max_height));
      tree_.marks.push_back(flow_mark(i, column));
    }
    for (std::size_t i = count; i-- > 0;) {
      for (const PolicyBranch& branch : policy_tree_.nodes[i].branches) {
        const std::string outcome = flow_outcome(texts_, policy_tree_.nodes[i], branch);
        say_above(tree_.boxes[branch.node], outcome, column);
        say_above(tree_.marks[branch.node], outcome, column);
        tree_.sizes[i] += tree_.sizes[branch.node];
        tree_.parents[branch.node] = i;
      }
    }
  }

  /// Title, safety and cautions, on as many pages as they take; the chart goes on below.
  void write_head() {
    FlowColumn column(width(), 0.0);
    if (!texts_.title.empty()) column.add(texts_.title, 5.0, true);
    column.space(1.0);
    if (texts_.invented) column.add(flow_invented(), FlowType::title, true);
    if (!texts_.safety.empty()) column.add("Safety: " + texts_.safety, FlowType::title, true);
    column.add("The vehicle maker's service information, local codes and licensed practice come first.",
               FlowType::title);
    column.space(1.0);
    column.add(flow_summary(policy_tree_, texts_), FlowType::title);
    for (const std::string& note : texts_.notes) column.add(note, FlowType::text);
    column.add(
        "Box: test. Rounded box: repair. Double frame: hand over. Oval: the end of the case. Dashed: not worked out "
        "here. Pentagon: goes on at another step. A share beside an outcome says how often it is expected there.",
        FlowType::text);
    column.space(1.5);
    const std::vector<bool> in_use = cautions_in_use(policy_tree_, texts_);
    for (std::size_t c = 0; c < in_use.size(); ++c) {
      if (!in_use[c]) continue;
      column.add_caution(texts_.cautions[c].label);
      column.add(texts_.cautions[c].text, FlowType::text, false, FlowType::caution_width);
      column.space(0.4);
    }
    const double height = column.below();
    double shift = sheet_.margin;
    pages_.emplace_back();
    for (FlowText& text : column.take()) {
      if (text.at.y + shift > bottom()) {
        pages_.emplace_back();
        shift = sheet_.margin - text.at.y + text.size;
      }
      text.at.x += sheet_.margin;
      text.at.y += shift;
      pages_.back().texts.push_back(text);
    }
    room_ = {height + shift + 4.0, bottom()};
  }

  /// A page with the most probable of the waiting trees, and as many more as go below it.
  void fill_page() {
    std::vector<std::size_t> roots;
    std::vector<bool> expanded(policy_tree_.nodes.size(), false);
    std::optional<FlowPage> page;
    sort_stably(waiting_, [&](std::size_t a, std::size_t b) {
      return policy_tree_.nodes[a].probability > policy_tree_.nodes[b].probability;
    });
    while (roots.size() < waiting_.size()) {
      roots.push_back(waiting_[roots.size()]);
      expanded[roots.back()] = true;
      name_root(roots.back());
      std::optional<FlowPage> longer = placed(roots, expanded);
      if (!longer) {
        expanded[roots.back()] = false;
        roots.pop_back();
        break;
      }
      page = std::move(longer);
      expand(roots, expanded, *page);
    }
    if (page) {
      waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(roots.size()));
      take_page(*std::move(page));
    } else if (room_.top <= sheet_.margin) {
      throw ArgumentError("policy_tree", "a step with more outcomes than a page has room for",
                          "write the chart as Markdown or DOT");
    }
    if (!waiting_.empty()) {
      pages_.emplace_back();
      room_ = {sheet_.margin, bottom()};
    }
  }

  [[nodiscard]] std::optional<FlowPage> placed(const std::vector<std::size_t>& roots,
                                               const std::vector<bool>& expanded) const {
    FlowPlacing placing(tree_, sheet_, room_, expanded);
    for (const std::size_t root : roots) {
      if (!placing.add(root)) return std::nullopt;
    }
    return placing.take();
  }

  /// Draws marked nodes as long as there is room, the most probable first.
  void expand(const std::vector<std::size_t>& roots, std::vector<bool>& expanded, FlowPage& page) const {
    std::vector<bool> refused(policy_tree_.nodes.size(), false);
    while (true) {
      std::optional<std::size_t> best;
      for (const FlowBox& box : page.boxes) {
        if (box.shape != FlowShape::go_to || refused[box.node]) continue;
        const double p = policy_tree_.nodes[box.node].probability;
        const bool better = !best || p > policy_tree_.nodes[*best].probability;
        if (better || (p == policy_tree_.nodes[*best].probability && box.node < *best)) best = box.node;
      }
      if (!best) return;
      expanded[*best] = true;
      if (std::optional<FlowPage> more = placed(roots, expanded)) {
        page = *std::move(more);
      } else {
        expanded[*best] = false;
        refused[*best] = true;
      }
    }
  }

  /// Says over a root where it comes from, which has been drawn before.
  void name_root(std::size_t root) {
    if (root == 0) return;
    const std::size_t parent = tree_.parents[root];
    for (const PolicyBranch& branch : policy_tree_.nodes[parent].branches) {
      if (branch.node != root) continue;
      FlowBox& box = tree_.boxes[root];
      say_above(box,
                "From step " + std::to_string(number_[parent]) + ", page " + std::to_string(page_of_[parent] + 1) +
                    ": " + flow_outcome(texts_, policy_tree_.nodes[parent], branch),
                box.width);
    }
  }

  void take_page(FlowPage page) {
    for (FlowBox& box : page.boxes) {
      page_of_[box.node] = box.shape == FlowShape::go_to ? page_of_[box.node] : pages_.size() - 1;
      if (box.shape == FlowShape::go_to) waiting_.push_back(box.node);
      if (box.shape != FlowShape::test && box.shape != FlowShape::repair) continue;
      number_[box.node] = ++numbered_;
      const std::string number = std::to_string(numbered_);
      box.texts.push_back({{box.x + FlowType::padding, box.texts.front().at.y}, FlowType::title, true, false, number});
    }
    page.texts = std::move(pages_.back().texts);
    pages_.back() = std::move(page);
  }

  /// Marks and the foot of a page, once all steps have their numbers.
  void finish(std::size_t index) {
    FlowPage& page = pages_[index];
    for (FlowBox& box : page.boxes) {
      if (box.shape != FlowShape::go_to) continue;
      const std::string text =
          "step " + std::to_string(number_[box.node]) + ", page " + std::to_string(page_of_[box.node] + 1);
      box.texts.push_back({{box.x + FlowType::padding, box.y + 4.0}, FlowType::text, true, false, text});
    }
    const std::string count = "Page " + std::to_string(index + 1) + " of " + std::to_string(pages_.size());
    const std::string foot = (texts_.invented ? "INVENTED DATA. " : "") +
                             std::string(texts_.cautions.empty() ? "" : "Cautions in full on page 1. ") + texts_.title;
    const double y = sheet_.height - sheet_.margin;
    const double count_width = max_text_width(count, {FlowType::small, false});
    const std::vector<std::string> lines = lines_of_width(foot, width() - count_width - 4.0, {FlowType::small, false});
    if (!lines.empty()) page.texts.push_back({{sheet_.margin, y}, FlowType::small, false, false, lines.front()});
    page.texts.push_back({{sheet_.width - sheet_.margin - count_width, y}, FlowType::small, false, false, count});
  }

  const PolicyTree& policy_tree_;
  const FlowChartTexts& texts_;
  const FlowSheet& sheet_;
  FlowTree tree_;
  FlowRoom room_;
  std::vector<std::size_t> number_;   // by node: of the step, 0 if it is not drawn yet
  std::vector<std::size_t> page_of_;  // by node
  std::size_t numbered_ = 0;
  std::vector<std::size_t> waiting_;
  std::vector<FlowPage> pages_;
};

inline void check_sheet(const FlowSheet& sheet) {
  check_length("sheet.width", sheet.width);
  check_length("sheet.height", sheet.height);
  check_length("sheet.margin", sheet.margin);
  check_length("sheet.gutter", sheet.gutter);
  constexpr std::size_t most = 100;
  if (sheet.columns == 0 || sheet.columns > most) {
    throw ArgumentError("sheet.columns", "it is " + std::to_string(sheet.columns),
                        "give a number from 1 to " + std::to_string(most), ErrorCode::wrong_number);
  }
}

}  // namespace detail

inline std::vector<FlowPage> lay_out_flow_chart(const PolicyTree& policy_tree, const FlowChartTexts& texts,
                                                const FlowSheet& sheet) {
  detail::check_flow_texts(policy_tree, texts);
  detail::check_sheet(sheet);
  return detail::FlowPages(policy_tree, texts, sheet).run();
}

}  // namespace faultodds

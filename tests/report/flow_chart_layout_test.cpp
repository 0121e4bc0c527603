// Layout of flow charts: nothing overlaps or leaves the page, every step is there once, and marks lead on.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/report/flow_chart_layout.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "decision/troubleshooting_problems.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/report/text_width.hpp"

namespace {

using namespace faultodds;
using faultodds_tests::ProblemShape;
using faultodds_tests::ProblemSource;

constexpr double hair = 1e-6;

struct Rectangle {
  double left, top, right, bottom;
};

Rectangle with_texts_above(const FlowBox& box) { return {box.x, box.top, box.right(), box.bottom()}; }

bool overlap(const Rectangle& a, const Rectangle& b) {
  return a.left < b.right - hair && b.left < a.right - hair && a.top < b.bottom - hair && b.top < a.bottom - hair;
}

/// Of a line of text in the widest face, from the top of its capitals to the foot of its letters.
Rectangle room_of(const FlowText& text) {
  const double width = max_text_width(text.text, {text.size, text.bold});
  return {text.at.x - (text.caution ? 4.2 : 0.0), text.at.y - 0.75 * text.size, text.at.x + width,
          text.at.y + 0.2 * text.size};
}

/// What an arrow covers between two of its points.
Rectangle stretch(const FlowPoint& a, const FlowPoint& b) {
  return {std::min(a.x, b.x) - 0.1, std::min(a.y, b.y) - 0.1, std::max(a.x, b.x) + 0.1, std::max(a.y, b.y) + 0.1};
}

void expect_texts_apart_and_inside(const std::vector<FlowText>& texts, const Rectangle& frame) {
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Rectangle room = room_of(texts[i]);
    EXPECT_GE(room.left, frame.left - hair) << texts[i].text;
    EXPECT_LE(room.right, frame.right + hair) << texts[i].text;
    EXPECT_GE(room.top, frame.top - hair) << texts[i].text;
    EXPECT_LE(room.bottom, frame.bottom + hair) << texts[i].text;
    for (std::size_t j = 0; j < i; ++j) {
      EXPECT_FALSE(overlap(room, room_of(texts[j]))) << texts[i].text << " | " << texts[j].text;
    }
  }
}

void expect_readable(const FlowPage& page) {
  const FlowSheet sheet;
  const Rectangle paper = {sheet.margin - 4.0, sheet.margin - hair, sheet.width - sheet.margin + hair,
                           sheet.height - sheet.margin + 1.0};
  expect_texts_apart_and_inside(page.texts, paper);
  for (std::size_t i = 0; i < page.boxes.size(); ++i) {
    const FlowBox& box = page.boxes[i];
    const Rectangle room = with_texts_above(box);
    EXPECT_GE(room.left, paper.left);
    EXPECT_LE(room.right, paper.right);
    EXPECT_GE(room.top, paper.top);
    EXPECT_LE(room.bottom, paper.bottom);
    std::vector<FlowText> within = box.texts;
    expect_texts_apart_and_inside(within, {box.x, box.y, box.right(), box.bottom()});
    expect_texts_apart_and_inside(box.above, {box.x, box.top, box.x + 54.0 + hair, box.y});
    for (const FlowText& text : page.texts) EXPECT_FALSE(overlap(room, room_of(text))) << text.text;
    for (std::size_t j = 0; j < i; ++j) {
      EXPECT_FALSE(overlap(room, with_texts_above(page.boxes[j]))) << box.node << ' ' << page.boxes[j].node;
    }
  }
}

/// Arrows pass by all boxes and texts, and those from different boxes do not run over each other.
void expect_clear_arrows(const FlowPage& page) {
  std::vector<std::pair<std::size_t, Rectangle>> stretches;
  for (const FlowArrow& arrow : page.arrows) {
    for (std::size_t p = 1; p < arrow.points.size(); ++p) {
      const Rectangle room = stretch(arrow.points[p - 1], arrow.points[p]);
      for (const FlowBox& box : page.boxes) {
        const Rectangle inside = {box.x + 0.2, box.y + 0.2, box.right() - 0.2, box.bottom() - 0.2};
        EXPECT_FALSE(overlap(room, inside)) << "arrow to " << page.boxes[arrow.to].node << " over " << box.node;
        for (const FlowText& text : box.above) EXPECT_FALSE(overlap(room, room_of(text))) << text.text;
      }
      for (const auto& [from, other] : stretches) {
        EXPECT_FALSE(from != arrow.from && overlap(room, other)) << "arrows of " << from << " and " << arrow.from;
      }
      stretches.emplace_back(arrow.from, room);
    }
  }
}

/// "step 12, page 3" of a mark leads to the box that carries this number on this page.
void expect_marks_lead_on(const std::vector<FlowPage>& pages) {
  std::map<std::size_t, std::string> places;
  for (std::size_t p = 0; p < pages.size(); ++p) {
    for (const FlowBox& box : pages[p].boxes) {
      const bool numbered = box.shape == FlowShape::test || box.shape == FlowShape::repair;
      if (numbered) places[box.node] = "step " + box.texts.back().text + ", page " + std::to_string(p + 1);
    }
  }
  for (const FlowPage& page : pages) {
    for (const FlowBox& box : page.boxes) {
      if (box.shape != FlowShape::go_to) continue;
      EXPECT_EQ(box.texts.at(0).text, places[box.node]);
    }
  }
}

void expect_each_node_once(const std::vector<FlowPage>& pages, const PolicyTree& policy_tree) {
  std::vector<std::size_t> seen(policy_tree.nodes.size(), 0);
  std::vector<std::size_t> marked = seen;
  std::vector<std::size_t> led_to = seen;
  for (const FlowPage& page : pages) {
    for (const FlowBox& box : page.boxes) ++(box.shape == FlowShape::go_to ? marked : seen)[box.node];
    for (const FlowArrow& arrow : page.arrows) {
      ++led_to[page.boxes[arrow.to].node];
      const auto& branches = policy_tree.nodes[page.boxes[arrow.from].node].branches;
      EXPECT_TRUE(std::any_of(branches.begin(), branches.end(),
                              [&](const PolicyBranch& branch) { return branch.node == page.boxes[arrow.to].node; }));
    }
  }
  for (std::size_t i = 0; i < seen.size(); ++i) {
    EXPECT_EQ(seen[i], 1U) << "node " << i;
    EXPECT_LE(marked[i], 1U) << "node " << i;
    EXPECT_EQ(led_to[i], i == 0 ? 0U : 1U) << "node " << i;
  }
}

std::string random_words(ProblemSource& source, std::size_t most) {
  static const std::vector<std::string> words = {
      "pump",     "of",       "the",
      "Ölfilter", "pressure", "rail",
      "at",       "WWWWWWWW", "a-very-long-word-that-fits-no-line-of-any-box-by-itself",
      "2 °C",     "i"};
  std::string text = words[source.below(words.size())];
  for (std::size_t i = source.below(most); i-- > 0;) text += ' ' + words[source.below(words.size())];
  return text;
}

FlowChartTexts random_texts(const TroubleshootingProblem& problem, ProblemSource& source) {
  FlowChartTexts texts = flow_chart_texts(problem);
  texts.title = random_words(source, 12);
  texts.safety = random_words(source, 30);
  texts.currency = "EUR";
  texts.invented = true;
  for (std::size_t c = 0; c < 4; ++c) texts.cautions.push_back({random_words(source, 4), random_words(source, 40)});
  for (auto* list : {&texts.tests, &texts.repairs, &texts.set_ups}) {
    for (FlowStepTexts& step : *list) {
      step.label = random_words(source, 8);
      step.procedure = random_words(source, 40);
      step.check = random_words(source, 8);
      for (std::string& outcome : step.outcomes) outcome = random_words(source, 6);
      if (source.chance(0.5)) step.cautions.push_back(source.below(4));
    }
  }
  return texts;
}

TEST(FlowChart, NothingOverlapsOrLeavesThePage) {
  ProblemSource source(11);
  std::size_t max_pages = 0;
  for (std::size_t round = 0; round < 40; ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    ProblemShape shape;
    shape.hypotheses = 2 + source.below(7);
    shape.tests = 1 + source.below(6);
    shape.repairs = 1 + source.below(5);
    shape.set_ups = source.below(4);
    const TroubleshootingProblem problem = source.problem(shape);
    const PolicyTree whole = source.chance(0.5) ? greedy_policy_tree(problem) : look_ahead_policy_tree(problem);
    const PolicyTree policy_tree = folded(whole, source.chance(0.5) ? 0.01 : 0.001);
    const std::vector<FlowPage> pages = lay_out_flow_chart(policy_tree, random_texts(problem, source));
    for (const FlowPage& page : pages) {
      expect_readable(page);
      expect_clear_arrows(page);
    }
    expect_each_node_once(pages, policy_tree);
    expect_marks_lead_on(pages);
    max_pages = std::max(max_pages, pages.size());
    if (::testing::Test::HasFailure()) return;
  }
  EXPECT_GT(max_pages, 2U) << "all were too small to go on to further pages";
}

// Whole trees of tests, each outcome to the end: the widest there is.
TEST(FlowChart, FullTreesFitToo) {
  for (const std::size_t outcomes : {2U, 3U, 6U}) {
    TroubleshootingProblem problem;
    problem.hypotheses = {"a"};
    problem.weights = {1.0};
    problem.ends.hand_over = 1.0;
    PolicyTree policy_tree;
    policy_tree.nodes.emplace_back().probability = 1.0;
    for (std::size_t i = 0; i < 40; ++i) {
      problem.tests.push_back({.name = "t" + std::to_string(i),
                               .cost = 1.0,
                               .set_ups = {},
                               .outcomes = std::vector<std::string>(outcomes, "outcome"),
                               .table = {}});
      policy_tree.nodes[i].step = {StepKind::test, i};
      for (std::size_t o = 0; o < outcomes; ++o) {
        const double p = 1.0 / static_cast<double>(outcomes);
        policy_tree.nodes[i].branches.push_back({.outcome = o, .probability = p, .node = policy_tree.nodes.size()});
        policy_tree.nodes.emplace_back().probability = policy_tree.nodes[i].probability * p;
      }
    }
    const std::vector<FlowPage> pages = lay_out_flow_chart(policy_tree, flow_chart_texts(problem));
    for (const FlowPage& page : pages) {
      expect_readable(page);
      expect_clear_arrows(page);
    }
    expect_each_node_once(pages, policy_tree);
    expect_marks_lead_on(pages);
  }
}

// Widths of H, e, l, o in the font metrics of Helvetica: 722, 556, 222, 556 thousandths; in bold 722, 556, 278, 611.
TEST(TextWidth, AddsTheWidthsOfTheCharacters) {
  EXPECT_NEAR(text_width("Hello", {10.0, false}), 22.78, 1e-12);
  EXPECT_NEAR(text_width("Hello", {10.0, true}), 24.45, 1e-12);
  EXPECT_NEAR(text_width("\xC3\xA9", {10.0, false}), 10.0, 1e-12);
}

// H, e, l, o in DejaVu Sans 2.37: 1540, 1260, 569, 1253 of 2048 units; in bold 1714, 1389, 702, 1407. The @ of
// Helvetica (1015 thousandths) is wider than that of DejaVu Sans (1000).
TEST(TextWidth, KnowsTheWidestFace) {
  EXPECT_NEAR(max_text_width("Hello", {10.0, false}), 10.0 * (1540 + 1260 + 2 * 569 + 1253) / 2048.0, 0.05);
  EXPECT_NEAR(max_text_width("Hello", {10.0, true}), 10.0 * (1714 + 1389 + 2 * 702 + 1407) / 2048.0, 0.05);
  EXPECT_NEAR(max_text_width("@", {10.0, false}), 10.15, 1e-12);
}

TEST(TextWidth, LinesKeepToTheWidthAndLoseNothing) {
  const std::string text = "Measure the pressure at the rail,\nthen a-word-that-is-much-too-long-for-one-line again";
  std::string together;
  for (const std::string& line : lines_of_width(text, 8.0, {1.0, false})) {
    EXPECT_LE(text_width(line, {1.0, false}), 8.0) << line;
    EXPECT_LE(max_text_width(line, {1.0, false}), 8.0) << line;
    together += line;
  }
  std::string right = text;
  std::erase_if(right, [](char c) { return c == ' ' || c == '\n'; });
  std::erase(together, ' ');
  EXPECT_EQ(together, right);
  EXPECT_TRUE(lines_of_width("", 5.0, {}).empty());
}

}  // namespace

// Flow charts in all their formats: texts survive, cautions come first, and the numbers are those of the policy tree.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/report/flow_chart.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/report/text_width.hpp"
#include "support/build.hpp"

namespace {

using namespace faultodds;

// ---- a lamp that stays dark: two tests, two repairs

/// A bicycle lamp. All numbers invented.
TroubleshootingProblem lamp() {
  TroubleshootingProblem problem;
  problem.hypotheses = {"battery empty", "bulb broken", "switch worn"};
  problem.weights = {0.5, 0.3, 0.2};
  problem.set_ups = {{.name = "lamp opened", .cost = 2.0, .needs = {}, .group = "", .in_place = false}};
  problem.tests = {{.name = "battery voltage",
                    .cost = 1.0,
                    .set_ups = {},
                    .outcomes = {"low", "good"},
                    .table = {0.9, 0.1, 0.05, 0.95, 0.05, 0.95}},
                   {.name = "look at the bulb",
                    .cost = 1.0,
                    .set_ups = {0},
                    .outcomes = {"broken", "whole"},
                    .table = {0.0, 1.0, 0.95, 0.05, 0.0, 1.0}}};
  problem.repairs = {
      {.name = "new battery",
       .cost = 8.0,
       .set_ups = {},
       .success = {1.0, 0.0, 0.0},
       .becomes = {},
       .verification = {}},
      {.name = "new bulb", .cost = 3.0, .set_ups = {0}, .success = {0.0, 1.0, 0.0}, .becomes = {}, .verification = {}}};
  problem.ends.hand_over = 30.0;
  return problem;
}

FlowChartTexts lamp_texts(const std::string& odd = {}) {
  FlowChartTexts texts = flow_chart_texts(lamp());
  texts.title = "Lamp stays dark" + odd;
  texts.safety = "Follow the maker's instructions." + odd;
  texts.currency = "EUR" + odd;
  texts.invented = true;
  texts.cautions = {{"Short circuit" + odd, "A battery heats up and may burst: never bridge its poles." + odd}};
  texts.tests[0].cautions = {0};
  texts.tests[0].procedure = "Hold the probes to the poles." + odd;
  texts.tests[0].outcomes[0] += odd;
  texts.set_ups[0].label += odd;
  texts.hypotheses[0] += odd;
  return texts;
}

std::string all_text(const std::vector<std::string>& pages) {
  std::string text;
  for (const std::string& page : pages) {
    pugi::xml_document document;
    EXPECT_TRUE(document.load_string(page.c_str()));
    for (const pugi::xpath_node& node : document.select_nodes("//text")) {
      text.append(node.node().text().get()).append(" ");
    }
  }
  return text;
}

TEST(FlowChart, CautionsComeBeforeWhatIsDone) {
  const PolicyTree policy_tree = greedy_policy_tree(lamp());
  const FlowChartTexts texts = lamp_texts();
  const std::string svg = all_text(write_flow_chart_svg(policy_tree, texts));
  const std::string markdown = write_flow_chart_markdown(policy_tree, texts);
  const std::string dot = write_flow_chart_dot(policy_tree, texts);
  const std::string json = write_flow_chart_json(policy_tree, texts);
  for (const std::string& text : {svg, markdown, dot, json}) {
    const std::size_t label = text.find("battery voltage");
    const std::size_t done = text.find("Hold the probes");
    ASSERT_NE(done, std::string::npos) << text;
    EXPECT_LT(label, done);
    EXPECT_LT(text.find("Short circuit", label), done) << "the caution is within the step, before what is done";
  }
  for (const std::string& text : {svg, markdown, json}) {
    EXPECT_LT(text.find("never bridge"), text.find("battery voltage")) << "the whole caution before the first step";
  }
}

TEST(FlowChart, TextsOfAnyKindSurvive) {
  const PolicyTree policy_tree = greedy_policy_tree(lamp());
  const std::string odd = " <b> & \"quoted\" 'single' \\n *star* _x_ `code` [link](x) | # \x01 \xFF {} é Ω ]]>";
  const std::string shown = "<b> & \"quoted\" 'single' \\n *star* _x_ `code` [link](x) | #   \xEF\xBF\xBD {} é Ω ]]>";
  const FlowChartTexts texts = lamp_texts(odd);
  const std::vector<std::string> pages = write_flow_chart_svg(policy_tree, texts);
  for (const std::string& page : pages) {
    pugi::xml_document document;
    ASSERT_TRUE(document.load_string(page.c_str()));
    for (const pugi::xpath_node& node : document.select_nodes("//*")) {
      EXPECT_TRUE(std::set<std::string>({"svg", "title", "rect", "polygon", "polyline", "g", "text"})
                      .contains(node.node().name()))
          << node.node().name();
    }
  }
  pugi::xml_document first;
  ASSERT_TRUE(first.load_string(pages.front().c_str()));
  const std::string title = first.select_node("//title").node().text().get();
  EXPECT_EQ(title.substr(0, 20), "Lamp stays dark <b> ");
  const auto json = nlohmann::json::parse(write_flow_chart_json(policy_tree, texts));
  EXPECT_EQ(json["cautions"][0]["label"], "Short circuit " + shown);
  const std::string markdown = write_flow_chart_markdown(policy_tree, texts);
  EXPECT_NE(markdown.find("\\<b\\> \\& \"quoted\" 'single' \\\\n \\*star\\* \\_x\\_ \\`code\\`"), std::string::npos);
  const std::string html = write_flow_chart_html(policy_tree, texts);
  EXPECT_EQ(html.find("<b>"), std::string::npos);
  const std::string dot = write_flow_chart_dot(policy_tree, texts);
  EXPECT_NE(dot.find("\\\"quoted\\\""), std::string::npos);
}

TEST(FlowChart, JsonHoldsThePolicyTree) {
  const PolicyTree policy_tree = greedy_policy_tree(lamp());
  const auto json = nlohmann::json::parse(write_flow_chart_json(policy_tree, lamp_texts()));
  EXPECT_EQ(json["expected_cost"], policy_tree.expected_cost());
  EXPECT_EQ(json["invented_data"], true);
  ASSERT_EQ(json["nodes"].size(), policy_tree.nodes.size());
  for (const auto& node : json["nodes"]) {
    double sum = 0.0;
    for (const auto& branch : node["branches"]) {
      sum += branch["probability"].get<double>();
      const auto& next = json["nodes"][branch["node"].get<std::size_t>()];
      EXPECT_NEAR(next["probability"].get<double>(),
                  node["probability"].get<double>() * branch["probability"].get<double>(), 1e-12);
    }
    EXPECT_TRUE(node["branches"].empty() || std::abs(sum - 1.0) < 1e-9);
  }
}

TEST(FlowChart, SaysTheSameEveryTime) {
  const PolicyTree policy_tree = greedy_policy_tree(lamp());
  const FlowChartTexts texts = lamp_texts();
  EXPECT_EQ(write_flow_chart_html(policy_tree, texts), write_flow_chart_html(policy_tree, texts));
  EXPECT_EQ(write_flow_chart_dot(policy_tree, texts), write_flow_chart_dot(policy_tree, texts));
}

// SVG 1.1, section 10.5: textLength is the width a line is drawn at, whatever the face of the reader.
TEST(FlowChart, LinesHaveTheWidthOfTheLayoutInAnyFace) {
  std::size_t lines = 0;
  for (const std::string& page : write_flow_chart_svg(greedy_policy_tree(lamp()), lamp_texts())) {
    static const std::regex line(
        "font-size=\"([0-9.]+)\" textLength=\"([0-9.]+)\" lengthAdjust=\"spacingAndGlyphs\"( "
        "font-weight=\"bold\")?>([^<&]*)<");
    for (std::sregex_iterator at(page.begin(), page.end(), line), end; at != end; ++at, ++lines) {
      const double width = text_width((*at)[4].str(), {std::stod((*at)[1]), (*at)[3].matched});
      EXPECT_NEAR(std::stod((*at)[2]), width, 0.5);  // the size of type is written to the hundredth
    }
  }
  EXPECT_GT(lines, 20U);
}

TEST(FlowChart, InventedDataAreMarkedOnEveryPage) {
  for (const std::string& page : write_flow_chart_svg(greedy_policy_tree(lamp()), lamp_texts())) {
    EXPECT_NE(all_text({page}).find("INVENTED DATA"), std::string::npos);
  }
}

TEST(FlowChart, TakesTheTextsOfAModelByTheNamesOfTheProblem) {
  support::Builder b;
  const std::size_t pump = b.component("pump", 0.1);
  const std::size_t pressure =
      b.variable("pressure", {"good", "low"}, Examination{.component = pump, .detection = {0.9}, .false_alarm = 0.1},
                 faultodds::Test{});
  ModelParts& parts = b.parts();
  parts.header.title = "No start";
  parts.header.invented = true;
  parts.cautions = {{.name = "heat", .label = "Heat", .description = "Let it cool."},
                    {.name = "fire", .label = "Fuel fire", .description = "No flames."}};
  parts.access.push_back({.name = "cover", .label = "engine cover off", .description = "", .work = {}});
  parts.access.back().work.cautions = {"heat"};
  parts.variables[pressure].label = "rail pressure";
  parts.variables[pressure].test().procedure = "Fit the gauge.";
  parts.variables[pressure].states[1].label = "too low";
  parts.variables[pressure].test().work.cautions = {"fire"};
  Repair repair;
  repair.name = "new_pump";
  repair.label = "renew the pump";
  repair.component = pump;
  repair.mends = {1};
  parts.repairs.push_back(repair);
  parts.verification = RepairCheck{};
  parts.verification->procedure = "Drive a mile.";
  parts.verification->work.cautions = {"heat"};
  TroubleshootingProblem problem;
  problem.set_ups = {{.name = "cover", .cost = 1.0, .needs = {}, .group = "", .in_place = false}};
  problem.tests = {{.name = "pressure", .cost = 1.0, .set_ups = {0}, .outcomes = {"good", "low"}, .table = {}},
                   {.name = "smell", .cost = 1.0, .set_ups = {}, .outcomes = {"none", "petrol"}, .table = {}}};
  problem.repairs.resize(1);
  problem.repairs[0].name = "new_pump";
  const FlowChartTexts texts = flow_chart_texts(problem, b.model());
  EXPECT_EQ(texts.title, "No start");
  EXPECT_TRUE(texts.invented);
  EXPECT_EQ(texts.tests[0].label, "rail pressure");
  EXPECT_EQ(texts.tests[0].procedure, "Fit the gauge.");
  EXPECT_EQ(texts.tests[0].outcomes, (std::vector<std::string>{"good", "too low"}));
  EXPECT_EQ(texts.tests[0].cautions, (std::vector<std::size_t>{1}));
  EXPECT_EQ(texts.tests[1].label, "smell");
  EXPECT_EQ(texts.repairs[0].label, "renew the pump");
  EXPECT_EQ(texts.repairs[0].check, "Drive a mile.");
  EXPECT_EQ(texts.repairs[0].cautions, (std::vector<std::size_t>{0})) << "those of the check, before the repair";
  EXPECT_EQ(texts.set_ups[0].label, "engine cover off");
  EXPECT_EQ(texts.set_ups[0].cautions, (std::vector<std::size_t>{0}));
}

TEST(FlowChart, RefusesTextsThatDoNotFitThePolicyTree) {
  const PolicyTree policy_tree = greedy_policy_tree(lamp());
  FlowChartTexts few = lamp_texts();
  few.tests.clear();
  EXPECT_THROW(static_cast<void>(write_flow_chart_dot(policy_tree, few)), ArgumentError);
  FlowChartTexts no_caution = lamp_texts();
  no_caution.cautions.clear();
  EXPECT_THROW(static_cast<void>(write_flow_chart_json(policy_tree, no_caution)), ArgumentError);
  EXPECT_THROW(static_cast<void>(write_flow_chart_svg(PolicyTree{}, lamp_texts())), ArgumentError);
  FlowChartTexts endless = lamp_texts();
  for (int i = 0; i < 2000; ++i) endless.tests[0].label += " word";
  EXPECT_THROW(static_cast<void>(write_flow_chart_svg(policy_tree, endless)), ArgumentError);
}

}  // namespace

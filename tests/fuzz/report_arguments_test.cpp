// Public calls of report/ and io/ with indices, sizes and numbers that do not fit, and texts cut and changed at random:
// all are refused or survived, none reads beyond memory. Worth most under the address sanitizer.
// SPDX-License-Identifier: BSD-3-Clause
#include <functional>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/io/bif.hpp"
#include "faultodds/io/dot.hpp"
#include "faultodds/io/job_json.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/model_json.hpp"
#include "faultodds/io/uai.hpp"
#include "faultodds/io/xmlbif.hpp"
#include "faultodds/report/flow_chart.hpp"
#include "faultodds/report/flow_chart_layout.hpp"
#include "faultodds/report/flow_chart_of_case.hpp"
#include "faultodds/report/job_report.hpp"
#include "faultodds/report/text_width.hpp"
#include "fuzz/wrong_values.hpp"
#include "job/workshop.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::no_index;
using support::refuses;
using support::survives;
using support::wrong_weight;

class WrongReports : public ::testing::Test {
 protected:
  static constexpr std::size_t times = 25;

  WrongReports() : current_(Solver(read_model(FAULTODDS_SOURCE_DIR "/models/tutorial.json"))) {
    current_.add_finding("dark", "present");
    made_ = problem_of(current_);
    tree_ = follow(made_.problem, greedy_policy(made_.problem));
    texts_ = flow_chart_texts(current_, made_);
  }

  /// All that is made of a policy tree and its texts.
  static std::vector<std::function<void(const PolicyTree&, const FlowChartTexts&)>> writers() {
    return {[](const auto& tree, const auto& texts) { static_cast<void>(write_flow_chart_svg(tree, texts)); },
            [](const auto& tree, const auto& texts) { static_cast<void>(write_flow_chart_html(tree, texts)); },
            [](const auto& tree, const auto& texts) { static_cast<void>(write_flow_chart_dot(tree, texts)); },
            [](const auto& tree, const auto& texts) { static_cast<void>(write_flow_chart_markdown(tree, texts)); },
            [](const auto& tree, const auto& texts) { static_cast<void>(write_flow_chart_json(tree, texts)); },
            [](const auto& tree, const auto& texts) { static_cast<void>(lay_out_flow_chart(tree, texts)); }};
  }

  /// A tree of which one index fits nothing.
  PolicyTree wrong_tree() {
    PolicyTree tree = tree_;
    const std::size_t last = tree.nodes.size() - 1;
    PolicyNode& start = tree.nodes.front();
    switch (dice_.below(6)) {
      case 0:
        start.step = {StepKind::test, no_index(dice_, texts_.tests.size())};
        break;
      case 1:
        start.step = {StepKind::repair, no_index(dice_, texts_.repairs.size())};
        break;
      case 2:
        start.set_ups.push_back(no_index(dice_, texts_.set_ups.size()));
        break;
      case 3:
        start.leading.push_back({.hypothesis = no_index(dice_, texts_.hypotheses.size()), .probability = 0.5});
        break;
      case 4:
        start.branches.front().node = no_index(dice_, last + 1);
        break;
      default:
        tree.nodes.clear();
        break;
    }
    return tree;
  }

  FlowChartTexts wrong_texts() {
    FlowChartTexts texts = texts_;
    FlowStepTexts* const steps[] = {&texts.hand_over, &texts.live_with, &texts.tests.front(), &texts.repairs.front(),
                                    &texts.set_ups.front()};
    steps[dice_.below(std::size(steps))]->cautions.push_back(no_index(dice_, texts.cautions.size()));
    return texts;
  }

  Dice dice_{4};
  Case current_;
  CaseProblem made_;
  PolicyTree tree_;
  FlowChartTexts texts_;
};

TEST_F(WrongReports, InFlowCharts) {
  for (const auto& write : writers()) {
    EXPECT_NO_THROW(write(tree_, texts_));
    for (std::size_t i = 0; i < times; ++i) {
      const PolicyTree tree = wrong_tree();
      const FlowChartTexts texts = wrong_texts();
      refuses("a wrong tree", [&] { write(tree, texts_); });
      refuses("wrong texts", [&] { write(tree_, texts); });
      refuses("no texts", [&] { write(tree_, {}); });
    }
  }
  for (std::size_t i = 0; i < times; ++i) {
    const double wrong = wrong_weight(dice_);
    for (const FlowSheet& sheet :
         {FlowSheet{.width = wrong}, FlowSheet{.height = wrong}, FlowSheet{.margin = wrong}, FlowSheet{.gutter = wrong},
          FlowSheet{.columns = 0}, FlowSheet{.columns = no_index(dice_, 1000)}}) {
      refuses("a sheet", [&] { static_cast<void>(lay_out_flow_chart(tree_, texts_, sheet)); });
    }
    CaseProblem made = made_;
    made.hand_over = no_index(dice_, current_.model().parts().hand_overs.size());
    refuses("flow_chart_texts", [&] { static_cast<void>(flow_chart_texts(current_, made)); });
  }
}

TEST_F(WrongReports, InWidthsOfTexts) {
  for (std::size_t i = 0; i < times; ++i) {
    const double wrong = wrong_weight(dice_);
    const std::string text(1 + dice_.below(20), 'x');
    refuses("text_width", [&] { static_cast<void>(text_width(text, {.size = wrong})); });
    refuses("max_text_width", [&] { static_cast<void>(max_text_width(text, {.size = wrong})); });
    refuses("lines_of_width", [&] { static_cast<void>(lines_of_width(text, 10.0, {.size = wrong})); });
    refuses("lines_of_width", [&] { static_cast<void>(lines_of_width(text, wrong, {})); });
  }
  EXPECT_EQ(lines_of_width("xyz", 0.0, {}).size(), 3U) << "a character a line, if none fits";
}

TEST_F(WrongReports, InReportsOfJobs) {
  const JobReport right = report_of(support::long_job());
  ASSERT_FALSE(right.steps.empty());
  for (std::size_t i = 0; i < times; ++i) {
    const double wrong = wrong_weight(dice_);
    std::vector<JobReport> all(8, right);
    all[0].labour_rate = wrong;
    all[1].steps.front().minutes = wrong;
    all[2].steps.back().money = wrong;
    all[3].steps.back().wait_minutes = wrong;
    all[4].faults.front().probability = wrong;
    all[5].faults.front().at_start = wrong;
    all[6].open_tests.push_back({.label = "x", .settles = wrong, .reason = {}});
    all[7].hand_over = ReportHandOver{.to = "x", .fee = wrong, .wait_minutes = {}, .what_to_tell = {}};
    for (const JobReport& report : all) {
      refuses("markdown", [&] { static_cast<void>(write_report_markdown(report)); });
      refuses("html", [&] { static_cast<void>(write_report_html(report)); });
      refuses("json", [&] { static_cast<void>(write_report_json(report)); });
    }
  }
}

TEST(WrongTexts, AreRefusedWhereverTheyAreCutOrChanged) {
  Dice dice{5};
  const Job job = support::long_job();
  const FaultModel plain = read_bif(write_bif(read_model(FAULTODDS_SOURCE_DIR "/models/tutorial.json")));
  using Reader = std::function<void(const std::string&)>;
  const std::vector<std::pair<std::string, Reader>> all = {
      {write_bif(plain), [](const std::string& text) { static_cast<void>(read_bif(text)); }},
      {write_xmlbif(plain), [](const std::string& text) { static_cast<void>(read_xmlbif(text)); }},
      {write_uai(plain), [](const std::string& text) { static_cast<void>(read_uai(text)); }},
      {write_model_json(job.solver().model()),
       [](const std::string& text) { static_cast<void>(read_model_json(text)); }},
      {write_job(job), [&](const std::string& text) { static_cast<void>(read_job(text, job.solver())); }},
      {write_uai_evidence({{0, 1}, {1, 0}}),
       [&](const std::string& text) { static_cast<void>(read_uai_evidence(text, plain)); }}};
  for (const auto& one : all) {
    const std::string& right = one.first;
    const auto& read = one.second;
    EXPECT_NO_THROW(read(right));
    for (std::size_t i = 0; i < 150; ++i) {
      std::string text = right.substr(0, dice.chance(0.3) ? dice.below(right.size()) : right.size());
      for (std::size_t n = dice.below(4); n-- > 0 && !text.empty();) {
        text[dice.below(text.size())] = static_cast<char>(dice.below(256));
      }
      survives("a changed text", [&] { read(text); });
    }
  }
}

TEST(WrongTexts, EvidenceOfWhatTheNetworkDoesNotHaveIsRefused) {
  Dice dice{6};
  const FaultModel plain = read_bif(write_bif(read_model(FAULTODDS_SOURCE_DIR "/models/tutorial.json")));
  for (std::size_t i = 0; i < 40; ++i) {
    const UaiFinding nobody{no_index(dice, plain.size()), 0};
    const UaiFinding nothing{0, no_index(dice, plain.state_count(0))};
    for (const UaiFinding& wrong : {nobody, nothing}) {
      EXPECT_THROW(static_cast<void>(read_uai_evidence(write_uai_evidence({wrong}), plain)), ModelError);
    }
  }
}

}  // namespace

// Job reports: sums add up to the cent, texts survive every format, what was ruled out is told from what is rare.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/report/job_report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "faultodds/model/errors.hpp"

namespace {

using namespace faultodds;

/// Characters with a meaning in HTML, Markdown or JSON.
const std::string awkward = R"(a <b> & "c" | *d* _e_ `f` [g](h) #1 \ 'i')";

ReportStep step(ReportStepKind kind, const std::string& label, const std::string& found, double minutes, double money,
                double labour) {
  ReportStep made;
  made.kind = kind;
  made.label = label;
  made.found = found;
  made.minutes = minutes;
  made.money = money;
  made.labour = labour;
  return made;
}

/// Everything that a report can say. Invented.
JobReport full_report() {
  JobReport report;
  report.title = "Low power, " + awkward;
  report.version = "1.2";
  report.invented = true;
  report.safety = "Let the engine cool. " + awkward;
  report.currency = "EUR";
  report.labour_rate = 66.0;
  report.about = {{"Date", "a day in spring"}};
  report.vehicle = {{"Engine", "V6, across"}, {awkward, "- dash"}};
  report.complaint = {{"Low power", "present"}};
  report.steps = {step(ReportStepKind::test, "Look at the air filter", "clean", 3.0, 0.0, 3.3),
                  step(ReportStepKind::test, "Fuel pressure " + awkward, "low (43 psi)", 12.5, 0.335, 13.75),
                  step(ReportStepKind::repair, "Replace the fuel filter", "still there", 25.0, 18.005, 27.5)};
  report.steps[1].first = {"Cover off", "engine warm"};
  report.steps[1].change = {"Fuel pump: worn rose from 12 % to 41 %."};
  report.steps[2].wait_minutes = 30.0;
  report.conclusion = "1. The fuel pump is worn, most likely.";
  report.why = {"+ The pressure is low."};
  report.faults = {{.label = "exhaust: blocked", .probability = 0.004, .at_start = 0.2},
                   {.label = "fuel pump: worn", .probability = 0.85, .at_start = 0.12},
                   {.label = "coil: dead " + awkward, .probability = 0.12, .at_start = 0.11},
                   {.label = "cam timing: off", .probability = 0.002, .at_start = 0.003},
                   {.label = "valve: burnt", .probability = 0.0, .at_start = std::nullopt}};
  report.open_tests = {{.label = "Compression " + awkward,
                        .settles = 0.25,
                        .minutes = 40.0,
                        .money = 0.0,
                        .labour = 44.0,
                        .reason = "no gauge"}};
  report.hand_over = ReportHandOver{.to = "Engine shop",
                                    .fee = 350.0,
                                    .wait_minutes = 2880.0,
                                    .what_to_tell = {"The pump was not opened. " + awkward}};
  report.cautions = {{"Fire", "Fuel under pressure: " + awkward}};
  return report;
}

pugi::xml_document parsed(const std::string& html) {
  pugi::xml_document document;
  const pugi::xml_parse_result result =
      document.load_buffer(html.data(), html.size(), pugi::parse_default | pugi::parse_doctype, pugi::encoding_utf8);
  EXPECT_TRUE(result) << result.description() << " at " << html.substr(static_cast<std::size_t>(result.offset), 60);
  return document;
}

/// All texts below a node, in order.
std::vector<std::string> texts_of(const pugi::xml_node& node) {
  std::vector<std::string> texts;
  for (const pugi::xpath_node& found : node.select_nodes(".//text()")) texts.emplace_back(found.node().value());
  return texts;
}

bool has_text(const std::vector<std::string>& texts, const std::string& wanted) {
  for (const std::string& text : texts) {
    if (text.find(wanted) != std::string::npos) return true;
  }
  return false;
}

/// "12.34" as 1234; fails on anything that is no amount with two decimals.
std::int64_t cents_read(const std::string& text) {
  const std::size_t point = text.find('.');
  EXPECT_EQ(point + 3, text.size()) << text;
  if (point + 3 != text.size()) return 0;
  return std::stoll(text.substr(0, point) + text.substr(point + 1));
}

std::vector<std::vector<std::string>> rows_of(const pugi::xml_document& document, const char* heading) {
  std::vector<std::vector<std::string>> rows;
  const std::string path = std::string("//h2[.='") + heading + "']/following-sibling::table[1]/tbody/tr";
  for (const pugi::xpath_node& row : document.select_nodes(path.c_str())) {
    rows.emplace_back();
    for (const pugi::xml_node& cell : row.node().children("td")) rows.back().emplace_back(cell.child_value());
  }
  return rows;
}

TEST(JobReport, AmountsRoundToTheNearestCentHalvesUp) {
  EXPECT_EQ(in_cents(0.125), 13);   // a half that doubles hold exactly
  EXPECT_EQ(in_cents(1.005), 101);  // a half in decimals, a hair below as a double
  EXPECT_EQ(in_cents(12.5 * 66.0 / 60.0), 1375);
  EXPECT_EQ(in_cents(0.0049), 0);
  EXPECT_EQ(in_cents(0.00499999), 0);
  EXPECT_EQ(in_cents(-0.125), -13);
  EXPECT_EQ(in_cents(1234567.89), 123456789);
  EXPECT_THROW((void)in_cents(std::nan("")), ArgumentError);
  EXPECT_THROW((void)in_cents(std::numeric_limits<double>::infinity()), ArgumentError);
  EXPECT_THROW((void)in_cents(1e14), ArgumentError);
}

// The rows of the printed table are read back and added up here.
TEST(JobReport, PrintedSumsAreThoseOfThePrintedRows) {
  std::mt19937 random(4);
  std::uniform_real_distribution<double> amount(0.0, 400.0);
  for (int round = 0; round < 20; ++round) {
    JobReport report;
    for (int i = 0; i < 37; ++i) {
      const double minutes = amount(random) / 10.0;
      report.steps.push_back(step(ReportStepKind::test, "t", "f", minutes, amount(random), minutes * 71.3 / 60.0));
    }
    const auto rows = rows_of(parsed(write_report_html(report)), "What was done and what it cost");
    ASSERT_EQ(rows.size(), 38U);
    std::int64_t money = 0;
    std::int64_t labour = 0;
    for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
      ASSERT_EQ(cents_read(rows[i][4]) + cents_read(rows[i][5]), cents_read(rows[i][6]));
      EXPECT_NEAR(report.steps[i].money, static_cast<double>(cents_read(rows[i][4])) / 100.0, 0.005 + 1e-9);
      money += cents_read(rows[i][4]);
      labour += cents_read(rows[i][5]);
    }
    EXPECT_EQ(cents_read(rows.back()[4]), money);
    EXPECT_EQ(cents_read(rows.back()[5]), labour);
    EXPECT_EQ(cents_read(rows.back()[6]), money + labour);
    const auto json = nlohmann::json::parse(write_report_json(report));
    EXPECT_EQ(std::llround(json.at("sums").at("cost").get<double>() * 100.0), money + labour);
    EXPECT_EQ(sums_of(report).cost, money + labour);
  }
}

TEST(JobReport, AnExampleByHand) {
  // 3.30; 0.335 -> 0.34, with 13.75 -> 14.09; 18.005 -> 18.01, with 27.50 -> 45.51. Together 62.90.
  const ReportSums sums = sums_of(full_report());
  EXPECT_EQ(sums.step_costs, (std::vector<std::int64_t>{330, 1409, 4551}));
  EXPECT_EQ(sums.money, 1835);
  EXPECT_EQ(sums.labour, 4455);
  EXPECT_EQ(sums.cost, 6290);
  EXPECT_DOUBLE_EQ(sums.minutes, 40.5);
  EXPECT_DOUBLE_EQ(sums.wait_minutes, 30.0);
}

TEST(JobReport, HtmlIsWellFormedAndAsksForNothingFromOutside) {
  const std::string html = write_report_html(full_report());
  EXPECT_TRUE(html.starts_with("<!DOCTYPE html>\n"));
  const pugi::xml_document document = parsed(html);
  EXPECT_EQ(std::string(document.child("html").attribute("lang").value()), "en");
  EXPECT_EQ(std::string(document.select_node("//meta/@charset").attribute().value()), "utf-8");
  const std::set<std::string> allowed = {"lang", "charset", "name", "content", "class", "scope"};
  for (const pugi::xpath_node& found : document.select_nodes("//@*")) {
    EXPECT_TRUE(allowed.contains(found.attribute().name())) << found.attribute().name();
  }
  for (const char* element : {"script", "link", "img", "iframe", "object"}) {
    EXPECT_TRUE(document.select_nodes((std::string("//") + element).c_str()).empty()) << element;
  }
  const std::string style = document.select_node("//style").node().child_value();
  EXPECT_EQ(style.find("url("), std::string::npos);
  EXPECT_EQ(style.find("@import"), std::string::npos);
  EXPECT_NE(style.find("size: A4"), std::string::npos);
}

TEST(JobReport, TextsSurviveHtmlAndJson) {
  const JobReport report = full_report();
  const pugi::xml_document document = parsed(write_report_html(report));
  const std::vector<std::string> texts = texts_of(document.child("html").child("body"));
  const std::vector<std::string> wanted = {report.title,
                                           report.safety,
                                           report.vehicle[1].label,
                                           report.steps[1].label,
                                           "low (43 psi)",
                                           "Fuel pump: worn rose from 12\xC2\xA0% to 41\xC2\xA0%.",
                                           "First: Cover off, then engine warm",
                                           "Repair: Replace the fuel filter",
                                           report.conclusion,
                                           report.why[0],
                                           report.faults[2].label,
                                           report.open_tests[0].label,
                                           report.hand_over->what_to_tell[0],
                                           report.cautions[0].text,
                                           "62.90",
                                           "350.00 EUR"};
  for (const std::string& text : wanted) EXPECT_TRUE(has_text(texts, text)) << text;
  const auto json = nlohmann::json::parse(write_report_json(report));
  EXPECT_EQ(json.at("steps")[1].at("label"), report.steps[1].label);
  EXPECT_EQ(json.at("steps")[2].at("kind"), "repair");
  EXPECT_EQ(json.at("steps")[2].at("cost"), 45.51);
  EXPECT_EQ(json.at("hand_over").at("what_to_tell")[0], report.hand_over->what_to_tell[0]);
  EXPECT_EQ(json.at("invented_data"), true);
}

// CommonMark 0.30, section 2.4: a backslash makes any ASCII punctuation character literal.
TEST(JobReport, MarkdownKeepsItsTablesAndMarksNothingThatIsNotItsOwn) {
  const JobReport report = full_report();
  const std::string markdown = write_report_markdown(report);
  std::size_t rows = 0;
  std::size_t begin = 0;
  while (begin < markdown.size()) {
    const std::size_t end = markdown.find('\n', begin);
    const std::string line = markdown.substr(begin, end - begin);
    begin = end + 1;
    std::string bare;  // what is left without escaped characters
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (line[i] == '\\') {
        ++i;
      } else {
        bare += line[i];
      }
    }
    EXPECT_EQ(bare.find_first_of("<>&_`[]\\"), std::string::npos) << line;
    if (!bare.starts_with('|')) continue;
    ++rows;
    const auto bars = std::count(bare.begin(), bare.end(), '|');
    EXPECT_TRUE(bars == 8 || bars == 4 || bars == 6) << line;
  }
  EXPECT_EQ(rows, (2U + 4U) + (2U + 2U) + (2U + 1U));
  EXPECT_NE(markdown.find("\n1\\. The fuel pump is worn"), std::string::npos);
  EXPECT_NE(markdown.find("\n\\+ The pressure is low."), std::string::npos);
  EXPECT_NE(markdown.find("**62.90**"), std::string::npos);
}

TEST(JobReport, RuledOutIsWhatFindingsSpokeAgainst) {
  const auto faults = nlohmann::json::parse(write_report_json(full_report())).at("faults");
  ASSERT_EQ(faults.at("leading").size(), 2U);
  EXPECT_EQ(faults.at("leading")[0].at("label"), "fuel pump: worn");
  ASSERT_EQ(faults.at("ruled_out").size(), 1U);
  EXPECT_EQ(faults.at("ruled_out")[0].at("label"), "exhaust: blocked");
  EXPECT_EQ(faults.at("rare").size(), 2U);
  const auto rows = rows_of(parsed(write_report_html(full_report())), "How sure that is");
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0], (std::vector<std::string>{"fuel pump: worn", "12\xC2\xA0%", "85\xC2\xA0%"}));
}

TEST(JobReport, CautionsAndSafetyComeBeforeTheWork) {
  for (const std::string& text : {write_report_html(full_report()), write_report_markdown(full_report())}) {
    const std::size_t work = text.find("What was done");
    ASSERT_NE(work, std::string::npos);
    EXPECT_LT(text.find("INVENTED DATA"), work);
    EXPECT_LT(text.find("Let the engine cool"), work);
    EXPECT_LT(text.find("Fuel under pressure"), work);
    EXPECT_LT(text.find("service information"), work);
  }
}

TEST(JobReport, AnEmptyReportSaysThatNothingWasDone) {
  const pugi::xml_document document = parsed(write_report_html({}));
  const std::vector<std::string> texts = texts_of(document.child("html").child("body"));
  EXPECT_TRUE(has_text(texts, "Job report"));
  EXPECT_TRUE(has_text(texts, "Nothing has been done yet."));
  EXPECT_FALSE(has_text(texts, "INVENTED"));
  EXPECT_TRUE(document.select_nodes("//table").empty());
}

TEST(JobReport, TheSameReportGivesTheSameBytes) {
  EXPECT_EQ(write_report_html(full_report()), write_report_html(full_report()));
  EXPECT_EQ(write_report_markdown(full_report()), write_report_markdown(full_report()));
  EXPECT_EQ(write_report_json(full_report()), write_report_json(full_report()));
}

TEST(JobReport, ImpossibleNumbersAreRefusedByTheirPlace) {
  const auto argument_of = [](const JobReport& report) {
    try {
      (void)write_report_json(report);
    } catch (const ArgumentError& error) {
      return error.argument();
    }
    return std::string("nothing was refused");
  };
  JobReport report = full_report();
  report.steps[2].minutes = -1.0;
  EXPECT_EQ(argument_of(report), "steps[2].minutes");
  report = full_report();
  report.steps[0].labour = std::nan("");
  EXPECT_EQ(argument_of(report), "steps[0].labour");
  report = full_report();
  report.faults[1].probability = 1.5;
  EXPECT_EQ(argument_of(report), "faults[1].probability");
  report = full_report();
  report.open_tests[0].settles = std::nan("");
  EXPECT_EQ(argument_of(report), "open_tests[0].settles");
  report = full_report();
  report.hand_over->fee = -3.0;
  EXPECT_EQ(argument_of(report), "hand_over.fee");
}

TEST(JobReport, BrokenTextBecomesReadable) {
  JobReport report = full_report();
  report.conclusion = "half a character: \xC3, a bell: \a";
  const std::vector<std::string> texts = texts_of(parsed(write_report_html(report)).child("html").child("body"));
  EXPECT_TRUE(has_text(texts, "half a character: \xEF\xBF\xBD, a bell:"));
  EXPECT_TRUE(nlohmann::json::accept(write_report_json(report)));
}

}  // namespace

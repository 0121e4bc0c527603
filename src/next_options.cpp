// SPDX-License-Identifier: BSD-3-Clause
#include "next_options.hpp"

#include <algorithm>
#include <map>

#include "amounts.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

const std::map<std::string, RankBy>& orders() {
  static const std::map<std::string, RankBy> known = {{"", RankBy::gain_per_cost},
                                                      {"expected-cost", RankBy::gain_per_cost},
                                                      {"gain-per-cost", RankBy::gain_per_cost},
                                                      {"gain", RankBy::gain},
                                                      {"cost", RankBy::cost},
                                                      {"gain-per-minute", RankBy::gain_per_minute}};
  return known;
}

template <class Named>
void check_known(const std::string& kind, const std::vector<Named>& known, const std::vector<std::string>& wanted) {
  std::vector<std::string> names;
  for (const Named& one : known) names.push_back(one.name);
  for (const std::string& name : wanted) {
    if (std::find(names.begin(), names.end(), name) == names.end())
      throw UnknownName(kind, name, nearest_names(name, names), {}, names);
  }
}

void add_limits(CLI::App& command, RankTexts& texts) {
  CLI::Option* none =
      command.add_flag("--no-opening", texts.no_opening, "No dismantling: leave out work that opens anything");
  add_repeated(command, "--closed", texts.closed, "Opening work that must not be done", "ACCESS")->excludes(none);
  command.add_option("--max-cost", texts.max_cost, "Leave out work that costs more")
      ->check(amount())
      ->option_text("MONEY");
  command.add_option("--max-minutes", texts.max_minutes, "Leave out work that takes longer, waiting included")
      ->check(amount())
      ->option_text("MINUTES");
}

}  // namespace

std::string RankTexts::by_in_words() const {
  if (by_expected_cost()) return "what the case is expected to cost with them";
  switch (orders().at(by)) {
    case RankBy::gain:
      return "what they tell";
    case RankBy::cost:
      return "cost, cheapest first";
    case RankBy::gain_per_minute:
      return "what they tell for their minutes";
    case RankBy::gain_per_cost:
      break;
  }
  return "what they tell for their cost";
}

void add_rank_options(CLI::App& command, RankTexts& texts, const std::string& by_default) {
  add_repeated(command, "--target", texts.targets,
               "A fault in question (default: all that can account for the findings)", "NAME");
  add_repeated(command, "--test", texts.tests, "A test to rank (default: all not yet done)", "NAME");
  command
      .add_option(
          "--by", texts.by,
          "Order: gain-per-cost, gain, cost, gain-per-minute or expected-cost, which is money to the end of the "
          "case (default: " +
              by_default + ')')
      ->check(CLI::IsMember({"gain-per-cost", "gain", "cost", "gain-per-minute", "expected-cost"}))
      ->option_text("ORDER");
  command
      .add_option(
          "--gain", texts.gain,
          "Gain about the joint state of the faults, or summed per-component (default: joint where it is in reach)")
      ->check(CLI::IsMember({"joint", "per-component"}))
      ->option_text("KIND");
  add_repeated(command, "--have-tool", texts.tools, "A tool at hand; tests that need others are left out", "NAME");
  command.add_flag("--no-tools", texts.no_tools, "No tools at hand: tests that need any are left out")
      ->excludes("--have-tool");
  command.add_option("--skill", texts.skill, "Leave out tests above this skill")->option_text("NAME");
  add_repeated(command, "--open", texts.open, "Opening work already done", "ACCESS");
  add_repeated(command, "--condition", texts.conditions, "In place already, such as a cold engine", "NAME");
  command.add_option("--labour-rate", texts.labour_rate, "Money an hour (default: that of the model)")
      ->check(amount())
      ->option_text("MONEY");
  add_limits(command, texts);
}

RankOptions rank_options(const FaultModel& model, const RankTexts& texts) {
  RankOptions options;
  options.targets = variables_named(model, texts.targets, "--target");
  options.tests = variables_named(model, texts.tests, "--test");
  options.by = orders().at(texts.by);
  options.gain = texts.gain == "per-component" ? GainKind::per_component : GainKind::joint;
  options.joint_only = texts.gain == "joint";
  return options;
}

Means means_of(const FaultModel& model, const RankTexts& texts) {
  check_known("tool", model.parts().tools, texts.tools);
  check_known("access", model.parts().access, texts.open);
  check_known("access", model.parts().access, texts.closed);
  check_known("condition", model.parts().conditions, texts.conditions);
  if (!texts.skill.empty()) check_known("skill", model.parts().skills, {texts.skill});
  Means means;
  if (texts.no_tools || !texts.tools.empty()) means.tools = texts.tools;
  if (!texts.skill.empty()) means.skill = texts.skill;
  means.open_access = texts.open;
  means.conditions = texts.conditions;
  means.labour_rate = texts.labour_rate;
  means.closed_access = texts.closed;
  if (texts.no_opening) {
    for (const Access& access : model.parts().access) means.closed_access.push_back(access.name);
  }
  means.max_cost = texts.max_cost;
  means.max_minutes = texts.max_minutes;
  return means;
}

}  // namespace faultodds::program

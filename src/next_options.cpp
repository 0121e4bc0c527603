#include "next_options.hpp"

#include <algorithm>
#include <map>

#include "findings.hpp"

namespace faultodds::program {
namespace {

const std::map<std::string, RankBy>& orders() {
  static const std::map<std::string, RankBy> known = {{"gain-per-cost", RankBy::gain_per_cost},
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

}  // namespace

std::string RankTexts::by_in_words() const {
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

void add_rank_options(CLI::App& command, RankTexts& texts) {
  add_repeated(command, "--target", texts.targets,
               "A fault in question (default: all that can account for the findings)", "NAME");
  add_repeated(command, "--test", texts.tests, "A test to rank (default: all not yet done)", "NAME");
  command.add_option("--by", texts.by, "Order: gain-per-cost (default), gain, cost or gain-per-minute")
      ->check(CLI::IsMember({"gain-per-cost", "gain", "cost", "gain-per-minute"}))
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
      ->check(CLI::NonNegativeNumber)
      ->option_text("MONEY");
}

RankOptions rank_options(const FaultModel& model, const RankTexts& texts) {
  check_known("tool", model.parts().tools, texts.tools);
  check_known("access", model.parts().access, texts.open);
  check_known("condition", model.parts().conditions, texts.conditions);
  if (!texts.skill.empty()) check_known("skill", model.parts().skills, {texts.skill});
  RankOptions options;
  options.targets = variables_named(model, texts.targets, "--target");
  options.tests = variables_named(model, texts.tests, "--test");
  options.by = orders().at(texts.by);
  options.gain = texts.gain == "per-component" ? GainKind::per_component : GainKind::joint;
  options.joint_only = texts.gain == "joint";
  options.limit_tools = texts.no_tools || !texts.tools.empty();
  options.tools = texts.tools;
  options.skill = texts.skill;
  options.open_access = texts.open;
  options.conditions = texts.conditions;
  options.labour_rate = texts.labour_rate;
  return options;
}

}  // namespace faultodds::program

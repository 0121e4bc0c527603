// SPDX-License-Identifier: BSD-3-Clause
#include "advised_step.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "advice.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

std::vector<std::string> labels_of(const std::vector<Term>& terms) {
  std::vector<std::string> labels;
  for (const Term& term : terms) labels.push_back(term.label);
  return labels;
}

/// With the minutes that each takes: "lamp opened (3 min), then cover off (5 min)".
std::string access_text(const FaultModel& model, const std::vector<Term>& opens) {
  std::vector<std::string> texts;
  for (const Term& term : opens) {
    const Access& access = model.parts().access[model.index_of_access(term.name)];
    texts.push_back(term.label + (access.work.minutes ? " (" + number(*access.work.minutes, 0) + " min)" : ""));
  }
  return joined(texts, ", then ");
}

std::string conditions_text(const FaultModel& model, const std::vector<std::string>& names) {
  std::vector<std::string> texts;
  for (const std::string& name : names) {
    const Condition& condition = model.parts().conditions[model.index_of_condition(name)];
    const double minutes = condition.work.minutes.value_or(0.0);
    texts.push_back(label_or_name(condition) + (minutes > 0.0 ? " (" + number(minutes, 0) + " min)" : ""));
  }
  return joined(texts);
}

void show_cautions(const Screen& screen, const std::vector<Term>& cautions) {
  for (const Term& caution : cautions)
    screen.caution(caution.label + (caution.description.empty() ? "" : ": " + caution.description));
}

/// What must be opened and brought about, and how it is done.
void show_way(const Screen& screen, const FaultModel& model, const AdvisedStep& step) {
  show_cautions(screen, step.cautions);
  if (!step.opens.empty()) screen.item("First", access_text(model, step.opens));
  std::vector<std::string> brings;
  for (const Term& term : step.brings) brings.push_back(term.name);
  if (!brings.empty()) screen.item("Needs", conditions_text(model, brings));
  if (!step.procedure.empty()) screen.item("How", step.procedure);
}

/// What time and material cost, and both together.
std::string cost_text(const AdvisedStep& step, const std::string& currency) {
  std::vector<std::string> parts;
  if (step.minutes > 0.0) parts.push_back(number(step.minutes, 0) + " min");
  if (step.money > 0.0) parts.push_back(money(step.money, currency));
  std::string text = parts.empty() ? "nothing" : joined(parts, " and ");
  if (step.cost > step.money) text += "; with labour " + money(step.cost, currency);
  if (step.wait_minutes > 0.0) text += "; the vehicle waits for " + span_of_time(step.wait_minutes);
  return text;
}

void show_demands(const Screen& screen, const FaultModel& model, const AdvisedStep& step) {
  if (!step.tools.empty()) screen.item("Tools", joined(labels_of(step.tools)));
  if (step.skill) screen.item("Skill", step.skill->label);
  if (step.cost_known) screen.item("Cost", cost_text(step, model.header().currency));
}

/// What an outcome would do to the leading faults: the largest changes first.
std::string effect_text(const std::vector<AdvisedFault>& leading, const AdvisedOutcome& outcome) {
  std::vector<std::pair<double, std::size_t>> changes;
  for (std::size_t i = 0; i < std::min(outcome.leading.size(), leading.size()); ++i) {
    const double size = std::abs(outcome.leading[i] - leading[i].probability);
    if (size >= 0.005) changes.emplace_back(size, i);
  }
  std::stable_sort(changes.begin(), changes.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < std::min<std::size_t>(changes.size(), 3); ++i) {
    const AdvisedFault& before = leading[changes[i].second];
    parts.push_back(before.label + ' ' + percent(before.probability) + " -> " +
                    percent(outcome.leading[changes[i].second]));
  }
  return parts.empty() ? "hardly moves the leading faults" : joined(parts, "; ");
}

std::string proposal_text(const Advice& advice) {
  const AdvisedStep& step = advice.proposed;
  const std::string name = step_text(step);
  const std::string cost = money(step.price.value().in_the_end, advice.currency);
  if (advice.passed_over) {
    const auto past = std::find_if(advice.alternatives.begin(), advice.alternatives.end(),
                                   [&](const AdvisedStep& one) { return one.step == *advice.passed_over; });
    return "Passed over: " + (past == advice.alternatives.end() ? "what comes first" : step_text(*past)) +
           ". Of the tests, " + name + " is the best (" + cost + " expected).";
  }
  if (std::holds_alternative<TestStep>(step.step)) {
    return "Cheapest in the end: test first, " + name + " (" + cost + " expected)" +
           (advice.cheaper == 0 ? "." : "; of tests within 1 % it tells most for its cost.");
  }
  if (std::holds_alternative<RepairStep>(step.step))
    return "Cheapest in the end: repair now, " + name + " (" + cost + " expected).";
  if (std::holds_alternative<HandOverStep>(step.step))
    return "Cheapest in the end: hand over. No test and no repair here pays for itself any more.";
  return "Cheapest in the end: leave it as it is. No test and no repair here pays for itself.";
}

std::string left_text(const std::vector<AdvisedFault>& faults, std::size_t most) {
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < std::min(most, faults.size()); ++i)
    parts.push_back(faults[i].label + ' ' + percent(faults[i].probability));
  return joined(parts, "; ");
}

Json names_json(const std::vector<Term>& terms) {
  Json names = Json::array();
  for (const Term& term : terms) names.push_back(term.name);
  return names;
}

Json outcomes_json(const AdvisedStep& step) {
  Json outcomes = Json::object();
  for (const AdvisedOutcome& outcome : step.outcomes) outcomes[outcome.name] = outcome.probability;
  return outcomes;
}

Json optional_json(const std::optional<double>& number) { return number ? Json(*number) : Json(); }

}  // namespace

std::string step_text(const AdvisedStep& step) {
  if (std::holds_alternative<HandOverStep>(step.step))
    return step.name.empty() ? "hand over" : "hand over: " + step.label;
  if (std::holds_alternative<LiveWithStep>(step.step)) return "leave it as it is";
  return step.label;
}

void show_test(const Screen& screen, const FaultModel& model, const AdvisedStep& step) {
  const Variable& test = model.variable(std::get<TestStep>(step.step).test);
  screen.heading("Next test: " + step.label + (test.label.empty() ? "" : "  [" + test.name + ']'));
  show_way(screen, model, step);
  if (!step.description.empty()) screen.item("Note", step.description);
  show_reading(screen, test);
  show_demands(screen, model, step);
}

void show_why(const Screen& screen, const Advice& advice, const AdvisedStep& step) {
  const Ranking& ranking = advice.ranking;
  const std::string least = ranking.entropy_is_bound ? "at least " : "";
  const std::string about = ranking.gain == GainKind::joint ? "" : ", summed over the components one by one";
  screen.item("Why", "expected to settle " + least + percent(step.settles) +
                         " of what is still open about the cause (" + number(step.gain_bits, 3) + " of " +
                         number(ranking.entropy_bits, 2) + " bits" + about +
                         "; one bit settles one even yes-or-no question)");
  for (const AdvisedOutcome& outcome : step.outcomes) {
    if (outcome.probability <= 0.0) {
      screen.text("- " + outcome.label + ": cannot be, given what was found", 11, 2);
      continue;
    }
    const std::string effect = outcome.leading.empty() ? "" : ": " + effect_text(advice.leading, outcome);
    screen.text("- " + outcome.label + " (" + percent(outcome.probability) + ')' + effect, 11, 2);
  }
}

void show_repair(const Screen& screen, const FaultModel& model, const AdvisedStep& step) {
  screen.heading("Repair: " + step.label);
  show_way(screen, model, step);
  show_demands(screen, model, step);
  screen.item("Works", "in " + percent(step.success.value()) + " of cases");
}

void show_terms(const Screen& screen, const FaultModel& model, const AdvisedStep& hand_over) {
  const std::string& currency = model.header().currency;
  const double now = hand_over.price ? hand_over.price->now : hand_over.cost;
  screen.item("Cost", hand_over.charges_repair ? money(hand_over.money, currency) + ", and the repair besides: " +
                                                     money(now, currency) + " expected in all"
                                               : money(now, currency) + ", all told");
  if (hand_over.wait_minutes > 0.0) screen.item("Back in", span_of_time(hand_over.wait_minutes));
  if (!hand_over.tells.empty()) screen.item("There", hand_over.tells);
}

void show_brief(const Screen& screen, const SpecialistBrief& brief) {
  constexpr std::size_t most = 5;
  if (brief.left.empty()) {
    screen.item("Left", "no fault of this model with 1 % or more");
  } else {
    screen.item("Left", left_text(brief.left, most));
  }
  std::vector<std::string> out;
  for (const AdvisedFault& fault : brief.ruled_out) out.push_back(fault.label);
  if (!out.empty()) screen.item("Out", "ruled out to less than 1 %: " + joined(out, "; "));
}

void show_check(const Screen& screen, const FaultModel& model, const RepairCheck& check) {
  screen.heading("Check: " + (check.label.empty() ? "is the complaint gone?" : check.label));
  for (const std::string& name : check.work.cautions) {
    const Term& caution = model.parts().cautions[model.index_of_caution(name)];
    show_cautions(screen, {{name, label_or_name(caution), caution.description}});
  }
  if (!check.work.conditions.empty()) screen.item("Needs", conditions_text(model, check.work.conditions));
  if (!check.procedure.empty()) screen.item("How", check.procedure);
}

std::vector<const AdvisedStep*> steps_by_cost(const Advice& advice) {
  std::vector<const AdvisedStep*> steps;
  for (std::size_t i = 0; i <= advice.alternatives.size(); ++i) {
    if (i == advice.cheaper && advice.proposed.price) steps.push_back(&advice.proposed);
    if (i < advice.alternatives.size() && advice.alternatives[i].price) steps.push_back(&advice.alternatives[i]);
  }
  return steps;
}

void show_choices(const Screen& screen, const Advice& advice, std::size_t most) {
  if (!advice.priced) return;
  std::vector<std::vector<std::string>> rows = {{"", "", "step", "now", "in the end"}};
  std::size_t tests = 0;
  std::size_t repairs = 0;
  for (const AdvisedStep* step : steps_by_cost(advice)) {
    const bool test = std::holds_alternative<TestStep>(step->step);
    const bool repair = std::holds_alternative<RepairStep>(step->step);
    const bool proposed = step == &advice.proposed;
    const bool too_many = (test && ++tests > most) || (repair && ++repairs > most);
    if (too_many && !proposed) continue;
    rows.push_back({proposed ? ">" : "",
                    test     ? "test"
                    : repair ? "repair"
                             : "end",
                    step_text(*step), money(step->price->now, advice.currency),
                    money(step->price->in_the_end, advice.currency)});
  }
  screen.heading("By expected cost");
  screen.table(rows, 2);
  screen.text("now: this step; in the end: all that is expected until the case is over, this step included", 2);
  if (advice.led_by_cost) screen.text(proposal_text(advice), 2, 2);
}

void show_left_out(const Screen& screen, const Advice& advice) {
  constexpr std::size_t most = 5;
  constexpr double telling = 1e-9;
  std::vector<const AdvisedLeftOut*> forgone;
  for (const AdvisedLeftOut& left : advice.left_out) {
    if (left.gain_bits.value_or(0.0) > telling) forgone.push_back(&left);
  }
  if (forgone.empty()) return;
  screen.heading("Left out");
  for (std::size_t i = 0; i < std::min(forgone.size(), most); ++i) {
    screen.text(forgone[i]->label + ": " + forgone[i]->reason + "; it would tell " +
                    number(forgone[i]->gain_bits.value(), 3) + " bits",
                2, 2);
  }
  if (forgone.size() > most) screen.text("and " + std::to_string(forgone.size() - most) + " more", 2);
}

Json cautions_json(const std::vector<Term>& cautions) {
  Json json = Json::array();
  for (const Term& caution : cautions)
    json.push_back({{"name", caution.name}, {"label", caution.label}, {"text", caution.description}});
  return json;
}

Json proposed_json(const FaultModel& model, const Advice& advice) {
  const AdvisedStep& step = advice.proposed;
  Json json = {{"kind", kind_of(step.step)},
               {"name", step.name},
               {"label", step.label},
               {"cautions", cautions_json(step.cautions)},
               {"procedure", step.procedure},
               {"opens", names_json(step.opens)},
               {"brings", names_json(step.brings)},
               {"tools", names_json(step.tools)},
               {"skill", step.skill ? Json(step.skill->name) : Json()},
               {"minutes", step.minutes},
               {"wait_minutes", step.wait_minutes},
               {"money", step.money},
               {"cost", step.cost},
               {"expected_cost", step.price ? Json(step.price->in_the_end) : Json()},
               {"gain_bits", step.gain_bits},
               {"outcomes", outcomes_json(step)},
               {"mends", optional_json(step.mends)},
               {"success", optional_json(step.success)},
               {"asks", Json::array()}};
  if (const auto* ask = std::get_if<AskStep>(&step.step)) {
    for (const VariableIndex variable : ask->variables) json["asks"].push_back(model.variable(variable).name);
  }
  return json;
}

Json choices_json(const Advice& advice) {
  Json list = Json::array();
  for (const AdvisedStep* step : steps_by_cost(advice)) {
    list.push_back({{"kind", kind_of(step->step)},
                    {"name", step->name},
                    {"label", step_text(*step)},
                    {"cost", step->price->now},
                    {"expected_cost", step->price->in_the_end},
                    {"saves", step->price->saves},
                    {"gain_bits", step->price->gain_bits},
                    {"proposed", step == &advice.proposed}});
  }
  return list;
}

Json questions_json(const Advice& advice) {
  Json list = Json::array();
  for (const AdvisedQuestion& question : advice.questions) {
    list.push_back({{"variable", question.name},
                    {"label", question.label},
                    {"question", question.question},
                    {"gain_bits", question.gain_bits}});
  }
  return list;
}

}  // namespace faultodds::program

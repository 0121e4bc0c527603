// SPDX-License-Identifier: BSD-3-Clause
#include "advice.hpp"

#include <algorithm>
#include <cmath>

#include "findings.hpp"

namespace faultodds::program {
namespace {

const Condition* find_condition(const FaultModel& model, const std::string& name) {
  const std::vector<Condition>& all = model.parts().conditions;
  const auto found = std::find_if(all.begin(), all.end(), [&](const Condition& one) { return one.name == name; });
  return found == all.end() ? nullptr : &*found;
}

const Access* find_access(const FaultModel& model, const std::string& name) {
  const std::vector<Access>& all = model.parts().access;
  const auto found = std::find_if(all.begin(), all.end(), [&](const Access& access) { return access.name == name; });
  return found == all.end() ? nullptr : &*found;
}

std::string label_of(const std::vector<Term>& terms, const std::string& name) {
  const Term* term = find_term(terms, name);
  return term == nullptr || term->label.empty() ? name : term->label;
}

std::string labels_of(const std::vector<Term>& terms, const std::vector<std::string>& names) {
  std::vector<std::string> labels;
  for (const std::string& name : names) labels.push_back(label_of(terms, name));
  return joined(labels);
}

std::string access_text(const FaultModel& model, const std::vector<std::string>& names) {
  std::vector<std::string> texts;
  for (const std::string& name : names) {
    const Access* access = find_access(model, name);
    std::string text = access == nullptr || access->label.empty() ? name : access->label;
    if (access != nullptr && access->work.minutes) text += " (" + number(*access->work.minutes, 0) + " min)";
    texts.push_back(text);
  }
  return joined(texts, ", then ");
}

std::string conditions_text(const FaultModel& model, const std::vector<std::string>& names) {
  std::vector<std::string> texts;
  for (const std::string& name : names) {
    const Condition* condition = find_condition(model, name);
    std::string text = condition == nullptr || condition->label.empty() ? name : condition->label;
    if (condition != nullptr && condition->work.minutes.value_or(0.0) > 0.0)
      text += " (" + number(*condition->work.minutes, 0) + " min)";
    texts.push_back(text);
  }
  return joined(texts);
}

std::string band_text(const Band& band, const std::string& unit, const std::string& outcome) {
  const std::string after = unit.empty() ? std::string() : ' ' + unit;
  std::string range = "any value";
  if (band.from && band.below)
    range = "from " + number(*band.from, 4) + " to below " + number(*band.below, 4) + after;
  else if (band.below)
    range = "below " + number(*band.below, 4) + after;
  else if (band.from)
    range = number(*band.from, 4) + after + " and above";
  return range + ": " + outcome;
}

std::string spread_text(const Spread& spread, const std::string& unit, const std::string& outcome) {
  const std::string after = unit.empty() ? std::string() : ' ' + unit;
  const auto* const normal = std::get_if<NormalSpread>(&spread.shape);
  const auto* const lognormal = std::get_if<LognormalSpread>(&spread.shape);
  if (normal != nullptr)
    return "about " + number(normal->mean, 4) + " +- " + number(normal->sd, 4) + after + ": " + outcome;
  if (lognormal != nullptr)
    return "about " + number(lognormal->median, 4) + after + ", up to a factor of " +
           number(std::exp(lognormal->log_sd), 2) + " off: " + outcome;
  const auto& even = std::get<UniformSpread>(spread.shape);
  return "anything from " + number(even.from, 4) + " to " + number(even.to, 4) + after + ": " + outcome;
}

/// What each outcome reads: by limits, or by spreads where there are none.
std::vector<std::string> outcome_texts(const Variable& test) {
  std::vector<std::string> texts;
  const Reading& reading = *test.reading;
  for (const Band& band : reading.bands)
    texts.push_back(band_text(band, reading.unit, shown(test.states.at(band.outcome))));
  if (!texts.empty()) return texts;
  for (const Spread& spread : reading.spreads)
    texts.push_back(spread_text(spread, reading.unit, shown(test.states.at(spread.outcome))));
  return texts;
}

bool has_cost(const FaultModel& model, const TestForecast& forecast) {
  const Work& work = model.variable(forecast.test).work;
  return work.minutes || work.money || !work.by_context.empty() || !forecast.opens.empty() || !forecast.brings.empty();
}

/// `with_labour` is what time and material cost together.
std::string cost_text(double minutes, double material, double wait_minutes, double with_labour,
                      const std::string& currency) {
  std::vector<std::string> parts;
  if (minutes > 0.0) parts.push_back(number(minutes, 0) + " min");
  if (material > 0.0) parts.push_back(money(material, currency));
  std::string text = parts.empty() ? "nothing" : joined(parts, " and ");
  if (with_labour > material) text += "; with labour " + money(with_labour, currency);
  if (wait_minutes > 0.0) text += "; the vehicle stands for " + span_of_time(wait_minutes);
  return text;
}

void show_cautions(const Screen& screen, const FaultModel& model, const std::vector<std::string>& names) {
  for (const std::string& name : names) {
    const Term* term = find_term(model.parts().cautions, name);
    std::string text = term == nullptr || term->label.empty() ? name : term->label;
    if (term != nullptr && !term->description.empty()) text += ": " + term->description;
    screen.caution(text);
  }
}

WorkCost set_ups_of(const TestForecast& forecast) {
  WorkCost cost;
  cost.opens = forecast.opens;
  cost.brings = forecast.brings;
  return cost;
}

/// Tools and skill, those of what must be opened and brought about included.
void show_needs(const Screen& screen, const FaultModel& model, const Work& work, const WorkCost& cost) {
  const std::vector<std::string> tools = tools_of(model, work, cost);
  if (!tools.empty()) screen.item("Tools", labels_of(model.parts().tools, tools));
  const std::optional<std::size_t> skill = skill_of(model, work, cost);
  if (skill) screen.item("Skill", label_or_name(model.parts().skills.at(*skill)));
}

/// What an outcome would do to the leading faults: the largest changes first.
std::string effect_text(const FaultModel& model, const Ranking& ranking, const OutcomeForecast& outcome) {
  struct Change {
    std::size_t place;
    double size;
  };
  std::vector<Change> changes;
  for (std::size_t i = 0; i < std::min(outcome.leading.size(), ranking.leading.size()); ++i) {
    const double size = std::abs(outcome.leading[i].probability - ranking.leading[i].probability);
    if (size >= 0.005) changes.push_back({i, size});
  }
  std::stable_sort(changes.begin(), changes.end(), [](const Change& a, const Change& b) { return a.size > b.size; });
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < std::min<std::size_t>(changes.size(), 3); ++i) {
    const FaultProbability& before = ranking.leading[changes[i].place];
    const FaultProbability& after = outcome.leading[changes[i].place];
    parts.push_back(fault_text(model, before.component, before.state) + ' ' + percent(before.probability) + " -> " +
                    percent(after.probability));
  }
  return parts.empty() ? "hardly moves the leading faults" : joined(parts, "; ");
}

}  // namespace

std::string span_of_time(double minutes) {
  constexpr double hour = 60.0, day = 24.0 * hour;
  if (minutes >= 2.0 * day) return number(minutes / day, 1) + " days";
  if (minutes >= 2.0 * hour) return number(minutes / hour, 1) + " h";
  return number(minutes, 0) + " min";
}

void show_who_decides(const Screen& screen) {
  screen.text(
      "Whether and how to repair is decided by the vehicle maker's service information, by local codes and by licensed "
      "practice, not by this program.");
}

const Term* find_term(const std::vector<Term>& terms, const std::string& name) {
  const auto found = std::find_if(terms.begin(), terms.end(), [&](const Term& term) { return term.name == name; });
  return found == terms.end() ? nullptr : &*found;
}

std::vector<std::string> cautions_of(const FaultModel& model, const TestForecast& forecast) {
  return cautions_of(model, model.variable(forecast.test).work, set_ups_of(forecast));
}

double share_settled(const Ranking& ranking, const TestForecast& forecast) {
  return ranking.entropy_bits > 0.0 ? std::clamp(forecast.gain_bits / ranking.entropy_bits, 0.0, 1.0) : 0.0;
}

std::string fault_text(const FaultModel& model, std::size_t component, std::size_t state) {
  const Variable& variable = model.variable(component);
  return shown(variable) + ": " + shown(variable.states.at(state));
}

void show_header(const Screen& screen, const FaultModel& model) {
  const Header& header = model.header();
  const std::string title = header.title.empty() ? header.name : header.title;
  if (!title.empty()) screen.text(title + (header.version.empty() ? "" : ", version " + header.version));
  if (header.invented) {
    screen.text("INVENTED DATA: the numbers of this model are made up and must be tuned before any real use.");
  }
  if (!header.safety.empty()) screen.text("SAFETY: " + header.safety);
  const bool says_who_decides = header.safety.find("service information") != std::string::npos;
  if (!says_who_decides && !model.with_role(Role::component).empty()) {
    screen.text("The vehicle maker's service information comes first; this is advice only.");
  }
}

void show_findings(const Screen& screen, const FaultModel& model, std::span<const Finding> findings) {
  if (findings.empty()) {
    screen.heading("Nothing was found yet");
    return;
  }
  screen.heading("Found so far");
  for (const Finding& finding : findings) {
    screen.text(shown(model.variable(finding.variable)) + ": " + finding_text(model, finding), 2, 2);
  }
}

void show_findings(const Screen& screen, const Case& current) {
  show_findings(screen, current.model(), current.findings());
}

void show_leading(const Screen& screen, const FaultModel& model, const Ranking& ranking) {
  std::size_t faults = 0;
  for (const std::size_t target : ranking.targets) faults += model.state_count(target) - 1;
  screen.heading("Leading faults (of " + std::to_string(faults) + " in question)");
  std::vector<BarRow> rows;
  for (const FaultProbability& fault : ranking.leading) {
    rows.push_back({fault_text(model, fault.component, fault.state), fault.probability, {}});
  }
  screen.bars(rows);
  if (rows.size() > 1) screen.text("Each figure stands by itself: more than one fault may be present.", 2);
}

void show_test(const Screen& screen, const FaultModel& model, const TestForecast& forecast) {
  const Variable& test = model.variable(forecast.test);
  screen.heading("Next test: " + shown(test) + (test.label.empty() ? "" : "  [" + test.name + ']'));
  show_cautions(screen, model, cautions_of(model, forecast));
  if (!forecast.opens.empty()) screen.item("First", access_text(model, forecast.opens));
  if (!forecast.brings.empty()) screen.item("Needs", conditions_text(model, forecast.brings));
  if (!test.procedure.empty()) screen.item("How", test.procedure);
  if (!test.description.empty()) screen.item("Note", test.description);
  if (test.reading) {
    screen.item("Reading", test.reading->quantity + "; " + joined(outcome_texts(test), "; "));
    if (!test.reading->source.empty()) screen.item("", "(limits: " + test.reading->source + ')');
  }
  show_needs(screen, model, test.work, set_ups_of(forecast));
  if (has_cost(model, forecast)) {
    screen.item("Cost", cost_text(forecast.minutes, forecast.money, forecast.wait_minutes, forecast.cost,
                                  model.header().currency));
  }
}

void show_why(const Screen& screen, const FaultModel& model, const Ranking& ranking, const TestForecast& forecast) {
  const std::string least = ranking.entropy_is_bound ? "at least " : "";
  const std::string about = ranking.gain == GainKind::joint ? "" : ", summed over the components one by one";
  screen.item("Why", "expected to settle " + least + percent(share_settled(ranking, forecast)) +
                         " of what is still open about the cause (" + number(forecast.gain_bits, 3) + " of " +
                         number(ranking.entropy_bits, 2) + " bits" + about +
                         "; one bit settles one even yes-or-no question)");
  const Variable& test = model.variable(forecast.test);
  for (const OutcomeForecast& outcome : forecast.outcomes) {
    const std::string state = shown(test.states.at(outcome.state));
    if (outcome.probability <= 0.0) {
      screen.text("- " + state + ": cannot be, given what was found", 11, 2);
    } else if (outcome.leading.empty()) {
      screen.text("- " + state + " (" + percent(outcome.probability) + ')', 11, 2);
    } else {
      screen.text("- " + state + " (" + percent(outcome.probability) + "): " + effect_text(model, ranking, outcome), 11,
                  2);
    }
  }
}

void show_tests(const Screen& screen, const FaultModel& model, const Ranking& ranking, std::size_t first,
                std::size_t most) {
  std::vector<std::vector<std::string>> rows = {{"#", "test", "settles", "bits", "min", "cost"}};
  for (std::size_t i = first; i < std::min(ranking.tests.size(), first + most); ++i) {
    const TestForecast& forecast = ranking.tests[i];
    const bool known = has_cost(model, forecast);
    rows.push_back({std::to_string(i + 1), shown(model.variable(forecast.test)),
                    percent(share_settled(ranking, forecast)), fixed(forecast.gain_bits, 3),
                    known ? number(forecast.minutes, 0) : "-",
                    known ? money(forecast.cost, model.header().currency) : "-"});
  }
  if (rows.size() > 1) screen.table(rows, 1);
}

void show_left_out(const Screen& screen, const FaultModel& model, const Ranking& ranking) {
  std::vector<const LeftOut*> forgone;
  for (const LeftOut& left : ranking.left_out) {
    if (std::isfinite(left.gain_bits) && left.gain_bits > 1e-9) forgone.push_back(&left);
  }
  if (forgone.empty()) return;
  std::stable_sort(forgone.begin(), forgone.end(),
                   [](const LeftOut* a, const LeftOut* b) { return a->gain_bits > b->gain_bits; });
  constexpr std::size_t most = 5;
  screen.heading("Left out");
  for (std::size_t i = 0; i < std::min(forgone.size(), most); ++i) {
    screen.text(shown(model.variable(forgone[i]->test)) + ": " + forgone[i]->reason + "; it would tell " +
                    number(forgone[i]->gain_bits, 3) + " bits",
                2, 2);
  }
  if (forgone.size() > most) screen.text("and " + std::to_string(forgone.size() - most) + " more", 2);
}

void show_repair(const Screen& screen, const Case& current, std::size_t index, const Means& means) {
  const FaultModel& model = current.model();
  const Repair& repair = model.parts().repairs.at(index);
  const Work& work = repair.work;
  const WorkCost cost = cost_of(current, work, in_place_in(current, means), means.labour_rate);
  screen.heading("Repair: " + label_or_name(repair));
  show_cautions(screen, model, cautions_of(model, work, cost));
  if (!cost.opens.empty()) screen.item("First", access_text(model, cost.opens));
  if (!cost.brings.empty()) screen.item("Needs", conditions_text(model, cost.brings));
  if (!repair.procedure.empty()) screen.item("How", repair.procedure);
  show_needs(screen, model, work, cost);
  if (cost.known) {
    screen.item("Cost", cost_text(cost.minutes, cost.money, cost.wait_minutes, cost.cost, model.header().currency));
  }
  screen.item("Works", "in " + percent(repair.success) + " of cases");
}

void show_repairs(const Screen& screen, const Case& current, const FaultProbability& fault, const Means& means) {
  const std::vector<Repair>& repairs = current.model().parts().repairs;
  for (std::size_t r = 0; r < repairs.size(); ++r) {
    const bool mends =
        repairs[r].component == fault.component &&
        std::find(repairs[r].mends.begin(), repairs[r].mends.end(), fault.state) != repairs[r].mends.end();
    if (mends) show_repair(screen, current, r, means);
  }
}

void show_check(const Screen& screen, const FaultModel& model, const RepairCheck& check) {
  screen.heading("Check: " + (check.label.empty() ? "is the complaint gone?" : check.label));
  show_cautions(screen, model, check.work.cautions);
  if (!check.work.conditions.empty()) screen.item("Needs", conditions_text(model, check.work.conditions));
  if (!check.procedure.empty()) screen.item("How", check.procedure);
}

}  // namespace faultodds::program

// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>

#include "bench.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/model/names.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

std::vector<VariableIndex> all_but_hidden(const FaultModel& model) {
  std::vector<VariableIndex> all;
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (model.variable(v).role() != Role::hidden) all.push_back(v);
  }
  return all;
}

}  // namespace

Choice variable_choice(const Variable& variable) {
  std::string front = shown(variable);
  const auto* symptom = std::get_if<Symptom>(&variable.what);
  const std::string code = symptom != nullptr ? symptom->code : "";
  if (front.find(code) == std::string::npos) front = code + ' ' + front;
  if (symptom != nullptr && !symptom->conditions.empty()) front += " (" + joined(symptom->conditions) + ')';
  Choice choice{{front, variable.name, shown(variable)}};
  if (!code.empty()) choice.spellings.push_back(code);
  return choice;
}

std::vector<Choice> variable_choices(const FaultModel& model, const std::vector<VariableIndex>& variables) {
  std::vector<Choice> choices;
  for (const std::size_t v : variables) choices.push_back(variable_choice(model.variable(v)));
  return choices;
}

std::vector<Choice> state_choices(const Variable& variable) {
  std::vector<Choice> choices;
  for (const State& state : variable.states) choices.push_back({{shown(state), state.name}});
  return choices;
}

void Bench::ask_context() {
  const std::vector<VariableIndex> facts = open_facts(job_.current());
  if (facts.empty()) return;
  screen().heading("About the vehicle (" + counted(facts.size(), "question") + "; Enter passes one over)");
  for (const std::size_t fact : facts) {
    if (questions_.over()) return;
    const Variable& variable = model().variable(fact);
    const auto state = questions_.choose(asked(variable), state_choices(variable));
    if (!state) continue;
    try {
      job_.add_finding(fact, *state);
      keep();
    } catch (const ImpossibleFindings& error) {
      explain_clash(error);
    }
  }
}

void Bench::ask_complaint() {
  const std::vector<VariableIndex> complaints = open_complaints(job_.current());
  if (complaints.empty() || questions_.over()) return;
  const std::vector<std::size_t> chosen =
      questions_.choose_several("What does the customer complain of?", variable_choices(model(), complaints));
  for (const std::size_t i : chosen) {
    const std::size_t variable = complaints[i];
    try {
      if (model().state_count(variable) == 2) {
        take_finding(detail::hard_finding(model(), variable, 1));
      } else {
        ask_state(variable);
      }
    } catch (const ImpossibleFindings& error) {
      explain_clash(error);
    }
  }
}

bool Bench::complaint_is_open() const {
  return std::all_of(job_.entries().begin(), job_.entries().end(), [&](const Entry& entry) {
    const auto* found = std::get_if<FindingEntry>(&entry.what);
    return found != nullptr && model().variable(found->finding.variable).role() == Role::context;
  });
}

std::vector<VariableIndex> Bench::to_reveal(VariableIndex test) const {
  if (in_general_ == test || job_.current().finding_of(test) != nullptr) return {};
  std::vector<VariableIndex> symptoms = as_test(model().variable(test)).reveals;
  std::erase_if(symptoms, [&](VariableIndex symptom) { return job_.current().finding_of(symptom) != nullptr; });
  return symptoms;
}

void Bench::show_to_reveal(VariableIndex test) const {
  const std::vector<Choice> choices = variable_choices(model(), to_reveal(test));
  screen().text("Which of these are there? Give numbers, such as 1 3, or none; g: only the outcome in general.", 2);
  for (std::size_t i = 0; i < choices.size(); ++i)
    screen().item(right_aligned(std::to_string(i + 1), 3), choices[i].spellings.front(), 1, 5);
}

void Bench::ask_revealed(VariableIndex test) {
  const std::size_t before = job_.entries().size();
  show_to_reveal(test);
  while (job_.entries().size() == before) {
    const auto line = questions_.ask("numbers, none, g general, or Enter to pass > ");
    if (!line || line->empty()) return;
    if (lower_case(*line) == "g" || lower_case(*line) == "general") {
      in_general_ = test;
      ask_state(test);
      return;
    }
    take_revealed(test, *line);
  }
}

void Bench::take_revealed(VariableIndex test, const std::string& line) {
  const std::vector<VariableIndex> symptoms = to_reveal(test);
  const std::vector<Choice> choices = variable_choices(model(), symptoms);
  const bool none = lower_case(line) == "none";
  const Selection there = none ? Selection{} : select_several(line, choices);
  if (!none && there.positions.empty()) {
    const std::vector<std::size_t> found = matches(there.unclear, choices);
    if (found.empty()) {
      not_understood(line);
    } else {
      questions_.explain_no_match(there.unclear, choices, found);
    }
    return;
  }
  std::vector<std::string> names;
  for (const std::size_t i : there.positions) names.push_back(model().variable(symptoms[i]).name);
  const bool all = none || names.size() == symptoms.size();
  // Without an answer only what was named is known.
  record_revealed(test, names, all || questions_.confirm("Are these all?").value_or(false));
}

void Bench::record_revealed(VariableIndex test, const std::vector<std::string>& there, bool all) {
  const std::vector<FaultProbability> before = all_faults();
  job_.add_revealed(model().variable(test).name, there, all);
  tell_last_entry(before, entry_in_words(model(), job_.entries().back()));
}

void Bench::ask_state(VariableIndex variable) {
  if (!to_reveal(variable).empty()) {
    ask_revealed(variable);
    return;
  }
  const Variable& open = model().variable(variable);
  if (const Finding* known = job_.current().finding_of(variable)) {
    screen().text("So far: " + finding_text(model(), *known) + ". A new answer takes its place.");
  }
  if (const auto state = questions_.choose(asked(open), state_choices(open))) {
    take_finding(detail::hard_finding(model(), variable, *state));
  }
}

/// A test goes on the screen with its cautions, so that it can be answered by a reading as well.
void Bench::other(const std::string& name) {
  const auto variable = pick_variable(name);
  if (!variable) return;
  const bool is_open_test =
      model().variable(*variable).role() == Role::test && job_.current().finding_of(*variable) == nullptr;
  if (is_open_test) {
    propose(*variable);
    show_proposal();
  } else {
    ask_state(*variable);
  }
}

bool Bench::names_a_variable(const std::string& text) const {
  constexpr std::size_t shortest = 3;
  return text.size() >= shortest && !matches(text, variable_choices(model(), all_but_hidden(model()))).empty();
}

std::vector<std::vector<VariableIndex>> Bench::groups_to_pick_from() const {
  std::vector<std::vector<VariableIndex>> groups(6);
  for (std::size_t v = 0; v < model().size(); ++v) {
    const Variable& variable = model().variable(v);
    if (job_.current().finding_of(v) != nullptr) continue;
    switch (variable.role()) {
      case Role::symptom:
        groups[variable.symptom().code.empty() ? 0 : 1].push_back(v);
        break;
      case Role::test:
        groups[2].push_back(v);
        break;
      case Role::context:
        groups[3].push_back(v);
        break;
      case Role::component:
        groups[4].push_back(v);
        break;
      case Role::unclassified:
        groups[5].push_back(v);
        break;
      case Role::hidden:
        break;
    }
  }
  return groups;
}

std::optional<VariableIndex> Bench::pick_variable(const std::string& name) {
  if (name.empty()) return pick_from_menu();
  if (const auto exact = model().find(name)) return exact;
  const std::vector<VariableIndex> all = all_but_hidden(model());
  const std::vector<Choice> choices = variable_choices(model(), all);
  const bool is_number = name.find_first_not_of("0123456789") == std::string::npos;
  const std::vector<std::size_t> found = is_number ? std::vector<std::size_t>{} : matches(name, choices);
  if (found.size() == 1) return all[found.front()];
  if (found.empty()) {
    std::vector<std::string> names;
    for (const std::size_t v : all) names.push_back(model().variable(v).name);
    throw UnknownName("test or symptom", name, nearest_names(name, names), {}, names);
  }
  std::vector<Choice> fitting;
  for (const std::size_t i : found) fitting.push_back(choices[i]);
  const auto picked = questions_.choose("Which one?", fitting);
  return picked ? std::optional(all[found[*picked]]) : std::nullopt;
}

std::optional<VariableIndex> Bench::pick_from_menu() {
  static const std::vector<std::string> titles = {"a symptom",
                                                  "a stored trouble code",
                                                  "the result of a test",
                                                  "a fact about the vehicle",
                                                  "a part whose state is certain",
                                                  "a variable"};
  const std::vector<std::vector<VariableIndex>> groups = groups_to_pick_from();
  std::vector<Choice> kinds;
  std::vector<std::size_t> offered;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    if (groups[g].empty()) continue;
    kinds.push_back({{titles[g]}});
    offered.push_back(g);
  }
  std::string named;
  const auto by_name = [&](const std::string& text) {
    if (names_a_variable(text)) named = text;
    return !named.empty();
  };
  const auto kind = questions_.choose("What was found?", kinds, by_name);
  if (!named.empty()) return pick_variable(named);
  if (!kind) return std::nullopt;
  const std::vector<VariableIndex>& group = groups[offered[*kind]];
  const auto picked = questions_.choose("Which one?", variable_choices(model(), group), by_name);
  if (!named.empty()) return pick_variable(named);
  return picked ? std::optional(group[*picked]) : std::nullopt;
}

}  // namespace faultodds::program

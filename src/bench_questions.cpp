// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>

#include "bench.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

std::string question_of(const Variable& variable) {
  return variable.question.empty() ? shown(variable) : variable.question;
}

/// Whether some component hangs on this variable, so that its state shifts fault probabilities.
bool shifts_a_component(const FaultModel& model, std::size_t variable) {
  std::vector<std::size_t> open = {variable};
  std::vector<bool> seen(model.size(), false);
  while (!open.empty()) {
    const std::size_t v = open.back();
    open.pop_back();
    if (model.variable(v).role == Role::component) return true;
    for (const std::size_t child : model.children(v)) {
      if (!seen[child]) open.push_back(child);
      seen[child] = true;
    }
  }
  return false;
}

std::vector<Choice> variable_choices(const FaultModel& model, const std::vector<std::size_t>& variables) {
  std::vector<Choice> choices;
  for (const std::size_t v : variables) choices.push_back(variable_choice(model.variable(v)));
  return choices;
}

/// The symptom is there: in any state but the first.
Finding present_finding(const FaultModel& model, std::size_t symptom) {
  if (model.state_count(symptom) == 2) return hard_finding(model, symptom, 1);
  Finding finding{symptom, std::vector<double>(model.state_count(symptom), 1.0), std::nullopt};
  finding.weights.front() = 0.0;
  return finding;
}

}  // namespace

std::string answer_text(const FaultModel& model, const Step& step) {
  if (step.hand_over) return "handed over";
  if (step.repair) {
    if (!step.finding) return "done, not checked";
    return step.finding->state == 0 ? "done; cured, says the check" : "done; still there, says the check";
  }
  if (step.finding) return (step.reading.empty() ? "" : step.reading + ": ") + finding_text(model, *step.finding);
  if (step.revealed.empty()) return step.reason;
  std::vector<std::string> there;
  for (const Finding& finding : step.revealed) {
    if (finding.weights.front() == 0.0) there.push_back(shown(model.variable(finding.variable)));
  }
  const std::size_t absent = step.revealed.size() - there.size();
  if (there.empty()) return "none of " + std::to_string(absent);
  return joined(there, "; ") + (absent > 0 ? "; none of the other " + std::to_string(absent) : "");
}

Choice variable_choice(const Variable& variable) {
  std::string front = shown(variable);
  if (!variable.code.empty() && front.find(variable.code) == std::string::npos) front = variable.code + ' ' + front;
  if (!variable.conditions.empty()) front += " (" + joined(variable.conditions) + ')';
  Choice choice{{front, variable.name, shown(variable)}};
  if (!variable.code.empty()) choice.spellings.push_back(variable.code);
  return choice;
}

std::vector<Choice> state_choices(const Variable& variable) {
  std::vector<Choice> choices;
  for (const State& state : variable.states) choices.push_back({{shown(state), state.name}});
  return choices;
}

void Bench::ask_context() {
  std::vector<std::size_t> facts;
  for (const std::size_t v : model().with_role(Role::context)) {
    const bool told = log_.current().finding_of(v) != nullptr;
    if (!told && shifts_a_component(model(), v)) facts.push_back(v);
  }
  if (facts.empty()) return;
  screen().heading("About the vehicle (" + counted(facts.size(), "question") + "; Enter passes one over)");
  for (const std::size_t fact : facts) {
    if (questions_.over()) return;
    const Variable& variable = model().variable(fact);
    const auto state = questions_.choose(question_of(variable), state_choices(variable));
    if (!state) continue;
    try {
      log_.record(hard_finding(model(), fact, *state));
      keep();
    } catch (const ImpossibleFindings& error) {
      explain_clash(error);
    }
  }
}

void Bench::ask_complaint() {
  std::vector<std::size_t> complaints;
  for (const std::size_t v : model().with_role(Role::symptom)) {
    if (model().variable(v).complaint) complaints.push_back(v);
  }
  if (complaints.empty()) complaints = model().with_role(Role::symptom);
  if (complaints.empty() || questions_.over()) return;
  const std::vector<std::size_t> chosen =
      questions_.choose_several("What does the customer complain of?", variable_choices(model(), complaints));
  for (const std::size_t i : chosen) {
    const std::size_t variable = complaints[i];
    try {
      if (model().state_count(variable) == 2) {
        take_finding(hard_finding(model(), variable, 1));
      } else {
        ask_state(variable);
      }
    } catch (const ImpossibleFindings& error) {
      explain_clash(error);
    }
  }
}

bool Bench::complaint_is_open() const {
  const std::vector<Step>& steps = log_.steps();
  return std::all_of(steps.begin(), steps.end(),
                     [&](const Step& step) { return model().variable(step.variable).role == Role::context; });
}

std::vector<std::size_t> Bench::to_reveal(std::size_t test) const {
  if (in_general_ == test || log_.current().finding_of(test) != nullptr) return {};
  std::vector<std::size_t> symptoms = model().variable(test).reveals;
  std::erase_if(symptoms, [&](std::size_t symptom) { return log_.current().finding_of(symptom) != nullptr; });
  return symptoms;
}

void Bench::show_to_reveal(std::size_t test) const {
  const std::vector<Choice> choices = variable_choices(model(), to_reveal(test));
  screen().text("Which of these are there? Give numbers, such as 1 3, or none; g: only the outcome in general.", 2);
  for (std::size_t i = 0; i < choices.size(); ++i)
    screen().item(right_aligned(std::to_string(i + 1), 3), choices[i].spellings.front(), 1, 5);
}

void Bench::ask_revealed(std::size_t test) {
  const std::size_t before = log_.steps().size();
  show_to_reveal(test);
  while (log_.steps().size() == before) {
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

void Bench::take_revealed(std::size_t test, const std::string& line) {
  const std::vector<std::size_t> symptoms = to_reveal(test);
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
  bool all = none || there.positions.size() == symptoms.size();
  if (!all) {
    const auto confirmed = questions_.confirm("Are these all?");
    if (!confirmed) return;
    all = *confirmed;
  }
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < symptoms.size(); ++i) {
    const bool is_there = std::find(there.positions.begin(), there.positions.end(), i) != there.positions.end();
    if (is_there) findings.push_back(present_finding(model(), symptoms[i]));
    if (!is_there && all) findings.push_back(hard_finding(model(), symptoms[i], 0));
  }
  const std::vector<FaultProbability> before = all_faults();
  log_.record_revealed(test, std::move(findings));
  keep();
  screen().heading(shown(model().variable(test)) + ": " + answer_text(model(), log_.steps().back()));
  show_changes(before);
  stale_ = true;
}

void Bench::ask_state(std::size_t variable) {
  if (!to_reveal(variable).empty()) {
    ask_revealed(variable);
    return;
  }
  const Variable& asked = model().variable(variable);
  if (const Finding* known = log_.current().finding_of(variable)) {
    screen().text("So far: " + finding_text(model(), *known) + ". A new answer takes its place.");
  }
  if (const auto state = questions_.choose(question_of(asked), state_choices(asked))) {
    take_finding(hard_finding(model(), variable, *state));
  }
}

/// A test that can be ranked goes on the screen, with its cautions, so that it can be answered by a reading as well.
void Bench::other(const std::string& name) {
  const auto variable = pick_variable(name);
  if (!variable) return;
  if (propose(*variable)) {
    show_proposal();
  } else {
    ask_state(*variable);
  }
}

std::vector<std::vector<std::size_t>> Bench::groups_to_pick_from() const {
  std::vector<std::vector<std::size_t>> groups(6);
  for (std::size_t v = 0; v < model().size(); ++v) {
    const Variable& variable = model().variable(v);
    if (log_.current().finding_of(v) != nullptr) continue;
    switch (variable.role) {
      case Role::symptom:
        groups[variable.code.empty() ? 0 : 1].push_back(v);
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

std::optional<std::size_t> Bench::pick_variable(const std::string& name) {
  if (!name.empty()) {
    std::vector<std::size_t> all;
    for (std::size_t v = 0; v < model().size(); ++v) {
      if (model().variable(v).role != Role::hidden) all.push_back(v);
    }
    const std::vector<Choice> choices = variable_choices(model(), all);
    const bool is_number = name.find_first_not_of("0123456789") == std::string::npos;
    if (const auto exact = model().find(name)) return exact;
    std::vector<std::size_t> found = is_number ? std::vector<std::size_t>{} : matches(name, choices);
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
  static const std::vector<std::string> titles = {"a symptom",
                                                  "a stored trouble code",
                                                  "the result of a test",
                                                  "a fact about the vehicle",
                                                  "a part whose state is certain",
                                                  "a variable"};
  const std::vector<std::vector<std::size_t>> groups = groups_to_pick_from();
  std::vector<Choice> kinds;
  std::vector<std::size_t> offered;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    if (groups[g].empty()) continue;
    kinds.push_back({{titles[g]}});
    offered.push_back(g);
  }
  const auto kind = questions_.choose("What was found?", kinds);
  if (!kind) return std::nullopt;
  const std::vector<std::size_t>& group = groups[offered[*kind]];
  const auto picked = questions_.choose("Which one?", variable_choices(model(), group));
  return picked ? std::optional(group[*picked]) : std::nullopt;
}

}  // namespace faultodds::program

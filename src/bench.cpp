// SPDX-License-Identifier: BSD-3-Clause
#include "bench.hpp"

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <utility>

#include "advice.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/io/job_json.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/model/unit.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

/// Whether the text begins like a number.
bool begins_like_a_number(std::string_view text) {
  return !text.empty() && std::string_view("0123456789.+-").find(text.front()) != std::string_view::npos;
}

}  // namespace

Bench::Bench(Questions questions, Job job, Keeping keeping)
    : questions_(std::move(questions)), job_(std::move(job)), keeping_(std::move(keeping)) {}

const std::vector<Bench::Command>& Bench::commands() {
  static const std::vector<Command> known = {
      {{"skipped", "s", "skip"}, &Bench::skipped, false, "not now; this test is not proposed again"},
      {{"could not", "c", "couldn't", "cannot", "can't"}, &Bench::could_not, false, "tried, but it could not be done"},
      {{"other", "o"}, &Bench::other, true, "something else was found, or another test was done: other [NAME]"},
      {{"general", "g"}, &Bench::general, false, "where a test shows which symptoms there are: give its outcome only"},
      {{"why", "w"}, &Bench::why, true, "why this test and the leading fault, or another one: why [COMPONENT[=STATE]]"},
      {{"list", "l"}, &Bench::list, false, "other tests worth doing, to choose from"},
      {{"more", "m"}, &Bench::more, false, "after the advice: propose a test all the same"},
      {{"faults", "f"}, &Bench::faults, false, "all faults in question"},
      {{"history", "h"}, &Bench::history, false, "all answers so far"},
      {{"money", "y"}, &Bench::money, false, "tests, repairs and hand-over side by side, by expected cost"},
      {{"repair", "r"}, &Bench::repair, true, "a repair was done, or is to be: repair [NAME]"},
      {{"hand over", "v"},
       &Bench::hand_over,
       true,
       "the vehicle goes to a specialist: what to tell, and the end of the case"},
      {{"report"}, &Bench::report, true, "write what was done and found: report FILE, .md, .html or .json"},
      {{"undo", "u"}, &Bench::undo, false, "take the last answer back"},
      {{"save"}, &Bench::save, true, "save in another file: save FILE"},
      {{"quit", "q", "exit"}, &Bench::quit, false, "stop here; the case can be taken up again"},
      {{"help", "?"}, &Bench::help, false, "this list"},
  };
  return known;
}

void Bench::run() {
  show_header(screen(), model());
  if (job_.entries().empty()) {
    if (!keeping_.file.empty()) screen().text("The case is saved after every answer in " + keeping_.file);
    screen().text("Answer with the number in front or the name; ? explains all that can be typed.");
    ask_context();
    ask_complaint();
  } else {
    screen().heading("Going on after " + counted(job_.entries().size(), "answer") + ", kept in " + keeping_.file);
    history("");
    if (complaint_is_open()) ask_complaint();
  }
  job_.pass_over(AskStep{});  // the questions were asked
  while (!quitting_ && !questions_.over()) {
    if (stale_) show_state();
    stale_ = false;
    const auto line = questions_.ask(prompt());
    if (!line) break;
    handle(*line);
  }
  if (keeping_.kept)
    screen().text("The case is saved. To go on with it: " + keeping_.reopen + ' ' + keeping_.file, 0, 2);
}

void Bench::show_what_can_be_answered() const {
  if (test_) {
    screen().text("Give the number of an outcome, or ? for all that can be typed.");
  } else {
    screen().text("Nothing was typed. Is a repair done, type r; is something else to be entered, o; ? lists the rest.");
  }
}

void Bench::handle(const std::string& line) {
  if (line.empty()) {
    show_what_can_be_answered();
    return;
  }
  try {
    if (take_outcome(line, false) || take_command(line) || take_reading(line)) return;
    if (line.find('=') != std::string::npos) {
      if (!take_named_reading(line)) take_finding(parse_finding(model(), line));
    } else if (take_outcome(line, true)) {
      return;
    } else if (names_a_variable(line)) {
      other(line);
    } else {
      not_understood(line);
    }
  } catch (const ImpossibleFindings& error) {
    explain_clash(error);
  } catch (const UnknownName& error) {
    screen().text(error.what());
  } catch (const ArgumentError& error) {
    screen().text(error.what());
  }
}

bool Bench::take_outcome(const std::string& line, bool by_part) {
  if (!test_) return false;
  const std::size_t test = std::get<TestStep>(test_->step).test;
  if (revealing_test()) {
    const bool is_named = by_part && (lower_case(line) == "none" || !names_a_variable(line) ||
                                      !matches(line, variable_choices(model(), to_reveal(test))).empty() ||
                                      line.find_first_of(" ,;") != std::string::npos);
    if (is_named) take_revealed(test, line);
    return is_named;
  }
  const std::vector<Choice> choices = state_choices(model().variable(test));
  const std::vector<std::size_t> found = by_part ? matches(line, choices) : exact_matches(line, choices);
  if (found.size() > 1) {
    std::vector<std::string> names;
    for (const std::size_t i : found) names.push_back(choices[i].spellings.front());
    screen().text("\"" + line + "\" fits several outcomes: " + joined(names, "; "));
    return true;
  }
  if (found.empty()) return false;
  take_finding(detail::hard_finding(model(), test, found.front()));
  return true;
}

bool Bench::take_command(const std::string& line) {
  const std::string lower = lower_case(line);
  for (const Command& command : commands()) {
    for (const std::string& word : command.words) {
      const bool with_rest = (word.size() > 1 || command.takes_name) && lower.starts_with(word + ' ');
      if (lower != word && !with_rest) continue;
      (this->*command.run)(trimmed(std::string_view(line).substr(word.size())));
      return true;
    }
  }
  return false;
}

bool Bench::take_reading(const std::string& line) {
  if (!test_) return false;
  const std::size_t test = std::get<TestStep>(test_->step).test;
  const std::optional<Reading>& reading = as_test(model().variable(test)).reading;
  if (!reading) return false;
  // A bare number is the number of an outcome; a reading carries its unit, or the word before it.
  const bool named = lower_case(line).starts_with("reading ");
  const std::string text = named ? trimmed(std::string_view(line).substr(8)) : line;
  if (!named && !begins_like_a_number(text)) return false;
  const bool part_of_outcome = !named && !matches(text, state_choices(model().variable(test))).empty();
  TestReadings readings{test, {}};
  try {
    readings.readings = parse_readings(text);
  } catch (const ArgumentError&) {
    if (part_of_outcome) return false;
    throw;
  }
  for (Measured& one : readings.readings) {
    if (one.unit.empty() && !named && !reading->unit.empty()) return false;
    if (one.unit.empty()) one.unit = reading->unit;
    if (part_of_outcome && one.unit != reading->unit && !find_unit(one.unit)) return false;
  }
  take_readings(readings);
  return true;
}

bool Bench::take_named_reading(const std::string& line) {
  const std::size_t at = line.rfind('=');
  const auto test = model().find(trimmed(std::string_view(line).substr(0, at)));
  if (!test || !as_test(model().variable(*test)).reading) return false;
  const std::string rest = trimmed(std::string_view(line).substr(at + 1));
  if (!begins_like_a_number(rest) || !exact_matches(rest, state_choices(model().variable(*test))).empty()) return false;
  take_readings({*test, parse_readings(rest)});
  return true;
}

void Bench::take_readings(const TestReadings& readings) {
  const std::vector<FaultProbability> before = all_faults();
  job_.record(ReadingEntry{
      readings.test, readings.readings, RepeatedErrors::as_in_model, readings_text(readings.readings), {}});
  tell_last_entry(before, reading_in_words(model(), readings));
}

void Bench::take_finding(const Finding& finding) {
  const std::vector<FaultProbability> before = all_faults();
  job_.add(finding);
  tell_last_entry(before, entry_in_words(model(), job_.entries().back()));
}

void Bench::tell_last_entry(const std::vector<FaultProbability>& before, const std::string& words) {
  keep();
  screen().heading(entry_label(model(), job_.entries().back()) + ": " + words);
  show_changes(before);
  stale_ = true;
}

std::optional<VariableIndex> Bench::revealing_test() const {
  if (!test_) return std::nullopt;
  const std::size_t test = std::get<TestStep>(test_->step).test;
  return to_reveal(test).empty() ? std::nullopt : std::optional(test);
}

void Bench::general(const std::string&) {
  const auto test = revealing_test();
  if (!test) {
    screen().text("No test is proposed that shows which symptoms there are.");
    return;
  }
  in_general_ = test;
  show_proposal();
}

void Bench::explain_clash(const ImpossibleFindings& error) const {
  screen().heading("That cannot be");
  screen().text(error.clash().size() == 1 ? "Under this model this is never so:"
                                          : "Under this model these are never true together:",
                2);
  for (const std::string& finding : error.clash()) screen().text("- " + labelled_finding(model(), finding), 2, 2);
  screen().text("The case stays as it was. To correct an earlier answer type undo, or NAME=STATE.", 2);
}

void Bench::not_understood(const std::string& line) const {
  std::vector<std::string> words;
  for (const Command& command : commands()) words.push_back(command.words.front());
  std::string text = "\"" + line + "\" is no outcome of this test and no command";
  const std::vector<std::string> nearest = nearest_names(lower_case(line), words);
  text += nearest.empty() ? "." : "; did you mean " + joined(nearest, " or ") + '?';
  screen().text(text + " Type ? for all that can be typed, or other NAME for another test or symptom.");
}

void Bench::decline(const std::string& reason) {
  if (!test_) {
    screen().text("No test is proposed just now.");
    return;
  }
  job_.decline(std::get<TestStep>(test_->step).test, reason);
  keep();
  screen().text(test_->label + ": " + reason + ". It is not proposed again; undo brings it back.");
  stale_ = true;
}

void Bench::skipped(const std::string&) { decline("skipped"); }
void Bench::could_not(const std::string&) { decline("could not be done"); }

void Bench::undo(const std::string&) {
  const std::vector<FaultProbability> before = all_faults();
  const std::optional<Entry> undone = job_.undo();
  if (!undone) {
    screen().text("There is nothing to take back.");
    return;
  }
  keep();
  screen().heading("Taken back: " + entry_label(model(), *undone) + ": " + entry_in_words(model(), *undone));
  const bool told_nothing =
      std::holds_alternative<DeclinedEntry>(undone->what) || std::holds_alternative<HandOverEntry>(undone->what);
  if (!told_nothing) show_changes(before);
  job_.pass_over(AskStep{});
  stale_ = true;
}

void Bench::quit(const std::string&) { quitting_ = true; }

void Bench::more(const std::string&) {
  const JobStep& proposed = job_.advice().proposed.step;
  if (!std::holds_alternative<TestStep>(proposed)) job_.pass_over(proposed);
  stale_ = true;
}

void Bench::save(const std::string& file) {
  if (file.empty() && keeping_.file.empty()) {
    screen().text("Give the file as well: save FILE");
    return;
  }
  const std::string before = keeping_.file;
  if (!file.empty() && file != before) {
    if (std::filesystem::exists(file)) {
      screen().text(file + " is there already; give another name.");
      return;
    }
    keeping_.file = file;
  }
  keep();
  if (keeping_.kept) {
    screen().text("Saved in " + keeping_.file + "; every further answer is saved there too.");
  } else if (keeping_.file != before) {
    keeping_.file = before;
    keep();
  }
}

void Bench::keep() {
  if (keeping_.file.empty()) return;
  try {
    write_text_file(keeping_.file, write_job(job_));
    keeping_.kept = true;
  } catch (const Error& error) {
    keeping_.kept = false;
    std::cerr << "faultodds: " << printable(error.what()) << '\n';
    screen().caution("NOT saved in " + keeping_.file + ". Type save FILE to keep the case in another place.");
  }
}

}  // namespace faultodds::program

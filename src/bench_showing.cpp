// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>

#include "advice.hpp"
#include "advised_step.hpp"
#include "bench.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/job/entry_words.hpp"
#include "findings.hpp"
#include "why.hpp"

namespace faultodds::program {
namespace {

/// How far the odds moved, in words.
std::string movement(double before, double after) {
  if (after <= 0.0) return "ruled out";
  if (after >= 1.0) return "certain";
  if (before <= 0.0 || before >= 1.0) return after > before ? "possible again" : "no longer certain";
  const double ratio = after / (1.0 - after) * ((1.0 - before) / before);
  const double size = std::max(ratio, 1.0 / ratio);
  const std::string direction = ratio > 1.0 ? "more likely" : "less likely";
  return size >= 4.0 ? "much " + direction : size >= 1.25 ? direction : "slightly " + direction;
}

}  // namespace

std::vector<std::string> changes_in_words(const FaultModel& model, const std::vector<FaultProbability>& before,
                                          const std::vector<FaultProbability>& after) {
  struct Change {
    double size;
    std::string text;
  };
  std::vector<Change> changes;
  for (const FaultProbability& old : before) {
    const auto now = std::find_if(after.begin(), after.end(), [&](const FaultProbability& fault) {
      return fault.component == old.component && fault.state == old.state;
    });
    if (now == after.end()) continue;
    const double size = std::abs(now->probability - old.probability);
    if (size < 0.005) continue;
    changes.push_back({size, fault_text(model, old.component, old.state) + ": " +
                                 movement(old.probability, now->probability) + ", " + percent(old.probability) +
                                 " -> " + percent(now->probability)});
  }
  std::stable_sort(changes.begin(), changes.end(), [](const Change& a, const Change& b) { return a.size > b.size; });
  std::vector<std::string> lines;
  for (const Change& change : changes) lines.push_back(change.text);
  return lines;
}

std::vector<FaultProbability> Bench::all_faults() const {
  std::vector<VariableIndex> components = model().with_role(Role::component);
  if (components.empty()) components = job_.options().advice.ranking.targets;
  std::size_t count = 0;
  for (const VariableIndex component : components) count += model().state_count(component);
  return leading_faults(job_.current(), components, count);
}

void Bench::show_changes(const std::vector<FaultProbability>& before) {
  constexpr std::size_t most = 6;
  const std::vector<std::string> lines = changes_in_words(model(), before, all_faults());
  if (lines.empty()) screen().text("This changes little about the faults.", 2);
  for (std::size_t i = 0; i < std::min(lines.size(), most); ++i) screen().text(lines[i], 2, 2);
}

void Bench::clear() {
  test_.reset();
  in_general_.reset();
}

void Bench::show_state() {
  clear();
  for (const AdvisedFault& fault : job_.advice().known) screen().heading("Known fault: " + fault.label);
  if (!job_.advice().leading.empty()) show_leading(screen(), model(), job_.advice().ranking);
  show_choices(screen(), job_.advice(), 3);
  show_proposed_step();
}

void Bench::show_proposed_step() {
  const JobStep& step = job_.advice().proposed.step;
  if (const auto* test = std::get_if<TestStep>(&step)) {
    propose(test->test);
    show_proposal();
  } else if (job_.advice().likely) {
    show_likely_fault();
  } else if (std::holds_alternative<RepairStep>(step)) {
    show_repair_advice();
  } else if (std::holds_alternative<NoStep>(step)) {
    show_nothing();
  } else {
    show_end_advice();
  }
}

void Bench::propose(VariableIndex test) {
  test_ = step_of_test(test);
  in_general_.reset();
}

AdvisedStep Bench::step_of_test(VariableIndex test) const {
  const JobStep step = TestStep{test};
  if (job_.advice().proposed.step == step) return job_.advice().proposed;
  const std::vector<AdvisedStep>& others = job_.advice().alternatives;
  const auto found =
      std::find_if(others.begin(), others.end(), [&](const AdvisedStep& one) { return one.step == step; });
  return found == others.end() ? described(job_.current(), step, job_.means_now()) : *found;
}

void Bench::show_repair_advice() {
  screen().heading("Advice: repair now, " + percent(job_.advice().proposed.mends.value()) +
                   " sure of the fault that this mends");
  show_repair(screen(), model(), job_.advice().proposed);
  screen().text("r: do it, and say what the check shows; m: test on all the same; o: something else was found.");
  screen().blank();
  show_who_decides(screen());
}

void Bench::show_end_advice() {
  const bool over = std::holds_alternative<HandOverStep>(job_.advice().proposed.step);
  screen().heading(over ? "Advice: " + step_text(job_.advice().proposed) : "Advice: leave the complaint as it is");
  screen().text("No test and no repair that is within the means here pays for itself.", 2);
  if (over) {
    show_terms(screen(), model(), job_.advice().proposed);
    show_what_to_tell();
  }
  screen().text(over ? "v: it is handed over; m: test on all the same; report FILE: in writing."
                     : "m: test on all the same; report FILE: in writing; q: stop here.");
  screen().blank();
  show_who_decides(screen());
}

void Bench::show_likely_fault() {
  const AdvisedFault& fault = *job_.advice().likely;
  screen().heading("Advice: " + fault.label + ", " + percent(fault.probability));
  tell_if_unlisted(fault.fault);
  if (std::holds_alternative<NoStep>(job_.advice().proposed.step)) show_no_repair();
  if (std::holds_alternative<RepairStep>(job_.advice().proposed.step))
    show_repair(screen(), model(), job_.advice().proposed);
  for (const AdvisedStep& other : job_.advice().alternatives) {
    if (mends(other, fault.fault)) show_repair(screen(), model(), other);
  }
  screen().blank();
  show_who_decides(screen());
  screen().text(
      "r: the repair is done; m: test on all the same, or on to the other faults; o: something else was found; q: stop "
      "here.");
}

void Bench::show_no_repair() {
  const AdvisedStep& nothing = job_.advice().proposed;
  screen().text(nothing.label + '.', 2);
  if (!nothing.description.empty()) screen().text(nothing.description, 2);
}

void Bench::tell_if_unlisted(const Fault& fault) const {
  if (!is_remainder(model().variable(fault.component))) return;
  screen().text("The cause is probably none of those this model lists. Hand the vehicle over to a specialist.", 2);
}

bool Bench::mends(const AdvisedStep& step, const Fault& fault) const {
  const auto* repair = std::get_if<RepairStep>(&step.step);
  if (repair == nullptr) return false;
  return can_mend(model().parts().repairs.at(repair->repair), fault.component, fault.state);
}

void Bench::show_nothing() {
  screen().heading(job_.advice().proposed.label);
  const auto& fault = std::get<NoStep>(job_.advice().proposed.step).fault;
  if (!fault) return;
  screen().text(
      "That is not certain enough to replace a part on. Take up a test that was skipped (u), look for other findings "
      "(o), or hand the vehicle over to a specialist.",
      2);
  tell_if_unlisted(*fault);
  const std::vector<Repair>& repairs = model().parts().repairs;
  const Means means = job_.means_now();
  for (std::size_t r = 0; r < repairs.size(); ++r) {
    if (!can_mend(repairs[r], fault->component, fault->state)) continue;
    show_repair(screen(), model(), described(job_.current(), RepairStep{r}, means));
  }
  screen().blank();
  show_who_decides(screen());
}

void Bench::show_proposal() {
  show_test(screen(), model(), *test_);
  screen().item("Tells", "about " + percent(test_->settles) + " of what is still open about the cause (w: why)");
  if (const auto test = revealing_test()) {
    show_to_reveal(*test);
    return;
  }
  const Variable& test = model().variable(std::get<TestStep>(test_->step).test);
  if (!test.question().empty()) screen().text(test.question(), 2);
  for (std::size_t s = 0; s < test.states.size(); ++s) {
    screen().item(right_aligned(std::to_string(s + 1), 3), shown(test.states[s]), 1, 5);
  }
}

std::string Bench::prompt() const {
  if (!test_) return "\nr repair, o other finding, u undo, ? help, q quit > ";
  if (revealing_test()) return "\nnumbers, none, g general, s skipped, c could not, o other, ? help > ";
  const std::size_t outcomes = model().state_count(std::get<TestStep>(test_->step).test);
  return "\n1-" + std::to_string(outcomes) + ", s skipped, c could not, o other finding, w why, ? help > ";
}

void Bench::why(const std::string& fault) {
  if (!fault.empty()) {
    show_why(screen(), job_.current(), parse_claim(model(), fault));
    return;
  }
  if (test_) {
    show_why(screen(), job_.advice(), *test_);
    const std::size_t test = std::get<TestStep>(test_->step).test;
    screen().text(explain_in_words(model(), contrast(job_.current(), test, job_.advice().ranking.leading)), 11);
  } else {
    screen().text("No test is proposed just now; m proposes one.");
  }
  if (job_.advice().leading.empty()) return;
  const Fault& first = job_.advice().leading.front().fault;
  show_why(screen(), job_.current(), Claim{first.component, {first.state}});
  screen().text("For another fault: why COMPONENT or why COMPONENT=STATE", 2);
}

void Bench::history(const std::string&) {
  const std::vector<Entry>& entries = job_.entries();
  if (entries.empty()) screen().text("No answers yet.");
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const std::optional<Finding> before = job_.replaced_by(i);
    const std::string instead = before ? " (before: " + finding_text(model(), *before) + ')' : "";
    screen().item(right_aligned(std::to_string(i + 1), 3),
                  entry_label(model(), entries[i]) + ": " + entry_in_words(model(), entries[i]) + instead, 1, 5);
  }
}

void Bench::faults(const std::string&) {
  std::vector<BarRow> rows;
  for (const FaultProbability& fault : all_faults())
    rows.push_back({fault_text(model(), fault.component, fault.state), fault.probability, {}});
  screen().heading("All faults");
  screen().bars(rows);
}

void Bench::list(const std::string&) {
  constexpr std::size_t most = 9;
  const std::vector<TestForecast>& tests = job_.advice().ranking.tests;
  if (tests.empty()) {
    screen().text("No test is left.");
    return;
  }
  screen().heading("Tests by what they tell for their cost");
  show_tests(screen(), model(), job_.advice().ranking, most);
  std::vector<Choice> choices;
  for (std::size_t i = 0; i < std::min(most, tests.size()); ++i)
    choices.push_back(variable_choice(model().variable(tests[i].test)));
  while (const auto answer = questions_.ask("number of the test to do, or Enter to go back > ")) {
    if (answer->empty()) return;
    const std::vector<std::size_t> found = matches(*answer, choices);
    if (found.size() == 1) {
      propose(tests[found.front()].test);
      show_proposal();
      return;
    }
    screen().text("Give one of the numbers in front.");
  }
}

void Bench::help(const std::string&) {
  screen().heading("What can be typed");
  screen().item("1, 2, ...", "the outcome of the proposed test; its name, or the start of it, will do", 2, 14);
  screen().item("283 kPa", "a reading, in any unit of its kind; two: 41 psi; 42 psi; or: reading 283", 2, 14);
  screen().item("NAME=STATE", "any finding; it takes the place of an earlier one; NAME=283 kPa for a reading", 2, 14);
  for (const Command& command : commands()) {
    const std::string word = command.words.front();
    const bool has_short = command.words.size() > 1 && command.words[1].size() == 1;
    screen().item(has_short ? command.words[1] + ", " + word : word, command.help, 2, 14);
  }
}

}  // namespace faultodds::program

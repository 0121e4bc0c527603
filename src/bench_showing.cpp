// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>

#include "bench.hpp"
#include "case_report.hpp"
#include "faultodds/decision/evidence/evidence_words.hpp"
#include "findings.hpp"
#include "why.hpp"

namespace faultodds::program {
namespace {

/// A leading fault above this is advised on; a test that tells less than this many bits is not worth doing.
constexpr double likely_enough = 0.95;
constexpr double min_bits = 1e-3;

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
  std::vector<std::size_t> components = model().with_role(Role::component);
  if (components.empty()) components = options_.ranking.targets;
  std::size_t count = 0;
  for (const std::size_t component : components) count += model().state_count(component);
  return leading_faults(log_.current(), components, count);
}

void Bench::show_changes(const std::vector<FaultProbability>& before) {
  constexpr std::size_t most = 6;
  const std::vector<std::string> lines = changes_in_words(model(), before, all_faults());
  if (lines.empty()) screen().text("This changes little about the faults.", 2);
  for (std::size_t i = 0; i < std::min(lines.size(), most); ++i) screen().text(lines[i], 2, 2);
}

std::vector<std::size_t> Bench::tests_left() const {
  const std::vector<std::size_t> declined = log_.declined();
  const std::vector<std::size_t>& wanted = options_.ranking.tests;
  std::vector<std::size_t> left = wanted.empty() ? model().with_role(Role::test) : wanted;
  std::erase_if(left, [&](std::size_t test) {
    return log_.current().finding_of(test) != nullptr || has_revealed(log_.current(), test) ||
           std::find(declined.begin(), declined.end(), test) != declined.end();
  });
  return left;
}

void Bench::rank() {
  proposed_.reset();
  in_general_.reset();
  RankOptions options = options_now();
  options.tests = tests_left();
  if (options.tests.empty() && !log_.steps().empty()) {
    ranking_ = Ranking{};
    ranking_.targets = options.targets.empty() ? faults_in_question(log_.current()) : options.targets;
    ranking_.leading = leading_faults(log_.current(), ranking_.targets, options.leading);
    return;
  }
  ranking_ = rank_tests(log_.current(), options);
  const auto telling = std::find_if(ranking_.tests.begin(), ranking_.tests.end(),
                                    [](const TestForecast& forecast) { return forecast.gain_bits >= min_bits; });
  if (telling != ranking_.tests.end()) proposed_ = static_cast<std::size_t>(telling - ranking_.tests.begin());
}

RankOptions Bench::options_now() const {
  RankOptions options = options_.ranking;
  for (const std::size_t repair : log_.repairs()) {
    for (const std::string& opened : cost_of(model(), model().parts().repairs.at(repair).work, InPlace{}).opens)
      options.means.open_access.push_back(opened);
  }
  if (!options_.budget && !options_.deadline) return options;
  const Spent spent = spent_on(log_, options_.ranking.means);
  const auto lower = [](std::optional<double>& limit, const std::optional<double>& all, double used) {
    if (all) limit = std::min(limit.value_or(*all), std::max(0.0, *all - used));
  };
  lower(options.means.max_cost, options_.budget, spent.cost);
  lower(options.means.max_minutes, options_.deadline, spent.minutes);
  return options;
}

void Bench::weigh_costs() {
  CaseProblemOptions options;
  RankOptions ranking = options_now();
  options.hypotheses.components = std::move(ranking.targets);
  options.tests = tests_left();
  options.means = std::move(ranking.means);
  options.repairs_done = log_.repairs();
  options.ends = options_.ends;
  costs_ = choices_of(log_.current(), std::move(options));
}

bool Bench::is_passed_over(const faultodds::Step& step) const {
  return std::find(passed_over_.begin(), passed_over_.end(), step) != passed_over_.end();
}

std::optional<std::size_t> Bench::step_by_cost() const {
  if (!costs_ || !options_.by_expected_cost) return std::nullopt;
  if (!is_passed_over(costs_->steps[costs_->proposed].step)) return costs_->proposed;
  std::vector<PricedStep> tests;
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < costs_->steps.size(); ++i) {
    if (costs_->steps[i].step.kind != StepKind::test) continue;
    tests.push_back(costs_->steps[i]);
    places.push_back(i);
  }
  return tests.empty() ? std::nullopt : std::optional(places[proposed_among(tests)]);
}

std::optional<FaultProbability> Bench::likely_fault() const {
  for (const FaultProbability& fault : all_faults()) {
    if (fault.probability <= likely_enough) break;
    const bool advised = std::any_of(advised_on_.begin(), advised_on_.end(), [&](const FaultProbability& known) {
      return known.component == fault.component && known.state == fault.state;
    });
    if (!advised) return fault;
  }
  return std::nullopt;
}

void Bench::show_state() {
  rank();
  on_the_screen_.reset();
  for (const Finding& finding : log_.current().findings()) {
    const bool known = model().variable(finding.variable).role == Role::component && finding.state.value_or(0) > 0;
    if (known) screen().heading("Known fault: " + fault_text(model(), finding.variable, *finding.state));
  }
  if (!ranking_.leading.empty()) show_leading(screen(), model(), ranking_);
  weigh_costs();
  const std::optional<std::size_t> lead = step_by_cost();
  if (costs_) show_choices(screen(), model(), *costs_, 3, lead);
  if (lead) {
    show_step(costs_->steps[*lead]);
    return;
  }
  const bool passed_over = costs_ && is_passed_over(costs_->steps[costs_->proposed].step);
  const std::optional<FaultProbability> likely = passed_over ? std::nullopt : likely_fault();
  if (likely || !proposed_) {
    show_conclusion(likely);
  } else {
    show_proposal();
  }
}

void Bench::show_step(const PricedStep& step) {
  proposed_.reset();
  if (step.step.kind == StepKind::test) {
    if (propose(costs_->made.tests.at(step.step.index))) show_proposal();
    return;
  }
  on_the_screen_ = step.step;
  if (step.step.kind == StepKind::repair) {
    show_repair_advice(costs_->made.repairs.at(step.step.index));
  } else {
    show_hand_over_advice(step);
  }
  screen().blank();
  show_who_decides(screen());
}

bool Bench::propose(std::size_t test) {
  const auto at = std::find_if(ranking_.tests.begin(), ranking_.tests.end(),
                               [test](const TestForecast& forecast) { return forecast.test == test; });
  if (at == ranking_.tests.end()) return false;
  proposed_ = static_cast<std::size_t>(at - ranking_.tests.begin());
  in_general_.reset();
  return true;
}

void Bench::show_repair_advice(std::size_t repair) {
  const Repair& what = model().parts().repairs.at(repair);
  const std::vector<double> chances = log_.current().posterior(what.component);
  double mends = 0.0;
  for (const std::size_t state : what.mends) mends += chances[state];
  screen().heading("Advice: repair now, " + percent(mends) + " sure of the fault that this mends");
  show_repair(screen(), log_.current(), repair, options_now().means);
  screen().text("r: do it, and say what the check shows; m: test on all the same; o: something else was found.");
}

void Bench::show_hand_over_advice(const PricedStep& step) {
  const bool over = step.step.kind == StepKind::hand_over;
  screen().heading(over ? "Advice: " + step_text(model(), costs_->made, step.step)
                        : "Advice: leave the complaint as it is");
  screen().text("No test and no repair that is within the means here pays for itself.", 2);
  if (over) {
    show_terms(screen(), model(), costs_->made, step);
    show_what_to_tell();
  }
  screen().text(over ? "v: it is handed over; m: test on all the same; report FILE: in writing."
                     : "m: test on all the same; report FILE: in writing; q: stop here.");
}

void Bench::show_proposal() {
  const TestForecast& forecast = ranking_.tests.at(*proposed_);
  const Variable& test = model().variable(forecast.test);
  show_test(screen(), model(), forecast);
  screen().item("Tells", "about " + percent(share_settled(ranking_, forecast)) +
                             " of what is still open about the cause (w: why)");
  if (revealing_test()) {
    show_to_reveal(forecast.test);
    return;
  }
  if (!test.question.empty()) screen().text(test.question, 2);
  for (std::size_t s = 0; s < test.states.size(); ++s) {
    screen().item(right_aligned(std::to_string(s + 1), 3), shown(test.states[s]), 1, 5);
  }
}

void Bench::show_conclusion(const std::optional<FaultProbability>& likely) {
  const bool more_to_test = proposed_.has_value();
  proposed_.reset();
  if (!likely && ranking_.leading.empty()) {
    screen().heading("No fault is in question, and no test would tell more");
    return;
  }
  const FaultProbability fault = likely ? *likely : ranking_.leading.front();
  const std::string name = fault_text(model(), fault.component, fault.state) + ", " + percent(fault.probability);
  screen().heading(likely ? "Advice: " + name
                          : "No test that is left would tell more. The most likely fault is " + name);
  if (!likely) {
    screen().text(
        "That is not certain enough to replace a part on. Take up a test that was skipped (u), look for other findings "
        "(o), or hand the vehicle over to a specialist.",
        2);
  }
  if (model().variable(fault.component).remainder) {
    screen().text("The cause is probably none of those this model lists. Hand the vehicle over to a specialist.", 2);
  } else {
    show_repairs(screen(), log_.current(), fault, options_now().means);
  }
  screen().blank();
  show_who_decides(screen());
  if (likely)
    screen().text(more_to_test
                      ? "r: the repair is done; m: test on all the same; o: something else was found; q: stop here."
                      : "r: the repair is done; m: on to the other faults; q: stop here.");
}

std::string Bench::prompt() const {
  if (!proposed_) return "\nr repair, o other finding, u undo, ? help, q quit > ";
  if (revealing_test()) return "\nnumbers, none, g general, s skipped, c could not, o other, ? help > ";
  const std::size_t outcomes = model().state_count(ranking_.tests.at(*proposed_).test);
  return "\n1-" + std::to_string(outcomes) + ", s skipped, c could not, o other finding, w why, ? help > ";
}

void Bench::why(const std::string& fault) {
  if (!fault.empty()) {
    show_why(screen(), log_.current(), parse_claim(model(), fault));
    return;
  }
  if (proposed_) {
    const TestForecast& forecast = ranking_.tests.at(*proposed_);
    show_why(screen(), model(), ranking_, forecast);
    const TestContrast found = contrast(log_.current(), forecast.test, ranking_.leading);
    screen().text(explain_in_words(model(), found), 11);
  } else {
    screen().text("No test is proposed just now; m proposes one.");
  }
  if (ranking_.leading.empty()) return;
  const FaultProbability& first = ranking_.leading.front();
  show_why(screen(), log_.current(), Claim{first.component, {first.state}});
  screen().text("For another fault: why COMPONENT or why COMPONENT=STATE", 2);
}

void Bench::history(const std::string&) {
  if (log_.steps().empty()) screen().text("No answers yet.");
  std::size_t count = 0;
  for (const Step& step : log_.steps()) {
    const std::string instead = step.before ? " (before: " + finding_text(model(), *step.before) + ')' : "";
    screen().item(right_aligned(std::to_string(++count), 3),
                  step_label(model(), step) + ": " + answer_text(model(), step) + instead, 1, 5);
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
  if (ranking_.tests.empty()) {
    screen().text("No test is left.");
    return;
  }
  screen().heading("Tests by what they tell for their cost");
  show_tests(screen(), model(), ranking_, 0, most);
  std::vector<Choice> choices;
  for (std::size_t i = 0; i < std::min(most, ranking_.tests.size()); ++i) {
    choices.push_back(variable_choice(model().variable(ranking_.tests[i].test)));
  }
  while (const auto answer = questions_.ask("number of the test to do, or Enter to go back > ")) {
    if (answer->empty()) return;
    const std::vector<std::size_t> found = matches(*answer, choices);
    if (found.size() == 1) {
      proposed_ = found.front();
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

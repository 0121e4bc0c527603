// The bench: money, repairs with the check after them, the report.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <filesystem>

#include "bench.hpp"
#include "case_report.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/report/job_report_blocks.hpp"
#include "findings.hpp"

namespace faultodds::program {
void Bench::money(const std::string&) {
  if (!costs_) {
    screen().text(
        "The model names no cost of handing over or of living with the complaint, so nothing can be weighed.");
    return;
  }
  constexpr std::size_t all = 1000;
  show_choices(screen(), model(), *costs_, all, step_by_cost());
}

/// By name; otherwise the one that is proposed, or from a menu: those of the expected costs in their order, otherwise
/// all that mend a leading fault.
std::optional<std::size_t> Bench::pick_repair(const std::string& name) {
  const std::vector<Repair>& repairs = model().parts().repairs;
  if (name.empty() && on_the_screen_ && on_the_screen_->kind == StepKind::repair) {
    return costs_->made.repairs.at(on_the_screen_->index);
  }
  std::vector<std::size_t> offered;
  if (name.empty() && costs_) {
    for (const PricedStep& step : costs_->steps) {
      if (step.step.kind == StepKind::repair) offered.push_back(costs_->made.repairs.at(step.step.index));
    }
  }
  if (offered.empty()) {
    for (std::size_t r = 0; r < repairs.size(); ++r) offered.push_back(r);
  }
  if (offered.empty()) {
    screen().text("The model has no repairs.");
    return std::nullopt;
  }
  std::vector<Choice> choices;
  for (const std::size_t r : offered) choices.push_back({{label_or_name(repairs[r]), repairs[r].name}});
  if (name.empty()) {
    const auto chosen = questions_.choose("Which repair?", choices);
    return chosen ? std::optional(offered[*chosen]) : std::nullopt;
  }
  const std::vector<std::size_t> found = matches(name, choices);
  if (found.size() == 1) return offered[found.front()];
  questions_.explain_no_match(name, choices, found);
  return std::nullopt;
}

void Bench::repair(const std::string& name) {
  const auto chosen = pick_repair(name);
  if (!chosen) return;
  show_repair(screen(), log_.current(), *chosen, options_now().means);
  const std::optional<bool> done = questions_.confirm("Is it done?");
  if (!done.value_or(false)) {
    screen().text("Then nothing is noted.");
    return;
  }
  ask_check(*chosen);
}

void Bench::ask_check(std::size_t repair) {
  const Repair& what = model().parts().repairs.at(repair);
  const std::optional<RepairCheck>& check = what.verification ? what.verification : model().parts().verification;
  show_check(screen(), model(), check ? *check : RepairCheck{});
  const auto said =
      questions_.choose("What does the check say?", {{{"cured", "gone"}}, {{"still there", "still_there"}}});
  const std::vector<FaultProbability> before = all_faults();
  log_.record_repair(repair, said);
  keep();
  stale_ = true;
  screen().heading(step_label(model(), log_.steps().back()) + ": " + answer_text(model(), log_.steps().back()));
  show_changes(before);
  if (said != std::optional<std::size_t>(0)) return;
  const std::size_t complaint = model().parents(log_.steps().back().variable).front();
  const double gone = log_.current().posterior(complaint)[0];
  screen().heading("The complaint is gone: " + percent(gone) + " sure");
  screen().text("report FILE writes what was done; q ends; everything else goes on with the case.", 2);
  stale_ = false;
  proposed_.reset();
}

void Bench::show_what_to_tell() const {
  constexpr std::size_t most = 5;
  show_findings(screen(), log_.current());
  const ReportFaults sorted = sorted_faults(report_of(log_, options_.ranking.means, ranking_));
  std::vector<std::string> left, ruled_out;
  for (std::size_t i = 0; i < std::min(most, sorted.leading.size()); ++i) {
    left.push_back(sorted.leading[i].label + ' ' + percent(sorted.leading[i].probability));
  }
  for (const ReportFault& fault : sorted.ruled_out) ruled_out.push_back(fault.label);
  screen().item("Left", left.empty() ? "no fault of this model with 1 % or more" : joined(left, "; "));
  if (!ruled_out.empty()) screen().item("Out", "ruled out to less than 1 %: " + joined(ruled_out, "; "));
}

std::optional<std::size_t> Bench::pick_hand_over(const std::string& name) {
  const std::vector<HandOver>& all = model().parts().hand_overs;
  std::vector<Choice> choices;
  for (const HandOver& one : all) choices.push_back({{label_or_name(one), one.name}});
  if (choices.empty()) screen().text("The model names nobody to hand over to.");
  if (choices.empty() || (choices.size() == 1 && name.empty())) {
    return choices.empty() ? std::nullopt : std::optional(std::size_t{0});
  }
  if (name.empty()) return questions_.choose("To whom?", choices);
  const std::vector<std::size_t> found = matches(name, choices);
  if (found.size() == 1) return found.front();
  questions_.explain_no_match(name, choices, found);
  return std::nullopt;
}

void Bench::hand_over(const std::string& name) {
  const auto chosen = pick_hand_over(name);
  if (!chosen) return;
  const HandOver& to = model().parts().hand_overs.at(*chosen);
  screen().heading("Handing over to " + label_or_name(to));
  show_what_to_tell();
  if (!questions_.confirm("Is it handed over?").value_or(false)) {
    screen().text("Then nothing is noted.");
    return;
  }
  log_.record_hand_over(*chosen);
  keep();
  screen().heading("Handed over to " + step_label(model(), log_.steps().back()));
  screen().text(
      "report FILE writes it for the specialist and the archive; what is found there can be entered with o; u takes it "
      "back; q ends.",
      2);
  stale_ = false;
  proposed_.reset();
}

void Bench::report(const std::string& file) {
  if (file.empty()) {
    screen().text("Give the file as well: report FILE, its name ending in .md, .html or .json");
    return;
  }
  if (std::filesystem::exists(file)) {
    screen().text(file + " is there already; give another name.");
    return;
  }
  const auto text = written_report(log_, options_.ranking.means, ranking_, file);
  if (!text) {
    screen().text("A report is written as .md, .html or .json; give a name that ends so.");
    return;
  }
  try {
    write_text_file(file, *text);
    screen().text("The report is in " + file);
  } catch (const Error& error) {
    screen().text(error.what());
  }
}

}  // namespace faultodds::program

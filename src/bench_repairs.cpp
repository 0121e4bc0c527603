// The bench: money, repairs with the check after them, hand-over, the report.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <filesystem>

#include "advice.hpp"
#include "advised_step.hpp"
#include "bench.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/job/report_data.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/report/job_report.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

/// In the format that the name of the file asks for; nothing for others.
std::optional<std::string> written_report(const JobReport& report, const std::string& file) {
  const std::string ending = lower_case(std::filesystem::path(file).extension().string());
  if (ending == ".md") return write_report_markdown(report);
  if (ending == ".html") return write_report_html(report);
  if (ending == ".json") return write_report_json(report);
  return std::nullopt;
}

}  // namespace

void Bench::money(const std::string&) {
  if (!job_.advice().priced) {
    screen().text(
        "The model names no cost of handing over or of living with the complaint, so nothing can be weighed.");
    return;
  }
  constexpr std::size_t all = 1000;
  show_choices(screen(), job_.advice(), all);
}

/// By name; otherwise the one that is proposed, or from a menu: those of the expected costs in their order, otherwise
/// all.
std::optional<RepairIndex> Bench::pick_repair(const std::string& name) {
  const std::vector<Repair>& repairs = model().parts().repairs;
  const auto* proposed = std::get_if<RepairStep>(&job_.advice().proposed.step);
  if (name.empty() && proposed != nullptr && job_.advice().led_by_cost) return proposed->repair;
  std::vector<std::size_t> offered;
  for (const AdvisedStep* step : steps_by_cost(job_.advice())) {
    const auto* one = std::get_if<RepairStep>(&step->step);
    if (name.empty() && one != nullptr) offered.push_back(one->repair);
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
  show_repair(screen(), model(), described(job_.current(), RepairStep{*chosen}, job_.means_now()));
  const std::optional<bool> done = questions_.confirm("Is it done?");
  if (!done.value_or(false)) {
    screen().text("Then nothing is noted.");
    return;
  }
  ask_check(*chosen);
}

void Bench::ask_check(RepairIndex repair) {
  const RepairCheck* check = check_of(model(), repair);
  show_check(screen(), model(), check == nullptr ? RepairCheck{} : *check);
  const auto said =
      questions_.choose("What does the check say?", {{{"cured", "gone"}}, {{"still there", "still_there"}}});
  const std::vector<FaultProbability> before = all_faults();
  job_.add_repair(repair,
                  said ? std::optional(*said == 0 ? CheckResult::cured : CheckResult::still_there) : std::nullopt);
  tell_last_entry(before, entry_in_words(model(), job_.entries().back()));
  if (job_.last_check() != CheckResult::cured) return;
  screen().heading("The complaint is gone: " + percent(job_.cured().value()) + " sure");
  screen().text("report FILE writes what was done; q ends; everything else goes on with the case.", 2);
  stale_ = false;
  test_.reset();
}

void Bench::show_what_to_tell() const {
  show_findings(screen(), job_.current());
  show_brief(screen(), job_.advice().brief);
}

std::optional<HandOverIndex> Bench::pick_hand_over(const std::string& name) {
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
  job_.hand_over(*chosen);
  keep();
  screen().heading("Handed over to " + label_or_name(to));
  screen().text(
      "report FILE writes it for the specialist and the archive; what is found there can be entered with o; u takes it "
      "back; q ends.",
      2);
  stale_ = false;
  test_.reset();
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
  const auto text = written_report(report_of(job_), file);
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

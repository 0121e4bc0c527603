// A bench service of another house over the library: service MODEL.json JOB.json. Answers come line by line on standard
// input: see commands() and enter(). What the job is, costs and needs next is the library's; here it is only asked and
// shown.
// SPDX-License-Identifier: BSD-3-Clause
#include <faultodds/faultodds.hpp>
#include <faultodds/io/job_json.hpp>
#include <faultodds/io/model_file.hpp>
#include <faultodds/io/text_file.hpp>
#include <faultodds/report/job_report.hpp>
#include <filesystem>
#include <functional>
#include <iostream>
#include <iterator>
#include <map>
#include <sstream>

namespace {

using namespace faultodds;
using std::cout;
using Words = std::vector<std::string>;

std::string money(double amount, const Advice& advice) { return wording::exact_money(amount, advice.currency); }

void show_terms(const char* title, const std::vector<Term>& terms) {
  for (const Term& term : terms)
    cout << "  " << title << ": " << term.label << (term.description.empty() ? "" : ": " + term.description) << '\n';
}

void show_step(const AdvisedStep& step, const Advice& advice) {
  cout << "Next: " << kind_of(step.step) << ' ' << step.label << '\n';
  show_terms("CAUTION", step.cautions);
  show_terms("first", step.opens);
  show_terms("needs", step.brings);
  show_terms("tool", step.tools);
  if (!step.procedure.empty()) cout << "  how: " << step.procedure << '\n';
  if (step.cost_known) cout << "  cost: " << money(step.cost, advice) << ", " << step.minutes << " min\n";
  if (step.price) cout << "  in the end: " << money(step.price->in_the_end, advice) << '\n';
  for (const AdvisedOutcome& outcome : step.outcomes)
    cout << "  " << outcome.state + 1 << ' ' << outcome.label << " (" << wording::percent(outcome.probability) << ")\n";
}

void show_advice(const Job& job) {
  const Advice& advice = job.advice();
  for (const AdvisedFault& fault : advice.leading)
    cout << wording::percent(fault.probability) << ' ' << fault.label << '\n';
  show_step(advice.proposed, advice);
  if (std::holds_alternative<AskStep>(advice.proposed.step)) {
    for (const std::size_t variable : std::get<AskStep>(advice.proposed.step).variables)
      cout << "  " << job.model().variable(variable).name << ": " << job.model().variable(variable).question() << '\n';
  }
}

void show_money(Job& job, const Words&) {
  const Ledger ledger = job.ledger();
  for (const LedgerLine& line : ledger.lines)
    cout << entry_label(job.model(), job.entries()[line.entry]) << (line.is_check ? ", check: " : ": ")
         << money(line.charge.cost(), job.advice()) << ", " << line.charge.minutes << " min\n";
  cout << "in all " << money(ledger.total.cost(), job.advice()) << ", " << ledger.time() << " min\n";
  if (ledger.money_left) cout << "left " << money(*ledger.money_left, job.advice()) << '\n';
}

void show_history(Job& job, const Words&) {
  for (std::size_t i = 0; i < job.entries().size(); ++i)
    cout << i + 1 << ' ' << entry_label(job.model(), job.entries()[i]) << ": "
         << entry_in_words(job.model(), job.entries()[i]) << '\n';
}

void write_report(Job& job, const Words& words) { write_text_file(words.at(0), write_report_markdown(report_of(job))); }

/// NAME=STATE, NAME=NUMBER UNIT of a test with a reading, or the number of an outcome of the proposed test.
void enter(Job& job, const std::string& line) {
  const auto* test = std::get_if<TestStep>(&job.advice().proposed.step);
  const std::size_t equals = line.find('=');
  const std::string name = line.substr(0, equals);
  const std::string value = equals == std::string::npos ? std::string() : line.substr(equals + 1);
  const bool is_number = line.find_first_of("0123456789") == (value.empty() ? 0 : equals + 1);
  if (value.empty() && is_number && test != nullptr) return job.add_finding(test->test, std::stoul(line) - 1);
  if (is_number && as_test(job.model().variable(job.model().index_of(name))).reading)
    return job.add_reading(name, value);
  job.add_finding(name, value);
}

void end(Job& job, const Words& words) {
  const std::map<std::string, JobEnd> ends{{"cured", JobEnd::cured}, {"lived_with", JobEnd::lived_with}};
  std::vector<ConfirmedFault> confirmed;
  for (std::size_t i = 1; i < words.size(); ++i) {
    const std::size_t component = job.model().index_of(words[i].substr(0, words[i].find('=')));
    const std::size_t state = job.model().state_of(component, words[i].substr(words[i].find('=') + 1));
    confirmed.push_back({component, state, ConfirmedBy::sight});
  }
  job.close(ends.at(words.at(0)), std::move(confirmed));
}

const std::map<std::string, std::function<void(Job&, const Words&)>>& commands() {
  static const std::map<std::string, std::function<void(Job&, const Words&)>> known = {
      {"shows", [](Job& job, const Words& w) { job.add_revealed(w.at(0), Words(w.begin() + 1, w.end())); }},
      {"skip",
       [](Job& job, const Words&) { job.decline(std::get<TestStep>(job.advice().proposed.step).test, "skipped"); }},
      {"cured", [](Job& job, const Words& w) { job.add_repair(w.at(0), CheckResult::cured); }},
      {"in_vain", [](Job& job, const Words& w) { job.add_repair(w.at(0), CheckResult::still_there); }},
      {"done", [](Job& job, const Words& w) { job.add_repair(w.at(0)); }},
      {"over", [](Job& job, const Words& w) { job.hand_over(w.at(0)); }},
      {"open",
       [](Job& job, const Words& w) {
         job.add_in_place({w, {}});
       }},
      {"more", [](Job& job, const Words&) { job.pass_over(job.advice().proposed.step); }},
      {"undo", [](Job& job, const Words&) { job.undo(); }},
      {"back", [](Job& job, const Words& w) { job.undo_to(std::stoul(w.at(0))); }},
      {"end", end},
      {"why",
       [](Job& job, const Words&) {
         for (const std::string& text : job.advice().why) cout << text << '\n';
       }},
      {"list",
       [](Job& job, const Words&) {
         for (const auto& step : job.advice().alternatives) show_step(step, job.advice());
       }},
      {"money", show_money},
      {"history", show_history},
      {"report", write_report}};
  return known;
}

}  // namespace

int main(int, char** arguments) {
  const Solver solver(read_model(arguments[1]));
  const std::string file = arguments[2];
  Job job = std::filesystem::exists(file) ? read_job(read_text_file(file), solver, {}, file) : Job(solver);
  show_advice(job);
  for (std::string line; std::getline(std::cin, line) && line != "quit";) {
    try {
      std::istringstream in(line);
      Words words{std::istream_iterator<std::string>(in), {}};
      const std::string verb = words.empty() ? std::string() : words.front();
      const auto command = commands().find(verb);
      if (command == commands().end()) {
        enter(job, line);
      } else {
        words.erase(words.begin());
        command->second(job, words);
      }
      write_text_file(file, write_job(job));
      show_advice(job);
    } catch (const std::exception& error) {
      cout << "Refused: " << error.what() << '\n';
    }
  }
}

// Bodies of report_data.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/job/report_data.hpp"
#include "faultodds/model/stable_order.hpp"
#include "faultodds/model/wording.hpp"

namespace faultodds {
namespace detail {

/// Fills the report of a job part by part.
class ReportOfJob {
 public:
  ReportOfJob(const Job& job, const Ranking& ranking)
      : job_(job), model_(job.model()), ranking_(ranking), ledger_(job.ledger()) {}

  [[nodiscard]] JobReport take() {
    write_header();
    write_facts();
    for (const LedgerLine& line : ledger_.lines) write_step(line);
    write_faults();
    write_open_tests();
    report_.conclusion = conclusion();
    write_hand_over();
    return std::move(report_);
  }

 private:
  void write_header() {
    const Header& header = model_.header();
    report_.title = header.title.empty() ? header.name : header.title;
    report_.version = header.version;
    report_.invented = header.invented;
    report_.safety = header.safety;
    report_.currency = header.currency;
    report_.labour_rate = job_.options().means.labour_rate.value_or(header.labour_rate);
    report_.about = job_.options().about;
  }

  /// What was observed and is not work: facts about the vehicle, and what was noticed.
  void write_facts() {
    for (const Entry& entry : job_.entries()) {
      const auto* found = std::get_if<FindingEntry>(&entry.what);
      const bool is_part = std::holds_alternative<PartEntry>(entry.what);
      if (test_done(model_, entry) || (found == nullptr && !is_part)) continue;
      const bool of_vehicle = found != nullptr && model_.variable(found->finding.variable).role() == Role::context;
      (of_vehicle ? report_.vehicle : report_.complaint)
          .push_back({entry_label(model_, entry), entry_in_words(model_, entry)});
    }
  }

  void write_step(const LedgerLine& line) {
    const Entry& entry = job_.entries()[line.entry];
    ReportStep step;
    step.label = entry_label(model_, entry);
    step.found = entry_in_words(model_, entry);
    step.minutes = line.charge.minutes;
    step.wait_minutes = line.charge.wait_minutes;
    step.money = line.charge.money;
    step.labour = line.charge.labour;
    for (const std::string& name : line.charge.opens) step.first.push_back(label_in(model_.parts().access, name));
    for (const std::string& name : line.charge.brings) step.first.push_back(label_in(model_.parts().conditions, name));
    if (const auto* repair = std::get_if<RepairEntry>(&entry.what)) {
      write_repair(*repair, line.is_check, step);
    } else if (const auto* to = std::get_if<HandOverEntry>(&entry.what)) {
      write_fee(*to, step);
    }
    if (const Work* work = work_of(entry, line.is_check)) add_cautions(*work, line.charge);
    report_.steps.push_back(std::move(step));
  }

  /// The repair and its check are steps of their own if the model says what the check is.
  void write_repair(const RepairEntry& repair, bool is_check, ReportStep& step) const {
    const RepairCheck* check = check_of(model_, repair.repair);
    step.kind = is_check ? ReportStepKind::other : ReportStepKind::repair;
    if (check == nullptr || !repair.check) return;
    step.found = is_check ? check_in_words(repair.check->result) : "done";
    if (is_check) step.label = check->label.empty() ? "check after the repair" : check->label;
  }

  /// The fee is paid; what the repair there costs is not known yet.
  void write_fee(const HandOverEntry& to, ReportStep& step) const {
    step.kind = ReportStepKind::hand_over;
    step.label = "handed over to " + step.label;
    step.found.clear();
    if (model_.parts().hand_overs[to.hand_over].repair) step.note = "The repair there is charged on top.";
  }

  /// The work of a line; null for a fee.
  [[nodiscard]] const Work* work_of(const Entry& entry, bool is_check) const {
    if (const auto test = test_done(model_, entry)) return &as_test(model_.variable(*test)).work;
    const auto* repair = std::get_if<RepairEntry>(&entry.what);
    if (repair == nullptr) return nullptr;
    return is_check ? &check_of(model_, repair->repair)->work : &model_.parts().repairs[repair->repair].work;
  }

  void add_cautions(const Work& work, const Charge& charge) {
    WorkCost done;
    done.opens = charge.opens;
    done.brings = charge.brings;
    for (const std::string& name : cautions_of(model_, work, done)) {
      const Term& term = model_.parts().cautions[model_.index_of_caution(name)];
      ReportCaution caution{label_or_name_of(term), term.description};
      std::vector<ReportCaution>& all = report_.cautions;
      if (std::find(all.begin(), all.end(), caution) == all.end()) all.push_back(std::move(caution));
    }
  }

  /// The case once the complaint was known, before anything was done.
  [[nodiscard]] Case case_at_start() const {
    const std::size_t first = ledger_.lines.empty() ? job_.entries().size() : ledger_.lines.front().entry;
    Case start(job_.solver());
    start.add(job_.findings_before(first));
    return start;
  }

  void write_faults() {
    const Case start = case_at_start();
    for (const VariableIndex component : model_.with_role(Role::component)) {
      const std::vector<double> now = job_.current().posterior(component);
      const std::vector<double> before = start.posterior(component);
      for (std::size_t s = 1; s < now.size(); ++s)
        report_.faults.push_back({claim_in_words(model_, {component, {s}}), now[s], before[s]});
    }
  }

  void write_open_tests() {
    const std::vector<VariableIndex> declined = job_.declined();
    for (const TestForecast& forecast : ranking_.tests) {
      const bool is_declined = std::find(declined.begin(), declined.end(), forecast.test) != declined.end();
      if (is_declined || forecast.gain_bits < 1e-3 || report_.open_tests.size() == report_open_tests) continue;
      const double settles =
          ranking_.entropy_bits > 0.0 ? std::clamp(forecast.gain_bits / ranking_.entropy_bits, 0.0, 1.0) : 0.0;
      report_.open_tests.push_back({.label = shown(model_.variable(forecast.test)),
                                    .settles = settles,
                                    .minutes = forecast.minutes,
                                    .money = forecast.money,
                                    .labour = forecast.cost - forecast.money,
                                    .reason = {}});
    }
    for (const VariableIndex test : declined) write_declined(test);
  }

  void write_declined(VariableIndex test) {
    const Variable& variable = model_.variable(test);
    const Charge charge =
        charge_of(job_.current(), as_test(variable).work, ledger_.in_place, job_.options().means.labour_rate);
    std::string reason;
    for (const Entry& entry : job_.entries()) {
      const auto* declined = std::get_if<DeclinedEntry>(&entry.what);
      if (declined != nullptr && declined->test == test) reason = declined->reason;
    }
    report_.open_tests.push_back({.label = shown(variable),
                                  .settles = 0.0,
                                  .minutes = charge.minutes,
                                  .money = charge.money,
                                  .labour = charge.labour,
                                  .reason = std::move(reason)});
  }

  [[nodiscard]] bool is_cured() const { return job_.last_check() == CheckResult::cured; }

  [[nodiscard]] std::string conclusion() const {
    if (job_.has_ended()) return in_a_sentence(entry_in_words(model_, job_.entries().back()));
    if (is_cured()) {
      return "After the last repair the check says that the complaint is gone; it is so with " +
             wording::percent(*job_.cured()) + '.';
    }
    const std::string where = job_.handed_over() ? "The vehicle was handed over. " : "";
    std::vector<std::string> found;
    for (const VariableIndex component : known_faults(job_.current())) {
      found.push_back(claim_in_words(model_, {component, {job_.current().finding_of(component)->state.value()}}));
    }
    if (!found.empty()) return where + "Found: " + wording::joined(found, "; ") + ". The complaint is not settled.";
    if (ranking_.leading.empty()) return where + "No fault is in question.";
    const FaultProbability& first = ranking_.leading.front();
    return where + "Most likely: " + claim_in_words(model_, {first.component, {first.state}}) + ", " +
           wording::percent(first.probability) + ". The complaint is not settled.";
  }

  [[nodiscard]] static std::string in_a_sentence(std::string text) {
    if (text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text + '.';
  }

  /// The one that the vehicle went to, otherwise the cheapest.
  void write_hand_over() {
    const std::vector<HandOver>& all = model_.parts().hand_overs;
    if (is_cured() || all.empty()) return;
    const auto cheapest = std::min_element(all.begin(), all.end(), [](const HandOver& a, const HandOver& b) {
      return a.money.has_value() && (!b.money || *a.money < *b.money);
    });
    const HandOver& chosen = job_.handed_over() ? all[*job_.handed_over()] : *cheapest;
    ReportHandOver to{label_or_name_of(chosen), chosen.money, chosen.wait_minutes, {}};
    if (!chosen.tells.empty()) to.what_to_tell.push_back("They can: " + chosen.tells);
    if (chosen.repair) to.what_to_tell.emplace_back("The repair is charged on top of the fee.");
    report_.hand_over = std::move(to);
  }

  const Job& job_;
  const FaultModel& model_;
  const Ranking& ranking_;
  Ledger ledger_;
  JobReport report_;
};

}  // namespace detail

inline JobReport report_of(const Job& job, const Ranking& ranking) { return detail::ReportOfJob(job, ranking).take(); }

inline JobReport report_of(const Job& job) { return report_of(job, job.advice().ranking); }

inline ReportFaults sorted_faults(const JobReport& report) {
  std::vector<ReportFault> all = report.faults;
  detail::sort_stably(all, [](const ReportFault& a, const ReportFault& b) { return a.probability > b.probability; });
  ReportFaults sorted;
  for (ReportFault& fault : all) {
    std::vector<ReportFault>& list = fault.probability >= report_ruled_out              ? sorted.leading
                                     : fault.at_start.value_or(0.0) >= report_ruled_out ? sorted.ruled_out
                                                                                        : sorted.rare;
    list.push_back(std::move(fault));
  }
  return sorted;
}

}  // namespace faultodds

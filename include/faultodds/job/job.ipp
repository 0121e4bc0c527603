// Bodies of job.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <iterator>
#include <utility>

#include "faultodds/job/job.hpp"
#include "faultodds/job/recording.ipp"

namespace faultodds {
namespace detail {

inline void require_job_options(const FaultModel& model, const JobOptions& options) {
  require_known(model, options.means);
  require_limits(options.limits);
  const EndCosts& ends = options.ends;
  require_amount(ends.hand_over.value_or(0.0), "hand_over");
  require_amount(ends.live_with.value_or(0.0), "live_with");
  require_amount(ends.comeback.value_or(0.0), "comeback");
  for (const VariableIndex target : options.advice.ranking.targets) require_index("target", target, model.size());
  for (const VariableIndex test : options.advice.ranking.tests) require_index("test", test, model.size());
}

/// The lower of a limit, if there is one, and what is left, if that is limited.
[[nodiscard]] inline std::optional<double> lower_limit(std::optional<double> limit, std::optional<double> left) {
  return left ? std::min(limit.value_or(*left), *left) : limit;
}

/// The variable whose earlier finding an entry takes the place of.
[[nodiscard]] inline std::optional<std::size_t> variable_replaced(const Entry& entry) {
  if (const auto* found = std::get_if<FindingEntry>(&entry.what)) return found->finding.variable;
  if (const auto* reading = std::get_if<ReadingEntry>(&entry.what)) return reading->test;
  if (const auto* revealed = std::get_if<RevealedEntry>(&entry.what)) return revealed->test;
  if (const auto* part = std::get_if<PartEntry>(&entry.what)) return part->finding.variable;
  return std::nullopt;
}

/// In any state but the first.
[[nodiscard]] inline Finding finding_of_presence(const FaultModel& model, VariableIndex symptom) {
  const std::size_t states = model.state_count(symptom);
  Finding finding{symptom, std::vector<double>(states, 1.0), std::nullopt};
  finding.weights.front() = 0.0;
  if (states == 2) finding.state = 1;
  return finding;
}

}  // namespace detail

inline Job::Job(Solver solver, JobOptions options)
    : solver_(std::move(solver)), options_(std::move(options)), after_{Case(solver_), 0, {}, {}, {}} {
  detail::require_job_options(solver_.model(), options_);
}

inline Job::Job(FaultModel model, JobOptions options) : Job(Solver(std::move(model)), std::move(options)) {}

inline Job::Job(Solver solver, JobOptions options, std::vector<Entry> entries)
    : Job(std::move(solver), std::move(options)) {
  for (Entry& entry : entries) restore(std::move(entry));
}

inline void Job::set_options(JobOptions options) {
  detail::require_job_options(solver_.model(), options);
  advice_.reset();
  options_ = std::move(options);
}

inline const std::vector<Finding>& Job::findings_before(std::size_t entry) const {
  if (entry == entries_.size()) return current().findings();
  detail::require_index("entry", entry, entries_.size());
  return before_[entry].findings;
}

inline std::optional<Finding> Job::replaced_by(std::size_t entry) const {
  detail::require_index("entry", entry, entries_.size());
  const std::optional<VariableIndex> variable = detail::variable_replaced(entries_[entry]);
  if (!variable) return std::nullopt;
  const Finding* before = finding_of(before_[entry].findings, *variable);
  return before == nullptr ? std::nullopt : std::optional(*before);
}

inline Ledger Job::ledger() const {
  const InPlace stated{options_.means.open_access, options_.means.conditions};
  return ledger_of(model(), entries_, in_place_in(Case(solver_), stated), options_.limits);
}

inline std::vector<VariableIndex> Job::declined() const {
  std::vector<VariableIndex> tests;
  for (const Entry& entry : entries_) {
    if (const auto* declined = std::get_if<DeclinedEntry>(&entry.what)) {
      if (std::find(tests.begin(), tests.end(), declined->test) == tests.end()) tests.push_back(declined->test);
    } else if (const auto variable = detail::variable_replaced(entry)) {
      std::erase(tests, *variable);
    }
  }
  return tests;
}

inline std::optional<CheckResult> Job::last_check() const {
  for (std::size_t i = entries_.size(); i-- > 0;) {
    const auto* repair = std::get_if<RepairEntry>(&entries_[i].what);
    if (repair == nullptr) continue;
    return repair->check ? std::optional(repair->check->result) : std::nullopt;
  }
  return std::nullopt;
}

inline std::optional<double> Job::cured() const {
  if (repairs().empty()) return std::nullopt;
  const std::size_t complaint = model().parents(after_.check).front();
  return current().posterior(complaint)[0];
}

inline std::optional<HandOverIndex> Job::handed_over() const {
  for (std::size_t i = entries_.size(); i-- > 0;) {
    if (const auto* to = std::get_if<HandOverEntry>(&entries_[i].what)) return to->hand_over;
  }
  return std::nullopt;
}

inline bool Job::has_ended() const {
  return !entries_.empty() && std::holds_alternative<EndEntry>(entries_.back().what);
}

inline Means Job::means_now() const {
  Ledger now = ledger();
  Means means = options_.means;
  means.open_access = std::move(now.in_place.access);
  means.conditions = std::move(now.in_place.conditions);
  means.stated_after.reset();
  means.max_cost = detail::lower_limit(means.max_cost, now.money_left);
  means.max_minutes = detail::lower_limit(means.max_minutes, now.minutes_left);
  return means;
}

inline JobProgress Job::progress() const {
  const bool cured = !entries_.empty() && std::holds_alternative<RepairEntry>(entries_.back().what) &&
                     last_check() == CheckResult::cured;
  const bool gone = !entries_.empty() && std::holds_alternative<HandOverEntry>(entries_.back().what);
  return {.declined = declined(),
          .repairs_done = repairs(),
          .passed_over = passed_over_,
          .over = cured || gone || has_ended()};
}

inline const Advice& Job::advice() const {
  if (advice_) return *advice_;
  const AdviceOptions wanted{.rules = options_.advice, .means = means_now(), .ends = options_.ends};
  advice_ = advise(current(), wanted, progress(), current().stop());
  return *advice_;
}

inline void Job::pass_over(JobStep step) {
  passed_over_.push_back(std::move(step));
  advice_.reset();
}

inline void Job::add(Finding finding) {
  detail::require_index("variable", finding.variable, model().size());
  if (model().variable(finding.variable).role() == Role::component) return record(PartEntry{std::move(finding)});
  record(FindingEntry{std::move(finding)});
}

inline void Job::add_finding(Name variable, Name state) {
  const std::size_t index = model().index_of(variable);
  add_finding(index, model().state_of(index, state));
}

inline void Job::add_finding(VariableIndex variable, StateIndex state) {
  detail::require_index("variable", variable, model().size());
  detail::require_index("state", state, model().state_count(variable));
  add(detail::hard_finding(model(), variable, state));
}

inline void Job::add_reading(Name test, std::string_view text) { add_reading(model().index_of(test), text); }

inline void Job::add_reading(VariableIndex test, std::string_view text) {
  record(ReadingEntry{test, parse_readings(text), RepeatedErrors::as_in_model, std::string(text), {}});
}

inline void Job::add_readings(VariableIndex test, std::vector<Measured> readings, RepeatedErrors errors) {
  record(ReadingEntry{test, std::move(readings), errors, {}, {}});
}

inline void Job::add_revealed(VariableIndex test, std::vector<Finding> findings) {
  record(RevealedEntry{test, std::move(findings)});
}

inline void Job::add_revealed(Name test, std::span<const std::string> there, bool all) {
  RevealedEntry entry{model().index_of(test), {}};
  for (const std::string& symptom : there) {
    entry.findings.push_back(detail::finding_of_presence(model(), model().index_of(symptom)));
  }
  for (const VariableIndex symptom : as_test(model().variable(entry.test)).reveals) {
    const bool known = current().finding_of(symptom) != nullptr || finding_of(entry.findings, symptom) != nullptr;
    if (all && !known) entry.findings.push_back(detail::hard_finding(model(), symptom, 0));
  }
  record(std::move(entry));
}

inline void Job::decline(Name test, std::string reason) { decline(model().index_of(test), std::move(reason)); }

inline void Job::decline(VariableIndex test, std::string reason) { record(DeclinedEntry{test, std::move(reason)}); }

inline void Job::add_repair(Name repair, std::optional<CheckResult> said) {
  add_repair(model().index_of_repair(repair), said);
}

inline void Job::add_repair(RepairIndex repair, std::optional<CheckResult> said) {
  record(RepairEntry{repair, said ? std::optional(CheckMade{*said, {}}) : std::nullopt});
}

inline void Job::add_in_place(InPlace seen) { record(InPlaceEntry{std::move(seen)}); }

inline void Job::hand_over(Name to) { hand_over(model().index_of_hand_over(to)); }

inline void Job::hand_over(HandOverIndex to) { record(HandOverEntry{to}); }

inline void Job::close(JobEnd end, std::vector<ConfirmedFault> confirmed, std::string note) {
  record(EndEntry{end, std::move(confirmed), std::move(note)});
}

inline void Job::record(EntryKind what) { take(Entry{std::move(what), {}}, false); }

inline void Job::restore(Entry entry) { take(std::move(entry), true); }

inline void Job::take(Entry entry, bool charged) {
  if (has_ended())
    throw ArgumentError("entry", "the job has ended", "take its end back first (undo)", ErrorCode::job_has_ended);
  std::visit(detail::EntryCheck(model()), entry.what);
  if (!charged) {
    const auto* declined = std::get_if<DeclinedEntry>(&entry.what);
    if (declined != nullptr) detail::require_test(model(), declined->test, options_.advice.ranking.tests);
    const detail::EntryCharge charge(current(), ledger().in_place, options_.means.labour_rate);
    entry.charge = std::visit(charge, entry.what);
  }
  // Whatever can fail comes before anything is changed.
  const std::vector<Entry> alone{entry};
  static_cast<void>(ledger_of(model(), alone, {}));
  entries_.reserve(entries_.size() + 1);
  before_.reserve(before_.size() + 1);
  Before before{current().findings(), std::nullopt};
  std::visit(detail::EntryEffect(after_, before.repaired), entry.what);
  advice_.reset();
  entries_.push_back(std::move(entry));
  before_.push_back(std::move(before));
}

inline std::optional<Entry> Job::undo() {
  if (entries_.empty()) return std::nullopt;
  Entry last = entries_.back();
  undo_to(entries_.size() - 1);
  return last;
}

inline void Job::undo_to(std::size_t count) {
  if (count > entries_.size())
    throw ArgumentError("count",
                        "there are " + std::to_string(entries_.size()) + " entries, not " + std::to_string(count),
                        "give at most their number", ErrorCode::index_out_of_range);
  if (count == entries_.size()) return;
  const auto first = before_.begin() + static_cast<std::ptrdiff_t>(count);
  const auto repair = std::find_if(first, before_.end(), [](const Before& one) { return one.repaired.has_value(); });
  const Repaired& base = repair == before_.end() ? after_ : *repair->repaired;
  Case then(base.current.solver());
  const StopScope scope(then, current().stop());
  then.add(first->findings);
  Repaired back{std::move(then), base.check, base.complaint, base.past, base.repairs};
  advice_.reset();
  passed_over_.clear();
  after_ = std::move(back);
  entries_.erase(entries_.begin() + static_cast<std::ptrdiff_t>(count), entries_.end());
  before_.erase(first, before_.end());
}

}  // namespace faultodds

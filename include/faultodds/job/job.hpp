// A job: one vehicle's way from complaint to end. Its entries in order, the ledger, and the case after them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/inference/case.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/job/entry.hpp"
#include "faultodds/job/ledger.hpp"

namespace faultodds {

/// A fact about the job itself, for the report: "Order", "4711".
struct JobFact {
  std::string label;
  std::string value;

  bool operator==(const JobFact&) const = default;
};

/// What holds for a job from its start.
struct JobOptions {
  Means means{};  ///< `open_access` and `conditions` are what is in place at the start
  EndCosts ends{};
  JobLimits limits{};
  std::vector<JobFact> about{};  ///< date, workshop, order number
  AdviceRules advice{};

  bool operator==(const JobOptions&) const = default;
};

/// Entries in order and the case after them. Every member that fails leaves the job as it was. A job belongs to one
/// thread at a time, as its case does; jobs of one solver may run in parallel. What stops the case (a StopScope of
/// current()) stops the work of the job.
///
/// Findings of one variable: a later one takes the place of the earlier. Nothing but undo is possible once the job has
/// ended. All that take names throw UnknownName for one that the model does not know; all that take indices throw
/// ArgumentError for one out of range.
class Job {
 public:
  /// Throws UnknownName and ArgumentError if the options do not fit the model.
  explicit Job(Solver solver, JobOptions options = {});
  explicit Job(FaultModel model, JobOptions options = {});
  /// A job with these entries, their charges as they are. Throws what recording them throws.
  Job(Solver solver, JobOptions options, std::vector<Entry> entries);

  /// The solver before any repair.
  [[nodiscard]] const Solver& solver() const noexcept { return solver_; }
  /// The model now, with the repairs done written in (after_repair). The indices and names of its first variables are
  /// those of solver().model().
  [[nodiscard]] const FaultModel& model() const noexcept { return current().model(); }
  [[nodiscard]] const JobOptions& options() const noexcept { return options_; }
  /// From now on. What was charged stays as it was. Throws as the constructor does.
  void set_options(JobOptions options);

  /// In the order they were made.
  [[nodiscard]] const std::vector<Entry>& entries() const noexcept { return entries_; }
  /// The case after all entries.
  [[nodiscard]] const Case& current() const noexcept { return after_.current; }
  /// The findings before the entry of this index, on the model of that time; those of now for the number of entries.
  /// Throws ArgumentError beyond it.
  [[nodiscard]] const std::vector<Finding>& findings_before(std::size_t entry) const;
  /// The finding whose place the entry of this index took; nothing if there was none. Throws ArgumentError if there
  /// is no such entry.
  [[nodiscard]] std::optional<Finding> replaced_by(std::size_t entry) const;

  /// Money and minutes, what is left of budget and deadline, and what is in place.
  [[nodiscard]] Ledger ledger() const;
  /// Tests that were declined and not done since, in the order in which they were first declined.
  [[nodiscard]] std::vector<VariableIndex> declined() const;
  /// Indices of the repairs done, in order.
  [[nodiscard]] const std::vector<RepairIndex>& repairs() const noexcept { return after_.repairs; }
  /// What the check after the last repair said; nothing if there was no repair, or no check.
  [[nodiscard]] std::optional<CheckResult> last_check() const;
  /// P(the complaint is gone | findings) after the last repair; nothing if there was none.
  [[nodiscard]] std::optional<double> cured() const;
  /// The last hand-over, by index; nothing if there was none.
  [[nodiscard]] std::optional<HandOverIndex> handed_over() const;
  /// True once the end is entered.
  [[nodiscard]] bool has_ended() const;
  /// The means now: with what the ledger has in place, and at most what is left of budget and deadline for one step.
  [[nodiscard]] Means means_now() const;
  /// What the advice has to know of the job in addition to the case.
  [[nodiscard]] JobProgress progress() const;
  /// What to do next (advise). Kept until the job changes, so that asking again costs nothing. Throws as advise does.
  [[nodiscard]] const Advice& advice() const;
  /// From now on this repair or end is not proposed, a test is instead: "test on all the same". Not saved; an undo ends
  /// it.
  void pass_over(JobStep step);

  /// What was observed of a variable: of a component, that its part was looked at. Throws ImpossibleFindings if it
  /// cannot be true given the others; ArgumentError if it would count evidence twice (require_counted_once).
  void add(Finding finding);
  void add_finding(Name variable, Name state);
  void add_finding(VariableIndex variable, StateIndex state);
  /// "43 psi", "43 psi; 44 psi". Throws as parse_readings, finding_from_readings and add do.
  void add_reading(Name test, std::string_view text);
  void add_reading(VariableIndex test, std::string_view text);
  void add_readings(VariableIndex test, std::vector<Measured> readings,
                    RepeatedErrors errors = RepeatedErrors::as_in_model);
  /// What a test revealed, symptom by symptom, in place of an outcome of the test that was entered before. Throws
  /// ArgumentError if there are none, or the test does not reveal one of them; otherwise as add does.
  void add_revealed(VariableIndex test, std::vector<Finding> findings);
  /// These symptoms are there (in any state but the first). `all`: those that the test reveals besides, and that have
  /// no finding, are not.
  void add_revealed(Name test, std::span<const std::string> there, bool all = true);
  /// A test that is not to be proposed again. Throws ArgumentError for a variable that is no test, unless the options
  /// name it to be ranked as one.
  void decline(Name test, std::string reason);
  void decline(VariableIndex test, std::string reason);
  /// A repair done, and what the check after it said if it was made. Throws as after_repair and add do.
  void add_repair(Name repair, std::optional<CheckResult> said = {});
  void add_repair(RepairIndex repair, std::optional<CheckResult> said = {});
  /// Seen to be open and in place.
  void add_in_place(InPlace seen);
  void hand_over(Name to);
  void hand_over(HandOverIndex to);
  /// Ends the job. Throws ArgumentError if a confirmed fault is not one of the model.
  void close(JobEnd end, std::vector<ConfirmedFault> confirmed = {}, std::string note = {});
  /// An entry of any kind, as the members above make it: charges, and what readings mean, are worked out here.
  void record(EntryKind what);
  /// The same with the charges it was given at the time, as a saved job has them. Throws ArgumentError too if an
  /// amount is negative or not finite.
  void restore(Entry entry);

  /// Takes the last entry back and returns it; nothing if there is none.
  std::optional<Entry> undo();
  /// Back to the first `count` entries. Throws ArgumentError if there are fewer.
  void undo_to(std::size_t count);

 private:
  /// What an entry found when it came.
  struct Before {
    std::vector<Finding> findings;
    std::optional<Repaired> repaired;  ///< of a repair: all that was before it
  };

  void take(Entry entry, bool charged);

  Solver solver_;
  JobOptions options_;
  Repaired after_;
  std::vector<Entry> entries_;
  std::vector<Before> before_;  // by entry
  std::vector<JobStep> passed_over_;
  mutable std::optional<Advice> advice_;
};

}  // namespace faultodds

#include "faultodds/job/job.ipp"

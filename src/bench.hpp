// The case command at work: asks, proposes, takes answers, explains what they changed. It holds no rule of its own:
// what was answered is in a Job, which says what to do next.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "choices.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/job/job.hpp"
#include "readings.hpp"

namespace faultodds::program {

/// Where a job is kept.
struct Keeping {
  std::string file;    ///< empty: nowhere
  std::string reopen;  ///< the command that goes on with it, but for the file
  bool kept = false;   ///< the file holds the job as it is
};

class Bench {
 public:
  Bench(Questions questions, Job job, Keeping keeping);

  /// Works until the user quits or no more answers come.
  void run();

 private:
  struct Command {
    std::vector<std::string> words;  ///< the first is the full one
    void (Bench::*run)(const std::string& rest);
    bool takes_name;  ///< after one letter as well: "w battery"
    std::string_view help;
  };
  static const std::vector<Command>& commands();

  [[nodiscard]] const FaultModel& model() const { return job_.model(); }
  [[nodiscard]] const Screen& screen() const { return questions_.screen(); }

  // Asking (bench_questions.cpp).
  void ask_context();
  void ask_complaint();
  /// Only facts about the vehicle were answered so far.
  [[nodiscard]] bool complaint_is_open() const;
  /// Asks for the state of a variable and takes the answer.
  void ask_state(VariableIndex variable);
  void other(const std::string& name);
  /// Symptoms that doing this test reveals and that have no finding; none if the test is answered in general.
  [[nodiscard]] std::vector<VariableIndex> to_reveal(VariableIndex test) const;
  void show_to_reveal(VariableIndex test) const;
  /// Asks which of the symptoms that the test reveals there are.
  void ask_revealed(VariableIndex test);
  /// Takes the numbers or names of those there are, or "none".
  void take_revealed(VariableIndex test, const std::string& line);
  void record_revealed(VariableIndex test, const std::vector<std::string>& there, bool all);
  [[nodiscard]] std::optional<VariableIndex> pick_variable(const std::string& name);
  [[nodiscard]] std::optional<VariableIndex> pick_from_menu();
  /// Whether a test, symptom, fact or part answers to this text, so that `other` finds it.
  [[nodiscard]] bool names_a_variable(const std::string& text) const;
  [[nodiscard]] std::vector<std::vector<VariableIndex>> groups_to_pick_from() const;

  // Answers and commands (bench.cpp).
  void handle(const std::string& line);
  void show_what_can_be_answered() const;
  bool take_outcome(const std::string& line, bool by_part);
  bool take_command(const std::string& line);
  bool take_reading(const std::string& line);
  /// NAME=43 psi; false if the line is no such thing.
  bool take_named_reading(const std::string& line);
  void take_readings(const TestReadings& readings);
  void take_finding(const Finding& finding);
  /// Keeps the job, says what the last entry was and what it changed.
  void tell_last_entry(const std::vector<FaultProbability>& before, const std::string& words);
  /// The test on the screen, if it is answered by what it reveals.
  [[nodiscard]] std::optional<VariableIndex> revealing_test() const;
  void general(const std::string& rest);
  void explain_clash(const ImpossibleFindings& error) const;
  void not_understood(const std::string& line) const;
  void decline(const std::string& reason);
  void skipped(const std::string& rest);
  void could_not(const std::string& rest);
  void undo(const std::string& rest);
  void quit(const std::string& rest);
  void more(const std::string& rest);
  void save(const std::string& rest);

  // Money, repairs and hand-over (bench_repairs.cpp).
  void money(const std::string& rest);
  void repair(const std::string& name);
  void report(const std::string& file);
  [[nodiscard]] std::optional<RepairIndex> pick_repair(const std::string& name);
  void ask_check(RepairIndex repair);
  void hand_over(const std::string& name);
  [[nodiscard]] std::optional<HandOverIndex> pick_hand_over(const std::string& name);
  void show_what_to_tell() const;
  void keep();

  // Showing (bench_showing.cpp).
  /// Takes what is on the screen off it.
  void clear();
  void show_state();
  void show_proposed_step();
  /// Puts a test on the screen.
  void propose(VariableIndex test);
  /// A test with its gain, if it is in the ranking.
  [[nodiscard]] AdvisedStep step_of_test(VariableIndex test) const;
  void show_repair_advice();
  void show_end_advice();
  void show_likely_fault();
  /// Says why a likely fault is not to be repaired.
  void show_no_repair();
  /// Says so if the fault is what the model does not list.
  void tell_if_unlisted(const Fault& fault) const;
  [[nodiscard]] bool mends(const AdvisedStep& step, const Fault& fault) const;
  void show_nothing();
  void show_proposal();
  void show_changes(const std::vector<FaultProbability>& before);
  [[nodiscard]] std::vector<FaultProbability> all_faults() const;
  [[nodiscard]] std::string prompt() const;
  void why(const std::string& rest);
  void history(const std::string& rest);
  void faults(const std::string& rest);
  void list(const std::string& rest);
  void help(const std::string& rest);

  Questions questions_;
  Job job_;
  Keeping keeping_;
  std::optional<AdvisedStep> test_;          ///< on the screen, to be answered
  std::optional<VariableIndex> in_general_;  ///< test that is answered by its outcome, whatever it reveals
  bool stale_ = true;                        ///< the screen does not show the job as it is
  bool quitting_ = false;
};

/// In words what became more or less likely, the largest changes first; one line a fault. `before` and `after` tell of
/// the same faults.
[[nodiscard]] std::vector<std::string> changes_in_words(const FaultModel& model,
                                                        const std::vector<FaultProbability>& before,
                                                        const std::vector<FaultProbability>& after);

/// A variable as it can be chosen: its label, name and trouble code.
[[nodiscard]] Choice variable_choice(const Variable& variable);
[[nodiscard]] std::vector<Choice> variable_choices(const FaultModel& model,
                                                   const std::vector<VariableIndex>& variables);
/// The states of a variable as they can be chosen.
[[nodiscard]] std::vector<Choice> state_choices(const Variable& variable);

}  // namespace faultodds::program

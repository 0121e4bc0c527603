// The case command at work: asks, proposes, takes answers, explains what they changed.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "advice.hpp"
#include "amounts.hpp"
#include "case_log.hpp"
#include "choices.hpp"
#include "cost_choices.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "readings.hpp"

namespace faultodds::program {

/// Where a case is kept.
struct Keeping {
  std::string file;    ///< empty: nowhere
  std::string reopen;  ///< the command that goes on with it, but for the file
  bool kept = false;   ///< the file holds the case as it stands
};

/// What the user wants and has.
struct BenchOptions {
  RankOptions ranking;
  bool by_expected_cost = true;  ///< what leads where the end of the case has a cost; otherwise the ranking of tests
  EndCosts ends;
  std::optional<double> budget;    ///< money for the whole case
  std::optional<double> deadline;  ///< minutes for the whole case, waiting included
};

class Bench {
 public:
  Bench(Questions questions, CaseLog log, BenchOptions options, Keeping keeping);

  /// Works until the user quits or no more answers come.
  void run();

 private:
  struct Command {
    std::vector<std::string> words;  ///< the first is the full one
    void (Bench::*run)(const std::string& rest);
    std::string_view help;
  };
  static const std::vector<Command>& commands();

  [[nodiscard]] const FaultModel& model() const { return log_.model(); }
  [[nodiscard]] const Screen& screen() const { return questions_.screen(); }

  // Asking (bench_questions.cpp).
  void ask_context();
  void ask_complaint();
  /// Only facts about the vehicle were answered so far.
  [[nodiscard]] bool complaint_is_open() const;
  /// Asks for the state of a variable and takes the answer.
  void ask_state(std::size_t variable);
  void other(const std::string& name);
  /// Symptoms that doing this test reveals and that have no finding; none where the test is answered in general.
  [[nodiscard]] std::vector<std::size_t> to_reveal(std::size_t test) const;
  void show_to_reveal(std::size_t test) const;
  /// Asks which of the symptoms that the test reveals there are.
  void ask_revealed(std::size_t test);
  /// Takes the numbers or names of those there are, or "none".
  void take_revealed(std::size_t test, const std::string& line);
  [[nodiscard]] std::optional<std::size_t> pick_variable(const std::string& name);
  [[nodiscard]] std::vector<std::vector<std::size_t>> groups_to_pick_from() const;

  // Answers and commands (bench.cpp).
  void handle(const std::string& line);
  bool take_outcome(const std::string& line, bool by_part);
  bool take_command(const std::string& line);
  bool take_reading(const std::string& line);
  /// NAME=43 psi; false where the line is no such thing.
  bool take_named_reading(const std::string& line);
  void take_readings(const TestReadings& readings);
  /// `reading` and `words`: the numbers it was made of, and what they say.
  void take_finding(const Finding& finding, const std::string& reading = {}, const std::string& words = {});
  /// The test on the screen, where it is answered by what it reveals.
  [[nodiscard]] std::optional<std::size_t> revealing_test() const;
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
  // Money and repairs (bench_repairs.cpp).
  void money(const std::string& rest);
  void repair(const std::string& name);
  void report(const std::string& file);
  [[nodiscard]] std::optional<std::size_t> pick_repair(const std::string& name);
  void ask_check(std::size_t repair);
  void hand_over(const std::string& name);
  [[nodiscard]] std::optional<std::size_t> pick_hand_over(const std::string& name);
  void keep();

  // Showing (bench_showing.cpp).
  void rank();
  /// The options of the user, with what repairs have opened and what is left of budget and deadline.
  [[nodiscard]] RankOptions options_now() const;
  /// Works out what each step costs in the end.
  void weigh_costs();
  /// Tests without a finding that were not declined.
  [[nodiscard]] std::vector<std::size_t> tests_left() const;
  [[nodiscard]] bool is_passed_over(const faultodds::Step& step) const;
  /// The step to propose by expected cost, as a place among costs_->steps: a test where the user wants to test on;
  /// nothing where that does not lead.
  [[nodiscard]] std::optional<std::size_t> step_by_cost() const;
  void show_state();
  void show_step(const PricedStep& step);
  /// Puts a test on the screen; false where it is not in the ranking.
  bool propose(std::size_t test);
  void show_repair_advice(std::size_t repair);
  void show_hand_over_advice(const PricedStep& step);
  /// What a specialist should be told: what was found, what is left, what is ruled out.
  void show_what_to_tell() const;
  void show_proposal();
  /// The most likely fault above the threshold of advice whose advice was not passed over.
  [[nodiscard]] std::optional<FaultProbability> likely_fault() const;
  void show_conclusion(const std::optional<FaultProbability>& likely);
  void show_changes(const std::vector<FaultProbability>& before);
  [[nodiscard]] std::vector<FaultProbability> all_faults() const;
  [[nodiscard]] std::string prompt() const;
  void why(const std::string& rest);
  void history(const std::string& rest);
  void faults(const std::string& rest);
  void list(const std::string& rest);
  void help(const std::string& rest);

  Questions questions_;
  CaseLog log_;
  BenchOptions options_;
  Keeping keeping_;
  Ranking ranking_;
  std::optional<CostChoices> costs_;       ///< nothing: the model names no end that has a cost
  std::optional<std::size_t> proposed_;    ///< position in the ranking of the test on the screen
  std::optional<std::size_t> in_general_;  ///< test that is answered by its outcome, whatever it reveals
  bool stale_ = true;                      ///< the screen does not show the case as it stands
  bool quitting_ = false;
  std::vector<FaultProbability> advised_on_;  ///< faults whose advice was given while the user wants to test on
  std::vector<faultodds::Step> passed_over_;  ///< repairs and ends that were proposed while the user wants to test on
  std::optional<faultodds::Step> on_the_screen_;  ///< the step by expected cost that is proposed
};

/// In words what became more or less likely, the largest changes first; one line a fault. `before` and `after` tell of
/// the same faults.
[[nodiscard]] std::vector<std::string> changes_in_words(const FaultModel& model,
                                                        const std::vector<FaultProbability>& before,
                                                        const std::vector<FaultProbability>& after);

/// What a step says of its variable: the finding, the symptoms that a test revealed, or why it was declined.
[[nodiscard]] std::string answer_text(const FaultModel& model, const Step& step);

/// A variable as it can be chosen: its label, name and trouble code.
[[nodiscard]] Choice variable_choice(const Variable& variable);
/// The states of a variable as they can be chosen.
[[nodiscard]] std::vector<Choice> state_choices(const Variable& variable);

}  // namespace faultodds::program

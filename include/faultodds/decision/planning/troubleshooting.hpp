// The planning problem behind a policy tree, free of networks: what may be wrong, what can be done about it, at what
// cost.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "faultodds/decision/work/end_costs.hpp"

namespace faultodds {

/// Something that must be in place while a piece of work is done: an access job (cover off, on the lift), or a
/// condition (engine hot, a second person at hand). It is paid when it is brought about, and then stays in place.
struct SetUp {
  std::string name;
  double cost = 0.0;
  std::vector<std::size_t> needs;  ///< set-ups that must be in place while it is brought about
  /// Set-ups of one group exclude each other: bringing about the one ends the other ("engine" for engine cold and
  /// engine hot). Such a set-up has no needs of its own. Empty for an access job, which stays open.
  std::string group;
  bool in_place = false;  ///< at the start
};

/// A test of the problem. Its outcome depends on the hypothesis alone, so that two tests err independently.
struct TestAction {
  std::string name;
  double cost = 0.0;                 ///< without set-ups
  std::vector<std::size_t> set_ups;  ///< that it needs, at most one of a group
  std::vector<std::string> outcomes;
  /// P(outcome | hypothesis), a row for each hypothesis, outcomes running fastest. A further row for the vehicle that
  /// is cured already may follow; it must if the check after a repair can wrongly say that the complaint is still
  /// there.
  std::vector<double> table;
};

/// The check that follows each repair, such as a road test. By default: seen at once, at no cost, never wrong.
struct Verification {
  double cost = 0.0;
  double false_cured = 0.0;        ///< P(says cured | not cured); 1 if nothing is checked
  double false_still_there = 0.0;  ///< P(says still there | cured)
};

/// A repair of the problem, with its verification. If that says cured, the case ends; otherwise it goes on, with the
/// chance that the repair was done badly in the weights. It is not done twice.
struct RepairAction {
  /// As an entry of `becomes`: nothing is left to be repaired.
  static constexpr std::size_t cured = std::numeric_limits<std::size_t>::max();

  std::string name;
  double cost = 0.0;                 ///< without set-ups and verification
  std::vector<std::size_t> set_ups;  ///< that it needs, at most one of a group
  /// P(the repair does its work | hypothesis), one for each hypothesis; 0 if it mends nothing of it.
  std::vector<double> success;
  /// What each hypothesis becomes when the repair does its work: `cured`, or the hypothesis that remains if it mends
  /// one fault of several. Empty: always cured.
  std::vector<std::size_t> becomes;
  Verification verification;
};

/// One vehicle with a complaint that exactly one hypothesis accounts for: a fault, a set of faults, or "none of the
/// listed faults". All costs in one currency.
struct TroubleshootingProblem {
  std::vector<std::string> hypotheses;  ///< names
  std::vector<double> weights;          ///< one for each hypothesis, in any scale; zero is allowed
  std::vector<SetUp> set_ups;
  std::vector<TestAction> tests;
  std::vector<RepairAction> repairs;
  /// Hand-over or living with it must be given. A comeback must be if a verification can wrongly say cured.
  EndCosts ends{};
  /// What the repair by those who take over costs on top of their fee, one for each hypothesis; a vehicle that is cured
  /// already needs none. Empty: the fee is all that it costs.
  std::vector<double> repair_elsewhere{};
};

/// Throws ArgumentError, naming the place ("tests[2].table") and what would be right, unless the problem makes sense:
/// sizes and indices fit, costs are finite and not negative, rows are distributions (within 1e-9), needs have no
/// circle, some weight is positive, and hand-over or living with it ends every case.
void validate(const TroubleshootingProblem& problem);

enum class StepKind {
  test,
  repair,
  hand_over,
  live_with,
  done,      ///< in a policy tree: the verification said cured
  ask_again  ///< in a policy tree folded for printing: what follows was left out
};

/// Something to do next.
struct Step {
  StepKind kind = StepKind::hand_over;
  std::size_t index = 0;  ///< of the test or repair; 0 for the others

  bool operator==(const Step&) const = default;
};

/// How far a case has come.
struct Situation {
  /// Probability of each hypothesis, and as the last entry that the vehicle is cured already. Sums to one.
  std::vector<double> belief;
  std::vector<bool> tests_done;
  std::vector<bool> repairs_done;
  std::vector<bool> in_place;  ///< by set-up

  bool operator==(const Situation&) const = default;
};

/// The situation at the start: normalised weights, nothing done. Validates the problem.
[[nodiscard]] Situation start_of(const TroubleshootingProblem& problem);

// The functions below throw ArgumentError, as `validate` does, and unless the situation and the step fit the problem.

/// Set-ups in the order in which they are brought about, and what that costs.
struct SetUpWork {
  std::vector<std::size_t> set_ups;
  double cost = 0.0;
};

/// What must be brought about for work that needs `wanted` if `in_place` is in place: needs before what needs them,
/// access jobs before conditions.
[[nodiscard]] SetUpWork set_up_work(const TroubleshootingProblem& problem, const std::vector<bool>& in_place,
                                    std::span<const std::size_t> wanted);

/// All steps that make sense: tests not done whose outcome is open and tells something about the hypothesis, repairs
/// not done that may do some work, hand-over and living with it. In this order, each in the order of the problem.
[[nodiscard]] std::vector<Step> possible_steps(const TroubleshootingProblem& problem, const Situation& situation);

/// Cost of a step itself: with set-ups, a repair with its verification; hand-over with the repair that is expected
/// there; living with it costs nothing if the vehicle is cured already; `done` costs a comeback with the probability
/// that it is not cured.
[[nodiscard]] double step_cost(const TroubleshootingProblem& problem, const Situation& situation, const Step& step);

/// What a step can lead to.
struct StepResult {
  double probability = 0.0;
  Situation situation;  ///< meaningless if the probability is 0
};

/// One result for each outcome of a test; for a repair, 0: "cured", which ends the case, and 1: "still there". Nothing
/// after the steps that end the case. By Bayes' rule; a repair first turns hypotheses into what it makes of them.
[[nodiscard]] std::vector<StepResult> results_of(const TroubleshootingProblem& problem, const Situation& situation,
                                                 const Step& step);

/// The cheaper of hand-over and living with it; hand-over if they cost the same.
[[nodiscard]] Step cheapest_end(const TroubleshootingProblem& problem, const Situation& situation);

namespace detail {

/// Brings about `wanted` and what it needs, if it is not in place; access jobs before conditions, since an access job
/// may itself need another condition.
void bring_about(const TroubleshootingProblem& problem, std::span<const std::size_t> wanted,
                 std::vector<bool>& in_place, SetUpWork& work);
/// Set-ups that a step needs directly.
[[nodiscard]] std::span<const std::size_t> wanted_by(const TroubleshootingProblem& problem, const Step& step);

/// A place in a problem, put into words only where something is wrong there: "tests[2].table row 4".
struct ProblemPlace {
  ProblemPlace(const char* of_list) : list(of_list) {}
  ProblemPlace(const char* of_list, std::size_t at, const char* of_field = "")
      : list(of_list), index(at), field(of_field) {}

  const char* list;
  std::optional<std::size_t> index = {};
  const char* field = "";  ///< empty: none
  std::optional<std::size_t> row = {};
};

/// Throws ArgumentError at `place` if `index` is not below `size`; `of_what` names what there are.
void check_index(const ProblemPlace& place, std::size_t index, std::size_t size, const char* of_what);
/// Throws ArgumentError unless sizes fit and the belief is finite and not negative.
void check_situation(const TroubleshootingProblem& problem, const Situation& situation);
/// Throws ArgumentError if the problem has no such test, repair or end.
void check_step(const TroubleshootingProblem& problem, const Step& step);

// The functions above, for a problem, a situation and a step that were checked already: searches ask them often.
[[nodiscard]] SetUpWork set_ups_missing(const TroubleshootingProblem& problem, const std::vector<bool>& in_place,
                                        std::span<const std::size_t> wanted);
[[nodiscard]] std::vector<Step> steps_from(const TroubleshootingProblem& problem, const Situation& situation);
[[nodiscard]] double cost_of_step(const TroubleshootingProblem& problem, const Situation& situation, const Step& step);
[[nodiscard]] std::vector<StepResult> results_after(const TroubleshootingProblem& problem, const Situation& situation,
                                                    const Step& step);
[[nodiscard]] Step end_from(const TroubleshootingProblem& problem, const Situation& situation);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/planning/troubleshooting.ipp"

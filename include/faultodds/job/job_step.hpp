// What may be done next in a job, and what a mechanic needs to know of it: what it asks for, costs and can lead to.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/work/means.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {

/// Ask for these facts and symptoms, by index, before anything is touched.
struct AskStep {
  std::vector<VariableIndex> variables;

  bool operator==(const AskStep&) const = default;
};

/// Do this test.
struct TestStep {
  VariableIndex test;  ///< variable

  bool operator==(const TestStep&) const = default;
};

/// Do this repair.
struct RepairStep {
  RepairIndex repair;  ///< index into the model's repairs

  bool operator==(const RepairStep&) const = default;
};

/// Give the vehicle to a specialist.
struct HandOverStep {
  std::optional<HandOverIndex> hand_over;  ///< index into the model's hand-overs; nothing: the model names none

  bool operator==(const HandOverStep&) const = default;
};

/// Leave the complaint as it is.
struct LiveWithStep {
  bool operator==(const LiveWithStep&) const = default;
};

/// Why there is nothing to propose.
enum class NoStepReason : std::uint8_t {
  job_is_over,           ///< the caller says so
  no_fault_in_question,  ///< and no test tells more
  nothing_tells,         ///< no test that is left tells more, and no fault is certain enough to be repaired
  no_repair,             ///< a fault is certain enough, but the model names no repair for it
  beyond_means           ///< a fault is certain enough, but its repairs are beyond the means
};

/// There is nothing to propose.
struct NoStep {
  NoStepReason reason = NoStepReason::job_is_over;
  std::optional<Fault> fault;  ///< the most likely one, for nothing_tells, no_repair and beyond_means

  bool operator==(const NoStep&) const = default;
};

using JobStep = std::variant<AskStep, TestStep, RepairStep, HandOverStep, LiveWithStep, NoStep>;

/// "ask", "test", "repair", "hand_over", "live_with" or "nothing".
[[nodiscard]] std::string_view kind_of(const JobStep& step);

/// One outcome of a test, and where it would leave the leading faults.
struct AdvisedOutcome {
  StateIndex state;
  std::string name;
  std::string label;
  double probability = 0.0;
  std::vector<double> leading;  ///< probability of each leading fault of the ranking after it; empty: not worked out

  bool operator==(const AdvisedOutcome&) const = default;
};

/// What a step costs now and in the end.
struct StepPrice {
  double now = 0.0;         ///< of the step itself, a repair with its check, a hand-over with the repair expected there
  double in_the_end = 0.0;  ///< expected to the end of the job, this step included
  double saves = 0.0;       ///< expected cost of doing without tests, minus `in_the_end`
  double gain_bits = 0.0;   ///< of a test, about the causes that were weighed

  bool operator==(const StepPrice&) const = default;
};

/// A step with all that is shown before it is taken. Labels are never empty if the model has a name for the thing.
struct AdvisedStep {
  JobStep step = NoStep{};
  std::string name;   ///< of the test, repair or hand-over in the model; empty for others
  std::string label;  ///< of the same; for the others what to do, or why there is nothing, in words
  std::string procedure;
  std::string description;
  std::string question;            ///< of a test, as it is put at the bench
  std::vector<Term> cautions;      ///< to be shown before the step: of what is brought about and opened, then its own
  std::vector<Term> opens;         ///< access jobs that have to be opened, in order
  std::vector<Term> brings;        ///< conditions that have to be brought about
  std::vector<Term> tools;         ///< those for what is opened and brought about included
  std::optional<Term> skill;       ///< the highest level, that for what is opened and brought about included
  bool cost_known = false;         ///< the model names minutes or money for it
  double minutes = 0.0;            ///< with set-ups
  double wait_minutes = 0.0;       ///< the vehicle waits and nobody works
  double money = 0.0;              ///< with set-ups, without labour
  double cost = 0.0;               ///< money and labour
  std::optional<StepPrice> price;  ///< nothing if no end of the job has a cost
  double gain_bits = 0.0;          ///< of a test, about the faults in question
  double gain_per_cost = 0.0;      ///< bits per unit of money; infinite if something is told for nothing
  double settles = 0.0;            ///< share of what is open about the cause that it is expected to settle, 0 to 1
  std::vector<AdvisedOutcome> outcomes;
  std::vector<VariableIndex> reveals;  ///< of a test: symptoms without a finding that doing it makes known
  std::optional<double> mends;         ///< of a repair: probability that a fault is present that it can mend
  std::optional<double> success;       ///< of a repair: probability that such a fault is gone afterwards
  std::optional<RepairCheck> check;    ///< of a repair: its own check, otherwise that of the model
  std::string tells;                   ///< of a hand-over: what the specialist can do that the bench cannot
  bool charges_repair = false;         ///< of a hand-over: the repair is charged besides `money`
};

/// All but price and gain of a step, as the case and the means are. Throws as cost_of and require_known do;
/// ArgumentError for a step that the model does not have.
[[nodiscard]] AdvisedStep described(const Case& current, const JobStep& step, const Means& means);

/// A test as a ranking has it.
[[nodiscard]] AdvisedStep described(const Case& current, const TestForecast& forecast, const Ranking& ranking,
                                    const Means& means);

namespace detail {

/// The element of this index in a list of the model. Throws ArgumentError, which calls the list `kind`.
template <class Element>
[[nodiscard]] const Element& element_at(const std::vector<Element>& all, std::size_t index, const char* kind) {
  if (index < all.size()) return all[index];
  throw ArgumentError(kind, "index " + std::to_string(index) + " in a list of " + std::to_string(all.size()),
                      "indices run from 0 to one less than that", ErrorCode::index_out_of_range);
}

/// Describes steps as the case and the means are.
class StepDescriber {
 public:
  StepDescriber(const Case& current, const Means& means);

  [[nodiscard]] AdvisedStep describe(const JobStep& step) const;
  [[nodiscard]] AdvisedStep describe(const TestForecast& forecast, const Ranking& ranking) const;
  /// Why this work is beyond the means; empty if it is not.
  [[nodiscard]] std::string why_beyond(const Work& work) const;

 private:
  /// The repairs of a fault with why they are beyond the means: "new pump: costs more than 50 EUR".
  [[nodiscard]] std::string repairs_beyond(const Fault& fault) const;
  void fill(AdvisedStep& made, const AskStep& step) const;
  void fill(AdvisedStep& made, const TestStep& step) const;
  void fill(AdvisedStep& made, const RepairStep& step) const;
  void fill(AdvisedStep& made, const HandOverStep& step) const;
  void fill(AdvisedStep& made, const LiveWithStep& step) const;
  void fill(AdvisedStep& made, const NoStep& step) const;
  void fill_work(AdvisedStep& made, const Work& work) const;

  const Case& case_;
  const FaultModel& model_;
  const Means& means_;
  InPlace in_place_;
};

}  // namespace detail

}  // namespace faultodds

#include "faultodds/job/job_step.ipp"

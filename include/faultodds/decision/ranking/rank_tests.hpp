// The next test: expected information gain about the faults in question, for its cost.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/work/cost.hpp"
#include "faultodds/decision/work/means.hpp"
#include "faultodds/inference/case.hpp"

namespace faultodds {

/// What a gain is about: the joint state of the faults in question, I(F; T | findings), or the sum over its components
/// of I(F_i; T | findings).
enum class GainKind : std::uint8_t { joint, per_component };

/// What the ranking goes by; ties and near-ties (relative 1e-9) go to the cheaper test, then to model order.
enum class RankBy : std::uint8_t { gain_per_cost, gain, cost, gain_per_minute };

struct RankOptions {
  std::vector<VariableIndex>
      targets{};  ///< the faults in question; empty: components that can account for an abnormal finding
  std::vector<VariableIndex> tests{};  ///< to rank; empty: every variable of role test that is not done
  GainKind gain = GainKind::joint;
  /// If some joint gain would need too large a table: true leaves that test out, false ranks all tests by gains per
  /// component instead; the ranking says which it is.
  bool joint_only = false;
  RankBy by = RankBy::gain_per_cost;
  bool effects = true;             ///< work out what each outcome would do to the leading faults
  std::size_t leading = 5;         ///< how many leading faults the effects tell about
  double joint_entries = 1 << 20;  ///< largest joint table to work out for one gain or for the entropy

  bool operator==(const RankOptions&) const = default;
};

/// A component in one unsound state, with its probability.
struct FaultProbability {
  VariableIndex component;
  StateIndex state;
  double probability = 0.0;
};

/// What is expected of one outcome of a test.
struct OutcomeForecast {
  StateIndex state;
  double probability = 0.0;
  std::vector<FaultProbability>
      leading;  ///< the leading faults of the ranking, given this outcome, in the ranking's order
};

/// What a test is expected to tell, and what it costs with all that must be brought about for it.
struct TestForecast {
  VariableIndex test;
  double gain_bits = 0.0;
  double minutes = 0.0;            ///< with set-ups: opening work, and conditions brought about
  double money = 0.0;              ///< with set-ups, without labour
  double cost = 0.0;               ///< money plus minutes at the labour rate; 1 if the model names no cost
  double gain_per_cost = 0.0;      ///< bits per unit of money; infinite if something is told for nothing
  std::vector<std::string> opens;  ///< access jobs this test would open, in the order they are done
  std::vector<OutcomeForecast> outcomes;
  double wait_minutes = 0.0;          ///< with set-ups: the vehicle waits and nobody works
  std::vector<std::string> brings{};  ///< conditions this test would bring about
};

/// A test that was not ranked, and why.
struct LeftOut {
  VariableIndex test;
  std::string reason;
  double gain_bits = 0.0;  ///< what is forgone: 0 if a gate is shut; NaN if it was not worked out
};

/// Tests in rank order, with what the ranking is about.
struct Ranking {
  GainKind gain = GainKind::joint;
  std::vector<VariableIndex> targets;  ///< the faults in question
  double entropy_bits = 0.0;           ///< of the faults in question, given the findings
  bool entropy_is_bound = false;  ///< true: the joint was too large, this is the sum over components, an upper bound
  std::vector<FaultProbability> leading;  ///< most probable faults among the targets
  std::vector<TestForecast> tests;        ///< in rank order
  std::vector<LeftOut> left_out;  ///< for tools, skill, preconditions (unmet_preconditions), because what they reveal
                                  ///< is entered already, or because they say nothing about the faults in question
};

/// Ranks tests by expected information gain I(F; T | findings) = H(T | findings) - E[H(T | F)], in bits (Cover & Thomas
/// 2006, chapter 2). Tests with a finding are not offered. Tests named in the options are ranked even if they tell
/// nothing; of the others those that depend on no fault in question are left out, and those that have revealed a
/// symptom already, whose gain is not worked out (NaN), since their outcome would count its evidence twice. Tests with
/// a gate that is not open (unmet_preconditions), and those beyond the means, are left out even if they are named.
/// Exact: if a joint gain would need a table beyond `joint_entries` or the memory limit, `joint_only` says what
/// happens. Throws UnknownName for tools, skills, access and conditions that the model does not know, ArgumentError if
/// a labour rate or limit is negative, or if there is no test or no target to speak of; Stopped. Costs count what is in
/// place (in_place_in).
[[nodiscard]] Ranking rank_tests(const Case& current, const RankOptions& options = {}, const Means& means = {},
                                 const Stop& stop = {});

/// Components that can account for an abnormal finding (one other than the first state of a symptom or test): its
/// ancestors among the components. All components if there is no abnormal finding; of these only those without a
/// hard finding of their own, so none if every component is known. If the model has no components, throws
/// ArgumentError asking for targets.
[[nodiscard]] std::vector<VariableIndex> faults_in_question(const Case& current);

/// Components that were found to be faulty and can account for an abnormal finding; all that were found to be faulty
/// if there is no abnormal finding. In the order of the model.
[[nodiscard]] std::vector<VariableIndex> known_faults(const Case& current);

/// Whether a symptom that this test reveals has a finding, so that the test counts as done.
[[nodiscard]] bool has_revealed(const Case& current, VariableIndex test);

/// Fault probabilities of the given components, most probable first; ties by model order.
[[nodiscard]] std::vector<FaultProbability> leading_faults(const Case& current,
                                                           const std::vector<VariableIndex>& components,
                                                           std::size_t most);

namespace detail {

/// A forecast without outcomes.
[[nodiscard]] TestForecast forecast_of(VariableIndex test, double gain_bits, const WorkCost& cost);
/// Bits for a cost or a time; infinite if something is told for nothing.
[[nodiscard]] double gain_ratio(double gain, double cost);
/// By merit; runs of tests that differ by rounding only are put in order of cost, then of the model.
void sort_by_merit(std::vector<TestForecast>& tests, RankBy by);
[[nodiscard]] double merit_of(const TestForecast& forecast, RankBy by);
/// A symptom or test found in another state than its first.
[[nodiscard]] bool is_abnormal(const FaultModel& model, const Finding& finding);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/ranking/rank_tests.ipp"

// What to do next in a job, as data: the step to propose, what else could be done, and why.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/job/job_step.hpp"
#include "faultodds/job/opening_questions.hpp"

namespace faultodds {

/// What leads, and what else is worked out.
struct AdviceRules {
  RankOptions ranking{};  ///< faults in question, tests to choose from, and what the ranking goes by
  /// The step with the least expected cost leads if an end of the job has a cost; false: the ranking leads.
  bool by_expected_cost = true;
  /// Without expected costs: a fault more probable than this is to be repaired rather than looked for.
  double min_fault_probability = 0.95;
  double min_gain_bits = 1e-3;    ///< without expected costs: a test that tells less is not proposed
  std::size_t max_questions = 5;  ///< of what could be asked; 0: not worked out
  bool explain = true;            ///< work out `why`: three propagations a finding

  bool operator==(const AdviceRules&) const = default;
};

/// What advice goes by.
struct AdviceOptions {
  AdviceRules rules{};
  Means means{};  ///< no step beyond them is proposed
  EndCosts ends{};

  bool operator==(const AdviceOptions&) const = default;
};

/// What a job has behind it, in addition to the findings of its case.
struct JobProgress {
  std::vector<VariableIndex> declined{};    ///< tests that are not to be proposed
  std::vector<RepairIndex> repairs_done{};  ///< by index into the model's repairs
  std::vector<JobStep> passed_over{};       ///< proposed, and to be gone past: test on all the same
  bool over = false;                        ///< the vehicle is cured, handed over, or the job closed

  bool operator==(const JobProgress&) const = default;
};

/// A fault with its name for people: "fuel pump: worn".
struct AdvisedFault {
  Fault fault;
  std::string label;
  double probability = 0.0;

  bool operator==(const AdvisedFault&) const = default;
};

/// Something that can be asked before anything is touched.
struct AdvisedQuestion {
  VariableIndex variable;
  std::string name;
  std::string label;
  std::string question;    ///< as it is put at the bench; the label if the model has none
  double gain_bits = 0.0;  ///< about the faults in question
};

/// A test that was left out, and why.
struct AdvisedLeftOut {
  VariableIndex test;
  std::string name;
  std::string label;
  std::string reason;
  std::optional<double> gain_bits;  ///< what is forgone; nothing if it was not worked out
};

/// What to tell a specialist.
struct SpecialistBrief {
  std::vector<std::string> found;       ///< the findings, in words
  std::vector<AdvisedFault> left;       ///< of 1 % and more, most probable first
  std::vector<AdvisedFault> ruled_out;  ///< below 1 %, and above it when only facts and complaint were known
};

/// What to do next.
struct Advice {
  AdvisedStep proposed;
  /// What else could be done, each step once: by expected cost if `priced`, what has no such cost after that, in the
  /// order of the ranking.
  std::vector<AdvisedStep> alternatives;
  std::size_t cheaper = 0;   ///< so many alternatives, the first ones, come before `proposed` by expected cost
  bool priced = false;       ///< expected costs are known
  bool led_by_cost = false;  ///< `proposed` is the least expected cost, or as good within 1 %
  std::optional<JobStep> passed_over;      ///< what would lead by expected cost, and was passed over
  std::optional<AdvisedFault> likely;      ///< the fault that led to `proposed`, where it was not led by cost
  std::vector<AdvisedQuestion> questions;  ///< most telling first
  std::vector<AdvisedFault> leading;       ///< most probable of the faults in question
  std::vector<AdvisedFault> known;         ///< found to be present
  std::vector<AdvisedLeftOut> left_out;    ///< tests that tell something and are out of reach, most telling first
  /// Paragraphs: what the proposed test tells apart, why the leading fault is suspected, findings that go badly
  /// together.
  std::vector<std::string> why;
  SpecialistBrief brief;
  Ranking ranking;  ///< of the tests, as rank_tests gives it
  std::string currency;
  std::string safety;     ///< of the model: to be shown before any advice
  bool invented = false;  ///< the numbers of the model are invented
};

/// What leads, in this order:
/// - nothing, if the job is over;
/// - a question, if nothing abnormal was found and the model knows complaints;
/// - with expected costs (an end has a cost, and `by_expected_cost`): the step that weigh_steps proposes; if that was
///   passed over, the best of the tests by the same rule;
/// - a repair within the means of the most probable fault above `min_fault_probability` that was not passed over;
///   handing over if that fault means what the model does not list; nothing, with why, if no repair is within the
///   means;
/// - the first test of the ranking that tells `min_gain_bits` or more;
/// - nothing.
/// Several faults are assumed if the findings are impossible with one. Throws as rank_tests and problem_of do;
/// ArgumentError if the progress names what the model does not have; Stopped.
[[nodiscard]] Advice advise(const Case& current, const AdviceOptions& options = {}, const JobProgress& progress = {},
                            const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/job/advice.ipp"

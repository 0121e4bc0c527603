// What may be the cause of a case, as a list of hypotheses with probabilities.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/inference/explanations.hpp"

namespace faultodds {

/// How many of the components in question may be faulty at once: at most one, or any number.
enum class FaultAssumption : std::uint8_t { one_fault, several_faults };

/// A set of faults: these, and no other of the components in question. None: all of them are sound.
struct Hypothesis {
  std::vector<Fault> faults;  ///< in the order of the components in question
  double probability = 0.0;   ///< given the findings and the assumption

  bool operator==(const Hypothesis&) const = default;
};

/// What may be the cause.
struct Hypotheses {
  std::vector<VariableIndex> components;  ///< in question
  FaultAssumption assumption = FaultAssumption::one_fault;
  double assumed = 1.0;          ///< P(assumption | findings)
  std::vector<Hypothesis> list;  ///< most probable first; equal ones by their faults
  double left_out = 0.0;         ///< probability of hypotheses beyond the list
};

struct HypothesesOptions {
  std::vector<VariableIndex> components;  ///< in question; empty: faults_in_question and known_faults
  FaultAssumption assumption = FaultAssumption::one_fault;
  std::size_t most = 64;  ///< hypotheses in the list
};

/// The most probable hypotheses of a case, all findings counted and everything else summed out. Exact. Throws
/// ArgumentError if a component is named twice or does not exist, `most` is 0, or the findings are
/// impossible with one fault; Stopped by `stop`, and if several faults are too many to be told apart (ExplainOptions).
[[nodiscard]] Hypotheses hypotheses_of(const Case& current, const HypothesesOptions& options = {},
                                       const Stop& stop = {});

/// Whether one fault at most among the components in question can account for the findings, so that hypotheses_of finds
/// hypotheses under FaultAssumption::one_fault. Throws ArgumentError for the components as hypotheses_of does; Stopped.
[[nodiscard]] bool allows_one_fault(const Case& current, const std::vector<VariableIndex>& components = {},
                                    const Stop& stop = {});

namespace detail {

/// A case under one hypothesis after the other, in addition to its findings.
class HypothesisTrial {
 public:
  HypothesisTrial(const Case& current, std::vector<VariableIndex> components);

  /// False if the hypothesis is impossible given the findings.
  [[nodiscard]] bool assume(const std::vector<Fault>& faults);

  /// Of the last hypothesis that was possible.
  [[nodiscard]] const Case& current() const noexcept { return trial_; }
  [[nodiscard]] double log_probability() const { return trial_.log_evidence() + log_weight_; }

 private:
  const FaultModel& model_;
  std::vector<VariableIndex> components_;
  std::vector<Finding> others_;
  std::vector<Finding> weighed_;  // findings of components in question
  Case trial_;
  StopScope scope_;
  double log_weight_ = 0.0;
};

/// Shown each hypothesis of one fault that is possible, likely or not, and the case under it as long as it is looked
/// at.
using OneFaultWatcher = std::function<void(const std::vector<Fault>& faults, const Case& under)>;

/// hypotheses_of with a watcher, so that what else is asked of each hypothesis need not assume it anew.
[[nodiscard]] Hypotheses hypotheses_with(const Case& current, const HypothesesOptions& options,
                                         const OneFaultWatcher& watch);

/// The findings that a hypothesis amounts to: a hard one on each component in question.
[[nodiscard]] std::vector<Finding> findings_of(const FaultModel& model, const std::vector<VariableIndex>& components,
                                               const std::vector<Fault>& faults);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/decision/planning/hypotheses.ipp"

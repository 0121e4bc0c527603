// A case: one vehicle with its findings so far. Cheap to make, copy and change.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "faultodds/inference/engine/any_engine.hpp"
#include "faultodds/inference/engine/batched_reweighing.hpp"
#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds {

/// Probabilities over the joint states of some variables, the last of them running fastest.
struct JointPosterior {
  std::vector<VariableIndex> variables;
  std::vector<double> probabilities;
};

/// Findings on a solver. Every member that fails leaves the case as it was. Const members fill in results on demand, so
/// one case belongs to one thread at a time; different cases of one solver may run in parallel. Members that enter
/// findings or give results can take long, and throw Stopped once the stop of the case (StopScope) says so.
class Case {
 public:
  explicit Case(Solver solver);
  Case(const Case&) = default;
  Case& operator=(const Case&) = default;
  /// What was moved from is a case of the same solver without findings.
  Case(Case&& other) noexcept;
  Case& operator=(Case&& other) noexcept;
  ~Case() = default;

  [[nodiscard]] const Solver& solver() const noexcept { return solver_; }
  [[nodiscard]] const FaultModel& model() const noexcept { return solver_.model(); }

  /// A hard finding. Throws UnknownName; ArgumentError if the variable already has a finding (take it back first, or
  /// use change); ImpossibleFindings if it cannot be true beside the others.
  void add_finding(Name variable, Name state);
  void add_finding(VariableIndex variable, StateIndex state);
  /// "One of these states", "not that one".
  void add_one_of(VariableIndex variable, std::span<const StateIndex> states);
  /// P(what was seen | state) up to a factor. Not a new marginal: the prior still counts.
  void add_likelihood(Name variable, std::span<const double> weights);
  void add_likelihood(VariableIndex variable, std::span<const double> weights);
  /// Any of the above in general form; several at once are checked once, and either all are taken or none.
  void add(Finding finding);
  void add(std::span<const Finding> findings);
  /// Replaces the finding of this variable (adds it if there is none), keeping its place in the order.
  void change(Finding finding);
  /// Puts these findings (each variable once) in place of all it has. False, and the case as it was, if they cannot
  /// all be true: quicker than an exception, for no clash is looked for.
  [[nodiscard]] bool try_findings(std::vector<Finding> findings);
  /// Removes the finding of this variable; nothing happens if there is none.
  void take_back(VariableIndex variable);
  /// Back to the first `count` findings.
  void take_back_to(std::size_t count);

  /// In the order they were made.
  [[nodiscard]] const std::vector<Finding>& findings() const noexcept { return findings_; }
  [[nodiscard]] const Finding* finding_of(VariableIndex variable) const;

  /// Natural logarithm of P(findings). For Markov networks: of the partition function with the findings in.
  /// Throws nothing but TooLarge.
  [[nodiscard]] double log_evidence() const;
  /// P(state | findings) for each state of a variable. Observed ones included.
  [[nodiscard]] std::vector<double> posterior(VariableIndex variable) const;
  [[nodiscard]] std::vector<double> posterior(Name variable) const;
  /// The same to look at: nothing is copied or allocated, other than for variables that the junction tree does not
  /// hold. Valid until the next call of any member of this case.
  [[nodiscard]] std::span<const double> posterior_view(VariableIndex variable) const;
  /// The same for all variables, by index. Noisy-MAX effects that the junction tree does not hold are worked out side
  /// by side, so that they may differ by rounding from one asked for alone.
  [[nodiscard]] std::vector<std::vector<double>> posteriors() const;
  /// P(joint states | findings). Throws TooLarge if the table would exceed the memory limit.
  [[nodiscard]] JointPosterior joint(std::span<const VariableIndex> variables) const;
  /// The same if it costs next to nothing: one clique of the junction tree holds all of them, hard findings aside,
  /// or two-layer sums answer the case and the table is small. Otherwise nothing.
  [[nodiscard]] std::optional<JointPosterior> joint_at_hand(std::span<const VariableIndex> variables) const;

  /// For expectations under further weights. It must not outlive this case, nor the findings it has now.
  [[nodiscard]] BatchedReweighing batched_reweighing() const;

  /// What stops the work of this case at the moment: that of the innermost StopScope. A copy of the case has none.
  [[nodiscard]] const Stop& stop() const noexcept { return stop_.get(); }

 private:
  friend class StopScope;

  /// A variable that the form of the case does not hold, and that follows from a few products of weights on its
  /// parents: for each joint state of some of them one, or of a noisy-MAX effect one for each of its states but the
  /// last.
  struct Outside {
    std::size_t variable = 0;
    std::vector<std::size_t> over;  // parents: of a noisy-MAX effect the gates, otherwise all; of unknown state
    std::size_t joint_states = 1;   // of these
    std::size_t levels = 1;         // products for each
    bool noisy = false;

    [[nodiscard]] std::size_t products() const { return joint_states * levels; }
  };

  template <typename Undo>
  [[nodiscard]] bool settle(const Undo& undo);
  template <typename Undo>
  void settle_or(const Undo& undo);
  void settle_engine() const;
  void forget_engine() const;
  void stop_by(const Stop& stop) const;
  [[nodiscard]] std::span<const std::size_t> slot_of() const;
  void require_possible() const;
  [[nodiscard]] std::vector<double> joint_of_few(std::span<const VariableIndex> variables, double max_products) const;
  [[nodiscard]] std::vector<double> joint_of_open(std::span<const VariableIndex> variables, double max_products) const;
  [[nodiscard]] std::vector<double> weighed_posterior(const Finding& finding) const;
  [[nodiscard]] std::vector<double> predict(VariableIndex variable) const;
  [[nodiscard]] std::optional<std::vector<double>> predict_from_one(VariableIndex variable) const;
  [[nodiscard]] std::optional<std::vector<double>> predict_from_parents(VariableIndex variable,
                                                                        double max_products) const;
  [[nodiscard]] std::optional<Outside> outside(VariableIndex variable) const;
  [[nodiscard]] bool go_over(Outside& outside, std::size_t parent) const;
  [[nodiscard]] std::size_t state_in(const Outside& outside, std::size_t number, std::size_t parent) const;
  [[nodiscard]] bool acts(const Link& link, const Outside& outside, std::size_t number) const;
  template <class Weigh>
  void weigh_outside(const Outside& outside, Weigh&& weigh) const;
  [[nodiscard]] std::vector<std::vector<Reweighing::Weights>> products_of(const Outside& outside) const;
  [[nodiscard]] std::vector<double> read_outside(const Outside& outside, std::span<const double> expectations) const;
  [[nodiscard]] std::vector<std::vector<double>> predict_together(std::span<const Outside> variables,
                                                                  std::optional<BatchedReweighing>& batch) const;
  [[nodiscard]] std::vector<double> eliminate_joint(std::span<const VariableIndex> variables) const;

  Solver solver_;
  std::vector<Finding> findings_;
  mutable std::optional<detail::AnyEngine> engine_;  // made on demand
  mutable CaseShape shape_;                          // scratch
  mutable std::vector<double> aside_;                // the posterior viewed last that the engine does not hold
  mutable detail::OwnStop stop_;
};

/// As long as it lives, all that a case works out is stopped by `stop`: findings entered, posteriors, and the calls
/// that take the case. Calls that take a stop themselves open such a scope. A `stop` that is not set leaves the scope
/// around it in force. The case must outlive the scope.
///
///     const StopScope scope(current, Stop::after(2.0));
///     current.add_finding("P0301", "present");
class StopScope {
 public:
  StopScope(const Case& current, const Stop& stop);
  StopScope(const StopScope&) = delete;
  StopScope& operator=(const StopScope&) = delete;
  ~StopScope();

 private:
  const Case& case_;
  Stop before_;
};

/// A finding as text: "name=state", "name in {a, b}" or "name~(0.2, 0.8)". Throws ArgumentError as Case::add does.
[[nodiscard]] std::string describe(const FaultModel& model, const Finding& finding);

/// A smallest set of findings that clash, as indices into `findings`; empty if they are possible together. Smallest
/// in number up to three (beyond that: no member can be spared). Throws ArgumentError as Case::add does; Stopped.
[[nodiscard]] std::vector<std::size_t> smallest_clash(const Solver& solver, std::span<const Finding> findings,
                                                      const Stop& stop = {});

namespace detail {

/// A finding as an error tells of it.
[[nodiscard]] ClashingFinding clashing(const FaultModel& model, const Finding& finding);
/// Throws ImpossibleFindings with a smallest set of findings that clash.
[[noreturn]] void throw_clash(const Solver& solver, std::span<const Finding> findings, const Stop& stop);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/inference/case.ipp"

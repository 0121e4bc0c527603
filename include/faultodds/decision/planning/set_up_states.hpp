// Which set-ups are in place, as a number: what each step costs from there, and what is in place after it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <span>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"

namespace faultodds::detail {

/// Brings about one set-up and what it needs, if it is not in place; `note` is told of each in order. `Flags` holds a
/// truth for each set-up.
template <class Flags, class Note>
void bring_about_one(const TroubleshootingProblem& problem, std::size_t s, Flags& in_place, const Note& note);

/// Brings about `wanted`: access jobs before conditions, since an access job may itself need another condition.
template <class Flags, class Note>
void bring_about_all(const TroubleshootingProblem& problem, std::span<const std::size_t> wanted, Flags& in_place,
                     const Note& note) {
  for (const bool conditions : {false, true}) {
    for (const std::size_t s : wanted) {
      if (!problem.set_ups[s].group.empty() == conditions) bring_about_one(problem, s, in_place, note);
    }
  }
}

template <class Flags, class Note>
void bring_about_one(const TroubleshootingProblem& problem, std::size_t s, Flags& in_place, const Note& note) {
  if (in_place[s]) return;
  const SetUp& set_up = problem.set_ups[s];
  bring_about_all(problem, set_up.needs, in_place, note);
  for (std::size_t other = 0; !set_up.group.empty() && other < in_place.size(); ++other) {
    if (problem.set_ups[other].group == set_up.group) in_place[other] = false;
  }
  in_place[s] = true;
  note(s);
}

/// The states of the set-ups that were asked for so far. Refers to the problem; what it answers does not depend on what
/// was asked before.
class SetUpStates {
 public:
  using State = std::uint32_t;

  explicit SetUpStates(const TroubleshootingProblem& problem);

  /// Ends all states given out before if they have become too many to keep.
  [[nodiscard]] State state_of(const std::vector<bool>& in_place);
  /// Of each repair from there, with its check and what must be brought about.
  [[nodiscard]] const double* repair_costs(State state) const noexcept { return costs_.data() + state * steps_; }
  [[nodiscard]] double repair_cost(State state, std::size_t repair) const noexcept {
    return costs_[state * steps_ + repair];
  }
  [[nodiscard]] double test_cost(State state, std::size_t test) const noexcept {
    return costs_[state * steps_ + problem_.repairs.size() + test];
  }
  [[nodiscard]] State after_repair(State state, std::size_t repair) { return after(state, repair); }
  [[nodiscard]] State after_test(State state, std::size_t test) { return after(state, problem_.repairs.size() + test); }

 private:
  static constexpr State unknown = std::numeric_limits<State>::max();

  /// Steps are the repairs, then the tests.
  [[nodiscard]] State after(State state, std::size_t step) {
    const State known = after_[state * steps_ + step];
    return known != unknown ? known : bring_about(state, step);
  }
  [[nodiscard]] State bring_about(State state, std::size_t step);
  [[nodiscard]] State kept(const std::vector<bool>& in_place);
  [[nodiscard]] double cost_of(std::size_t step, const std::vector<bool>& in_place);
  [[nodiscard]] const std::vector<std::size_t>& wanted_by(std::size_t step) const;

  const TroubleshootingProblem& problem_;
  std::size_t steps_;
  std::map<std::vector<bool>, State> known_;
  std::vector<const std::vector<bool>*> in_place_;  // by state
  std::vector<double> costs_;                       // by state and step
  std::vector<State> after_;                        // the same
  std::vector<bool> scratch_;
};

}  // namespace faultodds::detail

#include "faultodds/decision/planning/set_up_states.ipp"

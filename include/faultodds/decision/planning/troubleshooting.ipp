// Bodies of troubleshooting.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "faultodds/decision/planning/beliefs.hpp"
#include "faultodds/decision/planning/set_up_states.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {

namespace detail {

inline std::string in_words(const ProblemPlace& place) {
  std::string words = place.list;
  if (place.index) words += '[' + std::to_string(*place.index) + ']';
  if (*place.field != '\0') words += std::string(".") + place.field;
  if (place.row) words += " row " + std::to_string(*place.row);
  return words;
}

inline void check_amount(const ProblemPlace& place, double amount) {
  if (!std::isfinite(amount) || amount < 0.0) {
    throw ArgumentError(in_words(place), std::to_string(amount), "must be a finite number that is not negative",
                        ErrorCode::wrong_number);
  }
}

inline void check_probability(const ProblemPlace& place, double p) {
  if (!(p >= 0.0 && p <= 1.0))
    throw ArgumentError(in_words(place), std::to_string(p), "must be from 0 to 1", ErrorCode::wrong_number);
}

inline void check_size(const ProblemPlace& place, std::size_t size, std::size_t right, std::string_view what) {
  if (size == right) return;
  throw ArgumentError(in_words(place), "holds " + std::to_string(size),
                      "must hold " + std::to_string(right) + ", " + std::string(what), ErrorCode::wrong_size);
}

inline void check_index(const ProblemPlace& place, std::size_t index, std::size_t size, const char* of_what) {
  if (index < size) return;
  throw ArgumentError(in_words(place), "index " + std::to_string(index),
                      "there are " + std::to_string(size) + ' ' + of_what, ErrorCode::index_out_of_range);
}

/// Set-ups that work needs directly: they exist, each once, and at most one of a group.
inline void check_wanted(const TroubleshootingProblem& problem, const ProblemPlace& place,
                         std::span<const std::size_t> wanted) {
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    check_index(place, wanted[i], problem.set_ups.size(), "set-ups");
    for (std::size_t j = 0; j < i; ++j) {
      const std::string& group = problem.set_ups[wanted[i]].group;
      if (wanted[j] == wanted[i])
        throw ArgumentError(in_words(place), "names a set-up twice", "name each once", ErrorCode::named_twice);
      if (!group.empty() && problem.set_ups[wanted[j]].group == group) {
        throw ArgumentError(in_words(place), "needs two set-ups of the group \"" + group + '"',
                            "these exclude each other");
      }
    }
  }
}

inline bool needs_itself(const TroubleshootingProblem& problem, std::size_t start) {
  std::vector<bool> seen(problem.set_ups.size(), false);
  std::vector<std::size_t> open = problem.set_ups[start].needs;
  while (!open.empty()) {
    const std::size_t next = open.back();
    open.pop_back();
    if (next == start) return true;
    if (seen[next]) continue;
    seen[next] = true;
    open.insert(open.end(), problem.set_ups[next].needs.begin(), problem.set_ups[next].needs.end());
  }
  return false;
}

inline void check_set_ups(const TroubleshootingProblem& problem) {
  const std::vector<SetUp>& all = problem.set_ups;
  for (std::size_t s = 0; s < all.size(); ++s) {
    check_amount({"set_ups", s, "cost"}, all[s].cost);
    check_wanted(problem, {"set_ups", s, "needs"}, all[s].needs);
    if (!all[s].group.empty() && !all[s].needs.empty()) {
      throw ArgumentError(in_words({"set_ups", s, "needs"}), "belongs to a group and has needs",
                          "let the work that needs it name these needs");
    }
    for (std::size_t other = 0; other < s; ++other) {
      if (all[s].in_place && all[other].in_place && !all[s].group.empty() && all[s].group == all[other].group) {
        throw ArgumentError(in_words({"set_ups", s, "in_place"}),
                            "two of the group \"" + all[s].group + "\" are in place", "only one can be");
      }
    }
  }
  for (std::size_t s = 0; s < all.size(); ++s) {
    if (needs_itself(problem, s)) {
      throw ArgumentError(in_words({"set_ups", s, "needs"}), "\"" + all[s].name + "\" needs itself",
                          "break the circle");
    }
  }
}

inline void check_test(const TroubleshootingProblem& problem, std::size_t t, bool needs_cured_row) {
  constexpr double row_tolerance = 1e-9;
  const TestAction& test = problem.tests[t];
  const std::size_t n = problem.hypotheses.size();
  const std::size_t width = test.outcomes.size();
  check_amount({"tests", t, "cost"}, test.cost);
  check_wanted(problem, {"tests", t, "set_ups"}, test.set_ups);
  ProblemPlace place("tests", t, "table");
  if (width == 0)
    throw ArgumentError(in_words({"tests", t, "outcomes"}), "is empty", "must name at least one",
                        ErrorCode::nothing_given);
  if (needs_cured_row || test.table.size() != n * width) {
    check_size(place, test.table.size(), (n + 1) * width,
               needs_cured_row
                   ? "the row of the cured vehicle included, since a verification can wrongly say still there"
                   : "or without the row of the cured vehicle " + std::to_string(n * width));
  }
  for (std::size_t h = 0; h * width < test.table.size(); ++h) {
    place.row = h;
    double sum = 0.0;
    for (std::size_t o = 0; o < width; ++o) {
      check_probability(place, test.table[h * width + o]);
      sum += test.table[h * width + o];
    }
    if (std::abs(sum - 1.0) > row_tolerance) {
      throw ArgumentError(in_words(place), "sums to " + std::to_string(sum), "must sum to 1", ErrorCode::wrong_number);
    }
  }
}

inline void check_repair(const TroubleshootingProblem& problem, std::size_t r) {
  const RepairAction& repair = problem.repairs[r];
  const std::size_t n = problem.hypotheses.size();
  check_amount({"repairs", r, "cost"}, repair.cost);
  check_wanted(problem, {"repairs", r, "set_ups"}, repair.set_ups);
  check_size({"repairs", r, "success"}, repair.success.size(), n, "one for each hypothesis");
  for (const double p : repair.success) check_probability({"repairs", r, "success"}, p);
  if (!repair.becomes.empty()) {
    check_size({"repairs", r, "becomes"}, repair.becomes.size(), n, "one for each hypothesis, or none");
  }
  for (const std::size_t h : repair.becomes) {
    if (h != RepairAction::cured)
      check_index({"repairs", r, "becomes"}, h, n, "hypotheses; `cured` if nothing remains");
  }
  check_amount({"repairs", r, "verification.cost"}, repair.verification.cost);
  check_probability({"repairs", r, "verification.false_cured"}, repair.verification.false_cured);
  check_probability({"repairs", r, "verification.false_still_there"}, repair.verification.false_still_there);
  if (repair.verification.false_cured > 0.0 && !problem.ends.comeback) {
    throw ArgumentError("ends.comeback",
                        "is not given, though " + in_words({"repairs", r, "verification"}) + " can wrongly say cured",
                        "give the cost of a vehicle that comes back", ErrorCode::nothing_given);
  }
}

inline void bring_about(const TroubleshootingProblem& problem, std::span<const std::size_t> wanted,
                        std::vector<bool>& in_place, SetUpWork& work) {
  bring_about_all(problem, wanted, in_place, [&](std::size_t s) {
    work.set_ups.push_back(s);
    work.cost += problem.set_ups[s].cost;
  });
}

inline std::span<const std::size_t> wanted_by(const TroubleshootingProblem& problem, const Step& step) {
  if (step.kind == StepKind::test) return problem.tests[step.index].set_ups;
  if (step.kind == StepKind::repair) return problem.repairs[step.index].set_ups;
  return {};
}

inline void check_ends(const TroubleshootingProblem& problem) {
  if (problem.ends.hand_over) check_amount("ends.hand_over", *problem.ends.hand_over);
  if (problem.ends.live_with) check_amount("ends.live_with", *problem.ends.live_with);
  if (problem.ends.comeback) check_amount("ends.comeback", *problem.ends.comeback);
  if (!problem.ends.hand_over && !problem.ends.live_with) {
    throw ArgumentError("ends.hand_over", "neither it nor live_with is given", "give a cost that ends every case",
                        ErrorCode::nothing_given);
  }
  if (problem.repair_elsewhere.empty()) return;
  if (!problem.ends.hand_over) {
    throw ArgumentError("repair_elsewhere", "is given without `ends.hand_over`", "give the fee of a hand-over too");
  }
  check_size("repair_elsewhere", problem.repair_elsewhere.size(), problem.hypotheses.size(),
             "one for each hypothesis, or none");
  for (std::size_t h = 0; h < problem.repair_elsewhere.size(); ++h) {
    check_amount({"repair_elsewhere", h}, problem.repair_elsewhere[h]);
  }
}

}  // namespace detail

inline void validate(const TroubleshootingProblem& problem) {
  const std::size_t n = problem.hypotheses.size();
  if (n == 0) throw ArgumentError("hypotheses", "is empty", "must name at least one", ErrorCode::nothing_given);
  detail::check_size("weights", problem.weights.size(), n, "one for each hypothesis");
  for (std::size_t h = 0; h < n; ++h) {
    detail::check_amount({"weights", h}, problem.weights[h]);
  }
  const double sum = detail::sum_of(problem.weights);
  if (!(sum > 0.0) || !std::isfinite(sum)) {
    throw ArgumentError("weights", "sum to " + std::to_string(sum), "at least one must be positive",
                        ErrorCode::wrong_number);
  }
  detail::check_set_ups(problem);
  bool needs_cured_row = false;
  for (std::size_t r = 0; r < problem.repairs.size(); ++r) {
    detail::check_repair(problem, r);
    needs_cured_row = needs_cured_row || problem.repairs[r].verification.false_still_there > 0.0;
  }
  for (std::size_t t = 0; t < problem.tests.size(); ++t) detail::check_test(problem, t, needs_cured_row);
  detail::check_ends(problem);
}

inline Situation start_of(const TroubleshootingProblem& problem) {
  validate(problem);
  Situation start;
  start.belief = problem.weights;
  detail::normalise(start.belief);
  start.belief.push_back(0.0);
  start.tests_done.assign(problem.tests.size(), false);
  start.repairs_done.assign(problem.repairs.size(), false);
  for (const SetUp& set_up : problem.set_ups) start.in_place.push_back(set_up.in_place);
  return start;
}

}  // namespace faultodds

#include "faultodds/decision/planning/steps.ipp"

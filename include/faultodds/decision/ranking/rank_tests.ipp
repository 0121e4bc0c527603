// Bodies of rank_tests.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "faultodds/decision/planning/separation.hpp"
#include "faultodds/decision/ranking/information.hpp"
#include "faultodds/decision/ranking/joint_gains.hpp"
#include "faultodds/decision/ranking/outcome_joints.hpp"
#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/work/cost.hpp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

inline bool is_abnormal(const FaultModel& model, const Finding& finding) {
  const Role role = model.variable(finding.variable).role();
  if (role != Role::symptom && role != Role::test) return false;
  return *std::max_element(finding.weights.begin(), finding.weights.end()) > finding.weights[0];
}

inline TestForecast forecast_of(VariableIndex test, double gain_bits, const WorkCost& cost) {
  TestForecast forecast;
  forecast.test = test;
  forecast.gain_bits = gain_bits;
  forecast.minutes = cost.minutes;
  forecast.money = cost.money;
  forecast.cost = cost.known ? cost.cost : 1.0;
  forecast.opens = cost.opens;
  forecast.wait_minutes = cost.wait_minutes;
  forecast.brings = cost.brings;
  forecast.gain_per_cost = gain_ratio(gain_bits, forecast.cost);
  return forecast;
}

inline double gain_ratio(double gain, double cost) {
  if (gain == 0.0) return 0.0;
  return cost > 0.0 ? gain / cost : std::numeric_limits<double>::infinity();
}

inline double merit_of(const TestForecast& forecast, RankBy by) {
  switch (by) {
    case RankBy::gain:
      return forecast.gain_bits;
    case RankBy::cost:
      return -forecast.cost;
    case RankBy::gain_per_minute:
      return gain_ratio(forecast.gain_bits, forecast.minutes);
    case RankBy::gain_per_cost:
      break;
  }
  return forecast.gain_per_cost;
}

inline void sort_by_merit(std::vector<TestForecast>& tests, RankBy by) {
  static constexpr double near = 1e-9;
  sort_stably(tests, [by](const TestForecast& a, const TestForecast& b) { return merit_of(a, by) > merit_of(b, by); });
  for (std::size_t begin = 0; begin < tests.size();) {
    const double best = merit_of(tests[begin], by);
    std::size_t end = begin + 1;
    while (end < tests.size() &&
           (merit_of(tests[end], by) == best || best - merit_of(tests[end], by) <= near * std::abs(best))) {
      ++end;
    }
    std::sort(tests.begin() + static_cast<std::ptrdiff_t>(begin), tests.begin() + static_cast<std::ptrdiff_t>(end),
              [](const TestForecast& a, const TestForecast& b) {
                return std::pair(a.cost, a.test) < std::pair(b.cost, b.test);
              });
    begin = end;
  }
}

/// One ranking in the making.
class Ranker {
 public:
  Ranker(const Case& current, const RankOptions& options, const Means& means)
      : case_(current),
        model_(current.model()),
        options_(options),
        means_(means),
        batch_(current.batched_reweighing()) {
    require_known(model_, means);
    ranking_.gain = options.gain;
    choose_targets();
    ranking_.leading = leading_faults(current, ranking_.targets, options.leading);
    measure_entropy();
    in_place_ = in_place_in(case_, means);
  }

  Ranking run() {
    choose_candidates();
    if (ranking_.gain == GainKind::joint && !measure_joint_gains()) {
      ranking_.gain = GainKind::per_component;
      measure_entropy();
    }
    if (ranking_.gain == GainKind::per_component) measure_gains_per_component();
    for (const Candidate& candidate : candidates_) consider(candidate);
    forecast_outcomes();
    sort_by_merit(ranking_.tests, options_.by);
    return std::move(ranking_);
  }

 private:
  /// A test, and its gain or the reason why that is not worked out.
  struct Candidate {
    VariableIndex test;
    std::string reason;
    double gain_bits = std::numeric_limits<double>::quiet_NaN();
  };

  void choose_targets() {
    ranking_.targets = options_.targets.empty() ? faults_in_question(case_) : options_.targets;
    for (std::size_t i = 0; i < ranking_.targets.size(); ++i) {
      const std::string& name = model_.variable(ranking_.targets[i]).name;
      const auto begin = ranking_.targets.begin();
      const auto here = begin + static_cast<std::ptrdiff_t>(i);
      if (std::find(begin, here, ranking_.targets[i]) != here) {
        throw ArgumentError("targets", '"' + name + "\" is named twice", "name each target once");
      }
    }
  }

  void measure_entropy() {
    ranking_.entropy_bits = 0.0;
    ranking_.entropy_is_bound = false;
    if (ranking_.gain == GainKind::joint) {
      const auto joint = joint_entropy_bits(case_, ranking_.targets, options_.joint_entries);
      if (joint.has_value()) {
        ranking_.entropy_bits = *joint;
        return;
      }
      ranking_.entropy_is_bound = true;
    }
    for (const VariableIndex target : ranking_.targets) ranking_.entropy_bits += entropy_bits(case_.posterior(target));
  }

  void choose_candidates() {
    const std::vector<VariableIndex> tests = options_.tests.empty() ? model_.with_role(Role::test) : options_.tests;
    if (tests.empty()) throw ArgumentError("tests", "the model has no tests", "name the variables that can be tested");
    for (const VariableIndex test : tests) static_cast<void>(model_.variable(test));  // range check
    const std::vector<bool> related = related_to_targets();
    for (const VariableIndex test : tests) {
      if (known_state(case_.findings(), test)) continue;
      candidates_.push_back({test, {}});
      if (options_.tests.empty() && has_revealed(case_, test)) {
        candidates_.back().reason = "what it reveals is entered already";
      } else if (is_ruled_out(case_, test)) {
        candidates_.back() = {test, unmet_preconditions(case_, test), 0.0};
      } else if (options_.tests.empty() && !related[test]) {
        candidates_.back() = {test, "depends on none of the faults in question", 0.0};
      } else if (ranking_.targets.empty()) {
        candidates_.back().gain_bits = 0.0;
      }
    }
  }

  /// By variable: true if it is a target, above one or below one.
  [[nodiscard]] std::vector<bool> related_to_targets() const {
    if (ranking_.targets.empty()) return std::vector<bool>(model_.size(), false);
    if (!model_.parts().potentials.empty()) return std::vector<bool>(model_.size(), true);
    std::vector<bool> related = ancestors_of(model_, ranking_.targets);
    std::vector<bool> below(model_.size(), false);
    for (const VariableIndex target : ranking_.targets) below[target] = true;
    for (const std::size_t v : model_.topological_order()) {
      for (const VariableIndex parent : model_.parents(v)) below[v] = below[v] || below[parent];
      related[v] = related[v] || below[v];
    }
    return related;
  }

  [[nodiscard]] static bool is_open(const Candidate& candidate) {
    return candidate.reason.empty() && std::isnan(candidate.gain_bits);
  }

  /// False if some gain is out of reach, so that those per component are to serve.
  bool measure_joint_gains() {
    JointGains gains(case_, batch_, ranking_.targets, options_.joint_entries);
    for (Candidate& candidate : candidates_) {
      if (!is_open(candidate)) continue;
      case_.stop().check();
      case_.stop().report({.of = "tests",
                           .done = static_cast<std::size_t>(&candidate - candidates_.data()),
                           .total = candidates_.size()});
      const std::optional<double> bits = gains.gain_bits(candidate.test);
      if (!bits.has_value() && !options_.joint_only) return false;
      candidate.gain_bits = bits.value_or(std::numeric_limits<double>::quiet_NaN());
    }
    return true;
  }

  /// Sum over targets of I(F_i; T | findings).
  void measure_gains_per_component() {
    std::vector<VariableIndex> tests;
    for (Candidate& candidate : candidates_) {
      if (!candidate.reason.empty() || ranking_.targets.empty()) continue;
      candidate.gain_bits = 0.0;
      tests.push_back(candidate.test);
    }
    const std::vector<OutcomeJoints> joints = outcome_joints(case_, batch_, tests, ranking_.targets);
    std::size_t next = 0;
    for (Candidate& candidate : candidates_) {
      if (next == tests.size() || candidate.test != tests[next]) continue;
      const OutcomeJoints& of_test = joints[next++];
      for (const std::vector<double>& joint : of_test.with) {
        candidate.gain_bits += mutual_information_bits(joint, joint.size() / of_test.outcomes.size());
      }
      joints_of_leading_[candidate.test] = with_leading(of_test);
    }
  }

  /// What is told of the leading faults, which are among the targets.
  [[nodiscard]] OutcomeJoints with_leading(const OutcomeJoints& with_targets) const {
    OutcomeJoints joints{with_targets.outcomes, {}};
    for (const FaultProbability& fault : ranking_.leading) {
      const auto at = std::find(ranking_.targets.begin(), ranking_.targets.end(), fault.component);
      joints.with.push_back(with_targets.with[static_cast<std::size_t>(at - ranking_.targets.begin())]);
    }
    return joints;
  }

  void consider(const Candidate& candidate) {
    const Work& work = as_test(model_.variable(candidate.test)).work;
    const WorkCost cost = cost_of(case_, work, in_place_, means_.labour_rate);
    std::string reason = candidate.reason;
    if (reason.empty()) reason = unmet_preconditions(case_, candidate.test);
    if (reason.empty()) reason = beyond_means(model_, means_, work, cost);
    if (reason.empty() && std::isnan(candidate.gain_bits)) {
      reason =
          "its joint table with the faults in question is too large; use gains per component, or name fewer targets";
    }
    if (!reason.empty()) {
      ranking_.left_out.push_back({candidate.test, reason, candidate.gain_bits});
      return;
    }
    ranking_.tests.push_back(forecast_of(candidate.test, candidate.gain_bits, cost));
  }

  void forecast_outcomes() {
    std::vector<VariableIndex> tests, components;
    for (const TestForecast& forecast : ranking_.tests) {
      if (!joints_of_leading_.contains(forecast.test)) tests.push_back(forecast.test);
    }
    if (options_.effects) {
      for (const FaultProbability& fault : ranking_.leading) components.push_back(fault.component);
    }
    std::vector<OutcomeJoints> others = outcome_joints(case_, batch_, tests, components);
    for (std::size_t t = 0; t < tests.size(); ++t) joints_of_leading_[tests[t]] = std::move(others[t]);
    for (TestForecast& forecast : ranking_.tests) {
      const OutcomeJoints& joints = joints_of_leading_[forecast.test];
      for (std::size_t y = 0; y < joints.outcomes.size(); ++y) {
        forecast.outcomes.push_back({y, joints.outcomes[y], {}});
        if (joints.outcomes[y] <= 0.0) continue;
        for (std::size_t i = 0; i < components.size(); ++i) {
          forecast_fault(forecast.outcomes.back(), joints.with[i], ranking_.leading[i]);
        }
      }
    }
  }

  void forecast_fault(OutcomeForecast& outcome, std::span<const double> joint, const FaultProbability& fault) const {
    const std::size_t states = model_.state_count(fault.component);
    const std::span<const double> row = joint.subspan(outcome.state * states, states);
    const double total = std::accumulate(row.begin(), row.end(), 0.0);
    if (total > 0.0) outcome.leading.push_back({fault.component, fault.state, row[fault.state] / total});
  }

  const Case& case_;
  const FaultModel& model_;
  const RankOptions& options_;
  const Means& means_;
  BatchedReweighing batch_;
  Ranking ranking_;
  InPlace in_place_;
  std::vector<Candidate> candidates_;
  std::map<std::size_t, OutcomeJoints> joints_of_leading_;  // by test: its outcomes with the leading faults
};

}  // namespace detail

namespace detail {

/// Those of the components that can account for an abnormal finding; all if none can.
inline std::vector<VariableIndex> accountable(const Case& current, std::vector<VariableIndex> components) {
  const FaultModel& model = current.model();
  std::vector<VariableIndex> abnormal;
  for (const Finding& finding : current.findings()) {
    if (is_abnormal(model, finding)) abnormal.push_back(finding.variable);
  }
  const std::vector<bool> above = ancestors_of(model, abnormal);
  std::vector<VariableIndex> can;
  for (const VariableIndex component : components) {
    if (above[component]) can.push_back(component);
  }
  return can.empty() ? components : can;
}

}  // namespace detail

inline std::vector<VariableIndex> known_faults(const Case& current) {
  std::vector<VariableIndex> known = current.model().with_role(Role::component);
  std::erase_if(known, [&](VariableIndex component) {
    const Finding* finding = current.finding_of(component);
    return finding == nullptr || finding->state.value_or(0) == 0;
  });
  return detail::accountable(current, std::move(known));
}

inline std::vector<VariableIndex> faults_in_question(const Case& current) {
  const FaultModel& model = current.model();
  std::vector<VariableIndex> components = model.with_role(Role::component);
  if (components.empty()) {
    throw ArgumentError("targets", "the model has no components", "name the variables in question as targets");
  }
  std::erase_if(components, [&](VariableIndex component) {
    return detail::known_state(current.findings(), component).has_value();
  });
  return detail::accountable(current, std::move(components));
}

inline bool has_revealed(const Case& current, VariableIndex test) {
  const std::vector<VariableIndex>& revealed = as_test(current.model().variable(test)).reveals;
  return std::any_of(revealed.begin(), revealed.end(),
                     [&](VariableIndex symptom) { return current.finding_of(symptom) != nullptr; });
}

inline std::vector<FaultProbability> leading_faults(const Case& current, const std::vector<VariableIndex>& components,
                                                    std::size_t most) {
  std::vector<FaultProbability> faults;
  for (const VariableIndex component : components) {
    const std::vector<double> posterior = current.posterior(component);
    for (std::size_t s = 1; s < posterior.size(); ++s) faults.push_back({component, s, posterior[s]});
  }
  detail::sort_stably(
      faults, [](const FaultProbability& a, const FaultProbability& b) { return a.probability > b.probability; });
  if (faults.size() > most) faults.resize(most);
  return faults;
}

inline Ranking rank_tests(const Case& current, const RankOptions& options, const Means& means, const Stop& stop) {
  const StopScope scope(current, stop);
  return detail::Ranker(current, options, means).run();
}

}  // namespace faultodds

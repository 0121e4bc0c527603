// Bodies of rank_tests.hpp.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

#include "faultodds/decision/cost.hpp"
#include "faultodds/decision/information.hpp"
#include "faultodds/decision/outcome_joints.hpp"
#include "faultodds/decision/rank_tests.hpp"

namespace faultodds {
namespace detail {

inline bool is_abnormal(const FaultModel& model, const Finding& finding) {
  const Role role = model.variable(finding.variable).role;
  if (role != Role::symptom && role != Role::test) return false;
  return *std::max_element(finding.weights.begin(), finding.weights.end()) > finding.weights[0];
}

inline void require_terms(const std::vector<Term>& known, const std::vector<std::string>& names, const char* kind) {
  std::vector<std::string> all;
  for (const Term& term : known) all.push_back(term.name);
  for (const std::string& name : names) {
    if (std::find(all.begin(), all.end(), name) == all.end()) throw UnknownName(kind, name, nearest_names(name, all));
  }
}

/// One ranking in the making.
class Ranker {
 public:
  Ranker(const Case& current, const RankOptions& options) : case_(current), model_(current.model()), options_(options) {
    require_terms(model_.parts().tools, options.tools, "tool");
    if (!options.skill.empty()) require_terms(model_.parts().skills, {options.skill}, "skill");
    std::vector<Term> access;
    for (const Access& job : model_.parts().access) access.push_back({job.name, {}, {}});
    require_terms(access, options.open_access, "access");
    ranking_.gain = options.gain;
    choose_targets();
    ranking_.leading = leading_faults(current, ranking_.targets, options.leading);
    measure_entropy();
    find_open_access();
  }

  Ranking run() {
    const std::vector<std::size_t> tests = tests_to_rank();
    if (!std::all_of(tests.begin(), tests.end(), [this](std::size_t test) { return consider(test); })) {
      start_over_per_component();
      for (const std::size_t test : tests) consider(test);
    }
    sort_by_merit();
    if (options_.effects) {
      for (TestForecast& forecast : ranking_.tests) forecast_effects(forecast);
    }
    return std::move(ranking_);
  }

 private:
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

  void start_over_per_component() {
    ranking_.gain = GainKind::per_component;
    ranking_.tests.clear();
    ranking_.left_out.clear();
    measure_entropy();
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
    for (const std::size_t target : ranking_.targets) ranking_.entropy_bits += entropy_bits(case_.posterior(target));
  }

  void find_open_access() {
    open_ = options_.open_access;
    for (const Finding& finding : case_.findings()) {
      const Variable& variable = model_.variable(finding.variable);
      if (variable.role != Role::test) continue;
      const WorkCost cost = cost_of(model_, variable.work, open_);
      open_.insert(open_.end(), cost.opens.begin(), cost.opens.end());
    }
  }

  [[nodiscard]] std::vector<std::size_t> tests_to_rank() const {
    std::vector<std::size_t> tests = options_.tests.empty() ? model_.with_role(Role::test) : options_.tests;
    if (tests.empty()) throw ArgumentError("tests", "the model has no tests", "name the variables that can be tested");
    for (const std::size_t test : tests) static_cast<void>(model_.variable(test));  // range check
    std::erase_if(tests, [this](std::size_t test) {
      const Finding* finding = case_.finding_of(test);
      return finding != nullptr && finding->state.has_value();
    });
    return tests;
  }

  /// False where the joint gain is out of reach and gains per component are to serve instead.
  bool consider(std::size_t test) {
    if (options_.tests.empty() && has_revealed(case_, test)) {
      ranking_.left_out.push_back(
          {test, "what it reveals is entered already", std::numeric_limits<double>::quiet_NaN()});
      return true;
    }
    const Variable& variable = model_.variable(test);
    const WorkCost cost = cost_of(model_, variable.work, open_);
    std::string reason = beyond_means(variable.work, cost);
    if (options_.tests.empty() && !speaks_to_targets(test)) {
      ranking_.left_out.push_back({test, "hangs on none of the faults in question", 0.0});
      return true;
    }
    const std::optional<double> gain = gain_bits(test);
    if (!gain.has_value() && !options_.joint_only) return false;
    if (!gain.has_value() && reason.empty()) {
      reason =
          "its joint table with the faults in question is too large; use gains per component, or name fewer targets";
    }
    if (!reason.empty()) {
      ranking_.left_out.push_back({test, reason, gain.value_or(std::numeric_limits<double>::quiet_NaN())});
      return true;
    }
    TestForecast forecast;
    forecast.test = test;
    forecast.gain_bits = *gain;
    forecast.minutes = cost.minutes;
    forecast.money = cost.money;
    forecast.cost = cost.known ? cost.cost : 1.0;
    forecast.opens = cost.opens;
    forecast.gain_per_cost = ratio(*gain, forecast.cost);
    const std::vector<double> outcomes = case_.posterior(test);
    for (std::size_t s = 0; s < outcomes.size(); ++s) forecast.outcomes.push_back({s, outcomes[s], {}});
    ranking_.tests.push_back(std::move(forecast));
    return true;
  }

  static double ratio(double gain, double cost) {
    if (gain == 0.0) return 0.0;
    return cost > 0.0 ? gain / cost : std::numeric_limits<double>::infinity();
  }

  [[nodiscard]] std::string beyond_means(const Work& work, const WorkCost& cost) const {
    if (options_.limit_tools) {
      for (const std::string& tool : tools_of(model_, work, cost)) {
        if (std::find(options_.tools.begin(), options_.tools.end(), tool) == options_.tools.end()) {
          return "needs a tool that is not at hand: " + tool;
        }
      }
    }
    if (!options_.skill.empty() && skill_of(model_, work, cost) > skill_level(model_, options_.skill)) {
      return "needs more skill than " + options_.skill + ": " +
             model_.parts().skills[skill_of(model_, work, cost)].name;
    }
    return {};
  }

  /// True where a target is the test itself, above it or below it.
  [[nodiscard]] bool speaks_to_targets(std::size_t test) const {
    if (!model_.parts().potentials.empty()) return true;
    const std::vector<bool> above_test = ancestors_of(model_, {test});
    const std::vector<bool> above_targets = ancestors_of(model_, ranking_.targets);
    return above_targets[test] || std::any_of(ranking_.targets.begin(), ranking_.targets.end(),
                                              [&](std::size_t target) { return target == test || above_test[target]; });
  }

  [[nodiscard]] std::optional<double> gain_bits(std::size_t test) const {
    if (ranking_.gain == GainKind::joint) return joint_gain_bits(case_, test, ranking_.targets, options_.joint_entries);
    return gain_per_component(test);
  }

  /// Sum over targets of I(F_i; T | findings).
  [[nodiscard]] double gain_per_component(std::size_t test) const {
    const std::vector<std::vector<double>> joints = outcome_joints(case_, test, ranking_.targets);
    double bits = 0.0;
    for (std::size_t i = 0; i < joints.size(); ++i) {
      bits += mutual_information_bits(joints[i], model_.state_count(ranking_.targets[i]));
    }
    return bits;
  }

  void forecast_effects(TestForecast& forecast) const {
    std::vector<std::size_t> components;
    for (const FaultProbability& fault : ranking_.leading) components.push_back(fault.component);
    const std::vector<std::vector<double>> joints = outcome_joints(case_, forecast.test, components);
    for (OutcomeForecast& outcome : forecast.outcomes) {
      if (outcome.probability <= 0.0) continue;
      for (std::size_t i = 0; i < components.size(); ++i) {
        const FaultProbability& fault = ranking_.leading[i];
        const std::size_t states = model_.state_count(fault.component);
        const auto row = joints[i].begin() + static_cast<std::ptrdiff_t>(outcome.state * states);
        const double total = std::accumulate(row, row + static_cast<std::ptrdiff_t>(states), 0.0);
        if (total <= 0.0) continue;
        outcome.leading.push_back(
            {fault.component, fault.state, joints[i][outcome.state * states + fault.state] / total});
      }
    }
  }

  [[nodiscard]] double merit(const TestForecast& forecast) const {
    switch (options_.by) {
      case RankBy::gain:
        return forecast.gain_bits;
      case RankBy::cost:
        return -forecast.cost;
      case RankBy::gain_per_minute:
        return ratio(forecast.gain_bits, forecast.minutes);
      case RankBy::gain_per_cost:
        break;
    }
    return forecast.gain_per_cost;
  }

  /// By merit; runs of tests that differ by rounding only are put in order of cost, then of the model.
  void sort_by_merit() {
    static constexpr double near = 1e-9;
    std::vector<TestForecast>& tests = ranking_.tests;
    std::stable_sort(tests.begin(), tests.end(),
                     [this](const TestForecast& a, const TestForecast& b) { return merit(a) > merit(b); });
    for (std::size_t begin = 0; begin < tests.size();) {
      const double best = merit(tests[begin]);
      std::size_t end = begin + 1;
      while (end < tests.size() && (merit(tests[end]) == best || best - merit(tests[end]) <= near * std::abs(best)))
        ++end;
      std::sort(tests.begin() + static_cast<std::ptrdiff_t>(begin), tests.begin() + static_cast<std::ptrdiff_t>(end),
                [](const TestForecast& a, const TestForecast& b) {
                  return std::pair(a.cost, a.test) < std::pair(b.cost, b.test);
                });
      begin = end;
    }
  }

  const Case& case_;
  const FaultModel& model_;
  const RankOptions& options_;
  Ranking ranking_;
  std::vector<std::string> open_;
};

}  // namespace detail

inline std::vector<std::size_t> faults_in_question(const Case& current) {
  const FaultModel& model = current.model();
  std::vector<std::size_t> components = model.with_role(Role::component);
  std::erase_if(components, [&](std::size_t component) {
    const Finding* finding = current.finding_of(component);
    return finding != nullptr && finding->state.has_value();
  });
  if (components.empty()) {
    throw ArgumentError("targets", "the model has no components in doubt", "name the variables in question as targets");
  }
  std::vector<std::size_t> abnormal;
  for (const Finding& finding : current.findings()) {
    if (detail::is_abnormal(model, finding)) abnormal.push_back(finding.variable);
  }
  const std::vector<bool> above = detail::ancestors_of(model, abnormal);
  std::vector<std::size_t> accountable;
  for (const std::size_t component : components) {
    if (above[component]) accountable.push_back(component);
  }
  return accountable.empty() ? components : accountable;
}

inline bool has_revealed(const Case& current, std::size_t test) {
  const std::vector<std::size_t>& revealed = current.model().variable(test).reveals;
  return std::any_of(revealed.begin(), revealed.end(),
                     [&](std::size_t symptom) { return current.finding_of(symptom) != nullptr; });
}

inline std::vector<FaultProbability> leading_faults(const Case& current, const std::vector<std::size_t>& components,
                                                    std::size_t most) {
  std::vector<FaultProbability> faults;
  for (const std::size_t component : components) {
    const std::vector<double> posterior = current.posterior(component);
    for (std::size_t s = 1; s < posterior.size(); ++s) faults.push_back({component, s, posterior[s]});
  }
  std::stable_sort(faults.begin(), faults.end(),
                   [](const FaultProbability& a, const FaultProbability& b) { return a.probability > b.probability; });
  if (faults.size() > most) faults.resize(most);
  return faults;
}

inline Ranking rank_tests(const Case& current, const RankOptions& options) {
  return detail::Ranker(current, options).run();
}

}  // namespace faultodds

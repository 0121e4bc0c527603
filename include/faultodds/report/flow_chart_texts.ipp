// Bodies of flow_chart_texts.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>

#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds {
namespace detail {

inline std::string label_or_name(const std::string& label, const std::string& name) {
  return label.empty() ? name : label;
}

/// The texts of a model, for the names of a problem.
class FlowTextsOfModel {
 public:
  FlowTextsOfModel(const TroubleshootingProblem& problem, const FaultModel& model)
      : problem_(problem), model_(model), parts_(model.parts()), texts_(flow_chart_texts(problem)) {}

  [[nodiscard]] FlowChartTexts take() {
    const Header& header = model_.header();
    texts_.title = label_or_name(header.title, header.name);
    texts_.safety = header.safety;
    texts_.currency = header.currency;
    texts_.invented = header.invented;
    for (const Term& term : parts_.cautions) {
      texts_.cautions.push_back({label_or_name(term.label, term.name), term.description});
    }
    for (std::size_t t = 0; t < problem_.tests.size(); ++t) say_test(problem_.tests[t], texts_.tests[t]);
    for (std::size_t r = 0; r < problem_.repairs.size(); ++r) say_repair(problem_.repairs[r], texts_.repairs[r]);
    for (std::size_t s = 0; s < problem_.set_ups.size(); ++s) say_set_up(problem_.set_ups[s], texts_.set_ups[s]);
    if (parts_.hand_overs.size() == 1) {
      const HandOver& specialist = parts_.hand_overs.front();
      texts_.hand_over.label = label_or_name(specialist.label, specialist.name);
      texts_.hand_over.procedure = specialist.description;
    }
    return std::move(texts_);
  }

 private:
  void add_cautions(const std::vector<std::string>& names, FlowStepTexts& step) const {
    for (const std::string& name : names) {
      const auto found = std::find_if(parts_.cautions.begin(), parts_.cautions.end(),
                                      [&](const Term& term) { return term.name == name; });
      const auto place = static_cast<std::size_t>(found - parts_.cautions.begin());
      const bool known = std::find(step.cautions.begin(), step.cautions.end(), place) != step.cautions.end();
      if (found != parts_.cautions.end() && !known) step.cautions.push_back(place);
    }
  }

  void say_test(const TestAction& test, FlowStepTexts& step) const {
    const auto index = model_.find(test.name);
    if (!index) return;
    const Variable& variable = model_.variable(*index);
    step.label = shown(variable);
    step.procedure = as_test(variable).procedure;
    add_cautions(as_test(variable).work.cautions, step);
    for (std::string& outcome : step.outcomes) {
      const auto state = std::find_if(variable.states.begin(), variable.states.end(),
                                      [&](const State& known) { return known.name == outcome; });
      if (state != variable.states.end()) outcome = shown(*state);
    }
  }

  void say_repair(const RepairAction& action, FlowStepTexts& step) const {
    const auto repair = std::find_if(parts_.repairs.begin(), parts_.repairs.end(),
                                     [&](const Repair& known) { return known.name == action.name; });
    if (repair == parts_.repairs.end()) return;
    step.label = label_or_name(repair->label, repair->name);
    step.procedure = repair->procedure;
    add_cautions(repair->work.cautions, step);
    const std::optional<RepairCheck>& check = repair->verification ? repair->verification : parts_.verification;
    if (!check) return;
    step.check = check->procedure.empty() ? check->label : check->procedure;
    add_cautions(check->work.cautions, step);
  }

  void say_set_up(const SetUp& set_up, FlowStepTexts& step) const {
    const auto say = [&](const auto& list) {
      const auto found =
          std::find_if(list.begin(), list.end(), [&](const auto& known) { return known.name == set_up.name; });
      if (found == list.end()) return;
      step.label = label_or_name(found->label, found->name);
      add_cautions(found->work.cautions, step);
    };
    say(parts_.access);
    say(parts_.conditions);
  }

  const TroubleshootingProblem& problem_;
  const FaultModel& model_;
  const ModelParts& parts_;
  FlowChartTexts texts_;
};

}  // namespace detail

inline FlowChartTexts flow_chart_texts(const TroubleshootingProblem& problem) {
  FlowChartTexts texts;
  const auto named = [](const std::string& name) {
    FlowStepTexts step;
    step.label = name;
    return step;
  };
  for (const TestAction& test : problem.tests) {
    texts.tests.push_back(named(test.name));
    texts.tests.back().outcomes = test.outcomes;
  }
  for (const RepairAction& repair : problem.repairs) texts.repairs.push_back(named(repair.name));
  for (const SetUp& set_up : problem.set_ups) texts.set_ups.push_back(named(set_up.name));
  texts.hypotheses = problem.hypotheses;
  return texts;
}

inline FlowChartTexts flow_chart_texts(const TroubleshootingProblem& problem, const FaultModel& model) {
  return detail::FlowTextsOfModel(problem, model).take();
}

}  // namespace faultodds

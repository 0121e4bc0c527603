// Bodies of flow_chart_step.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <string_view>

#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart_step.hpp"

namespace faultodds::detail {

inline std::string flow_kind(StepKind kind) {
  switch (kind) {
    case StepKind::test:
      return "test";
    case StepKind::repair:
      return "repair";
    case StepKind::hand_over:
      return "hand_over";
    case StepKind::live_with:
      return "live_with";
    case StepKind::done:
      return "done";
    case StepKind::ask_again:
      break;
  }
  return "ask_again";
}

inline bool goes_on(const PolicyNode& node) {
  return node.step.kind == StepKind::test || node.step.kind == StepKind::repair;
}

/// The texts of a node's step.
inline FlowStepTexts flow_texts_of(const PolicyNode& node, const FlowChartTexts& texts) {
  switch (node.step.kind) {
    case StepKind::test:
      return texts.tests[node.step.index];
    case StepKind::repair:
      return texts.repairs[node.step.index];
    case StepKind::hand_over:
      return texts.hand_over;
    case StepKind::live_with:
      return texts.live_with;
    case StepKind::done:
      return {.label = "Done: the complaint is gone", .cautions = {}, .procedure = {}, .check = {}, .outcomes = {}};
    case StepKind::ask_again:
      break;
  }
  return {.label = "Then ask the solver", .cautions = {}, .procedure = {}, .check = {}, .outcomes = {}};
}

inline std::string flow_cost(const PolicyNode& node, const FlowChartTexts& texts) {
  const std::string to_the_end = wording::exact_money(node.expected_cost, texts.currency);
  if (goes_on(node)) {
    return "Now " + wording::exact_money(node.step_cost, texts.currency) + ", to the end " + to_the_end;
  }
  const bool nothing_known = node.step.kind == StepKind::done && node.expected_cost == 0.0;
  return nothing_known ? std::string() : "To the end " + to_the_end;
}

inline FlowStep flow_step(const PolicyTree& policy_tree, const FlowChartTexts& texts, std::size_t node) {
  constexpr std::size_t most_likely = 2;
  const PolicyNode& here = policy_tree.nodes[node];
  const FlowStepTexts own = flow_texts_of(here, texts);
  FlowStep step;
  step.label = own.label;
  step.procedure = own.procedure;
  step.check = own.check;
  const auto warn = [&](const std::vector<std::size_t>& cautions) {
    for (const std::size_t caution : cautions) {
      const std::string& label = texts.cautions[caution].label;
      const bool said = std::find(step.cautions.begin(), step.cautions.end(), label) != step.cautions.end();
      if (!said) step.cautions.push_back(label);
    }
  };
  for (const std::size_t set_up : here.set_ups) {
    warn(texts.set_ups[set_up].cautions);
    step.first += (step.first.empty() ? "" : ", then ") + texts.set_ups[set_up].label;
  }
  warn(own.cautions);
  if (goes_on(here)) {
    for (std::size_t i = 0; i < std::min(most_likely, here.leading.size()); ++i) {
      step.likely += (i == 0 ? "" : "; ") + texts.hypotheses[here.leading[i].hypothesis] + ' ' +
                     wording::percent(here.leading[i].probability);
    }
  }
  step.cost = flow_cost(here, texts);
  step.reached = node == 0 ? "The start" : "Reached in " + wording::percent(here.probability) + " of cases";
  return step;
}

inline std::vector<bool> cautions_in_use(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  std::vector<bool> in_use(texts.cautions.size(), false);
  const auto mark = [&](const FlowStepTexts& step) {
    for (const std::size_t caution : step.cautions) in_use[caution] = true;
  };
  for (const PolicyNode& node : policy_tree.nodes) {
    for (const std::size_t set_up : node.set_ups) mark(texts.set_ups[set_up]);
    mark(flow_texts_of(node, texts));
  }
  return in_use;
}

inline std::string flow_outcome(const FlowChartTexts& texts, const PolicyNode& from, const PolicyBranch& branch) {
  const std::string outcome = from.step.kind == StepKind::test ? texts.tests[from.step.index].outcomes[branch.outcome]
                              : branch.outcome == 0            ? "cured"
                                                               : "still there";
  return outcome + " (" + wording::percent(branch.probability) + ')';
}

inline std::string flow_summary(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  std::string text = "Expected cost from the start to the end of the case: " +
                     wording::exact_money(policy_tree.expected_cost(), texts.currency);
  const double bound = policy_tree.nodes.front().lower_bound;
  const bool is_less = policy_tree.expected_cost() - bound > 0.005;
  if (bound > 0.0 && is_less) {
    text += "; no order of steps can cost less than " + wording::exact_money(bound, texts.currency);
  }
  return text + '.';
}

inline std::string flow_invented() {
  return "INVENTED DATA: the numbers are made up and must be tuned before any real use.";
}

/// Checks that a policy tree and its texts fit each other.
class FlowCheck {
 public:
  FlowCheck(const PolicyTree& policy_tree, const FlowChartTexts& texts) : policy_tree_(policy_tree), texts_(texts) {}

  void run() const {
    if (policy_tree_.nodes.empty())
      throw ArgumentError("policy_tree", "it has no node", "give one with a start", ErrorCode::nothing_given);
    for (const auto* list : {&texts_.tests, &texts_.repairs, &texts_.set_ups}) {
      for (const FlowStepTexts& step : *list) check_cautions(step);
    }
    check_cautions(texts_.hand_over);
    check_cautions(texts_.live_with);
    std::vector<bool> reached(policy_tree_.nodes.size(), false);
    for (std::size_t i = 0; i < policy_tree_.nodes.size(); ++i) {
      check_node(policy_tree_.nodes[i]);
      check_branches(i, reached);
    }
    const auto lost = std::find(reached.begin() + 1, reached.end(), false);
    if (lost != reached.end()) refuse("policy_tree", "a node that no branch leads to", "leave it out");
  }

 private:
  [[noreturn]] static void refuse(const std::string& place, const std::string& found, const std::string& remedy) {
    throw ArgumentError(place, found, remedy);
  }

  static void need(std::size_t index, std::size_t size, const std::string& list) {
    if (index < size) return;
    refuse("texts." + list,
           std::to_string(size) + " of them, and the policy tree names number " + std::to_string(index),
           "give texts for everything in the problem");
  }

  void check_cautions(const FlowStepTexts& step) const {
    for (const std::size_t caution : step.cautions) need(caution, texts_.cautions.size(), "cautions");
  }

  void check_node(const PolicyNode& node) const {
    if (node.step.kind == StepKind::test) need(node.step.index, texts_.tests.size(), "tests");
    if (node.step.kind == StepKind::repair) need(node.step.index, texts_.repairs.size(), "repairs");
    for (const std::size_t set_up : node.set_ups) need(set_up, texts_.set_ups.size(), "set_ups");
    for (const LeadingHypothesis& leading : node.leading) {
      need(leading.hypothesis, texts_.hypotheses.size(), "hypotheses");
    }
  }

  void check_branches(std::size_t at, std::vector<bool>& reached) const {
    const PolicyNode& node = policy_tree_.nodes[at];
    const std::string place = "policy_tree.nodes[" + std::to_string(at) + "].branches";
    for (const PolicyBranch& branch : node.branches) {
      if (node.step.kind == StepKind::test) {
        need(branch.outcome, texts_.tests[node.step.index].outcomes.size(),
             "tests[" + std::to_string(node.step.index) + "].outcomes");
      }
      if (branch.node <= at || branch.node >= reached.size() || reached[branch.node]) {
        refuse(place, "one to node " + std::to_string(branch.node),
               "each node but the first follows exactly one earlier node");
      }
      reached[branch.node] = true;
    }
  }

  const PolicyTree& policy_tree_;
  const FlowChartTexts& texts_;
};

inline void check_flow_texts(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  FlowCheck(policy_tree, texts).run();
}

}  // namespace faultodds::detail

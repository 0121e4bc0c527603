// What a flow chart says at each node of a policy tree, in the order in which it is read.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/report/flow_chart_texts.hpp"

namespace faultodds::detail {

struct FlowStep {
  std::string label;
  std::vector<std::string> cautions;  ///< labels, each once; before everything that is done
  std::string first;                  ///< set-ups
  std::string procedure;
  std::string check;
  std::string likely;  ///< the leading hypotheses
  std::string cost;
  std::string reached;
};

/// "test", "repair", "hand_over", "live_with", "done", "ask_again".
[[nodiscard]] std::string flow_kind(StepKind kind);

/// True if the case goes on from this node.
[[nodiscard]] bool goes_on(const PolicyNode& node);

[[nodiscard]] FlowStep flow_step(const PolicyTree& policy_tree, const FlowChartTexts& texts, std::size_t node);

/// "low (23 %)": what leads along a branch.
[[nodiscard]] std::string flow_outcome(const FlowChartTexts& texts, const PolicyNode& from, const PolicyBranch& branch);

/// Throws ArgumentError if an index of the policy tree has no text, a caution does not exist, there is no node, or
/// the branches do not form a tree.
void check_flow_texts(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// Lines for the head of a chart: what is expected to be paid, and how to read it.
[[nodiscard]] std::string flow_summary(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// By caution: true if some step of the policy tree carries it.
[[nodiscard]] std::vector<bool> cautions_in_use(const PolicyTree& policy_tree, const FlowChartTexts& texts);

/// What is said of invented data.
[[nodiscard]] std::string flow_invented();

}  // namespace faultodds::detail

#include "faultodds/report/flow_chart_step.ipp"

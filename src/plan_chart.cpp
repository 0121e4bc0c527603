// SPDX-License-Identifier: BSD-3-Clause
#include "plan_chart.hpp"

#include <algorithm>
#include <optional>

#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart_step.hpp"

namespace faultodds::program {
namespace {

class Chart {
 public:
  Chart(const Screen& screen, const PolicyTree& policy_tree, const FlowChartTexts& texts)
      : screen_(screen), policy_tree_(policy_tree), texts_(texts) {}

  /// From this node to the end of the case.
  void show(std::size_t node, std::size_t indent) {
    for (std::optional<std::size_t> next = node; next;) {
      show_step(*next, indent);
      next = show_branches(*next, indent + hang);
    }
  }

 private:
  static constexpr std::size_t hang = 3;

  void show_step(std::size_t node, std::size_t indent) {
    const detail::FlowStep step = detail::flow_step(policy_tree_, texts_, node);
    screen_.blank();
    const std::string number = std::to_string(++steps_) + '.';
    const std::string kind = policy_tree_.nodes[node].step.kind == StepKind::repair ? "REPAIR: " : "";
    screen_.text(number + ' ' + kind + step.label, indent, hang);
    const std::size_t inner = indent + hang;
    for (const std::string& caution : step.cautions) screen_.text("CAUTION: " + caution, inner, 2);
    if (!step.first.empty()) screen_.text("First: " + step.first, inner, 2);
    if (!step.procedure.empty()) screen_.text(step.procedure, inner);
    if (!step.check.empty()) screen_.text("Then: " + step.check, inner, 2);
    if (!step.likely.empty()) screen_.text("Likely: " + step.likely, inner, 2);
    std::string foot = step.cost;
    if (node != 0) foot += (foot.empty() ? "" : ". ") + step.reached;
    if (!foot.empty()) screen_.text(foot + '.', inner, 2);
  }

  /// Shows all branches but the one that most cases take, and returns the node where that goes on.
  [[nodiscard]] std::optional<std::size_t> show_branches(std::size_t node, std::size_t indent) {
    const PolicyNode& here = policy_tree_.nodes[node];
    const PolicyBranch* main = nullptr;
    for (const PolicyBranch& branch : here.branches) {
      const bool heavier = main == nullptr || branch.probability > main->probability;
      if (goes_on(branch) && heavier) main = &branch;
    }
    for (const PolicyBranch& branch : here.branches) {
      if (&branch == main) continue;
      const std::string outcome = "If " + detail::flow_outcome(texts_, here, branch) + ": ";
      screen_.text(outcome + (goes_on(branch) ? "" : end_text(policy_tree_.nodes[branch.node])), indent, 2);
      if (goes_on(branch)) show(branch.node, indent + 2);
    }
    if (main == nullptr) return std::nullopt;
    if (here.branches.size() > 1) screen_.blank();
    screen_.text("If " + detail::flow_outcome(texts_, here, *main) + ": go on", indent, 2);
    return main->node;
  }

  [[nodiscard]] bool goes_on(const PolicyBranch& branch) const {
    return detail::goes_on(policy_tree_.nodes[branch.node]);
  }

  [[nodiscard]] std::string end_text(const PolicyNode& node) const {
    const std::string cost = wording::exact_money(node.expected_cost, texts_.currency);
    switch (node.step.kind) {
      case StepKind::done:
        return "done, the complaint is gone";
      case StepKind::hand_over:
        return texts_.hand_over.label + ", " + cost;
      case StepKind::live_with:
        return "leave it as it is, " + cost;
      default:
        return "then ask the solver (about " + cost + " to the end)";
    }
  }

  const Screen& screen_;
  const PolicyTree& policy_tree_;
  const FlowChartTexts& texts_;
  std::size_t steps_ = 0;
};

}  // namespace

void show_chart(const Screen& screen, const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  const std::vector<bool> in_use = detail::cautions_in_use(policy_tree, texts);
  if (std::find(in_use.begin(), in_use.end(), true) != in_use.end()) screen.heading("Cautions of the steps below");
  for (std::size_t c = 0; c < in_use.size(); ++c) {
    if (!in_use[c]) continue;
    const FlowCaution& caution = texts.cautions[c];
    screen.caution(caution.text.empty() ? caution.label : caution.label + ": " + caution.text);
  }
  screen.heading("Steps");
  if (!detail::goes_on(policy_tree.nodes.front())) {
    const detail::FlowStep only = detail::flow_step(policy_tree, texts, 0);
    screen.text(only.label + ": nothing else pays. " + only.cost + '.', 2);
    return;
  }
  Chart(screen, policy_tree, texts).show(0, 0);
}

}  // namespace faultodds::program

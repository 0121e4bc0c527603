// DOT, Markdown and JSON of flow_chart.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <string_view>
#include <utility>

#include "faultodds/io/dot.hpp"
#include "faultodds/io/json_document.hpp"
#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart.hpp"
#include "faultodds/report/flow_chart_step.hpp"
#include "faultodds/report/text_escaping.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds {
namespace detail {

inline std::string_view flow_dot_shape(StepKind kind) {
  switch (kind) {
    case StepKind::test:
      return "shape=box";
    case StepKind::repair:
      return "shape=box, style=rounded";
    case StepKind::hand_over:
      return "shape=box, peripheries=2";
    case StepKind::ask_again:
      return "shape=box, style=dashed";
    case StepKind::live_with:
    case StepKind::done:
      break;
  }
  return "shape=oval";
}

/// All that is said at a node, one paragraph on each line, cautions before what is done.
inline std::vector<std::string> flow_lines(const FlowStep& step) {
  std::vector<std::string> lines = {step.label};
  for (const std::string& caution : step.cautions) lines.push_back("CAUTION: " + caution);
  if (!step.first.empty()) lines.push_back("First: " + step.first);
  if (!step.procedure.empty()) lines.push_back(step.procedure);
  if (!step.check.empty()) lines.push_back("Then: " + step.check);
  if (!step.likely.empty()) lines.push_back("Likely: " + step.likely);
  if (!step.cost.empty()) lines.push_back(step.cost);
  lines.push_back(step.reached);
  return lines;
}

/// Title, what data they are, and what is expected to be paid.
inline std::vector<std::string> flow_head(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  std::vector<std::string> lines;
  if (texts.invented) lines.push_back(flow_invented());
  if (!texts.safety.empty()) lines.push_back("Safety: " + texts.safety);
  lines.emplace_back("The vehicle maker's service information, local codes and licensed practice come first.");
  lines.push_back(flow_summary(policy_tree, texts));
  lines.insert(lines.end(), texts.notes.begin(), texts.notes.end());
  return lines;
}

/// Writes the steps as a list in a list.
class FlowMarkdown {
 public:
  FlowMarkdown(const PolicyTree& policy_tree, const FlowChartTexts& texts) : policy_tree_(policy_tree), texts_(texts) {}

  [[nodiscard]] std::string list() {
    std::vector<Open> open = {{0, 0, 1, {}}};
    while (!open.empty()) {
      const Open here = open.back();
      open.pop_back();
      write(here);
      const std::vector<PolicyBranch>& branches = policy_tree_.nodes[here.node].branches;
      for (std::size_t b = branches.size(); b-- > 0;) {
        open.push_back({branches[b].node, here.depth + 1, b + 1,
                        flow_outcome(texts_, policy_tree_.nodes[here.node], branches[b])});
      }
    }
    return std::move(text_);
  }

 private:
  struct Open {
    std::size_t node;
    std::size_t depth;
    std::size_t place;  ///< among the branches, from 1
    std::string outcome;
  };

  void write(const Open& here) {
    const FlowStep step = flow_step(policy_tree_, texts_, here.node);
    const std::string indent(4 * here.depth, ' ');
    std::vector<std::string> lines = flow_lines(step);
    text_ += indent + std::to_string(here.place) + ".  ";
    if (!here.outcome.empty()) text_ += "*" + markdown_escaped(here.outcome) + ":* ";
    text_ += "**" + markdown_escaped(lines.front()) + "**\n";
    for (std::size_t i = 1; i < lines.size(); ++i) {
      const bool caution = i <= step.cautions.size();
      const std::string mark = caution ? "**" : "";
      text_ += indent + "    - " + mark + markdown_escaped(lines[i]) + mark + '\n';
    }
  }

  const PolicyTree& policy_tree_;
  const FlowChartTexts& texts_;
  std::string text_;
};

inline Json flow_node_json(const PolicyTree& policy_tree, const FlowChartTexts& texts, std::size_t index) {
  const PolicyNode& node = policy_tree.nodes[index];
  const FlowStep step = flow_step(policy_tree, texts, index);
  const auto clean = [](const std::vector<std::string>& list) {
    Json array = Json::array();
    for (const std::string& text : list) array.push_back(clean_text(text));
    return array;
  };
  Json json = {{"node", index},
               {"kind", flow_kind(node.step.kind)},
               {"label", clean_text(step.label)},
               {"cautions", clean(step.cautions)}};
  Json first = Json::array();
  for (const std::size_t set_up : node.set_ups) first.push_back(clean_text(texts.set_ups[set_up].label));
  json["first"] = std::move(first);
  json["procedure"] = clean_text(step.procedure);
  if (!step.check.empty()) json["check"] = clean_text(step.check);
  json["step_cost"] = node.step_cost;
  json["expected_cost"] = node.expected_cost;
  json["lower_bound"] = node.lower_bound;
  json["probability"] = node.probability;
  json["probability_cured"] = node.probability_cured;
  Json leading = Json::array();
  for (const LeadingHypothesis& likely : node.leading) {
    leading.push_back(
        {{"hypothesis", clean_text(texts.hypotheses[likely.hypothesis])}, {"probability", likely.probability}});
  }
  json["leading"] = std::move(leading);
  Json branches = Json::array();
  for (const PolicyBranch& branch : node.branches) {
    const std::string outcome = node.step.kind == StepKind::test ? texts.tests[node.step.index].outcomes[branch.outcome]
                                : branch.outcome == 0            ? "cured"
                                                                 : "still there";
    branches.push_back({{"outcome", clean_text(outcome)}, {"probability", branch.probability}, {"node", branch.node}});
  }
  json["branches"] = std::move(branches);
  return json;
}

}  // namespace detail

inline std::string write_flow_chart_dot(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  detail::check_flow_texts(policy_tree, texts);
  constexpr std::size_t width = 32;
  std::string head = texts.title;
  for (const std::string& line : detail::flow_head(policy_tree, texts)) {
    head += (head.empty() ? "" : "\n") + detail::dot_lines(line, 3 * width);
  }
  std::string text = "digraph policy_tree {\n  fontname=\"Helvetica\";\n  labelloc=t;\n";
  text += "  node [fontname=\"Helvetica\", fontsize=10, color=black];\n";
  text += "  edge [fontname=\"Helvetica\", fontsize=10, color=black, arrowsize=0.6];\n";
  text += "  label=" + detail::dot_string(clean_text(head)) + ";\n";
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    std::string label;
    for (const std::string& line : detail::flow_lines(detail::flow_step(policy_tree, texts, i))) {
      label += (label.empty() ? "" : "\n") + detail::dot_lines(line, width);
    }
    text += "  n" + std::to_string(i) + " [label=" + detail::dot_string(clean_text(label)) + ", ";
    text.append(detail::flow_dot_shape(policy_tree.nodes[i].step.kind)).append("];\n");
  }
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    for (const PolicyBranch& branch : policy_tree.nodes[i].branches) {
      const std::string outcome = detail::flow_outcome(texts, policy_tree.nodes[i], branch);
      text += "  n" + std::to_string(i) + " -> n" + std::to_string(branch.node);
      text += " [label=" + detail::dot_string(clean_text(detail::dot_lines(outcome, width))) + "];\n";
    }
  }
  return text += "}\n";
}

inline std::string write_flow_chart_markdown(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  detail::check_flow_texts(policy_tree, texts);
  std::string text = "# " + detail::markdown_escaped(texts.title.empty() ? "Flow chart" : texts.title) + "\n\n";
  for (const std::string& line : detail::flow_head(policy_tree, texts)) text += detail::markdown_escaped(line) + "\n\n";
  const std::vector<bool> in_use = detail::cautions_in_use(policy_tree, texts);
  std::string cautions;
  for (std::size_t c = 0; c < in_use.size(); ++c) {
    if (!in_use[c]) continue;
    cautions += "- **" + detail::markdown_escaped(texts.cautions[c].label) + "** " +
                detail::markdown_escaped(texts.cautions[c].text) + '\n';
  }
  if (!cautions.empty()) text += "## Cautions\n\n" + cautions + '\n';
  return text + "## Steps\n\n" + detail::FlowMarkdown(policy_tree, texts).list();
}

inline std::string write_flow_chart_json(const PolicyTree& policy_tree, const FlowChartTexts& texts) {
  detail::check_flow_texts(policy_tree, texts);
  Json json = {{"title", clean_text(texts.title)},
               {"invented_data", texts.invented},
               {"safety", clean_text(texts.safety)},
               {"currency", clean_text(texts.currency)},
               {"expected_cost", policy_tree.expected_cost()},
               {"lower_bound", policy_tree.nodes.front().lower_bound}};
  Json notes = Json::array();
  for (const std::string& note : texts.notes) notes.push_back(clean_text(note));
  json["notes"] = std::move(notes);
  Json cautions = Json::array();
  for (const FlowCaution& caution : texts.cautions) {
    cautions.push_back({{"label", clean_text(caution.label)}, {"text", clean_text(caution.text)}});
  }
  json["cautions"] = std::move(cautions);
  Json nodes = Json::array();
  for (std::size_t i = 0; i < policy_tree.nodes.size(); ++i) {
    nodes.push_back(detail::flow_node_json(policy_tree, texts, i));
  }
  json["nodes"] = std::move(nodes);
  return laid_out(json);
}

}  // namespace faultodds

// Bodies of dot.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "faultodds/io/dot.hpp"

namespace faultodds {
namespace detail {

inline std::string dot_string(std::string_view text) {
  std::string made = "\"";
  for (const char c : text) {
    if (c == '\n') {
      made += "\\n";
    } else if (static_cast<unsigned char>(c) >= 0x20U) {
      if (c == '"' || c == '\\') made += '\\';
      made += c;
    }
  }
  return made += '"';
}

inline std::string dot_lines(std::string_view text, std::size_t width) {
  std::string made;
  std::size_t length = 0;
  for (const char c : text) {
    const bool may_break = c == ' ' || c == '_';
    if (may_break && length >= width) {
      if (c == '_') made += c;
      made += '\n';
      length = 0;
      continue;
    }
    made += c;
    ++length;
  }
  return made;
}

[[nodiscard]] inline std::string_view dot_shape(const Variable& variable) {
  switch (variable.role()) {
    case Role::context:
      return "shape=tab";
    case Role::component:
      return is_remainder(variable) ? "shape=box, style=dashed" : "shape=box";
    case Role::hidden:
      return "shape=ellipse, style=dashed";
    case Role::symptom:
      return variable.symptom().complaint ? "shape=hexagon, peripheries=2" : "shape=hexagon";
    case Role::test:
      return "shape=house";
    case Role::unclassified:
      break;
  }
  return "shape=ellipse";
}

/// Empty for what belongs to none.
[[nodiscard]] inline std::string_view system_of(const Variable& variable) {
  const auto* component = std::get_if<Component>(&variable.what);
  return component != nullptr ? std::string_view(component->system) : std::string_view();
}

inline void append_dot_node(std::string& text, const FaultModel& model, std::size_t v, std::string_view indent) {
  const Variable& variable = model.variable(v);
  std::string label = dot_lines(shown(variable), 18);
  const auto* symptom = std::get_if<Symptom>(&variable.what);
  if (symptom != nullptr && !symptom->code.empty()) label = symptom->code + '\n' + label;
  text.append(indent).append("v").append(std::to_string(v)).append(" [label=").append(dot_string(label)).append(", ");
  text.append(dot_shape(variable)).append("];\n");
}

/// The parents of a variable that only open or shut the causes of others.
[[nodiscard]] inline std::vector<VariableIndex> only_conditions(const FaultModel& model, std::size_t v) {
  const auto* noisy = std::get_if<NoisyMax>(&model.variable(v).distribution);
  if (noisy == nullptr) return {};
  std::vector<VariableIndex> conditions = model.parents(v);
  for (const Link& link : noisy->links) std::erase(conditions, link.cause);
  return conditions;
}

inline void append_dot_arrows(std::string& text, const FaultModel& model) {
  for (std::size_t v = 0; v < model.size(); ++v) {
    const std::vector<VariableIndex> conditions = only_conditions(model, v);
    for (const VariableIndex parent : model.parents(v)) {
      const bool dashed = std::find(conditions.begin(), conditions.end(), parent) != conditions.end();
      text.append("  v").append(std::to_string(parent)).append(" -> v").append(std::to_string(v));
      text.append(dashed ? " [style=dashed];\n" : ";\n");
    }
  }
  const std::vector<Potential>& potentials = model.parts().potentials;
  for (std::size_t f = 0; f < potentials.size(); ++f) {
    const std::string node = 'f' + std::to_string(f);
    text.append("  ").append(node).append(" [shape=point];\n");
    for (const std::size_t v : potentials[f].scope) {
      text.append("  v").append(std::to_string(v)).append(" -> ").append(node).append(" [dir=none];\n");
    }
  }
}

}  // namespace detail

inline std::string write_dot(const FaultModel& model) {
  const Header& header = model.header();
  const std::string name = header.title.empty() ? header.name : header.title;
  std::string text = "digraph " + detail::dot_string(header.name) + " {\n  rankdir=LR;\n  fontname=\"Helvetica\";\n";
  text += "  node [fontname=\"Helvetica\", fontsize=10, color=black];\n  edge [color=black, arrowsize=0.6];\n";
  if (!name.empty()) {
    text.append("  label=").append(detail::dot_string(header.invented ? name + "\nInvented data" : name)).append(";\n");
  }

  std::vector<std::string_view> systems;
  for (const Variable& variable : model.variables()) {
    const std::string_view system = detail::system_of(variable);
    const bool known = std::find(systems.begin(), systems.end(), system) != systems.end();
    if (!system.empty() && !known) systems.push_back(system);
  }
  for (std::size_t s = 0; s < systems.size(); ++s) {
    text.append("  subgraph cluster_").append(std::to_string(s)).append(" {\n    label=");
    text.append(detail::dot_string(systems[s])).append(";\n    style=dotted;\n");
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (detail::system_of(model.variable(v)) == systems[s]) detail::append_dot_node(text, model, v, "    ");
    }
    text += "  }\n";
  }
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (detail::system_of(model.variable(v)).empty()) detail::append_dot_node(text, model, v, "  ");
  }
  detail::append_dot_arrows(text, model);
  return text += "}\n";
}

}  // namespace faultodds

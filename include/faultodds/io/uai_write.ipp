// Writing UAI models, names and evidence. Part of uai.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <variant>
#include <vector>

#include "faultodds/io/text_file.hpp"
#include "faultodds/io/text_places.hpp"
#include "faultodds/io/uai.hpp"

namespace faultodds {
namespace detail {

inline void append_uai_scope(std::string& text, const std::vector<VariableIndex>& scope) {
  text += std::to_string(scope.size());
  for (const VariableIndex variable : scope) text.append(" ").append(std::to_string(variable));
  text += '\n';
}

inline void append_uai_values(std::string& text, const std::vector<double>& values, std::size_t columns) {
  text.append("\n").append(std::to_string(values.size())).append("\n");
  for (std::size_t i = 0; i < values.size(); ++i) {
    append_number(text, values[i]);
    text += (i + 1) % columns == 0 || i + 1 == values.size() ? '\n' : ' ';
  }
}

}  // namespace detail

inline std::string write_uai(const FaultModel& model) {
  const std::vector<Potential>& potentials = model.parts().potentials;
  std::vector<std::size_t> with_table;
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (!std::holds_alternative<Unweighted>(model.variable(v).distribution)) with_table.push_back(v);
  }
  const bool bayes = potentials.empty() && with_table.size() == model.size();
  std::string text = (bayes ? "BAYES\n" : "MARKOV\n") + std::to_string(model.size()) + '\n';
  for (std::size_t v = 0; v < model.size(); ++v)
    text.append(v == 0 ? "" : " ").append(std::to_string(model.state_count(v)));
  text.append("\n").append(std::to_string(with_table.size() + potentials.size())).append("\n");

  std::string tables;
  for (const std::size_t v : with_table) {
    const FullTable table = written_out(model, v);
    std::vector<VariableIndex> scope = table.parents;
    scope.push_back(v);
    detail::append_uai_scope(text, scope);
    detail::append_uai_values(tables, table.rows.values(), table.rows.columns());
  }
  for (const Potential& potential : potentials) {
    detail::append_uai_scope(text, {potential.scope.begin(), potential.scope.end()});
    detail::append_uai_values(tables, potential.values,
                              potential.scope.empty() ? 1 : model.state_count(potential.scope.back()));
  }
  return text += tables;
}

inline std::string uai_names(const FaultModel& model) {
  std::string text = "[";
  for (const Variable& variable : model.variables()) {
    nlohmann::ordered_json entry = {{"name", checked_utf8(variable.name)}, {"states", nlohmann::ordered_json::array()}};
    for (const State& state : variable.states) entry["states"].push_back(checked_utf8(state.name));
    text.append(text.size() == 1 ? "\n  " : ",\n  ").append(entry.dump());
  }
  return text += "\n]\n";
}

inline std::string write_uai_evidence(const std::vector<UaiFinding>& findings) {
  std::string text = std::to_string(findings.size());
  for (const auto& [variable, state] : findings)
    text.append(" ").append(std::to_string(variable)).append(" ").append(std::to_string(state));
  return text += '\n';
}

}  // namespace faultodds

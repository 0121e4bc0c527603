// Writing BIF. Part of bif.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "faultodds/io/bif.hpp"
#include "faultodds/io/network_tables.hpp"
#include "faultodds/model/table_row.hpp"

namespace faultodds {
namespace detail {

[[nodiscard]] inline std::string bif_string(std::string_view text) {
  static constexpr std::string_view digits = "0123456789ABCDEF";
  std::string made = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20U || byte == 0x7FU) {
      made.append("\\x").append(1, digits[byte >> 4U]).append(1, digits[byte & 15U]);
    } else {
      if (c == '"' || c == '\\') made += '\\';
      made += c;
    }
  }
  return made += '"';
}

/// A name as it is if every reader takes it for one word, otherwise in quotes.
[[nodiscard]] inline std::string bif_name(const std::string& name) {
  static constexpr std::array<std::string_view, 8> keywords = {"network", "variable", "probability", "property",
                                                               "type",    "discrete", "table",       "default"};
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
  };
  const bool word = !name.empty() && std::all_of(name.begin(), name.end(), plain) &&
                    std::find(keywords.begin(), keywords.end(), name) == keywords.end();
  return word ? name : bif_string(name);
}

inline void append_bif_row(std::string& text, std::span<const double> row) {
  for (std::size_t s = 0; s < row.size(); ++s) {
    if (s > 0) text += ", ";
    append_number(text, row[s]);
  }
  text += ";\n";
}

inline void append_bif_table(std::string& text, const FaultModel& model, std::size_t child,
                             const std::vector<std::vector<std::string>>& states) {
  const FullTable table = written_out(model, child);
  text.append("probability ( ").append(bif_name(model.variable(child).name));
  for (std::size_t i = 0; i < table.parents.size(); ++i) {
    text.append(i == 0 ? " | " : ", ").append(bif_name(model.variable(table.parents[i]).name));
  }
  text += " ) {\n";
  std::vector<std::size_t> sizes;
  for (const std::size_t parent : table.parents) sizes.push_back(states[parent].size());
  std::vector<StateIndex> configuration(sizes.size(), 0);
  for (std::size_t r = 0; r < table.rows.rows(); ++r) {
    text += sizes.empty() ? "  table " : "  (";
    for (std::size_t i = 0; i < sizes.size(); ++i) {
      text.append(i == 0 ? "" : ", ").append(states[table.parents[i]][configuration[i]]);
    }
    if (!sizes.empty()) text += ") ";
    append_bif_row(text, table.rows.row(r));
    next_configuration(configuration, sizes);
  }
  text += "}\n";
}

}  // namespace detail

inline std::string write_bif(const FaultModel& model) {
  detail::refuse_potentials(model, "BIF");
  std::string text = "network " + detail::bif_name(model.header().name) + " {\n";
  std::string_view rest = model.header().description;
  while (!rest.empty() || !model.header().description.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    text.append("  property ").append(detail::bif_string(rest.substr(0, end))).append(";\n");
    if (end == rest.size()) break;
    rest.remove_prefix(end + 1);
  }
  text += "}\n";

  std::vector<std::vector<std::string>> states(model.size());
  for (std::size_t v = 0; v < model.size(); ++v) {
    const Variable& variable = model.variable(v);
    text.append("variable ").append(detail::bif_name(variable.name)).append(" {\n  type discrete [ ");
    text.append(std::to_string(variable.states.size())).append(" ] { ");
    for (std::size_t s = 0; s < variable.states.size(); ++s) {
      states[v].push_back(detail::bif_name(variable.states[s].name));
      text.append(s == 0 ? "" : ", ").append(states[v].back());
    }
    text += " };\n";
    for (const std::string& property : variable.properties) {
      text.append("  property ").append(detail::bif_string(property)).append(";\n");
    }
    text += "}\n";
  }
  for (std::size_t v = 0; v < model.size(); ++v) detail::append_bif_table(text, model, v, states);
  return text;
}

}  // namespace faultodds

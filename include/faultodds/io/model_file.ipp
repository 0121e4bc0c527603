// Bodies of model_file.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cctype>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/io/bif.hpp"
#include "faultodds/io/dot.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/model_json.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/uai.hpp"
#include "faultodds/io/xmlbif.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds {
namespace detail {

[[nodiscard]] inline std::string lower_extension(const std::filesystem::path& path) {
  std::string extension = path.extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(),
                 [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  return extension;
}

[[nodiscard]] inline std::string text_of(const FaultModel& model, ModelFormat format) {
  switch (format) {
    case ModelFormat::json:
      return write_model_json(model);
    case ModelFormat::bif:
      return write_bif(model);
    case ModelFormat::xmlbif:
      return write_xmlbif(model);
    case ModelFormat::uai:
      return write_uai(model);
    case ModelFormat::dot:
      break;
  }
  return write_dot(model);
}

/// Facts about variables, other than their states and tables, that plain networks have no place for.
[[nodiscard]] inline bool has_trade_facts(const Variable& variable) {
  Variable plain;
  plain.name = variable.name;
  plain.states = variable.states;
  plain.distribution = variable.distribution;
  plain.properties = variable.properties;
  return !(plain == variable);
}

[[nodiscard]] inline bool has_state_labels(const Variable& variable) {
  return std::any_of(variable.states.begin(), variable.states.end(),
                     [](const State& state) { return !state.label.empty(); });
}

[[nodiscard]] inline bool has_compact_table(const Variable& variable) {
  return !std::holds_alternative<FullTable>(variable.distribution) &&
         !std::holds_alternative<Unweighted>(variable.distribution);
}

}  // namespace detail

inline ModelFormat format_of(const std::filesystem::path& path) {
  std::string extension = detail::lower_extension(path);
  if (extension == ".gz") extension = detail::lower_extension(path.stem());
  if (extension == ".json") return ModelFormat::json;
  if (extension == ".bif") return ModelFormat::bif;
  if (extension == ".xml" || extension == ".xmlbif") return ModelFormat::xmlbif;
  if (extension == ".uai") return ModelFormat::uai;
  if (extension == ".dot") return ModelFormat::dot;
  throw ArgumentError("path", '"' + path.string() + "\" has the extension \"" + extension + '"',
                      "known are .json, .bif, .xml, .xmlbif, .uai and .dot, each also with .gz behind it");
}

inline FaultModel read_model(const std::filesystem::path& path, RowScaling policy) {
  const ModelFormat format = format_of(path);
  if (format == ModelFormat::dot) {
    throw ArgumentError("path", '"' + path.string() + "\" is a picture",
                        "a model is read from .json, .bif, .xml, .xmlbif or .uai");
  }
  const std::string text = read_text_file(path);
  const std::string file = path.string();
  if (format == ModelFormat::bif) return read_bif(text, file, policy);
  if (format == ModelFormat::xmlbif) return read_xmlbif(text, file, policy);
  if (format == ModelFormat::uai) return read_uai(text, file, policy);
  return read_model_json(text, file, policy);
}

inline std::filesystem::path uai_names_path(const std::filesystem::path& path) {
  std::filesystem::path names = path;
  if (detail::lower_extension(names) == ".gz") names.replace_extension();
  names += ".names.json";
  return names;
}

inline std::vector<std::string> write_model(const FaultModel& model, const std::filesystem::path& path) {
  const ModelFormat format = format_of(path);
  write_text_file(path, detail::text_of(model, format));
  std::vector<std::string> notes = lost_in(model, format);
  if (format != ModelFormat::uai) return notes;
  const std::filesystem::path names = uai_names_path(path);
  write_text_file(names, uai_names(model));
  notes.insert(notes.begin(), "The names of variables and states are in " + names.string() + '.');
  return notes;
}

inline std::vector<std::string> lost_in(const FaultModel& model, ModelFormat format) {
  std::vector<std::string> notes;
  if (format == ModelFormat::json) return notes;
  const std::vector<Variable>& variables = model.variables();
  const auto count = [&](const auto& holds) {
    return static_cast<std::size_t>(std::count_if(variables.begin(), variables.end(), holds));
  };
  const auto note = [&](std::size_t number, const std::string& text) {
    if (number > 0) notes.push_back(detail::counted(number, "variable") + text);
  };
  if (format == ModelFormat::dot) {
    notes.emplace_back("A picture shows the variables and their arrows only, no numbers; it cannot be read back.");
    return notes;
  }
  note(count(detail::has_trade_facts), ": roles, labels, costs, procedures and sources are left out.");
  note(count(detail::has_state_labels), ": the labels of states are left out.");
  note(count(detail::has_compact_table),
       ": noisy-OR, noisy-MAX, counts and examinations are written out as full tables.");

  const ModelParts& parts = model.parts();
  Header plain;
  if (format != ModelFormat::uai) {
    plain.name = parts.header.name;
    plain.description = parts.header.description;
  }
  if (!(plain == parts.header))
    notes.emplace_back("Facts about the model as a whole (title, authors, safety, currency and so on) are left out.");
  if (!parts.repairs.empty()) notes.push_back(detail::counted(parts.repairs.size(), "repair") + ": left out.");
  if (!parts.access.empty() || !parts.tools.empty() || !parts.skills.empty() || !parts.cautions.empty()) {
    notes.emplace_back("The lists of access, tools, skills and cautions are left out.");
  }
  if (format == ModelFormat::uai)
    note(count([](const Variable& variable) { return !variable.properties.empty(); }), ": properties are left out.");
  return notes;
}

}  // namespace faultodds

// SPDX-License-Identifier: BSD-3-Clause
#include "evidence_file.hpp"

#include <algorithm>
#include <filesystem>
#include <utility>

#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/io/json_document.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/uai.hpp"
#include "faultodds/model/names.hpp"
#include "findings.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

constexpr const char* form =
    R"(write {"NAME": "STATE"}, {"NAME": ["STATE", "STATE"]} for one of these, or {"NAME": [weights]})";

/// The extension in lower case, that of the packed file for a .gz.
std::string extension_of(std::filesystem::path path) {
  if (lower_case(path.extension().string()) == ".gz") path = path.stem();
  return lower_case(path.extension().string());
}

Json parse(const std::string& text, const std::string& file) {
  std::vector<Problem> problems;
  Json json = parse_json(text, file, problems);
  if (!json.is_object())
    problems.push_back({.place = "", .found = std::string("a JSON ") + json.type_name() + " is here", .remedy = form});
  if (!problems.empty()) throw ModelError(std::move(problems), file);
  return json;
}

Finding finding_from(const FaultModel& model, const std::string& name, const Json& value, const std::string& file) {
  const std::size_t variable = model.index_of(name);
  if (value.is_string())
    return detail::hard_finding(model, variable, model.state_of(variable, value.get<std::string>()));
  const auto all_are = [&value](auto check) {
    return value.is_array() && !value.empty() && std::all_of(value.begin(), value.end(), check);
  };
  if (all_are([](const Json& item) { return item.is_string(); })) {
    Finding finding{
        .variable = variable, .weights = std::vector<double>(model.state_count(variable), 0.0), .state = std::nullopt};
    for (const Json& state : value) finding.weights[model.state_of(variable, state.get<std::string>())] = 1.0;
    return finding;
  }
  if (all_are([](const Json& item) { return item.is_number(); })) {
    return {.variable = variable, .weights = value.get<std::vector<double>>(), .state = std::nullopt};
  }
  throw ModelError({{.place = name, .found = value.dump() + " is no finding", .remedy = form}}, file);
}

}  // namespace

std::vector<Finding> findings_from_json(const FaultModel& model, const std::string& text, const std::string& file) {
  std::vector<Finding> findings;
  const Json document = parse(text, file);
  for (const auto& [name, value] : document.items()) findings.push_back(finding_from(model, name, value, file));
  return findings;
}

std::vector<Finding> read_evidence_file(const FaultModel& model, const std::string& model_file,
                                        const std::string& evidence_file) {
  std::vector<Finding> findings;
  const std::string text = read_text_file(evidence_file);
  const std::string extension = extension_of(evidence_file);
  const bool is_uai =
      extension == ".evid" || extension == ".uai" || (extension_of(model_file) == ".uai" && extension != ".json");
  if (is_uai) {
    for (const auto& [variable, state] : read_uai_evidence(text, model, evidence_file)) {
      findings.push_back(detail::hard_finding(model, variable, state));
    }
    return findings;
  }
  return findings_from_json(model, text, evidence_file);
}

}  // namespace faultodds::program

// SPDX-License-Identifier: BSD-3-Clause
#include "report.hpp"

#include <iostream>
#include <new>

#include "faultodds/model/errors.hpp"
#include "interrupt.hpp"
#include "program.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

Json problems_json(const ModelError& error) {
  Json problems = Json::array();
  for (const Problem& problem : error.problems()) {
    problems.push_back({{"place", problem.place}, {"found", problem.found}, {"remedy", problem.remedy}});
  }
  return problems;
}

Json clash_json(const ImpossibleFindings& error) {
  Json findings = Json::array();
  for (const ClashingFinding& finding : error.findings()) {
    Json weights = Json::object();
    for (const auto& [state, weight] : finding.weights) weights[state] = weight;
    findings.push_back({{"variable", finding.name},
                        {"state", finding.state.empty() ? Json() : Json(finding.state)},
                        {"weights", std::move(weights)}});
  }
  return findings;
}

}  // namespace

void add_format(CLI::App& command, Format& format) {
  command
      .add_option_function<std::string>(
          "--format", [&format](const std::string& name) { format = name == "json" ? Format::json : Format::text; },
          "text for people or json for programs (default: text)")
      ->check(CLI::IsMember({"text", "json"}))
      ->type_name("text|json")
      ->option_text("text|json")
      ->trigger_on_parse();
}

Json error_json(const std::exception& error) {
  Json json = {{"kind", "error"}, {"message", error.what()}};
  if (const auto* ours = dynamic_cast<const Error*>(&error)) json["code"] = name_of(ours->code());
  if (const auto* model = dynamic_cast<const ModelError*>(&error)) {
    json["kind"] = "model";
    json["file"] = model->file();
    json["problems"] = problems_json(*model);
  } else if (const auto* unknown = dynamic_cast<const UnknownName*>(&error)) {
    json["kind"] = "unknown_name";
    json["looked_for"] = unknown->kind();
    json["name"] = unknown->name();
    json["owner"] = unknown->owner();
    json["nearest"] = unknown->nearest();
  } else if (const auto* impossible = dynamic_cast<const ImpossibleFindings*>(&error)) {
    json["kind"] = "impossible_findings";
    json["clash"] = impossible->clash();
    json["findings"] = clash_json(*impossible);
  } else if (const auto* argument = dynamic_cast<const ArgumentError*>(&error)) {
    json["kind"] = "argument";
    json["argument"] = argument->argument();
    json["found"] = argument->found();
    json["remedy"] = argument->remedy();
  } else if (const auto* large = dynamic_cast<const TooLarge*>(&error)) {
    json["kind"] = "too_large";
    json["bytes"] = large->bytes();
    json["limit_bytes"] = large->limit_bytes();
  } else if (dynamic_cast<const Stopped*>(&error) != nullptr) {
    json["kind"] = "stopped";
  } else if (dynamic_cast<const std::bad_alloc*>(&error) != nullptr) {
    json["kind"] = "memory";
    json["message"] = "there is not enough memory for this; close other programs, or use a smaller model";
  }
  return json;
}

void print(const Json& json) { std::cout << json.dump(2, ' ', false, Json::error_handler_t::replace) << '\n'; }

int report(const std::exception& error, Format format) {
  const Json json = error_json(error);
  std::cout.flush();
  std::cerr << "faultodds: " << printable(json.at("message").get_ref<const std::string&>()) << '\n';
  if (format == Format::json) print({{"error", json}});
  const bool by_ctrl_c = Interruptible::pressed() && dynamic_cast<const Stopped*>(&error) != nullptr;
  return by_ctrl_c ? interrupted : at_fault;
}

int guarded(Format format, const std::function<int()>& work) {
  try {
    return work();
  } catch (const CLI::Error&) {
    throw;
  } catch (const std::exception& error) {
    return report(error, format);
  }
}

}  // namespace faultodds::program

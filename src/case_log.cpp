// SPDX-License-Identifier: BSD-3-Clause
#include "case_log.hpp"

#include <algorithm>
#include <utility>

#include "faultodds/io/json_document.hpp"
#include "findings.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

constexpr const char* format_name = "faultodds-case";
constexpr int format_version = 1;

Json finding_json(const FaultModel& model, const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  Json json = {{"variable", variable.name}};
  if (finding.state) {
    json["state"] = variable.states.at(*finding.state).name;
  } else {
    json["weights"] = finding.weights;
  }
  return json;
}

Json step_json(const FaultModel& model, const Step& step) {
  if (step.repair) {
    Json json = {{"repaired", model.parts().repairs.at(*step.repair).name}};
    if (step.finding) json["check"] = model.variable(step.variable).states.at(*step.finding->state).name;
    return json;
  }
  if (step.hand_over) return {{"handed_over", model.parts().hand_overs.at(*step.hand_over).name}};
  if (step.finding) {
    Json json = finding_json(model, *step.finding);
    if (!step.reading.empty()) json["reading"] = step.reading;
    return json;
  }
  Json json = {{"variable", model.variable(step.variable).name}};
  if (step.revealed.empty()) {
    json["declined"] = step.reason;
    return json;
  }
  for (const Finding& finding : step.revealed) json["revealed"].push_back(finding_json(model, finding));
  return json;
}

[[noreturn]] void refuse(const std::string& file, const std::string& place, const std::string& found,
                         const std::string& remedy) {
  throw ModelError({{place, found, remedy}}, file);
}

/// The text of a member, or an error that says where it is missing.
std::string text_member(const Json& object, const std::string& key, const std::string& place, const std::string& file) {
  if (!object.is_object() || !object.contains(key) || !object.at(key).is_string()) {
    refuse(file, json_path(place, key), "no text stands here", "a case file has one; it may be damaged");
  }
  return object.at(key).get<std::string>();
}

void check_model(const FaultModel& model, const Json& document, const std::string& file, bool other_version) {
  const Json& made_with = document.contains("model") ? document.at("model") : Json();
  const std::string name = text_member(made_with, "name", "model", file);
  const std::string version = text_member(made_with, "version", "model", file);
  const Header& header = model.header();
  if (name != header.name) {
    refuse(file, "model.name", "the case was made with the model \"" + name + "\", this is \"" + header.name + '"',
           "give the model it was made with, or start a new case with another file for --save");
  }
  if (version != header.version && !other_version) {
    refuse(file, "model.version",
           "the case was made with version " + version + " of the model, this is version " + header.version,
           "give that version, or add --other-version to take its answers over, or start a new case with another file "
           "for --save");
  }
}

bool has_format_of_cases(const Json& document) {
  return document.is_object() && document.contains("format") && document.at("format") == format_name;
}

Finding read_finding(const FaultModel& model, const Json& step, const std::string& place, const std::string& file) {
  const std::size_t variable = model.index_of(text_member(step, "variable", place, file));
  if (step.contains("weights")) {
    const Json& weights = step.at("weights");
    const bool numbers =
        weights.is_array() && std::all_of(weights.begin(), weights.end(), [](const Json& w) { return w.is_number(); });
    if (!numbers)
      refuse(file, json_path(place, "weights"), weights.dump() + " stands here", "a list of numbers would be right");
    return {variable, weights.get<std::vector<double>>(), std::nullopt};
  }
  return hard_finding(model, variable, model.state_of(variable, text_member(step, "state", place, file)));
}

void read_repair(CaseLog& log, const Json& step, const std::string& place, const std::string& file) {
  const std::vector<Repair>& repairs = log.model().parts().repairs;
  const std::string name = text_member(step, "repaired", place, file);
  const auto repair = std::find_if(repairs.begin(), repairs.end(), [&](const Repair& one) { return one.name == name; });
  if (repair == repairs.end()) {
    refuse(file, json_path(place, "repaired"), "the model has no repair \"" + name + '"', "name one of its repairs");
  }
  std::optional<std::size_t> check;
  if (step.contains("check")) {
    const std::string said = text_member(step, "check", place, file);
    if (said != "cured" && said != "still_there")
      refuse(file, json_path(place, "check"), '"' + said + "\" stands here", "cured or still_there would be right");
    check = said == "cured" ? 0U : 1U;
  }
  log.record_repair(static_cast<std::size_t>(repair - repairs.begin()), check);
}

void read_hand_over(CaseLog& log, const Json& step, const std::string& place, const std::string& file) {
  const std::vector<HandOver>& all = log.model().parts().hand_overs;
  const std::string name = text_member(step, "handed_over", place, file);
  const auto found = std::find_if(all.begin(), all.end(), [&](const HandOver& one) { return one.name == name; });
  if (found == all.end()) {
    refuse(file, json_path(place, "handed_over"), "the model has no hand-over \"" + name + '"', "name one of its own");
  }
  log.record_hand_over(static_cast<std::size_t>(found - all.begin()));
}

void read_step(CaseLog& log, const Json& step, const std::string& place, const std::string& file) {
  if (step.is_object() && step.contains("repaired")) return read_repair(log, step, place, file);
  if (step.is_object() && step.contains("handed_over")) return read_hand_over(log, step, place, file);
  const FaultModel& model = log.model();
  const std::size_t variable = model.index_of(text_member(step, "variable", place, file));
  if (step.contains("declined")) {
    log.decline(variable, text_member(step, "declined", place, file));
  } else if (step.contains("revealed")) {
    const Json& list = step.at("revealed");
    const std::string list_place = json_path(place, "revealed");
    if (!list.is_array() || list.empty())
      refuse(file, list_place, list.dump() + " stands here", "a list of findings would be right");
    std::vector<Finding> findings;
    for (std::size_t i = 0; i < list.size(); ++i)
      findings.push_back(read_finding(model, list[i], json_path(list_place, i), file));
    log.record_revealed(variable, std::move(findings));
  } else {
    log.record(read_finding(model, step, place, file),
               step.contains("reading") ? text_member(step, "reading", place, file) : std::string());
  }
}

}  // namespace

std::vector<std::size_t> CaseLog::declined() const {
  std::vector<std::size_t> variables;
  for (const Step& step : steps_) {
    if (step.hand_over) continue;
    const auto known = std::find(variables.begin(), variables.end(), step.variable);
    if (step.is_declined() && known == variables.end()) variables.push_back(step.variable);
    if (!step.is_declined() && known != variables.end()) variables.erase(known);
  }
  return variables;
}

void CaseLog::record(const Finding& finding, std::string reading) {
  const Finding* known = books_.current.finding_of(finding.variable);
  Step step{finding.variable,   finding, {},
            std::move(reading), {},      known == nullptr ? std::nullopt : std::optional(*known)};
  steps_.reserve(steps_.size() + 1);
  books_.current.change(finding);
  steps_.push_back(std::move(step));
}

void CaseLog::record_revealed(std::size_t test, std::vector<Finding> findings) {
  steps_.reserve(steps_.size() + 1);
  books_.current.add(findings);
  steps_.push_back({test, std::nullopt, std::move(findings), {}, {}, std::nullopt});
}

void CaseLog::decline(std::size_t variable, std::string reason) {
  steps_.push_back({variable, std::nullopt, {}, {}, std::move(reason), std::nullopt});
}

void CaseLog::record_repair(std::size_t repair, std::optional<std::size_t> check) {
  Repaired after = books_.repairs.empty() ? after_repair(books_.current, repair) : after_repair(books_, repair);
  Step step{after.check, std::nullopt, {}, {}, {}, std::nullopt, repair};
  if (check) {
    step.finding = hard_finding(after.current.model(), after.check, *check);
    after.current.add(*step.finding);
  }
  steps_.reserve(steps_.size() + 1);
  before_repairs_.push_back(std::move(books_));
  books_ = std::move(after);
  steps_.push_back(std::move(step));
}

void CaseLog::record_hand_over(std::size_t hand_over) {
  Step step;
  step.hand_over = hand_over;
  steps_.push_back(std::move(step));
}

std::optional<Step> CaseLog::undo() {
  if (steps_.empty()) return std::nullopt;
  const Step& last = steps_.back();
  if (last.repair) {
    books_ = std::move(before_repairs_.back());
    before_repairs_.pop_back();
  } else if (last.finding && last.before) {
    books_.current.change(*last.before);
  } else if (last.finding) {
    books_.current.take_back(last.variable);
  } else if (!last.revealed.empty()) {
    books_.current.take_back_to(books_.current.findings().size() - last.revealed.size());
  }
  Step undone = std::move(steps_.back());
  steps_.pop_back();
  return undone;
}

const std::string& step_label(const FaultModel& model, const Step& step) {
  if (step.hand_over) return label_or_name(model.parts().hand_overs.at(*step.hand_over));
  if (step.repair) return label_or_name(model.parts().repairs.at(*step.repair));
  return shown(model.variable(step.variable));
}

std::string written_case(const CaseLog& log) {
  Json steps = Json::array();
  for (const Step& step : log.steps()) steps.push_back(step_json(log.model(), step));
  const Header& header = log.model().header();
  return laid_out({{"format", format_name},
                   {"format_version", format_version},
                   {"model", {{"name", header.name}, {"version", header.version}}},
                   {"steps", std::move(steps)}});
}

bool is_written_case(std::string_view text) {
  std::vector<Problem> problems;
  return has_format_of_cases(parse_json(text, {}, problems));
}

void read_case(CaseLog& log, std::string_view text, const std::string& file, bool other_version) {
  std::vector<Problem> problems;
  const Json document = parse_json(text, file, problems);
  if (!problems.empty()) throw ModelError(std::move(problems), file);
  const bool right_kind = has_format_of_cases(document) && document.contains("format_version") &&
                          document.at("format_version") == format_version;
  if (!right_kind) {
    refuse(file, "format", "this is no case file of version 1",
           "give a file that the case command saved, or a new name");
  }
  check_model(log.model(), document, file, other_version);
  const Json steps = document.contains("steps") ? document.at("steps") : Json();
  if (!steps.is_array()) refuse(file, "steps", "no list stands here", "the file may be damaged; take an earlier copy");
  for (std::size_t i = 0; i < steps.size(); ++i) read_step(log, steps[i], json_path("steps", i), file);
}

}  // namespace faultodds::program

// write_job: from the job to its document.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>
#include <string>
#include <variant>

#include "faultodds/io/job_json.hpp"
#include "faultodds/io/job_json_names.hpp"
#include "faultodds/io/json_document.hpp"
#include "faultodds/io/model_json.hpp"

namespace faultodds {
namespace detail {

inline std::uint64_t fnv1a(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char letter : text) {
    hash ^= static_cast<unsigned char>(letter);
    hash *= 0x100000001b3U;
  }
  return hash;
}

/// Adds members; what is empty or the default is left out.
class JobOptionsWriter {
 public:
  explicit JobOptionsWriter(const FaultModel& model) : model_(model) {}

  [[nodiscard]] Json written(const JobOptions& options) const {
    Json json = Json::object();
    if (Json means = written(options.means); !means.empty()) json["means"] = std::move(means);
    if (Json ends = written(options.ends); !ends.empty()) json["ends"] = std::move(ends);
    if (Json advice = written(options.advice); !advice.empty()) json["advice"] = std::move(advice);
    add(json, "budget", options.limits.budget);
    add(json, "deadline", options.limits.deadline);
    for (const JobFact& fact : options.about) json["about"].push_back({{"label", fact.label}, {"value", fact.value}});
    return json;
  }

 private:
  template <class Value>
  static void add(Json& json, const char* key, const std::optional<Value>& value) {
    if (value) json[key] = *value;
  }

  static void add(Json& json, const char* key, const std::vector<std::string>& names) {
    if (!names.empty()) json[key] = names;
  }

  [[nodiscard]] static Json written(const Means& means) {
    Json json = Json::object();
    add(json, "tools", means.tools);
    add(json, "skill", means.skill);
    add(json, "open_access", means.open_access);
    add(json, "closed_access", means.closed_access);
    add(json, "conditions", means.conditions);
    add(json, "stated_after", means.stated_after);
    add(json, "max_cost", means.max_cost);
    add(json, "max_minutes", means.max_minutes);
    add(json, "labour_rate", means.labour_rate);
    return json;
  }

  [[nodiscard]] static Json written(const EndCosts& ends) {
    Json json = Json::object();
    add(json, "hand_over", ends.hand_over);
    add(json, "live_with", ends.live_with);
    add(json, "comeback", ends.comeback);
    return json;
  }

  [[nodiscard]] Json written(const AdviceRules& rules) const {
    const AdviceRules usual;
    const RankOptions& ranking = rules.ranking;
    Json json = Json::object();
    const auto add_unless = [&](const char* key, const auto& value, const auto& default_value) {
      if (value != default_value) json[key] = value;
    };
    add(json, "targets", names_of(ranking.targets));
    add(json, "tests", names_of(ranking.tests));
    add_unless("gain", word_of(ranking.gain, gain_words), word_of(usual.ranking.gain, gain_words));
    add_unless("joint_only", ranking.joint_only, usual.ranking.joint_only);
    add_unless("by", word_of(ranking.by, rank_by_words), word_of(usual.ranking.by, rank_by_words));
    add_unless("effects", ranking.effects, usual.ranking.effects);
    add_unless("leading", ranking.leading, usual.ranking.leading);
    add_unless("joint_entries", ranking.joint_entries, usual.ranking.joint_entries);
    add_unless("by_expected_cost", rules.by_expected_cost, usual.by_expected_cost);
    add_unless("min_fault_probability", rules.min_fault_probability, usual.min_fault_probability);
    add_unless("min_gain_bits", rules.min_gain_bits, usual.min_gain_bits);
    add_unless("max_questions", rules.max_questions, usual.max_questions);
    add_unless("explain", rules.explain, usual.explain);
    return json;
  }

  [[nodiscard]] std::vector<std::string> names_of(const std::vector<VariableIndex>& variables) const {
    std::vector<std::string> names;
    for (const VariableIndex variable : variables) names.push_back(model_.variable(variable).name);
    return names;
  }

  const FaultModel& model_;
};

[[nodiscard]] inline Json written_charge(const Charge& charge) {
  Json json = Json::object();
  const auto add = [&](const char* key, double amount) {
    if (amount != 0.0) json[key] = amount;
  };
  add("minutes", charge.minutes);
  add("wait_minutes", charge.wait_minutes);
  add("money", charge.money);
  add("labour", charge.labour);
  if (!charge.opens.empty()) json["opens"] = charge.opens;
  if (!charge.brings.empty()) json["brings"] = charge.brings;
  return json;
}

/// The members of an entry besides its kind and its charge, by kind.
class EntryWriter {
 public:
  explicit EntryWriter(const FaultModel& model) : model_(model) {}

  [[nodiscard]] Json operator()(const FindingEntry& entry) const { return written("variable", entry.finding); }

  [[nodiscard]] Json operator()(const ReadingEntry& entry) const {
    Json json = {{"test", name(entry.test)}, {"text", entry.text}};
    for (const Measured& one : entry.readings) json["readings"].push_back({{"value", one.value}, {"unit", one.unit}});
    if (entry.errors != RepeatedErrors::as_in_model) json["errors"] = word_of(entry.errors, repeated_errors_words);
    return json;
  }

  [[nodiscard]] Json operator()(const RevealedEntry& entry) const {
    Json json = {{"test", name(entry.test)}, {"findings", Json::array()}};
    for (const Finding& finding : entry.findings) json["findings"].push_back(written("variable", finding));
    return json;
  }

  [[nodiscard]] Json operator()(const DeclinedEntry& entry) const {
    return {{"test", name(entry.test)}, {"reason", entry.reason}};
  }

  [[nodiscard]] Json operator()(const RepairEntry& entry) const {
    Json json = {{"repair", model_.parts().repairs.at(entry.repair).name}};
    if (!entry.check) return json;
    Json& check = json["check"] = {{"result", word_of(entry.check->result, check_result_words)}};
    if (Json charge = written_charge(entry.check->charge); !charge.empty()) check["charge"] = std::move(charge);
    return json;
  }

  [[nodiscard]] Json operator()(const PartEntry& entry) const { return written("component", entry.finding); }

  [[nodiscard]] Json operator()(const InPlaceEntry& entry) const {
    return {{"access", entry.seen.access}, {"conditions", entry.seen.conditions}};
  }

  [[nodiscard]] Json operator()(const HandOverEntry& entry) const {
    return {{"to", model_.parts().hand_overs.at(entry.hand_over).name}};
  }

  [[nodiscard]] Json operator()(const EndEntry& entry) const {
    Json json = {{"end", word_of(entry.end, job_end_words)}};
    for (const ConfirmedFault& fault : entry.confirmed) {
      json["confirmed"].push_back({{"component", name(fault.component)},
                                   {"state", model_.variable(fault.component).states.at(fault.state).name},
                                   {"by", word_of(fault.by, confirmed_by_words)}});
    }
    if (!entry.note.empty()) json["note"] = entry.note;
    return json;
  }

 private:
  [[nodiscard]] const std::string& name(VariableIndex variable) const { return model_.variable(variable).name; }

  /// A state, or the weights; both if the weight of the state is not one.
  [[nodiscard]] Json written(const char* key, const Finding& finding) const {
    Json json = {{key, name(finding.variable)}};
    if (finding.state) json["state"] = model_.variable(finding.variable).states.at(*finding.state).name;
    if (!finding.state || finding.weights[*finding.state] != 1.0) json["weights"] = finding.weights;
    return json;
  }

  const FaultModel& model_;
};

[[nodiscard]] inline Json written_entry(const FaultModel& model, const Entry& entry) {
  Json json = {{"kind", kind_of(entry)}};
  json.update(std::visit(EntryWriter(model), entry.what));
  if (Json charge = written_charge(entry.charge); !charge.empty()) json["charge"] = std::move(charge);
  return json;
}

}  // namespace detail

inline std::string content_check(const FaultModel& model) {
  return model.kept_content().get([&] {
    std::uint64_t hash = detail::fnv1a(write_model_json(model));
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text(16, '0');
    for (std::size_t i = text.size(); i-- > 0; hash >>= 4U) text[i] = digits[hash & 15U];
    return text;
  });
}

inline std::string write_job(const Job& job) {
  const FaultModel& model = job.solver().model();
  Json entries = Json::array();
  for (const Entry& entry : job.entries()) entries.push_back(detail::written_entry(job.model(), entry));
  Json document = {
      {"format", detail::job_format},
      {"format_version", detail::job_format_version},
      {"model",
       {{"name", model.header().name}, {"version", model.header().version}, {"content", content_check(model)}}}};
  if (Json options = detail::JobOptionsWriter(model).written(job.options()); !options.empty())
    document["options"] = std::move(options);
  document["entries"] = std::move(entries);
  return laid_out(document);
}

}  // namespace faultodds

// read_job: from a document to the job, entry by entry.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <functional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "faultodds/io/job_json.hpp"
#include "faultodds/io/job_json_names.hpp"
#include "faultodds/io/json_document.hpp"
#include "faultodds/io/json_fields.hpp"

namespace faultodds {
namespace detail {

/// Reads what belongs to a job from its document. Problems are gathered; what is read beside a problem means nothing.
class JobReader {
 public:
  /// `model` is that of the moment: with the repairs written in that come before what is read.
  JobReader(const FaultModel& model, std::vector<Problem>& problems) : model_(model), problems_(problems) {}

  [[nodiscard]] JobOptions options(const JsonAt& at) const {
    JobOptions options;
    if (!at.there()) return options;
    JsonFields fields(at, problems_);
    fields.allow_only({"means", "ends", "advice", "budget", "deadline", "about"});
    if (const JsonAt advice = fields.member("advice"); advice.there()) options.advice = this->advice(advice);
    if (const JsonAt means = fields.member("means"); means.there()) options.means = this->means(means);
    if (const JsonAt ends = fields.member("ends"); ends.there()) options.ends = this->ends(ends);
    options.limits = {fields.number("budget"), fields.number("deadline")};
    for (const JsonAt& element : fields.elements("about")) {
      JsonFields fact(element, problems_);
      fact.allow_only({"label", "value"});
      options.about.push_back({fact.text("label"), fact.text("value")});
    }
    return options;
  }

  [[nodiscard]] Entry entry(const JsonAt& at) const {
    JsonFields fields(at, problems_);
    const JsonAt kind = fields.needed("kind", "what the entry is: finding, reading, repair, ...");
    if (!kind.there()) return {};
    for (const KindReader& known : kind_readers()) {
      if (*kind.value != known.kind) continue;
      std::vector<std::string> members{"kind", "charge"};
      members.insert(members.end(), known.members.begin(), known.members.end());
      fields.allow_only(members);
      return {known.read(*this, fields), charge(fields.member("charge"))};
    }
    std::string list;
    for (const KindReader& known : kind_readers()) list += (list.empty() ? "" : ", ") + known.kind;
    add_problem(problems_, kind.path, "it is " + kind.value->dump(), "the kinds are " + list);
    return {};
  }

 private:
  /// How a kind of entry is read: its members besides kind and charge, and what they make.
  struct KindReader {
    std::string kind;
    std::vector<std::string> members;
    std::function<EntryKind(const JobReader&, const JsonFields&)> read;
  };

  /// By kind, in the order of EntryKind.
  [[nodiscard]] static const std::vector<KindReader>& kind_readers() {
    using Reader = JobReader;
    using Fields = JsonFields;
    static const std::vector<KindReader> readers = {
        {"finding",
         {"variable", "state", "weights"},
         [](const Reader& reader, const Fields& fields) { return FindingEntry{reader.finding(fields, "variable")}; }},
        {"reading", {"test", "text", "readings", "errors"}, &Reader::reading},
        {"revealed", {"test", "findings"}, &Reader::revealed},
        {"declined",
         {"test", "reason"},
         [](const Reader& reader, const Fields& fields) {
           return DeclinedEntry{reader.variable(fields, "test"), fields.text("reason")};
         }},
        {"repair", {"repair", "check"}, &Reader::repair},
        {"part",
         {"component", "state", "weights"},
         [](const Reader& reader, const Fields& fields) { return PartEntry{reader.finding(fields, "component")}; }},
        {"in_place",
         {"access", "conditions"},
         [](const Reader&, const Fields& fields) {
           return InPlaceEntry{{fields.texts("access"), fields.texts("conditions")}};
         }},
        {"hand_over",
         {"to"},
         [](const Reader& reader, const Fields& fields) {
           return HandOverEntry{
               reader.named(fields, "to", [&](const auto& name) { return reader.model_.index_of_hand_over(name); })};
         }},
        {"end", {"end", "confirmed", "note"}, &Reader::end}};
    return readers;
  }

  [[nodiscard]] EntryKind reading(const JsonFields& fields) const {
    ReadingEntry entry{variable(fields, "test"), {}, RepeatedErrors::as_in_model, fields.text("text"), {}};
    std::ignore = fields.needed("readings", "a list of numbers with their units");
    for (const JsonAt& element : fields.elements("readings")) {
      JsonFields one(element, problems_);
      one.allow_only({"value", "unit"});
      std::ignore = one.needed("value", "the number that was read");
      entry.readings.push_back({one.number("value").value_or(0.0), one.text("unit")});
    }
    entry.errors = value_of<RepeatedErrors>(fields.member("errors"), repeated_errors_words, problems_);
    return entry;
  }

  [[nodiscard]] EntryKind revealed(const JsonFields& fields) const {
    RevealedEntry entry{variable(fields, "test"), {}};
    std::ignore = fields.needed("findings", "a list of findings of symptoms");
    for (const JsonAt& element : fields.elements("findings")) {
      JsonFields one(element, problems_);
      one.allow_only({"variable", "state", "weights"});
      entry.findings.push_back(finding(one, "variable"));
    }
    return entry;
  }

  [[nodiscard]] EntryKind repair(const JsonFields& fields) const {
    RepairEntry entry;
    entry.repair = named(fields, "repair", [&](const auto& name) { return model_.index_of_repair(name); });
    const JsonAt check = fields.member("check");
    if (!check.there()) return entry;
    JsonFields made(check, problems_);
    made.allow_only({"result", "charge"});
    entry.check =
        CheckMade{value_of<CheckResult>(made.needed("result", "what the check said"), check_result_words, problems_),
                  charge(made.member("charge"))};
    return entry;
  }

  [[nodiscard]] EntryKind end(const JsonFields& fields) const {
    EndEntry entry;
    entry.end = value_of<JobEnd>(fields.needed("end", "how the job ended"), job_end_words, problems_);
    for (const JsonAt& element : fields.elements("confirmed")) {
      JsonFields fault(element, problems_);
      fault.allow_only({"component", "state", "by"});
      const std::size_t component = variable(fault, "component");
      const std::size_t state =
          named(fault, "state", [&](const auto& name) { return model_.state_of(component, name); });
      entry.confirmed.push_back(
          {component, state,
           value_of<ConfirmedBy>(fault.needed("by", "how it is known"), confirmed_by_words, problems_)});
    }
    entry.note = fields.text("note");
    return entry;
  }

  [[nodiscard]] Means means(const JsonAt& at) const {
    JsonFields fields(at, problems_);
    fields.allow_only({"tools", "skill", "open_access", "closed_access", "conditions", "stated_after", "max_cost",
                       "max_minutes", "labour_rate"});
    Means means;
    if (fields.member("tools").there()) means.tools = fields.texts("tools");
    if (fields.member("skill").there()) means.skill = fields.text("skill");
    means.open_access = fields.texts("open_access");
    means.closed_access = fields.texts("closed_access");
    means.conditions = fields.texts("conditions");
    means.stated_after = count(fields, "stated_after");
    means.max_cost = fields.number("max_cost");
    means.max_minutes = fields.number("max_minutes");
    means.labour_rate = fields.number("labour_rate");
    return means;
  }

  [[nodiscard]] AdviceRules advice(const JsonAt& at) const {
    JsonFields fields(at, problems_);
    fields.allow_only({"targets", "tests", "gain", "joint_only", "by", "effects", "leading", "joint_entries",
                       "by_expected_cost", "min_fault_probability", "min_gain_bits", "max_questions", "explain"});
    AdviceRules rules;
    RankOptions& ranking = rules.ranking;
    ranking.targets = variables(fields, "targets");
    ranking.tests = variables(fields, "tests");
    ranking.gain = value_of<GainKind>(fields.member("gain"), gain_words, problems_);
    ranking.joint_only = fields.flag("joint_only");
    ranking.by = value_of<RankBy>(fields.member("by"), rank_by_words, problems_);
    if (fields.member("effects").there()) ranking.effects = fields.flag("effects");
    ranking.leading = count(fields, "leading").value_or(ranking.leading);
    ranking.joint_entries = fields.number("joint_entries").value_or(ranking.joint_entries);
    if (fields.member("by_expected_cost").there()) rules.by_expected_cost = fields.flag("by_expected_cost");
    rules.min_fault_probability = fields.number("min_fault_probability").value_or(rules.min_fault_probability);
    rules.min_gain_bits = fields.number("min_gain_bits").value_or(rules.min_gain_bits);
    rules.max_questions = count(fields, "max_questions").value_or(rules.max_questions);
    if (fields.member("explain").there()) rules.explain = fields.flag("explain");
    return rules;
  }

  [[nodiscard]] std::optional<std::size_t> count(const JsonFields& fields, std::string_view key) const {
    const JsonAt at = fields.member(key);
    if (!at.there()) return std::nullopt;
    if (at.value->is_number_unsigned()) return at.value->get<std::size_t>();
    wrong_type(at, "a whole number from 0 on", problems_);
    return std::nullopt;
  }

  [[nodiscard]] std::vector<VariableIndex> variables(const JsonFields& fields, std::string_view key) const {
    std::vector<VariableIndex> found;
    for (const JsonAt& element : fields.elements(key)) {
      const std::optional<std::string> name = name_at(element, problems_);
      if (!name) continue;
      try {
        found.push_back(model_.index_of(*name));
      } catch (const UnknownName& error) {
        add_problem(problems_, element.path, error.what(), "");
      }
    }
    return found;
  }

  [[nodiscard]] EndCosts ends(const JsonAt& at) const {
    JsonFields fields(at, problems_);
    fields.allow_only({"hand_over", "live_with", "comeback"});
    return {fields.number("hand_over"), fields.number("live_with"), fields.number("comeback")};
  }

  [[nodiscard]] Charge charge(const JsonAt& at) const {
    if (!at.there()) return {};
    JsonFields fields(at, problems_);
    fields.allow_only({"minutes", "wait_minutes", "money", "labour", "opens", "brings"});
    return {.minutes = fields.number("minutes").value_or(0.0),
            .wait_minutes = fields.number("wait_minutes").value_or(0.0),
            .money = fields.number("money").value_or(0.0),
            .labour = fields.number("labour").value_or(0.0),
            .opens = fields.texts("opens"),
            .brings = fields.texts("brings")};
  }

  /// The index that `find` has for the name in a member; 0 and a problem if it throws UnknownName.
  template <class Find>
  [[nodiscard]] std::size_t named(const JsonFields& fields, std::string_view key, const Find& find) const {
    const JsonAt at = fields.needed(key, "a name");
    const std::optional<std::string> name = at.there() ? name_at(at, problems_) : std::nullopt;
    if (!name) return 0;
    try {
      return find(*name);
    } catch (const UnknownName& error) {
      add_problem(problems_, at.path, error.what(), "");
      return 0;
    }
  }

  [[nodiscard]] std::size_t variable(const JsonFields& fields, std::string_view key) const {
    return named(fields, key, [&](const auto& name) { return model_.index_of(name); });
  }

  /// A state, or weights, or both.
  [[nodiscard]] Finding finding(const JsonFields& fields, std::string_view key) const {
    Finding finding{variable(fields, key), {}, std::nullopt};
    if (fields.member("state").there() || !fields.member("weights").there()) {
      finding.state = named(fields, "state", [&](const auto& name) { return model_.state_of(finding.variable, name); });
      finding.weights.assign(model_.state_count(finding.variable), 0.0);
      finding.weights[*finding.state] = 1.0;
    }
    if (!fields.member("weights").there()) return finding;
    finding.weights.clear();
    for (const JsonAt& weight : fields.elements("weights"))
      finding.weights.push_back(number_at(weight, problems_).value_or(0.0));
    return finding;
  }

  const FaultModel& model_;
  std::vector<Problem>& problems_;
};

/// The document, which must be that of a job. Throws ModelError.
[[nodiscard]] inline Json job_document(std::string_view text, const std::string& file) {
  std::vector<Problem> problems;
  Json document = parse_json(text, file, problems);
  if (!problems.empty()) throw ModelError(std::move(problems), file);
  const bool of_job = document.is_object() && document.value("format", Json()) == job_format;
  if (!of_job) throw ModelError({{"format", "this is not a job", "give a file that write_job made"}}, file);
  const Json version = document.value("format_version", Json());
  if (version == job_format_version) return document;
  throw ModelError({{"format_version", "it is " + version.dump(),
                     "this program reads version " + std::to_string(job_format_version) + " of the format"}},
                   file);
}

[[nodiscard]] inline JobModel job_model(const JsonFields& root, std::vector<Problem>& problems) {
  const JsonAt at = root.needed("model", "name, version and content of the model");
  if (!at.there()) return {};
  JsonFields fields(at, problems);
  fields.allow_only({"name", "version", "content"});
  for (const char* const key : {"name", "version", "content"}) std::ignore = fields.needed(key, "text");
  return {fields.text("name"), fields.text("version"), fields.text("content")};
}

/// Throws ModelError if the job was made with another model than this.
inline void require_same_model(const JobModel& made_with, const FaultModel& model, JobReading how,
                               const std::string& file) {
  const Header& header = model.header();
  const std::string remedy =
      "give the model it was made with, or allow another version (other_version) to take its entries over";
  if (made_with.name != header.name) {
    throw ModelError(
        {{"model.name", "the job was made with the model \"" + made_with.name + "\", this is \"" + header.name + '"',
          "give the model it was made with"}},
        file);
  }
  if (how.other_version) return;
  if (made_with.version != header.version) {
    throw ModelError(
        {{"model.version",
          "the job was made with version " + made_with.version + " of the model, this is version " + header.version,
          remedy}},
        file);
  }
  if (made_with.content == content_check(model)) return;
  throw ModelError(
      {{"model.content", "the model was changed since the job was saved, though its version is the same", remedy}},
      file);
}

/// Records what the document says of an entry. Throws ModelError with its place if it does not fit.
inline void restore_entry(Job& job, const JsonAt& at, const std::string& file) {
  std::vector<Problem> problems;
  Entry entry = JobReader(job.model(), problems).entry(at);
  if (!problems.empty()) throw ModelError(std::move(problems), file);
  const auto refuse = [&](const Error& error) { throw ModelError({{at.path, error.what(), {}}}, file); };
  try {
    job.restore(std::move(entry));
  } catch (const ArgumentError& error) {
    refuse(error);
  } catch (const UnknownName& error) {
    refuse(error);
  } catch (const ImpossibleFindings& error) {
    refuse(error);
  }
}

}  // namespace detail

inline Job read_job(std::string_view text, const Solver& solver, JobReading how, const std::string& file) {
  const Json document = detail::job_document(text, file);
  std::vector<Problem> problems;
  detail::JsonFields root({&document, {}}, problems);
  root.allow_only({"$schema", "format", "format_version", "model", "options", "entries"});
  const JobModel made_with = detail::job_model(root, problems);
  JobOptions options = detail::JobReader(solver.model(), problems).options(root.member("options"));
  std::ignore = root.needed("entries", "a list of entries");
  const std::vector<detail::JsonAt> entries = root.elements("entries");
  if (!problems.empty()) throw ModelError(std::move(problems), file);
  detail::require_same_model(made_with, solver.model(), how, file);
  Job job(solver, std::move(options));
  for (const detail::JsonAt& entry : entries) detail::restore_entry(job, entry, file);
  return job;
}

inline JobModel model_of_job(std::string_view text, const std::string& file) {
  const Json document = detail::job_document(text, file);
  std::vector<Problem> problems;
  JobModel model = detail::job_model(detail::JsonFields({&document, {}}, problems), problems);
  if (!problems.empty()) throw ModelError(std::move(problems), file);
  return model;
}

inline bool is_job(std::string_view text) {
  std::vector<Problem> problems;
  const Json document = parse_json(text, {}, problems);
  return document.is_object() && document.value("format", Json()) == detail::job_format;
}

}  // namespace faultodds

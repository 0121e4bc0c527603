// read_model_json: from the document to the parts of a model.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "faultodds/io/json_fields.hpp"
#include "faultodds/io/model_json.hpp"
#include "faultodds/io/model_json_lists.hpp"
#include "faultodds/io/model_json_readings.ipp"
#include "faultodds/io/model_json_tables.ipp"
#include "faultodds/io/model_json_work.ipp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

/// Reads a model from its document. Goes on after a problem wherever it can.
class ModelReader {
 public:
  ModelReader(const Json& document, RowScaling policy, std::vector<Problem> problems)
      : problems_(std::move(problems)), root_({&document, ""}, problems_), policy_(policy) {}

  /// The parts; throws ModelError with all problems if there are any.
  [[nodiscard]] ModelParts read(const std::string& file) {
    if (root_.is_object() && is_model()) {
      read_header();
      read_terms("skills", "description", parts_.skills, places_.skills);
      read_terms("tools", "description", parts_.tools, places_.tools);
      read_terms("cautions", "text", parts_.cautions, places_.cautions);
      declare_variables();
      read_named("conditions", parts_.conditions, places_.conditions, &WorkReader::condition);
      read_named("access", parts_.access, places_.access, &WorkReader::access);
      read_variables();
      read_potentials();
      read_repairs();
      read_named("hand_overs", parts_.hand_overs, places_.hand_overs, &WorkReader::hand_over);
      read_ends();
      const std::vector<Problem> more = find_problems(parts_, policy_, places_);
      problems_.insert(problems_.end(), more.begin(), more.end());
    } else if (!root_.is_object() && !problems_.empty()) {
      problems_.back().place = "the document";
    }
    if (!problems_.empty()) throw ModelError(reported(), file);
    return std::move(parts_);
  }

 private:
  struct Entry {
    JsonAt at;
    const VariableList* list = nullptr;
    bool states_known = true;
    Variable variable;
  };

  /// The problems, each once, and no more of them than help.
  [[nodiscard]] std::vector<Problem> reported() const {
    constexpr std::size_t most = 100;
    std::vector<Problem> once;
    for (const Problem& problem : problems_) {
      if (is_consequence(problem) || std::find(once.begin(), once.end(), problem) != once.end()) continue;
      if (once.size() == most) {
        once.push_back(
            {"", "these are the first " + std::to_string(most) + " problems", "mend them, then read the file again"});
        break;
      }
      once.push_back(problem);
    }
    return once;
  }

  /// Whether the document calls itself a fault model; of one that does not, nothing else is worth saying.
  [[nodiscard]] bool is_model() {
    const JsonAt format = root_.needed("format", std::string("\"format\": \"") + model_format + '"');
    if (!format.there()) return false;
    if (*format.value == model_format) return true;
    add_problem(problems_, format.path, "it is " + format.value->dump(-1, ' ', false, Json::error_handler_t::replace),
                std::string("a fault model says \"") + model_format + '"');
    return false;
  }

  void read_header() {
    const std::size_t before = problems_.size();
    root_.allow_only({"$schema",     "format",     "format_version", "name",       "title",        "version",
                      "description", "authors",    "invented_data",  "safety",     "source",       "currency",
                      "labour_rate", "skills",     "tools",          "cautions",   "conditions",   "access",
                      "context",     "components", "hidden",         "symptoms",   "tests",        "variables",
                      "order",       "potentials", "repairs",        "hand_overs", "verification", "comeback",
                      "live_with"});
    for (std::size_t i = before; i < problems_.size(); ++i) {
      const JsonAt unknown = root_.member(problems_[i].place);
      if (unknown.there() && unknown.value->is_array()) names_are_all_ = false;
    }
    std::ignore = root_.text("$schema");
    const JsonAt version = root_.needed("format_version", "\"format_version\": 1");
    if (version.there() && *version.value != model_format_version) {
      add_problem(problems_, version.path,
                  "it is " + version.value->dump(-1, ' ', false, Json::error_handler_t::replace),
                  "this reader knows version 1 of the format");
    }
    std::ignore = root_.needed("name", "a short name for the model");
    Header& header = parts_.header;
    header.name = root_.text("name");
    header.title = root_.text("title");
    header.version = root_.text("version");
    header.description = root_.text("description");
    header.authors = root_.texts("authors");
    header.invented = root_.flag("invented_data");
    header.safety = root_.text("safety");
    header.source = root_.text("source");
    header.currency = root_.text("currency");
    header.labour_rate = root_.number("labour_rate").value_or(0.0);
    places_.header = "labour_rate";
  }

  /// The name of an element, and the path that goes by it. Where there is no usable name, its position serves as both.
  [[nodiscard]] std::pair<std::string, JsonAt> named(const JsonAt& element, const JsonFields& fields) {
    const JsonAt name = fields.needed("name", "a name of its own");
    const auto text = name.there() ? name_at(name, problems_) : std::nullopt;
    if (!text) return {element.path, element};
    const std::string list = element.path.substr(0, element.path.rfind('['));
    return {*text, {element.value, json_path(list, *text)}};
  }

  void read_terms(const std::string& list, const std::string& text_member, std::vector<Term>& terms,
                  std::vector<std::string>& places) {
    for (const JsonAt& element : root_.elements(list)) {
      JsonFields fields(element, problems_);
      if (!fields.is_object()) continue;
      fields.allow_only({"name", "label", text_member});
      const auto [name, at] = named(element, fields);
      terms.push_back({name, fields.text("label"), fields.text(text_member)});
      places.push_back(at.path);
    }
  }

  [[nodiscard]] TableContext context() {
    return {parts_.variables, index_, unreadable_, names_are_all_, policy_, problems_};
  }

  /// A list of named things that one member function of the WorkReader reads.
  template <class Named>
  void read_named(const std::string& list, std::vector<Named>& all, std::vector<std::string>& places,
                  Named (WorkReader::*member)(JsonFields, std::string)) {
    WorkReader reader(context());
    for (const JsonAt& element : root_.elements(list)) {
      if (!JsonFields(element, problems_).is_object()) continue;
      auto [name, at] = named(element, JsonFields(element, problems_));
      all.push_back((reader.*member)(JsonFields(at, problems_), name));
      places.push_back(at.path);
    }
  }

  /// Names and states of all variables, in the order of the model, so that tables may refer to any of them.
  void declare_variables() {
    for (const VariableList& list : variable_lists()) {
      for (const JsonAt& element : root_.elements(list.name)) {
        if (!JsonFields(element, problems_).is_object()) continue;
        auto [name, at] = named(element, JsonFields(element, problems_));
        Entry entry{std::move(at), &list, true, {}};
        entry.variable.name = name;
        entry.variable.what = list.what;
        entry.states_known = read_states(entry);
        entries_.push_back(std::move(entry));
      }
    }
    apply_order();
    for (std::size_t v = 0; v < entries_.size(); ++v) {
      index_.emplace(entries_[v].variable.name, v);
      parts_.variables.push_back(entries_[v].variable);
      places_.variables.push_back(entries_[v].at.path);
    }
  }

  /// False if the states could not be read; a nameless state then takes their place.
  [[nodiscard]] bool read_states(Entry& entry) {
    std::vector<State>& states = entry.variable.states;
    const JsonFields fields(entry.at, problems_);
    const JsonAt list = fields.member("states");
    const std::size_t before = problems_.size();
    if (!list.there()) {
      for (const std::string& name : entry.list->default_states) states.push_back({name, {}});
      if (states.empty())
        std::ignore = fields.needed("states", "a list of names, the sound, normal or absent one first");
    } else {
      const std::vector<JsonAt> elements = JsonFields::elements_of(list, problems_);
      for (const JsonAt& element : elements) read_state(element, states);
      if (list.value->is_array() && elements.empty()) {
        add_problem(problems_, list.path, "it is an empty list",
                    "name at least one state, the sound or absent one first");
      }
    }
    if (problems_.size() == before) return true;
    states = {{"?", {}}};
    unreadable_.push_back(entry.variable.name);
    return false;
  }

  void read_state(const JsonAt& at, std::vector<State>& states) {
    State state;
    if (at.value->is_object()) {
      JsonFields fields(at, problems_);
      fields.allow_only({"name", "label"});
      const JsonAt name = fields.needed("name", "the name of the state");
      if (name.there()) state.name = name_at(name, problems_).value_or("");
      state.label = fields.text("label");
    } else {
      state.name = name_at(at, problems_).value_or("");
    }
    states.push_back(std::move(state));
  }

  void apply_order() {
    const JsonAt list = root_.member("order");
    if (!list.there()) return;
    std::unordered_map<std::string, std::size_t> position;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < entries_.size(); ++i) {
      position.emplace(entries_[i].variable.name, i);
      names.push_back(entries_[i].variable.name);
    }
    const std::size_t before = problems_.size();
    std::vector<Entry> sorted;
    std::vector<bool> taken(entries_.size(), false);
    for (const JsonAt& element : JsonFields::elements_of(list, problems_)) {
      const auto name = name_at(element, problems_);
      if (!name) continue;
      const auto found = position.find(*name);
      if (found == position.end()) {
        add_problem(problems_, element.path, "no variable is named " + quoted(*name),
                    nearest_remedy(*name, names, "list the variables of the model"));
      } else if (taken[found->second]) {
        add_problem(problems_, element.path, quoted(*name) + " is listed twice", "list each variable once");
      } else {
        taken[found->second] = true;
        sorted.push_back(entries_[found->second]);
      }
    }
    if (problems_.size() == before && sorted.size() == entries_.size()) {
      entries_ = std::move(sorted);
    } else if (problems_.size() == before) {
      const auto missing = std::find(taken.begin(), taken.end(), false) - taken.begin();
      add_problem(problems_, list.path,
                  quoted(std::as_const(names)[static_cast<std::size_t>(missing)]) + " is not in it",
                  "list every variable, or leave the order out");
    }
  }

  void read_variables() {
    const std::vector<Variable> declared = parts_.variables;
    TableReader tables({declared, index_, unreadable_, names_are_all_, policy_, problems_});
    for (std::size_t v = 0; v < entries_.size(); ++v) {
      const Entry& entry = entries_[v];
      JsonFields fields(entry.at, problems_);
      std::vector<std::string> known = {"name", "label", "description", "states", "properties", "source"};
      known.insert(known.end(), entry.list->members.begin(), entry.list->members.end());
      known.insert(known.end(), table_members().begin(), table_members().end());
      fields.allow_only(known);
      Variable& variable = parts_.variables[v];
      read_facts(fields, variable);
      auto distribution = entry.states_known ? tables.read(fields, v) : std::nullopt;
      // A table with problems is replaced by a sound one, so that the checks of the whole add none.
      const double even = 1.0 / static_cast<double>(variable.states.size());
      variable.distribution =
          distribution ? std::move(*distribution) : FullTable{{}, Table(1, variable.states.size(), even)};
    }
  }

  void read_facts(const JsonFields& fields, Variable& variable) {
    variable.label = fields.text("label");
    variable.description = fields.text("description");
    variable.source = fields.text("source");
    variable.properties = fields.texts("properties");
    if (auto* fact = std::get_if<Context>(&variable.what)) fact->question = fields.text("question");
    if (auto* component = std::get_if<Component>(&variable.what)) {
      component->system = fields.text("system");
      component->remainder = fields.flag("remainder");
    }
    if (auto* symptom = std::get_if<Symptom>(&variable.what)) {
      symptom->question = fields.text("question");
      symptom->complaint = fields.flag("complaint");
      symptom->code = fields.text("code");
      symptom->conditions = fields.texts("conditions");
    }
    if (auto* test = std::get_if<Test>(&variable.what)) read_test(fields, variable, *test);
  }

  void read_test(const JsonFields& fields, const Variable& variable, Test& test) {
    test.question = fields.text("question");
    test.work = WorkReader(context()).work(fields, "access");
    test.procedure = fields.text("procedure");
    if (const JsonAt reading = fields.member("reading"); reading.there())
      test.reading = ReadingReader(variable, problems_).read(reading);
    RowReader names(context());
    for (const JsonAt& symptom : fields.elements("reveals")) {
      if (const auto index = names.variable_at(symptom)) test.reveals.push_back(*index);
    }
    read_gates(fields.member("only_when"), test.only_when);
    read_gates(fields.member("not_when"), test.not_when);
  }

  void read_gates(const JsonAt& at, std::vector<Gate>& gates) {
    if (!at.there()) return;
    const std::size_t before = problems_.size();
    std::vector<Gate> read = RowReader(context()).gates_at(at);
    if (problems_.size() == before) gates = std::move(read);
  }

  void read_potentials() {
    RowReader names(context());
    for (const JsonAt& element : root_.elements("potentials")) {
      JsonFields fields(element, problems_);
      fields.allow_only({"scope", "values"});
      const std::size_t before = problems_.size();
      Potential potential;
      const JsonAt scope = fields.needed("scope", "a list of variables");
      for (const JsonAt& name : JsonFields::elements_of(scope, problems_)) {
        if (const auto variable = names.variable_at(name)) potential.scope.push_back(*variable);
      }
      const JsonAt values =
          fields.needed("values", "a list of weights, the last variable of the scope running fastest");
      if (values.there() && !values.value->is_array()) {
        wrong_type(values, "a list", problems_);
      } else if (values.there()) {
        for (std::size_t i = 0; i < values.value->size(); ++i) {
          const Json& number = (*values.value)[i];
          if (number.is_number()) {
            potential.values.push_back(number.get<double>());
          } else {
            wrong_type(values.element(i), "a number", problems_);
          }
        }
      }
      if (problems_.size() > before) potential = {{}, {1.0}};
      parts_.potentials.push_back(std::move(potential));
      places_.potentials.push_back(element.path);
    }
  }

  void read_repairs() {
    WorkReader reader(context());
    for (const JsonAt& element : root_.elements("repairs")) {
      if (!JsonFields(element, problems_).is_object()) continue;
      const auto [name, at] = named(element, JsonFields(element, problems_));
      auto repair = reader.repair(JsonFields(at, problems_), name);
      if (!repair) continue;
      parts_.repairs.push_back(*std::move(repair));
      places_.repairs.push_back(at.path);
    }
  }

  void read_ends() {
    WorkReader reader(context());
    parts_.verification = reader.verification(root_.member("verification"));
    parts_.comeback = reader.comeback(root_.member("comeback"));
    parts_.live_with = reader.live_with(root_.member("live_with"));
  }

  std::vector<Problem> problems_;
  JsonFields root_;
  RowScaling policy_;
  ModelParts parts_;
  Places places_;
  std::vector<Entry> entries_;
  std::unordered_map<std::string, std::size_t> index_;
  std::vector<std::string> unreadable_;
  bool names_are_all_ = true;  ///< no list of the file was left unread for its own name
};

}  // namespace faultodds::detail

namespace faultodds {

inline FaultModel read_model_json(std::string_view text, const std::string& file, RowScaling policy) {
  std::vector<Problem> problems;
  const Json document = parse_json(text, file, problems);
  return FaultModel(detail::ModelReader(document, policy, std::move(problems)).read(file), policy, file);
}

}  // namespace faultodds

// write_model_json: from the model to its document.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cstddef>
#include <map>
#include <numeric>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/io/json_document.hpp"
#include "faultodds/io/model_json.hpp"
#include "faultodds/io/model_json_lists.hpp"
#include "faultodds/io/model_json_write_work.ipp"
#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/table_row.hpp"

namespace faultodds::detail {

/// Builds the document of a model. Members come in a fixed order; what is empty or the default is left out.
class ModelWriter {
 public:
  explicit ModelWriter(const FaultModel& model) : parts_(model.parts()) {}

  [[nodiscard]] Json document() const {
    Json root;
    write_header(root);
    write_terms(root, "skills", "description", parts_.skills);
    write_terms(root, "tools", "description", parts_.tools);
    write_terms(root, "cautions", "text", parts_.cautions);
    const WorkWriter works(parts_);
    for (const Condition& condition : parts_.conditions) root["conditions"].push_back(works.written(condition));
    for (const Access& access : parts_.access) root["access"].push_back(works.written(access));
    std::vector<std::size_t> order;
    for (const VariableList& list : variable_lists()) {
      for (std::size_t v = 0; v < parts_.variables.size(); ++v) {
        if (parts_.variables[v].what.index() != list.what.index()) continue;
        root[list.name].push_back(written(parts_.variables[v], list));
        order.push_back(v);
      }
    }
    if (!std::is_sorted(order.begin(), order.end())) {
      for (const Variable& variable : parts_.variables) root["order"].push_back(variable.name);
    }
    for (const Potential& potential : parts_.potentials) {
      root["potentials"].push_back(
          Json{{"scope", names_of({potential.scope.begin(), potential.scope.end()})}, {"values", potential.values}});
    }
    for (const Repair& repair : parts_.repairs) root["repairs"].push_back(works.written(repair));
    for (const HandOver& hand_over : parts_.hand_overs) root["hand_overs"].push_back(works.written(hand_over));
    if (parts_.verification) root["verification"] = works.written(*parts_.verification);
    if (parts_.comeback) root["comeback"] = works.written(*parts_.comeback);
    if (parts_.live_with) root["live_with"] = works.written(*parts_.live_with);
    return root;
  }

 private:
  void write_header(Json& root) const {
    const Header& header = parts_.header;
    root["$schema"] = "./fault-model.schema.json";
    root["format"] = model_format;
    root["format_version"] = model_format_version;
    root["name"] = header.name;
    add_text(root, "title", header.title);
    add_text(root, "version", header.version);
    add_texts(root, "authors", header.authors);
    add_text(root, "description", header.description);
    add_flag(root, "invented_data", header.invented);
    add_text(root, "safety", header.safety);
    add_text(root, "source", header.source);
    add_text(root, "currency", header.currency);
    if (header.labour_rate != 0.0) root["labour_rate"] = header.labour_rate;
  }

  static void write_terms(Json& root, const char* list, const char* text_member, const std::vector<Term>& terms) {
    for (const Term& term : terms) {
      Json object{{"name", term.name}};
      add_text(object, "label", term.label);
      add_text(object, text_member, term.description);
      root[list].push_back(std::move(object));
    }
  }

  [[nodiscard]] Json written(const Variable& variable, const VariableList& list) const {
    Json object{{"name", variable.name}};
    add_text(object, "label", variable.label);
    add_text(object, "description", variable.description);
    if (const auto* component = std::get_if<Component>(&variable.what)) {
      add_text(object, "system", component->system);
      add_flag(object, "remainder", component->remainder);
    }
    add_text(object, "question", variable.question());
    if (const auto* symptom = std::get_if<Symptom>(&variable.what)) {
      add_flag(object, "complaint", symptom->complaint);
      add_text(object, "code", symptom->code);
      add_texts(object, "conditions", symptom->conditions);
    }
    const auto* test = std::get_if<Test>(&variable.what);
    if (test != nullptr) add_text(object, "procedure", test->procedure);
    std::vector<State> default_states;
    for (const std::string& name : list.default_states) default_states.push_back({name, {}});
    if (variable.states != default_states) object["states"] = written(variable.states);
    std::visit([&](const auto& distribution) { add_distribution(object, variable, distribution); },
               variable.distribution);
    add_text(object, "source", variable.source);
    if (test != nullptr) add_test(object, variable, *test);
    add_texts(object, "properties", variable.properties);
    return object;
  }

  void add_test(Json& object, const Variable& variable, const Test& test) const {
    if (test.reading) object["reading"] = written(*test.reading, variable);
    if (!test.reveals.empty()) object["reveals"] = names_of(test.reveals);
    add_gates(object, "only_when", test.only_when, parts_.variables);
    add_gates(object, "not_when", test.not_when, parts_.variables);
    WorkWriter(parts_).add_work(object, test.work, "access");
  }

  [[nodiscard]] static Json written(const std::vector<State>& states) {
    Json list = Json::array();
    for (const State& state : states) {
      if (state.label.empty()) {
        list.push_back(state.name);
      } else {
        list.push_back(Json{{"name", state.name}, {"label", state.label}});
      }
    }
    return list;
  }

  [[nodiscard]] static Json written(const Reading& reading, const Variable& variable) {
    Json object = Json::object();
    add_text(object, "quantity", reading.quantity);
    add_text(object, "unit", reading.unit);
    add_flag(object, "difference", reading.difference);
    for (const Band& band : reading.bands) {
      Json limit{{"outcome", variable.states[band.outcome].name}};
      add_number(limit, "from", band.from);
      add_number(limit, "below", band.below);
      object["limits"].push_back(std::move(limit));
    }
    for (const Spread& spread : reading.spreads) {
      Json one{{"outcome", variable.states[spread.outcome].name}};
      std::visit([&](const auto& shape) { add_shape(one, shape); }, spread.shape);
      object["spreads"].push_back(std::move(one));
    }
    if (const auto& error = reading.gauge_error) {
      object["gauge_error"] = error->share == 0.0 ? Json(error->fixed) : Json{{"share", error->share}};
      if (error->share != 0.0 && error->fixed != 0.0) object["gauge_error"]["fixed"] = error->fixed;
    }
    add_flag(object, "same_instrument", reading.same_instrument);
    add_number(object, "at_least", reading.at_least);
    add_number(object, "at_most", reading.at_most);
    add_text(object, "source", reading.source);
    return object;
  }

  static void add_shape(Json& object, const NormalSpread& shape) {
    object["normal"] = Json{{"mean", shape.mean}, {"sd", shape.sd}};
  }
  static void add_shape(Json& object, const LognormalSpread& shape) {
    object["lognormal"] = Json{{"median", shape.median}, {"log_sd", shape.log_sd}};
  }
  static void add_shape(Json& object, const UniformSpread& shape) {
    object["uniform"] = Json{{"from", shape.from}, {"to", shape.to}};
  }

  [[nodiscard]] Json names_of(const std::vector<VariableIndex>& variables) const {
    Json names = Json::array();
    for (const std::size_t v : variables) names.push_back(parts_.variables[v].name);
    return names;
  }

  /// A row in the shortest of the forms that read back to the same numbers.
  [[nodiscard]] static Json written_row(const Variable& variable, std::span<const double> row) {
    constexpr std::size_t max_named = 6;
    if (row.size() == 2 && 1.0 - row[1] == row[0]) return row[1];
    const bool rest_fits = row.size() > 1 && rest_of(row.subspan(1)) == row[0] && row[0] > 0.0;
    if (row.size() > max_named && !rest_fits) return std::vector<double>(row.begin(), row.end());
    Json named = Json::object();
    for (std::size_t s = rest_fits ? 1 : 0; s < row.size(); ++s) {
      if (row[s] != 0.0) named[variable.states[s].name] = row[s];
    }
    if (named.empty()) named[variable.states.front().name] = row[0];
    // An object without the first state would be read as if that took the rest.
    if (!rest_fits && row[0] == 0.0) named[variable.states.front().name] = 0.0;
    return named;
  }

  void add_distribution(Json& object, const Variable& variable, const FullTable& table) const {
    if (table.parents.empty()) {
      object["prior"] = written_row(variable, table.rows.row(0));
      return;
    }
    // Rows by names are for people; a table that nobody reads through is written as its numbers.
    constexpr std::size_t max_rows_by_name = 512;
    Json written{{"given", names_of(table.parents)}};
    const std::optional<std::size_t> common = most_common_row(table.rows);
    if (rows_besides(table.rows, common) > max_rows_by_name) {
      written["values"] = table.rows.values();
      object["table"] = std::move(written);
      return;
    }
    written["rows"] = Json::array();
    std::vector<StateIndex> states(table.parents.size());
    std::vector<std::size_t> sizes;
    for (const VariableIndex parent : table.parents) sizes.push_back(parts_.variables[parent].states.size());
    for (std::size_t r = 0; r < table.rows.rows(); ++r, next_configuration(states, sizes)) {
      if (common && std::ranges::equal(table.rows.row(r), table.rows.row(*common))) continue;
      Json when = Json::object();
      for (std::size_t i = 0; i < states.size(); ++i) {
        const Variable& parent = parts_.variables[table.parents[i]];
        when[parent.name] = parent.states[states[i]].name;
      }
      written["rows"].push_back(Json{{"when", std::move(when)}, {"p", written_row(variable, table.rows.row(r))}});
    }
    if (common) written["otherwise"] = written_row(variable, table.rows.row(*common));
    object["table"] = std::move(written);
  }

  /// The row that is in the table most often, if any is there at least three times.
  [[nodiscard]] static std::optional<std::size_t> most_common_row(const Table& rows) {
    std::map<std::vector<double>, std::pair<std::size_t, std::size_t>> counts;  // row -> how often, where first
    for (std::size_t r = 0; r < rows.rows(); ++r) {
      const auto row = rows.row(r);
      ++counts.try_emplace(std::vector<double>(row.begin(), row.end()), 0, r).first->second.first;
    }
    std::optional<std::size_t> best;
    std::size_t most = 2;
    for (const auto& [row, count] : counts) {
      if (count.first > most) {
        most = count.first;
        best = count.second;
      }
    }
    return best;
  }

  /// Number of rows that differ from the common one.
  [[nodiscard]] static std::size_t rows_besides(const Table& rows, std::optional<std::size_t> common) {
    std::size_t count = 0;
    for (std::size_t r = 0; r < rows.rows(); ++r) {
      if (!common || !std::ranges::equal(rows.row(r), rows.row(*common))) ++count;
    }
    return count;
  }

  /// Whether a state other than the first has any probability, be it too small to show in that of the first.
  [[nodiscard]] static bool does_something(std::span<const double> row) {
    return std::ranges::any_of(row.subspan(1), [](double p) { return p != 0.0; });
  }

  void add_distribution(Json& object, const Variable& variable, const NoisyMax& noisy) const {
    const bool is_or = is_noisy_or(noisy);
    Json written = Json::object();
    if (does_something(noisy.leak)) written["leak"] = written_row(variable, noisy.leak);
    written["causes"] = Json::array();
    for (const Link& link : noisy.links) {
      const Variable& cause = parts_.variables[link.cause];
      Json entry{{"of", cause.name}};
      entry[is_or ? "strength" : "effect"] =
          is_or ? written_strength(cause, link.effect) : written_effect(variable, cause, link.effect);
      add_gates(entry, "only_when", link.only_when, parts_.variables);
      add_text(entry, "source", link.source);
      written["causes"].push_back(std::move(entry));
    }
    object[is_or ? "noisy_or" : "noisy_max"] = std::move(written);
  }

  /// Whether two states each, and strengths alone give back every number.
  [[nodiscard]] static bool is_noisy_or(const NoisyMax& noisy) {
    const auto fits = [](double absent, double present) { return 1.0 - present == absent; };
    return noisy.leak.size() == 2 && fits(noisy.leak[0], noisy.leak[1]) &&
           std::ranges::all_of(noisy.links, [&](const Link& link) {
             for (std::size_t s = 0; s < link.effect.rows(); ++s) {
               if (!fits(link.effect(s, 0), link.effect(s, 1))) return false;
             }
             return true;
           });
  }

  [[nodiscard]] static Json written_strength(const Variable& cause, const Table& effect) {
    bool same = effect.rows() > 1;
    for (std::size_t s = 2; s < effect.rows(); ++s) same = same && effect(s, 1) == effect(1, 1);
    if (same) return effect(1, 1);
    Json strengths = Json::object();
    for (std::size_t s = 1; s < effect.rows(); ++s) {
      if (effect(s, 1) != 0.0) strengths[cause.states[s].name] = effect(s, 1);
    }
    return strengths;
  }

  [[nodiscard]] static Json written_effect(const Variable& variable, const Variable& cause, const Table& effect) {
    Json effects = Json::object();
    for (std::size_t s = 1; s < effect.rows(); ++s) {
      if (does_something(effect.row(s))) effects[cause.states[s].name] = written_row(variable, effect.row(s));
    }
    return effects;
  }

  void add_distribution(Json& object, const Variable&, const CountOf& count) const {
    Json inputs = Json::array();
    for (const Gate& input : count.inputs) {
      const Variable& variable = parts_.variables[input.variable];
      if (input.states == all_but_first(variable)) {
        inputs.push_back(variable.name);
      } else {
        inputs.push_back(Json{{"of", variable.name}, {"is", states_of(variable, input.states)}});
      }
    }
    if (count.at_least == 1) {
      object["any"] = std::move(inputs);
    } else if (count.at_least == count.inputs.size()) {
      object["all"] = std::move(inputs);
    } else {
      object["at_least"] = Json{{"count", count.at_least}, {"of", std::move(inputs)}};
    }
  }

  void add_distribution(Json& object, const Variable&, const Examination& examination) const {
    const Variable& component = parts_.variables[examination.component];
    const std::vector<double>& detection = examination.detection;
    Json written{{"component", component.name}};
    if (!detection.empty() && std::ranges::all_of(detection, [&](double p) { return p == detection.front(); })) {
      written["detects"] = detection.front();
    } else {
      written["detects"] = Json::object();
      for (std::size_t s = 0; s < detection.size(); ++s)
        written["detects"][component.states[s + 1].name] = detection[s];
    }
    written["false_alarm"] = examination.false_alarm;
    object["examines"] = std::move(written);
  }

  static void add_distribution(Json& object, const Variable&, const Unweighted&) { object["unweighted"] = true; }

  const ModelParts& parts_;
};

}  // namespace faultodds::detail

namespace faultodds {

inline std::string write_model_json(const FaultModel& model) { return laid_out(detail::ModelWriter(model).document()); }

}  // namespace faultodds

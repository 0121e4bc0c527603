// Probability tables of a JSON model. Part of model_json_read.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <numeric>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "faultodds/io/model_json_rows.ipp"
#include "faultodds/model/table_row.hpp"

namespace faultodds::detail {

/// The members that hold a probability table.
inline const std::vector<std::string>& table_members() {
  static const std::vector<std::string> members = {"prior", "table",    "noisy_or", "noisy_max", "any",
                                                   "all",   "at_least", "examines", "unweighted"};
  return members;
}

/// Reads the distribution of one variable after another. Names and states of all variables are known already.
class TableReader {
 public:
  explicit TableReader(const TableContext& context)
      : variables_(context.variables), problems_(context.problems), rows_(context) {}

  /// The distribution among the members of `fields`; nothing if there was a problem.
  [[nodiscard]] std::optional<Distribution> read(const JsonFields& fields, VariableIndex variable) {
    own_ = variable;
    std::vector<std::string> present;
    for (const std::string& member : table_members()) {
      if (fields.member(member).there()) present.push_back(member);
    }
    if (present.size() != 1) {
      add_problem(problems_, fields.path(),
                  present.empty() ? "it has no probability table"
                                  : "it has two probability tables, \"" + present[0] + "\" and \"" + present[1] + '"',
                  "it takes exactly one of " + listed(table_members()));
      return std::nullopt;
    }
    const std::size_t before = problems_.size();
    Distribution distribution = read_kind(present.front(), fields.member(present.front()));
    if (problems_.size() > before) return std::nullopt;
    return distribution;
  }

 private:
  [[nodiscard]] const Variable& own() const { return variables_[own_]; }

  [[nodiscard]] Distribution read_kind(const std::string& kind, const JsonAt& at) {
    if (kind == "prior") return FullTable{{}, Table(own().states.size(), rows_.row_at(at, own()))};
    if (kind == "table") return read_table(at);
    if (kind == "noisy_or" || kind == "noisy_max") return read_noisy(at, kind == "noisy_or");
    if (kind == "any" || kind == "all" || kind == "at_least") return read_count(at, kind);
    if (kind == "examines") return read_examination(at);
    if (!at.value->is_boolean() || !at.value->get<bool>()) wrong_type(at, "true", problems_);
    return Unweighted{};
  }

  [[nodiscard]] FullTable read_table(const JsonAt& at) {
    JsonFields fields(at, problems_);
    fields.allow_only({"given", "rows", "otherwise", "values"});
    const std::size_t before = problems_.size();
    FullTable table;
    const JsonAt given = fields.needed("given", "the names of the parents");
    for (const JsonAt& element : JsonFields::elements_of(given, problems_)) {
      const auto parent = rows_.variable_at(element);
      if (!parent) continue;
      if (std::find(table.parents.begin(), table.parents.end(), *parent) != table.parents.end()) {
        add_problem(problems_, element.path, "the parent " + quoted(variables_[*parent].name) + " is given twice",
                    "give each parent once");
      } else if (*parent == own_) {
        add_problem(problems_, element.path, "it is " + quoted(own().name) + " itself",
                    "a variable cannot depend on itself");
      }
      table.parents.push_back(*parent);
    }
    const JsonAt values = fields.member("values");
    const JsonAt rows =
        values.there() ? JsonAt{} : fields.needed("rows", "a list of rows, {\"when\": {...}, \"p\": ...}");
    for (const char* const other : {"rows", "otherwise"}) {
      if (!values.there() || !fields.member(other).there()) continue;
      add_problem(problems_, at.path, std::string("it has \"values\" and \"") + other + "\" too",
                  "give all numbers as \"values\", or rows by the names of states");
    }
    if (problems_.size() > before) return table;

    std::vector<std::size_t> sizes;
    for (const VariableIndex parent : table.parents) sizes.push_back(variables_[parent].states.size());
    const std::size_t configurations = std::accumulate(sizes.begin(), sizes.end(), std::size_t{1}, saturating_product);
    std::vector<std::size_t> all = sizes;
    all.push_back(own().states.size());
    std::ignore = budget_.take("the table of " + quoted(own().name), all);
    table.rows = Table(configurations, own().states.size());
    if (values.there()) {
      read_values(values, table);
    } else {
      fill_rows(fields, rows, table, sizes);
    }
    return table;
  }

  /// All numbers of a table: row after row, the last parent running fastest from row to row.
  void read_values(const JsonAt& at, FullTable& table) {
    const std::size_t wanted = table.rows.values().size();
    if (!at.value->is_array() || at.value->size() != wanted) {
      add_problem(
          problems_, at.path,
          at.value->is_array() ? "it lists " + counted(at.value->size(), "number") : "it is " + kind_text(*at.value),
          "it must list " + counted(wanted, "number") + ": " + counted(own().states.size(), "state") + " of " +
              quoted(own().name) + " in " + counted(table.rows.rows(), "configuration") + " of its parents");
      return;
    }
    for (std::size_t r = 0; r < table.rows.rows(); ++r) {
      const std::span<double> row = table.rows.row(r);
      if (!rows_.read_numbers(at, r * row.size(), row) || row_is_fine(row)) continue;
      rows_.check_row(
          row, at.path,
          table.parents.empty() ? "the row" : "the row for " + configuration_text(variables_, table.parents, r));
    }
  }

  void fill_rows(const JsonFields& fields, const JsonAt& rows, FullTable& table,
                 const std::vector<std::size_t>& sizes) {
    constexpr std::uint32_t empty = 0;
    std::vector<std::uint32_t> filled_by(table.rows.rows(), empty);
    const std::size_t before = problems_.size();
    std::uint32_t number = 0;
    for (const JsonAt& element : JsonFields::elements_of(rows, problems_))
      read_row(element, ++number, table, sizes, filled_by);

    const auto missing = std::count(filled_by.begin(), filled_by.end(), empty);
    if (const JsonAt otherwise = fields.member("otherwise"); otherwise.there()) {
      const std::vector<double> row = rows_.row_at(otherwise, own());
      for (std::size_t r = 0; r < filled_by.size(); ++r) {
        if (filled_by[r] == empty) std::copy(row.begin(), row.end(), table.rows.row(r).begin());
      }
    } else if (missing > 0 && problems_.size() == before) {
      const auto first =
          static_cast<std::size_t>(std::find(filled_by.begin(), filled_by.end(), empty) - filled_by.begin());
      const std::string more = missing == 1 ? "" : " (and for " + std::to_string(missing - 1) + " more)";
      add_problem(
          problems_, rows.path,
          (table.parents.empty() ? "no row" : "no row for " + configuration_text(variables_, table.parents, first)) +
              more,
          "add what is missing, or \"otherwise\" for the rest");
    }
  }

  /// One entry of "rows": fills every configuration that its "when" allows.
  void read_row(const JsonAt& at, std::uint32_t number, FullTable& table, const std::vector<std::size_t>& sizes,
                std::vector<std::uint32_t>& filled_by) {
    const std::size_t before = problems_.size();
    JsonFields fields(at, problems_);
    fields.allow_only({"when", "p"});
    const JsonAt when = fields.needed("when", "states of the parents, such as {\"distance\": \"high\"}");
    const JsonAt p = fields.needed("p", "probabilities, written like a prior");
    std::vector<std::vector<StateIndex>> allowed(sizes.size());
    if (when.there()) read_when(when, table.parents, allowed);
    const std::size_t after_when = problems_.size();
    const std::vector<double> row = p.there() ? rows_.row_at(p, own()) : std::vector<double>();
    if (after_when > before) return;

    for (std::size_t i = 0; i < sizes.size(); ++i) {
      if (!allowed[i].empty()) continue;
      allowed[i].resize(sizes[i]);
      std::iota(allowed[i].begin(), allowed[i].end(), std::size_t{0});
    }
    std::vector<StateIndex> choice(sizes.size());
    std::vector<std::size_t> choices;
    for (const auto& states : allowed) choices.push_back(states.size());
    const std::size_t count = std::accumulate(choices.begin(), choices.end(), std::size_t{1}, std::multiplies<>());
    for (std::size_t n = 0; n < count; ++n, next_configuration(choice, choices)) {
      std::size_t r = 0;
      for (std::size_t i = 0; i < sizes.size(); ++i) r = r * sizes[i] + allowed[i][choice[i]];
      if (filled_by[r] != 0) {
        add_problem(problems_, at.path,
                    "it gives " + configuration_text(variables_, table.parents, r) + ", and so does rows[" +
                        std::to_string(filled_by[r] - 1) + ']',
                    "one row for each configuration; narrow one of the two");
        return;
      }
      filled_by[r] = number;
      std::copy(row.begin(), row.end(), table.rows.row(r).begin());
    }
  }

  void read_when(const JsonAt& when, const std::vector<VariableIndex>& parents,
                 std::vector<std::vector<StateIndex>>& allowed) {
    const JsonFields fields(when, problems_);
    if (!fields.is_object()) return;
    std::vector<std::string> names;
    names.reserve(parents.size());
    for (const VariableIndex parent : parents) names.push_back(variables_[parent].name);
    for (const auto& [name, member] : when.value->items()) {
      const JsonAt entry{&member, json_path(when.path, name)};
      const auto found = std::find(names.begin(), names.end(), name);
      if (found == names.end()) {
        add_problem(problems_, entry.path, quoted(name) + " is not among the parents in \"given\"",
                    nearest_remedy(name, names, "the parents are " + listed(names)));
        continue;
      }
      const auto i = static_cast<std::size_t>(found - names.begin());
      allowed[i] = rows_.states_at(entry, parents[i]);
    }
  }

  [[nodiscard]] NoisyMax read_noisy(const JsonAt& at, bool is_or) {
    JsonFields fields(at, problems_);
    fields.allow_only({"leak", "causes"});
    NoisyMax noisy;
    if (is_or && own().states.size() != 2) {
      add_problem(problems_, at.path, "a noisy-OR for " + counted(own().states.size(), "state"),
                  "use noisy_max for graded effects");
      return noisy;
    }
    noisy.leak.assign(own().states.size(), 0.0);
    noisy.leak[0] = 1.0;
    if (const JsonAt leak = fields.member("leak"); leak.there()) noisy.leak = rows_.row_at(leak, own());
    const JsonAt causes = fields.needed("causes", "a list of causes, {\"of\": ..., ...}");
    for (const JsonAt& element : JsonFields::elements_of(causes, problems_)) read_link(element, is_or, noisy);
    return noisy;
  }

  void read_link(const JsonAt& at, bool is_or, NoisyMax& noisy) {
    JsonFields fields(at, problems_);
    const std::string member = is_or ? "strength" : "effect";
    fields.allow_only({"of", member, "only_when", "source"});
    const JsonAt of = fields.needed("of", "the name of the cause");
    const JsonAt effect =
        fields.needed(member, is_or ? "a probability, or one for each fault state"
                                    : "the effect of each fault state, such as {\"seized\": {\"severe\": 0.9}}");
    Link link;
    link.source = fields.text("source");
    if (const JsonAt gates = fields.member("only_when"); gates.there()) link.only_when = rows_.gates_at(gates);
    const auto cause = of.there() ? rows_.variable_at(of) : std::nullopt;
    if (!cause || !effect.there()) return;
    link.cause = *cause;
    link.effect = Table(variables_[*cause].states.size(), own().states.size());
    for (std::size_t s = 0; s < link.effect.rows(); ++s) link.effect(s, 0) = 1.0;
    if (is_or && effect.value->is_number()) {
      if (const auto strength = rows_.probability_at(effect)) {
        for (std::size_t s = 1; s < link.effect.rows(); ++s) set_strength(link.effect, s, *strength);
      }
    } else {
      read_effects(effect, is_or, link);
    }
    noisy.links.push_back(std::move(link));
  }

  static void set_strength(Table& effect, StateIndex state, double strength) {
    effect(state, 1) = strength;
    effect(state, 0) = 1.0 - strength;
  }

  /// Strengths or effects by the states of the cause.
  void read_effects(const JsonAt& at, bool is_or, Link& link) {
    const JsonFields fields(at, problems_);
    if (!fields.is_object()) return;
    for (const auto& [name, member] : at.value->items()) {
      const JsonAt entry{&member, json_path(at.path, name)};
      const std::vector<std::string> effects = is_or ? std::vector<std::string>() : state_names(own());
      if (std::ranges::count(effects, name) > 0 && std::ranges::count(state_names(variables_[link.cause]), name) == 0) {
        add_problem(problems_, entry.path, quoted(name) + " is a state of the effect, not of the cause",
                    "name the fault state of " + quoted(variables_[link.cause].name) + " first: {\"" +
                        variables_[link.cause].states.back().name + "\": {\"" + name + "\": ...}}");
        continue;
      }
      const auto state = rows_.fault_state_named(name, link.cause, entry.path);
      if (!state) continue;
      if (is_or) {
        if (const auto strength = rows_.probability_at(entry)) set_strength(link.effect, *state, *strength);
      } else {
        const std::vector<double> row = rows_.row_at(entry, own());
        std::copy(row.begin(), row.end(), link.effect.row(*state).begin());
      }
    }
  }

  [[nodiscard]] std::size_t whole_number_at(const JsonAt& at) {
    constexpr double most = 1e9;
    const double value = number_at(at, problems_).value_or(1.0);
    if (value >= 1.0 && value <= most && std::floor(value) == value) return static_cast<std::size_t>(value);
    add_problem(problems_, at.path, "it is " + shortest_form(value), "it must be a whole number of at least 1");
    return 1;
  }

  [[nodiscard]] CountOf read_count(const JsonAt& at, const std::string& kind) {
    CountOf count;
    JsonAt inputs = at;
    if (kind == "at_least") {
      JsonFields fields(at, problems_);
      fields.allow_only({"count", "of"});
      inputs = fields.needed("of", "a list of inputs");
      if (const JsonAt number = fields.needed("count", "how many of the inputs must hold"); number.there()) {
        count.at_least = whole_number_at(number);
      }
    }
    for (const JsonAt& element : JsonFields::elements_of(inputs, problems_)) {
      if (const auto gate = input_at(element)) count.inputs.push_back(*gate);
    }
    if (kind == "all") count.at_least = count.inputs.size();
    if (count.inputs.empty() && inputs.there() && inputs.value->is_array() && inputs.value->empty()) {
      add_problem(problems_, inputs.path, "it is an empty list", "name at least one input");
    }
    return count;
  }

  /// A name (any state but the first) or {"of": name, "is": states}.
  [[nodiscard]] std::optional<Gate> input_at(const JsonAt& at) {
    if (at.value->is_string()) {
      const auto variable = rows_.variable_at(at);
      if (!variable) return std::nullopt;
      Gate gate{*variable, {}};
      for (std::size_t s = 1; s < variables_[*variable].states.size(); ++s) gate.states.push_back(s);
      return gate;
    }
    if (!at.value->is_object()) {
      wrong_type(at, "a name, or {\"of\": name, \"is\": states}", problems_);
      return std::nullopt;
    }
    JsonFields fields(at, problems_);
    fields.allow_only({"of", "is"});
    const JsonAt of = fields.needed("of", "the name of a variable");
    const JsonAt is = fields.needed("is", "a state, or a list of them");
    const auto variable = of.there() ? rows_.variable_at(of) : std::nullopt;
    if (!variable || !is.there()) return std::nullopt;
    return Gate{*variable, rows_.states_at(is, *variable)};
  }

  [[nodiscard]] Examination read_examination(const JsonAt& at) {
    Examination examination;
    JsonFields fields(at, problems_);
    fields.allow_only({"component", "detects", "false_alarm"});
    const JsonAt of = fields.needed("component", "the name of the component examined");
    const JsonAt detects =
        fields.needed("detects", "P(second outcome) while it is faulty: one number, or one for each fault state");
    const JsonAt alarm = fields.needed("false_alarm", "P(second outcome) while the component is sound");
    if (alarm.there()) examination.false_alarm = rows_.probability_at(alarm).value_or(0.0);
    const auto component = of.there() ? rows_.variable_at(of) : std::nullopt;
    if (!component || !detects.there()) return examination;
    examination.component = *component;
    const std::size_t faults = std::max<std::size_t>(1, variables_[*component].states.size()) - 1;
    if (detects.value->is_object()) {
      examination.detection.assign(faults, examination.false_alarm);
      for (const auto& [name, member] : detects.value->items()) {
        const JsonAt entry{&member, json_path(detects.path, name)};
        const auto state = rows_.fault_state_named(name, *component, entry.path);
        const auto value = rows_.probability_at(entry);
        if (state && value) examination.detection[*state - 1] = *value;
      }
    } else if (const auto value = rows_.probability_at(detects)) {
      examination.detection.assign(faults, *value);
    }
    return examination;
  }

  const std::vector<Variable>& variables_;
  std::vector<Problem>& problems_;
  RowReader rows_;
  TableBudget budget_;
  std::size_t own_ = 0;
};

}  // namespace faultodds::detail

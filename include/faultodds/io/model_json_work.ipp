// Work, conditions, repairs and what ends a case, from the document. Part of model_json_read.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/io/json_fields.hpp"
#include "faultodds/io/model_json_lists.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds::detail {

/// Reads what is not a variable. Their names and states are known already.
class WorkReader {
 public:
  explicit WorkReader(const TableContext& context)
      : rows_(context), variables_(context.variables), unreadable_(context.unreadable), problems_(context.problems) {}

  /// `opening` as in work_members.
  [[nodiscard]] Work work(const JsonFields& fields, const std::string& opening) {
    Work work;
    work.minutes = fields.number("minutes");
    work.wait_minutes = fields.number("wait_minutes");
    work.money = fields.number("money");
    for (const JsonAt& element : fields.elements("by_context")) read_by_context(element, work.by_context);
    if (!opening.empty()) {
      work.access = fields.texts(opening);
      work.conditions = fields.texts("conditions");
    }
    work.tools = fields.texts("tools");
    work.skill = fields.text("skill");
    work.cautions = fields.texts("cautions");
    work.source = fields.text("cost_source");
    return work;
  }

  [[nodiscard]] Access access(JsonFields fields, std::string name) {
    fields.allow_only(with_work({"name", "label", "description"}, "needs"));
    return {std::move(name), fields.text("label"), fields.text("description"), work(fields, "needs")};
  }

  [[nodiscard]] Condition condition(JsonFields fields, std::string name) {
    fields.allow_only(with_work({"name", "label", "description", "group", "at_start"}, ""));
    return {std::move(name),      fields.text("label"),    fields.text("description"),
            fields.text("group"), fields.flag("at_start"), work(fields, "")};
  }

  [[nodiscard]] HandOver hand_over(JsonFields fields, std::string name) {
    fields.allow_only({"name", "label", "description", "money", "wait_minutes", "tells", "repair", "source"});
    return {std::move(name),
            fields.text("label"),
            fields.text("description"),
            fields.number("money"),
            fields.number("wait_minutes"),
            fields.text("tells"),
            fields.text("source"),
            repair_elsewhere(fields.member("repair"))};
  }

  /// Nothing if the member is missing.
  [[nodiscard]] std::optional<RepairCheck> verification(const JsonAt& at) {
    if (!at.there()) return std::nullopt;
    JsonFields fields(at, problems_);
    fields.allow_only(with_work({"label", "procedure", "false_cured", "false_still_there", "source"}, "access"));
    RepairCheck check;
    check.label = fields.text("label");
    check.procedure = fields.text("procedure");
    check.work = work(fields, "access");
    check.false_cured = fields.number("false_cured").value_or(0.0);
    check.false_still_there = fields.number("false_still_there").value_or(0.0);
    check.source = fields.text("source");
    return check;
  }

  [[nodiscard]] std::optional<Comeback> comeback(const JsonAt& at) {
    if (!at.there()) return std::nullopt;
    JsonFields fields(at, problems_);
    fields.allow_only({"money", "minutes", "source"});
    return Comeback{fields.number("money"), fields.number("minutes"), fields.text("source")};
  }

  [[nodiscard]] std::optional<LiveWith> live_with(const JsonAt& at) {
    if (!at.there()) return std::nullopt;
    JsonFields fields(at, problems_);
    fields.allow_only({"money", "source"});
    std::ignore = fields.needed("money", "what it costs to leave the complaint as it is");
    return LiveWith{fields.number("money").value_or(0.0), fields.text("source")};
  }

  /// Nothing if it has problems of its own, or its component has.
  [[nodiscard]] std::optional<Repair> repair(JsonFields fields, std::string name) {
    fields.allow_only(
        with_work({"name", "label", "component", "mends", "success", "partial", "procedure", "verification", "source"},
                  "access"));
    const std::size_t before = problems_.size();
    Repair repair;
    repair.name = std::move(name);
    repair.label = fields.text("label");
    repair.procedure = fields.text("procedure");
    repair.success = fields.number("success").value_or(1.0);
    repair.source = fields.text("source");
    repair.work = work(fields, "access");
    repair.verification = verification(fields.member("verification"));
    const JsonAt of = fields.needed("component", "the name of the component it mends");
    const auto component = of.there() ? rows_.variable_at(of) : std::nullopt;
    if (component && std::ranges::count(unreadable_, variables_[*component].name) > 0) return std::nullopt;
    if (component) {
      repair.component = *component;
      if (const JsonAt mends = fields.member("mends"); mends.there()) {
        if (!mends.value->is_array() || !mends.value->empty() || !fields.member("partial").there())
          repair.mends = rows_.states_at(mends, *component);
      } else {
        for (std::size_t s = 1; s < variables_[*component].states.size(); ++s) repair.mends.push_back(s);
      }
      if (const JsonAt partial = fields.member("partial"); partial.there())
        read_partial(partial, *component, repair.partial);
    }
    if (problems_.size() > before) return std::nullopt;
    return repair;
  }

 private:
  [[nodiscard]] std::optional<RepairElsewhere> repair_elsewhere(const JsonAt& at) {
    if (!at.there()) return std::nullopt;
    JsonFields fields(at, problems_);
    fields.allow_only({"times_ours", "other"});
    std::ignore = fields.needed("other", "what a repair costs there that this model does not name");
    return RepairElsewhere{fields.number("times_ours").value_or(1.0), fields.number("other").value_or(0.0)};
  }

  void read_by_context(const JsonAt& at, std::vector<ContextCost>& rows) {
    JsonFields fields(at, problems_);
    fields.allow_only({"when", "minutes", "money", "wait_minutes"});
    const std::size_t before = problems_.size();
    ContextCost row;
    const JsonAt when = fields.needed("when", "states of contexts, such as {\"engine\": \"transverse\"}");
    if (when.there()) row.when = rows_.gates_at(when);
    row.minutes = fields.number("minutes");
    row.money = fields.number("money");
    row.wait_minutes = fields.number("wait_minutes");
    if (problems_.size() == before) rows.push_back(std::move(row));
  }

  /// {"clogged": {"dirty": 0.3}}
  void read_partial(const JsonAt& at, VariableIndex component, std::vector<Easing>& partial) {
    if (!JsonFields(at, problems_).is_object()) return;
    for (const auto& [from_name, to] : at.value->items()) {
      const JsonAt entry{&to, json_path(at.path, from_name)};
      const auto from = rows_.fault_state_named(from_name, component, entry.path);
      if (!JsonFields(entry, problems_).is_object()) continue;
      for (const auto& [to_name, number] : to.items()) {
        const JsonAt chance{&number, json_path(entry.path, to_name)};
        const auto state = rows_.fault_state_named(to_name, component, chance.path);
        const auto probability = rows_.probability_at(chance);
        if (from && state && probability) partial.push_back({*from, *state, *probability});
      }
    }
  }

  RowReader rows_;
  const std::vector<Variable>& variables_;
  const std::vector<std::string>& unreadable_;
  std::vector<Problem>& problems_;
};

}  // namespace faultodds::detail

// Work, conditions, repairs and what ends a case, to the document. Part of model_json_write.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/io/json_document.hpp"
#include "faultodds/model/fault_model.hpp"

namespace faultodds::detail {

inline void add_text(Json& object, const char* member, const std::string& text) {
  if (!text.empty()) object[member] = text;
}
inline void add_texts(Json& object, const char* member, const std::vector<std::string>& texts) {
  if (!texts.empty()) object[member] = texts;
}
inline void add_flag(Json& object, const char* member, bool flag) {
  if (flag) object[member] = true;
}
inline void add_number(Json& object, const char* member, const std::optional<double>& number) {
  if (number) object[member] = *number;
}

[[nodiscard]] inline std::vector<StateIndex> all_but_first(const Variable& variable) {
  std::vector<StateIndex> states;
  for (std::size_t s = 1; s < variable.states.size(); ++s) states.push_back(s);
  return states;
}

[[nodiscard]] inline Json state_list(const Variable& variable, const std::vector<StateIndex>& states) {
  Json names = Json::array();
  for (const StateIndex state : states) names.push_back(variable.states[state].name);
  return names;
}

/// One state as a name, several as a list.
[[nodiscard]] inline Json states_of(const Variable& variable, const std::vector<StateIndex>& states) {
  if (states.size() == 1) return variable.states[states.front()].name;
  return state_list(variable, states);
}

/// Variables and the states they are to be in.
inline void add_gates(Json& object, const char* member, const std::vector<Gate>& gates,
                      const std::vector<Variable>& variables) {
  for (const Gate& gate : gates) {
    const Variable& variable = variables[gate.variable];
    object[member][variable.name] = states_of(variable, gate.states);
  }
}

/// Members come in a fixed order; what is empty or the default is left out.
class WorkWriter {
 public:
  explicit WorkWriter(const ModelParts& parts) : parts_(parts) {}

  /// `opening` is the name of the member that lists opening work.
  void add_work(Json& object, const Work& work, const char* opening) const {
    add_number(object, "minutes", work.minutes);
    add_number(object, "wait_minutes", work.wait_minutes);
    add_number(object, "money", work.money);
    for (const ContextCost& row : work.by_context) object["by_context"].push_back(written(row));
    add_texts(object, opening, work.access);
    add_texts(object, "conditions", work.conditions);
    add_texts(object, "tools", work.tools);
    add_text(object, "skill", work.skill);
    add_texts(object, "cautions", work.cautions);
    add_text(object, "cost_source", work.source);
  }

  [[nodiscard]] Json written(const Condition& condition) const {
    Json object{{"name", condition.name}};
    add_text(object, "label", condition.label);
    add_text(object, "description", condition.description);
    add_text(object, "group", condition.group);
    add_flag(object, "at_start", condition.at_start);
    add_work(object, condition.work, "access");
    return object;
  }

  [[nodiscard]] Json written(const Access& access) const {
    Json object{{"name", access.name}};
    add_text(object, "label", access.label);
    add_text(object, "description", access.description);
    add_work(object, access.work, "needs");
    return object;
  }

  [[nodiscard]] Json written(const Repair& repair) const {
    const Variable& component = parts_.variables[repair.component];
    Json object{{"name", repair.name}};
    add_text(object, "label", repair.label);
    object["component"] = component.name;
    if (repair.mends != all_but_first(component)) object["mends"] = state_list(component, repair.mends);
    object["success"] = repair.success;
    for (const Easing& easing : repair.partial)
      object["partial"][component.states[easing.from].name][component.states[easing.to].name] = easing.probability;
    add_text(object, "procedure", repair.procedure);
    add_work(object, repair.work, "access");
    if (repair.verification) object["verification"] = written(*repair.verification);
    add_text(object, "source", repair.source);
    return object;
  }

  [[nodiscard]] Json written(const HandOver& hand_over) const {
    Json object{{"name", hand_over.name}};
    add_text(object, "label", hand_over.label);
    add_text(object, "description", hand_over.description);
    add_number(object, "money", hand_over.money);
    add_number(object, "wait_minutes", hand_over.wait_minutes);
    add_text(object, "tells", hand_over.tells);
    if (hand_over.repair)
      object["repair"] = {{"times_ours", hand_over.repair->times_ours}, {"other", hand_over.repair->other}};
    add_text(object, "source", hand_over.source);
    return object;
  }

  [[nodiscard]] Json written(const RepairCheck& check) const {
    Json object = Json::object();
    add_text(object, "label", check.label);
    add_text(object, "procedure", check.procedure);
    object["false_cured"] = check.false_cured;
    object["false_still_there"] = check.false_still_there;
    add_work(object, check.work, "access");
    add_text(object, "source", check.source);
    return object;
  }

  [[nodiscard]] Json written(const Comeback& comeback) const {
    Json object = Json::object();
    add_number(object, "money", comeback.money);
    add_number(object, "minutes", comeback.minutes);
    add_text(object, "source", comeback.source);
    return object;
  }

  [[nodiscard]] Json written(const LiveWith& live_with) const {
    Json object{{"money", live_with.money}};
    add_text(object, "source", live_with.source);
    return object;
  }

 private:
  [[nodiscard]] Json written(const ContextCost& row) const {
    Json object{{"when", Json::object()}};
    add_gates(object, "when", row.when, parts_.variables);
    add_number(object, "minutes", row.minutes);
    add_number(object, "money", row.money);
    add_number(object, "wait_minutes", row.wait_minutes);
    return object;
  }

  const ModelParts& parts_;
};

}  // namespace faultodds::detail

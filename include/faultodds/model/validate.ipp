// What a fault model is checked for before it becomes one. Everything found is collected; nothing is changed.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include "faultodds/model/validate.hpp"
#include "faultodds/model/validate_gates.ipp"
#include "faultodds/model/validate_readings.ipp"
#include "faultodds/model/validate_tables.ipp"
#include "faultodds/model/validate_work.ipp"

namespace faultodds::detail {

inline Places plain_places(const ModelParts& parts) {
  const auto named = [](const auto& list, const std::string& kind, const std::string& prefix) {
    std::vector<std::string> places;
    places.reserve(list.size());
    for (std::size_t i = 0; i < list.size(); ++i) {
      places.push_back(list[i].name.empty() ? kind + '[' + std::to_string(i) + ']' : prefix + list[i].name);
    }
    return places;
  };
  Places places;
  places.variables = named(parts.variables, "variables", "");
  places.access = named(parts.access, "access", "access ");
  places.tools = named(parts.tools, "tools", "tool ");
  places.skills = named(parts.skills, "skills", "skill ");
  places.cautions = named(parts.cautions, "cautions", "caution ");
  places.repairs = named(parts.repairs, "repairs", "repair ");
  places.conditions = named(parts.conditions, "conditions", "condition ");
  places.hand_overs = named(parts.hand_overs, "hand_overs", "hand-over ");
  for (std::size_t i = 0; i < parts.potentials.size(); ++i)
    places.potentials.push_back("potentials[" + std::to_string(i) + ']');
  places.header = "header";
  return places;
}

/// Names that are empty or taken already.
template <class Named>
void check_names(const std::vector<Named>& list, const std::vector<std::string>& places, const std::string& kind,
                 std::vector<Problem>& problems) {
  std::unordered_map<std::string, std::size_t> first;
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].name.empty()) {
      add_problem(problems, places[i], "the " + kind + " has no name", "give it a name of its own");
    } else if (const auto [known, fresh] = first.emplace(list[i].name, i); !fresh) {
      const std::string& before = places[known->second];
      add_problem(problems, places[i],
                  "the " + kind + " name " + quoted(list[i].name) + " is used twice" +
                      (before == places[i] ? "" : " (before: " + before + ')'),
                  "each " + kind + " needs a name of its own");
    }
  }
}

inline void check_reveals(const ModelParts& parts, const Test& test, const std::string& place,
                          std::vector<Problem>& problems) {
  std::unordered_set<std::size_t> seen;
  for (const std::size_t v : test.reveals) {
    if (v >= parts.variables.size()) {
      add_problem(problems, place, "it reveals the variable with index " + std::to_string(v),
                  "name symptoms of the model");
    } else if (const Variable& revealed = parts.variables[v]; revealed.role() != Role::symptom) {
      add_problem(problems, place, "it reveals " + quoted(revealed.name) + ", which is no symptom",
                  "name symptoms of the model");
    } else if (!seen.insert(v).second) {
      add_problem(problems, place, "it reveals " + quoted(revealed.name) + " twice", "name each symptom once");
    }
  }
}

inline void check_variable(const ModelParts& parts, std::size_t v, RowScaling policy, WorkCheck& works,
                           const std::string& place, std::vector<Problem>& problems) {
  const Variable& variable = parts.variables[v];
  if (variable.states.empty()) {
    add_problem(problems, place, "it has no states", "list at least one, the sound or absent one first");
  }
  std::unordered_set<std::string> seen;
  for (const State& state : variable.states) {
    if (state.name.empty()) {
      add_problem(problems, place, "one of its states has no name", "name every state");
    } else if (!seen.insert(state.name).second) {
      add_problem(problems, place, "it has two states named " + quoted(state.name),
                  "each state needs a name of its own");
    }
  }
  if (const auto* test = std::get_if<Test>(&variable.what)) {
    works.check(test->work, place);
    if (test->reading) ReadingCheck(variable, *test->reading, place, problems).run();
    check_reveals(parts, *test, place, problems);
    check_test_gates(parts, v, test->only_when, place + ".only_when", problems);
    check_test_gates(parts, v, test->not_when, place + ".not_when", problems);
  }
  TableCheck(parts, v, policy, place, problems).run();
}

inline std::vector<std::vector<std::size_t>> find_cycles(const std::vector<std::vector<std::size_t>>& next) {
  enum class Mark : std::uint8_t { fresh, open, done };
  std::vector<Mark> marks(next.size(), Mark::fresh);
  std::vector<std::vector<std::size_t>> cycles;
  std::vector<bool> reported(next.size(), false);
  std::vector<std::pair<std::size_t, std::size_t>> path;  // a node and the edge to follow next
  for (std::size_t start = 0; start < next.size(); ++start) {
    if (marks[start] != Mark::fresh) continue;
    marks[start] = Mark::open;
    path.emplace_back(start, 0);
    while (!path.empty()) {
      const std::size_t node = path.back().first;
      if (path.back().second == next[node].size()) {
        marks[node] = Mark::done;
        path.pop_back();
        continue;
      }
      const std::size_t target = next[node][path.back().second++];
      if (target >= next.size() || target == node) continue;
      if (marks[target] == Mark::fresh) {
        marks[target] = Mark::open;
        path.emplace_back(target, 0);
      } else if (marks[target] == Mark::open) {
        const auto begin =
            std::find_if(path.begin(), path.end(), [&](const auto& step) { return step.first == target; });
        const bool news = std::none_of(begin, path.end(), [&](const auto& step) { return reported[step.first]; });
        if (!news) continue;
        std::vector<std::size_t> cycle;
        for (auto step = begin; step != path.end(); ++step) {
          cycle.push_back(step->first);
          reported[step->first] = true;
        }
        cycle.push_back(target);
        cycles.push_back(std::move(cycle));
      }
    }
  }
  return cycles;
}

inline void check_variable_cycles(const ModelParts& parts, const Places& places, std::vector<Problem>& problems) {
  std::vector<std::vector<std::size_t>> children(parts.variables.size());
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    for (const VariableIndex parent : parents_of(parts.variables[v].distribution)) {
      if (parent < children.size()) children[parent].push_back(v);
    }
  }
  for (const auto& cycle : find_cycles(children)) {
    add_problem(problems, places.variables[cycle.front()],
                "the tables form a cycle: " + path_text(cycle, parts.variables),
                "a cause cannot depend on its own effect; remove one of these arrows");
  }
}

inline void check_precondition_cycles(const ModelParts& parts, const Places& places, std::vector<Problem>& problems) {
  std::vector<std::vector<std::size_t>> preconditions(parts.variables.size());
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    for (const Gate& gate : as_test(parts.variables[v]).only_when) preconditions[v].push_back(gate.variable);
  }
  for (const auto& cycle : find_cycles(preconditions)) {
    add_problem(problems, places.variables[cycle.front()] + ".only_when",
                "these tests are preconditions of one another: " + path_text(cycle, parts.variables),
                "one of them must come first; give it no precondition");
  }
}

inline void check_access_cycles(const ModelParts& parts, const Places& places, std::vector<Problem>& problems) {
  std::unordered_map<std::string, std::size_t> index;
  for (std::size_t i = 0; i < parts.access.size(); ++i) index.emplace(parts.access[i].name, i);
  std::vector<std::vector<std::size_t>> needs(parts.access.size());
  for (std::size_t i = 0; i < parts.access.size(); ++i) {
    for (const std::string& name : parts.access[i].work.access) {
      const auto known = index.find(name);
      if (known == index.end()) continue;
      needs[i].push_back(known->second);
      if (known->second == i) {
        add_problem(problems, places.access[i], "it needs itself", "name only what must be open before");
      }
    }
  }
  for (const auto& cycle : find_cycles(needs)) {
    add_problem(problems, places.access[cycle.front()], "these need one another: " + path_text(cycle, parts.access),
                "one of them must come first; remove one of these needs");
  }
}

inline std::vector<Problem> find_problems(const ModelParts& parts, RowScaling policy, const Places& places) {
  std::vector<Problem> problems;
  if (!std::isfinite(parts.header.labour_rate) || parts.header.labour_rate < 0.0) {
    add_problem(problems, places.header, "the labour rate is " + shortest_form(parts.header.labour_rate),
                "it must be a number of at least 0");
  }
  check_names(parts.skills, places.skills, "skill", problems);
  check_names(parts.tools, places.tools, "tool", problems);
  check_names(parts.cautions, places.cautions, "caution", problems);
  check_names(parts.access, places.access, "access", problems);
  check_names(parts.variables, places.variables, "variable", problems);
  check_names(parts.repairs, places.repairs, "repair", problems);
  check_names(parts.conditions, places.conditions, "condition", problems);
  check_names(parts.hand_overs, places.hand_overs, "hand-over", problems);

  WorkCheck works(parts, problems);
  for (std::size_t i = 0; i < parts.conditions.size(); ++i) works.check(parts.conditions[i], places.conditions[i]);
  for (std::size_t i = 0; i < parts.access.size(); ++i) works.check(parts.access[i].work, places.access[i], "needs");
  check_access_cycles(parts, places, problems);
  for (std::size_t v = 0; v < parts.variables.size(); ++v) {
    check_variable(parts, v, policy, works, places.variables[v], problems);
  }
  check_variable_cycles(parts, places, problems);
  check_precondition_cycles(parts, places, problems);
  for (std::size_t i = 0; i < parts.potentials.size(); ++i) {
    check_potential(parts, parts.potentials[i], places.potentials[i], problems);
  }
  for (std::size_t i = 0; i < parts.repairs.size(); ++i) works.check(parts.repairs[i], places.repairs[i]);
  for (std::size_t i = 0; i < parts.hand_overs.size(); ++i) works.check(parts.hand_overs[i], places.hand_overs[i]);
  works.check_ends(places);
  return problems;
}

inline std::vector<ScaledRow> scale_rows(ModelParts& parts) {
  std::vector<ScaledRow> scaled;
  for (Variable& variable : parts.variables) {
    std::size_t row = 0;
    const auto scale = [&](std::span<double> values) {
      if (row_state(values) != RowState::exact) {
        scaled.push_back({variable.name, row, row_sum(values)});
        scale_row(values);
      }
      ++row;
    };
    if (auto* table = std::get_if<FullTable>(&variable.distribution)) {
      for (std::size_t r = 0; r < table->rows.rows(); ++r) scale(table->rows.row(r));
    } else if (auto* noisy = std::get_if<NoisyMax>(&variable.distribution)) {
      scale(noisy->leak);
      for (Link& link : noisy->links) {
        for (std::size_t s = 0; s < link.effect.rows(); ++s) scale(link.effect.row(s));
      }
    }
  }
  return scaled;
}

}  // namespace faultodds::detail

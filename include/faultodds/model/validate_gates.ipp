// Checks of the gates that are not part of a table. Part of validate.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <string>
#include <unordered_set>
#include <vector>

#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

/// Checks a list of gates: each names another variable of the model, and states of it. `remedy` says which variables
/// are meant; those that are not are for the caller to refuse.
inline void check_gates(const ModelParts& parts, const std::vector<Gate>& gates, const std::string& place,
                        const std::string& remedy, std::vector<Problem>& problems) {
  std::unordered_set<std::size_t> seen;
  for (const Gate& gate : gates) {
    if (gate.variable >= parts.variables.size()) {
      add_problem(problems, place, "it names the variable with index " + std::to_string(gate.variable), remedy);
      continue;
    }
    const Variable& variable = parts.variables[gate.variable];
    if (!seen.insert(gate.variable).second)
      add_problem(problems, place, "it names " + quoted(variable.name) + " twice", "list all its states together");
    if (gate.states.empty())
      add_problem(problems, place, "it names no state of " + quoted(variable.name), "name at least one");
    std::unordered_set<std::size_t> states;
    for (const StateIndex state : gate.states) {
      if (state >= variable.states.size()) {
        add_problem(problems, place,
                    "it has the state index " + std::to_string(state) + ", but " + quoted(variable.name) + " has " +
                        counted(variable.states.size(), "state"),
                    "state indices run from 0");
      } else if (!states.insert(state).second) {
        add_problem(problems, place,
                    "it names " + quoted(variable.states[state].name) + " of " + quoted(variable.name) + " twice",
                    "name each state once");
      }
    }
  }
}

/// What lets a test in or rules it out must be something that can be found without doing that test.
inline void check_test_gates(const ModelParts& parts, std::size_t test, const std::vector<Gate>& gates,
                             const std::string& place, std::vector<Problem>& problems) {
  const std::string remedy = "a test depends on what can be found: name contexts, symptoms or other tests";
  check_gates(parts, gates, place, remedy, problems);
  const std::vector<VariableIndex>& reveals = as_test(parts.variables[test]).reveals;
  for (const Gate& gate : gates) {
    if (gate.variable >= parts.variables.size()) continue;
    const Variable& found = parts.variables[gate.variable];
    if (gate.variable == test) {
      add_problem(problems, place, "it depends on itself", "name only what can be known before it");
    } else if (found.role() != Role::context && found.role() != Role::symptom && found.role() != Role::test) {
      add_problem(problems, place, "nobody finds " + quoted(found.name) + " out directly", remedy);
    } else if (std::find(reveals.begin(), reveals.end(), gate.variable) != reveals.end()) {
      add_problem(problems, place, "it depends on " + quoted(found.name) + ", which it reveals itself",
                  "leave that out here, or out of \"reveals\"");
    }
  }
}

}  // namespace faultodds::detail

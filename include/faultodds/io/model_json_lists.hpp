// The lists of variables in a model file.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <vector>

#include "faultodds/model/variable.hpp"

namespace faultodds::detail {

inline constexpr const char* model_format = "faultodds-model";
inline constexpr int model_format_version = 1;

/// The members that say what a piece of work costs and demands; `opening` names the work before it, if there can be
/// any.
[[nodiscard]] inline std::vector<std::string> work_members(const std::string& opening) {
  std::vector<std::string> members = {"minutes", "wait_minutes", "money", "by_context"};
  if (!opening.empty()) members.insert(members.end(), {opening, "conditions"});
  members.insert(members.end(), {"tools", "skill", "cautions", "cost_source"});
  return members;
}

/// Those members after others.
[[nodiscard]] inline std::vector<std::string> with_work(std::vector<std::string> members, const std::string& opening) {
  const std::vector<std::string> work = work_members(opening);
  members.insert(members.end(), work.begin(), work.end());
  return members;
}

/// A list of variables in the file: its name, what its elements are, their states if none are given, and the members
/// only they have.
struct VariableList {
  std::string name;
  RoleFacts what;
  std::vector<std::string> default_states;
  std::vector<std::string> members;
};

inline const std::vector<VariableList>& variable_lists() {
  static const std::vector<VariableList> lists = {
      {"context", Context{}, {}, {"question"}},
      {"components", Component{}, {"sound", "faulty"}, {"system", "remainder"}},
      {"hidden", Hidden{}, {}, {}},
      {"symptoms", Symptom{}, {"absent", "present"}, {"question", "complaint", "code", "conditions"}},
      {"tests",
       Test{},
       {"good", "bad"},
       with_work({"question", "procedure", "reading", "reveals", "only_when", "not_when"}, "access")},
      {"variables", Unclassified{}, {}, {}}};
  return lists;
}

}  // namespace faultodds::detail

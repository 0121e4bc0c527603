// Bodies of joint_gains.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/decision/planning/separation.hpp"
#include "faultodds/decision/ranking/entropy.hpp"
#include "faultodds/decision/ranking/joint_gains.hpp"

namespace faultodds::detail {

inline double table_size(const FaultModel& model, std::span<const VariableIndex> variables) {
  double size = 1.0;
  for (const VariableIndex variable : variables) size *= static_cast<double>(model.state_count(variable));
  return size;
}

inline bool JointGains::is_target(VariableIndex variable) const {
  return std::find(targets_.begin(), targets_.end(), variable) != targets_.end();
}

/// True if the test's own table says all about it: nothing found and no target depends on it, and all its parents
/// without a hard finding are targets, of which there is one.
inline bool JointGains::depends_on_targets(VariableIndex test) const {
  if (!is_barren(case_, test)) return false;
  std::vector<VariableIndex> below = case_.model().children(test);
  while (!below.empty()) {
    const std::size_t v = below.back();
    below.pop_back();
    if (is_target(v)) return false;
    below.insert(below.end(), case_.model().children(v).begin(), case_.model().children(v).end());
  }
  std::size_t open = 0;
  for (const VariableIndex parent : case_.model().parents(test)) {
    if (known_state(case_.findings(), parent)) continue;
    if (!is_target(parent)) return false;
    ++open;
  }
  return open > 0;
}

inline std::optional<GainForm> JointGains::form_of(VariableIndex test) {
  if (is_target(test)) return std::nullopt;
  if (!depends_on_targets(test)) return std::nullopt;
  return GainForm::make(case_, batch_, test, entry_limit_, terms_);
}

inline std::optional<double> JointGains::gain_bits(VariableIndex test) try {
  const FaultModel& model = case_.model();
  if (is_target(test)) return entropy_bits(case_.posterior(test));
  if (const auto form = form_of(test); form.has_value()) return form->gain_bits(form->measure(batch_), 1.0);
  std::vector<VariableIndex> scope = separating_targets(case_, test, targets_);
  if (scope.empty()) return 0.0;
  scope.push_back(test);
  if (table_size(model, scope) > entry_limit_) return std::nullopt;
  return mutual_information_bits(case_.joint(scope).probabilities, model.state_count(test));
} catch (const TooLarge&) {
  return std::nullopt;
}

}  // namespace faultodds::detail

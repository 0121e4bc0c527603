// Bodies of information.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/decision/planning/separation.hpp"
#include "faultodds/decision/ranking/information.hpp"
#include "faultodds/decision/ranking/joint_gains.hpp"

namespace faultodds {
inline std::optional<double> joint_entropy_bits(const Case& current, std::span<const VariableIndex> targets,
                                                double max_entries) {
  std::vector<VariableIndex> ordered;
  for (const std::size_t v : current.model().topological_order()) {
    if (std::find(targets.begin(), targets.end(), v) != targets.end()) ordered.push_back(v);
  }
  std::vector<std::vector<VariableIndex>> scopes;
  for (std::size_t i = 0; i < ordered.size(); ++i) {
    scopes.push_back(separating_targets(current, ordered[i], std::span(ordered).first(i)));
    scopes.back().push_back(ordered[i]);
    if (detail::table_size(current.model(), scopes.back()) > max_entries) return std::nullopt;
  }
  double bits = 0.0;
  for (const std::vector<VariableIndex>& scope : scopes) {
    const std::vector<double> joint = current.joint(scope).probabilities;
    const std::size_t columns = current.model().state_count(scope.back());
    std::vector<double> before(joint.size() / columns, 0.0);
    for (std::size_t k = 0; k < joint.size(); ++k) before[k / columns] += joint[k];
    bits += entropy_bits(joint) - entropy_bits(before);
  }
  return std::max(bits, 0.0);
}

inline std::optional<double> joint_gain_bits(const Case& current, VariableIndex test,
                                             std::span<const VariableIndex> targets, double max_entries) {
  BatchedReweighing batch = current.batched_reweighing();
  return detail::JointGains(current, batch, targets, max_entries).gain_bits(test);
}

}  // namespace faultodds

// Which targets a test depends on directly: the others say nothing more about it once these are known.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// The smallest part B of `targets` that d-separation grants: given the findings and B, `variable` is independent of
/// the other targets. Bayes ball (Shachter 1998) with the targets held fixed. In model order. `variable` itself is
/// never in it.
[[nodiscard]] std::vector<VariableIndex> separating_targets(const Case& current, VariableIndex variable,
                                                            std::span<const VariableIndex> targets);

namespace detail {

/// By variable: true if it is above one of these.
inline std::vector<bool> ancestors_of(const FaultModel& model, std::vector<VariableIndex> open) {
  std::vector<bool> above(model.size(), false);
  while (!open.empty()) {
    const std::size_t v = open.back();
    open.pop_back();
    for (const VariableIndex parent : model.parents(v)) {
      if (above[parent]) continue;
      above[parent] = true;
      open.push_back(parent);
    }
  }
  return above;
}

/// True if nothing found depends on the variable, so that its table holds given its parents.
inline bool is_barren(const Case& current, VariableIndex variable) {
  if (!current.model().parts().potentials.empty()) return false;
  std::vector<VariableIndex> open{variable};
  while (!open.empty()) {
    const std::size_t v = open.back();
    open.pop_back();
    if (current.finding_of(v) != nullptr) return false;
    for (const VariableIndex child : current.model().children(v)) open.push_back(child);
  }
  return true;
}

class BayesBall {
 public:
  BayesBall(const Case& current, std::size_t source, std::span<const VariableIndex> targets)
      : model_(current.model()),
        source_(source),
        target_(model_.size(), false),
        hard_(model_.size(), false),
        soft_(model_.size(), false),
        from_parent_(model_.size(), false),
        from_child_(model_.size(), false) {
    for (const VariableIndex target : targets) target_[target] = target != source;
    for (const Finding& finding : current.findings()) {
      (finding.state.has_value() ? hard_ : soft_)[finding.variable] = true;
    }
  }

  [[nodiscard]] std::vector<VariableIndex> run() {
    roll_up(source_);
    while (!open_.empty()) {
      const Visit visit = open_.back();
      open_.pop_back();
      const bool fixed = target_[visit.variable] || hard_[visit.variable];
      if (visit.down) {
        if (!fixed) to_children(visit.variable);
        if (fixed || soft_[visit.variable]) to_parents(visit.variable);
      } else if (!fixed || visit.variable == source_) {
        to_parents(visit.variable);
        to_children(visit.variable);
      }
    }
    std::vector<VariableIndex> hit;
    for (std::size_t v = 0; v < model_.size(); ++v) {
      if (target_[v] && (from_parent_[v] || from_child_[v])) hit.push_back(v);
    }
    return hit;
  }

 private:
  struct Visit {
    VariableIndex variable;
    bool down;  // the ball comes from a parent
  };

  void roll_up(VariableIndex variable) {
    if (from_child_[variable]) return;
    from_child_[variable] = true;
    open_.push_back({variable, false});
  }
  void to_parents(VariableIndex variable) {
    for (const VariableIndex parent : model_.parents(variable)) roll_up(parent);
  }
  void to_children(VariableIndex variable) {
    for (const VariableIndex child : model_.children(variable)) {
      if (from_parent_[child]) continue;
      from_parent_[child] = true;
      open_.push_back({child, true});
    }
  }

  const FaultModel& model_;
  std::size_t source_;
  std::vector<bool> target_, hard_, soft_, from_parent_, from_child_;
  std::vector<Visit> open_;
};

}  // namespace detail

inline std::vector<VariableIndex> separating_targets(const Case& current, VariableIndex variable,
                                                     std::span<const VariableIndex> targets) {
  static_cast<void>(current.model().variable(variable));  // range checks
  for (const VariableIndex target : targets) static_cast<void>(current.model().variable(target));
  if (!current.model().parts().potentials.empty()) {
    std::vector<VariableIndex> others;
    for (const VariableIndex target : targets) {
      if (target != variable) others.push_back(target);
    }
    return others;
  }
  return detail::BayesBall(current, variable, targets).run();
}

}  // namespace faultodds

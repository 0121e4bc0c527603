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

inline double table_size(const FaultModel& model, std::span<const std::size_t> variables) {
  double size = 1.0;
  for (const std::size_t variable : variables) size *= static_cast<double>(model.state_count(variable));
  return size;
}

/// True if the test's table says all about it: nothing found depends on it, and its parents without a hard finding are
/// those of `scope`.
inline bool hangs_on_exactly(const Case& current, std::size_t test, std::span<const std::size_t> scope) {
  if (!is_barren(current, test)) return false;
  std::vector<std::size_t> parents = current.model().parents(test);
  std::erase_if(parents, [&](std::size_t parent) {
    const Finding* finding = current.finding_of(parent);
    return finding != nullptr && finding->state.has_value();
  });
  std::sort(parents.begin(), parents.end());
  return std::equal(parents.begin(), parents.end(), scope.begin(), scope.end());
}

inline std::optional<GainForm> JointGains::form_over(std::size_t test, std::span<const std::size_t> scope) {
  if (scope.empty() || !hangs_on_exactly(case_, test, scope)) return std::nullopt;
  return GainForm::make(case_, batch_, test, entry_limit_, terms_);
}

inline std::optional<GainForm> JointGains::form_of(std::size_t test) {
  if (std::find(targets_.begin(), targets_.end(), test) != targets_.end()) return std::nullopt;
  return form_over(test, separating_targets(case_, test, targets_));
}

inline std::optional<double> JointGains::gain_bits(std::size_t test) try {
  const FaultModel& model = case_.model();
  if (std::find(targets_.begin(), targets_.end(), test) != targets_.end()) return entropy_bits(case_.posterior(test));
  std::vector<std::size_t> scope = separating_targets(case_, test, targets_);
  if (scope.empty()) return 0.0;
  if (const auto form = form_over(test, scope); form.has_value()) return form->gain_bits(form->measure(batch_), 1.0);
  scope.push_back(test);
  if (table_size(model, scope) > entry_limit_) return std::nullopt;
  return mutual_information_bits(case_.joint(scope).probabilities, model.state_count(test));
} catch (const TooLarge&) {
  return std::nullopt;
}

}  // namespace faultodds::detail

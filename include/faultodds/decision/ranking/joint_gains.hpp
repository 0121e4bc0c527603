// Gains of many tests about the joint state of some targets, from one calibrated tree.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/decision/ranking/gain_form.hpp"
#include "faultodds/inference/case.hpp"

namespace faultodds::detail {

/// I(targets; test | findings) for one test after the other. If the test depends on the targets through its own table
/// alone, that table and the joint of its parents suffice (GainForm; Zheng, Rish & Beygelzimer 2005); otherwise it
/// takes the joint of the test with the targets that separate it from the others.
class JointGains {
 public:
  JointGains(const Case& current, BatchedReweighing& batch, std::span<const VariableIndex> targets, double entry_limit)
      : case_(current), batch_(batch), targets_(targets.begin(), targets.end()), entry_limit_(entry_limit) {}

  /// Nothing if a table would exceed the limit.
  [[nodiscard]] std::optional<double> gain_bits(VariableIndex test);
  /// Of a test that depends on the targets through its own table.
  [[nodiscard]] std::optional<GainForm> form_of(VariableIndex test);

 private:
  [[nodiscard]] bool is_target(VariableIndex variable) const;
  [[nodiscard]] bool depends_on_targets(VariableIndex test) const;

  const Case& case_;
  BatchedReweighing& batch_;
  std::vector<VariableIndex> targets_;
  double entry_limit_;
  EntropyTerms terms_;
};

[[nodiscard]] double table_size(const FaultModel& model, std::span<const VariableIndex> variables);

}  // namespace faultodds::detail

#include "faultodds/decision/ranking/joint_gains.ipp"

// Two ways to go along a walk of findings with all posteriors read at every step: as a user of Case does, and on the
// propagation itself, without copies.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "walk.hpp"

namespace faultodds_benchmarks {

/// Through the public class Case, posteriors returned as vectors.
class CaseWalker {
 public:
  CaseWalker(const faultodds::Solver& solver, const std::vector<Step>& walk);

  [[nodiscard]] std::size_t size() const noexcept { return walk_.size(); }
  /// Changes the finding of this step, the case being at the step before; all posteriors.
  std::vector<std::vector<double>> incremental(std::size_t step);
  /// The findings of this step in a new case; all posteriors.
  [[nodiscard]] std::vector<std::vector<double>> full(std::size_t step) const;

 private:
  std::vector<Step> walk_;
  std::vector<faultodds::Finding> findings_;  // by step
  std::vector<std::vector<faultodds::Finding>> along_;
  faultodds::Case current_;
};

/// On a propagation, posteriors left where they are. For solvers with one junction tree for all cases.
class PropagationWalker {
 public:
  PropagationWalker(const faultodds::Solver& solver, const std::vector<Step>& walk);

  [[nodiscard]] std::size_t size() const noexcept { return walk_.size(); }
  /// As above; returns log P(findings), so that no compiler leaves anything out.
  double incremental(std::size_t step);
  /// Takes all findings back and enters those of this step anew.
  double full(std::size_t step);

 private:
  void enter(const faultodds::Finding& finding);
  double read();

  std::vector<Step> walk_;
  std::vector<faultodds::Finding> findings_;  // by step
  std::vector<std::vector<faultodds::Finding>> along_;
  faultodds::Propagation propagation_;
};

/// Table entries that a junction tree holds after what is impossible was dropped.
[[nodiscard]] double kept_entries(const faultodds::JunctionTree& tree);

}  // namespace faultodds_benchmarks

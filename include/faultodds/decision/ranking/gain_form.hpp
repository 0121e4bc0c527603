// What a test says about its parents, worked out from its own table: made once, for any measure on the parents.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/decision/ranking/noisy_entropy.hpp"
#include "faultodds/inference/case.hpp"

namespace faultodds::detail {

/// I(parents; test) as a function of numbers that are linear in the measure on the parents: their joint if it is
/// small, otherwise the moments of a noisy-MAX table (NoisyForm).
class GainForm {
 public:
  /// Nothing if the test's table is too large to be written out and not a noisy-MAX one with settled gates, or if
  /// a parent is not in the tree. Parents with a hard finding are fixed; nothing found may depend on the test.
  [[nodiscard]] static std::optional<GainForm> make(const Case& current, BatchedReweighing& batch, VariableIndex test,
                                                    double entry_limit, EntropyTerms& terms);

  /// Those numbers under the measure of `batch`, which has mass one.
  [[nodiscard]] std::vector<double> measure(BatchedReweighing& batch) const;
  /// I(parents; test) in bits, of such numbers under a measure of this mass.
  [[nodiscard]] double gain_bits(std::span<const double> numbers, double mass) const;
  /// P(outcome) under the same.
  [[nodiscard]] std::vector<double> outcomes(std::span<const double> numbers, double mass) const;

 private:
  struct ByTable {
    std::vector<VariableIndex> parents;  // those without a hard finding
    std::vector<std::size_t> sizes;
    Table rows;  // P(test | those parents)
  };
  using ByMoments = std::shared_ptr<const NoisyForm>;

  explicit GainForm(ByTable form) : form_(std::move(form)) {}
  explicit GainForm(ByMoments form) : form_(std::move(form)) {}
  [[nodiscard]] static std::vector<double> joint_of(const ByTable& form, BatchedReweighing& batch);

  std::variant<ByTable, ByMoments> form_;
};

}  // namespace faultodds::detail

#include "faultodds/decision/ranking/gain_form.ipp"

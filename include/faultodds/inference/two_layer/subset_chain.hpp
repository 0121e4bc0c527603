// Sums over who accounts for what: items that account for effects, taken one after the other.
//
// A function over the subsets U of some effects says how much weight there is on "the effects of U are accounted for,
// and no others". That of two items together is sum over S u T = U of f(S) g(T); all terms are positive, so that
// nothing cancels, as it does where the same sums are taken by inclusion and exclusion (D. Heckerman, A tractable
// inference algorithm for diagnosing multiple diseases, UAI 1989).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/junction_tree/aligned.hpp"
#include "faultodds/inference/junction_tree/kernels.hpp"
#include "faultodds/inference/two_layer/effect_sets.hpp"

namespace faultodds::detail {

/// Weights of an effect once every item that can account for it has been taken.
struct EffectEnd {
  double if_not = 0.0;
  double if_so = 1.0;
};

/// Something that can account for effects. Its function is a table over their subsets, the lowest effect running
/// fastest, each entry a vector of lanes.
///
/// Or some of the links of a cause that has too many of them to be taken at once: the state of the cause, in binary, is
/// then carried like effects, from the first item that speaks of it to the last. That first item's function is a table
/// over the states; the others have a single entry, which is one.
struct SubsetItem {
  EffectSet effects = 0;
  EffectSet state = 0;         ///< the bits that carry the state, the lowest ones first; 0: no such cause
  std::vector<double> shares;  ///< of such a cause: [state][subset of effects]: P(these are accounted for | state)
};

/// What it takes to join items in a given order, whatever their functions. An effect is carried from the first item
/// that can account for it to the last; then it is closed with its weights, unless it is kept.
class SubsetChain {
 public:
  /// A step multiplies what is carried by a sparse matrix that is the same for all subsets of the effects that the item
  /// does not touch (the places). Its coefficients are linear in the item's function.
  struct Step {
    struct Term {
      std::uint32_t entry = 0;        ///< of the item's function
      std::uint32_t coefficient = 0;  ///< to which it adds
      double factor = 1.0;
    };
    /// The coefficients of one result after the other, in offsets of doubles.
    struct Order {
      std::vector<std::uint32_t> runs;     ///< by result, and the end: its first coefficient
      std::vector<std::uint32_t> results;  ///< by result: where it goes
      std::vector<std::uint32_t> sources;  ///< by coefficient: what it multiplies
    };
    std::size_t entries = 0;  ///< of the item's function
    std::vector<Term> terms;
    Order onward;                                 ///< from before the step to after it
    Order back;                                   ///< from after the step to before it
    std::vector<std::uint32_t> back_of;           ///< by coefficient in the order `back`: its number in `onward`
    std::vector<std::uint32_t> before, after;     ///< by place: offsets
    std::size_t size_before = 1, size_after = 1;  ///< doubles
  };

  /// `items`, in order. `ends`: by effect; not asked for where it is kept.
  SubsetChain(std::span<const SubsetItem> items, EffectSet kept, std::span<const EffectEnd> ends);

  [[nodiscard]] const std::vector<Step>& steps() const noexcept { return steps_; }
  /// Multiplications of one run through it, about.
  [[nodiscard]] static double multiplications(std::span<const SubsetItem> items, EffectSet kept);

 private:
  void add_step(const SubsetItem& item, EffectSet before, EffectSet after, std::span<const EffectEnd> ends);

  std::vector<Step> steps_;
};

/// One vector of lanes run through a chain, forward and back. Nothing is allocated after construction.
class SubsetRun {
 public:
  explicit SubsetRun(const SubsetChain& chain);

  /// The function of an item, to be filled in before running: [entry][lane]. All ones before.
  [[nodiscard]] double* function(std::size_t item) { return functions_.data() + function_begin_[item]; }
  /// Joins all items; the result is a function over the effects kept.
  void forward();
  [[nodiscard]] const double* result() const { return states_.data() + state_begin_.back(); }
  /// After forward(): the slope of sum_U result(U) weights(U) in each function, with these weights.
  void back(const double* weights);
  [[nodiscard]] const double* slope(std::size_t item) const { return slopes_.data() + function_begin_[item]; }

 private:
  [[nodiscard]] SubsetSweep sweep_of(const SubsetChain::Step& step) const;
  void fill_coefficients(std::size_t step);
  void add_slopes(std::size_t step, const double* after);

  const SubsetChain* chain_;
  std::vector<std::size_t> function_begin_, state_begin_, coefficient_begin_;
  AlignedDoubles functions_, slopes_, states_;
  AlignedDoubles coefficients_;           // of all steps
  AlignedDoubles turned_, sums_;          // of one step: in the order `back`; of products
  std::array<AlignedDoubles, 2> behind_;  // by parity of the step: what comes back
};

/// By item, and at the end: the effects and states carried before it.
[[nodiscard]] std::vector<EffectSet> carried(std::span<const SubsetItem> items, EffectSet kept);

}  // namespace faultodds::detail

#include "faultodds/inference/two_layer/subset_chain.ipp"

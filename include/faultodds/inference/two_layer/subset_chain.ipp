// Bodies of subset_chain.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "faultodds/inference/two_layer/subset_chain.hpp"

namespace faultodds::detail {

/// By subset of `places`, ascending: where it stands in a function over the subsets of `set`, in doubles.
[[nodiscard]] inline std::vector<std::uint32_t> offsets_of_places(EffectSet places, EffectSet set) {
  std::vector<std::uint32_t> offsets{0};
  for (EffectSet left = places; left != 0; left &= left - 1) {
    const EffectSet lowest = left & (~left + 1);
    const auto stride = static_cast<std::uint32_t>(lanes * subsets_of(set & (lowest - 1)));
    const std::size_t count = offsets.size();
    for (std::size_t i = 0; i < count; ++i) offsets.push_back(offsets[i] + stride);
  }
  return offsets;
}

inline std::vector<EffectSet> carried(std::span<const SubsetItem> items, EffectSet kept) {
  std::vector<EffectSet> behind(items.size() + 1, kept);  // still to be met from here on
  for (std::size_t i = items.size(); i-- > 0;) behind[i] = behind[i + 1] | items[i].effects | items[i].state;
  std::vector<EffectSet> result{0};
  EffectSet taken = 0;
  for (std::size_t i = 0; i < items.size(); ++i) {
    taken |= items[i].effects | items[i].state;
    result.push_back(taken & behind[i + 1]);
  }
  return result;
}

inline double SubsetChain::multiplications(std::span<const SubsetItem> items, EffectSet kept) {
  const std::vector<EffectSet> sets = carried(items, kept);
  double total = 0.0;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const EffectSet all = sets[i] | items[i].effects | items[i].state;
    const EffectSet inside = items[i].effects & sets[i] & sets[i + 1];  // three coefficients for two entries
    total += std::pow(2.0, std::popcount(all & ~inside)) * std::pow(3.0, std::popcount(inside));
  }
  return total;
}

inline SubsetChain::SubsetChain(std::span<const SubsetItem> items, EffectSet kept, std::span<const EffectEnd> ends) {
  const std::vector<EffectSet> sets = carried(items, kept);
  for (std::size_t i = 0; i < items.size(); ++i) add_step(items[i], sets[i], sets[i + 1], ends);
}

/// The coefficients from a row of numbers to another: those that some term adds to, in the order of their results.
class SubsetMatrix {
 public:
  static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

  SubsetMatrix(std::size_t results, std::size_t sources) : sources_(sources), numbers_(results * sources, none) {}

  void use(std::size_t result, std::size_t source) { numbers_[result * sources_ + source] = 0; }
  void number() {
    std::uint32_t next = 0;
    for (std::uint32_t& number : numbers_) {
      if (number != none) number = next++;
    }
  }
  [[nodiscard]] std::uint32_t operator()(std::size_t result, std::size_t source) const {
    return numbers_[result * sources_ + source];
  }

  /// The same coefficients by their sources if `back`; the numbers of these go into `of`.
  [[nodiscard]] SubsetChain::Step::Order order(bool back, std::span<const std::uint32_t> result_offsets,
                                               std::span<const std::uint32_t> source_offsets,
                                               std::vector<std::uint32_t>* of) const {
    SubsetChain::Step::Order made;
    for (std::size_t r = 0; r < result_offsets.size(); ++r) {
      made.runs.push_back(static_cast<std::uint32_t>(made.sources.size()));
      made.results.push_back(result_offsets[r]);
      for (std::size_t s = 0; s < source_offsets.size(); ++s) {
        const std::uint32_t number = back ? (*this)(s, r) : (*this)(r, s);
        if (number == none) continue;
        made.sources.push_back(source_offsets[s]);
        if (of != nullptr) of->push_back(number);
      }
    }
    made.runs.push_back(static_cast<std::uint32_t>(made.sources.size()));
    return made;
  }

 private:
  std::size_t sources_;
  std::vector<std::uint32_t> numbers_;
};

/// Calls visit(effects and state before, the same after, entry of the item's function, factor) for each way to get from
/// one to the other.
template <typename Visit>
void for_each_way(const SubsetItem& item, EffectSet before, Visit&& visit) {
  const EffectSet from = (item.effects | item.state) & before;
  if (item.state == 0) {
    for_each_subset(from, [&](EffectSet source) {
      for_each_subset(item.effects,
                      [&](EffectSet taken) { visit(source, source | taken, number_in(item.effects, taken), 1.0); });
    });
    return;
  }
  const bool opens = (item.state & before) == 0;
  const std::size_t states = item.shares.size() / subsets_of(item.effects);
  for_each_subset(item.state, [&](EffectSet state) {
    const std::uint32_t number = number_in(item.state, state);
    if (number >= states) return;
    for_each_subset(from & item.effects, [&](EffectSet source) {
      for_each_subset(item.effects, [&](EffectSet taken) {
        const double share = item.shares[number * subsets_of(item.effects) + number_in(item.effects, taken)];
        if (share > 0.0) visit(opens ? source : source | state, source | taken | state, opens ? number : 0, share);
      });
    });
  });
}

inline void SubsetChain::add_step(const SubsetItem& item, EffectSet before, EffectSet after,
                                  std::span<const EffectEnd> ends) {
  const EffectSet all = item.effects | item.state;
  const EffectSet from = all & before;
  const EffectSet to = all & after;
  const auto weight_of_closed = [&](EffectSet covered) {
    double weight = 1.0;
    for (EffectSet left = item.effects & ~after; left != 0; left &= left - 1) {
      const EffectEnd& end = ends[static_cast<std::size_t>(std::countr_zero(left))];
      weight *= (covered & left & (~left + 1)) != 0 ? end.if_so : end.if_not;
    }
    return weight;
  };
  const auto for_each_term = [&](auto&& visit) {
    for_each_way(item, before, [&](EffectSet source, EffectSet covered, std::uint32_t entry, double factor) {
      const double weight = factor * weight_of_closed(covered);
      if (weight > 0.0) visit(number_in(to, covered & to), number_in(from, source), entry, weight);
    });
  };
  Step step;
  step.entries = item.state == 0 ? subsets_of(item.effects) : 1;
  if ((item.state & ~before) != 0) step.entries = subsets_of(item.state);
  SubsetMatrix matrix(subsets_of(to), subsets_of(from));
  for_each_term([&](std::uint32_t result, std::uint32_t source, std::uint32_t, double) { matrix.use(result, source); });
  matrix.number();
  for_each_term([&](std::uint32_t result, std::uint32_t source, std::uint32_t entry, double weight) {
    step.terms.push_back({entry, matrix(result, source), weight});
  });
  const std::vector<std::uint32_t> to_offsets = offsets_of_places(to, after);
  const std::vector<std::uint32_t> from_offsets = offsets_of_places(from, before);
  step.onward = matrix.order(false, to_offsets, from_offsets, nullptr);
  step.back = matrix.order(true, from_offsets, to_offsets, &step.back_of);
  step.before = offsets_of_places(before & ~all, before);
  step.after = offsets_of_places(before & ~all, after);
  step.size_before = lanes * subsets_of(before);
  step.size_after = lanes * subsets_of(after);
  steps_.push_back(std::move(step));
}

inline SubsetRun::SubsetRun(const SubsetChain& chain) : chain_(&chain) {
  std::size_t functions = 0;
  std::size_t states = lanes;
  std::size_t coefficients = 0;
  std::size_t max_coefficients = 0;
  std::size_t max_states = lanes;
  state_begin_.push_back(0);
  for (const SubsetChain::Step& step : chain.steps()) {
    function_begin_.push_back(functions);
    functions += step.entries * lanes;
    state_begin_.push_back(states);
    states += step.size_after;
    coefficient_begin_.push_back(coefficients);
    const std::size_t here = step.onward.sources.size() * lanes;
    coefficients += here;
    max_coefficients = std::max(max_coefficients, here);
    max_states = std::max(max_states, step.size_before);
  }
  functions_.resize(functions, 1.0);
  slopes_.resize(functions);
  states_.resize(states);
  std::fill_n(states_.begin(), lanes, 1.0);
  coefficients_.resize(coefficients);
  turned_.resize(max_coefficients);
  sums_.resize(max_coefficients);
  for (AlignedDoubles& behind : behind_) behind.resize(max_states);
}

inline SubsetSweep SubsetRun::sweep_of(const SubsetChain::Step& step) const {
  SubsetSweep sweep;
  sweep.places = step.before.size();
  sweep.result_places = step.after.data();
  sweep.source_places = step.before.data();
  sweep.runs = step.onward.runs.data();
  sweep.run_count = step.onward.results.size();
  sweep.results = step.onward.results.data();
  sweep.sources = step.onward.sources.data();
  return sweep;
}

inline void SubsetRun::fill_coefficients(std::size_t index) {
  const SubsetChain::Step& step = chain_->steps()[index];
  double* const coefficients = coefficients_.data() + coefficient_begin_[index];
  std::fill_n(coefficients, step.onward.sources.size() * lanes, 0.0);
  const double* const function = functions_.data() + function_begin_[index];
  for (const SubsetChain::Step::Term& term : step.terms) {
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      coefficients[term.coefficient * lanes + lane] += term.factor * function[term.entry * lanes + lane];
    }
  }
}

inline void SubsetRun::forward() {
  for (std::size_t i = 0; i < chain_->steps().size(); ++i) {
    fill_coefficients(i);
    SubsetSweep sweep = sweep_of(chain_->steps()[i]);
    sweep.with = coefficients_.data() + coefficient_begin_[i];
    sweep.from = states_.data() + state_begin_[i];
    sweep.to = states_.data() + state_begin_[i + 1];
    native_kernels().sum_subsets(sweep);
  }
}

inline void SubsetRun::add_slopes(std::size_t index, const double* after) {
  const SubsetChain::Step& step = chain_->steps()[index];
  SubsetSweep sweep = sweep_of(step);
  sweep.with = after;
  sweep.from = states_.data() + state_begin_[index];
  sweep.to = sums_.data();
  native_kernels().two_layer_slopes(sweep);
  double* const slope = slopes_.data() + function_begin_[index];
  std::fill_n(slope, step.entries * lanes, 0.0);
  for (const SubsetChain::Step::Term& term : step.terms) {
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      slope[term.entry * lanes + lane] += term.factor * sums_[term.coefficient * lanes + lane];
    }
  }
}

inline void SubsetRun::back(const double* weights) {
  for (std::size_t i = chain_->steps().size(); i-- > 0;) {
    add_slopes(i, weights);
    if (i == 0) return;
    const SubsetChain::Step& step = chain_->steps()[i];
    const double* const coefficients = coefficients_.data() + coefficient_begin_[i];
    for (std::size_t k = 0; k < step.back_of.size(); ++k) {
      std::copy_n(coefficients + step.back_of[k] * lanes, lanes, turned_.data() + k * lanes);
    }
    SubsetSweep sweep;
    sweep.places = step.before.size();
    sweep.result_places = step.before.data();
    sweep.source_places = step.after.data();
    sweep.runs = step.back.runs.data();
    sweep.run_count = step.back.results.size();
    sweep.results = step.back.results.data();
    sweep.sources = step.back.sources.data();
    sweep.with = turned_.data();
    sweep.from = weights;
    sweep.to = behind_[i % 2].data();
    native_kernels().sum_subsets(sweep);
    weights = behind_[i % 2].data();
  }
}

}  // namespace faultodds::detail

// The loops of subset_kernels.hpp, inlined into the functions of kernels.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <utility>

#include "faultodds/inference/junction_tree/lanes.hpp"
#include "faultodds/inference/two_layer/subset_kernels.hpp"

namespace faultodds::detail {

/// Places that share the loads of coefficients.
inline constexpr std::size_t places_at_once = 4;

template <std::size_t Places>
[[gnu::always_inline]] inline void subset_places(const SubsetSweep& sweep, std::size_t first) {
  using L = Lanes;
  using Vectors = std::array<L::Vector, Places>;
  static constexpr auto each = [](auto&& body) { unrolled(std::make_index_sequence<Places>{}, body); };
  for (std::size_t run = 0; run < sweep.run_count; ++run) {
    Vectors sums{};
    for (std::size_t k = sweep.runs[run]; k < sweep.runs[run + 1]; ++k) {
      const double* const from = sweep.from + sweep.sources[k];
      L::Vector coefficient;
      L::load(coefficient, sweep.with + k * lanes);
      each([&](auto p) {
        L::Vector product = coefficient;
        L::multiply(product, from + sweep.source_places[first + p]);
        sums[p] += product;
      });
    }
    double* const to = sweep.to + sweep.results[run];
    each([&](auto p) { L::store(to + sweep.result_places[first + p], sums[p]); });
  }
}

/// result(place, r) = sum over the coefficients of r of coefficient x source(place, coefficient)
[[gnu::always_inline]] inline void sum_subsets(const SubsetSweep& sweep) {
  std::size_t place = 0;
  for (; place + places_at_once <= sweep.places; place += places_at_once) {
    subset_places<places_at_once>(sweep, place);
  }
  if (place + 2 <= sweep.places) return subset_places<2>(sweep, place);
  if (place < sweep.places) subset_places<1>(sweep, place);
}

template <std::size_t Places>
[[gnu::always_inline]] inline void add_two_layer_slopes(const SubsetSweep& sweep, std::size_t first) {
  using L = Lanes;
  using Vectors = std::array<L::Vector, Places>;
  static constexpr auto each = [](auto&& body) { unrolled(std::make_index_sequence<Places>{}, body); };
  for (std::size_t run = 0; run < sweep.run_count; ++run) {
    const double* const with = sweep.with + sweep.results[run];
    Vectors behind;
    each([&](auto p) { L::load(behind[p], with + sweep.result_places[first + p]); });
    for (std::size_t k = sweep.runs[run]; k < sweep.runs[run + 1]; ++k) {
      const double* const from = sweep.from + sweep.sources[k];
      L::Vector sum{};
      each([&](auto p) {
        L::Vector product = behind[p];
        L::multiply(product, from + sweep.source_places[first + p]);
        sum += product;
      });
      L::add(sweep.to + k * lanes, sum);
    }
  }
}

/// slope(coefficient) = sum over places of source(place, coefficient) x what comes back at its result
[[gnu::always_inline]] inline void two_layer_slopes(const SubsetSweep& sweep) {
  const Lanes::Vector zero{};
  for (std::size_t k = 0; k < sweep.runs[sweep.run_count]; ++k) Lanes::store(sweep.to + k * lanes, zero);
  std::size_t place = 0;
  for (; place + places_at_once <= sweep.places; place += places_at_once) {
    add_two_layer_slopes<places_at_once>(sweep, place);
  }
  if (place + 2 <= sweep.places) return add_two_layer_slopes<2>(sweep, place);
  if (place < sweep.places) add_two_layer_slopes<1>(sweep, place);
}

}  // namespace faultodds::detail

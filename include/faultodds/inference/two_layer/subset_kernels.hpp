// The loops of two-layer sums (subset_chain.hpp): a small sparse matrix, the same for many places of a long vector.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "faultodds/inference/junction_tree/lanes.hpp"

namespace faultodds::detail {

/// A matrix by results, each of which has a run of coefficients. All offsets are in doubles, and whatever is there
/// is a vector of lanes.
struct SubsetSweep {
  std::size_t places = 1;                        ///< one, or an even number
  const std::uint32_t* result_places = nullptr;  ///< by place: added to `results`
  const std::uint32_t* source_places = nullptr;  ///< by place: added to `sources`
  std::size_t run_count = 0;
  const std::uint32_t* runs = nullptr;     ///< by result, and the end: its first coefficient
  const std::uint32_t* results = nullptr;  ///< by result
  const std::uint32_t* sources = nullptr;  ///< by coefficient
  const double* from = nullptr;            ///< at the sources
  const double* with = nullptr;            ///< sum_subsets: coefficients; two_layer_slopes: at the results
  double* to = nullptr;  ///< sum_subsets: at the results; two_layer_slopes: by coefficient; overwritten
};

/// Places that share the loads of coefficients.
inline constexpr std::size_t places_at_once = 4;

template <typename Tag, std::size_t Places>
[[gnu::always_inline]] inline void subset_places(const SubsetSweep& sweep, std::size_t first) {
  using L = Lanes<Tag>;
  using Vectors = std::array<typename L::Vector, Places>;
  static constexpr auto each = [](auto&& body) { unrolled<Tag>(std::make_index_sequence<Places>{}, body); };
  for (std::size_t run = 0; run < sweep.run_count; ++run) {
    Vectors sums{};
    for (std::size_t k = sweep.runs[run]; k < sweep.runs[run + 1]; ++k) {
      const double* const from = sweep.from + sweep.sources[k];
      typename L::Vector coefficient;
      L::load(coefficient, sweep.with + k * lanes);
      each([&](auto p) {
        typename L::Vector product = coefficient;
        L::multiply(product, from + sweep.source_places[first + p]);
        sums[p] += product;
      });
    }
    double* const to = sweep.to + sweep.results[run];
    each([&](auto p) { L::store(to + sweep.result_places[first + p], sums[p]); });
  }
}

/// result(place, r) = sum over the coefficients of r of coefficient x source(place, coefficient)
template <typename Tag>
void sum_subsets(const SubsetSweep& sweep) {
  std::size_t place = 0;
  for (; place + places_at_once <= sweep.places; place += places_at_once) {
    subset_places<Tag, places_at_once>(sweep, place);
  }
  if (place + 2 <= sweep.places) return subset_places<Tag, 2>(sweep, place);
  if (place < sweep.places) subset_places<Tag, 1>(sweep, place);
}

template <typename Tag, std::size_t Places>
[[gnu::always_inline]] inline void add_two_layer_slopes(const SubsetSweep& sweep, std::size_t first) {
  using L = Lanes<Tag>;
  using Vectors = std::array<typename L::Vector, Places>;
  static constexpr auto each = [](auto&& body) { unrolled<Tag>(std::make_index_sequence<Places>{}, body); };
  for (std::size_t run = 0; run < sweep.run_count; ++run) {
    const double* const with = sweep.with + sweep.results[run];
    Vectors behind;
    each([&](auto p) { L::load(behind[p], with + sweep.result_places[first + p]); });
    for (std::size_t k = sweep.runs[run]; k < sweep.runs[run + 1]; ++k) {
      const double* const from = sweep.from + sweep.sources[k];
      typename L::Vector sum{};
      each([&](auto p) {
        typename L::Vector product = behind[p];
        L::multiply(product, from + sweep.source_places[first + p]);
        sum += product;
      });
      L::add(sweep.to + k * lanes, sum);
    }
  }
}

/// slope(coefficient) = sum over places of source(place, coefficient) x what comes back at its result
template <typename Tag>
void two_layer_slopes(const SubsetSweep& sweep) {
  const typename Lanes<Tag>::Vector zero{};
  for (std::size_t k = 0; k < sweep.runs[sweep.run_count]; ++k) Lanes<Tag>::store(sweep.to + k * lanes, zero);
  std::size_t place = 0;
  for (; place + places_at_once <= sweep.places; place += places_at_once) {
    add_two_layer_slopes<Tag, places_at_once>(sweep, place);
  }
  if (place + 2 <= sweep.places) return add_two_layer_slopes<Tag, 2>(sweep, place);
  if (place < sweep.places) add_two_layer_slopes<Tag, 1>(sweep, place);
}

}  // namespace faultodds::detail

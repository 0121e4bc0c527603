// The loops of kernels.hpp, compiled for more than one instruction set where processors of the kind differ.
//
// A loop is inlined whole into one function for each instruction set, and only that function's code is compiled for
// it: nothing else in the program can come to hold an instruction that the processor does not have. No fused
// multiply-add: all give the same bits.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <utility>

#include "faultodds/inference/junction_tree/kernels.hpp"
#include "faultodds/inference/junction_tree/lanes.hpp"
#include "faultodds/inference/two_layer/subset_kernels.ipp"

namespace faultodds::detail {

/// `Vectors` vectors of each block, beginning with vector `first`; returns their sum if a scalar output wants it.
template <std::size_t Vectors>
class Part {
 public:
  [[gnu::always_inline]] double sweep(const Sweep& sweep, const std::uint32_t* offsets, const double* table,
                                      double scale, std::size_t first) {
    std::array<Vector, Vectors> product;
    each([&](auto v) { product[v] = Vector{} + scale; });
    if (table != nullptr) each([&](auto v) { L::multiply(product[v], table + v * lanes); });
    if (sweep.lane_weights != nullptr) {
      const double* values = sweep.lane_weights + first;
      each([&](auto v) { L::multiply(product[v], values + v * lanes); });
    }
    for (std::size_t i = 0; i < sweep.vector_input_count; ++i) {
      const Input& input = sweep.vector_inputs[i];
      const double* values = input.values + offsets[input.column] + first;
      each([&](auto v) { L::multiply(product[v], values + v * lanes); });
    }
    for (std::size_t i = 0; i < sweep.vector_output_count; ++i) {
      const Output& output = sweep.vector_outputs[i];
      double* values = output.values + offsets[output.column] + first;
      each([&](auto v) { L::add(values + v * lanes, product[v]); });
    }
    if (sweep.lane_sums != nullptr) each([&](auto v) { sums_[v] += product[v]; });
    if (sweep.scalar_output_count == 0) return 0.0;
    Vector all = product[0];
    each([&](auto v) {
      if constexpr (v() != 0) all += product[v];
    });
    const Half half = __builtin_shufflevector(all, all, 0, 1) + __builtin_shufflevector(all, all, 2, 3);
    return half[0] + half[1];
  }

  [[gnu::always_inline]] void store_sums(double* to) const {
    each([&](auto v) { L::store(to + v * lanes, sums_[v]); });
  }

 private:
  using L = Lanes;
  using Vector = L::Vector;
  using Half = L::Half;

  template <typename Body>
  [[gnu::always_inline]] static void each(Body&& body) {
    unrolled(std::make_index_sequence<Vectors>{}, body);
  }
  std::array<Vector, Vectors> sums_{};
};

template <std::size_t Vectors>
[[gnu::always_inline]] inline void sweep_blocks(const Sweep& sweep) {
  constexpr std::size_t halves = Vectors > max_vectors_at_once ? 2 : 1;
  constexpr std::size_t step = Vectors / halves * lanes;
  std::array<Part<Vectors / halves>, halves> parts{};
  const std::uint32_t* offsets = sweep.offsets;
  const double* table = sweep.table;
  for (std::size_t block = 0; block < sweep.blocks; ++block) {
    double scale = 1.0;
    for (std::size_t i = 0; i < sweep.scalar_input_count; ++i) {
      scale *= sweep.scalar_inputs[i].values[offsets[sweep.scalar_inputs[i].column]];
    }
    double total = parts[0].sweep(sweep, offsets, table, scale, 0);
    if constexpr (halves == 2)
      total += parts[1].sweep(sweep, offsets, table == nullptr ? nullptr : table + step, scale, step);
    for (std::size_t i = 0; i < sweep.scalar_output_count; ++i) {
      sweep.scalar_outputs[i].values[offsets[sweep.scalar_outputs[i].column]] += total;
    }
    offsets += sweep.columns;
    if (table != nullptr) table += Vectors * lanes;
  }
  if (sweep.lane_sums == nullptr) return;
  parts[0].store_sums(sweep.lane_sums);
  if constexpr (halves == 2) parts[1].store_sums(sweep.lane_sums + step);
}

[[gnu::always_inline]] inline double largest_of(const double* values, std::size_t size) {
  using L = Lanes;
  L::Vector largest{};
  for (std::size_t i = 0; i < size; i += lanes) {
    L::Vector here;
    L::load(here, values + i);
    largest = here > largest ? here : largest;
  }
  double result = 0.0;
  for (std::size_t lane = 0; lane < lanes; ++lane) result = largest[lane] > result ? largest[lane] : result;
  return result;
}

[[gnu::always_inline]] inline void invert(const double* values, std::size_t size, double smallest, double scale,
                                          double* inverse) {
  using L = Lanes;
  for (std::size_t i = 0; i < size; i += lanes) {
    L::Vector here;
    L::load(here, values + i);
    L::store(inverse + i, here < smallest ? L::Vector{} : scale / here);
  }
}

[[gnu::always_inline]] inline void multiply(double* values, std::size_t size, const double* factors, double scale) {
  using L = Lanes;
  for (std::size_t i = 0; i < size; i += lanes) {
    L::Vector product;
    L::load(product, values + i);
    L::multiply(product, factors + i);
    product *= scale;
    L::store(values + i, product);
  }
}

/// The first `Inputs` stay in registers.
template <std::size_t Inputs>
[[gnu::always_inline]] inline void sum_runs_of(const RunSweep& sweep) {
  using L = Lanes;
  using Eight = std::array<L::Vector, products_at_once / lanes>;
  static constexpr auto each = [](auto&& body) {
    unrolled(std::make_index_sequence<products_at_once / lanes>{}, body);
  };
  std::array<ProductsInput, Inputs> inputs;
  for (std::size_t i = 0; i < Inputs; ++i) inputs[i] = sweep.inputs[i];
  for (std::size_t run = 0; run < sweep.run_count; ++run) {
    Eight sum{};
    for (std::size_t i = sweep.runs[run]; i < sweep.runs[run + 1]; ++i) {
      Eight product;
      each([&](auto v) { product[v] = L::Vector{} + sweep.table[i]; });
      for (const ProductsInput& input : inputs) {
        const double* values = input.values + input.offsets[i];
        each([&](auto v) { L::multiply(product[v], values + v * lanes); });
      }
      for (std::size_t more = Inputs; more < sweep.input_count; ++more) {
        const double* values = sweep.inputs[more].values + sweep.inputs[more].offsets[i];
        each([&](auto v) { L::multiply(product[v], values + v * lanes); });
      }
      each([&](auto v) { sum[v] += product[v]; });
    }
    double* output = sweep.output + sweep.output_offsets[sweep.runs[run]];
    each([&](auto v) { L::store(output + v * lanes, sum[v]); });
  }
}

[[gnu::always_inline]] inline void sum_runs(const RunSweep& sweep) {
  if (sweep.input_count == 0) return sum_runs_of<0>(sweep);
  if (sweep.input_count == 1) return sum_runs_of<1>(sweep);
  if (sweep.input_count == 2) return sum_runs_of<2>(sweep);
  sum_runs_of<3>(sweep);
}

[[gnu::always_inline]] inline void add_products(const ProductsSweep& sweep) {
  using L = Lanes;
  using Eight = std::array<L::Vector, products_at_once / lanes>;
  static constexpr auto each = [](auto&& body) {
    unrolled(std::make_index_sequence<products_at_once / lanes>{}, body);
  };
  for (std::size_t i = 0; i < sweep.entries; ++i) {
    Eight product;
    each([&](auto v) { product[v] = L::Vector{} + sweep.table[i]; });
    for (std::size_t k = 0; k < sweep.input_count; ++k) {
      const double* values = sweep.inputs[k].values + sweep.inputs[k].offsets[i];
      each([&](auto v) { L::multiply(product[v], values + v * lanes); });
    }
    for (std::size_t k = 0; k < sweep.output_count; ++k) {
      double* values = sweep.outputs[k].values + sweep.outputs[k].offsets[i];
      each([&](auto v) { L::add(values + v * lanes, product[v]); });
    }
  }
}

/// A loop for every processor of its kind.
template <auto Loop>
struct Portable;
template <typename Result, typename... Arguments, Result (*Loop)(Arguments...)>
struct Portable<Loop> {
  static Result run(Arguments... arguments) { return Loop(arguments...); }
};

/// The loop for blocks of so many vectors. None is needed for an odd number of vectors that go through in two halves.
template <template <auto> class For, std::size_t Vectors>
constexpr auto sweep_for() -> void (*)(const Sweep&) {
  if constexpr (block_width(Vectors * lanes) != Vectors * lanes) {
    return nullptr;
  } else {
    return &For<&sweep_blocks<Vectors>>::run;
  }
}

template <template <auto> class For, std::size_t... I>
constexpr Kernels compiled_for(std::index_sequence<I...>) {
  return {{sweep_for<For, I + 1>()...}, &For<&largest_of>::run,      &For<&invert>::run,
          &For<&multiply>::run,         &For<&sum_runs>::run,        &For<&add_products>::run,
          &For<&sum_subsets>::run,      &For<&two_layer_slopes>::run};
}

template <template <auto> class For>
inline constexpr Kernels kernels_for = compiled_for<For>(std::make_index_sequence<max_inner / lanes>{});

inline const Kernels& portable_kernels() { return kernels_for<Portable>; }

#if defined(__x86_64__)

/// The same for processors with AVX2.
template <auto Loop>
struct Avx2;
template <typename Result, typename... Arguments, Result (*Loop)(Arguments...)>
struct Avx2<Loop> {
  [[gnu::target("avx2"), gnu::flatten]] static Result run(Arguments... arguments) { return Loop(arguments...); }
};

inline const Kernels& native_kernels() {
  static const Kernels& kernels = __builtin_cpu_supports("avx2") ? kernels_for<Avx2> : portable_kernels();
  return kernels;
}

#else

inline const Kernels& native_kernels() { return portable_kernels(); }

#endif

}  // namespace faultodds::detail

// The one loop that does all propagation on junction trees: the product of a clique's table with its messages,
// added up onto others. And the table of all loops that are compiled for more than one instruction set.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "faultodds/inference/junction_tree/lanes.hpp"
#include "faultodds/inference/two_layer/subset_kernels.hpp"

namespace faultodds::detail {

inline constexpr std::size_t max_inner = 64;  ///< table entries in a block at most

/// A table that is read during a sweep, and its column among the offsets of a block.
struct Input {
  const double* values;
  std::size_t column;
};
/// A table that is added to.
struct Output {
  double* values;
  std::size_t column;
};

/// One pass over a clique. Scalars have one entry for a block, vectors one for each of its entries.
struct Sweep {
  const double* table = nullptr;  ///< [block][width]
  const std::uint32_t* offsets =
      nullptr;  ///< [block][column]: where the operand's entry or vector for the block begins
  std::size_t blocks = 0;
  std::size_t columns = 0;
  double scale = 1.0;                    ///< of every product
  const double* lane_weights = nullptr;  ///< [width]: met by every block; null: none
  double* lane_sums = nullptr;           ///< [width]: the sum of all blocks, overwritten; null: not wanted
  const Input* scalar_inputs = nullptr;
  std::size_t scalar_input_count = 0;
  const Input* vector_inputs = nullptr;
  std::size_t vector_input_count = 0;
  const Output* scalar_outputs = nullptr;
  std::size_t scalar_output_count = 0;
  const Output* vector_outputs = nullptr;
  std::size_t vector_output_count = 0;
};

/// Eight numbers for each entry of a table, one for each of eight products that are worked out side by side.
inline constexpr std::size_t products_at_once = 8;

/// A table of such numbers, and by entry of the sweep where the eight begin that it meets.
struct ProductsInput {
  const std::uint32_t* offsets;
  const double* values;
};

/// Runs of entries that go to the same eight numbers of the output, which are overwritten: run r has the entries from
/// runs[r] to runs[r + 1].
struct RunSweep {
  const double* table = nullptr;  ///< by entry; met by all eight
  const std::uint32_t* runs = nullptr;
  std::size_t run_count = 0;
  const ProductsInput* inputs = nullptr;
  std::size_t input_count = 0;
  const std::uint32_t* output_offsets = nullptr;  ///< by entry; the same within a run
  double* output = nullptr;
};

/// The loops that work on many entries, compiled for one instruction set. Message sizes are whole vectors.
struct Kernels {
  std::array<void (*)(const Sweep&), max_inner / lanes> sweeps;  ///< by width / lanes - 1
  double (*largest)(const double* values, std::size_t size);
  /// inverse = scale / values, or 0 if a value is below `smallest`.
  void (*invert)(const double* values, std::size_t size, double smallest, double scale, double* inverse);
  /// values *= factors * scale
  void (*multiply)(double* values, std::size_t size, const double* factors, double scale);
  void (*sum_runs)(const RunSweep& sweep);
  void (*sum_subsets)(const SubsetSweep& sweep);
  void (*two_layer_slopes)(const SubsetSweep& sweep);
};

/// `Vectors` vectors of each block, beginning with vector `first`; returns their sum if a scalar output wants it.
template <typename Tag, std::size_t Vectors>
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
  using L = Lanes<Tag>;
  using Vector = typename L::Vector;
  using Half = typename L::Half;

  template <typename Body>
  [[gnu::always_inline]] static void each(Body&& body) {
    unrolled<Tag>(std::make_index_sequence<Vectors>{}, body);
  }
  std::array<Vector, Vectors> sums_{};
};

/// Blocks of more vectors than the processor has registers go through in two halves.
inline constexpr std::size_t max_vectors_at_once = max_inner / lanes / 2;

template <typename Tag, std::size_t Vectors>
void sweep_blocks(const Sweep& sweep) {
  constexpr std::size_t halves = Vectors > max_vectors_at_once ? 2 : 1;
  constexpr std::size_t step = Vectors / halves * lanes;
  std::array<Part<Tag, Vectors / halves>, halves> parts{};
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

[[nodiscard]] constexpr std::size_t whole_vectors(std::size_t entries) { return (entries + lanes - 1) / lanes * lanes; }

/// A width that a block can have: whole vectors, in two equal halves if they are many.
[[nodiscard]] constexpr std::size_t block_width(std::size_t entries) {
  const std::size_t unit = entries > max_vectors_at_once * lanes ? 2 * lanes : lanes;
  return (entries + unit - 1) / unit * unit;
}

template <typename Tag>
double largest_of(const double* values, std::size_t size) {
  using L = Lanes<Tag>;
  typename L::Vector largest{};
  for (std::size_t i = 0; i < size; i += lanes) {
    typename L::Vector here;
    L::load(here, values + i);
    largest = here > largest ? here : largest;
  }
  double result = 0.0;
  for (std::size_t lane = 0; lane < lanes; ++lane) result = largest[lane] > result ? largest[lane] : result;
  return result;
}

template <typename Tag>
void invert(const double* values, std::size_t size, double smallest, double scale, double* inverse) {
  using L = Lanes<Tag>;
  for (std::size_t i = 0; i < size; i += lanes) {
    typename L::Vector here;
    L::load(here, values + i);
    L::store(inverse + i, here < smallest ? typename L::Vector{} : scale / here);
  }
}

template <typename Tag>
void multiply(double* values, std::size_t size, const double* factors, double scale) {
  using L = Lanes<Tag>;
  for (std::size_t i = 0; i < size; i += lanes) {
    typename L::Vector product;
    L::load(product, values + i);
    L::multiply(product, factors + i);
    product *= scale;
    L::store(values + i, product);
  }
}

/// The first `Inputs` stay in registers.
template <typename Tag, std::size_t Inputs>
void sum_runs_of(const RunSweep& sweep) {
  using L = Lanes<Tag>;
  using Eight = std::array<typename L::Vector, products_at_once / lanes>;
  static constexpr auto each = [](auto&& body) {
    unrolled<Tag>(std::make_index_sequence<products_at_once / lanes>{}, body);
  };
  std::array<ProductsInput, Inputs> inputs;
  for (std::size_t i = 0; i < Inputs; ++i) inputs[i] = sweep.inputs[i];
  for (std::size_t run = 0; run < sweep.run_count; ++run) {
    Eight sum{};
    for (std::size_t i = sweep.runs[run]; i < sweep.runs[run + 1]; ++i) {
      Eight product;
      each([&](auto v) { product[v] = typename L::Vector{} + sweep.table[i]; });
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

template <typename Tag>
void sum_runs(const RunSweep& sweep) {
  if (sweep.input_count == 0) return sum_runs_of<Tag, 0>(sweep);
  if (sweep.input_count == 1) return sum_runs_of<Tag, 1>(sweep);
  if (sweep.input_count == 2) return sum_runs_of<Tag, 2>(sweep);
  sum_runs_of<Tag, 3>(sweep);
}

/// The loops for the instruction set that the code with this tag is compiled for.
template <typename Tag>
inline constexpr Kernels kernels_of = []<std::size_t... I>(std::index_sequence<I...>) {
  return Kernels{
      {&sweep_blocks<Tag, I + 1>...}, &largest_of<Tag>, &invert<Tag>, &multiply<Tag>, &sum_runs<Tag>, &sum_subsets<Tag>,
      &two_layer_slopes<Tag>};
}
(std::make_index_sequence<max_inner / lanes>{});

/// The kernels to use on this processor.
[[nodiscard]] const Kernels& native_kernels();

}  // namespace faultodds::detail

#include "faultodds/inference/junction_tree/kernels.ipp"

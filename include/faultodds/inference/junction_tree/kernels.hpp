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

/// The same for tables that are added to.
struct ProductsOutput {
  const std::uint32_t* offsets;
  double* values;
};

/// Entries whose products are added to several tables.
struct ProductsSweep {
  const double* table = nullptr;  ///< by entry; met by all eight
  std::size_t entries = 0;
  const ProductsInput* inputs = nullptr;
  std::size_t input_count = 0;
  const ProductsOutput* outputs = nullptr;
  std::size_t output_count = 0;
};

/// The loops that work on many entries, compiled for one instruction set. Message sizes are whole vectors.
struct Kernels {
  std::array<void (*)(const Sweep&), max_inner / lanes> sweeps;  ///< by width / lanes - 1; null: no block_width
  double (*largest)(const double* values, std::size_t size);
  /// inverse = scale / values, or 0 if a value is below `smallest`.
  void (*invert)(const double* values, std::size_t size, double smallest, double scale, double* inverse);
  /// values *= factors * scale
  void (*multiply)(double* values, std::size_t size, const double* factors, double scale);
  void (*sum_runs)(const RunSweep& sweep);
  void (*add_products)(const ProductsSweep& sweep);
  void (*sum_subsets)(const SubsetSweep& sweep);
  void (*two_layer_slopes)(const SubsetSweep& sweep);
};

/// Blocks of more vectors than the processor has registers go through in two halves.
inline constexpr std::size_t max_vectors_at_once = max_inner / lanes / 2;

[[nodiscard]] constexpr std::size_t whole_vectors(std::size_t entries) { return (entries + lanes - 1) / lanes * lanes; }

/// A width that a block can have: whole vectors, in two equal halves if they are many.
[[nodiscard]] constexpr std::size_t block_width(std::size_t entries) {
  const std::size_t unit = entries > max_vectors_at_once * lanes ? 2 * lanes : lanes;
  return (entries + unit - 1) / unit * unit;
}

/// The kernels to use on this processor.
[[nodiscard]] const Kernels& native_kernels();
/// Those for every processor of its kind.
[[nodiscard]] const Kernels& portable_kernels();

}  // namespace faultodds::detail

#include "faultodds/inference/junction_tree/kernels.ipp"

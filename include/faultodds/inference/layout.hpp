// How a clique's table lies in memory, and the one sweep that all propagation is made of.
//
// The table is a list of blocks. A block holds all states of the clique's inner slots side by side, padded to whole
// vectors; the outer slots say which block. Messages, findings and marginals are operands, all alike: one that has an
// inner slot is met lane by lane, one without is a single number for the whole block.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "faultodds/inference/clique_tree.hpp"

namespace faultodds::detail {

inline constexpr std::size_t lanes = 4;        ///< doubles in a vector
inline constexpr std::size_t most_inner = 64;  ///< table entries in a block at most

/// A table over some slots of a clique as the sweep meets it. In its own (canonical) form, slots ascending and the last
/// running fastest, it has `size` entries; spread out for the sweep it has `spread` entries.
struct Operand {
  std::size_t size = 1;
  std::size_t spread = 1;
  bool vector = false;  ///< met lane by lane
  std::vector<std::uint32_t>
      source;  ///< by spread entry: its canonical entry; `size` where it is padding. Empty: the same
};

struct Layout {
  std::vector<std::size_t> inner;  ///< slots, the last running fastest
  std::vector<std::size_t> outer;  ///< slots, the last running fastest
  std::size_t width = lanes;       ///< doubles in a block, padding included
  std::size_t blocks = 1;
  std::vector<Operand> operands;
  std::vector<std::uint32_t> offsets;  ///< [block][operand]: where the operand's entry or vector for the block begins
  std::vector<std::uint32_t> kept;     ///< numbers of the blocks that are kept, ascending; empty where all are

  [[nodiscard]] const std::uint32_t* offsets_of(std::size_t block) const {
    return offsets.data() + block * operands.size();
  }
  [[nodiscard]] std::size_t table_size() const noexcept { return blocks * width; }
};

/// The inner slots that make a sweep with operands over `scopes` cheapest, ascending.
[[nodiscard]] std::vector<std::size_t> choose_inner(const Clique& clique, std::span<const std::size_t> state_counts,
                                                    std::span<const std::vector<std::size_t>> scopes);

/// Lays out a clique for operands over `scopes` (each an ascending subset of its slots).
[[nodiscard]] Layout make_layout(const Clique& clique, std::span<const std::size_t> state_counts,
                                 std::span<const std::vector<std::size_t>> scopes);

/// An operand taking part in a sweep: its column in the layout and its spread-out values.
struct Input {
  std::size_t column;
  const double* values;
};
struct Output {
  std::size_t column;
  double* values;
};

/// Operands of a sweep, split by how they are met. Kept between sweeps so that its memory is used again.
template <typename Part>
struct Parts {
  std::vector<Part> scalars;
  std::vector<Part> vectors;

  void clear() {
    scalars.clear();
    vectors.clear();
  }
  void add(const Layout& layout, Part part) {
    (layout.operands[part.column].vector ? vectors : scalars).push_back(part);
  }
};

/// For every entry of the table: the product of the table, `scale` and all inputs is added to all outputs.
void sweep(const Layout& layout, const double* table, double scale, const Parts<Input>& inputs,
           const Parts<Output>& outputs);

/// table *= product of the inputs.
void multiply_in(const Layout& layout, double* table, const Parts<Input>& inputs);

/// Narrows an operand to its support and to what the kept blocks meet: canonical entry i moves to place[i], or is gone
/// where that is `support`, the new number of entries.
void keep_support(Layout& layout, std::size_t column, std::span<const std::uint32_t> place, std::size_t support);

/// Adds a table up onto some of the clique's slots (in this order, the last running fastest) and normalises the result.
[[nodiscard]] std::vector<double> sum_onto(const Layout& layout, std::span<const double> table,
                                           std::span<const std::size_t> scope,
                                           std::span<const std::size_t> state_counts);

/// Canonical form to spread-out form; returns `values` itself where both are the same.
const double* spread_out(const Operand& operand, const double* values, double* scratch);
/// Adds up a spread-out operand into its canonical form (overwritten).
void gather_up(const Operand& operand, const double* spread, double* values);

}  // namespace faultodds::detail

#include "faultodds/inference/layout.ipp"

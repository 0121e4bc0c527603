// How a clique's table lies in memory, and how the clique meets tables over some of its slots.
//
// The table is a list of blocks. A block holds all states of the clique's inner slots side by side, padded to whole
// vectors; the outer slots say which block. A table over some of the slots is a scalar to the clique if it has none
// of the inner slots (one entry for a block), otherwise a vector (one entry for each entry of a block).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "faultodds/inference/junction_tree/aligned.hpp"
#include "faultodds/inference/junction_tree/kernels.hpp"
#include "faultodds/inference/junction_tree/tree_shape.hpp"
#include "faultodds/inference/memo.hpp"

namespace faultodds::detail {

using Slots = std::vector<std::size_t>;

/// Where the entries of a table lie: entry of a configuration = sum of its digits times the strides.
struct Form {
  Slots slots;
  std::vector<std::size_t> strides;  ///< by slot
  std::size_t size = 1;
  std::size_t granule = 1;  ///< entries that stay together: a whole block of inner states, or one
};

/// The usual form: the last slot runs fastest, no gaps.
[[nodiscard]] Form dense_form(Slots order, std::span<const std::size_t> state_counts);

struct Layout {
  Slots inner;                ///< ascending; the last runs fastest
  Slots outer;                ///< the last runs fastest
  std::size_t width = lanes;  ///< doubles in a block, padding included
  std::size_t blocks = 1;
  std::vector<std::uint32_t> kept;  ///< numbers of the blocks that are kept, ascending; empty if all are

  [[nodiscard]] std::size_t table_size() const noexcept { return blocks * width; }
};

/// How a clique meets a table: not at all lane by lane, with all inner slots of the clique, or with some of them.
enum class Meeting : std::uint8_t { scalar, whole, partial };
[[nodiscard]] Meeting meeting_of(const Slots& inner, const Slots& scope);

/// Which entries of a clique's table are possible without findings, in dense form.
class Support {
 public:
  Support(Slots slots, std::vector<std::uint8_t> possible) : slots_(std::move(slots)), possible_(std::move(possible)) {}

  [[nodiscard]] const Slots& slots() const noexcept { return slots_; }
  /// One for each entry, 0 or 1.
  [[nodiscard]] const std::vector<std::uint8_t>& possible() const noexcept { return possible_; }
  /// Possible entries.
  [[nodiscard]] std::size_t count() const;
  /// The support of what remains when a slot is summed out.
  [[nodiscard]] Support without(std::size_t slot, std::span<const std::size_t> state_counts) const;

 private:
  Slots slots_;                         // the last runs fastest
  std::vector<std::uint8_t> possible_;  // 0 or 1
};

/// A message as the choice of a layout sees it.
struct Crossing {
  const Slots* separator;
  double share = 1.0;  ///< of its entries that are possible
};

/// The layout that makes the sweeps of a clique cheapest: with `above`, the layout of the parent (null for the root),
/// with the message across its separator, and with those of its children. Cliques of different trees are often alike:
/// with `memo` each kind is worked out once.
[[nodiscard]] Layout choose_layout(const Support& support, std::span<const std::size_t> state_counts,
                                   const Crossing& to_parent, std::span<const Crossing> to_children,
                                   const Layout* above, Memo* memo);

/// The form in which a clique with this layout would like a table over `scope`: by its outer slots, then whole blocks
/// where it meets the table lane by lane.
[[nodiscard]] Form own_form(const Layout& layout, const Slots& scope, std::span<const std::size_t> state_counts);

/// The form of the message between two cliques, such that as few as possible need a copy of it.
[[nodiscard]] Form message_form(const Layout& above, const Layout& below, const Slots& separator,
                                std::span<const std::size_t> state_counts);

/// How a clique reads and writes a message: straight in the message's form, or through a copy spread out for it.
struct Side {
  bool vector = false;
  std::vector<std::uint32_t> source;  ///< by entry of the copy: the message's entry; empty: no copy
  std::size_t begin = 0;              ///< of the copy among all copies of a propagation

  [[nodiscard]] bool straight() const noexcept { return source.empty(); }
};

/// The side of a clique on a message over `scope`, and the form in which it addresses it.
struct Addressing {
  Side side;
  Form form;
};
[[nodiscard]] Addressing address(const Layout& layout, const Slots& scope, const Form& message,
                                 std::span<const std::size_t> state_counts);

/// Entry of `form` for each lane of a block whose outer digits are zero; padding repeats lane 0.
[[nodiscard]] std::vector<std::size_t> lane_entries(const Layout& layout, const Form& form,
                                                    std::span<const std::size_t> state_counts);

/// copy[i] = message[source[i]]
void spread_out(const Side& side, const double* message, double* copy);
/// message[source[i]] += copy[i], onto zeros
void gather_up(const Side& side, const double* copy, double* message, std::size_t message_size);

/// Offsets of all blocks that are kept into a table of this form.
[[nodiscard]] std::vector<std::uint32_t> block_entries(const Layout& layout, const Form& form,
                                                       std::span<const std::size_t> state_counts);

}  // namespace faultodds::detail

#include "faultodds/inference/junction_tree/layout.ipp"

// Bodies of layout.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <bit>
#include <limits>
#include <map>
#include <utility>

#include "faultodds/inference/junction_tree/layout.hpp"
#include "faultodds/inference/junction_tree/walk.hpp"
#include "faultodds/inference/network/factor.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds::detail {

/// Those of `order` that are in `scope`.
inline Slots restrict_to(const Slots& order, const Slots& scope) {
  Slots kept;
  for (const std::size_t slot : order) {
    if (holds(scope, slot)) kept.push_back(slot);
  }
  return kept;
}

/// Strides of `order` with the last slot fastest, each multiplied by `unit`; appended to a form.
inline void append_strides(Form& form, const Slots& order, std::size_t unit,
                           std::span<const std::size_t> state_counts) {
  const std::size_t first = form.slots.size();
  form.slots.insert(form.slots.end(), order.begin(), order.end());
  form.strides.resize(form.slots.size());
  for (std::size_t i = form.slots.size(); i-- > first;) {
    form.strides[i] = unit;
    unit *= state_counts[form.slots[i]];
  }
}

inline Form dense_form(Slots order, std::span<const std::size_t> state_counts) {
  Form form;
  append_strides(form, order, 1, state_counts);
  form.size = count_entries(order, state_counts);
  return form;
}

inline std::vector<std::uint32_t> block_entries(const Layout& layout, const Form& form,
                                                std::span<const std::size_t> state_counts) {
  std::vector<std::uint32_t> entries;
  entries.reserve(layout.blocks);
  std::uint32_t number = 0;  // of the block among all
  walk(layout.outer, state_counts, strides_of(form, layout.outer), [&](std::size_t entry) {
    const bool here = entries.size() < layout.blocks && (layout.kept.empty() || layout.kept[entries.size()] == number);
    if (here) entries.push_back(static_cast<std::uint32_t>(entry));
    ++number;
  });
  return entries;
}

inline Meeting meeting_of(const Slots& inner, const Slots& scope) {
  std::size_t shared = 0;
  for (const std::size_t slot : inner) shared += holds(scope, slot) ? 1U : 0U;
  if (shared == 0) return Meeting::scalar;
  return shared == inner.size() ? Meeting::whole : Meeting::partial;
}

inline std::size_t Support::count() const {
  std::size_t count = 0;
  for (const std::uint8_t possible : possible_) count += possible;
  return count;
}

inline Support Support::without(std::size_t slot, std::span<const std::size_t> state_counts) const {
  const auto at = std::find(slots_.begin(), slots_.end(), slot);
  Slots rest(slots_.begin(), at);
  rest.insert(rest.end(), at + 1, slots_.end());
  const std::size_t states = state_counts[slot];
  const std::size_t step = count_entries({at + 1, slots_.end()}, state_counts);
  std::vector<std::uint8_t> possible(possible_.size() / states, 0);
  for (std::size_t from = 0, to = 0; from < possible_.size(); to += step) {
    for (std::size_t state = 0; state < states; ++state, from += step) {
      for (std::size_t i = 0; i < step; ++i) possible[to + i] |= possible_[from + i];
    }
  }
  return {std::move(rest), std::move(possible)};
}

/// Finds the inner slots with the cheapest sweeps. Costs are about cycles, for both sweeps and the copies, as measured
/// on processors with four lanes.
class LayoutChoice {
 public:
  LayoutChoice(const Support& support, std::span<const std::size_t> state_counts, const Crossing& to_parent,
               std::span<const Crossing> to_children, const Layout* above)
      : support_(support),
        state_counts_(state_counts),
        to_parent_(to_parent),
        to_children_(to_children),
        above_(above) {}

  /// Grows sets of inner slots greedily: from all slots, from those inside and those outside of each message, and from
  /// the parent's inner slots.
  Slots run() {
    const Slots& all = support_.slots();
    grow({}, all);
    const auto grow_on_both_sides = [&](const Slots& separator) {
      grow({}, separator);
      grow({}, without(all, separator));
    };
    if (above_ != nullptr) {
      grow_on_both_sides(*to_parent_.separator);
      if (meeting_of(above_->inner, *to_parent_.separator) == Meeting::whole) grow(above_->inner, all);
    }
    for (const Crossing& crossing : to_children_) grow_on_both_sides(*crossing.separator);
    return best_;
  }

 private:
  /// `inner` grows by one of `candidates` after the other, by the one with the least cost each time.
  void grow(Slots inner, const Slots& candidates) {
    Support rest = support_;
    for (const std::size_t slot : inner) rest = rest.without(slot, state_counts_);
    std::size_t product = count_entries(inner, state_counts_);
    keep(inner, cost_of(inner, rest));
    for (;;) {
      double pick_cost = std::numeric_limits<double>::infinity();
      Slots pick;
      for (const std::size_t slot : candidates) {
        if (holds(inner, slot) || product * state_counts_[slot] > max_inner) continue;
        Slots more = inner;
        more.insert(std::upper_bound(more.begin(), more.end(), slot), slot);
        const double cost = known_cost(more, rest, slot);
        if (cost >= pick_cost) continue;
        pick_cost = cost;
        pick = std::move(more);
      }
      if (pick.empty()) return;
      for (const std::size_t slot : pick) {
        if (!holds(inner, slot)) rest = rest.without(slot, state_counts_);
      }
      inner = std::move(pick);
      product = count_entries(inner, state_counts_);
      keep(inner, pick_cost);
    }
  }

  void keep(const Slots& inner, double cost) {
    if (cost >= best_cost_) return;
    best_cost_ = cost;
    best_ = inner;
  }

  double known_cost(const Slots& inner, const Support& rest, std::size_t slot) {
    const auto known = costs_.find(inner);
    if (known != costs_.end()) return known->second;
    const double cost = cost_of(inner, rest.without(slot, state_counts_));
    costs_.emplace(inner, cost);
    return cost;
  }

  /// `rest` is the support over the outer slots.
  [[nodiscard]] double cost_of(const Slots& inner, const Support& rest) const {
    const auto width = static_cast<double>(block_width(count_entries(inner, state_counts_)));
    const double vectors = width / static_cast<double>(lanes);
    double per_block = 16.0 + 2.0 * vectors;
    double copied = 0.0;
    if (above_ != nullptr) {
      const bool scalar = meeting_of(inner, *to_parent_.separator) == Meeting::scalar;
      per_block += scalar ? 8.0 : 4.0 + 2.5 * vectors;
      if (needs_copy_below(inner)) copied += copy_size(inner, width, to_parent_);
    }
    for (const Crossing& crossing : to_children_) {
      const Meeting meeting = meeting_of(inner, *crossing.separator);
      per_block += meeting == Meeting::scalar ? 11.0 : 6.0 + 3.5 * vectors;
      if (meeting == Meeting::partial) copied += copy_size(inner, width, crossing);
    }
    static constexpr double cached = 1U << 14U;  // entries; copies of larger messages wait for memory
    return static_cast<double>(rest.count()) * per_block + (copied < cached ? 4.0 : 16.0) * copied;
  }

  [[nodiscard]] double copy_size(const Slots& inner, double width, const Crossing& crossing) const {
    double size = width * crossing.share;
    for (const std::size_t slot : *crossing.separator) {
      if (!holds(inner, slot)) size *= static_cast<double>(state_counts_[slot]);
    }
    return size;
  }

  [[nodiscard]] bool needs_copy_below(const Slots& inner) const {
    const Meeting below = meeting_of(inner, *to_parent_.separator);
    if (below != Meeting::whole) return below == Meeting::partial;
    return meeting_of(above_->inner, *to_parent_.separator) == Meeting::whole && above_->inner != inner;
  }

  const Support& support_;
  std::span<const std::size_t> state_counts_;
  const Crossing& to_parent_;
  std::span<const Crossing> to_children_;
  const Layout* above_;
  std::map<Slots, double> costs_;
  Slots best_;
  double best_cost_ = std::numeric_limits<double>::infinity();
};

/// The outer slots such that large messages are met from front to back, and the same part of one by many blocks in a
/// row: what large messages hold runs slowly, and in the parent's order.
inline Slots outer_order(const Slots& slots, const Slots& inner, std::span<const std::size_t> state_counts,
                         const Crossing& to_parent, std::span<const Crossing> to_children, const Layout* above) {
  Slots order;
  if (above != nullptr) {
    for (const Slots* part : {&above->outer, &above->inner}) {
      for (const std::size_t slot : *part) {
        if (holds(*to_parent.separator, slot) && !holds(inner, slot)) order.push_back(slot);
      }
    }
  }
  for (const std::size_t slot : slots) {
    if (!holds(inner, slot) && !holds(order, slot)) order.push_back(slot);
  }
  const auto load_of = [&](std::size_t slot) {
    double load = 0.0;
    const auto add = [&](const Crossing& crossing) {
      if (holds(*crossing.separator, slot)) load += crossing.share * entries_of(*crossing.separator, state_counts);
    };
    add(to_parent);
    for (const Crossing& crossing : to_children) add(crossing);
    return load;
  };
  sort_stably(order, [&](std::size_t a, std::size_t b) { return load_of(a) > load_of(b); });
  return order;
}

/// All that a choice of inner slots goes by, with the slots of the clique numbered from 0.
inline Memo::Key kind_of_clique(const Support& support, std::span<const std::size_t> state_counts,
                                const Crossing& to_parent, std::span<const Crossing> to_children, const Layout* above) {
  const Slots& all = support.slots();
  const auto set_of = [&all](const Slots& slots) {
    std::size_t set = 0;
    for (std::size_t i = 0; i < all.size(); ++i) set |= holds(slots, all[i]) ? std::size_t{1} << i : 0U;
    return set;
  };
  Memo::Key key{all.size()};
  for (const std::size_t slot : all) key.push_back(state_counts[slot]);
  const std::vector<std::uint8_t>& possible = support.possible();
  for (std::size_t i = 0; i < possible.size(); ++i) {
    if (i % 64 == 0) key.push_back(0);
    key.back() |= static_cast<std::size_t>(possible[i]) << (i % 64);
  }
  const auto add = [&](const Crossing& crossing) {
    key.push_back(set_of(*crossing.separator));
    key.push_back(std::bit_cast<std::uint64_t>(crossing.share));
  };
  const bool whole = above != nullptr && meeting_of(above->inner, *to_parent.separator) == Meeting::whole;
  key.push_back(above == nullptr ? 0 : 1 + (whole ? set_of(above->inner) << 1U : 0U));
  if (above != nullptr) add(to_parent);
  for (const Crossing& crossing : to_children) add(crossing);
  return key;
}

inline Slots choose_inner(const Support& support, std::span<const std::size_t> state_counts, const Crossing& to_parent,
                          std::span<const Crossing> to_children, const Layout* above, Memo* memo) {
  static constexpr std::size_t max_entries = 1024;
  const auto choose = [&] { return LayoutChoice(support, state_counts, to_parent, to_children, above).run(); };
  const Slots& all = support.slots();
  if (memo == nullptr || support.possible().size() > max_entries) return choose();
  const auto numbers = memo->get<Slots>(kind_of_clique(support, state_counts, to_parent, to_children, above), [&] {
    Slots chosen = choose();
    for (std::size_t& slot : chosen) {
      slot = static_cast<std::size_t>(std::lower_bound(all.begin(), all.end(), slot) - all.begin());
    }
    return chosen;
  });
  Slots inner;
  for (const std::size_t number : *numbers) inner.push_back(all[number]);
  return inner;
}

inline Layout choose_layout(const Support& support, std::span<const std::size_t> state_counts,
                            const Crossing& to_parent, std::span<const Crossing> to_children, const Layout* above,
                            Memo* memo) {
  Layout layout;
  layout.inner = choose_inner(support, state_counts, to_parent, to_children, above, memo);
  layout.outer = outer_order(support.slots(), layout.inner, state_counts, to_parent, to_children, above);
  layout.width = block_width(count_entries(layout.inner, state_counts));
  layout.blocks = count_entries(layout.outer, state_counts);
  return layout;
}

inline Form own_form(const Layout& layout, const Slots& scope, std::span<const std::size_t> state_counts) {
  const Slots outer = restrict_to(layout.outer, scope);
  if (meeting_of(layout.inner, scope) == Meeting::scalar) return dense_form(outer, state_counts);
  Form form;
  append_strides(form, outer, layout.width, state_counts);
  append_strides(form, layout.inner, 1, state_counts);
  form.size = count_entries(outer, state_counts) * layout.width;
  form.granule = layout.width;
  return form;
}

inline Form message_form(const Layout& above, const Layout& below, const Slots& separator,
                         std::span<const std::size_t> state_counts) {
  for (const Layout* layout : {&above, &below}) {
    if (meeting_of(layout->inner, separator) == Meeting::whole) return own_form(*layout, separator, state_counts);
  }
  Slots order = restrict_to(above.outer, separator);
  const Slots rest = restrict_to(above.inner, separator);
  order.insert(order.end(), rest.begin(), rest.end());
  return dense_form(std::move(order), state_counts);
}

inline std::vector<std::size_t> lane_entries(const Layout& layout, const Form& form,
                                             std::span<const std::size_t> state_counts) {
  std::vector<std::size_t> entries;
  walk(layout.inner, state_counts, strides_of(form, layout.inner),
       [&](std::size_t entry) { entries.push_back(entry); });
  entries.resize(layout.width, entries[0]);
  return entries;
}

/// True if the inner slots lie side by side in `form`, as they do in a block.
inline bool has_whole_blocks(const Layout& layout, const Form& form, std::span<const std::size_t> state_counts) {
  return form.granule == layout.width &&
         strides_of(form, layout.inner) == strides_of(own_form(layout, form.slots, state_counts), layout.inner);
}

inline Addressing address(const Layout& layout, const Slots& scope, const Form& message,
                          std::span<const std::size_t> state_counts) {
  const Meeting meeting = meeting_of(layout.inner, scope);
  Addressing result{{meeting != Meeting::scalar, {}, 0}, message};
  if (meeting == Meeting::scalar) return result;
  if (meeting == Meeting::whole && has_whole_blocks(layout, message, state_counts)) return result;
  result.form = own_form(layout, scope, state_counts);
  const std::vector<std::size_t> of_lane = lane_entries(layout, message, state_counts);
  const Slots outer = restrict_to(layout.outer, scope);
  walk(outer, state_counts, strides_of(message, outer), [&](std::size_t base) {
    for (const std::size_t entry : of_lane) result.side.source.push_back(static_cast<std::uint32_t>(base + entry));
  });
  return result;
}

inline void spread_out(const Side& side, const double* message, double* copy) {
  for (const std::uint32_t entry : side.source) *copy++ = message[entry];
}

inline void gather_up(const Side& side, const double* copy, double* message, std::size_t message_size) {
  std::fill(message, message + message_size, 0.0);
  for (const std::uint32_t entry : side.source) message[entry] += *copy++;
}

}  // namespace faultodds::detail

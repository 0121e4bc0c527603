// Bodies of layout.hpp.
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>

#include "faultodds/inference/layout.hpp"

namespace faultodds::detail {

inline bool holds(std::span<const std::size_t> set, std::size_t slot) {
  return std::find(set.begin(), set.end(), slot) != set.end();
}

inline std::size_t count_states(std::span<const std::size_t> slots, std::span<const std::size_t> state_counts) {
  std::size_t product = 1;
  for (const std::size_t slot : slots) product *= state_counts[slot];
  return product;
}

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
  form.size = count_states(order, state_counts);
  return form;
}

/// How far one step of each slot of `order` moves in `form`; 0 for slots that it does not hold.
inline std::vector<std::size_t> strides_of(const Form& form, const Slots& order) {
  std::vector<std::size_t> strides(order.size(), 0);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const auto at = std::find(form.slots.begin(), form.slots.end(), order[i]);
    if (at != form.slots.end()) strides[i] = form.strides[static_cast<std::size_t>(at - form.slots.begin())];
  }
  return strides;
}

/// Calls `visit` with the sum of digit x stride for every configuration of `order`, the last running fastest.
template <typename Visit>
void walk(const Slots& order, std::span<const std::size_t> state_counts, std::span<const std::size_t> strides,
          Visit&& visit) {
  Slots digits(order.size(), 0);
  std::size_t index = 0;
  for (;;) {
    visit(index);
    std::size_t i = order.size();
    while (i-- > 0) {
      index += strides[i];
      if (++digits[i] < state_counts[order[i]]) break;
      index -= strides[i] * digits[i];
      digits[i] = 0;
    }
    if (i == no_slot) return;
  }
}

inline Meeting meeting_of(const Slots& inner, const Slots& scope) {
  std::size_t shared = 0;
  for (const std::size_t slot : inner) shared += holds(scope, slot) ? 1U : 0U;
  if (shared == 0) return Meeting::scalar;
  return shared == inner.size() ? Meeting::whole : Meeting::partial;
}

/// About the cycles of both sweeps of a clique, copies included, as measured on processors with four lanes.
class SweepCost {
 public:
  SweepCost(const Clique& clique, std::span<const std::size_t> state_counts, std::span<const Slots* const> below,
            const Layout* above)
      : clique_(clique), state_counts_(state_counts), below_(below), above_(above) {}

  [[nodiscard]] double operator()(const Slots& inner) const {
    const double entries = size_of(inner, state_counts_);
    width_ = static_cast<double>(block_width(static_cast<std::size_t>(entries)));
    vectors_ = width_ / static_cast<double>(lanes);
    per_block_ = 6.0 + 1.5 * vectors_;
    copied_ = 0.0;
    add_message(inner, clique_.separator, above_ != nullptr && needs_copy_below(inner));
    for (const Slots* separator : below_) {
      add_message(inner, *separator, meeting_of(inner, *separator) == Meeting::partial);
    }
    return size_of(clique_.slots, state_counts_) / entries * per_block_ + 3.0 * copied_;
  }

 private:
  void add_message(const Slots& inner, const Slots& separator, bool copied) const {
    const bool scalar = meeting_of(inner, separator) == Meeting::scalar;
    per_block_ += scalar ? 4.0 : 2.0 + 2.5 * vectors_;
    if (!copied) return;
    double outside = width_;
    for (const std::size_t slot : separator) {
      if (!holds(inner, slot)) outside *= static_cast<double>(state_counts_[slot]);
    }
    copied_ += outside;
  }

  [[nodiscard]] bool needs_copy_below(const Slots& inner) const {
    const Meeting below = meeting_of(inner, clique_.separator);
    if (below != Meeting::whole) return below == Meeting::partial;
    return meeting_of(above_->inner, clique_.separator) == Meeting::whole && above_->inner != inner;
  }

  const Clique& clique_;
  std::span<const std::size_t> state_counts_;
  std::span<const Slots* const> below_;
  const Layout* above_;
  mutable double width_ = 0.0;
  mutable double vectors_ = 0.0;
  mutable double per_block_ = 0.0;
  mutable double copied_ = 0.0;
};

inline Slots choose_inner(const Clique& clique, std::span<const std::size_t> state_counts, const SweepCost& cost_of) {
  Slots inner, best;
  double best_cost = cost_of(inner);
  std::size_t product = 1;
  for (;;) {
    std::size_t pick = no_slot;
    double pick_cost = 0.0;
    for (const std::size_t slot : clique.slots) {
      if (holds(inner, slot) || product * state_counts[slot] > most_inner) continue;
      Slots more = inner;
      more.insert(std::upper_bound(more.begin(), more.end(), slot), slot);
      const double cost = cost_of(more);
      if (pick == no_slot || cost < pick_cost) {
        pick = slot;
        pick_cost = cost;
      }
    }
    if (pick == no_slot) return best;
    inner.insert(std::upper_bound(inner.begin(), inner.end(), pick), pick);
    product *= state_counts[pick];
    if (pick_cost < best_cost) {
      best_cost = pick_cost;
      best = inner;
    }
  }
}

inline Layout choose_layout(const Clique& clique, std::span<const std::size_t> state_counts,
                            std::span<const Slots* const> below, const Layout* above) {
  Layout layout;
  layout.inner = choose_inner(clique, state_counts, SweepCost(clique, state_counts, below, above));
  // The parent's separator slowest and in the parent's order: then both meet the message from front to back.
  Slots order;
  if (above != nullptr) {
    order = above->outer;
    order.insert(order.end(), above->inner.begin(), above->inner.end());
  }
  for (const std::size_t slot : order) {
    if (holds(clique.separator, slot) && !holds(layout.inner, slot)) layout.outer.push_back(slot);
  }
  for (const std::size_t slot : clique.slots) {
    if (!holds(layout.inner, slot) && !holds(clique.separator, slot)) layout.outer.push_back(slot);
  }
  layout.width = block_width(count_states(layout.inner, state_counts));
  layout.blocks = count_states(layout.outer, state_counts);
  return layout;
}

inline Form own_form(const Layout& layout, const Slots& scope, std::span<const std::size_t> state_counts) {
  const Slots outer = restrict_to(layout.outer, scope);
  if (meeting_of(layout.inner, scope) == Meeting::scalar) return dense_form(outer, state_counts);
  Form form;
  append_strides(form, outer, layout.width, state_counts);
  append_strides(form, layout.inner, 1, state_counts);
  form.size = count_states(outer, state_counts) * layout.width;
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

/// True where the inner slots lie side by side in `form`, as they do in a block.
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

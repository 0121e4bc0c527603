// Body of chain_order.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <variant>

#include "faultodds/inference/network/chain_order.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

/// Greedy linear arrangement. An item is a variable to be taken; a load is what is carried between the first and the
/// last of its items: a variable shared by tables, or the running maximum of a chain.
class ChainOrder {
 public:
  ChainOrder(const FaultModel& model, std::span<const Presence> presence, std::span<const std::size_t> known,
             const std::vector<bool>& is_chain)
      : model_(model),
        presence_(presence),
        known_(known),
        is_chain_(is_chain),
        steps_(model.size(), no_slot),
        loads_of_(model.size()) {
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (is_item(v)) items_.push_back(v);
    }
    for (std::size_t v = 0; v < model.size(); ++v) add_load_of_variable(v);
    for (std::size_t v = 0; v < model.size(); ++v) add_load_of_chain(v);
  }

  /// One step for each variable of the model: chains take their causes by ascending step. Variables that are not
  /// present, and effects that nothing depends on, get no_slot.
  std::vector<std::size_t> run() {
    for (std::size_t load = easiest_to_close(); load != no_slot; load = easiest_to_close()) {
      const std::vector<std::size_t> items = loads_[load].items;
      for (;;) {
        const std::size_t item = cheapest(items);
        if (item == no_slot) break;
        take_with_causes(item);
      }
    }
    for (const std::size_t item : items_) {
      if (steps_[item] == no_slot) take_with_causes(item);
    }
    return std::move(steps_);
  }

 private:
  struct Load {
    double log_size = 0.0;
    std::vector<std::size_t> items;
    std::size_t left = 0;       // items not taken yet
    std::size_t looked_at = 0;  // number of the last look that came by
  };

  [[nodiscard]] bool is_known(std::size_t v) const { return known_[v] != not_known; }
  [[nodiscard]] std::vector<std::size_t> open_parents(std::size_t v) const {
    std::vector<std::size_t> parents(model_.parents(v).begin(), model_.parents(v).end());
    std::erase_if(parents, [this](std::size_t parent) { return is_known(parent); });
    return parents;
  }

  /// Effects that nothing depends on end their chains; they are not taken.
  [[nodiscard]] bool is_item(std::size_t v) const {
    if (presence_[v] != Presence::present) return false;
    const auto has_place = [&](std::size_t child) { return presence_[child] != Presence::left_out; };
    const bool leads_on = std::any_of(model_.children(v).begin(), model_.children(v).end(), has_place);
    return !is_chain_[v] || (leads_on && !is_known(v));
  }

  void add_load(std::size_t states, std::vector<std::size_t> items) {
    if (items.size() < 2) return;
    for (const std::size_t item : items) loads_of_[item].push_back(loads_.size());
    const std::size_t left = items.size();
    loads_.push_back({std::log(static_cast<double>(states)), std::move(items), left, 0});
  }

  /// A variable is carried from the first to the last of the tables that involve it, gates of links included.
  void add_load_of_variable(std::size_t v) {
    if (presence_[v] != Presence::present || is_known(v)) return;
    std::vector<std::size_t> items;
    if (is_item(v)) items.push_back(v);
    for (const std::size_t child : model_.children(v)) {
      if (presence_[child] == Presence::left_out) continue;
      if (is_item(child) && !is_chain_[child]) items.push_back(child);
      if (const auto* noisy = std::get_if<NoisyMax>(&model_.variable(child).distribution); noisy != nullptr) {
        add_gated_causes(*noisy, v, items);
      }
    }
    std::sort(items.begin(), items.end());
    items.erase(std::unique(items.begin(), items.end()), items.end());
    add_load(model_.state_count(v), std::move(items));
  }

  static void add_gated_causes(const NoisyMax& noisy, std::size_t gate, std::vector<std::size_t>& items) {
    for (const Link& link : noisy.links) {
      for (const Gate& condition : link.only_when) {
        if (condition.variable == gate) items.push_back(link.cause);
      }
    }
  }

  /// A running maximum is carried from the first cause to the last, or to the effect itself if something depends on
  /// it.
  void add_load_of_chain(std::size_t v) {
    if (presence_[v] != Presence::present || !is_chain_[v] || known_[v] == 0) return;
    std::vector<std::size_t> items = open_parents(v);
    if (is_item(v)) items.push_back(v);
    add_load(is_known(v) ? 2 : model_.state_count(v), std::move(items));
  }

  /// By how much the logarithm of what is carried would grow.
  [[nodiscard]] double change_of(std::size_t item) const {
    double change = 0.0;
    for (const std::size_t index : loads_of_[item]) {
      const Load& load = loads_[index];
      if (load.left == load.items.size()) change += load.log_size;
      if (load.left == 1) change -= load.log_size;
    }
    return change;
  }

  /// The unfinished load that can be closed with the least carried on the way; no_slot if all are closed.
  [[nodiscard]] std::size_t easiest_to_close() {
    double carried = 0.0;
    for (const Load& load : loads_) carried += is_carried(load) ? load.log_size : 0.0;
    std::size_t best = no_slot;
    double best_peak = 0.0;
    for (std::size_t index = 0; index < loads_.size(); ++index) {
      if (loads_[index].left == 0) continue;
      const double peak = carried + begun_by_closing(loads_[index]);
      if (best != no_slot && peak >= best_peak - rounding) continue;
      best = index;
      best_peak = peak;
    }
    return best;
  }

  [[nodiscard]] static bool is_carried(const Load& load) { return load.left > 0 && load.left < load.items.size(); }

  /// Logarithm of what comes to be carried, in addition to what is already, while the items of `load` are taken.
  [[nodiscard]] double begun_by_closing(const Load& load) {
    double begun = 0.0;
    ++looks_;
    for (const std::size_t item : load.items) {
      if (steps_[item] != no_slot) continue;
      for (const std::size_t index : loads_of_[item]) {
        Load& other = loads_[index];
        if (std::exchange(other.looked_at, looks_) != looks_ && !is_carried(other)) begun += other.log_size;
      }
    }
    return begun;
  }

  /// The item among these, not taken yet, that adds least to what is carried; no_slot if all are taken.
  [[nodiscard]] std::size_t cheapest(std::span<const std::size_t> items) const {
    std::size_t best = no_slot;
    for (const std::size_t item : items) {
      if (steps_[item] != no_slot) continue;
      if (best == no_slot || change_of(item) < change_of(best) - rounding) best = item;
    }
    return best;
  }

  /// A chain that something depends on ends before its effect is taken, so its causes come first.
  void take_with_causes(std::size_t item) {
    if (is_chain_[item]) {
      for (const std::size_t cause : open_parents(item)) {
        if (steps_[cause] == no_slot) take_with_causes(cause);
      }
    }
    steps_[item] = next_step_++;
    for (const std::size_t index : loads_of_[item]) --loads_[index].left;
  }

  static constexpr double rounding = 1e-9;

  const FaultModel& model_;
  std::span<const Presence> presence_;
  std::span<const std::size_t> known_;
  const std::vector<bool>& is_chain_;
  std::vector<std::size_t> items_;
  std::vector<std::size_t> steps_;
  std::vector<std::vector<std::size_t>> loads_of_;
  std::vector<Load> loads_;
  std::size_t next_step_ = 0;
  std::size_t looks_ = 0;
};

inline std::vector<const Link*> open_links(const NoisyMax& noisy, std::span<const std::size_t> known) {
  std::vector<const Link*> open;
  for (const Link& link : noisy.links) {
    const auto unknown = [&](const Gate& gate) { return known[gate.variable] == not_known; };
    if (known[link.cause] == not_known || std::any_of(link.only_when.begin(), link.only_when.end(), unknown)) {
      open.push_back(&link);
    }
  }
  return open;
}

}  // namespace detail

inline std::vector<std::vector<const Link*>> links_by_steps(const FaultModel& model, std::span<const Presence> presence,
                                                            std::span<const std::size_t> known,
                                                            const std::vector<bool>& is_chain) {
  const std::vector<std::size_t> steps = detail::ChainOrder(model, presence, known, is_chain).run();
  std::vector<std::vector<const Link*>> links(model.size());
  for (std::size_t v = 0; v < model.size(); ++v) {
    const auto* noisy = std::get_if<NoisyMax>(&model.variable(v).distribution);
    if (noisy == nullptr || !is_chain[v]) continue;
    links[v] = detail::open_links(*noisy, known);
    detail::sort_stably(links[v], [&](const Link* a, const Link* b) { return steps[a->cause] < steps[b->cause]; });
  }
  return links;
}

}  // namespace faultodds

// Bodies of expansion.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <limits>
#include <utility>
#include <variant>

#include "faultodds/inference/network/chain_order.hpp"
#include "faultodds/inference/network/expansion.hpp"
#include "faultodds/inference/network/factor.hpp"
#include "faultodds/inference/network/merge_order.hpp"
#include "faultodds/inference/network/odometer.hpp"

namespace faultodds {
namespace detail {

/// Tables up to this many entries are written out; a chain would not be smaller.
inline constexpr std::size_t written_out_entries = 32;

inline double table_entries(const FaultModel& model, std::size_t variable) {
  auto entries = static_cast<double>(model.state_count(variable));
  for (const std::size_t parent : model.parents(variable)) entries *= static_cast<double>(model.state_count(parent));
  return entries;
}

inline bool becomes_chain(const FaultModel& model, std::size_t variable) {
  const Distribution& distribution = model.variable(variable).distribution;
  if (!std::holds_alternative<NoisyMax>(distribution) && !std::holds_alternative<CountOf>(distribution)) return false;
  return table_entries(model, variable) > static_cast<double>(written_out_entries);
}

class Expansion {
 public:
  Expansion(const FaultModel& model, std::span<const Presence> presence, std::span<const std::size_t> known,
            std::uint64_t chain_seed)
      : model_(model), known_(known.begin(), known.end()), is_chain_(model.size(), false) {
    known_.resize(model.size(), not_known);
    network_.slot_of.assign(model.size(), no_slot);
    bool chains = false;
    for (std::size_t v = 0; v < model.size(); ++v) {
      is_chain_[v] = becomes_chain(model, v);
      chains = chains || (is_chain_[v] && presence[v] == Presence::present);
    }
    if (chains) {
      links_ = chain_seed == 0 ? links_by_steps(model, presence, known_, is_chain_)
                               : links_by_elimination(model, presence, known_, is_chain_, chain_seed);
    }
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (presence[v] == Presence::present) network_.slot_of[v] = new_slot(model.state_count(v));
    }
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (presence[v] == Presence::present) add_variable(v);
      if (presence[v] == Presence::split_absent) add_absent(std::get<NoisyMax>(model.variable(v).distribution));
    }
    for (const Potential& potential : model.parts().potentials) add_potential(potential);
  }

  Network take() { return std::move(network_); }

 private:
  std::size_t new_slot(std::size_t states) {
    network_.state_counts.push_back(states);
    return network_.state_counts.size() - 1;
  }
  [[nodiscard]] std::size_t slot(std::size_t variable) const { return network_.slot_of[variable]; }
  [[nodiscard]] bool is_known(std::size_t variable) const { return known_[variable] != not_known; }

  void add_variable(std::size_t v) {
    const Distribution& distribution = model_.variable(v).distribution;
    if (std::holds_alternative<Unweighted>(distribution)) {
      network_.factors.push_back({{slot(v)}, std::vector<double>(model_.state_count(v), 1.0)});
      return;
    }
    if (is_chain_[v]) {
      if (const auto* noisy = std::get_if<NoisyMax>(&distribution); noisy != nullptr) return add_chain(v, *noisy);
      return add_counter(v, std::get<CountOf>(distribution));
    }
    const FullTable table = written_out(model_, v, std::numeric_limits<std::size_t>::max());
    Potential factor;
    for (const std::size_t parent : table.parents) factor.scope.push_back(slot(parent));
    factor.scope.push_back(slot(v));
    factor.values = table.rows.values();
    add_table(v, std::move(factor));
  }

  /// A part of the table of `v`, with the known states of its parents put in.
  void add_table(std::size_t v, Potential factor) {
    for (const std::size_t parent : model_.parents(v)) {
      if (!is_known(parent)) continue;
      if (std::find(factor.scope.begin(), factor.scope.end(), slot(parent)) == factor.scope.end()) continue;
      factor = fix_state(factor, slot(parent), known_[parent], network_.state_counts);
    }
    network_.factors.push_back(std::move(factor));
  }

  /// Runs through the configurations of `link_scope`; `fill` gets the effect of the link's cause in each.
  template <typename Fill>
  void for_each_effect(const Link& link, std::span<const double> untouched, Fill&& fill) const {
    std::vector<std::size_t> sizes;
    std::vector<std::size_t> first;  // states
    const auto enter = [&](std::size_t variable) {
      sizes.push_back(is_known(variable) ? 1 : model_.state_count(variable));
      first.push_back(is_known(variable) ? known_[variable] : 0);
    };
    enter(link.cause);
    for (const Gate& gate : link.only_when) enter(gate.variable);
    Odometer odometer(std::move(sizes));
    do {
      bool open = true;
      for (std::size_t g = 0; g < link.only_when.size() && open; ++g) {
        const std::vector<StateIndex>& states = link.only_when[g].states;
        open = std::find(states.begin(), states.end(), first[g + 1] + odometer.digits()[g + 1]) != states.end();
      }
      fill(open ? link.effect.row(first[0] + odometer.digits()[0]) : untouched);
    } while (odometer.next());
  }

  /// Slots of the cause and the gates, those of known state left out.
  [[nodiscard]] std::vector<std::size_t> link_scope(const Link& link) const {
    std::vector<std::size_t> scope;
    if (!is_known(link.cause)) scope.push_back(slot(link.cause));
    for (const Gate& gate : link.only_when) {
      if (!is_known(gate.variable)) scope.push_back(slot(gate.variable));
    }
    return scope;
  }

  /// P(effect absent | causes) = leak[0] * prod P_i(0 | cause i): one factor for each cause.
  void add_absent(const NoisyMax& noisy) {
    network_.factors.push_back({{}, {noisy.leak[0]}});
    std::vector<double> untouched(noisy.leak.size(), 0.0);
    untouched[0] = 1.0;
    for (const Link& link : noisy.links) {
      Potential factor{link_scope(link), {}};
      for_each_effect(link, untouched,
                      [&factor](std::span<const double> effect) { factor.values.push_back(effect[0]); });
      network_.factors.push_back(std::move(factor));
    }
  }

  /// The states that an effect's running maximum is told apart by: all, or if the effect is known to be in state
  /// `found` > 0, those below it as one, and that one.
  struct Levels {
    std::size_t found = not_known;

    [[nodiscard]] std::vector<double> of(std::span<const double> row) const {
      if (found == not_known) return {row.begin(), row.end()};
      std::vector<double> two(2, 0.0);
      for (std::size_t y = 0; y < found; ++y) two[0] += row[y];
      two[1] = row[found];
      return two;
    }
  };

  /// Of the larger of two independent numbers.
  static std::vector<double> larger_of(std::span<const double> a, std::span<const double> b) {
    std::vector<double> larger;
    double a_up_to = 0.0;
    double b_below = 0.0;
    for (std::size_t y = 0; y < a.size(); ++y) {
      a_up_to += a[y];
      larger.push_back(b[y] * a_up_to + a[y] * b_below);
      b_below += b[y];
    }
    return larger;
  }

  /// max(leak, link 1, ..., link n) by running maxima. Links of known state come in with the leak.
  void add_chain(std::size_t v, const NoisyMax& noisy) {
    Levels levels;
    if (is_known(v)) {
      Potential itself{{slot(v)}, std::vector<double>(model_.state_count(v), 0.0)};
      itself.values[known_[v]] = 1.0;
      network_.factors.push_back(std::move(itself));
      if (known_[v] == 0) return add_absent(noisy);
      levels.found = known_[v];
    }
    std::vector<double> leak = levels.of(noisy.leak);
    std::vector<double> untouched(noisy.leak.size(), 0.0);
    untouched[0] = 1.0;
    for (const Link& link : noisy.links) {
      if (!link_scope(link).empty()) continue;
      for_each_effect(link, untouched,
                      [&](std::span<const double> effect) { leak = larger_of(leak, levels.of(effect)); });
    }
    std::size_t before = no_slot;
    for (const Link* link : links_[v]) {
      const bool last = link == links_[v].back();
      std::size_t after = is_known(v) ? no_slot : slot(v);
      if (!last) after = new_slot(leak.size());
      Potential factor{link_scope(*link), {}};
      if (before != no_slot) factor.scope.push_back(before);
      if (after != no_slot) factor.scope.push_back(after);
      for_each_effect(*link, untouched, [&](std::span<const double> effect) {
        const std::vector<double> row = levels.of(effect);
        if (before == no_slot) {
          append_from(factor, larger_of(leak, row), after);
        } else {
          append_maxima(factor, row, after);
        }
      });
      network_.factors.push_back(std::move(factor));
      before = after;
    }
    if (!links_[v].empty()) return;
    network_.factors.push_back({is_known(v) ? std::vector<std::size_t>{} : std::vector{slot(v)}, {}});
    append_from(network_.factors.back(), leak, is_known(v) ? no_slot : slot(v));
  }

  /// Without a slot that holds the maximum: its last state alone, which is the one found.
  static void append_from(Potential& factor, std::span<const double> row, std::size_t after) {
    const std::size_t first = after == no_slot ? row.size() - 1 : 0;
    factor.values.insert(factor.values.end(), row.begin() + static_cast<std::ptrdiff_t>(first), row.end());
  }

  /// P(max(before, effect) | before), for each state before.
  static void append_maxima(Potential& factor, std::span<const double> effect, std::size_t after) {
    double up_to = 0.0;
    for (std::size_t b = 0; b < effect.size(); ++b) {
      up_to += effect[b];
      std::vector<double> larger(effect.begin(), effect.end());
      std::fill_n(larger.begin(), b, 0.0);
      larger[b] = up_to;
      append_from(factor, larger, after);
    }
  }

  /// Counts inputs that hold, saturating at `at_least`.
  void add_counter(std::size_t v, const CountOf& count) {
    std::size_t before = new_slot(1);
    network_.factors.push_back({{before}, {1.0}});
    for (std::size_t i = 0; i < count.inputs.size(); ++i) {
      const Gate& input = count.inputs[i];
      const bool last = i + 1 == count.inputs.size();
      const std::size_t before_states = network_.state_counts[before];
      const std::size_t after_states = last ? 2 : std::min(i + 2, count.at_least + 1);
      const std::size_t after = last ? slot(v) : new_slot(after_states);
      Potential factor{{slot(input.variable), before, after}, {}};
      for (std::size_t s = 0; s < model_.state_count(input.variable); ++s) {
        const bool holds = std::find(input.states.begin(), input.states.end(), s) != input.states.end();
        for (std::size_t b = 0; b < before_states; ++b) {
          const std::size_t counted = std::min(b + (holds ? 1U : 0U), count.at_least);
          const std::size_t result = last ? (counted >= count.at_least ? 1U : 0U) : counted;
          for (std::size_t a = 0; a < after_states; ++a) factor.values.push_back(a == result ? 1.0 : 0.0);
        }
      }
      add_table(v, std::move(factor));
      before = after;
    }
  }

  void add_potential(const Potential& potential) {
    Potential factor{{}, potential.values};
    for (const std::size_t variable : potential.scope) factor.scope.push_back(slot(variable));
    network_.factors.push_back(std::move(factor));
  }

  const FaultModel& model_;
  std::vector<std::size_t> known_;  // by variable: its state, or not_known
  std::vector<bool> is_chain_;
  std::vector<std::vector<const Link*>> links_;  // by variable: of its chain, in order
  Network network_;
};

}  // namespace detail

inline bool has_chains(const FaultModel& model) {
  for (std::size_t v = 0; v < model.size(); ++v) {
    if (std::holds_alternative<NoisyMax>(model.variable(v).distribution) && detail::becomes_chain(model, v))
      return true;
  }
  return false;
}

inline Network expand(const FaultModel& model, std::span<const Presence> presence, std::span<const std::size_t> known,
                      std::uint64_t chain_seed) {
  return detail::Expansion(model, presence, known, chain_seed).take();
}

}  // namespace faultodds

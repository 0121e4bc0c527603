// Bodies of expansion.hpp.
#pragma once

#include <algorithm>
#include <utility>
#include <variant>

#include "faultodds/inference/chain_order.hpp"
#include "faultodds/inference/expansion.hpp"

namespace faultodds {
namespace detail {

/// Tables up to this many entries are written out; a chain would not be smaller.
inline constexpr std::size_t written_out_entries = 32;

inline double table_entries(const FaultModel& model, std::size_t variable) {
  auto entries = static_cast<double>(model.state_count(variable));
  for (const std::size_t parent : model.parents(variable)) entries *= static_cast<double>(model.state_count(parent));
  return entries;
}

/// True where the variable's table is a noisy-MAX or a count too large to be written out.
inline bool becomes_chain(const FaultModel& model, std::size_t variable) {
  const Distribution& distribution = model.variable(variable).distribution;
  if (!std::holds_alternative<NoisyMax>(distribution) && !std::holds_alternative<CountOf>(distribution)) return false;
  return table_entries(model, variable) > static_cast<double>(written_out_entries);
}

/// Steps through all configurations of some variables, the last running fastest.
class Odometer {
 public:
  explicit Odometer(std::vector<std::size_t> sizes) : sizes_(std::move(sizes)), digits_(sizes_.size(), 0) {}

  [[nodiscard]] const std::vector<std::size_t>& digits() const noexcept { return digits_; }
  /// False after the last configuration.
  bool next() {
    for (std::size_t i = digits_.size(); i-- > 0;) {
      if (++digits_[i] < sizes_[i]) return true;
      digits_[i] = 0;
    }
    return false;
  }

 private:
  std::vector<std::size_t> sizes_;
  std::vector<std::size_t> digits_;
};

class Expansion {
 public:
  Expansion(const FaultModel& model, std::span<const Presence> presence)
      : model_(model), is_chain_(model.size(), false) {
    network_.slot_of.assign(model.size(), no_slot);
    bool chains = false;
    for (std::size_t v = 0; v < model.size(); ++v) {
      is_chain_[v] = becomes_chain(model, v);
      chains = chains || (is_chain_[v] && presence[v] == Presence::present);
    }
    steps_.assign(model.size(), no_slot);
    if (chains) steps_ = chain_steps(model, presence, is_chain_);
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
    network_.factors.push_back(std::move(factor));
  }

  /// Runs through the configurations of a link's cause and gates; `fill` gets the effect of the cause in each.
  template <typename Fill>
  void for_each_effect(const Link& link, std::span<const double> untouched, Fill&& fill) const {
    std::vector<std::size_t> sizes{model_.state_count(link.cause)};
    for (const Gate& gate : link.only_when) sizes.push_back(model_.state_count(gate.variable));
    Odometer odometer(std::move(sizes));
    do {
      bool open = true;
      for (std::size_t g = 0; g < link.only_when.size() && open; ++g) {
        const std::vector<std::size_t>& states = link.only_when[g].states;
        open = std::find(states.begin(), states.end(), odometer.digits()[g + 1]) != states.end();
      }
      fill(open ? link.effect.row(odometer.digits()[0]) : untouched);
    } while (odometer.next());
  }

  [[nodiscard]] std::vector<std::size_t> link_scope(const Link& link) const {
    std::vector<std::size_t> scope{slot(link.cause)};
    for (const Gate& gate : link.only_when) scope.push_back(slot(gate.variable));
    return scope;
  }

  /// P(effect absent | causes) = leak[0] * prod P_i(0 | cause i): a factor a cause.
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

  /// max(leak, cause 1, ..., cause n) by running maxima; the links by the steps of their causes.
  void add_chain(std::size_t v, const NoisyMax& noisy) {
    std::vector<const Link*> links;
    for (const Link& link : noisy.links) links.push_back(&link);
    std::stable_sort(links.begin(), links.end(),
                     [this](const Link* a, const Link* b) { return steps_[a->cause] < steps_[b->cause]; });
    const std::size_t states = noisy.leak.size();
    std::vector<double> untouched(states, 0.0);
    untouched[0] = 1.0;
    std::size_t before = new_slot(states);
    network_.factors.push_back({{before}, noisy.leak});
    for (std::size_t i = 0; i < links.size(); ++i) {
      const std::size_t after = i + 1 == links.size() ? slot(v) : new_slot(states);
      Potential factor{link_scope(*links[i]), {}};
      factor.scope.push_back(before);
      factor.scope.push_back(after);
      for_each_effect(*links[i], untouched, [&factor, states](std::span<const double> effect) {
        double up_to = 0.0;
        for (std::size_t b = 0; b < states; ++b) {
          up_to += effect[b];
          for (std::size_t a = 0; a < states; ++a) factor.values.push_back(a < b ? 0.0 : a == b ? up_to : effect[a]);
        }
      });
      network_.factors.push_back(std::move(factor));
      before = after;
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
      network_.factors.push_back(std::move(factor));
      before = after;
    }
  }

  void add_potential(const Potential& potential) {
    Potential factor{{}, potential.values};
    for (const std::size_t variable : potential.scope) factor.scope.push_back(slot(variable));
    network_.factors.push_back(std::move(factor));
  }

  const FaultModel& model_;
  std::vector<bool> is_chain_;
  std::vector<std::size_t> steps_;  // by variable
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

inline Network expand(const FaultModel& model, std::span<const Presence> presence) {
  return detail::Expansion(model, presence).take();
}

}  // namespace faultodds

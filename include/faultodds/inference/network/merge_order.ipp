// Body of merge_order.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <map>
#include <utility>
#include <variant>

#include "faultodds/inference/network/chain_order.hpp"
#include "faultodds/inference/network/elimination_order.hpp"
#include "faultodds/inference/network/merge_order.hpp"

namespace faultodds {
namespace detail {

/// Eliminates the network in which an effect is joined to each of its causes, and watches which links meet.
class MergeOrder {
 public:
  MergeOrder(const FaultModel& model, std::span<const Presence> presence, std::span<const std::size_t> known,
             const std::vector<bool>& is_chain)
      : model_(model), known_(known), links_(model.size()), factors_of_(model.size()) {
    for (std::size_t v = 0; v < model.size(); ++v) {
      if (presence[v] == Presence::left_out) continue;
      const Distribution& distribution = model.variable(v).distribution;
      const bool split = presence[v] == Presence::split_absent;
      if (const auto* noisy = std::get_if<NoisyMax>(&distribution); noisy != nullptr && (split || is_chain[v])) {
        add_links(v, *noisy, split || known[v] == 0);
      } else if (const auto* count = std::get_if<CountOf>(&distribution); count != nullptr && is_chain[v]) {
        for (const Gate& input : count->inputs) add_factor({v}, {input.variable}, nullptr);
      } else {
        add_factor({v}, model.parents(v), nullptr);
      }
    }
    for (const Potential& potential : model.parts().potentials) add_factor(potential.scope, {}, nullptr);
  }

  std::vector<std::vector<const Link*>> run(std::uint64_t seed) {
    std::vector<std::size_t> state_counts;
    for (std::size_t v = 0; v < model_.size(); ++v) {
      state_counts.push_back(known_[v] == not_known ? model_.state_count(v) : 2);
    }
    std::vector<std::vector<std::size_t>> scopes;
    for (const Factor& factor : factors_) scopes.push_back(factor.scope);
    static constexpr std::size_t tries = 3;  // the first two have no noise: they alone would not differ by the seed
    for (const std::size_t v : find_order(state_counts, scopes, {}, {tries, seed}).order) eliminate(v);
    return std::move(links_);
  }

 private:
  /// Links of one effect that have met: a walk through them from the far end of the longer way to where they met, in
  /// two parts that came from different sides.
  struct Walk {
    std::vector<const Link*> links;
    std::size_t first_part = 0;  // links
    std::size_t depth = 0;       // meetings one after the other
  };

  struct Factor {
    std::vector<std::size_t> scope;
    std::map<std::size_t, Walk> walks;  // by effect
    bool gone = false;
  };

  void add_factor(std::vector<std::size_t> scope, const std::vector<VariableIndex>& parents, const Link* link) {
    Factor factor;
    if (link != nullptr && !scope.empty()) factor.walks[scope[0]] = {{link}, 1, 0};
    factor.scope = std::move(scope);
    for (const std::size_t parent : parents) {
      if (known_[parent] == not_known) factor.scope.push_back(parent);
    }
    add(std::move(factor));
  }

  void add_links(std::size_t effect, const NoisyMax& noisy, bool absent) {
    for (const Link* link : open_links(noisy, known_)) {
      std::vector<VariableIndex> causes{link->cause};
      for (const Gate& gate : link->only_when) causes.push_back(gate.variable);
      add_factor(absent ? std::vector<std::size_t>{} : std::vector{effect}, causes, link);
    }
  }

  void add(Factor factor) {
    std::sort(factor.scope.begin(), factor.scope.end());
    factor.scope.erase(std::unique(factor.scope.begin(), factor.scope.end()), factor.scope.end());
    for (const std::size_t v : factor.scope) factors_of_[v].push_back(factors_.size());
    factors_.push_back(std::move(factor));
  }

  static Walk meet(Walk a, Walk b) {
    if (a.depth < b.depth) std::swap(a, b);
    a.first_part = a.links.size();
    a.depth += 1;
    a.links.insert(a.links.end(), b.links.begin(), b.links.end());
    return a;
  }

  void eliminate(std::size_t variable) {
    Factor together;
    for (const std::size_t index : std::exchange(factors_of_[variable], {})) {
      Factor& factor = factors_[index];
      if (std::exchange(factor.gone, true)) continue;
      together.scope.insert(together.scope.end(), factor.scope.begin(), factor.scope.end());
      for (auto& [effect, walk] : factor.walks) {
        const auto [known, is_new] = together.walks.try_emplace(effect);
        known->second = is_new ? std::move(walk) : meet(std::move(known->second), std::move(walk));
      }
    }
    std::erase(together.scope, variable);
    if (auto whole = together.walks.extract(variable); !whole.empty()) end(variable, std::move(whole.mapped()));
    if (!together.scope.empty()) add(std::move(together));
  }

  /// Both parts lead to where the last links met, so the second one is walked back.
  void end(std::size_t effect, Walk walk) {
    std::reverse(walk.links.begin() + static_cast<std::ptrdiff_t>(walk.first_part), walk.links.end());
    links_[effect] = std::move(walk.links);
  }

  const FaultModel& model_;
  std::span<const std::size_t> known_;
  std::vector<std::vector<const Link*>> links_;       // by effect
  std::vector<std::vector<std::size_t>> factors_of_;  // by variable
  std::vector<Factor> factors_;
};

}  // namespace detail

inline std::vector<std::vector<const Link*>> links_by_elimination(const FaultModel& model,
                                                                  std::span<const Presence> presence,
                                                                  std::span<const std::size_t> known,
                                                                  const std::vector<bool>& is_chain,
                                                                  std::uint64_t seed) {
  return detail::MergeOrder(model, presence, known, is_chain).run(seed);
}

}  // namespace faultodds

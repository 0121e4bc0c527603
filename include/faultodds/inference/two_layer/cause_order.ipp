// Bodies of cause_order.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <limits>
#include <utility>

#include "faultodds/inference/two_layer/cause_order.hpp"
#include "faultodds/inference/two_layer/subset_chain.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds::detail {

inline constexpr std::size_t max_bits = 31;  // of effects and states carried in binary

/// P(a cause accounts for exactly these effects), for all subsets of those of `links`.
[[nodiscard]] inline std::vector<double> shares_of(std::span<const TwoLayerNetwork::Link> links, std::size_t states) {
  std::vector<double> all;
  for (std::size_t s = 0; s < states; ++s) {
    std::vector<double> shares{1.0};
    for (const TwoLayerNetwork::Link& link : links) {  // by ascending effect
      const std::size_t count = shares.size();
      for (std::size_t i = 0; i < count; ++i) {
        shares.push_back(shares[i] * (1.0 - link.misses[s]));
        shares[i] *= link.misses[s];
      }
    }
    all.insert(all.end(), shares.begin(), shares.end());
  }
  return all;
}

[[nodiscard]] inline EffectSet effects_of(std::span<const TwoLayerNetwork::Link> links) {
  EffectSet effects = 0;
  for (const TwoLayerNetwork::Link& link : links) effects |= EffectSet{1} << link.effect;
  return effects;
}

/// Sets of effects that each of the given sets fits into one of, put together as long as that makes them cheaper to
/// take.
class SubsetSets {
 public:
  SubsetSets(std::vector<EffectSet> given, std::size_t most) : most_(static_cast<int>(most)) {
    sort_stably(given, [](EffectSet a, EffectSet b) { return std::popcount(a) > std::popcount(b); });
    for (const EffectSet set : given) {
      const bool fits = std::any_of(sets_.begin(), sets_.end(), [&](EffectSet s) { return (set & ~s) == 0; });
      if (!fits) sets_.push_back(set);
    }
    while (merge_two()) {
    }
  }

  [[nodiscard]] std::vector<EffectSet> take() { return std::move(sets_); }

 private:
  /// Of a step for each entry of what is carried: its coefficients, and about what reading and writing it costs.
  static double cost(EffectSet set) { return std::pow(1.5, std::popcount(set)) + 1.5; }

  bool merge_two() {
    double most = 0.0;
    std::size_t first = 0;
    std::size_t second = 0;
    for (std::size_t i = 0; i < sets_.size(); ++i) {
      for (std::size_t j = i + 1; j < sets_.size(); ++j) {
        if (std::popcount(sets_[i] | sets_[j]) > most_) continue;
        const double saved = cost(sets_[i]) + cost(sets_[j]) - cost(sets_[i] | sets_[j]);
        if (saved <= most) continue;
        most = saved;
        first = i;
        second = j;
      }
    }
    if (most <= 0.0) return false;
    const EffectSet made = sets_[first] | sets_[second];
    std::erase_if(sets_, [made](EffectSet set) { return (set & ~made) == 0; });
    sets_.push_back(made);
    return true;
  }

  int most_;
  std::vector<EffectSet> sets_;
};

/// Puts groups in order: from each of the first ones in turn, the next is the one after which least is carried. The
/// cheapest of these orders.
class SubsetSequence {
 public:
  explicit SubsetSequence(std::span<const SubsetItem> items) : items_(items) {
    static constexpr std::size_t max_starts = 16;
    for (std::size_t start = 0; start < std::min(items.size(), max_starts); ++start) {
      const std::vector<std::size_t> order = from(start);
      std::vector<SubsetItem> ordered;
      for (const std::size_t i : order) ordered.push_back({items_[i].effects, items_[i].state, {}});
      const double cost = SubsetChain::multiplications(ordered, 0);
      if (cost >= least_) continue;
      least_ = cost;
      best_ = order;
    }
  }

  [[nodiscard]] const std::vector<std::size_t>& best() const noexcept { return best_; }

 private:
  [[nodiscard]] EffectSet bits(std::size_t item) const { return items_[item].effects | items_[item].state; }

  [[nodiscard]] std::vector<std::size_t> from(std::size_t start) const {
    std::vector<std::size_t> order;
    std::vector<std::size_t> left;
    for (std::size_t i = 0; i < items_.size(); ++i) left.push_back(i);
    EffectSet taken = 0;
    std::size_t next = start;
    for (;;) {
      taken |= bits(left[next]);
      order.push_back(left[next]);
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(next));
      if (left.empty()) return order;
      next = cheapest(left, taken);
    }
  }

  [[nodiscard]] std::size_t cheapest(const std::vector<std::size_t>& left, EffectSet taken) const {
    EffectSet any = 0;
    EffectSet many = 0;  // in more than one of those left
    for (const std::size_t i : left) {
      many |= any & bits(i);
      any |= bits(i);
    }
    std::pair<int, int> lowest{std::numeric_limits<int>::max(), 0};
    std::size_t next = 0;
    for (std::size_t i = 0; i < left.size(); ++i) {
      const EffectSet set = bits(left[i]);
      const EffectSet behind = many | (any & ~set);
      const std::pair here{std::popcount((taken | set) & behind), std::popcount(set & ~taken)};
      if (here >= lowest) continue;
      lowest = here;
      next = i;
    }
    return next;
  }

  std::span<const SubsetItem> items_;
  double least_ = std::numeric_limits<double>::infinity();
  std::vector<std::size_t> best_;
};

/// Groups of at most so many effects; causes with more links are taken in parts.
class CauseGrouping {
 public:
  CauseGrouping(const TwoLayerNetwork& network, std::size_t most) : network_(network), most_(most) {}

  CauseOrder run() {
    group_members();
    for (std::size_t c = 0; c < network_.causes.size(); ++c) {
      if (network_.causes[c].links.size() > most_) split(c);
    }
    CauseOrder made;
    if (bits_ > max_bits) {
      made.multiplications = std::numeric_limits<double>::infinity();
      return made;
    }
    std::vector<SubsetItem> items;
    for (const CauseGroup& group : groups_) items.push_back({group.item.effects, group.item.state, {}});
    std::vector<bool> met(network_.causes.size(), false);
    const std::vector<std::size_t> order = SubsetSequence(items).best();
    std::vector<SubsetItem> ordered;
    for (const std::size_t i : order) {
      CauseGroup& group = groups_[i];
      if (group.cause != no_slot && met[group.cause]) {
        group.cause = no_slot;
      } else if (group.cause != no_slot) {
        met[group.cause] = true;
      }
      ordered.push_back(items[i]);
      made.multiplications += of_members(group);
      made.groups.push_back(std::move(group));
    }
    made.multiplications += SubsetChain::multiplications(ordered, 0);
    for (const EffectSet set : carried(ordered, 0)) {
      made.bytes += static_cast<double>(subsets_of(set) * lanes * sizeof(double));
    }
    return made;
  }

 private:
  static constexpr std::size_t max_in_part = 4;

  void group_members() {
    std::vector<CauseGroup::Member> members;
    std::vector<EffectSet> sets;
    for (std::size_t c = 0; c < network_.causes.size(); ++c) {
      const TwoLayerNetwork::Cause& cause = network_.causes[c];
      if (cause.links.empty() || cause.links.size() > most_) continue;
      const std::size_t states = cause.weights.size();
      members.push_back({c, states, effects_of(cause.links), shares_of(cause.links, states)});
      sets.push_back(members.back().effects);
    }
    for (std::size_t e = 0; e < network_.effects.size(); ++e) {
      const double left = network_.effects[e].left;
      members.push_back({no_slot, 1, EffectSet{1} << e, {left, 1.0 - left}});
      sets.push_back(members.back().effects);
    }
    for (const EffectSet set : SubsetSets(std::move(sets), most_).take())
      groups_.push_back({{set, 0, {}}, {}, no_slot});
    for (CauseGroup::Member& member : members) {
      const auto host = std::find_if(groups_.begin(), groups_.end(), [&](const CauseGroup& group) {
        return (member.effects & ~group.item.effects) == 0;
      });
      host->members.push_back(std::move(member));
    }
    std::erase_if(groups_, [](const CauseGroup& group) { return group.members.empty(); });
  }

  void split(std::size_t index) {
    const TwoLayerNetwork::Cause& cause = network_.causes[index];
    const std::size_t states = cause.weights.size();
    const auto of_state = static_cast<std::size_t>(std::bit_width(states - 1));
    bits_ += of_state;
    if (bits_ > max_bits) return;
    const EffectSet state = ((EffectSet{1} << of_state) - 1) << (bits_ - of_state);
    const std::size_t parts = (cause.links.size() + max_in_part - 1) / max_in_part;
    for (std::size_t p = 0; p < parts; ++p) {
      const std::size_t begin = cause.links.size() * p / parts;
      const std::size_t end = cause.links.size() * (p + 1) / parts;
      const auto links = std::span(cause.links).subspan(begin, end - begin);
      groups_.push_back({{effects_of(links), state, shares_of(links, states)}, {}, index});
    }
  }

  static double of_members(const CauseGroup& group);

  const TwoLayerNetwork& network_;
  std::size_t most_;
  std::size_t bits_ = network_.effects.size();
  std::vector<CauseGroup> groups_;
};

/// The members, their effects numbered within the group.
[[nodiscard]] inline std::vector<SubsetItem> items_in(const CauseGroup& group) {
  std::vector<SubsetItem> items;
  for (const CauseGroup::Member& member : group.members) {
    items.push_back({number_in(group.item.effects, member.effects), 0, {}});
  }
  return items;
}

[[nodiscard]] inline EffectSet all_in(const CauseGroup& group) {
  return static_cast<EffectSet>(subsets_of(group.item.effects) - 1);
}

inline double CauseGrouping::of_members(const CauseGroup& group) {
  return group.members.empty() ? 0.0 : SubsetChain::multiplications(items_in(group), all_in(group));
}

inline CauseOrder cause_order(const TwoLayerNetwork& network) {
  CauseOrder best;
  best.multiplications = std::numeric_limits<double>::infinity();
  if (network.effects.size() > max_bits) return best;
  for (std::size_t most = 8; most >= 2; --most) {
    CauseOrder made = CauseGrouping(network, most).run();
    if (made.multiplications < best.multiplications) best = std::move(made);
  }
  return best;
}

[[nodiscard]] inline std::vector<SubsetItem> items_of(std::span<const CauseGroup> groups) {
  std::vector<SubsetItem> items;
  for (const CauseGroup& group : groups) items.push_back(group.item);
  return items;
}

[[nodiscard]] inline std::vector<EffectEnd> ends_of(const TwoLayerNetwork& network) {
  std::vector<EffectEnd> ends;
  for (const TwoLayerNetwork::Effect& effect : network.effects) ends.push_back({effect.if_not, effect.if_so});
  return ends;
}

inline CompiledTwoLayer::CompiledTwoLayer(TwoLayerNetwork network, std::vector<CauseGroup> groups, const Stop& stop)
    : network_(std::move(network)), groups_(std::move(groups)), chain_(items_of(groups_), 0, ends_of(network_)) {
  for (const CauseGroup& group : groups_) {
    stop.check();
    chains_.emplace_back(items_in(group), all_in(group), std::span<const EffectEnd>{});
  }
}

}  // namespace faultodds::detail

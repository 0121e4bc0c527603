// Junction trees that were made lately, kept for the next case of the same shape.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <list>
#include <memory>
#include <mutex>
#include <unordered_map>
#include <utility>

#include "faultodds/inference/junction_tree/junction_tree.hpp"
#include "faultodds/inference/network/relevance.hpp"

namespace faultodds {

/// The junction trees used last, as many as fit into some bytes. A junction tree follows from the solver and the shape
/// alone, so that one found here is the same, bit for bit, as one made anew. Safe to use from several threads; no
/// junction tree is made under the lock.
class TreeCache {
 public:
  /// Keeps none if `max_bytes` is zero.
  explicit TreeCache(double max_bytes) : max_bytes_(max_bytes) {}

  /// Null if there is none of this shape.
  [[nodiscard]] std::shared_ptr<const JunctionTree> find(const CaseShape& shape) {
    const std::size_t hash = hash_of(shape);
    const std::scoped_lock lock(mutex_);
    const auto [first, last] = by_hash_.equal_range(hash);
    const auto found = std::find_if(first, last, [&](const auto& one) { return one.second->shape == shape; });
    if (found == last) return nullptr;
    kept_.splice(kept_.begin(), kept_, found->second);
    return kept_.front().tree;
  }

  void keep(CaseShape shape, std::shared_ptr<const JunctionTree> tree) {
    const double bytes = bytes_of(*tree, shape);
    if (bytes > max_bytes_) return;
    const std::size_t hash = hash_of(shape);
    const std::scoped_lock lock(mutex_);
    kept_.push_front({hash, std::move(shape), std::move(tree), bytes});
    by_hash_.emplace(hash, kept_.begin());
    bytes_ += bytes;
    while (bytes_ > max_bytes_) drop_last();
  }

  /// What one takes: tables, and about what cliques, messages, shapes and workspaces take in addition.
  [[nodiscard]] static double bytes_of(const JunctionTree& tree, const CaseShape& shape) {
    static constexpr double for_workspace = 3.0;
    const double cliques = JunctionTree::bytes_beside_tables * static_cast<double>(tree.nodes().size());
    return for_workspace * (tree.bytes() + cliques) +
           static_cast<double>(shape.known.size() * (sizeof(std::size_t) + sizeof(Presence)));
  }

 private:
  struct Kept {
    std::size_t hash = 0;
    CaseShape shape;
    std::shared_ptr<const JunctionTree> tree;
    double bytes = 0.0;
  };

  void drop_last() {
    const auto last = std::prev(kept_.end());
    const auto [first, end] = by_hash_.equal_range(last->hash);
    by_hash_.erase(std::find_if(first, end, [&](const auto& one) { return one.second == last; }));
    bytes_ -= last->bytes;
    kept_.pop_back();
  }

  static std::size_t hash_of(const CaseShape& shape) {
    std::size_t hash = shape.presence.size();
    const auto add = [&hash](std::size_t number) {
      hash = (hash ^ number) * std::size_t{0x9e3779b97f4a7c15U};
      hash ^= hash >> 29U;
    };
    for (std::size_t v = 0; v < shape.presence.size(); ++v) {
      if (shape.presence[v] != Presence::left_out) add(4 * v + static_cast<std::size_t>(shape.presence[v]));
    }
    for (std::size_t v = 0; v < shape.known.size(); ++v) {
      if (shape.known[v] != not_known) add(~(64 * v + shape.known[v]));
    }
    return hash;
  }

  double max_bytes_;
  std::mutex mutex_;  // of what follows
  double bytes_ = 0.0;
  std::list<Kept> kept_;  // the one used last comes first
  std::unordered_multimap<std::size_t, std::list<Kept>::iterator> by_hash_;
};

}  // namespace faultodds

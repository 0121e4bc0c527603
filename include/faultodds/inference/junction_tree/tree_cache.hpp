// Junction trees that were made lately, kept for the next case of the same shape.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

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
    const std::scoped_lock lock(mutex_);
    const auto found = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) { return kept.shape == shape; });
    if (found == kept_.end()) return nullptr;
    std::rotate(kept_.begin(), found, found + 1);
    return kept_.front().tree;
  }

  void keep(CaseShape shape, std::shared_ptr<const JunctionTree> tree) {
    const double bytes = bytes_of(*tree, shape);
    if (bytes > max_bytes_) return;
    const std::scoped_lock lock(mutex_);
    kept_.insert(kept_.begin(), {std::move(shape), std::move(tree), bytes});
    double total = 0.0;
    const auto last = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) {
      total += kept.bytes;
      return total > max_bytes_;
    });
    kept_.erase(last, kept_.end());
  }

 private:
  struct Kept {
    CaseShape shape;
    std::shared_ptr<const JunctionTree> tree;
    double bytes = 0.0;
  };

  /// Tables, and about what cliques, messages and shapes take in addition.
  static double bytes_of(const JunctionTree& tree, const CaseShape& shape) {
    return tree.bytes() + JunctionTree::bytes_beside_tables * static_cast<double>(tree.nodes().size()) +
           static_cast<double>(shape.known.size() * (sizeof(std::size_t) + sizeof(Presence)));
  }

  double max_bytes_;
  std::mutex mutex_;
  std::vector<Kept> kept_;  // the one used last comes first
};

}  // namespace faultodds

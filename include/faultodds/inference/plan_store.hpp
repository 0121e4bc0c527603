// Plans that cases made lately, kept for the next case of the same shape.
#pragma once

#include <algorithm>
#include <cstddef>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

#include "faultodds/inference/plan.hpp"
#include "faultodds/inference/relevance.hpp"

namespace faultodds {

/// The plans used last, as many as fit into some bytes. A plan follows from the solver and the shape alone, so that one
/// found here is the same, bit for bit, as one made anew. Safe to use from several threads; no plan is made under the
/// lock.
class PlanStore {
 public:
  /// Keeps none where `most_bytes` is zero.
  explicit PlanStore(double most_bytes) : most_bytes_(most_bytes) {}

  /// Null where there is none of this shape.
  [[nodiscard]] std::shared_ptr<const Plan> find(const CaseShape& shape) {
    const std::scoped_lock lock(mutex_);
    const auto found = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) { return kept.shape == shape; });
    if (found == kept_.end()) return nullptr;
    std::rotate(kept_.begin(), found, found + 1);
    return kept_.front().plan;
  }

  void keep(CaseShape shape, std::shared_ptr<const Plan> plan) {
    const double bytes = bytes_of(*plan, shape);
    if (bytes > most_bytes_) return;
    const std::scoped_lock lock(mutex_);
    kept_.insert(kept_.begin(), {std::move(shape), std::move(plan), bytes});
    double total = 0.0;
    const auto last = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) {
      total += kept.bytes;
      return total > most_bytes_;
    });
    kept_.erase(last, kept_.end());
  }

 private:
  struct Kept {
    CaseShape shape;
    std::shared_ptr<const Plan> plan;
    double bytes = 0.0;
  };

  /// Tables, and about what cliques, messages and shapes take beside them.
  static double bytes_of(const Plan& plan, const CaseShape& shape) {
    return plan.bytes() + Plan::bytes_beside_tables * static_cast<double>(plan.nodes().size()) +
           static_cast<double>(shape.known.size() * (sizeof(std::size_t) + sizeof(Presence)));
  }

  double most_bytes_;
  std::mutex mutex_;
  std::vector<Kept> kept_;  // the one used last comes first
};

}  // namespace faultodds

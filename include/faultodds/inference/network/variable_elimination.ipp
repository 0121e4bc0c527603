// Bodies of variable_elimination.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <limits>
#include <utility>

#include "faultodds/inference/network/elimination_order.hpp"
#include "faultodds/inference/network/variable_elimination.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {
namespace detail {

inline constexpr std::size_t elimination_tries = 2;
inline constexpr double elimination_steps_per_entry = 1.0;
inline constexpr std::uint64_t elimination_seed = 1;

/// An order with `last` last; throws TooLarge if its tables, and one over `table`, exceed the limit.
inline EliminationOrder affordable_order(std::span<const Potential> factors, std::span<const std::size_t> state_counts,
                                         std::span<const std::size_t> last, std::span<const std::size_t> table,
                                         double memory_limit_bytes) {
  std::vector<std::vector<std::size_t>> scopes;
  for (const Potential& factor : factors) scopes.push_back(factor.scope);
  if (!table.empty()) scopes.emplace_back(table.begin(), table.end());
  EliminationOrder found =
      find_order(state_counts, scopes, last, {elimination_tries, elimination_seed, elimination_steps_per_entry});
  const double bytes = found.total_entries * static_cast<double>(sizeof(double));
  if (bytes > memory_limit_bytes) {
    throw TooLarge(table.empty() ? "elimination" : "the joint of " + std::to_string(table.size()) + " variables", bytes,
                   memory_limit_bytes, "ask for fewer variables at once, or raise the limit");
  }
  return found;
}

/// Takes the factor with the fewest entries out of a list that is not empty.
inline Potential take_smallest(std::vector<Potential>& factors) {
  const auto smallest = std::min_element(factors.begin(), factors.end(), [](const Potential& a, const Potential& b) {
    return a.values.size() < b.values.size();
  });
  Potential taken = std::move(*smallest);
  factors.erase(smallest);
  return taken;
}

/// rescale() where products of such tables could leave the range of a double.
inline double keep_in_range(Potential& table) {
  constexpr double small = 1e-50;
  std::array<double, 4> largest{};
  const std::vector<double>& values = table.values;
  std::size_t i = 0;
  for (; i + largest.size() <= values.size(); i += largest.size()) {
    for (std::size_t lane = 0; lane < largest.size(); ++lane) largest[lane] = std::max(largest[lane], values[i + lane]);
  }
  for (; i < values.size(); ++i) largest[0] = std::max(largest[0], values[i]);
  const double most = *std::max_element(largest.begin(), largest.end());
  return most < small || most > 1.0 / small ? rescale(table) : 0.0;
}

/// The product of the factors, divided by something whose natural logarithm is added to `scale`: thousands of small
/// factors must not underflow. Entries below 1e-300 of the largest on the way count as zero. The smallest factors are
/// multiplied first, so that few products are as large as the whole.
inline Potential scaled_product(std::vector<Potential> factors, std::vector<std::size_t> scope,
                                std::span<const std::size_t> state_counts, double& scale) {
  for (Potential& factor : factors) scale += keep_in_range(factor);
  while (factors.size() > 2) {
    const std::array<Potential, 2> both{take_smallest(factors), take_smallest(factors)};
    Potential together = product(both, common_scope(both), state_counts);
    scale += keep_in_range(together);
    factors.push_back(std::move(together));
  }
  return product(factors, std::move(scope), state_counts);
}

/// Factors by the first of their variables to be eliminated.
class Buckets {
 public:
  Buckets(std::vector<Potential> factors, std::span<const std::size_t> order, std::size_t variables)
      : position_(variables, order.size()), buckets_(order.size() + 1) {
    for (std::size_t i = 0; i < order.size(); ++i) position_[order[i]] = i;
    for (Potential& factor : factors) put(std::move(factor));
  }

  /// Into the bucket of its first variable in the order; into the last bucket if it has none.
  void put(Potential factor) {
    std::size_t first = buckets_.size() - 1;
    for (const std::size_t v : factor.scope) first = std::min(first, position_[v]);
    buckets_[first].push_back(std::move(factor));
  }

  std::vector<Potential> take(std::size_t position) { return std::move(buckets_[position]); }
  std::vector<Potential> take_rest() { return std::move(buckets_.back()); }

 private:
  std::vector<std::size_t> position_;
  std::vector<std::vector<Potential>> buckets_;
};

}  // namespace detail

inline Potential eliminate(std::vector<Potential> factors, std::span<const std::size_t> state_counts,
                           std::span<const std::size_t> keep, double memory_limit_bytes, double* log_scale,
                           const Stop& stop) {
  std::vector<std::size_t> kept(keep.begin(), keep.end());
  std::sort(kept.begin(), kept.end());
  if (const auto twice = std::adjacent_find(kept.begin(), kept.end()); twice != kept.end()) {
    throw ArgumentError("keep", "variable " + std::to_string(*twice) + " is named twice", "name each variable once",
                        ErrorCode::named_twice);
  }
  EliminationOrder found = detail::affordable_order(factors, state_counts, keep, keep, memory_limit_bytes);
  found.order.resize(found.order.size() - kept.size());

  double scale = 0.0;
  detail::Buckets buckets(std::move(factors), found.order, state_counts.size());
  for (std::size_t i = 0; i < found.order.size(); ++i) {
    stop.check();
    std::vector<Potential> bucket = buckets.take(i);
    if (bucket.empty()) continue;
    std::vector<std::size_t> scope = common_scope(bucket);
    const Potential table = detail::scaled_product(std::move(bucket), std::move(scope), state_counts, scale);
    Potential message = sum_out(table, {&found.order[i], 1}, state_counts);
    scale += detail::keep_in_range(message);
    buckets.put(std::move(message));
  }
  Potential result = detail::scaled_product(buckets.take_rest(), {keep.begin(), keep.end()}, state_counts, scale);
  scale += rescale(result);
  if (log_scale != nullptr) *log_scale = scale;
  return result;
}

inline Maximum maximise(std::vector<Potential> factors, std::span<const std::size_t> state_counts,
                        std::span<const std::size_t> sum_first, double memory_limit_bytes, const Stop& stop) {
  std::vector<bool> summed(state_counts.size(), false);
  for (const std::size_t v : sum_first) summed[v] = true;
  std::vector<std::size_t> last;
  for (std::size_t v = 0; v < state_counts.size(); ++v) {
    if (!summed[v]) last.push_back(v);
  }
  const EliminationOrder found = detail::affordable_order(factors, state_counts, last, {}, memory_limit_bytes);

  double scale = 0.0;
  detail::Buckets buckets(std::move(factors), found.order, state_counts.size());
  std::vector<MaxOut> choices(found.order.size());
  for (std::size_t i = 0; i < found.order.size(); ++i) {
    stop.check();
    std::vector<Potential> bucket = buckets.take(i);
    if (bucket.empty()) continue;
    std::vector<std::size_t> scope = common_scope(bucket);
    const Potential clique = detail::scaled_product(std::move(bucket), std::move(scope), state_counts, scale);
    Potential message;
    if (summed[found.order[i]]) {
      message = sum_out(clique, {&found.order[i], 1}, state_counts);
    } else {
      choices[i] = max_out(clique, found.order[i], state_counts);
      message = choices[i].largest;
      choices[i].largest.values.clear();
    }
    scale += detail::keep_in_range(message);
    buckets.put(std::move(message));
  }
  Potential rest = detail::scaled_product(buckets.take_rest(), {}, state_counts, scale);
  scale += rescale(rest);

  Maximum maximum{std::vector<std::size_t>(state_counts.size(), 0), scale};
  if (rest.values[0] == 0.0) maximum.log_value = -std::numeric_limits<double>::infinity();
  for (std::size_t i = found.order.size(); i-- > 0;) {
    if (choices[i].reached_at.empty()) continue;
    std::size_t at = 0;
    for (const std::size_t v : choices[i].largest.scope) at = at * state_counts[v] + maximum.states[v];
    maximum.states[found.order[i]] = choices[i].reached_at[at];
  }
  return maximum;
}

}  // namespace faultodds

// Stable sorting whose code is compiled once: std::stable_sort is compiled anew for every comparison, which takes a
// tenth of a second each time. For lists that are sorted now and then, not in inner loops.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace faultodds::detail {

/// Refers to a function that says whether one place comes before another; the function must outlive it.
class ComesBefore {
 public:
  template <typename Function>
  ComesBefore(const Function& function)
      : function_(&function), call_([](const void* f, std::size_t one, std::size_t other) -> bool {
          return (*static_cast<const Function*>(f))(one, other);
        }) {}

  [[nodiscard]] bool operator()(std::size_t one, std::size_t other) const { return call_(function_, one, other); }

 private:
  const void* function_;
  bool (*call_)(const void* function, std::size_t one, std::size_t other);
};

/// The places 0 to `count` - 1 in order; those of which neither comes before the other stay as they are.
[[nodiscard]] std::vector<std::size_t> stable_order(std::size_t count, const ComesBefore& comes_before);

/// Sorts `values`; those of which neither comes before the other stay as they are.
template <typename Value, typename Before>
void sort_stably(std::vector<Value>& values, const Before& comes_before) {
  const std::vector<std::size_t> order = stable_order(
      values.size(), [&](std::size_t one, std::size_t other) { return comes_before(values[one], values[other]); });
  std::vector<Value> sorted;
  sorted.reserve(values.size());
  for (const std::size_t place : order) sorted.push_back(std::move(values[place]));
  values = std::move(sorted);
}

}  // namespace faultodds::detail

#include "faultodds/model/stable_order.ipp"

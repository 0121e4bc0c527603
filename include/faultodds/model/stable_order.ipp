// Bodies of stable_order.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <numeric>

#include "faultodds/model/stable_order.hpp"

namespace faultodds::detail {

inline std::vector<std::size_t> stable_order(std::size_t count, const ComesBefore& comes_before) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), comes_before);
  return order;
}

}  // namespace faultodds::detail

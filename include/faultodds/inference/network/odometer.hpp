// All configurations of some variables, one after the other.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace faultodds::detail {

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

}  // namespace faultodds::detail

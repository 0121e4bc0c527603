// Comparison of tables of numbers.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <gtest/gtest.h>

#include <cstddef>
#include <string>
#include <vector>

namespace support {

inline void expect_near(const std::vector<double>& found, const std::vector<double>& right, double tolerance) {
  ASSERT_EQ(found.size(), right.size());
  for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(found[i], right[i], tolerance) << "entry " << i;
}

inline void expect_near(const std::vector<std::vector<double>>& found, const std::vector<std::vector<double>>& right,
                        double tolerance) {
  ASSERT_EQ(found.size(), right.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    SCOPED_TRACE("row " + std::to_string(i));
    expect_near(found[i], right[i], tolerance);
  }
}

}  // namespace support

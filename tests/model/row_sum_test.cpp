// What a row may miss one by: rounding of printed digits, never more than 1e-3.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/row_sum.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

namespace {

using namespace faultodds;
using Row = std::vector<double>;

TEST(RowSum, CorrectsForRounding) {
  // Neumaier's own example: plain summation gives 0, the sum is 2 (Neumaier 1974, from memory; the terms show it).
  EXPECT_EQ(row_sum(Row{1.0, 1e100, 1.0, -1e100}), 2.0);
  EXPECT_EQ(row_sum(Row(10, 0.1)), 1.0);
  EXPECT_EQ(row_sum(Row{}), 0.0);
}

TEST(RowSum, CountsDecimalPlaces) {
  EXPECT_EQ(decimal_places(0.25), 2);
  EXPECT_EQ(decimal_places(0.3333), 4);
  EXPECT_EQ(decimal_places(2e-7), 7);
  EXPECT_EQ(decimal_places(1.5e-7), 8);
  EXPECT_EQ(decimal_places(3.0), 0);
  EXPECT_EQ(decimal_places(1200.0), 0);
  EXPECT_EQ(decimal_places(1e300), 0);
  EXPECT_EQ(decimal_places(12.75), 2);
}

TEST(RowSum, AllowsHalfAUnitOfTheLastPlaceForEachNumber) {
  EXPECT_DOUBLE_EQ(row_allowance(Row{0.3333, 0.3333, 0.3333}), 1.5e-4);
  EXPECT_DOUBLE_EQ(row_allowance(Row{0.5, 0.25, 0.2499}), 1.5e-4) << "0.5 may mean 0.5000";
  EXPECT_DOUBLE_EQ(row_allowance(Row{0.5, 0.4}), 1e-3) << "never more than that";
  EXPECT_DOUBLE_EQ(row_allowance(Row{0.33333333, 0.66666666}), 1e-6) << "never less than that";
  EXPECT_DOUBLE_EQ(row_allowance(Row{0.0, 1.0}), 1e-3);
}

TEST(RowSum, KnowsEveryKindOfRow) {
  EXPECT_EQ(row_state(Row{0.25, 0.75}), RowState::exact);
  EXPECT_EQ(row_state(Row(10, 0.1)), RowState::exact);
  EXPECT_EQ(row_state(Row{0.3333, 0.3333, 0.3333}), RowState::rounded);
  EXPECT_EQ(row_state(Row{0.33, 0.33, 0.33}), RowState::wrong_sum) << "0.01 is more than rounding to 1e-3 explains";
  EXPECT_EQ(row_state(Row{0.04, 0.04, 0.82, 0.10}), RowState::exact);
  EXPECT_EQ(row_state(Row{0.1666, 0.1666, 0.1666, 0.1666, 0.1666, 0.1667}), RowState::rounded)
      << "misses by 3e-4 of 3e-4";
  EXPECT_EQ(row_state(Row{0.5, 0.4}), RowState::wrong_sum);
  EXPECT_EQ(row_state(Row{0.5, 0.5 + 9e-7}), RowState::rounded);
  EXPECT_EQ(row_state(Row{0.5, 0.5001}), RowState::rounded) << "a miss of exactly two halves of 1e-4";
  EXPECT_EQ(row_state(Row{0.5, 0.50012}), RowState::wrong_sum);
  EXPECT_EQ(row_state(Row{-0.5, 1.5}), RowState::bad_entry);
  EXPECT_EQ(row_state(Row{std::nan(""), 1.0}), RowState::bad_entry);
  EXPECT_EQ(row_state(Row{std::numeric_limits<double>::infinity(), 0.0}), RowState::bad_entry);
  EXPECT_EQ(row_state(Row{1.0005, 0.0}), RowState::bad_entry) << "more above one than its own digits explain";
  EXPECT_EQ(row_state(Row{1.0000001, 0.0}), RowState::rounded);
  EXPECT_EQ(row_state(Row{0.0, 0.0}), RowState::all_zero);
  EXPECT_EQ(row_state(Row{}), RowState::all_zero);
}

TEST(RowSum, ScaledRowsAreExactAndStaySo) {
  Row thirds{0.3333, 0.3333, 0.3333};
  scale_row(thirds);
  for (const double value : thirds) EXPECT_DOUBLE_EQ(value, 1.0 / 3.0);
  for (int n = 2; n < 400; ++n) {
    Row row;
    for (int i = 0; i < n; ++i) row.push_back(1.0 / (1.0 + i * i % 17) + 1e-9 * i);
    scale_row(row);
    EXPECT_EQ(row_state(row), RowState::exact) << n;
  }
}

TEST(RowSum, ShortestFormReadsBack) {
  EXPECT_EQ(shortest_form(0.1), "0.1");
  EXPECT_EQ(shortest_form(1.0 / 3.0), "0.3333333333333333");
  EXPECT_EQ(shortest_form(60.0), "60");
}

}  // namespace

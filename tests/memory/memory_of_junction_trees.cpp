// Memory of compiling and answering, counted by an operator new of this program's own: it stays near the tables' bytes,
// and is estimated. The bounds are this project's own; what they are held against is what the heap was asked for.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "faultodds/io/model_file.hpp"
#include "memory_use.hpp"
#include "support/build.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using faultodds_benchmarks::memory_use;
using faultodds_benchmarks::MemoryUse;

/// Below this, what cliques and variables take beside their tables (some kilobytes each) counts more than the tables.
constexpr double min_tables = 1e6;

void expect_within_bounds(const MemoryUse& use, const std::string& name) {
  EXPECT_LE(std::max(use.compiling, use.answering), 2.0 * use.tables) << name;
  EXPECT_NEAR(use.estimate / use.compiling, 1.0, 0.1) << name;
}

/// Each variable of two states depends on the one above and the one to its left; tables of no zeros.
FaultModel grid(std::size_t rows, std::size_t columns, support::Dice& dice) {
  support::Builder builder;
  for (std::size_t row = 0; row < rows; ++row) {
    for (std::size_t column = 0; column < columns; ++column) {
      std::vector<VariableIndex> parents;
      const std::size_t here = row * columns + column;
      if (row > 0) parents.push_back(here - columns);
      if (column > 0) parents.push_back(here - 1);
      std::vector<double> values;
      for (std::size_t i = 0; i < std::size_t{1} << parents.size(); ++i) {
        values.push_back(0.1 + 0.8 * dice.uniform());
        values.push_back(1.0 - values.back());
      }
      builder.variable("v" + std::to_string(here), {"no", "yes"}, parents, values);
    }
  }
  return builder.model();
}

TEST(MemoryOfPlans, StaysNearTheTablesAndIsForetoldOnGrids) {
  support::Dice dice(3);
  for (const std::size_t columns : {10U, 12U, 13U}) {
    const MemoryUse use = memory_use(grid(20, columns, dice));
    ASSERT_GT(use.tables, min_tables);
    expect_within_bounds(use, "grid of " + std::to_string(columns) + " columns");
  }
}

TEST(MemoryOfPlans, StaysNearTheTablesAndIsForetoldOnPublishedNetworks) {
  const char* const folder = std::getenv("FAULTODDS_NETWORKS");
  if (folder == nullptr) GTEST_SKIP() << "FAULTODDS_NETWORKS is not set: no published network is measured";
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().string().ends_with(".bif.gz")) files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  std::size_t large = 0;
  for (const std::filesystem::path& file : files) {
    const MemoryUse use = memory_use(read_model(file));
    if (use.tables < min_tables) continue;
    ++large;
    expect_within_bounds(use, file.filename().string());
  }
  EXPECT_GT(large, 5U) << "hardly a network is large enough: the check looks in the wrong place";
}

}  // namespace

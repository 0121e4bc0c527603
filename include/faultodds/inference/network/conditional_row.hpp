// One row of any conditional table, by the states of the parents.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <variant>

#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/table_row.hpp"

namespace faultodds::detail {

/// P(variable | each parent in the state that `state_of` gives) in `row`, one number for each state. The variable has
/// a table.
template <class StateOf>
void conditional_row(const FaultModel& model, std::size_t variable, std::span<double> row, const StateOf& state_of) {
  const Distribution& distribution = model.variable(variable).distribution;
  const auto* full = std::get_if<FullTable>(&distribution);
  if (full == nullptr) return fill_row(distribution, row, state_of);
  std::size_t index = 0;
  for (const std::size_t parent : full->parents) index = index * model.state_count(parent) + state_of(parent);
  const std::span<const double> from = full->rows.row(index);
  std::copy(from.begin(), from.end(), row.begin());
}

}  // namespace faultodds::detail

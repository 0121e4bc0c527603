// The conditional table of any distribution, written out in full.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <limits>
#include <type_traits>

#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/table_row.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds {
inline FullTable written_out(const FaultModel& model, VariableIndex variable, std::size_t max_entries) {
  const Variable& owner = model.variable(variable);
  if (const auto* full = std::get_if<FullTable>(&owner.distribution)) return *full;
  if (std::holds_alternative<Unweighted>(owner.distribution)) {
    throw ArgumentError("variable", '"' + owner.name + "\" has no conditional table of its own",
                        "only the potentials of the model speak about it");
  }

  const std::vector<VariableIndex>& parents = model.parents(variable);
  std::vector<std::size_t> sizes;
  std::size_t rows = 1;
  auto entries = static_cast<double>(owner.states.size());
  for (const VariableIndex parent : parents) {
    sizes.push_back(model.state_count(parent));
    rows = detail::saturating_product(rows, sizes.back());
    entries *= static_cast<double>(sizes.back());
  }
  if (detail::saturating_product(rows, owner.states.size()) > max_entries) {
    throw TooLarge(
        "the table of \"" + owner.name + "\", written out for " + std::to_string(parents.size()) + " parents,",
        entries * sizeof(double), static_cast<double>(max_entries) * sizeof(double),
        "keep it as noisy-OR, noisy-MAX or a count, or give it fewer parents");
  }

  FullTable table{parents, Table(rows, owner.states.size())};
  std::vector<std::size_t> place(model.size());
  for (std::size_t i = 0; i < parents.size(); ++i) place[parents[i]] = i;
  std::vector<StateIndex> states(parents.size(), 0);
  const auto state_of = [&](VariableIndex parent) { return states[place[parent]]; };
  for (std::size_t r = 0; r < rows; ++r) {
    detail::fill_row(owner.distribution, table.rows.row(r), state_of);
    detail::next_configuration(states, sizes);
  }
  return table;
}

}  // namespace faultodds

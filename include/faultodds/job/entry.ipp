// Bodies of entry.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>

#include "faultodds/job/entry.hpp"
#include "faultodds/model/errors.hpp"

namespace faultodds {
namespace detail {

/// Names of the alternatives of EntryKind, in their order.
[[nodiscard]] constexpr std::array<std::string_view, std::variant_size_v<EntryKind>> entry_kinds() {
  return {"finding", "reading", "revealed", "declined", "repair", "part", "in_place", "hand_over", "end"};
}

inline void require_index(const std::string& argument, std::size_t index, std::size_t count) {
  if (index < count) return;
  throw ArgumentError(argument, "there is no " + argument + ' ' + std::to_string(index),
                      count == 0 ? "the model has none" : "give an index below " + std::to_string(count),
                      ErrorCode::index_out_of_range);
}

}  // namespace detail

inline std::string_view kind_of(const Entry& entry) { return detail::entry_kinds().at(entry.what.index()); }

inline std::optional<VariableIndex> test_done(const FaultModel& model, const Entry& entry) {
  if (const auto* reading = std::get_if<ReadingEntry>(&entry.what)) return reading->test;
  if (const auto* revealed = std::get_if<RevealedEntry>(&entry.what)) return revealed->test;
  const auto* found = std::get_if<FindingEntry>(&entry.what);
  if (found == nullptr || model.variable(found->finding.variable).role() != Role::test) return std::nullopt;
  return found->finding.variable;
}

inline const RepairCheck* check_of(const FaultModel& model, RepairIndex repair) {
  const std::vector<Repair>& repairs = model.parts().repairs;
  detail::require_index("repair", repair, repairs.size());
  const std::optional<RepairCheck>& own = repairs[repair].verification;
  const std::optional<RepairCheck>& check = own ? own : model.parts().verification;
  return check ? &*check : nullptr;
}

}  // namespace faultodds

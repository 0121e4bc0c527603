// The checks behind FaultModel's constructor, for readers of files that want problems to carry the paths of their file.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "faultodds/model/errors.hpp"

namespace faultodds {

struct ModelParts;
struct Potential;
struct RowScaling;
struct ScaledRow;

namespace detail {

/// a * b, or the largest number if that does not fit.
[[nodiscard]] inline std::size_t saturating_product(std::size_t a, std::size_t b) noexcept {
  constexpr std::size_t most = std::numeric_limits<std::size_t>::max();
  return b != 0 && a > most / b ? most : a * b;
}

/// "1 row", "3 rows"; "more than 1.8e19 rows" if counting was saturated.
[[nodiscard]] inline std::string counted(std::size_t count, const std::string& thing) {
  const bool saturated = count == std::numeric_limits<std::size_t>::max();
  return (saturated ? "more than 1.8e19" : std::to_string(count)) + ' ' + thing + (count == 1 ? "" : "s");
}

[[nodiscard]] inline std::string quoted(const std::string& name) { return '"' + name + '"'; }

/// What problems call the parts of a model, one for each element of each list. A reader puts the paths of its file
/// here.
struct Places {
  std::vector<std::string> variables, potentials, access, tools, skills, cautions, repairs, conditions, hand_overs;
  std::string header;
};

/// Places for a model made in memory: the name, or the position if there is none.
[[nodiscard]] Places plain_places(const ModelParts& parts);

/// Everything that is wrong with `parts`, in the order of the model. Changes nothing.
[[nodiscard]] std::vector<Problem> find_problems(const ModelParts& parts, RowScaling policy, const Places& places);

/// What is wrong with one row of probabilities, called `what` in the text; nothing if it is right or will be scaled.
[[nodiscard]] std::optional<Problem> row_problem(std::span<const double> row, RowScaling policy,
                                                 const std::string& place, const std::string& what);

/// Scales every row that does not sum to one within 1e-14 and says which they were. The parts have no problems.
[[nodiscard]] std::vector<ScaledRow> scale_rows(ModelParts& parts);
/// Cycles as paths that end where they began; one that shares a node with an earlier one is left out. `next` gives the
/// nodes an edge leads to from each node; edges out of range or to the node itself are passed over. Depth first,
/// without recursion, so that long chains do not exhaust the stack.
[[nodiscard]] std::vector<std::vector<std::size_t>> find_cycles(const std::vector<std::vector<std::size_t>>& next);

/// The names on a cycle.
template <class Named>
[[nodiscard]] std::string path_text(const std::vector<std::size_t>& cycle, const std::vector<Named>& list) {
  std::string text;
  for (const std::size_t node : cycle) text += (text.empty() ? "" : " -> ") + list[node].name;
  return text;
}

/// What is wrong with a potential is added to `problems`.
void check_potential(const ModelParts& parts, const Potential& potential, const std::string& place,
                     std::vector<Problem>& problems);

}  // namespace detail
}  // namespace faultodds

// Bodies of information.hpp.
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "faultodds/decision/information.hpp"
#include "faultodds/decision/noisy_entropy.hpp"
#include "faultodds/decision/separation.hpp"

namespace faultodds {
namespace detail {

/// Mutual information below this is rounding.
inline constexpr double rounding_bits = 1e-15;

inline double table_size(const FaultModel& model, std::span<const std::size_t> variables) {
  double size = 1.0;
  for (const std::size_t variable : variables) size *= static_cast<double>(model.state_count(variable));
  return size;
}

/// I(X; Y) of a joint table with `columns` states of Y running fastest, as the mean of log2 P(x, y) / (P(x) P(y)).
inline double mutual_information_bits(std::span<const double> joint, std::size_t columns) {
  std::vector<double> of_column(columns, 0.0);
  for (std::size_t i = 0; i < joint.size(); ++i) of_column[i % columns] += joint[i];
  double bits = 0.0;
  for (std::size_t row = 0; row < joint.size(); row += columns) {
    double of_row = 0.0;
    for (std::size_t c = 0; c < columns; ++c) of_row += joint[row + c];
    for (std::size_t c = 0; c < columns; ++c) {
      const double p = joint[row + c];
      if (p > 0.0) bits += p * std::log2(p / (of_row * of_column[c]));
    }
  }
  return bits < rounding_bits ? 0.0 : bits;
}

/// P(parents, test) where the test's own table says P(test | parents).
inline std::vector<double> with_test(std::span<const double> parents, const Table& rows) {
  std::vector<double> joint;
  joint.reserve(parents.size() * rows.columns());
  for (std::size_t row = 0; row < parents.size(); ++row) {
    for (const double p : rows.row(row)) joint.push_back(parents[row] * p);
  }
  return joint;
}

/// True where the test's table says all about it: nothing found hangs on it, and its parents without a hard finding are
/// those of `scope`.
inline bool hangs_on_exactly(const Case& current, std::size_t test, std::span<const std::size_t> scope) {
  if (!is_barren(current, test)) return false;
  std::vector<std::size_t> parents = current.model().parents(test);
  std::erase_if(parents, [&](std::size_t parent) {
    const Finding* finding = current.finding_of(parent);
    return finding != nullptr && finding->state.has_value();
  });
  std::sort(parents.begin(), parents.end());
  return std::equal(parents.begin(), parents.end(), scope.begin(), scope.end());
}

/// I(parents; test | findings) = H(test) - E[H(test | parents)].
inline std::optional<double> gain_from_parents(const Case& current, std::size_t test, double most_entries) {
  const FaultModel& model = current.model();
  const std::vector<std::size_t>& parents = model.parents(test);
  const bool small = table_entries(model, test) <= most_entries;
  std::optional<JointPosterior> at_hand;
  if (small) at_hand = current.joint_at_hand(parents);
  if (!at_hand.has_value()) {
    if (const std::optional<double> left = noisy_entropy_bits(current, test); left.has_value()) {
      return std::max(0.0, entropy_bits(current.posterior(test)) - *left);
    }
    if (!small) return std::nullopt;
    at_hand = current.joint(parents);
  }
  const FullTable table = written_out(model, test, static_cast<std::size_t>(most_entries));
  return mutual_information_bits(with_test(at_hand->probabilities, table.rows), model.state_count(test));
}

}  // namespace detail

inline double entropy_bits(std::span<const double> distribution) {
  double bits = 0.0;
  for (const double p : distribution) {
    if (p > 0.0) bits -= p * std::log2(p);
  }
  return std::max(bits, 0.0);
}

inline std::optional<double> joint_entropy_bits(const Case& current, std::span<const std::size_t> targets,
                                                double most_entries) {
  std::vector<std::size_t> ordered;
  for (const std::size_t v : current.model().topological_order()) {
    if (std::find(targets.begin(), targets.end(), v) != targets.end()) ordered.push_back(v);
  }
  std::vector<std::vector<std::size_t>> scopes;
  for (std::size_t i = 0; i < ordered.size(); ++i) {
    scopes.push_back(separating_targets(current, ordered[i], std::span(ordered).first(i)));
    scopes.back().push_back(ordered[i]);
    if (detail::table_size(current.model(), scopes.back()) > most_entries) return std::nullopt;
  }
  double bits = 0.0;
  for (const std::vector<std::size_t>& scope : scopes) {
    const std::vector<double> joint = current.joint(scope).probabilities;
    const std::size_t columns = current.model().state_count(scope.back());
    std::vector<double> before(joint.size() / columns, 0.0);
    for (std::size_t k = 0; k < joint.size(); ++k) before[k / columns] += joint[k];
    bits += entropy_bits(joint) - entropy_bits(before);
  }
  return std::max(bits, 0.0);
}

inline std::optional<double> joint_gain_bits(const Case& current, std::size_t test,
                                             std::span<const std::size_t> targets, double most_entries) try {
  const FaultModel& model = current.model();
  if (std::find(targets.begin(), targets.end(), test) != targets.end()) return entropy_bits(current.posterior(test));
  std::vector<std::size_t> scope = separating_targets(current, test, targets);
  if (scope.empty()) return 0.0;
  if (detail::hangs_on_exactly(current, test, scope)) return detail::gain_from_parents(current, test, most_entries);
  scope.push_back(test);
  if (detail::table_size(model, scope) > most_entries) return std::nullopt;
  return detail::mutual_information_bits(current.joint(scope).probabilities, model.state_count(test));
} catch (const TooLarge&) {
  return std::nullopt;
}

}  // namespace faultodds

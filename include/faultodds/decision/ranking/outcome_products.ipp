// Bodies of outcome_products.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/decision/planning/separation.hpp"
#include "faultodds/decision/ranking/outcome_products.hpp"

namespace faultodds {
namespace detail {

/// Products that name outcomes one by one, all but the most probable one: what is got by subtraction is then no small
/// difference of large numbers.
inline OutcomeProducts single_outcomes(VariableIndex variable, const Table& rows, std::span<const double> states) {
  OutcomeProducts form;
  form.outcomes = rows.columns();
  std::vector<double> probable(rows.columns(), 0.0);
  for (std::size_t s = 0; s < rows.rows(); ++s) {
    for (std::size_t y = 0; y < rows.columns(); ++y) probable[y] += states[s] * rows(s, y);
  }
  form.left_out = static_cast<std::size_t>(std::max_element(probable.begin(), probable.end()) - probable.begin());
  for (std::size_t y = 0; y < rows.columns(); ++y) {
    if (y == form.left_out) continue;
    Reweighing::Weights weights{variable, {}};
    for (std::size_t s = 0; s < rows.rows(); ++s) weights.of_state.push_back(rows(s, y));
    form.products.push_back({y, 1.0, {std::move(weights)}});
  }
  return form;
}

inline OutcomeProducts running_maxima(const NoisyMax& noisy, const std::vector<const Link*>& links) {
  OutcomeProducts form;
  form.cumulative = true;
  form.outcomes = noisy.leak.size();
  form.left_out = form.outcomes - 1;
  double leak = 0.0;
  for (std::size_t y = 0; y + 1 < form.outcomes; ++y) {
    leak += noisy.leak[y];
    form.products.push_back({y, leak, up_to(links, y)});
  }
  return form;
}

inline Table identity_table(std::size_t states) {
  Table rows(states, states);
  for (std::size_t s = 0; s < states; ++s) rows(s, s) = 1.0;
  return rows;
}

}  // namespace detail

inline std::optional<OutcomeProducts> outcome_products(const Case& current, BatchedReweighing& batch,
                                                       VariableIndex test) {
  const FaultModel& model = current.model();
  if (batch.can_weigh(test)) {
    return detail::single_outcomes(test, detail::identity_table(model.state_count(test)), batch.posterior(test));
  }
  if (!detail::is_barren(current, test)) return std::nullopt;
  const Variable& variable = model.variable(test);
  if (const auto* noisy = std::get_if<NoisyMax>(&variable.distribution); noisy != nullptr) {
    const auto links = detail::acting_links(*noisy, current.findings(), batch.slot_of());
    if (!links.has_value()) return std::nullopt;
    return detail::running_maxima(*noisy, *links);
  }
  if (model.parents(test).size() != 1 || !batch.can_weigh(model.parents(test)[0])) return std::nullopt;
  const FullTable table = written_out(model, test);
  return detail::single_outcomes(table.parents[0], table.rows, batch.posterior(table.parents[0]));
}

inline std::vector<double> by_outcome(const OutcomeProducts& form, const std::vector<double>& of_products,
                                      const std::vector<double>& rest) {
  const std::size_t width = rest.size();
  std::vector<double> result(form.outcomes * width, 0.0);
  for (std::size_t k = 0; k < width; ++k) {
    double taken = 0.0;
    for (std::size_t p = 0; p < form.products.size(); ++p) {
      const double value = of_products[p * width + k];
      result[form.products[p].outcome * width + k] = form.cumulative ? value - taken : value;
      taken = form.cumulative ? value : taken + value;
    }
    result[form.left_out * width + k] = rest[k] - taken;
  }
  return result;
}

}  // namespace faultodds

// Bodies of gain_form.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "faultodds/decision/ranking/entropy.hpp"
#include "faultodds/decision/ranking/gain_form.hpp"
#include "faultodds/inference/network/expansion.hpp"
#include "faultodds/inference/network/odometer.hpp"

namespace faultodds::detail {

/// Rows of a full table if some parents are fixed (`fixed` by parent, its state count if it is free).
inline Table rows_where(const FaultModel& model, const FullTable& table, std::span<const std::size_t> fixed) {
  std::vector<double> values;
  std::vector<std::size_t> sizes;
  for (const VariableIndex parent : table.parents) sizes.push_back(model.state_count(parent));
  Odometer odometer(sizes);
  std::size_t row = 0;
  do {
    bool met = true;
    for (std::size_t i = 0; i < fixed.size(); ++i) {
      met = met && (fixed[i] == sizes[i] || fixed[i] == odometer.digits()[i]);
    }
    if (met) values.insert(values.end(), table.rows.row(row).begin(), table.rows.row(row).end());
    ++row;
  } while (odometer.next());
  return Table(table.rows.columns(), std::move(values));
}

/// Of the links of a test that act.
inline std::shared_ptr<const NoisyForm> noisy_form(const Solver& solver, VariableIndex test,
                                                   const std::vector<const Link*>& links, EntropyTerms& terms) {
  const auto& noisy = std::get<NoisyMax>(solver.model().variable(test).distribution);
  Memo::Key key{test};
  for (const Link* link : links) key.push_back(static_cast<std::size_t>(link - noisy.links.data()));
  return solver.of_links().get<NoisyForm>(key, [&] { return NoisyForm(noisy, links, terms); });
}

inline std::optional<GainForm> GainForm::make(const Case& current, BatchedReweighing& batch, VariableIndex test,
                                              double entry_limit, EntropyTerms& terms) {
  static constexpr double few_configurations = 16.0;   // two vectors of lanes
  static constexpr double max_configurations = 512.0;  // of lanes, if the table is no noisy-MAX one
  const FaultModel& model = current.model();
  ByTable by_table;
  double configurations = 1.0;
  std::vector<std::size_t> fixed;
  for (const VariableIndex parent : model.parents(test)) {
    if (!batch.can_weigh(parent)) return std::nullopt;
    fixed.push_back(model.state_count(parent));
    if (const auto found = known_state(current.findings(), parent); found.has_value()) {
      fixed.back() = *found;
      continue;
    }
    by_table.parents.push_back(parent);
    by_table.sizes.push_back(model.state_count(parent));
    configurations *= static_cast<double>(model.state_count(parent));
  }
  const bool small = table_entries(model, test) <= entry_limit;
  batch.start(1);
  for (const VariableIndex parent : by_table.parents) batch.want(parent);
  const bool fits = batch.fits();
  const auto* noisy = std::get_if<NoisyMax>(&model.variable(test).distribution);
  const bool at_hand = small && batch.in_one_clique(by_table.parents);
  if (noisy != nullptr && fits && !at_hand && (!small || configurations > few_configurations)) {
    if (const auto links = acting_links(*noisy, current.findings(), batch.slot_of()); links.has_value()) {
      ByMoments moments = noisy_form(current.solver(), test, *links, terms);
      if (!small || configurations > static_cast<double>(moments->products())) return GainForm(std::move(moments));
    }
  }
  if (!small || (!at_hand && (!fits || configurations > max_configurations))) return std::nullopt;
  by_table.rows = rows_where(model, written_out(model, test, static_cast<std::size_t>(entry_limit)), fixed);
  return GainForm(std::move(by_table));
}

inline std::vector<double> GainForm::joint_of(const ByTable& form, BatchedReweighing& batch) {
  if (form.parents.size() == 1) {
    const std::span<const double> posterior = batch.posterior(form.parents[0]);
    return {posterior.begin(), posterior.end()};
  }
  if (std::vector<double> joint = batch.joint_in_clique(form.parents); !joint.empty()) return joint;
  batch.start(form.rows.rows());
  Odometer odometer(form.sizes);
  std::size_t product = 0;
  do {
    for (std::size_t i = 0; i < form.parents.size(); ++i) {
      std::vector<double> here(form.sizes[i], 0.0);
      here[odometer.digits()[i]] = 1.0;
      batch.weigh(product, form.parents[i], here);
    }
    ++product;
  } while (odometer.next());
  batch.run();
  std::vector<double> joint;
  for (std::size_t p = 0; p < product; ++p) joint.push_back(batch.expectation(p));
  return joint;
}

inline std::vector<double> GainForm::measure(BatchedReweighing& batch) const {
  if (const auto* moments = std::get_if<ByMoments>(&form_); moments != nullptr) return (*moments)->measure(batch);
  return joint_of(std::get<ByTable>(form_), batch);
}

inline std::vector<double> GainForm::outcomes(std::span<const double> numbers, double mass) const {
  if (const auto* table = std::get_if<ByTable>(&form_); table != nullptr) {
    std::vector<double> result(table->rows.columns(), 0.0);
    for (std::size_t row = 0; row < numbers.size(); ++row) {
      for (std::size_t y = 0; y < result.size(); ++y) result[y] += numbers[row] / mass * table->rows(row, y);
    }
    return result;
  }
  std::vector<double> up_to(numbers.begin(), numbers.end() - 1);
  for (double& number : up_to) number /= mass;
  return single_states(up_to);
}

inline double GainForm::gain_bits(std::span<const double> numbers, double mass) const {
  if (const auto* table = std::get_if<ByTable>(&form_); table != nullptr) {
    return mutual_information_bits(numbers, mass, table->rows, outcomes(numbers, mass));
  }
  const double left = std::max(0.0, -numbers.back() / mass / std::numbers::ln2);
  return std::max(0.0, entropy_bits(outcomes(numbers, mass)) - left);
}

}  // namespace faultodds::detail

// How a junction tree's tables are made: dense ones from the factors, then what is possible of them in its final
// layout.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "faultodds/inference/junction_tree/clique_factors.hpp"
#include "faultodds/inference/junction_tree/junction_tree.hpp"
#include "faultodds/inference/junction_tree/scaling.hpp"
#include "faultodds/inference/junction_tree/walk.hpp"
#include "faultodds/inference/network/factor.hpp"

namespace faultodds {
namespace detail {

/// Scales by a power of two so that the largest value is about one. Returns the exponent taken out.
inline int take_exponent(std::vector<double>& values) {
  const double largest = *std::max_element(values.begin(), values.end());
  if (largest <= 0.0) return 0;
  const int exponent = std::ilogb(largest);
  scale_by_power(values.data(), values.size(), -exponent);
  return exponent;
}

/// Tables of fewer entries stay in the cache and are stored as they are.
inline constexpr double min_factored = 1U << 18U;
/// The clique factors of a table together hold at most this share of its entries, and they are few.
inline constexpr double largest_share = 1.0 / 32.0;
inline constexpr std::size_t max_clique_factors = 4;

}  // namespace detail

/// Memory used while compiling. Tables and messages are dense, slots ascending.
struct JunctionTree::Building {
  Stop stop;
  detail::Memo* layouts = nullptr;
  std::vector<std::vector<double>> tables;    // by clique
  std::vector<std::vector<double>> messages;  // by clique: towards the root, later the beliefs without findings
  std::vector<std::vector<Potential>> clique_factors;  // by clique: what its table is kept as; empty: stored
  std::vector<std::vector<double>> inverses;           // by clique kept as clique factors: one over its message
};

/// The clique's table from its factors and the messages of its children, divided by its own message.
inline void JunctionTree::fill(std::size_t index, const std::vector<const Potential*>& factors, Building& building) {
  building.stop.check();
  const Clique& shape = nodes_[index].shape;
  std::vector<Potential> parts;
  parts.reserve(factors.size() + shape.children.size());
  for (const Potential* factor : factors) parts.push_back(*factor);
  for (const std::size_t child : shape.children) {
    parts.push_back({nodes_[child].shape.separator, building.messages[child]});
  }
  const double entries = entries_of(shape.slots, state_counts_);
  parts = detail::multiply_together(std::move(parts), state_counts_, entries * detail::largest_share);
  Potential table = product(parts, shape.slots, state_counts_);
  Potential message = sum_out(table, detail::without(shape.slots, shape.separator), state_counts_);
  Potential inverse = message;
  for (double& entry : inverse.values) entry = entry < detail::smallest_message ? 0.0 : 1.0 / entry;
  detail::multiply_in(table, inverse, state_counts_);
  log_constant_ += index == 0 ? std::log(message.values[0]) : detail::take_exponent(message.values) * std::numbers::ln2;
  building.tables[index] = std::move(table.values);
  building.messages[index] = std::move(message.values);
  if (!worth_factoring(parts, entries)) return;
  if (index == 0) {
    for (double& value : parts[0].values) value *= inverse.values[0];
  } else {
    building.inverses[index] = std::move(inverse.values);
  }
  building.clique_factors[index] = std::move(parts);
}

inline bool JunctionTree::worth_factoring(const std::vector<Potential>& parts, double entries) const {
  if (entries < detail::min_factored || parts.empty() || parts.size() > detail::max_clique_factors) return false;
  double total = 0.0;
  for (const Potential& part : parts) total += static_cast<double>(part.values.size());
  return total <= entries * detail::largest_share * 2.0;
}

/// Takes the belief without findings from the parent, strikes out what is impossible under it, passes the belief on,
/// and lays out what is left.
inline void JunctionTree::believe(std::size_t index, Building& building) {
  building.stop.check();
  const Clique& shape = nodes_[index].shape;
  Potential table{shape.slots, std::move(building.tables[index])};
  const Potential message{shape.separator, building.messages[index]};
  Potential allowed = message;
  for (double& entry : allowed.values) entry = entry > 0.0 ? 1.0 : 0.0;
  const auto zeros = [&table] { return std::count(table.values.begin(), table.values.end(), 0.0); };
  const auto zeros_before = zeros();
  detail::multiply_in(table, allowed, state_counts_);
  if (zeros() > zeros_before) building.clique_factors[index].clear();  // their product does not know
  std::vector<std::uint8_t> possible(table.values.size(), 0);
  {
    Potential belief = table;
    detail::multiply_in(belief, message, state_counts_);
    for (std::size_t i = 0; i < possible.size(); ++i) {
      if (table.values[i] <= 0.0) continue;
      possible[i] = 1;
      // A product too small for a double still is possible.
      belief.values[i] = std::max(belief.values[i], std::numeric_limits<double>::min());
    }
    for (const std::size_t child : shape.children) {
      const detail::Slots rest = detail::without(shape.slots, nodes_[child].shape.separator);
      std::vector<double>().swap(building.messages[child]);  // the one towards the root has done its duty
      building.messages[child] = sum_out(belief, rest, state_counts_).values;
    }
  }
  building.tables[index] = std::move(table.values);
  lay_out(index, detail::Support(shape.slots, std::move(possible)), building);
}

/// The clique's table in its final layout, with the blocks that are possible.
inline void JunctionTree::lay_out(std::size_t index, const detail::Support& support, Building& building) {
  Node& node = nodes_[index];
  const auto crossing = [&](std::size_t clique) {
    const std::vector<double>& belief = building.messages[clique];
    const auto possible = std::count_if(belief.begin(), belief.end(), [](double entry) { return entry > 0.0; });
    return detail::Crossing{&nodes_[clique].shape.separator,
                            static_cast<double>(possible) / static_cast<double>(belief.size())};
  };
  std::vector<detail::Crossing> below;
  for (const std::size_t child : node.shape.children) below.push_back(crossing(child));
  const detail::Layout* above = index == 0 ? nullptr : &nodes_[node.shape.parent].layout;
  node.layout = detail::choose_layout(support, state_counts_, crossing(index), below, above, building.layouts);

  detail::Layout& layout = node.layout;
  std::vector<double>& dense = building.tables[index];
  const detail::Form form = detail::dense_form(node.shape.slots, state_counts_);
  std::vector<std::size_t> of_lane = detail::lane_entries(layout, form, state_counts_);
  of_lane.resize(detail::count_entries(layout.inner, state_counts_));
  const auto lives = [&](std::size_t base) {
    return std::any_of(of_lane.begin(), of_lane.end(), [&](std::size_t lane) { return dense[base + lane] > 0.0; });
  };
  const auto for_each_block = [&](auto&& visit) {
    detail::walk(layout.outer, state_counts_, detail::strides_of(form, layout.outer), visit);
  };
  std::size_t living = 0;
  for_each_block([&](std::size_t base) { living += lives(base) ? 1U : 0U; });
  const bool padded = of_lane.size() < layout.width;
  keep_clique_factors(node, building.clique_factors[index], padded);
  if (node.clique_factors.empty()) {
    building.inverses[index].clear();
    node.table.assign(living * layout.width, 0.0);
    double* row = node.table.data();
    for_each_block([&](std::size_t base) {
      if (!lives(base)) return;
      for (std::size_t lane = 0; lane < of_lane.size(); ++lane) row[lane] = dense[base + of_lane[lane]];
      row += layout.width;
    });
  }
  if (living < layout.blocks) {
    layout.blocks = living;
    layout.kept.reserve(living);
    std::uint32_t number = 0;
    for_each_block([&](std::size_t base) {
      if (lives(base)) layout.kept.push_back(number);
      ++number;
    });
  }
  std::vector<double>().swap(dense);
}

/// Makes room for the clique factors; none if nothing would put zeros into the padding of a block.
inline void JunctionTree::keep_clique_factors(Node& node, std::vector<Potential>& clique_factors, bool padded) {
  const bool zeros = std::any_of(clique_factors.begin(), clique_factors.end(), [&](const Potential& clique_factor) {
    return detail::meeting_of(node.layout.inner, clique_factor.scope) != detail::Meeting::scalar;
  });
  if (padded && !zeros) clique_factors.clear();
  node.clique_factors.resize(clique_factors.size());
}

}  // namespace faultodds

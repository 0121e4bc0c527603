// Bodies of layout.hpp.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "faultodds/inference/layout.hpp"

namespace faultodds::detail {

inline bool holds(std::span<const std::size_t> set, std::size_t slot) {
  return std::find(set.begin(), set.end(), slot) != set.end();
}

/// About the vector operations of one sweep with these inner slots, spreading out and gathering up included.
inline double sweep_cost(const Clique& clique, std::span<const std::size_t> state_counts,
                         std::span<const std::vector<std::size_t>> scopes, const std::vector<std::size_t>& inner) {
  static constexpr double moving = 2.0;  // an entry moved by index, in vector operations
  const double block = size_of(inner, state_counts);
  const double blocks = size_of(clique.slots, state_counts) / block;
  const double vectors = std::max(1.0, std::ceil(block / static_cast<double>(lanes)));
  double per_block = 2.0 + 2.0 * vectors;
  double moved = 0.0;
  for (const std::vector<std::size_t>& scope : scopes) {
    double outside = 1.0;
    bool met_by_lane = false;
    for (const std::size_t slot : scope) {
      const bool inside = holds(inner, slot);
      met_by_lane = met_by_lane || inside;
      if (!inside) outside *= static_cast<double>(state_counts[slot]);
    }
    per_block += met_by_lane ? 1.5 * vectors : 1.5;
    moved += met_by_lane ? outside * vectors * static_cast<double>(lanes) : outside;
  }
  return blocks * per_block + moving * moved;
}

inline std::vector<std::size_t> choose_inner(const Clique& clique, std::span<const std::size_t> state_counts,
                                             std::span<const std::vector<std::size_t>> scopes) {
  std::vector<std::size_t> inner, best;
  double best_cost = sweep_cost(clique, state_counts, scopes, inner);
  std::size_t product = 1;
  for (;;) {
    std::size_t pick = no_slot;
    double pick_cost = 0.0;
    for (const std::size_t slot : clique.slots) {
      if (holds(inner, slot) || product * state_counts[slot] > most_inner) continue;
      inner.push_back(slot);
      const double cost = sweep_cost(clique, state_counts, scopes, inner);
      inner.pop_back();
      if (pick == no_slot || cost < pick_cost) {
        pick = slot;
        pick_cost = cost;
      }
    }
    if (pick == no_slot) break;
    inner.push_back(pick);
    product *= state_counts[pick];
    if (pick_cost < best_cost) {
      best_cost = pick_cost;
      best = inner;
    }
  }
  std::sort(best.begin(), best.end());
  return best;
}

/// How far one step of each slot of `order` moves in the canonical form of `scope`; 0 for slots outside it.
inline std::vector<std::size_t> strides_in(std::span<const std::size_t> scope, std::span<const std::size_t> order,
                                           std::span<const std::size_t> state_counts) {
  std::vector<std::size_t> strides(order.size(), 0);
  std::size_t stride = 1;
  for (std::size_t i = scope.size(); i-- > 0;) {
    const auto at = std::find(order.begin(), order.end(), scope[i]);
    if (at != order.end()) strides[static_cast<std::size_t>(at - order.begin())] = stride;
    stride *= state_counts[scope[i]];
  }
  return strides;
}

/// Calls `visit` with the sum of digit x stride for every configuration of `order`, the last running fastest.
template <typename Visit>
void walk(std::span<const std::size_t> order, std::span<const std::size_t> state_counts,
          std::span<const std::size_t> strides, Visit&& visit) {
  std::vector<std::size_t> digits(order.size(), 0);
  std::size_t index = 0;
  for (;;) {
    visit(index);
    std::size_t i = order.size();
    while (i-- > 0) {
      index += strides[i];
      if (++digits[i] < state_counts[order[i]]) break;
      index -= strides[i] * digits[i];
      digits[i] = 0;
    }
    if (i == static_cast<std::size_t>(-1)) return;
  }
}

inline std::vector<std::size_t> restrict_to(std::span<const std::size_t> order, std::span<const std::size_t> scope) {
  std::vector<std::size_t> kept;
  for (const std::size_t slot : order) {
    if (holds(scope, slot)) kept.push_back(slot);
  }
  return kept;
}

inline std::size_t count_states(std::span<const std::size_t> slots, std::span<const std::size_t> state_counts) {
  std::size_t product = 1;
  for (const std::size_t slot : slots) product *= state_counts[slot];
  return product;
}

inline Operand make_operand(const Layout& layout, std::span<const std::size_t> scope,
                            std::span<const std::size_t> state_counts) {
  Operand operand;
  operand.size = count_states(scope, state_counts);
  operand.vector = !restrict_to(layout.inner, scope).empty();
  const std::vector<std::size_t> outer = restrict_to(layout.outer, scope);
  const std::vector<std::size_t> outer_strides = strides_in(scope, outer, state_counts);
  std::vector<std::uint32_t>& source = operand.source;
  if (operand.vector) {
    const std::vector<std::size_t> inner_strides = strides_in(scope, layout.inner, state_counts);
    walk(outer, state_counts, outer_strides, [&](std::size_t base) {
      const std::size_t begin = source.size();
      walk(layout.inner, state_counts, inner_strides,
           [&](std::size_t index) { source.push_back(static_cast<std::uint32_t>(base + index)); });
      source.resize(begin + layout.width, static_cast<std::uint32_t>(operand.size));
    });
  } else {
    walk(outer, state_counts, outer_strides,
         [&](std::size_t index) { source.push_back(static_cast<std::uint32_t>(index)); });
  }
  operand.spread = source.size();
  bool same = operand.spread == operand.size;
  for (std::size_t i = 0; i < source.size() && same; ++i) same = source[i] == i;
  if (same) source.clear();
  return operand;
}

/// How far one step of each outer slot moves in the spread-out operand.
inline std::vector<std::size_t> spread_strides(const Layout& layout, std::span<const std::size_t> scope, bool vector,
                                               std::span<const std::size_t> state_counts) {
  std::vector<std::size_t> strides(layout.outer.size(), 0);
  std::size_t stride = vector ? layout.width : 1;
  for (std::size_t i = layout.outer.size(); i-- > 0;) {
    if (!holds(scope, layout.outer[i])) continue;
    strides[i] = stride;
    stride *= state_counts[layout.outer[i]];
  }
  return strides;
}

inline Layout make_layout(const Clique& clique, std::span<const std::size_t> state_counts,
                          std::span<const std::vector<std::size_t>> scopes) {
  Layout layout;
  layout.inner = choose_inner(clique, state_counts, scopes);
  for (const std::size_t slot : clique.separator) {
    if (!holds(layout.inner, slot)) layout.outer.push_back(slot);
  }
  for (const std::size_t slot : clique.slots) {
    if (!holds(layout.inner, slot) && !holds(clique.separator, slot)) layout.outer.push_back(slot);
  }
  const std::size_t entries = count_states(layout.inner, state_counts);
  layout.width = (entries + lanes - 1) / lanes * lanes;
  layout.blocks = count_states(layout.outer, state_counts);
  const std::size_t columns = scopes.size();
  layout.offsets.resize(layout.blocks * columns);
  for (std::size_t column = 0; column < columns; ++column) {
    layout.operands.push_back(make_operand(layout, scopes[column], state_counts));
    const std::vector<std::size_t> strides =
        spread_strides(layout, scopes[column], layout.operands[column].vector, state_counts);
    std::size_t block = 0;
    walk(layout.outer, state_counts, strides,
         [&](std::size_t offset) { layout.offsets[block++ * columns + column] = static_cast<std::uint32_t>(offset); });
  }
  return layout;
}

using Lane = Eigen::Array<double, static_cast<int>(lanes), 1>;

template <std::size_t Vectors>
void load_product(const std::uint32_t* offsets, const double* entries, double scale, const Parts<Input>& inputs,
                  std::array<Lane, Vectors>& product) {
  for (const Input& input : inputs.scalars) scale *= input.values[offsets[input.column]];
  for (std::size_t v = 0; v < Vectors; ++v) product[v] = Eigen::Map<const Lane>(entries + v * lanes) * scale;
  for (const Input& input : inputs.vectors) {
    const double* values = input.values + offsets[input.column];
    for (std::size_t v = 0; v < Vectors; ++v) product[v] *= Eigen::Map<const Lane>(values + v * lanes);
  }
}

template <std::size_t Vectors>
void sweep_blocks(const Layout& layout, const double* table, double scale, const Parts<Input>& inputs,
                  const Parts<Output>& outputs) {
  std::array<Lane, Vectors> product;
  for (std::size_t block = 0; block < layout.blocks; ++block) {
    const std::uint32_t* offsets = layout.offsets_of(block);
    load_product<Vectors>(offsets, table + block * Vectors * lanes, scale, inputs, product);
    for (const Output& output : outputs.vectors) {
      double* values = output.values + offsets[output.column];
      for (std::size_t v = 0; v < Vectors; ++v) Eigen::Map<Lane>(values + v * lanes) += product[v];
    }
    if (outputs.scalars.empty()) continue;
    Lane sum = product[0];
    for (std::size_t v = 1; v < Vectors; ++v) sum += product[v];
    const double total = sum.sum();
    for (const Output& output : outputs.scalars) output.values[offsets[output.column]] += total;
  }
}

template <std::size_t Vectors>
void multiply_blocks(const Layout& layout, double* table, const Parts<Input>& inputs) {
  std::array<Lane, Vectors> product;
  for (std::size_t block = 0; block < layout.blocks; ++block) {
    double* entries = table + block * Vectors * lanes;
    load_product<Vectors>(layout.offsets_of(block), entries, 1.0, inputs, product);
    for (std::size_t v = 0; v < Vectors; ++v) Eigen::Map<Lane>(entries + v * lanes) = product[v];
  }
}

/// Calls `body` with the number of vectors in a block as a compile-time constant.
template <typename Body>
void with_vectors(std::size_t width, Body&& body) {
  static_assert(most_inner == 16 * lanes);
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    const std::size_t vectors = width / lanes;
    ((vectors == I + 1 ? body(std::integral_constant<std::size_t, I + 1>{}) : void()), ...);
  }
  (std::make_index_sequence<16>{});
}

inline void sweep(const Layout& layout, const double* table, double scale, const Parts<Input>& inputs,
                  const Parts<Output>& outputs) {
  with_vectors(layout.width, [&](auto vectors) { sweep_blocks<vectors()>(layout, table, scale, inputs, outputs); });
}

inline void multiply_in(const Layout& layout, double* table, const Parts<Input>& inputs) {
  with_vectors(layout.width, [&](auto vectors) { multiply_blocks<vectors()>(layout, table, inputs); });
}

inline const double* spread_out(const Operand& operand, const double* values, double* scratch) {
  if (operand.source.empty()) return values;
  for (std::size_t i = 0; i < operand.spread; ++i) {
    scratch[i] = operand.source[i] < operand.size ? values[operand.source[i]] : 0.0;
  }
  return scratch;
}

inline void gather_up(const Operand& operand, const double* spread, double* values) {
  if (operand.source.empty()) {
    std::copy(spread, spread + operand.size, values);
    return;
  }
  std::fill(values, values + operand.size, 0.0);
  for (std::size_t i = 0; i < operand.spread; ++i) {
    if (operand.source[i] < operand.size) values[operand.source[i]] += spread[i];
  }
}

/// New places for the entries of `operand` that remain: those met by a kept block.
inline void keep_met_entries(Layout& layout, std::size_t column) {
  Operand& operand = layout.operands[column];
  const std::size_t columns = layout.operands.size();
  const std::size_t step = operand.vector ? layout.width : 1;
  std::vector<std::uint32_t> place(operand.spread / step, 0);
  for (std::size_t block = 0; block < layout.blocks; ++block)
    place[layout.offsets[block * columns + column] / step] = 1;
  std::vector<std::uint32_t> source;
  std::uint32_t next = 0;
  for (std::size_t old = 0; old < place.size(); ++old) {
    if (place[old] == 0) continue;
    place[old] = next;
    next += static_cast<std::uint32_t>(step);
    for (std::size_t i = old * step; i < (old + 1) * step; ++i) {
      source.push_back(operand.source.empty() ? static_cast<std::uint32_t>(i) : operand.source[i]);
    }
  }
  for (std::size_t block = 0; block < layout.blocks; ++block) {
    std::uint32_t& offset = layout.offsets[block * columns + column];
    offset = place[offset / step];
  }
  operand.spread = source.size();
  operand.source = std::move(source);
}

inline void keep_support(Layout& layout, std::size_t column, std::span<const std::uint32_t> place,
                         std::size_t support) {
  keep_met_entries(layout, column);
  Operand& operand = layout.operands[column];
  bool same = operand.spread == support;
  for (std::size_t i = 0; i < operand.spread; ++i) {
    std::uint32_t& source = operand.source[i];
    source = source < place.size() ? place[source] : static_cast<std::uint32_t>(support);
    same = same && source == i;
  }
  operand.size = support;
  if (same) operand.source.clear();
}

inline std::vector<double> sum_onto(const Layout& layout, std::span<const double> table,
                                    std::span<const std::size_t> scope, std::span<const std::size_t> state_counts) {
  std::vector<double> sums(count_states(scope, state_counts), 0.0);
  std::vector<std::size_t> lane_targets;
  walk(layout.inner, state_counts, strides_in(scope, layout.inner, state_counts),
       [&](std::size_t index) { lane_targets.push_back(index); });
  std::size_t number = 0;  // of the block among all, dropped ones included
  std::size_t block = 0;
  walk(layout.outer, state_counts, strides_in(scope, layout.outer, state_counts), [&](std::size_t base) {
    const bool here = block < layout.blocks && (layout.kept.empty() || layout.kept[block] == number);
    ++number;
    if (!here) return;
    for (std::size_t lane = 0; lane < lane_targets.size(); ++lane) {
      sums[base + lane_targets[lane]] += table[block * layout.width + lane];
    }
    ++block;
  });
  double total = 0.0;
  for (const double sum : sums) total += sum;
  for (double& sum : sums) sum /= total;
  return sums;
}

}  // namespace faultodds::detail

// Indices of variables, states, tests' outcomes, repairs and hand-overs: types of their own, so that the compiler
// refuses one in the place of another.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <compare>
#include <cstddef>
#include <functional>
#include <type_traits>

namespace faultodds {

/// A place in one list of the model. Turns into a number and back by itself, but never into the index of another kind.
template <class Kind>
class Index {
 public:
  constexpr Index() noexcept = default;
  constexpr Index(std::size_t value) noexcept : value_(value) {}
  template <class Other>
  Index(Index<Other>) = delete;

  constexpr operator std::size_t() const noexcept { return value_; }
  constexpr Index& operator++() noexcept {
    ++value_;
    return *this;
  }

 private:
  std::size_t value_ = 0;
};

template <class One, class Other>
requires(!std::is_same_v<One, Other>) bool operator==(Index<One>, Index<Other>) = delete;
template <class One, class Other>
requires(!std::is_same_v<One, Other>) std::strong_ordering operator<=>(Index<One>, Index<Other>) = delete;

/// Of FaultModel::variables(): of a context, component, symptom, test.
using VariableIndex = Index<struct VariableKind>;
/// Of Variable::states: of a fault, an outcome.
using StateIndex = Index<struct StateKind>;
/// Of FaultModel::repairs().
using RepairIndex = Index<struct RepairKind>;
/// Of FaultModel::hand_overs().
using HandOverIndex = Index<struct HandOverKind>;

}  // namespace faultodds

template <class Kind>
struct std::hash<faultodds::Index<Kind>> {
  std::size_t operator()(faultodds::Index<Kind> index) const noexcept { return std::hash<std::size_t>{}(index); }
};

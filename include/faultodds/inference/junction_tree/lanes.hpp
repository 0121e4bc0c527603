// The vectors that all heavy loops work with.
//
// They are the compiler's own, four doubles wide whatever the processor has: the same sums in the same order, and so
// the same bits, with any instruction set. Everything here is inlined into the function that is compiled for one
// (kernels.ipp), and leaves no symbol of its own.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <utility>

namespace faultodds::detail {

inline constexpr std::size_t lanes = 4;  ///< doubles in a vector

/// Calls body(0), body(1), ... with compile-time constants, so that arrays of vectors stay in registers.
template <std::size_t... I, typename Body>
[[gnu::always_inline]] inline void unrolled(std::index_sequence<I...>, Body&& body) {
  (body(std::integral_constant<std::size_t, I>{}), ...);
}

/// Vectors go by reference: passing them by value would depend on the instruction set.
struct Lanes {
  using Vector [[gnu::vector_size(lanes * sizeof(double))]] = double;
  using Half [[gnu::vector_size(lanes * sizeof(double) / 2)]] = double;

  [[gnu::always_inline]] static void load(Vector& loaded, const double* values) {
    __builtin_memcpy(&loaded, values, sizeof loaded);
  }
  [[gnu::always_inline]] static void store(double* values, const Vector& stored) {
    __builtin_memcpy(values, &stored, sizeof stored);
  }
  [[gnu::always_inline]] static void multiply(Vector& product, const double* values) {
    Vector factor;
    load(factor, values);
    product *= factor;
  }
  [[gnu::always_inline]] static void add(double* values, const Vector& summand) {
    Vector sum;
    load(sum, values);
    sum += summand;
    store(values, sum);
  }
};

}  // namespace faultodds::detail

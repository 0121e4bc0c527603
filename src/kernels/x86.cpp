// Chooses the kernels when the program starts to use them.
// SPDX-License-Identifier: BSD-3-Clause
#include "avx2.hpp"

namespace faultodds::detail {
namespace {

struct Sse2 {};

}  // namespace

const Kernels& native_kernels() {
  static const Kernels& kernels = __builtin_cpu_supports("avx2") ? avx2_kernels() : kernels_of<Sse2>;
  return kernels;
}

}  // namespace faultodds::detail

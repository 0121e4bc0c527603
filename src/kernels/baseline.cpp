// For processors whose vectors need no choice: what the compiler makes for all of the kind (NEON on AArch64).
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/junction_tree/kernels.hpp"

namespace faultodds::detail {
namespace {

struct Baseline {};

}  // namespace

const Kernels& native_kernels() { return kernels_of<Baseline>; }

}  // namespace faultodds::detail

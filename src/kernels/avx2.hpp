// The kernels compiled for AVX2; only for processors that have it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/junction_tree/kernels.hpp"

namespace faultodds::detail {

[[nodiscard]] const Kernels& avx2_kernels();

}  // namespace faultodds::detail

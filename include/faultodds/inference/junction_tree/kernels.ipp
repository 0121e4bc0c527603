// Body of kernels.hpp for those who use the headers as they are: the instruction set is the one they compile for.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/junction_tree/kernels.hpp"

namespace faultodds::detail {

struct AsCompiled {};

inline const Kernels& native_kernels() { return kernels_of<AsCompiled>; }

}  // namespace faultodds::detail

// Body of kernels.hpp for those who use the headers as they are: the instruction set is the one they compile for.
#pragma once

#include "faultodds/inference/junction_tree/kernels.hpp"

namespace faultodds::detail {

struct AsCompiled {};

inline const Kernels& native_kernels() { return kernels_of<AsCompiled>; }

}  // namespace faultodds::detail

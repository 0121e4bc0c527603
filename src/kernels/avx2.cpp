// The kernels compiled for AVX2, without fused multiply-add, so that they give the same bits as the others. This file
// includes nothing else that has bodies: they would be compiled for AVX2 too, and the linker might take them for all.
// SPDX-License-Identifier: BSD-3-Clause
#include "avx2.hpp"

namespace faultodds::detail {
namespace {

struct Avx2 {};

}  // namespace

const Kernels& avx2_kernels() { return kernels_of<Avx2>; }

}  // namespace faultodds::detail

// Entropies and information gains of a case, in bits (Cover & Thomas 2006, chapter 2).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "faultodds/decision/ranking/entropy.hpp"
#include "faultodds/inference/case.hpp"

namespace faultodds {

/// H(targets | findings) in bits by the chain rule, each target given those before it that it depends on. Nothing if a
/// table would exceed `max_entries`.
[[nodiscard]] std::optional<double> joint_entropy_bits(const Case& current, std::span<const VariableIndex> targets,
                                                       double max_entries);

/// I(targets; test | findings) in bits, about the targets' joint state. Nothing if a table would exceed
/// `max_entries`.
[[nodiscard]] std::optional<double> joint_gain_bits(const Case& current, VariableIndex test,
                                                    std::span<const VariableIndex> targets, double max_entries);

}  // namespace faultodds

#include "faultodds/decision/ranking/information.ipp"

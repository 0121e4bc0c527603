// A picture of the network for Graphviz.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// The network in the DOT language, causes on the left, readable in black and white. The shape says the role: contexts
/// are tabs, components boxes (framed by the system they belong to), hidden variables dashed ellipses, symptoms
/// hexagons (a double line marks a complaint), tests houses, unclassified variables ellipses. A dashed arrow is a
/// condition, under which a cause acts; the potentials of a Markov network are dots.
[[nodiscard]] std::string write_dot(const FaultModel& model);

namespace detail {

/// A quoted string of the DOT language; line ends become its \n.
[[nodiscard]] std::string dot_string(std::string_view text);
/// The text over several lines of about `width` characters, broken at blanks and underscores.
[[nodiscard]] std::string dot_lines(std::string_view text, std::size_t width);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/io/dot.ipp"

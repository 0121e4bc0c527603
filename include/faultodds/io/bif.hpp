// The interchange format BIF (Interchange Format for Bayesian Networks, version 0.15): plain discrete networks as text.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// The network in `text`, all variables unclassified. What the format leaves open is settled like this:
/// - rows are found by the parent states in front of them, whatever their order; `default` fills the rows left out;
/// - a flat `table` of a variable with parents runs with the variable's own states slowest and its last parent fastest;
/// - commas and the bar are optional; a quoted name is the same as the bare one; inside quotes \" is a quote, \\ a
///   backslash and \xHH the character with that number, any other backslash is itself;
/// - properties of variables become Variable::properties, those of the network the lines of Header::description.
///
/// Throws ModelError with every problem found, each with its line and column, and TooLarge before tables are made that
/// would not fit. `file` is only named in messages.
[[nodiscard]] FaultModel read_bif(std::string_view text, const std::string& file = {}, RowScaling policy = {});

/// The network as BIF text that read_bif() turns into the same variables and, bit for bit, the same tables. Tables of
/// other kinds are written out in full. Throws ModelError if the model has potentials, TooLarge if a table
/// written out would exceed the limit of written_out().
[[nodiscard]] std::string write_bif(const FaultModel& model);

}  // namespace faultodds

#include "faultodds/io/bif_read.ipp"
#include "faultodds/io/bif_write.ipp"

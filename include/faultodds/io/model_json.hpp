// Fault models as JSON files; models/README.md describes the format, models/fault-model.schema.json checks it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// The model that a JSON text describes. Throws ModelError: for a text that is no JSON with line and column, otherwise
/// with every problem found, each with its JSON path ("components.fuel_pump.table.rows[3].p"); TooLarge if a table
/// written as rows would not fit memory. `file` is only named in messages.
[[nodiscard]] FaultModel read_model_json(std::string_view text, const std::string& file = {}, RowScaling policy = {});

/// The text of a model, which reads back to an equal one with the same numbers to the last bit. Equal models make equal
/// texts. Throws ModelError if a name or text is not UTF-8.
[[nodiscard]] std::string write_model_json(const FaultModel& model);

}  // namespace faultodds

#include "faultodds/io/model_json_read.ipp"
#include "faultodds/io/model_json_write.ipp"

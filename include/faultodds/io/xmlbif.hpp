// The interchange format XMLBIF, version 0.3: plain discrete networks as XML.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// The network in `text`, all variables unclassified. In a TABLE the variables of GIVEN run slowest, in their order,
/// and the states of the FOR variable fastest; comments may come between the numbers. Names lose the blanks around
/// them, unless these are character references. PROPERTY elements of variables and definitions become
/// Variable::properties, those of the network the lines of Header::description. No entity but the five of XML itself is
/// known, and a document type declaration is passed over: nothing is fetched and nothing grows.
///
/// Throws ModelError with every problem found, each with its line and column, and TooLarge before tables are made that
/// would not fit. `file` is only named in messages.
[[nodiscard]] FaultModel read_xmlbif(std::string_view text, const std::string& file = {}, RowScaling policy = {});

/// The network as XMLBIF text that read_xmlbif() turns into the same variables and, bit for bit, the same tables.
/// Tables of other kinds are written out in full. Throws ModelError if the model has potentials, or names with
/// control characters, which XML cannot hold; TooLarge if a table written out would exceed the limit of
/// written_out().
[[nodiscard]] std::string write_xmlbif(const FaultModel& model);

}  // namespace faultodds

#include "faultodds/io/xmlbif_read.ipp"
#include "faultodds/io/xmlbif_write.ipp"

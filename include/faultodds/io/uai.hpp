// The model and evidence files of the UAI inference competitions: networks as numbers, variables and states without
// names.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

/// The network in `text`; variables are named "0", "1", ..., and so are the states of each. In BAYES files the last
/// variable of a factor's scope is the one its table is about, and runs fastest; the factors may come in any order. In
/// MARKOV files the variables are Unweighted and the factors potentials, taken as they are.
///
/// Throws ModelError with every problem found, each with its line and column, and TooLarge before tables are made that
/// would not fit. `file` is only named in messages.
[[nodiscard]] FaultModel read_uai(std::string_view text, const std::string& file = {}, RowScaling policy = {});

/// The network as UAI text: BAYES if every variable has a table of its own, MARKOV otherwise. The format has no
/// names; uai_names() gives them. Numbers read back to the same bits. Throws TooLarge if a table written out in full
/// would exceed the limit of written_out().
[[nodiscard]] std::string write_uai(const FaultModel& model);

/// What write_uai() cannot hold: a JSON list, in the order of the variables, of {"name": ..., "states": [...]}.
/// Throws ModelError if a name is not UTF-8.
[[nodiscard]] std::string uai_names(const FaultModel& model);

/// A variable and the state it was observed in, by their indices.
using UaiFinding = std::pair<std::size_t, std::size_t>;

/// The findings of an evidence file: either their count and then a variable and a state for each, or the same behind a
/// number of samples, which must be one. Throws ModelError with line and column.
[[nodiscard]] std::vector<UaiFinding> read_uai_evidence(std::string_view text, const FaultModel& model,
                                                        const std::string& file = {});

/// One line, count first.
[[nodiscard]] std::string write_uai_evidence(const std::vector<UaiFinding>& findings);

}  // namespace faultodds

#include "faultodds/io/uai_read.ipp"
#include "faultodds/io/uai_write.ipp"

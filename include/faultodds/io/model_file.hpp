// Fault models as files, their format told by the extension.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds {

enum class ModelFormat : std::uint8_t { json, bif, xmlbif, uai, dot };

/// The format by the extension: .json, .bif, .xml or .xmlbif, .uai, .dot, each also with .gz behind it, in either case
/// of letters. Throws ArgumentError for others.
[[nodiscard]] ModelFormat format_of(const std::filesystem::path& path);

/// The model in a file, plain or packed. Throws ModelError if the file cannot be read or is wrong, TooLarge if it
/// would not fit memory, ArgumentError if the extension names no format that can be read.
[[nodiscard]] FaultModel read_model(const std::filesystem::path& path, RowScaling policy = {});

/// Writes a model; for UAI also the names, into a file beside it (uai_names_path). Returns what the format cannot hold,
/// a sentence each; nothing for JSON. Throws ModelError if the file cannot be written or the format cannot hold the
/// model at all, TooLarge if a table written out in full would be too large, ArgumentError as format_of().
std::vector<std::string> write_model(const FaultModel& model, const std::filesystem::path& path);

/// What a file of this format does not hold of this model, a sentence each.
[[nodiscard]] std::vector<std::string> lost_in(const FaultModel& model, ModelFormat format);

/// Where write_model() puts the names of a UAI file: torch.uai or torch.uai.gz has them in torch.uai.names.json.
[[nodiscard]] std::filesystem::path uai_names_path(const std::filesystem::path& path);

}  // namespace faultodds

#include "faultodds/io/model_file.ipp"

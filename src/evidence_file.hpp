// Files of findings.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds::program {

/// Findings of a file. A .uai or .evid file is UAI evidence, and so is a file without extension beside a .uai model;
/// any other is JSON: {"NAME": "STATE", "NAME": ["STATE", "STATE"] (one of these), "NAME": [weights]}. Throws
/// ModelError naming the file, UnknownName, ArgumentError.
[[nodiscard]] std::vector<Finding> read_evidence_file(const FaultModel& model, const std::string& model_file,
                                                      const std::string& evidence_file);

/// The same from a JSON text; `file` is only named in messages.
[[nodiscard]] std::vector<Finding> findings_from_json(const FaultModel& model, const std::string& text,
                                                      const std::string& file);

}  // namespace faultodds::program

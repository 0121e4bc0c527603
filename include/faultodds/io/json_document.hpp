// JSON texts: parsed with every problem named by its place, laid out so that people can read them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/model/errors.hpp"

namespace faultodds {

using Json = nlohmann::ordered_json;

/// The document of a JSON text (RFC 8259), members in the order of the text. A byte order mark is passed over. Members
/// written twice in one object, and numbers that fit no double, are added to `problems`. Throws ModelError if the
/// text is not UTF-8, or not JSON (with line and column).
[[nodiscard]] Json parse_json(std::string_view text, const std::string& file, std::vector<Problem>& problems);

/// The document as text of at most about `width` columns: what fits is on one line, the members of the outermost
/// object and the elements of its lists each begin one. Numbers in the shortest form that reads back to the same
/// double. Ends with a line end. Throws ModelError if a string is not UTF-8.
[[nodiscard]] std::string laid_out(const Json& document, std::size_t width = 120);

/// "path.key", or path["key"] if the key is more than a plain word.
[[nodiscard]] std::string json_path(const std::string& path, std::string_view key);
/// "path[3]".
[[nodiscard]] std::string json_path(const std::string& path, std::size_t index);

}  // namespace faultodds

#include "faultodds/io/json_document.ipp"

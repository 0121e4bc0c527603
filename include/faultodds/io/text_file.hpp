// Text files, plain or packed with gzip: read with their encoding checked, written so that nothing is lost on the way.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

#include "faultodds/model/errors.hpp"

namespace faultodds {

/// The largest text that is read unless the caller says otherwise, in bytes, counted after unpacking.
inline constexpr std::size_t max_text_bytes = std::size_t{1} << 30U;

/// The text of a file, unpacked if its first bytes are those of gzip (RFC 1952) whatever its extension, without a
/// byte order mark, and known to be UTF-8. Throws ModelError if the file cannot be read, is damaged or is not UTF-8
/// (with byte offset and line), and TooLarge if it holds more than `max_bytes`.
[[nodiscard]] std::string read_text_file(const std::filesystem::path& path, std::size_t max_bytes = max_text_bytes);

/// Writes `text` as it is, packed if the extension is .gz. It goes to a new file beside `path` that takes its
/// place only when complete, so that a failure at any moment leaves what was there before. A symbolic link stays one;
/// a device or a pipe is written directly. Throws ModelError if that fails, or if `text` is not UTF-8.
void write_text_file(const std::filesystem::path& path, std::string_view text);

/// `text` without a byte order mark. Throws ModelError with byte offset and line if it is not UTF-8 (RFC 3629).
[[nodiscard]] std::string_view checked_utf8(std::string_view text, const std::string& file = {});

namespace detail {

/// Bytes of the UTF-8 character that starts `text`; 0 if there is none (RFC 3629, section 4).
[[nodiscard]] std::size_t utf8_length(std::string_view text);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/io/text_file.ipp"

// Text from people in formats that give some characters a meaning of their own.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>

namespace faultodds::detail {

/// Text between tags or in an attribute of XML and HTML. What is not text is made text, as by clean_text.
[[nodiscard]] std::string xml_escaped(std::string_view text);

/// One line of Markdown in which no character has a meaning of its own, nor a number or a dash at its beginning.
[[nodiscard]] std::string markdown_escaped(std::string_view text);

}  // namespace faultodds::detail

#include "faultodds/report/text_escaping.ipp"

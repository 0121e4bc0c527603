// Bodies of text_escaping.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/report/text_escaping.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds::detail {

inline std::string xml_escaped(std::string_view text) {
  std::string escaped;
  for (const char c : clean_text(text)) {
    if (c == '&') {
      escaped += "&amp;";
    } else if (c == '<') {
      escaped += "&lt;";
    } else if (c == '>') {
      escaped += "&gt;";
    } else if (c == '"') {
      escaped += "&quot;";
    } else {
      escaped += c;
    }
  }
  return escaped;
}

inline std::string markdown_escaped(std::string_view text) {
  constexpr std::string_view special = "\\`*_{}[]<>#|~&!$";
  std::string escaped;
  bool only_digits = true;
  const std::string clean = clean_text(text);
  const auto is_blank = [](char c) { return c == ' ' || c == '\n'; };
  for (std::size_t i = 0; i < clean.size(); ++i) {
    const char c = clean[i];
    if (escaped.empty() && is_blank(c)) continue;
    const bool begins_list = escaped.empty() && (c == '-' || c == '+' || c == '=');
    const bool ends_word = i + 1 == clean.size() || is_blank(clean[i + 1]);
    const bool numbers_list = only_digits && !escaped.empty() && ends_word && (c == '.' || c == ')');
    if (begins_list || numbers_list || special.find(c) != std::string_view::npos) escaped += '\\';
    only_digits = only_digits && c >= '0' && c <= '9';
    escaped += c == '\n' ? ' ' : c;
  }
  return escaped;
}

}  // namespace faultodds::detail

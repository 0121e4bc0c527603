// The text inside XML elements.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <charconv>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

#include "faultodds/io/text_places.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds::detail {

[[nodiscard]] inline bool is_xml_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

inline void append_utf8(std::string& text, std::uint32_t character) {
  const auto add = [&text](std::uint32_t byte) { text += static_cast<char>(static_cast<unsigned char>(byte)); };
  if (character < 0x80U) return add(character);
  if (character < 0x800U) {
    add(0xC0U | character >> 6U);
  } else if (character < 0x10000U) {
    add(0xE0U | character >> 12U);
    add(0x80U | (character >> 6U & 0x3FU));
  } else {
    add(0xF0U | character >> 18U);
    add(0x80U | (character >> 12U & 0x3FU));
    add(0x80U | (character >> 6U & 0x3FU));
  }
  add(0x80U | (character & 0x3FU));
}

/// Whether XML 1.0 allows a character (section 2.2, production Char).
[[nodiscard]] inline bool is_xml_character(std::uint32_t c) {
  if (c < 0x20U) return c == '\t' || c == '\n' || c == '\r';
  return c < 0xD800U || (c > 0xDFFFU && c < 0xFFFEU) || (c > 0xFFFFU && c <= 0x10FFFFU);
}

/// Appends what a reference such as &amp; or &#233; means; `name` is what is between & and ;. False for others.
[[nodiscard]] inline bool append_reference(std::string& text, std::string_view name) {
  if (name == "amp" || name == "lt" || name == "gt" || name == "quot" || name == "apos") {
    text += name == "amp" ? '&' : name == "lt" ? '<' : name == "gt" ? '>' : name == "quot" ? '"' : '\'';
    return true;
  }
  if (!name.starts_with('#')) return false;
  const bool hexadecimal = name.starts_with("#x");
  name.remove_prefix(hexadecimal ? 2 : 1);
  std::uint32_t character = 0;
  const auto result = std::from_chars(name.data(), name.data() + name.size(), character, hexadecimal ? 16 : 10);
  if (result.ec != std::errc() || result.ptr != name.data() + name.size() || !is_xml_character(character)) return false;
  append_utf8(text, character);
  return true;
}

/// Collects the text of one element: literal blanks at its ends are dropped, those from references and CDATA stay.
class XmlText {
 public:
  explicit XmlText(TextProblems& problems) : problems_(problems) {}

  void add_plain(std::string_view raw, std::size_t offset) {
    for (std::size_t i = 0; i < raw.size(); ++i) {
      if (raw[i] == '&') {
        i = add_reference(raw, i, offset);
      } else if (is_xml_blank(raw[i])) {
        // Line ends become one line feed each (section 2.11).
        const bool first_of_two = raw[i] == '\r' && i + 1 < raw.size() && raw[i + 1] == '\n';
        if (!first_of_two && !text_.empty()) text_ += raw[i] == '\r' ? '\n' : raw[i];
      } else {
        text_ += raw[i];
        kept_ = text_.size();
      }
    }
  }

  void add_literal(std::string_view raw) {
    text_ += raw;
    kept_ = text_.size();
  }

  [[nodiscard]] std::string taken() {
    text_.resize(kept_);
    return std::move(text_);
  }

 private:
  [[nodiscard]] std::size_t add_reference(std::string_view raw, std::size_t at, std::size_t offset) {
    constexpr std::size_t longest = 64;
    const std::size_t end = raw.substr(at, longest).find(';');
    const bool closed = end != std::string_view::npos;
    if (!closed || !append_reference(text_, raw.substr(at + 1, end - 1))) {
      const std::string shown(raw.substr(at, closed ? end + 1 : 20));
      problems_.add(offset + at, "the reference " + detail::quoted(shown) + " is not known",
                    "entities are not expanded; write the character itself, or &amp; for &");
    }
    kept_ = text_.size();
    return closed ? at + end : at;
  }

  TextProblems& problems_;
  std::string text_;
  std::size_t kept_ = 0;
};

/// `text` with what XML reserves as references, so that it reads back the same. Throws ModelError at `place` for
/// characters that XML cannot hold.
[[nodiscard]] inline std::string xml_text(std::string_view text, const std::string& place) {
  std::string made;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool outer_blank = c == ' ' && (i == 0 || i + 1 == text.size());
    const std::string_view three = text.substr(i, 3);
    const bool refused = (static_cast<unsigned char>(c) < 0x20U && !is_xml_blank(c)) || three == "\xEF\xBF\xBE" ||
                         three == "\xEF\xBF\xBF";
    if (refused) {
      throw ModelError(
          {Problem{place, "it has a character in a name or note that XML cannot hold", "write BIF or JSON"}});
    }
    if (outer_blank || c == '\t' || c == '\n' || c == '\r') {
      made.append("&#").append(std::to_string(static_cast<int>(c))).append(";");
    } else if (c == '&' || c == '<' || c == '>') {
      made += c == '&' ? "&amp;" : c == '<' ? "&lt;" : "&gt;";
    } else {
      made += c;
    }
  }
  return made;
}

}  // namespace faultodds::detail

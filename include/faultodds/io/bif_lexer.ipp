// Words and symbols of BIF text.
// SPDX-License-Identifier: BSD-3-Clause
#include <array>
#include <cstdint>
#include <deque>
#include <string>
#include <string_view>

#include "faultodds/io/text_places.hpp"

namespace faultodds::detail {

enum class BifKind : std::uint8_t { word, quoted, symbol, end };

struct BifToken {
  BifKind kind = BifKind::end;
  std::string_view text;  ///< without quotes and escapes
  std::size_t offset = 0;

  [[nodiscard]] bool is(char symbol) const { return kind == BifKind::symbol && text.front() == symbol; }
  [[nodiscard]] bool is_word(std::string_view word) const { return kind == BifKind::word && text == word; }
  [[nodiscard]] bool is_name() const { return kind == BifKind::word || kind == BifKind::quoted; }
  /// For messages.
  [[nodiscard]] std::string shown() const {
    if (kind == BifKind::end) return "the end of the text";
    return '"' + std::string(text.substr(0, 60)) + '"';
  }
};

/// Text that breaks the grammar; caught where reading can go on.
struct BifFault {
  std::size_t offset;
  std::string found;
  std::string remedy;
};

/// Cuts BIF text into tokens, one ahead. Blanks, commas and comments separate; a comment may start anywhere but in
/// quotes.
class BifLexer {
 public:
  BifLexer(std::string_view text, TextProblems& problems) : text_(text), problems_(problems) { advance(); }

  [[nodiscard]] const BifToken& peek() const noexcept { return token_; }

  BifToken take() {
    const BifToken taken = token_;
    last_was_closing_ = taken.is('}');
    advance();
    return taken;
  }

  /// Goes on at an offset where a token starts.
  void seek(std::size_t offset) {
    position_ = offset;
    last_was_closing_ = false;
    advance();
  }

  [[nodiscard]] bool take_if(char symbol) {
    if (!token_.is(symbol)) return false;
    take();
    return true;
  }

  void expect(char symbol, const std::string& where) {
    if (!take_if(symbol)) throw unexpected(std::string("\"") + symbol + "\" " + where);
  }

  [[nodiscard]] BifToken expect_name(const std::string& what) {
    if (!token_.is_name()) throw unexpected(what + "; quote a name that holds brackets, commas or other signs");
    return take();
  }

  [[nodiscard]] BifFault unexpected(const std::string& right) const {
    return {token_.offset, token_.shown() + " is not expected here", "right would be " + right};
  }

  /// Whether a new block starts here: its keyword at the start of a line or behind a closing brace.
  [[nodiscard]] bool at_block() const {
    if (!token_.is_word("network") && !token_.is_word("variable") && !token_.is_word("probability")) return false;
    if (last_was_closing_) return true;
    std::size_t at = token_.offset;
    while (at > 0 && (text_[at - 1] == ' ' || text_[at - 1] == '\t')) --at;
    return at == 0 || text_[at - 1] == '\n' || text_[at - 1] == '\r';
  }

  /// Behind the statement that could not be read: past its semicolon, or before what closes the block or starts
  /// another.
  void skip_statement() {
    while (token_.kind != BifKind::end && !at_block()) {
      if (take_if(';')) return;
      if (token_.is('}') && !closes_inner_braces()) return;
      take();
    }
  }

  /// Behind the block that starts here, without a look at its contents.
  void skip_block() {
    while (token_.kind != BifKind::end && !token_.is('{')) take();
    std::size_t depth = 0;
    bool at_statement = false;
    while (token_.kind != BifKind::end) {
      if (at_statement && token_.is_word("property")) {
        std::ignore = take_property();
        continue;
      }
      const BifToken token = take();
      at_statement = token.is('{') || token.is(';');
      if (token.is('{')) ++depth;
      if (token.is('}') && --depth == 0) return;
    }
  }

  /// To the start of the next block.
  void skip_to_block() {
    while (token_.kind != BifKind::end && !at_block()) take();
  }

  /// The text of the property whose keyword is here, without the quotes if one quoted string is all of it.
  [[nodiscard]] std::string take_property() {
    const std::size_t start = token_.offset;
    std::size_t end = position_;
    std::string bare;  // without comments
    bool blank_before = true;
    while (end < text_.size() && text_[end] != ';') {
      std::size_t next = end + 1;
      if (text_[end] == '"') {
        next = string_end(text_, end, true);
        if (next == std::string_view::npos)
          throw BifFault{end, "this quote is not closed", "close it before the semicolon"};
      } else if (blank_before && comment_starts(end)) {
        end = comment_end(end);
        continue;
      }
      bare.append(text_.substr(end, next - end));
      blank_before = is_blank(text_[end]);
      end = next;
    }
    if (end >= text_.size()) throw BifFault{start, "this property does not end", "end it with a semicolon"};
    position_ = end + 1;
    last_was_closing_ = false;
    advance();
    return property_text(bare);
  }

 private:
  enum class Class : std::uint8_t { letter, blank, symbol, quote, control };

  [[nodiscard]] static Class class_of(char c) {
    static constexpr std::array<Class, 256> classes = [] {
      std::array<Class, 256> made{};
      for (std::size_t i = 0; i < 32; ++i) made[i] = Class::control;
      made[127] = Class::control;
      for (const char blank : std::string_view(" \t\n\r\f\v,")) made[static_cast<unsigned char>(blank)] = Class::blank;
      for (const char symbol : std::string_view("{}()[];|")) made[static_cast<unsigned char>(symbol)] = Class::symbol;
      made[static_cast<unsigned char>('"')] = Class::quote;
      return made;
    }();
    return classes[static_cast<unsigned char>(c)];
  }
  [[nodiscard]] static bool is_blank(char c) { return class_of(c) == Class::blank; }

  [[nodiscard]] bool comment_starts(std::size_t at) const {
    return text_[at] == '/' && at + 1 < text_.size() && (text_[at + 1] == '/' || text_[at + 1] == '*');
  }

  /// Offset behind the comment that starts at `at`.
  [[nodiscard]] std::size_t comment_end(std::size_t at) {
    const bool to_line_end = text_[at + 1] == '/';
    const std::size_t end = to_line_end ? text_.find('\n', at) : text_.find("*/", at + 2);
    if (end != std::string_view::npos) return to_line_end ? end : end + 2;
    if (!to_line_end) problems_.add(at, "this comment does not end", "end it with */");
    return text_.size();
  }

  /// Offset behind the string whose quote is at `at`, or npos if it does not end (on its line, unless it may have
  /// more).
  [[nodiscard]] static std::size_t string_end(std::string_view text, std::size_t at, bool lines) {
    for (std::size_t i = at + 1; i < text.size(); ++i) {
      if (text[i] == '"') return i + 1;
      if (!lines && (text[i] == '\n' || text[i] == '\r')) break;
      const bool escape = text[i] == '\\' && i + 1 < text.size() && (text[i + 1] == '"' || text[i + 1] == '\\');
      if (escape) ++i;
    }
    return std::string_view::npos;
  }

  [[nodiscard]] static int hex_value(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return -1;
  }

  [[nodiscard]] static std::string unescaped(std::string_view raw) {
    std::string text;
    text.reserve(raw.size());
    for (std::size_t i = 0; i < raw.size(); ++i) {
      const char next = i + 1 < raw.size() ? raw[i + 1] : '\0';
      if (raw[i] != '\\' || (next != '\\' && next != '"' && next != 'x')) {
        text += raw[i];
        continue;
      }
      if (next != 'x') {
        text += next;
        ++i;
        continue;
      }
      const int high = i + 3 < raw.size() ? hex_value(raw[i + 2]) : -1;
      const int low = i + 3 < raw.size() ? hex_value(raw[i + 3]) : -1;
      const bool character = high >= 0 && high < 8 && low >= 0;
      text += character ? static_cast<char>(16 * high + low) : raw[i];
      if (character) i += 3;
    }
    return text;
  }

  [[nodiscard]] static std::string property_text(std::string_view raw) {
    while (!raw.empty() && is_blank(raw.front())) raw.remove_prefix(1);
    while (!raw.empty() && is_blank(raw.back())) raw.remove_suffix(1);
    const bool one_string = raw.size() >= 2 && raw.front() == '"' && string_end(raw, 0, true) == raw.size();
    return one_string ? unescaped(raw.substr(1, raw.size() - 2)) : std::string(raw);
  }
  /// Whether the closing brace that comes here belongs to a statement, as in `{ a, b };`.
  [[nodiscard]] bool closes_inner_braces() const {
    std::size_t at = position_;
    while (at < text_.size() && is_blank(text_[at])) ++at;
    return at < text_.size() && text_[at] == ';';
  }

  void skip_blanks() {
    while (position_ < text_.size()) {
      if (is_blank(text_[position_])) {
        ++position_;
      } else if (comment_starts(position_)) {
        position_ = comment_end(position_);
      } else {
        return;
      }
    }
  }

  void advance() {
    skip_blanks();
    token_.offset = position_;
    if (position_ >= text_.size()) {
      token_.kind = BifKind::end;
      token_.text = {};
      return;
    }
    switch (class_of(text_[position_])) {
      case Class::symbol:
        token_.kind = BifKind::symbol;
        token_.text = text_.substr(position_++, 1);
        return;
      case Class::quote:
        advance_quoted();
        return;
      case Class::control:
        problems_.add(position_, "there is a control character here", "remove it, or write it as \\xHH inside quotes");
        token_.kind = BifKind::symbol;
        token_.text = text_.substr(position_++, 1);
        return;
      case Class::letter:
      case Class::blank:
        break;
    }
    std::size_t end = position_ + 1;
    while (end < text_.size() && class_of(text_[end]) == Class::letter && !comment_starts(end)) ++end;
    token_.kind = BifKind::word;
    token_.text = text_.substr(position_, end - position_);
    position_ = end;
  }

  void advance_quoted() {
    std::size_t end = string_end(text_, position_, false);
    const bool closed = end != std::string_view::npos;
    if (!closed) {
      problems_.add(position_, "this quote is not closed on its line", "close it");
      end = std::min(text_.find_first_of("\r\n", position_), text_.size());
    }
    const std::string_view raw = text_.substr(position_ + 1, end - position_ - (closed ? 2 : 1));
    token_.kind = BifKind::quoted;
    token_.text = raw;
    if (raw.find('\\') != std::string_view::npos) token_.text = unescaped_.emplace_back(unescaped(raw));
    position_ = end;
  }

  std::string_view text_;
  TextProblems& problems_;
  std::size_t position_ = 0;  // behind the token
  BifToken token_;
  bool last_was_closing_ = false;
  std::deque<std::string> unescaped_;
};

}  // namespace faultodds::detail

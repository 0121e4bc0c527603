// SPDX-License-Identifier: BSD-3-Clause
#include "text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace faultodds::program {
namespace {

/// True for a byte that continues a UTF-8 code point.
bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// The first `count` code points.
std::string_view first_columns(std::string_view text, std::size_t count) {
  std::size_t seen = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!continues(text[i]) && seen++ == count) return text.substr(0, i);
  }
  return text;
}

void wrap_line(std::string_view line, std::size_t width, std::string& result) {
  std::size_t used = 0;
  std::size_t at = 0;
  const std::size_t indent = std::min(line.find_first_not_of(' '), line.size());
  result.append(indent, ' ');
  used = indent;
  at = indent;
  bool first = true;
  while (at < line.size()) {
    std::size_t end = std::min(line.find(' ', at), line.size());
    if (line.substr(end).starts_with(" %"))
      end = std::min(line.find(' ', end + 1), line.size());  // "41 %" stays together
    std::string_view word = line.substr(at, end - at);
    at = std::min(line.find_first_not_of(' ', end), line.size());
    if (!first && used + 1 + columns(word) > width) {
      result += '\n';
      used = 0;
      first = true;
    }
    while (first && width > 0 && columns(word) > width - std::min(used, width - 1)) {
      const std::string_view head = first_columns(word, width - std::min(used, width - 1));
      result.append(head).append("\n");
      word.remove_prefix(head.size());
      used = 0;
    }
    if (!first) {
      result += ' ';
      ++used;
    }
    result.append(word);
    used += columns(word);
    first = false;
  }
}

}  // namespace

std::string fixed(double value, int digits) {
  std::array<char, 400> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, digits);
  std::string text(buffer.data(), end.ptr);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos && std::isfinite(value);
  return is_zero && text.front() == '-' ? text.substr(1) : text;
}

std::string number(double value, int digits) {
  std::string text = fixed(value, digits);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string percent(double probability) {
  if (probability <= 0.0) return "0 %";
  if (probability >= 1.0) return "100 %";
  if (probability < 0.001) return "<0.1 %";
  if (probability > 0.999) return ">99.9 %";
  const bool middling = probability >= 0.0995 && probability < 0.985;
  return fixed(100.0 * probability, middling ? 0 : 1) + " %";
}

std::string money(double amount, std::string_view currency) {
  const std::string text = fixed(amount, std::abs(amount) >= 10.0 || amount == std::round(amount) ? 0 : 2);
  return currency.empty() ? text : text + ' ' + printable(currency);
}

std::size_t columns(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return !continues(c); }));
}

std::string printable(std::string_view text) {
  std::string clean;
  clean.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const bool second_control = byte == 0xC2U && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xA0U;
    if (second_control) {
      clean += '?';
      ++i;
    } else {
      clean += byte == '\t' ? ' ' : (byte < 0x20U && byte != '\n') || byte == 0x7FU ? '?' : text[i];
    }
  }
  return clean;
}

std::string padded(std::string_view text, std::size_t width) {
  const std::size_t taken = columns(text);
  if (taken <= width) return std::string(text) + std::string(width - taken, ' ');
  if (width <= 3) return std::string(first_columns(text, width));
  return std::string(first_columns(text, width - 3)) + "...";
}

std::string right_aligned(std::string_view text, std::size_t width) {
  const std::size_t taken = columns(text);
  return taken >= width ? std::string(text) : std::string(width - taken, ' ') + std::string(text);
}

std::string wrapped(std::string_view text, std::size_t width) {
  std::string result;
  std::size_t start = 0;
  while (true) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    wrap_line(text.substr(start, end - start), width, result);
    if (end == text.size()) return result;
    result += '\n';
    start = end + 1;
  }
}

std::string bar(double share, std::size_t width, const Look& look) {
  const double clipped = std::clamp(share, 0.0, 1.0);
  const std::size_t parts = look.unicode ? 8 : 1;
  auto filled = static_cast<std::size_t>(std::lround(clipped * static_cast<double>(width * parts)));
  if (clipped > 0.0) filled = std::max<std::size_t>(filled, 1);
  const std::size_t whole = filled / parts;
  const std::size_t rest = filled % parts;
  static constexpr std::array<std::string_view, 8> eighths = {"", "▏", "▎", "▍", "▌", "▋", "▊", "▉"};
  std::string text;
  for (std::size_t i = 0; i < whole; ++i) text += look.unicode ? "█" : "#";
  text += look.unicode ? eighths[rest] : std::string_view{};
  return text + std::string(width - whole - (rest > 0 ? 1 : 0), look.unicode ? ' ' : '.');
}

std::string counted(std::size_t count, std::string_view singular, std::string_view plural) {
  const std::string many = plural.empty() ? std::string(singular) + 's' : std::string(plural);
  return std::to_string(count) + ' ' + (count == 1 ? std::string(singular) : many);
}

std::string joined(const std::vector<std::string>& parts, std::string_view separator) {
  std::string text;
  for (const std::string& part : parts) {
    if (&part != &parts.front()) text += separator;
    text += part;
  }
  return text;
}

std::string trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

}  // namespace faultodds::program

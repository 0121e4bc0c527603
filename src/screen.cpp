// SPDX-License-Identifier: BSD-3-Clause
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <ostream>

#include "faultodds/model/names.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

std::string environment(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): before any thread is started
  return value == nullptr ? std::string() : std::string(value);
}

bool locale_is_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const std::string value = lower_case(environment(name));
    if (value.empty()) continue;
    return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
  }
  return false;
}

/// Lines of `text`, split at newlines.
std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines(1);
  for (const char c : text) {
    if (c == '\n') {
      lines.emplace_back();
    } else {
      lines.back() += c;
    }
  }
  return lines;
}

std::string without_trailing_blanks(std::string text) {
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}

constexpr std::string_view bold = "1";
constexpr std::string_view bold_yellow = "1;33";

}  // namespace

Look look_of_output() {
  Look look;
  look.unicode = locale_is_utf8();
  if (isatty(STDOUT_FILENO) == 0) return look;
  look.colour = environment("NO_COLOR").empty() && environment("TERM") != "dumb";
  winsize size{};
  // The interface of the terminal driver takes its arguments this way.
  const bool known = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;  // NOLINT(*-vararg)
  if (known) look.width = std::clamp<std::size_t>(size.ws_col, 40, 100);
  return look;
}

std::string Screen::styled(std::string_view text, std::string_view style) const {
  if (!look_.colour) return std::string(text);
  return "\x1b[" + std::string(style) + 'm' + std::string(text) + "\x1b[0m";
}

void Screen::blank() const { *out_ << '\n'; }

void Screen::heading(std::string_view text) const {
  *out_ << '\n';
  for (const std::string& line : lines_of(wrapped(printable(text), look_.width))) *out_ << styled(line, bold) << '\n';
}

void Screen::text(std::string_view text, std::size_t indent, std::size_t hang) const {
  const std::size_t margin = indent + hang;
  bool first = true;
  // The hanging indent is taken off all lines, and given back to the first one as blanks it cannot use.
  for (const std::string& line : lines_of(wrapped(printable(text), look_.width - std::min(margin, look_.width / 2)))) {
    *out_ << without_trailing_blanks(std::string(first ? indent : margin, ' ') + line) << '\n';
    first = false;
  }
}

void Screen::item(std::string_view label, std::string_view text, std::size_t indent, std::size_t label_width) const {
  const std::size_t margin = indent + std::max(label_width, columns(label) + 1);
  bool first = true;
  for (const std::string& line : lines_of(wrapped(printable(text), look_.width - std::min(margin, look_.width / 2)))) {
    const std::string start = std::string(indent, ' ') + padded(printable(label), margin - indent);
    *out_ << without_trailing_blanks((first ? start : std::string(margin, ' ')) + line) << '\n';
    first = false;
  }
}

void Screen::caution(std::string_view text) const {
  bool first = true;
  for (const std::string& line : lines_of(wrapped(printable(text), look_.width - 11))) {
    *out_ << (first ? "  " + styled("CAUTION", bold_yellow) + "  " : std::string(11, ' ')) << line << '\n';
    first = false;
  }
}

void Screen::bars(const std::vector<BarRow>& rows) const {
  const std::size_t bar_width = look_.width >= 70 ? 20 : 10;
  std::size_t note_width = 0;
  std::size_t label_width = 0;
  for (const BarRow& row : rows) {
    note_width = std::max(note_width, row.note.empty() ? 0 : columns(row.note) + 2);
    label_width = std::max(label_width, columns(row.label));
  }
  const std::size_t taken = 2 + 2 + bar_width + 9 + std::min(note_width, look_.width / 4);
  label_width = std::min(label_width, look_.width - std::min(taken, look_.width - 10));
  for (const BarRow& row : rows) {
    const std::vector<std::string> label = lines_of(wrapped(printable(row.label), label_width));
    *out_ << "  " << padded(label.front(), label_width) << "  " << bar(row.share, bar_width, look_) << "  "
          << right_aligned(percent(row.share), 7) << (row.note.empty() ? "" : "  " + printable(row.note)) << '\n';
    for (std::size_t i = 1; i < label.size(); ++i) *out_ << "    " << label[i] << '\n';
  }
}

void Screen::table(const std::vector<std::vector<std::string>>& rows, std::size_t flexible) const {
  std::vector<std::size_t> widths;
  for (const std::vector<std::string>& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], columns(printable(row[i])));
  }
  std::size_t others = 0;
  for (std::size_t i = 0; i < widths.size(); ++i) others += i == flexible ? 2 : widths[i] + 2;
  const std::size_t left = look_.width > others + 12 ? look_.width - others : 12;
  if (flexible < widths.size()) widths[flexible] = std::min(widths[flexible], left);
  for (const std::vector<std::string>& row : rows) {
    const auto cell_lines = lines_of(flexible < row.size() ? wrapped(printable(row[flexible]), widths[flexible]) : "");
    for (std::size_t k = 0; k < cell_lines.size(); ++k) {
      std::string line;
      for (std::size_t i = 0; i < row.size(); ++i) {
        const std::string cell = i == flexible ? cell_lines[k] : k == 0 ? printable(row[i]) : std::string();
        line += "  ";
        line += i <= flexible ? padded(cell, widths[i]) : right_aligned(cell, widths[i]);
      }
      line = without_trailing_blanks(line);
      *out_ << (&row == &rows.front() ? styled(line, bold) : line) << '\n';
    }
  }
}

}  // namespace faultodds::program

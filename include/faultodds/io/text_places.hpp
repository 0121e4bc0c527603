// Lines and columns of a text, the problems found at them, and numbers as texts hold them whatever the locale.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include "faultodds/model/errors.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {

/// Turns byte offsets into lines and columns. The lines are looked for only when somebody asks.
class TextPlaces {
 public:
  explicit TextPlaces(std::string_view text) : text_(text) {}

  /// Number of the line, from 1.
  [[nodiscard]] std::size_t line(std::size_t offset) {
    find_lines();
    return static_cast<std::size_t>(std::upper_bound(starts_.begin(), starts_.end(), offset) - starts_.begin());
  }

  /// "line 12, column 3"; columns count characters, not bytes.
  [[nodiscard]] std::string at(std::size_t offset) {
    const std::size_t number = line(offset);
    const std::size_t start = starts_[number - 1];
    const std::string_view before = text_.substr(start, offset - start);
    const auto characters = std::count_if(before.begin(), before.end(),
                                          [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    return "line " + std::to_string(number) + ", column " + std::to_string(characters + 1);
  }

 private:
  void find_lines() {
    if (!starts_.empty()) return;
    starts_.push_back(0);
    for (std::size_t i = 0; i < text_.size(); ++i) {
      if (text_[i] == '\n') starts_.push_back(i + 1);
    }
  }

  std::string_view text_;
  std::vector<std::size_t> starts_;
};

/// Problems of one text, collected in any order and reported in that of the text.
class TextProblems {
 public:
  TextProblems(std::string_view text, std::string file) : places_(text), file_(std::move(file)) {}

  [[gnu::cold, gnu::noinline]] void add(std::size_t offset, std::string found, std::string remedy) {
    found_.push_back({offset, {"", std::move(found), std::move(remedy)}});
  }

  [[nodiscard]] std::size_t size() const noexcept { return found_.size(); }
  /// Whether there are so many that reading on would not help.
  [[nodiscard]] bool full() const noexcept { return found_.size() >= most; }
  [[nodiscard]] std::string place(std::size_t offset) { return places_.at(offset); }
  [[nodiscard]] std::string line(std::size_t offset) { return "line " + std::to_string(places_.line(offset)); }
  [[nodiscard]] const std::string& file() const noexcept { return file_; }

  /// Throws ModelError with all of them, each once, if there are any.
  void throw_if_any() {
    if (found_.empty()) return;
    detail::sort_stably(found_, [](const At& a, const At& b) { return a.offset < b.offset; });
    found_.erase(std::unique(found_.begin(), found_.end()), found_.end());
    const bool cut = found_.size() >= most;
    if (cut) found_.resize(most);
    std::vector<Problem> problems;
    for (At& one : found_) {
      one.problem.place = place(one.offset);
      problems.push_back(std::move(one.problem));
    }
    if (cut) {
      problems.push_back(
          {"", "these are the first " + std::to_string(most) + " problems", "mend them, then read the file again"});
    }
    throw ModelError(std::move(problems), file_);
  }

 private:
  struct At {
    std::size_t offset;
    Problem problem;
    bool operator==(const At&) const = default;
  };
  static constexpr std::size_t most = 100;

  TextPlaces places_;
  std::string file_;
  std::vector<At> found_;
};

enum class NumberFault : std::uint8_t { none, not_a_number, out_of_range };

/// Reads all of `text` as a number with a decimal point into `value`. A number too large or too small for a double is a
/// fault: it would become infinite, or an impossibility that nobody wrote.
[[nodiscard]] inline NumberFault read_number(std::string_view text, double& value) {
  if (text.starts_with('+') && !text.starts_with("+-")) text.remove_prefix(1);
  const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
  if (result.ec == std::errc::invalid_argument || result.ptr != text.data() + text.size())
    return NumberFault::not_a_number;
  if (result.ec == std::errc::result_out_of_range) return NumberFault::out_of_range;
  value += 0.0;  // a negative zero becomes zero
  return NumberFault::none;
}

/// What to say about a text that is no number fit for use.
[[nodiscard]] inline Problem number_problem(std::string_view text, NumberFault fault) {
  const std::string shown = '"' + std::string(text.substr(0, 40)) + '"';
  if (fault == NumberFault::out_of_range)
    return {"", shown + " does not fit a double", "write a number between 1e-307 and 1e307, or 0"};
  return {"", shown + " is not a number", "write numbers like 0.25 or 1e-3"};
}

/// Appends the shortest decimal form that reads back to the same double.
inline void append_number(std::string& text, double value) {
  char buffer[32];
  text.append(buffer, std::to_chars(buffer, buffer + sizeof buffer, value).ptr);
}

}  // namespace faultodds

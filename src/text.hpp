// Text for people: numbers, percentages, bars, and lines that fit the terminal.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace faultodds::program {

/// What the output can show.
struct Look {
  std::size_t width = 80;
  bool colour = false;
  bool unicode = false;  ///< bars of block characters rather than of '#'
};

/// The look of standard output: colour only on a terminal and without NO_COLOR; the terminal's width up to 100 columns,
/// 80 elsewhere; block characters if the locale is UTF-8.
[[nodiscard]] Look look_of_output();

/// A percentage with sensible digits. Never "0 %" for what is possible, nor "100 %" for what is not certain.
[[nodiscard]] std::string percent(double probability);
/// A number rounded to `digits` decimals, without trailing zeros.
[[nodiscard]] std::string number(double value, int digits = 2);
/// A number with exactly `digits` decimals.
[[nodiscard]] std::string fixed(double value, int digits);
/// Money with the currency's name; whole units from 10 on.
[[nodiscard]] std::string money(double amount, std::string_view currency);

/// Columns the text takes: code points, not bytes.
[[nodiscard]] std::size_t columns(std::string_view text);
/// Without control characters, which could play tricks on a terminal.
[[nodiscard]] std::string printable(std::string_view text);
/// Filled up with blanks to `width` columns, or cut to it with "..." at the end.
[[nodiscard]] std::string padded(std::string_view text, std::size_t width);
/// The same, blanks first.
[[nodiscard]] std::string right_aligned(std::string_view text, std::size_t width);
/// `text` broken at blanks into lines of at most `width` columns, joined by newlines. Newlines in it are kept.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width);
/// A bar of exactly `width` columns, filled in proportion. Anything above zero shows.
[[nodiscard]] std::string bar(double share, std::size_t width, const Look& look);
/// "1 fault", "3 faults".
[[nodiscard]] std::string counted(std::size_t count, std::string_view singular, std::string_view plural = {});
/// Joined with `separator`.
[[nodiscard]] std::string joined(const std::vector<std::string>& parts, std::string_view separator = ", ");
/// Without blanks at both ends.
[[nodiscard]] std::string trimmed(std::string_view text);

/// One row of a list of bars.
struct BarRow {
  std::string label;
  double share = 0.0;
  std::string note;  ///< after the percentage
};

/// Where text for people goes, and how it looks there.
class Screen {
 public:
  Screen(std::ostream& out, Look look) : out_(&out), look_(look) {}

  [[nodiscard]] const Look& look() const noexcept { return look_; }
  [[nodiscard]] std::ostream& out() const noexcept { return *out_; }

  void blank() const;
  /// An empty line, then the heading, emphasised.
  void heading(std::string_view text) const;
  /// Wrapped; the first line indented by `indent`, the following ones by `indent` + `hang`.
  void text(std::string_view text, std::size_t indent = 0, std::size_t hang = 0) const;
  /// `label` in a column of its own, the text wrapped beside it.
  void item(std::string_view label, std::string_view text, std::size_t indent = 2, std::size_t label_width = 9) const;
  /// A warning before a step, emphasised.
  void caution(std::string_view text) const;
  /// Bars under one another; long labels are wrapped.
  void bars(const std::vector<BarRow>& rows) const;
  /// A table: the first row holds the headings; columns as wide as needed, the one of index `flexible` takes what is
  /// left.
  void table(const std::vector<std::vector<std::string>>& rows, std::size_t flexible) const;

 private:
  [[nodiscard]] std::string styled(std::string_view text, std::string_view style) const;

  std::ostream* out_;
  Look look_;
};

/// The label of a repair, a hand-over or the like; its name if it has none.
template <class Named>
[[nodiscard]] const std::string& label_or_name(const Named& named) {
  return named.label.empty() ? named.name : named.label;
}

}  // namespace faultodds::program

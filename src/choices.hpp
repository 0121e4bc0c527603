// Choosing from what is on the screen: by number, by name, or by the start of a name.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "text.hpp"

namespace faultodds::program {

/// What can be chosen: the spellings it answers to, the one shown first.
struct Choice {
  std::vector<std::string> spellings;
};

/// Positions that an answer may mean: one if it is clear, several if it is ambiguous, none if nothing fits.
[[nodiscard]] std::vector<std::size_t> exact_matches(std::string_view answer, const std::vector<Choice>& choices);
/// The number in front first; then whole spellings; then starts of spellings; then any part of them. Upper and
/// lower case are alike.
[[nodiscard]] std::vector<std::size_t> matches(std::string_view answer, const std::vector<Choice>& choices);

/// Several choices named in one answer.
struct Selection {
  std::vector<std::size_t> positions;
  std::string unclear;  ///< the first word that fits none or several; empty if all is clear
};
/// All of the answer if it fits one choice, otherwise each of its words, split at blanks and commas.
[[nodiscard]] Selection select_several(std::string_view answer, const std::vector<Choice>& choices);

/// Asks questions on the screen and reads the answers, one on each line.
class Questions {
 public:
  /// `echo`: show what is read, for answers that come from a pipe.
  Questions(std::istream& in, Screen screen, bool echo) : in_(&in), screen_(screen), echo_(echo) {}

  [[nodiscard]] const Screen& screen() const noexcept { return screen_; }
  /// True when no more answers will come.
  [[nodiscard]] bool over() const noexcept { return over_; }

  /// A line without blanks at its ends; nothing at the end of the input.
  std::optional<std::string> ask(std::string_view prompt);
  /// Yes, no, or nothing at the end of the input; an empty line means yes. Any other word is asked about again.
  std::optional<bool> confirm(std::string_view question);
  /// One of the choices, from a numbered menu in short pages. Nothing if the user passes with an empty line.
  /// `takes` is asked about what fits none of them; true: it was the answer.
  std::optional<std::size_t> choose(std::string_view title, const std::vector<Choice>& choices,
                                    const std::function<bool(const std::string&)>& takes = {});
  /// Several of the choices: numbers, or one name.
  std::vector<std::size_t> choose_several(std::string_view title, const std::vector<Choice>& choices);
  /// The choices that a typed answer means, which is said back unless it was the number or the whole name. One letter
  /// is no name.
  [[nodiscard]] std::vector<std::size_t> understood(const std::string& answer,
                                                    const std::vector<Choice>& choices) const;
  /// Says that the answer fits none or several of the choices, and how to go on.
  void explain_no_match(std::string_view answer, const std::vector<Choice>& choices,
                        const std::vector<std::size_t>& found) const;

 private:
  /// True if the answer was a wish for help, which was given, or to stop.
  bool answers_itself(const std::string& answer, const std::vector<Choice>& choices);
  void show_page(std::string_view title, const std::vector<Choice>& choices, std::size_t first) const;

  std::istream* in_;
  Screen screen_;
  bool echo_ = false;
  bool over_ = false;
};

}  // namespace faultodds::program

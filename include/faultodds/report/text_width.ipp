// Bodies of text_width.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>

#include "faultodds/io/text_file.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/report/text_width.hpp"

namespace faultodds {
namespace detail {

/// Widths of the printable ASCII characters, in thousandths of the size: Helvetica (font metrics of the PostScript core
/// fonts), then DejaVu Sans 2.37 (its table hmtx, rounded up).
inline constexpr std::array<std::uint16_t, 95> plain_widths = {
    278, 278, 355, 556, 556, 889, 667, 222, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 222, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};
inline constexpr std::array<std::uint16_t, 95> bold_widths = {
    278, 333, 474, 556, 556, 889, 722, 278, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667,
    611, 778, 722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 333, 278, 333, 584, 556, 278, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556,
    278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584};
inline constexpr std::array<std::uint16_t, 95> wide_plain_widths = {
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361,  318, 337, 637, 637, 637,
    637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632,
    576, 775, 752, 295, 295, 656, 558, 863, 749, 788, 604, 788, 695, 635,  611, 732, 685, 989, 686,
    611, 686, 391, 337, 391, 838, 500, 500, 613, 635, 550, 635, 616, 353,  635, 634, 278, 278, 580,
    278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592,  525, 637, 337, 637, 838};
inline constexpr std::array<std::uint16_t, 95> wide_bold_widths = {
    349, 457,  521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416,  380, 366, 696, 696,  696,
    696, 696,  696, 696, 696, 696,  696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831,  684,
    684, 821,  837, 373, 373, 775,  638, 996, 837, 851, 733, 851, 771, 721,  683, 813, 774, 1104, 771,
    725, 726,  458, 366, 458, 838,  500, 500, 675, 716, 593, 716, 679, 436,  716, 712, 343, 343,  666,
    343, 1042, 712, 688, 716, 716,  494, 596, 479, 712, 652, 924, 646, 652,  583, 712, 366, 712,  838};

using WidthTable = std::array<std::uint16_t, 95>;

/// In thousandths of the size. Characters beyond ASCII count as full squares.
inline double width_by(const WidthTable& widths, std::string_view text) {
  double sum = 0.0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool continues = (byte & 0xC0U) == 0x80U;
    if (!continues) sum += byte >= 0x20U && byte < 0x7FU ? widths[byte - 0x20U] : 1000.0;
  }
  return sum;
}

inline void check_length(const char* argument, double length) {
  if (std::isfinite(length) && length >= 0.0) return;
  throw ArgumentError(argument, "it is " + std::to_string(length), "give a finite number that is not negative",
                      ErrorCode::wrong_number);
}

/// Puts words into lines.
class LineBreaker {
 public:
  LineBreaker(double width, TypeSize type) : width_(width), type_(type) {}

  void add_word(std::string_view word) {
    const std::string longer = line_.empty() ? std::string(word) : line_ + ' ' + std::string(word);
    if (max_text_width(longer, type_) <= width_) {
      line_ = longer;
      return;
    }
    end_line();
    while (max_text_width(word, type_) > width_) {
      const std::size_t taken = max_that_fits(word);
      lines_.emplace_back(word.substr(0, taken));
      word.remove_prefix(taken);
    }
    line_ = word;
  }

  void end_line() {
    if (!line_.empty()) lines_.push_back(std::exchange(line_, {}));
  }

  [[nodiscard]] std::vector<std::string> take() {
    end_line();
    return std::move(lines_);
  }

 private:
  /// One character at least.
  [[nodiscard]] std::size_t max_that_fits(std::string_view word) const {
    std::size_t taken = utf8_length(word);
    while (taken < word.size()) {
      const std::size_t next = taken + utf8_length(word.substr(taken));
      if (max_text_width(word.substr(0, next), type_) > width_) break;
      taken = next;
    }
    return taken;
  }

  double width_;
  TypeSize type_;
  std::string line_;
  std::vector<std::string> lines_;
};

}  // namespace detail

inline double text_width(std::string_view text, TypeSize type) {
  detail::check_length("type.size", type.size);
  return detail::width_by(type.bold ? detail::bold_widths : detail::plain_widths, text) * type.size / 1000.0;
}

inline double max_text_width(std::string_view text, TypeSize type) {
  const double wide = detail::width_by(type.bold ? detail::wide_bold_widths : detail::wide_plain_widths, text);
  return std::max(text_width(text, type), wide * type.size / 1000.0);
}

inline std::vector<std::string> lines_of_width(std::string_view text, double width, TypeSize type) {
  detail::check_length("width", width);
  const std::string clean = clean_text(text);
  detail::LineBreaker breaker(width, type);
  std::string_view rest = clean;
  while (!rest.empty()) {
    std::size_t end = rest.find_first_of(" \n");
    const bool share = end != std::string_view::npos && end != 0 && rest.substr(end).starts_with(" %");
    if (share) end = rest.find_first_of(" \n", end + 1);
    if (end != 0) breaker.add_word(rest.substr(0, end));
    if (end == std::string_view::npos) break;
    if (rest[end] == '\n') breaker.end_line();
    rest.remove_prefix(end + 1);
  }
  return breaker.take();
}

inline std::string clean_text(std::string_view text) {
  std::string clean;
  while (!text.empty()) {
    const std::size_t length = detail::utf8_length(text);
    const std::string_view character = text.substr(0, std::max<std::size_t>(length, 1));
    const auto first = static_cast<unsigned char>(character.front());
    const bool c1_control = first == 0xC2U && length == 2 && static_cast<unsigned char>(character[1]) < 0xA0U;
    const bool no_character = character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF";
    if (length == 0 || no_character) {
      clean += "\xEF\xBF\xBD";
    } else if (c1_control || first == 0x7FU || (first < 0x20U && first != '\n')) {
      clean += ' ';
    } else {
      clean += character;
    }
    text.remove_prefix(character.size());
  }
  return clean;
}

}  // namespace faultodds

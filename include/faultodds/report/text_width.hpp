// How wide a text is when printed, and its lines when it is broken to a width.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace faultodds {

/// A size of type, in the unit that widths are wanted in.
struct TypeSize {
  double size = 1.0;
  bool bold = false;
};

// The following throw ArgumentError if a width or a size is negative or not finite.

/// Width of a line set in Helvetica, or in any face of the same widths, such as Arial, Liberation Sans and Nimbus Sans
/// (font metrics of the PostScript core fonts). Characters beyond ASCII count as full squares, which few exceed.
[[nodiscard]] double text_width(std::string_view text, TypeSize type);

/// The greatest width of the line in the faces that a reader may have in its place: those above, or DejaVu Sans, which
/// is wider than most.
[[nodiscard]] double max_text_width(std::string_view text, TypeSize type);

/// Lines that are at most `width` wide in any of these faces, broken at blanks ("41 %" stays together); words that are
/// longer by themselves are broken anywhere. Line ends in the text are kept. Nothing for an empty text.
[[nodiscard]] std::vector<std::string> lines_of_width(std::string_view text, double width, TypeSize type);

/// Text that any format can hold: valid UTF-8, what is not becomes U+FFFD, control characters but for line ends become
/// blanks.
[[nodiscard]] std::string clean_text(std::string_view text);

namespace detail {

/// Throws ArgumentError unless a length is finite and not negative.
void check_length(const char* argument, double length);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/report/text_width.ipp"

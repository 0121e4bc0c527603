// Names, and the nearest known one to a misspelt name.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace faultodds {

/// A name, where an index could be given instead. Any text is one; the number 0, which would do for a pointer to text,
/// is none, so that it means the index.
class Name {
 public:
  template <class Text>
  requires(std::is_convertible_v<const Text&, std::string_view> &&
           !std::is_null_pointer_v<Text>) constexpr Name(const Text& text)
      : text_(text) {}

  constexpr operator std::string_view() const noexcept { return text_; }

 private:
  std::string_view text_;
};

/// The letters A to Z in lower case, all else as it is.
[[nodiscard]] inline std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

/// Edit distance with adjacent swaps (optimal string alignment), letters compared without case. Bytes, not code points.
[[nodiscard]] inline std::size_t edit_distance(std::string_view a, std::string_view b) {
  const std::string lower_a = lower_case(a), lower_b = lower_case(b);
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower_a[i - 1] == lower_b[j - 1];
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (same ? 0 : 1)});
      const bool swapped = i > 1 && j > 1 && lower_a[i - 1] == lower_b[j - 2] && lower_a[i - 2] == lower_b[j - 1];
      if (swapped) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

/// What may be meant by a name that is not known: the known names that begin so, letters compared without case, in
/// their order and at most twice `most`; if there are none, those nearest to it, best first, at most `most`, none that
/// differs in more than about a third of it.
[[nodiscard]] inline std::vector<std::string> nearest_names(std::string_view name, std::span<const std::string> known,
                                                            std::size_t most = 3) {
  std::vector<std::string> names;
  const std::string beginning = lower_case(name);
  for (const std::string& one : known) {
    if (names.size() == 2 * most || beginning.empty()) break;
    if (lower_case(one).starts_with(beginning)) names.push_back(one);
  }
  if (!names.empty()) return names;
  const std::size_t allowed = std::max<std::size_t>(2, name.size() / 3);
  std::vector<std::pair<std::size_t, std::size_t>> ranked;
  for (std::size_t i = 0; i < known.size(); ++i) {
    const std::size_t distance = edit_distance(name, known[i]);
    if (distance <= allowed && distance < std::max(name.size(), known[i].size())) ranked.emplace_back(distance, i);
  }
  std::sort(ranked.begin(), ranked.end());
  for (std::size_t i = 0; i < std::min(most, ranked.size()); ++i) names.push_back(known[ranked[i].second]);
  return names;
}

}  // namespace faultodds

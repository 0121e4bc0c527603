// Names and the nearest known one to a misspelt name.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <numeric>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace faultodds {

/// Edit distance with adjacent swaps (optimal string alignment), letters compared without case. Bytes, not code points.
[[nodiscard]] inline std::size_t edit_distance(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); };
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (same ? 0 : 1)});
      const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

/// The known names nearest to `name`, best first, at most `most`, none that differs in more than about a third of it.
[[nodiscard]] inline std::vector<std::string> nearest_names(std::string_view name, std::span<const std::string> known,
                                                            std::size_t most = 3) {
  const std::size_t allowed = std::max<std::size_t>(2, name.size() / 3);
  std::vector<std::pair<std::size_t, std::size_t>> ranked;
  for (std::size_t i = 0; i < known.size(); ++i) {
    const std::size_t distance = edit_distance(name, known[i]);
    if (distance <= allowed && distance < std::max(name.size(), known[i].size())) ranked.emplace_back(distance, i);
  }
  std::sort(ranked.begin(), ranked.end());
  std::vector<std::string> names;
  for (std::size_t i = 0; i < std::min(most, ranked.size()); ++i) names.push_back(known[ranked[i].second]);
  return names;
}

}  // namespace faultodds

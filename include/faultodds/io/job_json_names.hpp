// Words of the job format for the enumerations of jobs.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/io/json_fields.hpp"
#include "faultodds/job/job.hpp"

namespace faultodds::detail {

inline constexpr const char* job_format = "faultodds-job";
inline constexpr int job_format_version = 1;

inline constexpr std::array<std::string_view, 2> check_result_words{"cured", "still_there"};
inline constexpr std::array<std::string_view, 4> job_end_words{"cured", "handed_over", "lived_with", "given_up"};
inline constexpr std::array<std::string_view, 4> confirmed_by_words{"sight", "test", "repair", "specialist"};
inline constexpr std::array<std::string_view, 2> gain_words{"joint", "per_component"};
inline constexpr std::array<std::string_view, 4> rank_by_words{"gain_per_cost", "gain", "cost", "gain_per_minute"};
inline constexpr std::array<std::string_view, 3> repeated_errors_words{"as_in_model", "independent", "same_instrument"};

/// The word of a value of an enumeration.
template <class Enumeration, std::size_t count>
[[nodiscard]] std::string word_of(Enumeration value, const std::array<std::string_view, count>& words) {
  return std::string(words.at(static_cast<std::size_t>(value)));
}

/// The value of the word that is there; the first one and a problem if there is none.
template <class Enumeration, std::size_t count>
[[nodiscard]] Enumeration value_of(const JsonAt& at, const std::array<std::string_view, count>& words,
                                   std::vector<Problem>& problems) {
  if (!at.there()) return Enumeration{};
  std::string list;
  for (std::size_t i = 0; i < count; ++i) {
    if (at.value->is_string() && at.value->get_ref<const std::string&>() == words[i])
      return static_cast<Enumeration>(i);
    list += (i == 0 ? "" : i + 1 == count ? " or " : ", ") + std::string(words[i]);
  }
  const std::string found =
      at.value->is_string() ? "it is \"" + at.value->get<std::string>() + '"' : "it is " + kind_text(*at.value);
  add_problem(problems, at.path, found, "it must be " + list);
  return Enumeration{};
}

}  // namespace faultodds::detail

// SPDX-License-Identifier: BSD-3-Clause
#include "choices.hpp"

#include <algorithm>
#include <charconv>
#include <functional>
#include <istream>
#include <ostream>

#include "faultodds/model/names.hpp"

namespace faultodds::program {
namespace {

constexpr std::size_t page = 12;

std::optional<std::size_t> number_in_front(std::string_view answer, std::size_t count) {
  std::size_t value = 0;
  const auto result = std::from_chars(answer.data(), answer.data() + answer.size(), value);
  if (result.ec != std::errc() || result.ptr != answer.data() + answer.size()) return std::nullopt;
  if (value < 1 || value > count) return std::nullopt;
  return value - 1;
}

std::vector<std::size_t> where(const std::vector<Choice>& choices,
                               const std::function<bool(const std::string&)>& fits) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const std::vector<std::string>& spellings = choices[i].spellings;
    if (std::any_of(spellings.begin(), spellings.end(), fits)) found.push_back(i);
  }
  return found;
}

/// The words of an answer, split at blanks and commas.
std::vector<std::string> words_of(std::string_view answer) {
  std::vector<std::string> words(1);
  for (const char c : answer) {
    const bool separator = c == ' ' || c == ',' || c == ';';
    if (!separator) words.back() += c;
    if (separator && !words.back().empty()) words.emplace_back();
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

/// Whether each of the words begins a word of the spelling, in any order: "smell burnt" for "burnt smell".
bool holds_words(std::string_view spelling, const std::vector<std::string>& words) {
  const std::vector<std::string> parts = words_of(spelling);
  return std::all_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::any_of(parts.begin(), parts.end(), [&](const std::string& part) { return part.starts_with(word); });
  });
}

}  // namespace

std::vector<std::size_t> exact_matches(std::string_view answer, const std::vector<Choice>& choices) {
  if (const auto number = number_in_front(answer, choices.size())) return {*number};
  const std::string wanted = lower_case(answer);
  return where(choices, [&](const std::string& spelling) { return lower_case(spelling) == wanted; });
}

std::vector<std::size_t> matches(std::string_view answer, const std::vector<Choice>& choices) {
  if (answer.empty()) return {};
  std::vector<std::size_t> found = exact_matches(answer, choices);
  const std::string wanted = lower_case(answer);
  if (found.empty()) {
    found = where(choices, [&](const std::string& spelling) { return lower_case(spelling).starts_with(wanted); });
  }
  const bool is_number = answer.find_first_not_of("0123456789") == std::string_view::npos;
  if (found.empty() && !is_number && wanted.size() >= 3) {
    found = where(choices,
                  [&](const std::string& spelling) { return lower_case(spelling).find(wanted) != std::string::npos; });
  }
  const std::vector<std::string> words = words_of(wanted);
  if (found.empty() && words.size() > 1) {
    found = where(choices, [&](const std::string& spelling) { return holds_words(lower_case(spelling), words); });
  }
  return found;
}

Selection select_several(std::string_view answer, const std::vector<Choice>& choices) {
  Selection selection{matches(answer, choices), {}};
  std::vector<std::size_t>& chosen = selection.positions;
  if (chosen.size() == 1) return selection;
  chosen.clear();
  for (const std::string& word : words_of(answer)) {
    const std::vector<std::size_t> found = matches(word, choices);
    if (found.size() != 1) return {{}, word};
    if (std::find(chosen.begin(), chosen.end(), found.front()) == chosen.end()) chosen.push_back(found.front());
  }
  return selection;
}

std::optional<std::string> Questions::ask(std::string_view prompt) {
  if (over_) return std::nullopt;
  screen_.out() << prompt << std::flush;
  std::string line;
  if (!std::getline(*in_, line)) {
    over_ = true;
    screen_.blank();
    return std::nullopt;
  }
  line = trimmed(line);
  if (echo_) screen_.out() << printable(line) << '\n';
  return line;
}

void Questions::show_page(std::string_view title, const std::vector<Choice>& choices, std::size_t first) const {
  screen_.heading(title);
  const std::size_t end = std::min(choices.size(), first + page);
  for (std::size_t i = first; i < end; ++i) {
    screen_.item(right_aligned(std::to_string(i + 1), 3), choices[i].spellings.front(), 1, 5);
  }
  if (end < choices.size()) screen_.text("m  more (" + std::to_string(choices.size() - end) + ')', 3);
}

bool Questions::answers_itself(const std::string& answer, const std::vector<Choice>& choices) {
  if (!exact_matches(answer, choices).empty()) return false;
  const std::string word = lower_case(answer);
  if (word == "q" || word == "quit" || word == "exit") {
    over_ = true;
    return true;
  }
  if (word != "?" && word != "help") return false;
  screen_.text("Give the number in front, or the name or its start; Enter passes this over; q stops here.");
  return true;
}

void Questions::explain_no_match(std::string_view answer, const std::vector<Choice>& choices,
                                 const std::vector<std::size_t>& found) const {
  if (found.empty()) {
    screen_.text("\"" + std::string(answer) + "\" is none of these; give the number in front, or press Enter to pass.");
    return;
  }
  std::vector<std::string> names;
  for (const std::size_t i : found) names.push_back(std::to_string(i + 1) + ' ' + choices[i].spellings.front());
  if (names.size() > page) names.resize(page);
  screen_.text("\"" + std::string(answer) + "\" fits several: " + joined(names, "; "), 0, 2);
}

std::optional<bool> Questions::confirm(std::string_view question) {
  while (const auto answer = ask(std::string(question) + " yes or no, Enter for yes > ")) {
    const std::string word = lower_case(*answer);
    if (word.empty() || word == "y" || word == "yes") return true;
    if (word == "n" || word == "no") return false;
    screen_.text("\"" + *answer + "\" is neither yes nor no.");
  }
  return std::nullopt;
}

std::vector<std::size_t> Questions::understood(const std::string& answer, const std::vector<Choice>& choices) const {
  const std::vector<std::size_t> exact = exact_matches(answer, choices);
  if (!exact.empty() || answer.size() < 2) return exact;
  const std::vector<std::size_t> found = matches(answer, choices);
  if (found.size() == 1) screen_.text("  " + choices[found.front()].spellings.front());
  return found;
}

std::optional<std::size_t> Questions::choose(std::string_view title, const std::vector<Choice>& choices,
                                             const std::function<bool(const std::string&)>& takes) {
  std::size_t first = 0;
  show_page(title, choices, first);
  while (const auto answer = ask("number, or Enter to pass > ")) {
    if (answer->empty()) return std::nullopt;
    if (*answer == "m" && choices.size() > page) {
      first = first + page < choices.size() ? first + page : 0;
      show_page(title, choices, first);
      continue;
    }
    if (answers_itself(*answer, choices)) continue;
    const std::vector<std::size_t> found = understood(*answer, choices);
    if (found.size() == 1) return found.front();
    if (found.empty() && takes && takes(*answer)) return std::nullopt;
    explain_no_match(*answer, choices, found);
  }
  return std::nullopt;
}

std::vector<std::size_t> Questions::choose_several(std::string_view title, const std::vector<Choice>& choices) {
  std::size_t first = 0;
  show_page(title, choices, first);
  while (const auto answer = ask("numbers, such as 1 3; Enter to pass > ")) {
    if (answer->empty()) return {};
    if (*answer == "m" && choices.size() > page) {
      first = first + page < choices.size() ? first + page : 0;
      show_page(title, choices, first);
      continue;
    }
    if (answers_itself(*answer, choices)) continue;
    const Selection selection = select_several(*answer, choices);
    if (selection.unclear.empty()) return selection.positions;
    explain_no_match(selection.unclear, choices, matches(selection.unclear, choices));
  }
  return {};
}

}  // namespace faultodds::program

// Bodies of json_document.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdint>
#include <optional>
#include <unordered_set>
#include <utility>

#include "faultodds/io/json_document.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/text_places.hpp"

namespace faultodds {
namespace detail {

/// Builds a document from the events of the parser, and keeps track of where it is.
class JsonBuilder {
 public:
  JsonBuilder(std::string_view text, std::string file, std::vector<Problem>& problems)
      : text_(text), file_(std::move(file)), problems_(problems) {}

  [[nodiscard]] Json take() { return std::move(root_); }

  bool null() { return put(nullptr); }
  bool boolean(bool value) { return put(value); }
  bool number_integer(std::int64_t value) { return put(value); }
  bool number_unsigned(std::uint64_t value) { return put(value); }
  bool number_float(double value, const std::string& digits) {
    const bool written_as_zero =
        digits.substr(0, digits.find_first_of("eE")).find_first_of("123456789") == std::string::npos;
    if (value == 0.0 && !written_as_zero) {
      const Problem problem = number_problem(digits, NumberFault::out_of_range);
      add_problem(problems_, here(), problem.found, problem.remedy);
    }
    return put(value);
  }
  bool string(std::string& value) { return put(std::move(value)); }
  bool binary(Json::binary_t&) { return false; }
  bool start_object(std::size_t) {
    open(Json::object());
    return true;
  }
  bool key(std::string& name) {
    Level& level = levels_.back();
    level.key = std::move(name);
    if (!level.seen.insert(level.key).second) {
      add_problem(problems_, here(), "this member is given twice in one object", "write each member once");
    }
    return true;
  }
  bool end_object() { return close(); }
  bool start_array(std::size_t) {
    open(Json::array());
    return true;
  }
  bool end_array() { return close(); }

  bool parse_error(std::size_t position, const std::string&, const Json::exception& error) {
    const std::size_t offset = std::min(position == 0 ? 0 : position - 1, text_.size());
    Problem problem{TextPlaces(text_).at(offset), error.what(), {}};
    if (error.id == 406) {  // numbers beyond every double: the parser says so without a position of the number
      problem.found = "a number does not fit a double";
      problem.remedy = "write one between -1e308 and 1e308";
    } else {
      if (const auto begin = problem.found.find("syntax error"); begin != std::string::npos) {
        problem.found.erase(0, begin);
      }
      problem.remedy = remedy(offset);
    }
    throw ModelError({std::move(problem)}, file_);
  }

 private:
  struct Level {
    Json* value = nullptr;
    std::string key;
    std::unordered_set<std::string> seen;
  };

  [[nodiscard]] std::string here() const {
    std::string path;
    for (const Level& level : levels_) {
      if (level.value->is_object()) {
        path = json_path(path, level.key);
      } else {
        // The element that is still open is already in its list; the one to come is not.
        const bool open = &level != &levels_.back();
        path = json_path(path, level.value->size() - (open ? 1 : 0));
      }
    }
    return path;
  }

  Json* place(Json&& value) {
    if (levels_.empty()) {
      root_ = std::move(value);
      return &root_;
    }
    Level& level = levels_.back();
    if (level.value->is_array()) {
      auto& list = level.value->get_ref<Json::array_t&>();
      list.push_back(std::move(value));
      return &list.back();
    }
    auto& members = level.value->get_ref<Json::object_t&>();
    // Past the map's own look-up, which would cost the square of the number of members.
    auto& plain = static_cast<Json::object_t::Container&>(members);
    plain.emplace_back(level.key, std::move(value));
    return &plain.back().second;
  }

  template <class Value>
  bool put(Value&& value) {
    place(Json(std::forward<Value>(value)));
    return true;
  }

  void open(Json&& value) {
    Json* placed = place(std::move(value));
    levels_.push_back({placed, {}, {}});
  }

  bool close() {
    levels_.pop_back();
    return true;
  }

  [[nodiscard]] std::string remedy(std::size_t offset) const {
    const std::string_view before = text_.substr(0, offset);
    const std::size_t last = before.find_last_not_of(" \t\r\n");
    const bool after_comma = last != std::string_view::npos && before[last] == ',';
    if (after_comma && offset < text_.size() && (text_[offset] == '}' || text_[offset] == ']')) {
      return "remove the comma before it";
    }
    if (text_.find_first_not_of(" \t\r\n") == std::string_view::npos) return "the file is empty";
    if (offset >= text_.size()) return "the file ends too early: close all strings, lists and objects";
    std::string known = common_slip(word_at(offset));
    if (!known.empty()) return known;
    const bool digit = std::isdigit(static_cast<unsigned char>(text_[offset])) != 0;
    if (after_comma && digit && last > 0 && std::isdigit(static_cast<unsigned char>(before[last - 1])) != 0) {
      return "decimals are written with a point: 0.05";
    }
    return "check the quotes, commas and brackets just before this place";
  }

  /// What is at a place, from the last bracket, comma, colon or blank to the next.
  [[nodiscard]] std::string_view word_at(std::size_t offset) const {
    static constexpr std::string_view ends = " \t\r\n,:[]{}\"";
    const std::size_t before = offset == 0 ? std::string_view::npos : text_.find_last_of(ends, offset - 1);
    const std::size_t begin = ends.find(text_[offset]) != std::string_view::npos ? offset
                              : before == std::string_view::npos                 ? 0
                                                                                 : before + 1;
    return text_.substr(begin, text_.find_first_of(ends, begin) - begin);
  }

  /// The remedy for what is right elsewhere but not in JSON; empty for other words.
  [[nodiscard]] static std::string common_slip(std::string_view word) {
    std::string lower(word);
    std::ranges::transform(lower, lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    for (const char* const number : {"nan", "inf", "-inf", "infinity", "-infinity", "+infinity"}) {
      if (lower == number) return "JSON knows no such number; write one that a probability or a cost can be";
    }
    if (lower.starts_with("//") || lower.starts_with("/*") || lower.starts_with('#')) {
      return "JSON knows no comments; a remark can go into a \"description\" or a \"source\"";
    }
    if (lower.starts_with('\'')) return "texts and names are written in double quotes";
    if (lower == "none") return "leave the member out if there is nothing to say";
    if (lower == "true" || lower == "false" || lower == "null") return "write " + lower + " in small letters";
    if (lower.starts_with('.') || lower.starts_with('+')) return "numbers begin with a digit: 0.05";
    return {};
  }

  std::string_view text_;
  std::string file_;
  std::vector<Problem>& problems_;
  Json root_;
  std::vector<Level> levels_;
};

/// Lays a document out.
class JsonLayout {
 public:
  explicit JsonLayout(std::size_t width) : width_(width) {}

  [[nodiscard]] std::string take() { return std::move(text_); }

  /// `depth` levels are open around the value, `after` characters follow it in the same line.
  void write(const Json& value, std::size_t depth, std::size_t after) {
    const bool spread = value.is_structured() && !value.empty() &&
                        (depth == 0 || (depth == 1 && value.is_array() && value.front().is_object()));
    if (!spread) {
      const std::size_t start = text_.size();
      stop_ = start - column() + width_;
      write_inline(value);
      if (!value.is_structured() || value.empty() || column() + after <= width_) return;
      text_.resize(start);
    }
    if (value.is_object()) {
      write_members(value, depth);
    } else if (value.front().is_structured()) {
      write_elements(value, depth);
    } else {
      write_filled(value, depth);
    }
  }

 private:
  [[nodiscard]] std::size_t column() const {
    const std::size_t line = text_.rfind('\n');
    return line == std::string::npos ? text_.size() : text_.size() - line - 1;
  }

  void new_line(std::size_t depth) { text_.append("\n").append(2 * depth, ' '); }

  void write_text(const std::string& text) { text_ += Json(text).dump(); }

  /// In one line; given up, to be taken back by the caller, once the line is too long.
  void write_inline(const Json& value) {
    if (value.is_object()) {
      text_ += '{';
      bool first = true;
      for (const auto& [key, member] : value.items()) {
        if (text_.size() > stop_) return;
        if (!std::exchange(first, false)) text_ += ", ";
        write_text(key);
        text_ += ": ";
        write_inline(member);
      }
      text_ += '}';
    } else if (value.is_array()) {
      text_ += '[';
      bool first = true;
      for (const Json& element : value) {
        if (text_.size() > stop_) return;
        if (!std::exchange(first, false)) text_ += ", ";
        write_inline(element);
      }
      text_ += ']';
    } else if (value.is_number_float()) {
      append_number(text_, value.get<double>());
    } else {
      text_ += value.dump();
    }
  }

  void write_members(const Json& value, std::size_t depth) {
    text_ += '{';
    std::size_t left = value.size();
    for (const auto& [key, member] : value.items()) {
      new_line(depth + 1);
      write_text(key);
      text_ += ": ";
      write(member, depth + 1, 1);
      if (--left > 0) text_ += ',';
    }
    new_line(depth);
    text_ += '}';
  }

  void write_elements(const Json& value, std::size_t depth) {
    text_ += '[';
    std::size_t left = value.size();
    for (const Json& element : value) {
      new_line(depth + 1);
      write(element, depth + 1, 1);
      if (--left > 0) text_ += ',';
    }
    new_line(depth);
    text_ += ']';
  }

  /// A long list of numbers or words: as many in a line as fit.
  void write_filled(const Json& value, std::size_t depth) {
    stop_ = std::string::npos;
    text_ += '[';
    new_line(depth + 1);
    std::size_t left = value.size();
    std::size_t used = 2 * (depth + 1);
    for (const Json& element : value) {
      const std::size_t start = text_.size();
      write_inline(element);
      if (--left > 0) text_ += ',';
      const std::size_t length = text_.size() - start;
      if (used > 2 * (depth + 1) && used + length + 1 > width_) {
        const std::string word = text_.substr(start);
        text_.resize(start);
        new_line(depth + 1);
        text_ += word;
        used = 2 * (depth + 1) + length;
      } else if (used > 2 * (depth + 1)) {
        text_.insert(start, 1, ' ');
        used += length + 1;
      } else {
        used += length;
      }
    }
    new_line(depth);
    text_ += ']';
  }

  std::size_t width_;
  std::size_t stop_ = 0;  ///< length of the text at which the present line is too long
  std::string text_;
};

}  // namespace detail

inline std::string json_path(const std::string& path, std::string_view key) {
  const bool plain = !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-' || c == '$';
  });
  if (plain) return (path.empty() ? std::string() : path + '.').append(key);
  return path + '[' + Json(key).dump(-1, ' ', false, Json::error_handler_t::replace) + ']';
}

inline std::string json_path(const std::string& path, std::size_t index) {
  return path + '[' + std::to_string(index) + ']';
}

inline Json parse_json(std::string_view text, const std::string& file, std::vector<Problem>& problems) {
  const std::string_view checked = checked_utf8(text, file);
  detail::JsonBuilder builder(checked, file, problems);
  Json::sax_parse(checked.begin(), checked.end(), &builder);
  return builder.take();
}

inline std::string laid_out(const Json& document, std::size_t width) {
  detail::JsonLayout layout(width);
  try {
    layout.write(document, 0, 0);
  } catch (const Json::type_error& error) {
    throw ModelError(
        {Problem{"", std::string("a text is not UTF-8 (") + error.what() + ')', "write names and texts in UTF-8"}});
  }
  return layout.take() + '\n';
}

}  // namespace faultodds

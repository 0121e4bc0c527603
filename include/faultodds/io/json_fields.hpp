// Members of JSON objects, taken out one by one with their types checked.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/io/json_document.hpp"
#include "faultodds/io/network_tables.hpp"

namespace faultodds::detail {

/// What is there, for messages.
[[nodiscard]] inline std::string kind_text(const Json& value) {
  if (value.is_object()) return "an object";
  if (value.is_array()) return "a list";
  if (value.is_string()) return "text";
  if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
  if (value.is_number()) return "a number";
  return "null";
}

/// One value of a document, with its path.
struct JsonAt {
  const Json* value = nullptr;
  std::string path;

  [[nodiscard]] bool there() const noexcept { return value != nullptr; }
  [[nodiscard]] JsonAt element(std::size_t index) const { return {&(*value)[index], json_path(path, index)}; }
};

inline void wrong_type(const JsonAt& at, const std::string& wanted, std::vector<Problem>& problems) {
  add_problem(problems, at.path, "it is " + kind_text(*at.value), "it must be " + wanted);
}

[[nodiscard]] inline std::optional<double> number_at(const JsonAt& at, std::vector<Problem>& problems) {
  if (at.value->is_number()) return at.value->get<double>();
  wrong_type(at, "a number", problems);
  return std::nullopt;
}

/// Text, or nothing if it is something else or empty.
[[nodiscard]] inline std::optional<std::string> name_at(const JsonAt& at, std::vector<Problem>& problems) {
  if (!at.value->is_string()) {
    wrong_type(at, "a name", problems);
  } else if (at.value->get_ref<const std::string&>().empty()) {
    add_problem(problems, at.path, "it is empty", "it must be a name");
  } else {
    return at.value->get<std::string>();
  }
  return std::nullopt;
}

/// The members of one object. What is not an object has none, and is added to the problems.
class JsonFields {
 public:
  JsonFields(JsonAt at, std::vector<Problem>& problems) : at_(std::move(at)), problems_(problems) {
    if (!at_.value->is_object()) {
      wrong_type(at_, "an object", problems_);
      at_.value = nullptr;
    }
  }

  [[nodiscard]] bool is_object() const noexcept { return at_.there(); }
  [[nodiscard]] const std::string& path() const noexcept { return at_.path; }

  /// Members with other names than these are problems.
  void allow_only(const std::vector<std::string>& known) {
    if (!is_object()) return;
    for (const auto& [key, member] : at_.value->items()) {
      if (std::find(known.begin(), known.end(), key) != known.end()) continue;
      std::string list;
      for (const std::string& name : known) list += (list.empty() ? "the members are " : ", ") + name;
      add_problem(problems_, json_path(at_.path, key), "no such member", nearest_remedy(key, known, list));
    }
  }

  /// A member; not there() if it is missing.
  [[nodiscard]] JsonAt member(std::string_view key) const {
    if (!is_object()) return {};
    const auto found = at_.value->find(key);
    if (found == at_.value->end()) return {};
    return {&*found, json_path(at_.path, key)};
  }

  /// A member that must be there; if it is not, the message says what it should be.
  [[nodiscard]] JsonAt needed(std::string_view key, const std::string& meaning) const {
    JsonAt found = member(key);
    if (is_object() && !found.there()) {
      add_problem(problems_, at_.path, "the member \"" + std::string(key) + "\" is missing", "it takes " + meaning);
    }
    return found;
  }

  [[nodiscard]] std::string text(std::string_view key) const {
    const JsonAt found = member(key);
    if (!found.there()) return {};
    if (found.value->is_string()) return found.value->get<std::string>();
    wrong_type(found, "text", problems_);
    return {};
  }

  [[nodiscard]] bool flag(std::string_view key) const {
    const JsonAt found = member(key);
    if (!found.there()) return false;
    if (found.value->is_boolean()) return found.value->get<bool>();
    wrong_type(found, "true or false", problems_);
    return false;
  }

  [[nodiscard]] std::optional<double> number(std::string_view key) const {
    const JsonAt found = member(key);
    return found.there() ? number_at(found, problems_) : std::nullopt;
  }

  [[nodiscard]] std::vector<std::string> texts(std::string_view key) const {
    std::vector<std::string> list;
    for (const JsonAt& element : elements(key)) {
      if (element.value->is_string()) {
        list.push_back(element.value->get<std::string>());
      } else {
        wrong_type(element, "text", problems_);
      }
    }
    return list;
  }

  /// The elements of a list; none if it is missing or no list.
  [[nodiscard]] std::vector<JsonAt> elements(std::string_view key) const { return elements_of(member(key), problems_); }

  [[nodiscard]] static std::vector<JsonAt> elements_of(const JsonAt& list, std::vector<Problem>& problems) {
    std::vector<JsonAt> found;
    if (!list.there()) return found;
    if (!list.value->is_array()) {
      wrong_type(list, "a list", problems);
      return found;
    }
    found.reserve(list.value->size());
    for (std::size_t i = 0; i < list.value->size(); ++i) found.push_back(list.element(i));
    return found;
  }

 private:
  JsonAt at_;
  std::vector<Problem>& problems_;
};

}  // namespace faultodds::detail

// Numbers, text, lists and what is optional, to Python and from it; records and enumerations are in generated/.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <concepts>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "names.hpp"

namespace faultodds::python {

[[nodiscard]] inline py::object to_python(const Names&, py::object made) { return made; }
[[nodiscard]] inline py::object to_python(const Names&, double number) { return py::float_(number); }
[[nodiscard]] inline py::object to_python(const Names&, std::string_view text) {
  return py::str(text.data(), text.size());
}
[[nodiscard]] inline py::object to_python(const Names&, const std::string& text) { return py::str(text); }
[[nodiscard]] inline py::object to_python(const Names&, std::same_as<bool> auto truth) { return py::bool_(truth); }
template <std::integral Whole>
requires(!std::same_as<Whole, bool>) [[nodiscard]] py::object to_python(const Names&, Whole number) {
  return py::int_(number);
}
/// Variables by name, and the names of their states.
[[nodiscard]] py::object to_python(const Names& in, const std::vector<Gate>& gates);
[[nodiscard]] inline py::object to_python(const Names& in, const Finding& finding) {
  return finding_record(in.model(), finding);
}

template <class One>
[[nodiscard]] py::object to_python(const Names& in, const std::optional<One>& one) {
  return one ? py::object(to_python(in, *one)) : py::none();
}

template <class... Kinds>
[[nodiscard]] py::object to_python(const Names& in, const std::variant<Kinds...>& one) {
  return std::visit([&in](const auto& held) -> py::object { return to_python(in, held); }, one);
}

/// An index that no name is given for: a default, which holds for any model.
template <class Kind>
[[nodiscard]] py::object to_python(const Names&, Index<Kind> index) {
  return py::int_(std::size_t{index});
}

template <class One>
[[nodiscard]] py::object to_python(const Names& in, std::span<const One> all) {
  py::tuple made(all.size());
  for (std::size_t i = 0; i < all.size(); ++i) made[i] = to_python(in, all[i]);
  return made;
}

template <class One>
[[nodiscard]] py::object to_python(const Names& in, const std::vector<One>& all) {
  return to_python(in, std::span<const One>(all));
}

/// A `faultodds.records.Records` (or a subclass of it) with these records.
template <class Many>
[[nodiscard]] py::object table_of(const Names& in, const Many& all, const char* type = "Records") {
  py::list made;
  for (const auto& one : all) made.append(to_python(in, one));
  return as_records(made, type);
}

inline void read(const Names&, py::handle value, const char* argument, double& into) {
  into = number_of(value, argument);
}
inline void read(const Names&, py::handle value, const char* argument, bool& into) { into = truth_of(value, argument); }
inline void read(const Names&, py::handle value, const char* argument, std::string& into) {
  into = name_of(value, argument);
}
inline void read(const Names&, py::handle value, const char* argument, std::vector<std::string>& into) {
  into = names_of(value, argument);
}
template <std::unsigned_integral Whole>
requires(!std::same_as<Whole, bool>) void read(const Names&, py::handle value, const char* argument, Whole& into) {
  into = count_of(value, argument);
}

inline void read(const Names& in, py::handle value, const char*, Finding& into) {
  into = finding_of(in.model(), value);
}

template <class One>
void read(const Names& in, py::handle value, const char* argument, std::optional<One>& into) {
  into.reset();
  if (!value.is_none()) read(in, value, argument, into.emplace());
}

template <class One>
void read(const Names& in, py::handle values, const char* argument, std::vector<One>& into) {
  into.clear();
  for (const py::handle value : values) read(in, value, argument, into.emplace_back());
}

/// The kind of the variant whose record `value` is; records that Python does not hand over have no name here.
template <class One>
bool read_kind(const Names& in, py::handle value, const char* argument, auto& into) {
  if constexpr (requires { record_name(static_cast<const One*>(nullptr)); }) {
    if (!py::isinstance(value, record_type(record_name(static_cast<const One*>(nullptr))))) return false;
    read(in, value, argument, into.template emplace<One>());
    return true;
  }
  return false;
}

template <class... Kinds>
void read(const Names& in, py::handle value, const char* argument, std::variant<Kinds...>& into) {
  if ((read_kind<Kinds>(in, value, argument, into) || ...)) return;
  throw py::type_error(std::string(argument) + ": got " + std::string(py::str(py::repr(value))) +
                       "; give a record of one of its kinds");
}

/// The option of this name; nothing if it is not given, or is None.
[[nodiscard]] py::object option(const py::dict& given, const char* name);

/// Options from their names, on top of their defaults.
template <class Options>
[[nodiscard]] Options options_from(const Names& in, const py::dict& given) {
  Options options;
  read_options(in, given, options);
  return options;
}

/// What Python handed over, as a value.
template <class One>
[[nodiscard]] One taken(const Names& in, py::handle value, const char* argument) {
  One one{};
  read(in, value, argument, one);
  return one;
}

}  // namespace faultodds::python

// Records of Python made in C++: many of one kind, quickly.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <initializer_list>
#include <vector>

#include "bindings.hpp"

namespace faultodds::python {

/// A member of a record, by its name.
struct Member {
  const char* name;
  py::object value;
};

/// A class of the module faultodds.records, looked up once. Its records get their members directly, as unpickled ones
/// do: calls of frozen data classes take several times as long, and a ranking has thousands of records. Made and used
/// with the interpreter lock held; what it looked up lives as long as the process.
class RecordKind {
 public:
  explicit constexpr RecordKind(const char* name) noexcept : name_(name) {}

  /// A record with these members: all it has, always in the same order. Throws std::logic_error if they are others.
  [[nodiscard]] py::object operator()(std::initializer_list<Member> members);

 private:
  void look_up(std::initializer_list<Member> members);

  const char* name_;
  PyTypeObject* type_ = nullptr;
  std::vector<PyObject*> names_;
};

}  // namespace faultodds::python

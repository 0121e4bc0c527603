// SPDX-License-Identifier: BSD-3-Clause
#include "record_kind.hpp"

#include <stdexcept>
#include <string>

namespace faultodds::python {

void RecordKind::look_up(std::initializer_list<Member> members) {
  py::object type = record_type(name_);
  py::set wanted;
  for (const py::handle field : py::module_::import("dataclasses").attr("fields")(type)) wanted.add(field.attr("name"));
  py::set given;
  for (const Member& member : members) given.add(py::str(member.name));
  if (given.size() != members.size() || !given.equal(wanted))
    throw std::logic_error("the members of " + std::string(name_) + " are not those of the Python class");
  for (const Member& member : members) names_.push_back(PyUnicode_InternFromString(member.name));
  type_ = reinterpret_cast<PyTypeObject*>(type.release().ptr());
}

py::object RecordKind::operator()(std::initializer_list<Member> members) {
  if (type_ == nullptr) look_up(members);
  const auto made = py::reinterpret_steal<py::object>(type_->tp_alloc(type_, 0));
  if (!made) throw py::error_already_set();
  auto name = names_.begin();
  for (const Member& member : members) {
    if (PyObject_GenericSetAttr(made.ptr(), *name++, member.value.ptr()) != 0) throw py::error_already_set();
  }
  return made;
}

}  // namespace faultodds::python

// Python objects of these classes are made whole or not at all.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <pybind11/pybind11.h>

namespace faultodds::python {

/// Refuses `Class.__new__(Class)`, which would hand out an object with nothing in it, in favour of `remedy`. The class
/// must be final: Python would make subclasses through what is refused here.
inline void refuse_hollow_objects(const pybind11::object& type, const char* remedy) {
  namespace py = pybind11;
  const std::string text = std::string("an object is not made by __new__ alone; ") + remedy;
  const py::cpp_function refuse([text](const py::args&, const py::kwargs&) { throw py::type_error(text); });
  // Written into the dictionary itself: setting the attribute would change how the class is called, too.
  auto* const made = reinterpret_cast<PyTypeObject*>(type.ptr());
  if (PyDict_SetItemString(made->tp_dict, "__new__", py::staticmethod(refuse).ptr()) != 0)
    throw py::error_already_set();
  PyType_Modified(made);
}

}  // namespace faultodds::python

// Posteriors where no junction tree fits into memory.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/conditioning.hpp"

#include "generated/records.hpp"
#include "planning.hpp"

namespace faultodds::python {

void bind_conditioning(py::module_& module) {
  module.def("_posteriors_by_conditioning", [](const Solver& solver, py::handle findings, const py::dict& given) {
    const Names in(solver.model());
    const auto found = taken<std::vector<Finding>>(in, findings, "findings");
    const auto options = options_from<ConditioningOptions>(in, given);
    const ConditionedPosteriors made =
        unlocked([&] { return posteriors_by_conditioning(solver, found, options, thread_stop()); });
    return to_python(in, made, posteriors_of_all(solver.model(), made.of_variable));
  });
}

}  // namespace faultodds::python

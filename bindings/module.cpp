// The module faultodds._core.
// SPDX-License-Identifier: BSD-3-Clause
#include <Eigen/Core>
#include <boost/version.hpp>

#include "bindings.hpp"
#include "generated/records.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

std::string compiler_text() {
#if defined(__clang__)
  return "clang " __clang_version__;
#elif defined(__GNUC__)
  return "gcc " __VERSION__;
#elif defined(_MSC_FULL_VER)
  return "msvc " + std::to_string(_MSC_FULL_VER);
#else
  return "unknown";
#endif
}

py::dict build_info() {
  py::dict facts;
  facts["version"] = FAULTODDS_VERSION;
  facts["compiler"] = compiler_text();
  facts["cplusplus"] = std::to_string(__cplusplus);
  facts["build_type"] = FAULTODDS_BUILD_TYPE;
#ifdef NDEBUG
  facts["assertions"] = "off";
#else
  facts["assertions"] = "on";
#endif
  facts["sanitizers"] = FAULTODDS_SANITIZERS;
  facts["eigen"] = std::to_string(EIGEN_WORLD_VERSION) + '.' + std::to_string(EIGEN_MAJOR_VERSION) + '.' +
                   std::to_string(EIGEN_MINOR_VERSION);
  facts["boost"] = BOOST_LIB_VERSION;
  facts["pybind11"] = std::to_string(PYBIND11_VERSION_MAJOR) + '.' + std::to_string(PYBIND11_VERSION_MINOR);
  return facts;
}

}  // namespace

}  // namespace faultodds::python

PYBIND11_MODULE(_core, module) {
  namespace bound = faultodds::python;
  pybind11::options options;
  options.disable_function_signatures();
  module.doc() = "The compiled part of faultodds.";
  module.attr("__version__") = FAULTODDS_VERSION;
  bound::bind_errors();
  bound::bind_stop(module);
  bound::bind_model(module);
  bound::bind_case(module);
  bound::bind_job(module);
  bound::bind_batch(module);
  bound::bind_calls(module);
  bound::bind_decision(module);
  bound::bind_explanations(module);
  bound::bind_files(module);
  bound::bind_troubleshooting(module);
  bound::bind_planning(module);
  bound::bind_flow_charts(module);
  bound::bind_repaired(module);
  bound::bind_evidence(module);
  bound::bind_sampling(module);
  bound::bind_conditioning(module);
  bound::bind_reading(module);
  module.def("_option_defaults", &bound::option_defaults);
  module.def("build_info", &bound::build_info, "How the compiled part was built: {fact: value}, all text.");
}

// Why a posterior is what it is.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/evidence/evidence.hpp"

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "generated/records.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

Claim claim_of(const FaultModel& model, py::handle variable, py::handle states) {
  const std::size_t index = model.index_of(name_of(variable, "variable"));
  if (states.is_none()) return not_sound(model, index);
  Claim claim{.variable = index, .states = {}};
  if (py::isinstance<py::str>(states)) {
    claim.states.push_back(model.state_of(index, name_of(states, "states")));
    return claim;
  }
  for (const std::string& state : names_of(states, "states")) claim.states.push_back(model.state_of(index, state));
  return claim;
}

py::object evidence_record(HeldCase& held, py::handle variable, py::handle states) {
  const FaultModel& model = held.current.model();
  const Claim claim = claim_of(model, variable, states);
  std::string words;
  const Evidence found = locked(held, [&](const Case& current) {
    Evidence evidence = weigh_evidence(current, claim);
    words = explain_in_words(current, evidence);
    return evidence;
  });
  return to_python(Names(model), found, py::str(words));
}

py::object conflict_record(HeldCase& held) {
  const FaultModel& model = held.current.model();
  std::string words;
  std::vector<VariableIndex> variables;
  const Conflict found = locked(held, [&](const Case& current) {
    for (const Finding& finding : current.findings()) variables.push_back(finding.variable);
    Conflict conflicting = conflict(current);
    words = explain_in_words(current, conflicting);
    return conflicting;
  });
  const py::object kind = record_type("ConflictOfFinding");
  py::list findings;
  for (std::size_t i = 0; i < variables.size(); ++i) {
    const Variable& on = model.variable(variables[i]);
    findings.append(kind(py::arg("variable") = on.name, py::arg("label") = shown(on),
                         py::arg("with_rest_bits") = found.with_rest_bits.at(i)));
  }
  return to_python(Names(model), found, as_records(findings), py::str(words));
}

}  // namespace

void bind_evidence(py::module_& module) {
  module.def("_weigh_evidence", &evidence_record);
  module.def("_conflict", &conflict_record);
}

}  // namespace faultodds::python

// Why a posterior is what it is.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/evidence/evidence.hpp"

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

Claim claim_of(const FaultModel& model, py::handle variable, py::handle states) {
  const std::size_t index = model.index_of(name_of(variable, "variable"));
  if (states.is_none()) return not_sound(model, index);
  Claim claim{index, {}};
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
  const py::object kind = record_type("FindingWeight");
  py::list findings;
  for (const FindingWeight& one : found.findings) {
    const Variable& on = model.variable(one.variable);
    findings.append(kind(on.name, shown(on), or_none(one.alone_bits), or_none(one.left_out_bits),
                         or_none(one.in_order_bits), one.probability_alone, one.probability_left_out,
                         one.probability_after));
  }
  std::vector<std::string> names;
  for (const std::size_t state : claim.states) names.push_back(model.variable(claim.variable).states[state].name);
  return record_type("Evidence")(model.variable(claim.variable).name, as_tuple(names), found.prior, found.posterior,
                                 or_none(found.total_bits), as_records(findings), words);
}

py::object rare_cause_record(const FaultModel& model, const std::optional<RareCause>& cause) {
  if (!cause) return py::none();
  const Variable& component = model.variable(cause->component);
  const State& state = component.states.at(cause->state);
  return record_type("RareCause")(record_type("Fault")(component.name, shown(component), state.name, shown(state)),
                                  cause->bits);
}

py::object conflict_record(HeldCase& held) {
  const FaultModel& model = held.current.model();
  std::string words;
  std::vector<std::size_t> variables;
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
    findings.append(kind(on.name, shown(on), found.with_rest_bits.at(i)));
  }
  return record_type("Conflict")(found.bits, as_records(findings), rare_cause_record(model, found.rare_cause), words);
}

}  // namespace

void bind_evidence(py::module_& module) {
  module.def(
      "weigh_evidence", &evidence_record, py::arg("case"), py::arg("variable"), py::arg("states") = py::none(),
      R"(The weight of each finding, in bits, for the claim that a variable is in one of some states: an Evidence.

states: a name or several; None: all but the first, so of a component that it is not sound. Three propagations a finding.
Raises UnknownName, ArgumentError, TooLarge.)");
  module.def(
      "conflict", &conflict_record, py::arg("case"),
      R"(How badly the findings go together, in bits: a Conflict. Two propagations a finding. Raises TooLarge.)");
}

}  // namespace faultodds::python

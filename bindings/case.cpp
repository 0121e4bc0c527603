// Solver and Case: compiling a model, findings, posteriors.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/case.hpp"

#include <cstdint>

#include "faultodds/inference/solver.hpp"
#include "generated/records.hpp"
#include "whole_objects.hpp"

namespace faultodds::python {

namespace {

/// Options by their names. Throws TypeError for other names.
SolverOptions options_of(const py::dict& given) {
  const py::object known = record_type("SolverOptions").attr("__dataclass_fields__");
  for (const auto& [name, value] : given) {
    if (known.contains(name)) continue;
    throw py::type_error("Solver() got an unexpected keyword argument '" + std::string(py::str(name)) + "'");
  }
  auto options = options_from<SolverOptions>(Names(), given);
  for (const auto& [name, value] : given) {
    const std::string option = py::str(name);
    if (value.is_none() || number_of(value, option.c_str()) >= 0.0) continue;
    throw ArgumentError(option, "got " + std::string(py::str(value)), "give a number from 0 up",
                        ErrorCode::wrong_number);
  }
  return options;
}

Solver compiled(const FaultModel& model, const SolverOptions& options) {
  const py::gil_scoped_release unlocked;
  return Solver(model, options, thread_stop());
}

py::object finding_records(const FaultModel& model, const std::vector<Finding>& findings) {
  py::list records;
  for (const Finding& finding : findings) records.append(finding_record(model, finding));
  return as_records(records);
}

std::vector<Finding> findings_of(const FaultModel& model, py::handle records) {
  std::vector<Finding> findings;
  for (const py::handle record : records) findings.push_back(finding_of(model, record));
  return findings;
}

void add_one_of(HeldCase& held, py::handle variable, py::handle states) {
  const FaultModel& model = held.current.model();
  const std::size_t index = model.index_of(name_of(variable, "variable"));
  std::vector<StateIndex> allowed;
  for (const std::string& state : names_of(states, "states")) allowed.push_back(model.state_of(index, state));
  locked(held, [&](Case& current) { current.add_one_of(index, allowed); });
}

py::object posterior_dict(HeldCase& held, py::handle name) {
  const FaultModel& model = held.current.model();
  const std::size_t index = model.index_of(name_of(name, "variable"));
  const std::vector<double> probabilities = locked(held, [&](const Case& current) { return current.posterior(index); });
  py::dict by_state;
  for (std::size_t state = 0; state < probabilities.size(); ++state) {
    by_state[py::str(model.variable(index).states[state].name)] = probabilities[state];
  }
  return by_state;
}

void append_posterior(py::list& records, const py::object& kind, const Variable& variable,
                      const std::vector<double>& probabilities) {
  // One set of named fields serves all states: there may be thousands.
  py::dict fields(py::arg("variable") = variable.name, py::arg("label") = shown(variable),
                  py::arg("role") = to_python(Names(), variable.role()));
  const py::tuple by_place;
  for (std::size_t state = 0; state < probabilities.size(); ++state) {
    const State& about = variable.states[state];
    fields["state"] = about.name;
    fields["state_label"] = shown(about);
    fields["probability"] = probabilities[state];
    PyObject* made = PyObject_Call(kind.ptr(), by_place.ptr(), fields.ptr());
    if (made == nullptr) throw py::error_already_set();
    records.append(py::reinterpret_steal<py::object>(made));
  }
}

}  // namespace

py::object posteriors_of_all(const FaultModel& model, const std::vector<std::vector<double>>& of_variable) {
  const py::object kind = record_type("StateProbability");
  py::list records;
  for (std::size_t i = 0; i < of_variable.size(); ++i) {
    append_posterior(records, kind, model.variable(i), of_variable[i]);
  }
  return as_records(records, "Posteriors");
}

namespace {

py::object posterior_records(HeldCase& held, py::handle names) {
  const FaultModel& model = held.current.model();
  if (names.is_none()) {
    return posteriors_of_all(model, locked(held, [](const Case& current) { return current.posteriors(); }));
  }
  const std::vector<VariableIndex> chosen = variables_of(model, names, "names");
  const auto some = locked(held, [&](const Case& current) {
    std::vector<std::vector<double>> posteriors;
    for (const std::size_t index : chosen) posteriors.push_back(current.posterior(index));
    return posteriors;
  });
  const py::object kind = record_type("StateProbability");
  py::list records;
  for (std::size_t i = 0; i < chosen.size(); ++i) append_posterior(records, kind, model.variable(chosen[i]), some[i]);
  return as_records(records, "Posteriors");
}

py::object joint_record(HeldCase& held, py::handle names) {
  const FaultModel& model = held.current.model();
  const std::vector<VariableIndex> chosen = variables_of(model, names, "names");
  if (chosen.empty())
    throw ArgumentError("names", "holds none", "name at least one variable", ErrorCode::nothing_given);
  const JointPosterior joint = locked(held, [&](const Case& current) { return current.joint(chosen); });
  py::dict states;
  for (const std::size_t index : joint.variables) {
    std::vector<std::string> state_names;
    for (const State& state : model.variable(index).states) state_names.push_back(state.name);
    states[py::str(model.variable(index).name)] = as_tuple(state_names);
  }
  const py::bytes numbers(reinterpret_cast<const char*>(joint.probabilities.data()),
                          joint.probabilities.size() * sizeof(double));
  return record_type("JointPosterior")(py::arg("states") = states, py::arg("probabilities") = numbers);
}

std::shared_ptr<HeldCase> copied(HeldCase& held) {
  return locked(held, [](const Case& current) { return std::make_shared<HeldCase>(current); });
}

// A pickled solver is (version, model, options); a pickled case is (version, solver, findings).
constexpr int pickle_version = 1;

void check_version(const py::object& version, const char* what) {
  if (version.equal(py::int_(pickle_version))) return;
  throw ModelError({{std::string("pickled ") + what, "its version is " + std::string(py::str(version)) + ", not 1",
                     "write it again with this version"}});
}

py::tuple reduced_solver(const Solver& solver) {
  const py::object restore = py::module_::import("faultodds._core").attr("_restored_solver");
  return py::make_tuple(
      restore, py::make_tuple(pickle_version, solver.model(), to_python(Names(solver.model()), solver.options())));
}

Solver restored_solver(const py::object& version, const FaultModel& model, const py::object& options) {
  check_version(version, "solver");
  return compiled(model, options_of(options.attr("__dict__")));
}

py::tuple reduced_case(HeldCase& held) {
  const auto findings = locked(held, [](const Case& current) { return current.findings(); });
  const py::object restore = py::module_::import("faultodds._core").attr("_restored_case");
  return py::make_tuple(restore, py::make_tuple(pickle_version, held.current.solver(),
                                                py::tuple(finding_records(held.current.model(), findings))));
}

std::shared_ptr<HeldCase> restored_case(const py::object& version, const Solver& solver, const py::tuple& records) {
  check_version(version, "case");
  auto held = std::make_shared<HeldCase>(Case(solver));
  const std::vector<Finding> findings = findings_of(held->current.model(), records);
  locked(*held, [&](Case& current) { current.add(findings); });
  return held;
}

void bind_solver(py::module_& module) {
  py::class_<Solver> bound(module, "Solver", py::is_final(),
                           R"(A fault model compiled for inference: immutable, shared between cases and threads.)");
  bound
      .def(py::init(
               [](const FaultModel& model, const py::kwargs& options) { return compiled(model, options_of(options)); }),
           py::arg("model"),
           R"(Compiles `model`. The keyword arguments are the members of SolverOptions, with its defaults.

The interpreter lock is released while compiling. Raises TooLarge.)")
      .def(
          "model", [](const Solver& solver) { return solver.model(); }, "The model it was compiled from.")
      .def(
          "options", [](const Solver& solver) { return to_python(Names(solver.model()), solver.options()); },
          "How it was compiled, as SolverOptions.")
      .def(
          "has_shared_tree", [](const Solver& solver) { return solver.has_shared_tree(); },
          "True if one junction tree serves all cases.")
      .def("__copy__", [](const py::object& self) { return self; })
      .def(
          "__deepcopy__", [](const py::object& self, const py::object&) { return self; }, py::arg("memo"))
      .def("__repr__",
           [](const Solver& solver) {
             return "<Solver of " + std::string(py::str(py::repr(py::str(solver.model().header().name)))) + ">";
           })
      .def("__reduce__", &reduced_solver);
  refuse_hollow_objects(bound, "use Solver(model)");
  module.def("_restored_solver", &restored_solver);
}

}  // namespace

void bind_case(py::module_& module) {
  bind_solver(module);

  py::class_<HeldCase, std::shared_ptr<HeldCase>> held(
      module, "Case", py::is_final(), R"(One vehicle with its findings so far: cheap to make, copy and change.

Variables and states are given by their names, as text (str); anything else raises TypeError. A call that fails leaves
the case as it was. The interpreter lock is released while computing; a case may be used from several threads, which
then take turns; different cases of one solver run in parallel.)");
  held.def(py::init([](const Solver& solver) { return std::make_shared<HeldCase>(Case(solver)); }), py::arg("solver"),
           "A case without findings.")
      .def(
          "solver", [](const HeldCase& self) { return self.current.solver(); }, "The solver it was made from.")
      .def(
          "model", [](const HeldCase& self) { return self.current.model(); }, "The model behind it.")
      .def("copy", &copied, "A case with the same findings; changing one leaves the other alone.")
      .def("__copy__", &copied)
      .def(
          "__deepcopy__", [](HeldCase& self, const py::object&) { return copied(self); }, py::arg("memo"))
      .def("__repr__",
           [](HeldCase& self) {
             const std::size_t count = locked(self, [](const Case& current) { return current.findings().size(); });
             return "<Case of " + std::string(py::str(py::repr(py::str(self.current.model().header().name)))) + ", " +
                    std::to_string(count) + (count == 1 ? " finding>" : " findings>");
           })
      .def("__reduce__", &reduced_case);
  refuse_hollow_objects(held, "use Case(solver)");
  module.def("_restored_case", &restored_case);

  held.def(
          "add_finding",
          [](HeldCase& self, py::handle variable, py::handle state) {
            const FaultModel& model = self.current.model();
            const std::size_t index = model.index_of(name_of(variable, "variable"));
            const std::size_t position = model.state_of(index, name_of(state, "state"));
            locked(self, [&](Case& current) { current.add_finding(index, position); });
          },
          py::arg("variable"), py::arg("state"), R"(A hard finding: the variable is in this state.

Raises UnknownName; ArgumentError where the variable already has a finding (take it back first, or use change);
ImpossibleFindings if it cannot be true beside the others.)")
      .def("add_one_of", &add_one_of, py::arg("variable"), py::arg("states"),
           R"("One of these states"; for "not that one", give the others. Raises as add_finding does.)")
      .def(
          "add_likelihood",
          [](HeldCase& self, py::handle variable, py::handle weights) {
            const FaultModel& model = self.current.model();
            const std::size_t index = model.index_of(name_of(variable, "variable"));
            const std::vector<double> numbers = weights_of(model, index, weights);
            locked(self, [&](Case& current) { current.add_likelihood(index, numbers); });
          },
          py::arg("variable"), py::arg("weights"),
          R"(A likelihood finding: P(what was seen | state), up to a common factor.

weights: a number for each state, in the order of the states, or {state: number} for all of them. It is not a new
marginal: the prior still counts. Raises as add_finding does, and ArgumentError for weights that are negative, not
finite, all zero, or of the wrong number.)")
      .def(
          "add",
          [](HeldCase& self, py::handle findings) {
            const FaultModel& model = self.current.model();
            std::vector<Finding> added;
            if (py::isinstance(findings, record_type("Finding"))) {
              added.push_back(finding_of(model, findings));
            } else {
              added = findings_of(model, findings);
            }
            locked(self, [&](Case& current) { current.add(added); });
          },
          py::arg("findings"),
          R"(Adds a Finding, or several at once: they are checked together, and either all are taken or none.

Raises as add_finding does.)")
      .def(
          "change",
          [](HeldCase& self, py::handle finding) {
            const Finding changed = finding_of(self.current.model(), finding);
            locked(self, [&](Case& current) { current.change(changed); });
          },
          py::arg("finding"),
          R"(Replaces the finding of this variable (adds it if there is none), keeping its place in the order.

Raises as add_finding does.)")
      .def(
          "take_back",
          [](HeldCase& self, py::handle variable) {
            const std::size_t index = self.current.model().index_of(name_of(variable, "variable"));
            locked(self, [&](Case& current) { current.take_back(index); });
          },
          py::arg("variable"), "Removes the finding of this variable; nothing happens if there is none.")
      .def(
          "take_back_to",
          [](HeldCase& self, py::handle count) {
            const std::size_t kept = count_of(count, "count");
            locked(self, [&](Case& current) { current.take_back_to(kept); });
          },
          py::arg("count"), "Back to the first `count` findings.")
      .def(
          "findings",
          [](HeldCase& self) {
            const auto findings = locked(self, [](const Case& current) { return current.findings(); });
            return finding_records(self.current.model(), findings);
          },
          "The findings in the order they were made, as records of kind Finding.")
      .def(
          "finding_of",
          [](HeldCase& self, py::handle variable) -> py::object {
            const FaultModel& model = self.current.model();
            const std::size_t index = model.index_of(name_of(variable, "variable"));
            const auto found = locked(self, [&](const Case& current) {
              const Finding* finding = current.finding_of(index);
              return finding == nullptr ? std::optional<Finding>() : std::optional<Finding>(*finding);
            });
            return found ? finding_record(model, *found) : py::none();
          },
          py::arg("variable"), "The finding of this variable, or None.");

  held.def(
          "log_evidence",
          [](HeldCase& self) { return locked(self, [](const Case& current) { return current.log_evidence(); }); },
          R"(Natural logarithm of P(findings). For Markov networks: of the partition function with the findings in.

Raises TooLarge.)")
      .def("posterior", &posterior_dict, py::arg("variable"),
           R"(P(state | findings) as {state: probability}, observed variables included. Raises UnknownName, TooLarge.)")
      .def("posteriors", &posterior_records, py::arg("names") = py::none(),
           R"(P(state | findings) of the variables named, or of all: Posteriors, one record a state.

Each variable by itself; for several together, see joint. Raises UnknownName, TooLarge.)")
      .def("joint", &joint_record, py::arg("names"),
           R"(P(joint states | findings) of these variables: a JointPosterior, the last variable running fastest.

Raises UnknownName; TooLarge, with its size, if the table would exceed the memory limit.)");
}

}  // namespace faultodds::python

// Job: one vehicle's way from complaint to end.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/job/job.hpp"

#include "faultodds/io/job_json.hpp"
#include "faultodds/job/report_data.hpp"
#include "generated/records.hpp"
#include "whole_objects.hpp"

namespace faultodds::python {

namespace {

/// A job as Python holds it, with a lock of its own as HeldCase has.
struct HeldJob {
  explicit HeldJob(Job made) : job(std::move(made)) {}

  Job job;
  std::mutex mutex;
};

using Held = std::shared_ptr<HeldJob>;

/// Runs `work` on the job without the interpreter lock, alone on this job. `work` must not touch Python objects.
template <class Work>
auto locked(HeldJob& held, Work&& work) {
  const py::gil_scoped_release unlocked;
  const std::lock_guard guard(held.mutex);
  const StopScope scope(held.job.current(), thread_stop());
  return std::forward<Work>(work)(held.job);
}

/// The model as it is now; a copy shares its contents.
FaultModel model_now(HeldJob& held) {
  return locked(held, [](const Job& job) { return job.model(); });
}

/// What `ask` gives, as Python has it.
template <class Ask>
py::object told(HeldJob& held, const Ask& ask) {
  const auto [model, value] = locked(held, [&](const Job& job) { return std::pair(job.model(), ask(job)); });
  return to_python(Names(model), value);
}

JobOptions options_of(const FaultModel& model, py::handle given) {
  return given.is_none() ? JobOptions{} : taken<JobOptions>(Names(model), given, "options");
}

std::optional<CheckResult> result_of(py::handle said) {
  return taken<std::optional<CheckResult>>(Names(), said, "said");
}

Held made(const Solver& solver, py::handle given) {
  JobOptions options = options_of(solver.model(), given);
  const py::gil_scoped_release unlocked;
  return std::make_shared<HeldJob>(Job(solver, std::move(options)));
}

Held read_from(py::handle text, const Solver& solver, py::handle other_version) {
  const std::string document = name_of(text, "text");
  const JobReading how{.other_version = truth_of(other_version, "other_version")};
  const py::gil_scoped_release unlocked;
  return std::make_shared<HeldJob>(read_job(document, solver, how));
}

Held copied(HeldJob& held) {
  return locked(held, [](const Job& job) { return std::make_shared<HeldJob>(job); });
}

std::string written(HeldJob& held) {
  return locked(held, [](const Job& job) { return write_job(job); });
}

py::tuple reduced(HeldJob& held) {
  const py::object restore = py::module_::import("faultodds._core").attr("_restored_job");
  return py::make_tuple(restore, py::make_tuple(written(held), held.job.solver()));
}

void add(HeldJob& held, py::handle finding) {
  const Finding added = finding_of(model_now(held), finding);
  locked(held, [&](Job& job) { job.add(added); });
}

void add_finding(HeldJob& held, py::handle variable, py::handle state) {
  const std::string name = name_of(variable, "variable");
  const std::string value = name_of(state, "state");
  locked(held, [&](Job& job) { job.add_finding(name, value); });
}

void add_reading(HeldJob& held, py::handle test, py::handle text) {
  const std::string name = name_of(test, "test");
  const std::string typed = name_of(text, "text");
  locked(held, [&](Job& job) { job.add_reading(name, typed); });
}

void add_readings(HeldJob& held, py::handle test, py::handle readings, py::handle errors) {
  const std::string name = name_of(test, "test");
  const auto numbers = taken<std::vector<Measured>>(Names(), readings, "readings");
  const auto how = taken<RepeatedErrors>(Names(), errors, "errors");
  locked(held, [&](Job& job) { job.add_readings(job.model().index_of(name), numbers, how); });
}

void add_revealed(HeldJob& held, py::handle test, py::handle there, py::handle all) {
  const std::string name = name_of(test, "test");
  const std::vector<std::string> symptoms = names_of(there, "there");
  const bool others_absent = truth_of(all, "all");
  locked(held, [&](Job& job) { job.add_revealed(name, symptoms, others_absent); });
}

void decline(HeldJob& held, py::handle test, py::handle reason) {
  const std::string name = name_of(test, "test");
  const std::string why = name_of(reason, "reason");
  locked(held, [&](Job& job) { job.decline(name, why); });
}

void add_repair(HeldJob& held, py::handle repair, py::handle said) {
  const std::string name = name_of(repair, "repair");
  const std::optional<CheckResult> result = result_of(said);
  locked(held, [&](Job& job) { job.add_repair(name, result); });
}

void add_in_place(HeldJob& held, py::handle access, py::handle conditions) {
  const InPlace seen{.access = names_of(access, "access"), .conditions = names_of(conditions, "conditions")};
  locked(held, [&](Job& job) { job.add_in_place(seen); });
}

void hand_over(HeldJob& held, py::handle to) {
  const std::string name = name_of(to, "to");
  locked(held, [&](Job& job) { job.hand_over(name); });
}

void close(HeldJob& held, py::handle end, py::handle confirmed, py::handle note) {
  const FaultModel model = model_now(held);
  const auto how = taken<JobEnd>(Names(), end, "end");
  const auto faults = taken<std::vector<ConfirmedFault>>(Names(model), confirmed, "confirmed");
  const std::string text = name_of(note, "note");
  locked(held, [&](Job& job) { job.close(how, faults, text); });
}

py::object undo(HeldJob& held) {
  const FaultModel model = model_now(held);
  return to_python(Names(model), locked(held, [](Job& job) { return job.undo(); }));
}

py::object entries(HeldJob& held) {
  const auto [model, all] = locked(held, [](const Job& job) { return std::pair(job.model(), job.entries()); });
  return table_of(Names(model), all);
}

py::object findings_before(HeldJob& held, py::handle entry) {
  const std::size_t index = count_of(entry, "entry");
  const auto [model, all] =
      locked(held, [&](const Job& job) { return std::pair(job.model(), job.findings_before(index)); });
  return table_of(Names(model), all);
}

py::object declined(HeldJob& held) {
  const auto [model, tests] = locked(held, [](const Job& job) { return std::pair(job.model(), job.declined()); });
  return variable_name(Names(model), tests);
}

py::object repairs(HeldJob& held) {
  const auto [model, done] = locked(held, [](const Job& job) { return std::pair(job.model(), job.repairs()); });
  return name_at(Names(model), Kind::model_repair, done);
}

py::object handed_over(HeldJob& held) {
  const auto [model, to] = locked(held, [](const Job& job) { return std::pair(job.model(), job.handed_over()); });
  return name_at(Names(model), Kind::hand_over, to);
}

py::str shown_as(HeldJob& held) {
  const std::size_t count = locked(held, [](const Job& job) { return job.entries().size(); });
  return "<Job on " + std::string(py::str(py::repr(py::str(held.job.solver().model().header().name)))) + ", " +
         std::to_string(count) + (count == 1 ? " entry>" : " entries>");
}

void bind_recording(py::class_<HeldJob, Held>& job) {
  job.def("add", &add, py::arg("finding"),
          R"(What was observed of a variable: of a component, that its part was looked at.

A later finding of a variable takes the place of the earlier one. Raises ImpossibleFindings if it cannot be true beside
the others; ArgumentError if it would count evidence twice: a test's outcome beside what it revealed.)")
      .def("add_finding", &add_finding, py::arg("variable"), py::arg("state"),
           "The same: the variable is in this state. Raises UnknownName, too.")
      .def("add_reading", &add_reading, py::arg("test"), py::arg("text"),
           R"("43 psi", "43 psi; 44 psi": what a test measured. Raises as finding_from_readings and add do.)")
      .def("add_readings", &add_readings, py::arg("test"), py::arg("readings"), py::arg("errors") = "as_in_model",
           "The same as Measured records.")
      .def("add_revealed", &add_revealed, py::arg("test"), py::arg("there"), py::arg("all") = true,
           R"(These symptoms are there, as a test showed; in place of an outcome of the test that was entered before.

all: those that the test reveals besides, and that have no finding, are not there.)")
      .def("decline", &decline, py::arg("test"), py::arg("reason"),
           "A test that is not to be proposed again. Raises ArgumentError for a variable that is no test, unless the "
           "options name it to be ranked as one.")
      .def("add_repair", &add_repair, py::arg("repair"), py::arg("said") = py::none(),
           R"(A repair done, and what the check after it said if it was made: "cured" or "still_there".)")
      .def("add_in_place", &add_in_place, py::arg("access") = py::tuple(), py::arg("conditions") = py::tuple(),
           "Access seen to be open, conditions seen to be in place.")
      .def("hand_over", &hand_over, py::arg("to"), "The vehicle went to this hand-over of the model.")
      .def("close", &close, py::arg("end"), py::arg("confirmed") = py::tuple(), py::arg("note") = "",
           R"(Ends the job: "cured", "handed_over", "lived_with" or "given_up". confirmed: ConfirmedFault records.

It is a record, not evidence. Nothing but undo is possible afterwards.)")
      .def(
          "pass_over",
          [](HeldJob& self, py::handle step) {
            const auto passed = taken<JobStep>(Names(model_now(self)), step, "step");
            locked(self, [&](Job& one) { one.pass_over(passed); });
          },
          py::arg("step"),
          R"(From now on this repair or end is not proposed, a test is instead: "test on all the same". An undo ends it.)")
      .def("undo", &undo, "Takes the last entry back and returns it; None if there is none.")
      .def(
          "undo_to",
          [](HeldJob& self, py::handle count) {
            const std::size_t kept = count_of(count, "count");
            locked(self, [&](Job& one) { one.undo_to(kept); });
          },
          py::arg("count"), "Back to the first `count` entries. Raises ArgumentError if there are fewer.");
}

void bind_answers(py::class_<HeldJob, Held>& job) {
  job.def(
         "solver", [](const HeldJob& self) { return self.job.solver(); }, "The solver before any repair.")
      .def("model", &model_now, "The model now, with the repairs done written in.")
      .def(
          "current",
          [](HeldJob& self) {
            return std::make_shared<HeldCase>(locked(self, [](const Job& one) { return one.current(); }));
          },
          "The case after all entries, a copy: changing it leaves the job alone.")
      .def(
          "options", [](HeldJob& self) { return told(self, [](const Job& one) { return one.options(); }); },
          "What holds from the start, as JobOptions.")
      .def(
          "set_options",
          [](HeldJob& self, py::handle options) {
            const JobOptions wanted = options_of(self.job.solver().model(), options);
            locked(self, [&](Job& one) { one.set_options(wanted); });
          },
          py::arg("options"), "From now on. What was charged stays as it was.")
      .def(
          "means_now", [](HeldJob& self) { return told(self, [](const Job& one) { return one.means_now(); }); },
          "The means with what is in place, and at most what is left of budget and deadline for one step.")
      .def(
          "progress", [](HeldJob& self) { return told(self, [](const Job& one) { return one.progress(); }); },
          "What advise has to know of the job beside the case.")
      .def("entries", &entries, "In the order they were made, as records of kind Entry.")
      .def("findings_before", &findings_before, py::arg("entry"),
           "The findings before the entry of this place, as records of kind Finding.")
      .def(
          "replaced_by",
          [](HeldJob& self, py::handle entry) {
            const std::size_t index = count_of(entry, "entry");
            return told(self, [&](const Job& one) { return one.replaced_by(index); });
          },
          py::arg("entry"), "The finding whose place the entry of this place took, or None.")
      .def(
          "ledger", [](HeldJob& self) { return told(self, [](const Job& one) { return one.ledger(); }); },
          "Money and minutes, what is left of budget and deadline, and what is in place: a Ledger.")
      .def("declined", &declined, "Names of the tests that were declined and not done since.")
      .def("repairs", &repairs, "Names of the repairs done, in order.")
      .def(
          "last_check", [](HeldJob& self) { return told(self, [](const Job& one) { return one.last_check(); }); },
          R"(What the check after the last repair said: "cured", "still_there", or None.)")
      .def(
          "cured", [](HeldJob& self) { return locked(self, [](const Job& one) { return one.cured(); }); },
          "P(the complaint is gone | findings) after the last repair, or None.")
      .def("handed_over", &handed_over, "The name of the last hand-over, or None.")
      .def(
          "has_ended", [](HeldJob& self) { return locked(self, [](const Job& one) { return one.has_ended(); }); },
          "True once the end is entered.")
      .def(
          "advice", [](HeldJob& self) { return told(self, [](const Job& one) { return one.advice(); }); },
          R"(What to do next, as data: the proposed step, the alternatives, what to ask, why. Kept until the job changes.

Raises as rank_tests and problem_of do.)")
      .def(
          "report", [](HeldJob& self) { return told(self, [](const Job& one) { return report_of(one); }); },
          "What was found and done, what it cost, what was concluded: a JobReport for the writers of reports.")
      .def("to_json", &written, "The job as JSON text (models/job.schema.json): entries, charges and options.");
}

}  // namespace

void bind_job(py::module_& module) {
  py::class_<HeldJob, Held> job(module, "Job", py::is_final(),
                                R"(One vehicle's way from complaint to end: entries in order and the case after them.

A call that fails leaves the job as it was. The interpreter lock is released while computing; a job
may be used from several threads, which then take turns.)");
  job.def(
         py::init(&made), py::arg("solver"), py::arg("options") = py::none(),
         R"(A job without entries. options: JobOptions, what holds from the start. Raises UnknownName, ArgumentError.)")
      .def_static("from_json", &read_from, py::arg("text"), py::arg("solver"), py::kw_only(),
                  py::arg("other_version") = false,
                  R"(The job of such a text: its answers are those of the job that was written, to the bit.

other_version: another version of the model, or other contents under the same version, will do. Raises ModelError with
the place of each problem.)")
      .def("copy", &copied, "A job with the same entries; changing one leaves the other alone.")
      .def("__copy__", &copied)
      .def(
          "__deepcopy__", [](HeldJob& self, const py::object&) { return copied(self); }, py::arg("memo"))
      .def("__repr__", &shown_as)
      .def("__reduce__", &reduced);
  refuse_hollow_objects(job, "use Job(solver)");
  module.def("_restored_job",
             [](py::handle text, const Solver& solver) { return read_from(text, solver, py::bool_(false)); });
  bind_recording(job);
  bind_answers(job);
}

}  // namespace faultodds::python

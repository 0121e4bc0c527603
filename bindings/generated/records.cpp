// Written by bindings/generate.py from include/faultodds and bindings/generator: not to be changed by hand.
// SPDX-License-Identifier: BSD-3-Clause
// Records, enumerations and options, to Python and from it.
#include "generated/records.hpp"

namespace faultodds::python {

py::object to_python(const Names&, ErrorCode value) {
  switch (value) {
    case ErrorCode::model:
      return py::str("model");
    case ErrorCode::unknown_name:
      return py::str("unknown_name");
    case ErrorCode::argument:
      return py::str("argument");
    case ErrorCode::named_twice:
      return py::str("named_twice");
    case ErrorCode::already_found:
      return py::str("already_found");
    case ErrorCode::index_out_of_range:
      return py::str("index_out_of_range");
    case ErrorCode::wrong_size:
      return py::str("wrong_size");
    case ErrorCode::wrong_number:
      return py::str("wrong_number");
    case ErrorCode::nothing_given:
      return py::str("nothing_given");
    case ErrorCode::not_offered:
      return py::str("not_offered");
    case ErrorCode::one_fault_impossible:
      return py::str("one_fault_impossible");
    case ErrorCode::wrong_reading:
      return py::str("wrong_reading");
    case ErrorCode::contradictory:
      return py::str("contradictory");
    case ErrorCode::counted_twice:
      return py::str("counted_twice");
    case ErrorCode::not_revealed:
      return py::str("not_revealed");
    case ErrorCode::wrong_role:
      return py::str("wrong_role");
    case ErrorCode::job_has_ended:
      return py::str("job_has_ended");
    case ErrorCode::impossible_findings:
      return py::str("impossible_findings");
    case ErrorCode::too_large:
      return py::str("too_large");
    case ErrorCode::stopped:
      return py::str("stopped");
    case ErrorCode::time_limit:
      return py::str("time_limit");
    case ErrorCode::effort_spent:
      return py::str("effort_spent");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, ErrorCode& into) {
  const std::string text = name_of(value, argument);
  if (text == "model") {
    into = ErrorCode::model;
    return;
  }
  if (text == "unknown_name") {
    into = ErrorCode::unknown_name;
    return;
  }
  if (text == "argument") {
    into = ErrorCode::argument;
    return;
  }
  if (text == "named_twice") {
    into = ErrorCode::named_twice;
    return;
  }
  if (text == "already_found") {
    into = ErrorCode::already_found;
    return;
  }
  if (text == "index_out_of_range") {
    into = ErrorCode::index_out_of_range;
    return;
  }
  if (text == "wrong_size") {
    into = ErrorCode::wrong_size;
    return;
  }
  if (text == "wrong_number") {
    into = ErrorCode::wrong_number;
    return;
  }
  if (text == "nothing_given") {
    into = ErrorCode::nothing_given;
    return;
  }
  if (text == "not_offered") {
    into = ErrorCode::not_offered;
    return;
  }
  if (text == "one_fault_impossible") {
    into = ErrorCode::one_fault_impossible;
    return;
  }
  if (text == "wrong_reading") {
    into = ErrorCode::wrong_reading;
    return;
  }
  if (text == "contradictory") {
    into = ErrorCode::contradictory;
    return;
  }
  if (text == "counted_twice") {
    into = ErrorCode::counted_twice;
    return;
  }
  if (text == "not_revealed") {
    into = ErrorCode::not_revealed;
    return;
  }
  if (text == "wrong_role") {
    into = ErrorCode::wrong_role;
    return;
  }
  if (text == "job_has_ended") {
    into = ErrorCode::job_has_ended;
    return;
  }
  if (text == "impossible_findings") {
    into = ErrorCode::impossible_findings;
    return;
  }
  if (text == "too_large") {
    into = ErrorCode::too_large;
    return;
  }
  if (text == "stopped") {
    into = ErrorCode::stopped;
    return;
  }
  if (text == "time_limit") {
    into = ErrorCode::time_limit;
    return;
  }
  if (text == "effort_spent") {
    into = ErrorCode::effort_spent;
    return;
  }
  throw ArgumentError(
      argument, "got \"" + text + '"',
      "give model, unknown_name, argument, named_twice, already_found, index_out_of_range, wrong_size, wrong_number, "
      "nothing_given, not_offered, one_fault_impossible, wrong_reading, contradictory, counted_twice, not_revealed, "
      "wrong_role, job_has_ended, impossible_findings, too_large, stopped, time_limit or effort_spent");
}

py::object to_python(const Names&, Role value) {
  switch (value) {
    case Role::unclassified:
      return py::str("unclassified");
    case Role::context:
      return py::str("context");
    case Role::component:
      return py::str("component");
    case Role::hidden:
      return py::str("hidden");
    case Role::symptom:
      return py::str("symptom");
    case Role::test:
      return py::str("test");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, Role& into) {
  const std::string text = name_of(value, argument);
  if (text == "unclassified") {
    into = Role::unclassified;
    return;
  }
  if (text == "context") {
    into = Role::context;
    return;
  }
  if (text == "component") {
    into = Role::component;
    return;
  }
  if (text == "hidden") {
    into = Role::hidden;
    return;
  }
  if (text == "symptom") {
    into = Role::symptom;
    return;
  }
  if (text == "test") {
    into = Role::test;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"',
                      "give unclassified, context, component, hidden, symptom or test");
}

py::object to_python(const Names&, GainKind value) {
  switch (value) {
    case GainKind::joint:
      return py::str("joint");
    case GainKind::per_component:
      return py::str("per_component");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, GainKind& into) {
  const std::string text = name_of(value, argument);
  if (text == "joint") {
    into = GainKind::joint;
    return;
  }
  if (text == "per_component") {
    into = GainKind::per_component;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give joint or per_component");
}

py::object to_python(const Names&, RankBy value) {
  switch (value) {
    case RankBy::gain_per_cost:
      return py::str("gain_per_cost");
    case RankBy::gain:
      return py::str("gain");
    case RankBy::cost:
      return py::str("cost");
    case RankBy::gain_per_minute:
      return py::str("gain_per_minute");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, RankBy& into) {
  const std::string text = name_of(value, argument);
  if (text == "gain_per_cost") {
    into = RankBy::gain_per_cost;
    return;
  }
  if (text == "gain") {
    into = RankBy::gain;
    return;
  }
  if (text == "cost") {
    into = RankBy::cost;
    return;
  }
  if (text == "gain_per_minute") {
    into = RankBy::gain_per_minute;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give gain_per_cost, gain, cost or gain_per_minute");
}

py::object to_python(const Names&, FaultAssumption value) {
  switch (value) {
    case FaultAssumption::one_fault:
      return py::str("one_fault");
    case FaultAssumption::several_faults:
      return py::str("several_faults");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, FaultAssumption& into) {
  const std::string text = name_of(value, argument);
  if (text == "one_fault") {
    into = FaultAssumption::one_fault;
    return;
  }
  if (text == "several_faults") {
    into = FaultAssumption::several_faults;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give one_fault or several_faults");
}

py::object to_python(const Names&, StepKind value) {
  switch (value) {
    case StepKind::test:
      return py::str("test");
    case StepKind::repair:
      return py::str("repair");
    case StepKind::hand_over:
      return py::str("hand_over");
    case StepKind::live_with:
      return py::str("live_with");
    case StepKind::done:
      return py::str("done");
    case StepKind::ask_again:
      return py::str("ask_again");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, StepKind& into) {
  const std::string text = name_of(value, argument);
  if (text == "test") {
    into = StepKind::test;
    return;
  }
  if (text == "repair") {
    into = StepKind::repair;
    return;
  }
  if (text == "hand_over") {
    into = StepKind::hand_over;
    return;
  }
  if (text == "live_with") {
    into = StepKind::live_with;
    return;
  }
  if (text == "done") {
    into = StepKind::done;
    return;
  }
  if (text == "ask_again") {
    into = StepKind::ask_again;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give test, repair, hand_over, live_with, done or ask_again");
}

py::object to_python(const Names&, BatchEnd value) {
  switch (value) {
    case BatchEnd::no_test_left:
      return py::str("no_test_left");
    case BatchEnd::not_worth_it:
      return py::str("not_worth_it");
    case BatchEnd::max_tests:
      return py::str("max_tests");
    case BatchEnd::max_outcomes:
      return py::str("max_outcomes");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, BatchEnd& into) {
  const std::string text = name_of(value, argument);
  if (text == "no_test_left") {
    into = BatchEnd::no_test_left;
    return;
  }
  if (text == "not_worth_it") {
    into = BatchEnd::not_worth_it;
    return;
  }
  if (text == "max_tests") {
    into = BatchEnd::max_tests;
    return;
  }
  if (text == "max_outcomes") {
    into = BatchEnd::max_outcomes;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give no_test_left, not_worth_it, max_tests or max_outcomes");
}

py::object to_python(const Names&, RepeatedErrors value) {
  switch (value) {
    case RepeatedErrors::as_in_model:
      return py::str("as_in_model");
    case RepeatedErrors::independent:
      return py::str("independent");
    case RepeatedErrors::same_instrument:
      return py::str("same_instrument");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, RepeatedErrors& into) {
  const std::string text = name_of(value, argument);
  if (text == "as_in_model") {
    into = RepeatedErrors::as_in_model;
    return;
  }
  if (text == "independent") {
    into = RepeatedErrors::independent;
    return;
  }
  if (text == "same_instrument") {
    into = RepeatedErrors::same_instrument;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give as_in_model, independent or same_instrument");
}

py::object to_python(const Names&, NoStepReason value) {
  switch (value) {
    case NoStepReason::job_is_over:
      return py::str("job_is_over");
    case NoStepReason::no_fault_in_question:
      return py::str("no_fault_in_question");
    case NoStepReason::nothing_tells:
      return py::str("nothing_tells");
    case NoStepReason::no_repair:
      return py::str("no_repair");
    case NoStepReason::beyond_means:
      return py::str("beyond_means");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, NoStepReason& into) {
  const std::string text = name_of(value, argument);
  if (text == "job_is_over") {
    into = NoStepReason::job_is_over;
    return;
  }
  if (text == "no_fault_in_question") {
    into = NoStepReason::no_fault_in_question;
    return;
  }
  if (text == "nothing_tells") {
    into = NoStepReason::nothing_tells;
    return;
  }
  if (text == "no_repair") {
    into = NoStepReason::no_repair;
    return;
  }
  if (text == "beyond_means") {
    into = NoStepReason::beyond_means;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"',
                      "give job_is_over, no_fault_in_question, nothing_tells, no_repair or beyond_means");
}

py::object to_python(const Names&, CheckResult value) {
  switch (value) {
    case CheckResult::cured:
      return py::str("cured");
    case CheckResult::still_there:
      return py::str("still_there");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, CheckResult& into) {
  const std::string text = name_of(value, argument);
  if (text == "cured") {
    into = CheckResult::cured;
    return;
  }
  if (text == "still_there") {
    into = CheckResult::still_there;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give cured or still_there");
}

py::object to_python(const Names&, JobEnd value) {
  switch (value) {
    case JobEnd::cured:
      return py::str("cured");
    case JobEnd::handed_over:
      return py::str("handed_over");
    case JobEnd::lived_with:
      return py::str("lived_with");
    case JobEnd::given_up:
      return py::str("given_up");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, JobEnd& into) {
  const std::string text = name_of(value, argument);
  if (text == "cured") {
    into = JobEnd::cured;
    return;
  }
  if (text == "handed_over") {
    into = JobEnd::handed_over;
    return;
  }
  if (text == "lived_with") {
    into = JobEnd::lived_with;
    return;
  }
  if (text == "given_up") {
    into = JobEnd::given_up;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give cured, handed_over, lived_with or given_up");
}

py::object to_python(const Names&, ConfirmedBy value) {
  switch (value) {
    case ConfirmedBy::sight:
      return py::str("sight");
    case ConfirmedBy::test:
      return py::str("test");
    case ConfirmedBy::repair:
      return py::str("repair");
    case ConfirmedBy::specialist:
      return py::str("specialist");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, ConfirmedBy& into) {
  const std::string text = name_of(value, argument);
  if (text == "sight") {
    into = ConfirmedBy::sight;
    return;
  }
  if (text == "test") {
    into = ConfirmedBy::test;
    return;
  }
  if (text == "repair") {
    into = ConfirmedBy::repair;
    return;
  }
  if (text == "specialist") {
    into = ConfirmedBy::specialist;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give sight, test, repair or specialist");
}

py::object to_python(const Names&, ReportStepKind value) {
  switch (value) {
    case ReportStepKind::test:
      return py::str("test");
    case ReportStepKind::repair:
      return py::str("repair");
    case ReportStepKind::hand_over:
      return py::str("hand_over");
    case ReportStepKind::other:
      return py::str("other");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, ReportStepKind& into) {
  const std::string text = name_of(value, argument);
  if (text == "test") {
    into = ReportStepKind::test;
    return;
  }
  if (text == "repair") {
    into = ReportStepKind::repair;
    return;
  }
  if (text == "hand_over") {
    into = ReportStepKind::hand_over;
    return;
  }
  if (text == "other") {
    into = ReportStepKind::other;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give test, repair, hand_over or other");
}

py::object to_python(const Names&, Severity value) {
  switch (value) {
    case Severity::note:
      return py::str("note");
    case Severity::warning:
      return py::str("warning");
  }
  return py::none();
}

void read(const Names&, py::handle value, const char* argument, Severity& into) {
  const std::string text = name_of(value, argument);
  if (text == "note") {
    into = Severity::note;
    return;
  }
  if (text == "warning") {
    into = Severity::warning;
    return;
  }
  throw ArgumentError(argument, "got \"" + text + '"', "give note or warning");
}

py::object to_python(const Names& in, const ContextCost& one) {
  return record_type("ContextCost")(
      py::arg("when") = to_python(in, one.when), py::arg("minutes") = to_python(in, one.minutes),
      py::arg("money") = to_python(in, one.money), py::arg("wait_minutes") = to_python(in, one.wait_minutes));
}

py::object to_python(const Names& in, const Work& one) {
  return record_type("Work")(
      py::arg("minutes") = to_python(in, one.minutes), py::arg("money") = to_python(in, one.money),
      py::arg("access") = to_python(in, one.access), py::arg("tools") = to_python(in, one.tools),
      py::arg("skill") = to_python(in, one.skill), py::arg("cautions") = to_python(in, one.cautions),
      py::arg("source") = to_python(in, one.source), py::arg("wait_minutes") = to_python(in, one.wait_minutes),
      py::arg("conditions") = to_python(in, one.conditions), py::arg("by_context") = to_python(in, one.by_context));
}

py::object to_python(const Names& in, const Access& one) {
  return record_type("Access")(py::arg("name") = to_python(in, one.name),
                               py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
                               py::arg("description") = to_python(in, one.description),
                               py::arg("work") = to_python(in, one.work));
}

py::object to_python(const Names& in, const Condition& one) {
  return record_type("Condition")(
      py::arg("name") = to_python(in, one.name),
      py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
      py::arg("description") = to_python(in, one.description), py::arg("group") = to_python(in, one.group),
      py::arg("at_start") = to_python(in, one.at_start), py::arg("work") = to_python(in, one.work));
}

py::object to_python(const Names& in, const RepairElsewhere& one) {
  return record_type("RepairElsewhere")(py::arg("times_ours") = to_python(in, one.times_ours),
                                        py::arg("other") = to_python(in, one.other));
}

py::object to_python(const Names& in, const HandOver& one) {
  return record_type("HandOver")(
      py::arg("name") = to_python(in, one.name),
      py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
      py::arg("description") = to_python(in, one.description), py::arg("money") = to_python(in, one.money),
      py::arg("wait_minutes") = to_python(in, one.wait_minutes), py::arg("tells") = to_python(in, one.tells),
      py::arg("source") = to_python(in, one.source), py::arg("repair") = to_python(in, one.repair));
}

py::object to_python(const Names& in, const RepairCheck& one) {
  return record_type("RepairCheck")(
      py::arg("label") = to_python(in, one.label), py::arg("procedure") = to_python(in, one.procedure),
      py::arg("work") = to_python(in, one.work), py::arg("false_cured") = to_python(in, one.false_cured),
      py::arg("false_still_there") = to_python(in, one.false_still_there),
      py::arg("source") = to_python(in, one.source));
}

py::object to_python(const Names& in, const Comeback& one) {
  return record_type("Comeback")(py::arg("money") = to_python(in, one.money),
                                 py::arg("minutes") = to_python(in, one.minutes),
                                 py::arg("source") = to_python(in, one.source));
}

py::object to_python(const Names& in, const LiveWith& one) {
  return record_type("LiveWith")(py::arg("money") = to_python(in, one.money),
                                 py::arg("source") = to_python(in, one.source));
}

py::object to_python(const Names& in, const State& one) {
  return record_type("State")(py::arg("name") = to_python(in, one.name),
                              py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label));
}

py::object to_python(const Names& in, const Band& one) {
  return record_type("Band")(py::arg("outcome") = state_name(in, in.variable(), one.outcome),
                             py::arg("from_") = to_python(in, one.from), py::arg("below") = to_python(in, one.below));
}

py::object to_python(const Names& in, const GaugeError& one) {
  return record_type("GaugeError")(py::arg("fixed") = to_python(in, one.fixed),
                                   py::arg("share") = to_python(in, one.share));
}

py::object to_python(const Names& in, const NormalSpread& one) {
  return record_type("NormalSpread")(py::arg("mean") = to_python(in, one.mean), py::arg("sd") = to_python(in, one.sd));
}

py::object to_python(const Names& in, const LognormalSpread& one) {
  return record_type("LognormalSpread")(py::arg("median") = to_python(in, one.median),
                                        py::arg("log_sd") = to_python(in, one.log_sd));
}

py::object to_python(const Names& in, const UniformSpread& one) {
  return record_type("UniformSpread")(py::arg("from_") = to_python(in, one.from),
                                      py::arg("to") = to_python(in, one.to));
}

py::object to_python(const Names& in, const Spread& one) {
  return record_type("Spread")(py::arg("outcome") = state_name(in, in.variable(), one.outcome),
                               py::arg("shape") = to_python(in, one.shape));
}

py::object to_python(const Names& in, const Reading& one) {
  return record_type("Reading")(
      py::arg("quantity") = to_python(in, one.quantity), py::arg("unit") = to_python(in, one.unit),
      py::arg("bands") = to_python(in, one.bands), py::arg("source") = to_python(in, one.source),
      py::arg("difference") = to_python(in, one.difference), py::arg("gauge_error") = to_python(in, one.gauge_error),
      py::arg("same_instrument") = to_python(in, one.same_instrument),
      py::arg("at_least") = to_python(in, one.at_least), py::arg("at_most") = to_python(in, one.at_most),
      py::arg("spreads") = to_python(in, one.spreads));
}

py::object to_python(const Names&, const Unclassified&) { return record_type("Unclassified")(); }

py::object to_python(const Names& in, const Context& one) {
  return record_type("Context")(py::arg("question") = to_python(in, one.question));
}

py::object to_python(const Names& in, const Component& one) {
  return record_type("Component")(py::arg("system") = to_python(in, one.system),
                                  py::arg("remainder") = to_python(in, one.remainder));
}

py::object to_python(const Names&, const Hidden&) { return record_type("Hidden")(); }

py::object to_python(const Names& in, const Symptom& one) {
  return record_type("Symptom")(
      py::arg("question") = to_python(in, one.question), py::arg("complaint") = to_python(in, one.complaint),
      py::arg("code") = to_python(in, one.code), py::arg("conditions") = to_python(in, one.conditions));
}

py::object to_python(const Names& in, const Test& one) {
  return record_type("Test")(
      py::arg("question") = to_python(in, one.question), py::arg("work") = to_python(in, one.work),
      py::arg("procedure") = to_python(in, one.procedure), py::arg("reading") = to_python(in, one.reading),
      py::arg("reveals") = variable_name(in, one.reveals), py::arg("only_when") = to_python(in, one.only_when),
      py::arg("not_when") = to_python(in, one.not_when));
}

py::object to_python(const Names& in, const Variable& one) {
  return record_type("Variable")(
      py::arg("name") = to_python(in, one.name),
      py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
      py::arg("description") = to_python(in, one.description), py::arg("what") = to_python(in, one.what),
      py::arg("states") = to_python(in, one.states), py::arg("parents") = to_python(in, parents_of(in)),
      py::arg("source") = to_python(in, one.source), py::arg("properties") = to_python(in, one.properties));
}

py::object to_python(const Names& in, const Term& one) {
  return record_type("Term")(py::arg("name") = to_python(in, one.name),
                             py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
                             py::arg("description") = to_python(in, one.description));
}

py::object to_python(const Names& in, const Easing& one) {
  return record_type("Easing")(py::arg("from_") = state_name(in, in.variable(), one.from),
                               py::arg("to") = state_name(in, in.variable(), one.to),
                               py::arg("probability") = to_python(in, one.probability));
}

py::object to_python(const Names& in, const Repair& one) {
  return record_type("Repair")(
      py::arg("name") = to_python(in.about(one.component), one.name),
      py::arg("label") = to_python(in.about(one.component), one.label.empty() ? one.name : one.label),
      py::arg("procedure") = to_python(in.about(one.component), one.procedure),
      py::arg("component") = variable_name(in, one.component),
      py::arg("mends") = state_name(in, one.component, one.mends),
      py::arg("success") = to_python(in.about(one.component), one.success),
      py::arg("work") = to_python(in.about(one.component), one.work),
      py::arg("source") = to_python(in.about(one.component), one.source),
      py::arg("partial") = to_python(in.about(one.component), one.partial),
      py::arg("verification") = to_python(in.about(one.component), one.verification));
}

py::object to_python(const Names& in, const Header& one) {
  return record_type("Header")(
      py::arg("name") = to_python(in, one.name), py::arg("title") = to_python(in, one.title),
      py::arg("version") = to_python(in, one.version), py::arg("description") = to_python(in, one.description),
      py::arg("authors") = to_python(in, one.authors), py::arg("invented") = to_python(in, one.invented),
      py::arg("safety") = to_python(in, one.safety), py::arg("currency") = to_python(in, one.currency),
      py::arg("labour_rate") = to_python(in, one.labour_rate), py::arg("source") = to_python(in, one.source));
}

py::object to_python(const Names& in, const ScaledRow& one) {
  return record_type("ScaledRow")(py::arg("variable") = to_python(in, one.variable),
                                  py::arg("row") = to_python(in, one.row), py::arg("sum") = to_python(in, one.sum));
}

py::object to_python(const Names& in, const CountedTwice& one) {
  return record_type("CountedTwice")(py::arg("test") = variable_name(in, one.test),
                                     py::arg("symptom") = variable_name(in, one.symptom));
}

py::object to_python(const Names& in, const Progress& one) {
  return record_type("Progress")(
      py::arg("of") = to_python(in, one.of), py::arg("done") = to_python(in, one.done),
      py::arg("total") = to_python(in, one.total == 0 ? std::nullopt : std::optional(one.total)),
      py::arg("lower_bound") = to_python(in, nothing_for_nan(one.lower_bound)),
      py::arg("upper_bound") = to_python(in, nothing_for_nan(one.upper_bound)));
}

py::object to_python(const Names& in, const CostEstimate& one) {
  return record_type("CostEstimate")(
      py::arg("cliques") = to_python(in, one.cliques), py::arg("width") = to_python(in, one.width),
      py::arg("largest_clique") = to_python(in, one.largest_clique), py::arg("entries") = to_python(in, one.entries),
      py::arg("bytes") = to_python(in, one.bytes), py::arg("operations") = to_python(in, one.operations));
}

py::object to_python(const Names& in, const SolverOptions& one) {
  return record_type("SolverOptions")(
      py::arg("memory_limit_bytes") = to_python(in, one.memory_limit_bytes),
      py::arg("order_tries") = to_python(in, one.order_tries), py::arg("order_seed") = to_python(in, one.order_seed),
      py::arg("order_steps_per_entry") = to_python(in, one.order_steps_per_entry),
      py::arg("whole_tree_entries") = to_python(in, one.whole_tree_entries),
      py::arg("cached_trees_bytes") = to_python(in, one.cached_trees_bytes),
      py::arg("two_layer_multiplications") = to_python(in, one.two_layer_multiplications),
      py::arg("max_conditioned_cases") = to_python(in, one.max_conditioned_cases));
}

py::object to_python(const Names& in, const Claim& one) {
  return record_type("Claim")(py::arg("variable") = variable_name(in, one.variable),
                              py::arg("states") = state_name(in, one.variable, one.states));
}

py::object to_python(const Names& in, const FindingWeight& one) {
  return record_type("FindingWeight")(py::arg("variable") = variable_name(in, one.variable),
                                      py::arg("label") = variable_label(in, one.variable),
                                      py::arg("alone_bits") = to_python(in, one.alone_bits),
                                      py::arg("left_out_bits") = to_python(in, one.left_out_bits),
                                      py::arg("in_order_bits") = to_python(in, one.in_order_bits),
                                      py::arg("probability_alone") = to_python(in, one.probability_alone),
                                      py::arg("probability_left_out") = to_python(in, one.probability_left_out),
                                      py::arg("probability_after") = to_python(in, one.probability_after));
}

py::object to_python(const Names& in, const Evidence& one, const py::object& text) {
  return record_type("Evidence")(py::arg("variable") = variable_name(in, one.claim.variable),
                                 py::arg("states") = state_name(in, one.claim.variable, one.claim.states),
                                 py::arg("prior") = to_python(in, one.prior),
                                 py::arg("posterior") = to_python(in, one.posterior),
                                 py::arg("total_bits") = to_python(in, one.total_bits),
                                 py::arg("findings") = table_of(in, one.findings), py::arg("text") = text);
}

py::object to_python(const Names& in, const RareCause& one) {
  return record_type("RareCause")(py::arg("fault") = to_python(in, Fault{one.component, one.state}),
                                  py::arg("bits") = to_python(in, one.bits));
}

py::object to_python(const Names& in, const Conflict& one, const py::object& findings, const py::object& text) {
  return record_type("Conflict")(py::arg("bits") = to_python(in, one.bits), py::arg("findings") = findings,
                                 py::arg("rare_cause") = to_python(in, one.rare_cause), py::arg("text") = text);
}

py::object to_python(const Names& in, const InPlace& one) {
  return record_type("InPlace")(py::arg("access") = to_python(in, one.access),
                                py::arg("conditions") = to_python(in, one.conditions));
}

void read(const Names& in, py::handle record, const char* argument, InPlace& into) {
  require_kind(record, "InPlace", argument);
  read(in, record.attr("access"), "access", into.access);
  read(in, record.attr("conditions"), "conditions", into.conditions);
}

py::object to_python(const Names& in, const Means& one) {
  return record_type("Means")(
      py::arg("tools") = to_python(in, one.tools), py::arg("skill") = to_python(in, one.skill),
      py::arg("open_access") = to_python(in, one.open_access),
      py::arg("closed_access") = to_python(in, one.closed_access),
      py::arg("conditions") = to_python(in, one.conditions), py::arg("stated_after") = to_python(in, one.stated_after),
      py::arg("max_cost") = to_python(in, one.max_cost), py::arg("max_minutes") = to_python(in, one.max_minutes),
      py::arg("labour_rate") = to_python(in, one.labour_rate));
}

void read(const Names& in, py::handle record, const char* argument, Means& into) {
  require_kind(record, "Means", argument);
  read(in, record.attr("tools"), "tools", into.tools);
  read(in, record.attr("skill"), "skill", into.skill);
  read(in, record.attr("open_access"), "open_access", into.open_access);
  read(in, record.attr("closed_access"), "closed_access", into.closed_access);
  read(in, record.attr("conditions"), "conditions", into.conditions);
  read(in, record.attr("stated_after"), "stated_after", into.stated_after);
  read(in, record.attr("max_cost"), "max_cost", into.max_cost);
  read(in, record.attr("max_minutes"), "max_minutes", into.max_minutes);
  read(in, record.attr("labour_rate"), "labour_rate", into.labour_rate);
}

py::object to_python(const Names& in, const FaultProbability& one) {
  return record_type("FaultProbability")(py::arg("component") = variable_name(in, one.component),
                                         py::arg("label") = variable_label(in, one.component),
                                         py::arg("state") = state_name(in, one.component, one.state),
                                         py::arg("state_label") = state_label(in, one.component, one.state),
                                         py::arg("probability") = to_python(in, one.probability));
}

void read(const Names& in, py::handle record, const char* argument, FaultProbability& into) {
  require_kind(record, "FaultProbability", argument);
  read_variable(in, record.attr("component"), "component", into.component);
  read_state(in, into.component, record.attr("state"), "state", into.state);
  read(in, record.attr("probability"), "probability", into.probability);
}

py::object to_python(const Names& in, const OutcomeForecast& one) {
  return record_type("OutcomeForecast")(py::arg("state") = state_name(in, in.variable(), one.state),
                                        py::arg("label") = state_label(in, in.variable(), one.state),
                                        py::arg("probability") = to_python(in, one.probability),
                                        py::arg("leading") = table_of(in, one.leading, "LeadingFaults"));
}

py::object to_python(const Names& in, const TestForecast& one) {
  return record_type("TestForecast")(
      py::arg("test") = variable_name(in, one.test), py::arg("label") = variable_label(in, one.test),
      py::arg("gain_bits") = to_python(in.about(one.test), one.gain_bits),
      py::arg("minutes") = to_python(in.about(one.test), one.minutes),
      py::arg("money") = to_python(in.about(one.test), one.money),
      py::arg("cost") = to_python(in.about(one.test), one.cost),
      py::arg("gain_per_cost") = to_python(in.about(one.test), one.gain_per_cost),
      py::arg("opens") = to_python(in.about(one.test), one.opens),
      py::arg("outcomes") = table_of(in.about(one.test), one.outcomes),
      py::arg("wait_minutes") = to_python(in.about(one.test), one.wait_minutes),
      py::arg("brings") = to_python(in.about(one.test), one.brings),
      py::arg("procedure") = to_python(in, procedure_of(in, one.test)),
      py::arg("cautions") = to_python(in, cautions_of(in, one.test, one.opens, one.brings)));
}

py::object to_python(const Names& in, const LeftOut& one) {
  return record_type("LeftOut")(py::arg("test") = variable_name(in, one.test),
                                py::arg("label") = variable_label(in, one.test),
                                py::arg("reason") = to_python(in, one.reason),
                                py::arg("gain_bits") = to_python(in, nothing_for_nan(one.gain_bits)));
}

py::object to_python(const Names& in, const Ranking& one) {
  return record_type("Ranking")(
      py::arg("gain") = to_python(in, one.gain), py::arg("targets") = variable_name(in, one.targets),
      py::arg("entropy_bits") = to_python(in, one.entropy_bits),
      py::arg("entropy_is_bound") = to_python(in, one.entropy_is_bound),
      py::arg("leading") = table_of(in, one.leading, "LeadingFaults"), py::arg("tests") = table_of(in, one.tests),
      py::arg("left_out") = table_of(in, one.left_out),
      py::arg("currency") = to_python(in, in.model().header().currency),
      py::arg("safety") = to_python(in, in.model().header().safety));
}

py::object to_python(const Names& in, const OutcomesUnder& one) {
  return record_type("OutcomesUnder")(py::arg("fault") = to_python(in, one.fault),
                                      py::arg("probabilities") = to_python(in, one.probabilities));
}

py::object to_python(const Names& in, const FaultPair& one) {
  return record_type("FaultPair")(py::arg("first") = to_python(in, one.first),
                                  py::arg("second") = to_python(in, one.second),
                                  py::arg("overlap") = to_python(in, one.overlap));
}

py::object to_python(const Names& in, const TestContrast& one) {
  return record_type("TestContrast")(py::arg("test") = variable_name(in, one.test),
                                     py::arg("faults") = table_of(in, one.faults),
                                     py::arg("pairs") = table_of(in, one.pairs));
}

py::object to_python(const Names& in, const Fault& one) {
  return record_type("Fault")(py::arg("component") = variable_name(in, one.component),
                              py::arg("label") = variable_label(in, one.component),
                              py::arg("state") = state_name(in, one.component, one.state),
                              py::arg("state_label") = state_label(in, one.component, one.state));
}

py::object to_python(const Names& in, const Hypothesis& one) {
  return record_type("Hypothesis")(py::arg("faults") = to_python(in, one.faults),
                                   py::arg("probability") = to_python(in, one.probability));
}

py::object to_python(const Names& in, const Hypotheses& one) {
  return record_type("Hypotheses")(
      py::arg("components") = variable_name(in, one.components), py::arg("assumption") = to_python(in, one.assumption),
      py::arg("assumed") = to_python(in, one.assumed), py::arg("list") = table_of(in, one.list),
      py::arg("left_out") = to_python(in, one.left_out));
}

py::object to_python(const Names& in, const EndCosts& one) {
  return record_type("EndCosts")(py::arg("hand_over") = to_python(in, one.hand_over),
                                 py::arg("live_with") = to_python(in, one.live_with),
                                 py::arg("comeback") = to_python(in, one.comeback));
}

void read(const Names& in, py::handle record, const char* argument, EndCosts& into) {
  require_kind(record, "EndCosts", argument);
  read(in, record.attr("hand_over"), "hand_over", into.hand_over);
  read(in, record.attr("live_with"), "live_with", into.live_with);
  read(in, record.attr("comeback"), "comeback", into.comeback);
}

py::object to_python(const Names& in, const SetUp& one) {
  return record_type("SetUp")(py::arg("name") = to_python(in, one.name), py::arg("cost") = to_python(in, one.cost),
                              py::arg("needs") = name_at(in, Kind::set_up, one.needs),
                              py::arg("group") = to_python(in, one.group),
                              py::arg("in_place") = to_python(in, one.in_place));
}

void read(const Names& in, py::handle record, const char* argument, SetUp& into) {
  require_kind(record, "SetUp", argument);
  read(in, record.attr("name"), "name", into.name);
  read(in, record.attr("cost"), "cost", into.cost);
  read_name(in, Kind::set_up, record.attr("needs"), "needs", into.needs);
  read(in, record.attr("group"), "group", into.group);
  read(in, record.attr("in_place"), "in_place", into.in_place);
}

py::object to_python(const Names& in, const TestAction& one) {
  return record_type("TestAction")(py::arg("name") = to_python(in, one.name), py::arg("cost") = to_python(in, one.cost),
                                   py::arg("outcomes") = to_python(in, one.outcomes),
                                   py::arg("table") = to_python(in, outcome_rows(one)),
                                   py::arg("set_ups") = name_at(in, Kind::set_up, one.set_ups));
}

void read(const Names& in, py::handle record, const char* argument, TestAction& into) {
  require_kind(record, "TestAction", argument);
  read(in, record.attr("name"), "name", into.name);
  read(in, record.attr("cost"), "cost", into.cost);
  read_name(in, Kind::set_up, record.attr("set_ups"), "set_ups", into.set_ups);
  read(in, record.attr("outcomes"), "outcomes", into.outcomes);
  read_outcome_rows(record, into);
}

py::object to_python(const Names& in, const Verification& one) {
  return record_type("Verification")(py::arg("cost") = to_python(in, one.cost),
                                     py::arg("false_cured") = to_python(in, one.false_cured),
                                     py::arg("false_still_there") = to_python(in, one.false_still_there));
}

void read(const Names& in, py::handle record, const char* argument, Verification& into) {
  require_kind(record, "Verification", argument);
  read(in, record.attr("cost"), "cost", into.cost);
  read(in, record.attr("false_cured"), "false_cured", into.false_cured);
  read(in, record.attr("false_still_there"), "false_still_there", into.false_still_there);
}

py::object to_python(const Names& in, const RepairAction& one) {
  return record_type("RepairAction")(
      py::arg("name") = to_python(in, one.name), py::arg("cost") = to_python(in, one.cost),
      py::arg("success") = to_python(in, one.success), py::arg("set_ups") = name_at(in, Kind::set_up, one.set_ups),
      py::arg("becomes") = to_python(in, what_becomes(in, one)),
      py::arg("verification") = to_python(in, one.verification));
}

void read(const Names& in, py::handle record, const char* argument, RepairAction& into) {
  require_kind(record, "RepairAction", argument);
  read(in, record.attr("name"), "name", into.name);
  read(in, record.attr("cost"), "cost", into.cost);
  read_name(in, Kind::set_up, record.attr("set_ups"), "set_ups", into.set_ups);
  read(in, record.attr("success"), "success", into.success);
  read_what_becomes(in, record, into);
  read(in, record.attr("verification"), "verification", into.verification);
}

py::object to_python(const Names& in, const TroubleshootingProblem& one) {
  return record_type("TroubleshootingProblem")(
      py::arg("hypotheses") = to_python(in.about(one), one.hypotheses),
      py::arg("weights") = to_python(in.about(one), one.weights),
      py::arg("set_ups") = to_python(in.about(one), one.set_ups),
      py::arg("tests") = to_python(in.about(one), one.tests),
      py::arg("repairs") = to_python(in.about(one), one.repairs), py::arg("ends") = to_python(in.about(one), one.ends),
      py::arg("repair_elsewhere") = to_python(in.about(one), one.repair_elsewhere));
}

void read(const Names& in, py::handle record, const char* argument, TroubleshootingProblem& into) {
  require_kind(record, "TroubleshootingProblem", argument);
  read(in, record.attr("hypotheses"), "hypotheses", into.hypotheses);
  read(in, record.attr("weights"), "weights", into.weights);
  read(in, record.attr("set_ups"), "set_ups", into.set_ups);
  read(in, record.attr("tests"), "tests", into.tests);
  read(in, record.attr("repairs"), "repairs", into.repairs);
  read(in, record.attr("ends"), "ends", into.ends);
  read(in, record.attr("repair_elsewhere"), "repair_elsewhere", into.repair_elsewhere);
}

py::object to_python(const Names& in, const Step& one) {
  return record_type("Step")(py::arg("kind") = to_python(in, one.kind),
                             py::arg("name") = to_python(in, step_name(in.problem(), one)));
}

void read(const Names& in, py::handle record, const char* argument, Step& into) {
  require_kind(record, "Step", argument);
  read(in, record.attr("kind"), "kind", into.kind);
  read_step_index(in, record, into);
}

py::object to_python(const Names& in, const Situation& one) {
  return record_type("Situation")(py::arg("belief") = to_python(in, one.belief),
                                  py::arg("tests_done") = marked_names(in, Kind::test, one.tests_done),
                                  py::arg("repairs_done") = marked_names(in, Kind::repair, one.repairs_done),
                                  py::arg("in_place") = marked_names(in, Kind::set_up, one.in_place));
}

void read(const Names& in, py::handle record, const char* argument, Situation& into) {
  require_kind(record, "Situation", argument);
  read(in, record.attr("belief"), "belief", into.belief);
  read_marks(in, Kind::test, record.attr("tests_done"), "tests_done", into.tests_done);
  read_marks(in, Kind::repair, record.attr("repairs_done"), "repairs_done", into.repairs_done);
  read_marks(in, Kind::set_up, record.attr("in_place"), "in_place", into.in_place);
}

py::object to_python(const Names& in, const StepResult& one, const py::object& outcome) {
  return record_type("StepResult")(py::arg("outcome") = outcome,
                                   py::arg("probability") = to_python(in, one.probability),
                                   py::arg("situation") = to_python(in, one.situation));
}

py::object to_python(const Names& in, const CaseProblem& one, const py::object& texts) {
  return record_type("CaseProblem")(
      py::arg("problem") = to_python(in, one.problem), py::arg("hypotheses") = to_python(in, one.hypotheses),
      py::arg("rest_is_last") = to_python(in, one.rest_is_last),
      py::arg("hand_over") = name_at(in, Kind::hand_over, one.hand_over), py::arg("texts") = texts);
}

py::object to_python(const Names& in, const PolicyBranch& one) {
  return record_type("PolicyBranch")(py::arg("outcome") = to_python(in, in.outcome(one.outcome)),
                                     py::arg("probability") = to_python(in, one.probability),
                                     py::arg("node") = to_python(in, one.node));
}

void read(const Names& in, py::handle record, const char* argument, PolicyBranch& into) {
  require_kind(record, "PolicyBranch", argument);
  read_outcome(in, record, into);
  read(in, record.attr("probability"), "probability", into.probability);
  read(in, record.attr("node"), "node", into.node);
}

py::object to_python(const Names& in, const LeadingHypothesis& one) {
  return record_type("LeadingHypothesis")(py::arg("hypothesis") = name_at(in, Kind::hypothesis, one.hypothesis),
                                          py::arg("probability") = to_python(in, one.probability));
}

void read(const Names& in, py::handle record, const char* argument, LeadingHypothesis& into) {
  require_kind(record, "LeadingHypothesis", argument);
  read_name(in, Kind::hypothesis, record.attr("hypothesis"), "hypothesis", into.hypothesis);
  read(in, record.attr("probability"), "probability", into.probability);
}

py::object to_python(const Names& in, const PolicyNode& one) {
  return record_type("PolicyNode")(
      py::arg("kind") = to_python(in, one.step.kind),
      py::arg("name") = to_python(in, step_name(in.problem(), one.step)),
      py::arg("label") = to_python(in, in.label(one.step)), py::arg("set_ups") = name_at(in, Kind::set_up, one.set_ups),
      py::arg("step_cost") = to_python(in, one.step_cost), py::arg("expected_cost") = to_python(in, one.expected_cost),
      py::arg("lower_bound") = to_python(in, one.lower_bound), py::arg("probability") = to_python(in, one.probability),
      py::arg("branches") = to_python(in, to_python(in.at(one.step), one.branches)),
      py::arg("leading") = to_python(in, one.leading),
      py::arg("probability_cured") = to_python(in, one.probability_cured));
}

void read(const Names& in, py::handle record, const char* argument, PolicyNode& into) {
  require_kind(record, "PolicyNode", argument);
  read(in, record.attr("kind"), "kind", into.step.kind);
  read_step_index(in, record, into.step);
  read_name(in, Kind::set_up, record.attr("set_ups"), "set_ups", into.set_ups);
  read(in, record.attr("step_cost"), "step_cost", into.step_cost);
  read(in, record.attr("expected_cost"), "expected_cost", into.expected_cost);
  read(in, record.attr("lower_bound"), "lower_bound", into.lower_bound);
  read(in, record.attr("probability"), "probability", into.probability);
  read(in.at(into.step), record.attr("branches"), "branches", into.branches);
  read(in, record.attr("leading"), "leading", into.leading);
  read(in, record.attr("probability_cured"), "probability_cured", into.probability_cured);
}

py::object to_python(const Names& in, const PolicyTree& one, const py::object& problem, const py::object& texts) {
  return record_type("PolicyTree")(py::arg("nodes") = table_of(in, one.nodes), py::arg("problem") = problem,
                                   py::arg("texts") = texts);
}

void read(const Names& in, py::handle record, const char* argument, PolicyTree& into) {
  require_kind(record, "PolicyTree", argument);
  read(in, record.attr("nodes"), "nodes", into.nodes);
}

py::object to_python(const Names& in, const OptimalPolicyTree& one, const py::object& policy_tree) {
  return record_type("OptimalPolicyTree")(
      py::arg("policy_tree") = policy_tree, py::arg("lower_bound") = to_python(in, one.lower_bound),
      py::arg("upper_bound") = to_python(in, one.upper_bound), py::arg("optimal") = to_python(in, one.optimal),
      py::arg("steps") = to_python(in, one.steps), py::arg("stopped") = to_python(in, one.stopped));
}

py::object to_python(const Names& in, const PricedStep& one) {
  return record_type("PricedStep")(
      py::arg("kind") = to_python(in, one.step.kind),
      py::arg("name") = to_python(in, step_name(in.problem(), one.step)),
      py::arg("label") = to_python(in, in.label(one.step)), py::arg("step_cost") = to_python(in, one.step_cost),
      py::arg("expected_cost") = to_python(in, one.expected_cost), py::arg("saves") = to_python(in, one.saves),
      py::arg("gain_bits") = to_python(in, one.gain_bits));
}

py::object to_python(const Names& in, const Weighing& one) {
  return record_type("Weighing")(py::arg("steps") = table_of(in, one.steps, "PricedSteps"),
                                 py::arg("proposed") = to_python(in, one.steps.at(one.proposed)));
}

py::object to_python(const Names& in, const RepairOrder& one) {
  return record_type("RepairOrder")(
      py::arg("repairs") = name_at(in, Kind::repair, one.repairs), py::arg("end") = to_python(in, one.end),
      py::arg("probability_left") = to_python(in, one.probability_left),
      py::arg("expected_cost") = to_python(in, one.expected_cost),
      py::arg("lower_bound") = to_python(in, one.lower_bound), py::arg("best") = to_python(in, one.best),
      py::arg("steps") = to_python(in, one.steps), py::arg("stopped") = to_python(in, one.stopped));
}

py::object to_python(const Names& in, const SecondTest& one) {
  return record_type("SecondTest")(
      py::arg("state") = state_name(in, in.variable(), one.state),
      py::arg("state_label") = state_label(in, in.variable(), one.state),
      py::arg("probability") = to_python(in, one.probability), py::arg("test") = variable_name(in, one.test),
      py::arg("label") = variable_label(in, one.test), py::arg("gain_bits") = to_python(in, one.gain_bits),
      py::arg("minutes") = to_python(in, one.minutes), py::arg("cost") = to_python(in, one.cost),
      py::arg("opens") = to_python(in, one.opens), py::arg("wait_minutes") = to_python(in, one.wait_minutes),
      py::arg("brings") = to_python(in, one.brings), py::arg("procedure") = to_python(in, procedure_of(in, one.test)),
      py::arg("cautions") = to_python(in, cautions_of(in, one.test, one.opens, one.brings)));
}

py::object to_python(const Names& in, const TwoTests& one) {
  return record_type("TwoTests")(
      py::arg("first") = variable_name(in, one.first), py::arg("label") = variable_label(in, one.first),
      py::arg("first_gain_bits") = to_python(in.about(one.first), one.first_gain_bits),
      py::arg("gain_bits") = to_python(in.about(one.first), one.gain_bits),
      py::arg("minutes") = to_python(in.about(one.first), one.minutes),
      py::arg("cost") = to_python(in.about(one.first), one.cost),
      py::arg("gain_per_cost") = to_python(in.about(one.first), one.gain_per_cost),
      py::arg("opens") = to_python(in.about(one.first), one.opens),
      py::arg("second") = table_of(in.about(one.first), one.second),
      py::arg("wait_minutes") = to_python(in.about(one.first), one.wait_minutes),
      py::arg("brings") = to_python(in.about(one.first), one.brings),
      py::arg("procedure") = to_python(in, procedure_of(in, one.first)),
      py::arg("cautions") = to_python(in, cautions_of(in, one.first, one.opens, one.brings)));
}

py::object to_python(const Names& in, const LookAhead& one) {
  return record_type("LookAhead")(
      py::arg("gain") = to_python(in, one.gain), py::arg("targets") = variable_name(in, one.targets),
      py::arg("tests") = table_of(in, one.tests), py::arg("currency") = to_python(in, in.model().header().currency),
      py::arg("safety") = to_python(in, in.model().header().safety));
}

py::object to_python(const Names& in, const BatchedTest& one) {
  return record_type("BatchedTest")(
      py::arg("test") = variable_name(in, one.test), py::arg("label") = variable_label(in, one.test),
      py::arg("gain_bits") = to_python(in, one.gain_bits), py::arg("cost") = to_python(in, one.cost),
      py::arg("procedure") = to_python(in, procedure_of(in, one.test)),
      py::arg("cautions") = to_python(in, cautions_of(in, one.test, in.opens(), in.brings())));
}

py::object to_python(const Names& in, const TestBatch& one) {
  return record_type("TestBatch")(
      py::arg("targets") = variable_name(in, one.targets),
      py::arg("chosen") = to_python(in, table_of(in.opening(one.opens, one.brings), one.chosen)),
      py::arg("order") = variable_name(in, one.order), py::arg("gain_bits") = to_python(in, one.gain_bits),
      py::arg("minutes") = to_python(in, one.minutes), py::arg("money") = to_python(in, one.money),
      py::arg("cost") = to_python(in, one.cost), py::arg("wait_minutes") = to_python(in, one.wait_minutes),
      py::arg("gain_per_cost") = to_python(in, one.gain_per_cost), py::arg("opens") = to_python(in, one.opens),
      py::arg("brings") = to_python(in, one.brings), py::arg("end") = to_python(in, one.end),
      py::arg("left_out") = table_of(in, one.left_out),
      py::arg("currency") = to_python(in, in.model().header().currency),
      py::arg("safety") = to_python(in, in.model().header().safety));
}

py::object to_python(const Names& in, const ConditionedPosteriors& one, const py::object& posteriors) {
  return record_type("ConditionedPosteriors")(
      py::arg("on") = variable_name(in, one.on), py::arg("cases") = to_python(in, one.cases),
      py::arg("log_evidence") = to_python(in, one.log_evidence), py::arg("posteriors") = posteriors);
}

py::object to_python(const Names& in, const Measured& one) {
  return record_type("Measured")(py::arg("value") = to_python(in, one.value),
                                 py::arg("unit") = to_python(in, one.unit));
}

void read(const Names& in, py::handle record, const char* argument, Measured& into) {
  require_kind(record, "Measured", argument);
  read(in, record.attr("value"), "value", into.value);
  read(in, record.attr("unit"), "unit", into.unit);
}

py::object to_python(const Names& in, const CombinedReading& one) {
  return record_type("CombinedReading")(py::arg("value") = to_python(in, one.value),
                                        py::arg("error") = to_python(in, one.error));
}

py::object to_python(const Names& in, const Unit& one) {
  return record_type("Unit")(
      py::arg("symbol") = to_python(in, one.symbol), py::arg("quantity") = to_python(in, one.quantity),
      py::arg("numerator") = to_python(in, one.numerator), py::arg("denominator") = to_python(in, one.denominator),
      py::arg("zero") = to_python(in, one.zero));
}

py::object to_python(const Names& in, const Estimate& one) {
  return record_type("Estimate")(py::arg("value") = to_python(in, one.value),
                                 py::arg("standard_error") = to_python(in, one.standard_error));
}

py::object to_python(const Names& in, const AskStep& one) {
  return record_type("AskStep")(py::arg("variables") = variable_name(in, one.variables));
}

void read(const Names& in, py::handle record, const char* argument, AskStep& into) {
  require_kind(record, "AskStep", argument);
  read_variable(in, record.attr("variables"), "variables", into.variables);
}

py::object to_python(const Names& in, const TestStep& one) {
  return record_type("TestStep")(py::arg("test") = variable_name(in, one.test));
}

void read(const Names& in, py::handle record, const char* argument, TestStep& into) {
  require_kind(record, "TestStep", argument);
  read_variable(in, record.attr("test"), "test", into.test);
}

py::object to_python(const Names& in, const RepairStep& one) {
  return record_type("RepairStep")(py::arg("repair") = name_at(in, Kind::model_repair, one.repair));
}

void read(const Names& in, py::handle record, const char* argument, RepairStep& into) {
  require_kind(record, "RepairStep", argument);
  read_name(in, Kind::model_repair, record.attr("repair"), "repair", into.repair);
}

py::object to_python(const Names& in, const HandOverStep& one) {
  return record_type("HandOverStep")(py::arg("hand_over") = name_at(in, Kind::hand_over, one.hand_over));
}

void read(const Names& in, py::handle record, const char* argument, HandOverStep& into) {
  require_kind(record, "HandOverStep", argument);
  if (!record.attr("hand_over").is_none())
    read_name(in, Kind::hand_over, record.attr("hand_over"), "hand_over", into.hand_over.emplace());
}

py::object to_python(const Names&, const LiveWithStep&) { return record_type("LiveWithStep")(); }

void read(const Names&, py::handle record, const char* argument, LiveWithStep&) {
  require_kind(record, "LiveWithStep", argument);
}

py::object to_python(const Names& in, const NoStep& one) {
  return record_type("NoStep")(py::arg("reason") = to_python(in, one.reason),
                               py::arg("fault") = to_python(in, one.fault));
}

py::object to_python(const Names& in, const AdvisedOutcome& one) {
  return record_type("AdvisedOutcome")(py::arg("name") = to_python(in, one.name),
                                       py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
                                       py::arg("probability") = to_python(in, one.probability),
                                       py::arg("leading") = to_python(in, one.leading));
}

py::object to_python(const Names& in, const StepPrice& one) {
  return record_type("StepPrice")(
      py::arg("now") = to_python(in, one.now), py::arg("in_the_end") = to_python(in, one.in_the_end),
      py::arg("saves") = to_python(in, one.saves), py::arg("gain_bits") = to_python(in, one.gain_bits));
}

py::object to_python(const Names& in, const AdvisedStep& one) {
  return record_type("AdvisedStep")(
      py::arg("step") = to_python(in, one.step), py::arg("name") = to_python(in, one.name),
      py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
      py::arg("procedure") = to_python(in, one.procedure), py::arg("description") = to_python(in, one.description),
      py::arg("question") = to_python(in, one.question), py::arg("cautions") = to_python(in, one.cautions),
      py::arg("opens") = to_python(in, one.opens), py::arg("brings") = to_python(in, one.brings),
      py::arg("tools") = to_python(in, one.tools), py::arg("skill") = to_python(in, one.skill),
      py::arg("cost_known") = to_python(in, one.cost_known), py::arg("minutes") = to_python(in, one.minutes),
      py::arg("wait_minutes") = to_python(in, one.wait_minutes), py::arg("money") = to_python(in, one.money),
      py::arg("cost") = to_python(in, one.cost), py::arg("price") = to_python(in, one.price),
      py::arg("gain_bits") = to_python(in, one.gain_bits), py::arg("gain_per_cost") = to_python(in, one.gain_per_cost),
      py::arg("settles") = to_python(in, one.settles), py::arg("outcomes") = table_of(in, one.outcomes),
      py::arg("reveals") = variable_name(in, one.reveals), py::arg("mends") = to_python(in, one.mends),
      py::arg("success") = to_python(in, one.success), py::arg("check") = to_python(in, one.check),
      py::arg("tells") = to_python(in, one.tells), py::arg("charges_repair") = to_python(in, one.charges_repair));
}

py::object to_python(const Names& in, const JobProgress& one) {
  return record_type("JobProgress")(py::arg("declined") = variable_name(in, one.declined),
                                    py::arg("repairs_done") = name_at(in, Kind::model_repair, one.repairs_done),
                                    py::arg("passed_over") = to_python(in, one.passed_over),
                                    py::arg("over") = to_python(in, one.over));
}

void read(const Names& in, py::handle record, const char* argument, JobProgress& into) {
  require_kind(record, "JobProgress", argument);
  read_variable(in, record.attr("declined"), "declined", into.declined);
  read_name(in, Kind::model_repair, record.attr("repairs_done"), "repairs_done", into.repairs_done);
  read(in, record.attr("passed_over"), "passed_over", into.passed_over);
  read(in, record.attr("over"), "over", into.over);
}

py::object to_python(const Names& in, const AdvisedFault& one) {
  return record_type("AdvisedFault")(py::arg("fault") = to_python(in, one.fault),
                                     py::arg("label") = to_python(in, one.label),
                                     py::arg("probability") = to_python(in, one.probability));
}

py::object to_python(const Names& in, const AdvisedQuestion& one) {
  return record_type("AdvisedQuestion")(
      py::arg("variable") = variable_name(in, one.variable), py::arg("name") = to_python(in, one.name),
      py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
      py::arg("question") = to_python(in, one.question), py::arg("gain_bits") = to_python(in, one.gain_bits));
}

py::object to_python(const Names& in, const AdvisedLeftOut& one) {
  return record_type("AdvisedLeftOut")(
      py::arg("test") = variable_name(in, one.test), py::arg("name") = to_python(in, one.name),
      py::arg("label") = to_python(in, one.label.empty() ? one.name : one.label),
      py::arg("reason") = to_python(in, one.reason), py::arg("gain_bits") = to_python(in, one.gain_bits));
}

py::object to_python(const Names& in, const SpecialistBrief& one) {
  return record_type("SpecialistBrief")(py::arg("found") = to_python(in, one.found),
                                        py::arg("left") = to_python(in, one.left),
                                        py::arg("ruled_out") = to_python(in, one.ruled_out));
}

py::object to_python(const Names& in, const Advice& one) {
  return record_type("Advice")(
      py::arg("proposed") = to_python(in, one.proposed), py::arg("alternatives") = table_of(in, one.alternatives),
      py::arg("cheaper") = to_python(in, one.cheaper), py::arg("priced") = to_python(in, one.priced),
      py::arg("led_by_cost") = to_python(in, one.led_by_cost), py::arg("passed_over") = to_python(in, one.passed_over),
      py::arg("likely") = to_python(in, one.likely), py::arg("questions") = table_of(in, one.questions),
      py::arg("leading") = table_of(in, one.leading), py::arg("known") = table_of(in, one.known),
      py::arg("left_out") = table_of(in, one.left_out), py::arg("why") = to_python(in, one.why),
      py::arg("brief") = to_python(in, one.brief), py::arg("ranking") = to_python(in, one.ranking),
      py::arg("currency") = to_python(in, one.currency), py::arg("safety") = to_python(in, one.safety),
      py::arg("invented") = to_python(in, one.invented));
}

py::object to_python(const Names& in, const Charge& one) {
  return record_type("Charge")(
      py::arg("minutes") = to_python(in, one.minutes), py::arg("wait_minutes") = to_python(in, one.wait_minutes),
      py::arg("money") = to_python(in, one.money), py::arg("labour") = to_python(in, one.labour),
      py::arg("opens") = to_python(in, one.opens), py::arg("brings") = to_python(in, one.brings));
}

py::object to_python(const Names& in, const FindingEntry& one) {
  return record_type("FindingEntry")(py::arg("finding") = to_python(in, one.finding));
}

py::object to_python(const Names& in, const ReadingEntry& one) {
  return record_type("ReadingEntry")(
      py::arg("test") = variable_name(in, one.test), py::arg("readings") = to_python(in, one.readings),
      py::arg("errors") = to_python(in, one.errors), py::arg("text") = to_python(in, one.text),
      py::arg("finding") = to_python(in, one.finding));
}

py::object to_python(const Names& in, const RevealedEntry& one) {
  return record_type("RevealedEntry")(py::arg("test") = variable_name(in, one.test),
                                      py::arg("findings") = to_python(in, one.findings));
}

py::object to_python(const Names& in, const DeclinedEntry& one) {
  return record_type("DeclinedEntry")(py::arg("test") = variable_name(in, one.test),
                                      py::arg("reason") = to_python(in, one.reason));
}

py::object to_python(const Names& in, const CheckMade& one) {
  return record_type("CheckMade")(py::arg("result") = to_python(in, one.result),
                                  py::arg("charge") = to_python(in, one.charge));
}

py::object to_python(const Names& in, const RepairEntry& one) {
  return record_type("RepairEntry")(py::arg("repair") = name_at(in, Kind::model_repair, one.repair),
                                    py::arg("check") = to_python(in, one.check));
}

py::object to_python(const Names& in, const PartEntry& one) {
  return record_type("PartEntry")(py::arg("finding") = to_python(in, one.finding));
}

py::object to_python(const Names& in, const InPlaceEntry& one) {
  return record_type("InPlaceEntry")(py::arg("seen") = to_python(in, one.seen));
}

py::object to_python(const Names& in, const HandOverEntry& one) {
  return record_type("HandOverEntry")(py::arg("hand_over") = name_at(in, Kind::hand_over, one.hand_over));
}

py::object to_python(const Names& in, const ConfirmedFault& one) {
  return record_type("ConfirmedFault")(py::arg("component") = variable_name(in, one.component),
                                       py::arg("state") = state_name(in, one.component, one.state),
                                       py::arg("by") = to_python(in, one.by));
}

void read(const Names& in, py::handle record, const char* argument, ConfirmedFault& into) {
  require_kind(record, "ConfirmedFault", argument);
  read_variable(in, record.attr("component"), "component", into.component);
  read_state(in, into.component, record.attr("state"), "state", into.state);
  read(in, record.attr("by"), "by", into.by);
}

py::object to_python(const Names& in, const EndEntry& one) {
  return record_type("EndEntry")(py::arg("end") = to_python(in, one.end),
                                 py::arg("confirmed") = to_python(in, one.confirmed),
                                 py::arg("note") = to_python(in, one.note));
}

py::object to_python(const Names& in, const Entry& one) {
  return record_type("Entry")(py::arg("kind") = to_python(in, kind_of(one)), py::arg("what") = to_python(in, one.what),
                              py::arg("charge") = to_python(in, one.charge),
                              py::arg("label") = to_python(in, entry_label(in.model(), one)),
                              py::arg("text") = to_python(in, entry_in_words(in.model(), one)));
}

py::object to_python(const Names& in, const LedgerLine& one) {
  return record_type("LedgerLine")(
      py::arg("entry") = to_python(in, one.entry), py::arg("is_check") = to_python(in, one.is_check),
      py::arg("charge") = to_python(in, one.charge), py::arg("money") = to_python(in, one.money),
      py::arg("labour") = to_python(in, one.labour));
}

py::object to_python(const Names& in, const JobLimits& one) {
  return record_type("JobLimits")(py::arg("budget") = to_python(in, one.budget),
                                  py::arg("deadline") = to_python(in, one.deadline));
}

void read(const Names& in, py::handle record, const char* argument, JobLimits& into) {
  require_kind(record, "JobLimits", argument);
  read(in, record.attr("budget"), "budget", into.budget);
  read(in, record.attr("deadline"), "deadline", into.deadline);
}

py::object to_python(const Names& in, const Ledger& one) {
  return record_type("Ledger")(
      py::arg("lines") = table_of(in, one.lines), py::arg("total") = to_python(in, one.total),
      py::arg("money") = to_python(in, one.money), py::arg("labour") = to_python(in, one.labour),
      py::arg("in_place") = to_python(in, one.in_place), py::arg("money_left") = to_python(in, one.money_left),
      py::arg("minutes_left") = to_python(in, one.minutes_left));
}

py::object to_python(const Names& in, const JobFact& one) {
  return record_type("JobFact")(py::arg("label") = to_python(in, one.label),
                                py::arg("value") = to_python(in, one.value));
}

void read(const Names& in, py::handle record, const char* argument, JobFact& into) {
  require_kind(record, "JobFact", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("value"), "value", into.value);
}

py::object to_python(const Names& in, const JobOptions& one) {
  return record_type("JobOptions")(
      py::arg("means") = to_python(in, one.means), py::arg("ends") = to_python(in, one.ends),
      py::arg("limits") = to_python(in, one.limits), py::arg("about") = to_python(in, one.about));
}

void read(const Names& in, py::handle record, const char* argument, JobOptions& into) {
  require_kind(record, "JobOptions", argument);
  read(in, record.attr("means"), "means", into.means);
  read(in, record.attr("ends"), "ends", into.ends);
  read(in, record.attr("limits"), "limits", into.limits);
  read(in, record.attr("about"), "about", into.about);
}

py::object to_python(const Names& in, const ReportCaution& one) {
  return record_type("ReportCaution")(py::arg("label") = to_python(in, one.label),
                                      py::arg("text") = to_python(in, one.text));
}

void read(const Names& in, py::handle record, const char* argument, ReportCaution& into) {
  require_kind(record, "ReportCaution", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("text"), "text", into.text);
}

py::object to_python(const Names& in, const ReportStep& one) {
  return record_type("ReportStep")(
      py::arg("kind") = to_python(in, one.kind), py::arg("label") = to_python(in, one.label),
      py::arg("first") = to_python(in, one.first), py::arg("found") = to_python(in, one.found),
      py::arg("minutes") = to_python(in, one.minutes), py::arg("wait_minutes") = to_python(in, one.wait_minutes),
      py::arg("money") = to_python(in, one.money), py::arg("labour") = to_python(in, one.labour),
      py::arg("change") = to_python(in, one.change), py::arg("note") = to_python(in, one.note));
}

void read(const Names& in, py::handle record, const char* argument, ReportStep& into) {
  require_kind(record, "ReportStep", argument);
  read(in, record.attr("kind"), "kind", into.kind);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("first"), "first", into.first);
  read(in, record.attr("found"), "found", into.found);
  read(in, record.attr("minutes"), "minutes", into.minutes);
  read(in, record.attr("wait_minutes"), "wait_minutes", into.wait_minutes);
  read(in, record.attr("money"), "money", into.money);
  read(in, record.attr("labour"), "labour", into.labour);
  read(in, record.attr("change"), "change", into.change);
  read(in, record.attr("note"), "note", into.note);
}

py::object to_python(const Names& in, const ReportFault& one) {
  return record_type("ReportFault")(py::arg("label") = to_python(in, one.label),
                                    py::arg("probability") = to_python(in, one.probability),
                                    py::arg("at_start") = to_python(in, one.at_start));
}

void read(const Names& in, py::handle record, const char* argument, ReportFault& into) {
  require_kind(record, "ReportFault", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("probability"), "probability", into.probability);
  read(in, record.attr("at_start"), "at_start", into.at_start);
}

py::object to_python(const Names& in, const ReportOpenTest& one) {
  return record_type("ReportOpenTest")(
      py::arg("label") = to_python(in, one.label), py::arg("settles") = to_python(in, one.settles),
      py::arg("minutes") = to_python(in, one.minutes), py::arg("money") = to_python(in, one.money),
      py::arg("labour") = to_python(in, one.labour), py::arg("reason") = to_python(in, one.reason));
}

void read(const Names& in, py::handle record, const char* argument, ReportOpenTest& into) {
  require_kind(record, "ReportOpenTest", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("settles"), "settles", into.settles);
  read(in, record.attr("minutes"), "minutes", into.minutes);
  read(in, record.attr("money"), "money", into.money);
  read(in, record.attr("labour"), "labour", into.labour);
  read(in, record.attr("reason"), "reason", into.reason);
}

py::object to_python(const Names& in, const ReportHandOver& one) {
  return record_type("ReportHandOver")(py::arg("to") = to_python(in, one.to), py::arg("fee") = to_python(in, one.fee),
                                       py::arg("wait_minutes") = to_python(in, one.wait_minutes),
                                       py::arg("what_to_tell") = to_python(in, one.what_to_tell));
}

void read(const Names& in, py::handle record, const char* argument, ReportHandOver& into) {
  require_kind(record, "ReportHandOver", argument);
  read(in, record.attr("to"), "to", into.to);
  read(in, record.attr("fee"), "fee", into.fee);
  read(in, record.attr("wait_minutes"), "wait_minutes", into.wait_minutes);
  read(in, record.attr("what_to_tell"), "what_to_tell", into.what_to_tell);
}

py::object to_python(const Names& in, const JobReport& one) {
  return record_type("JobReport")(
      py::arg("title") = to_python(in, one.title), py::arg("version") = to_python(in, one.version),
      py::arg("invented") = to_python(in, one.invented), py::arg("safety") = to_python(in, one.safety),
      py::arg("currency") = to_python(in, one.currency), py::arg("labour_rate") = to_python(in, one.labour_rate),
      py::arg("about") = to_python(in, one.about), py::arg("vehicle") = to_python(in, one.vehicle),
      py::arg("complaint") = to_python(in, one.complaint), py::arg("steps") = to_python(in, one.steps),
      py::arg("conclusion") = to_python(in, one.conclusion), py::arg("why") = to_python(in, one.why),
      py::arg("faults") = to_python(in, one.faults), py::arg("open_tests") = to_python(in, one.open_tests),
      py::arg("hand_over") = to_python(in, one.hand_over), py::arg("cautions") = to_python(in, one.cautions));
}

void read(const Names& in, py::handle record, const char* argument, JobReport& into) {
  require_kind(record, "JobReport", argument);
  read(in, record.attr("title"), "title", into.title);
  read(in, record.attr("version"), "version", into.version);
  read(in, record.attr("invented"), "invented", into.invented);
  read(in, record.attr("safety"), "safety", into.safety);
  read(in, record.attr("currency"), "currency", into.currency);
  read(in, record.attr("labour_rate"), "labour_rate", into.labour_rate);
  read(in, record.attr("about"), "about", into.about);
  read(in, record.attr("vehicle"), "vehicle", into.vehicle);
  read(in, record.attr("complaint"), "complaint", into.complaint);
  read(in, record.attr("steps"), "steps", into.steps);
  read(in, record.attr("conclusion"), "conclusion", into.conclusion);
  read(in, record.attr("why"), "why", into.why);
  read(in, record.attr("faults"), "faults", into.faults);
  read(in, record.attr("open_tests"), "open_tests", into.open_tests);
  read(in, record.attr("hand_over"), "hand_over", into.hand_over);
  read(in, record.attr("cautions"), "cautions", into.cautions);
}

py::object to_python(const Names& in, const ReportFaults& one) {
  return record_type("ReportFaults")(py::arg("leading") = to_python(in, one.leading),
                                     py::arg("ruled_out") = to_python(in, one.ruled_out),
                                     py::arg("rare") = to_python(in, one.rare));
}

py::object to_python(const Names& in, const Remark& one) {
  return record_type("Remark")(py::arg("severity") = to_python(in, one.severity),
                               py::arg("place") = to_python(in, one.place), py::arg("found") = to_python(in, one.found),
                               py::arg("remedy") = to_python(in, one.remedy));
}

py::object to_python(const Names& in, const FaultState& one) {
  return record_type("FaultState")(py::arg("component") = variable_name(in, one.component),
                                   py::arg("label") = variable_label(in, one.component),
                                   py::arg("state") = state_name(in, one.component, one.state),
                                   py::arg("state_label") = state_label(in, one.component, one.state));
}

py::object to_python(const Names& in, const AmbiguityGroups& one) {
  return record_type("AmbiguityGroups")(py::arg("alike") = to_python(in, one.alike),
                                        py::arg("undetectable") = to_python(in, one.undetectable));
}

py::object to_python(const Names& in, const FlowCaution& one) {
  return record_type("FlowCaution")(py::arg("label") = to_python(in, one.label),
                                    py::arg("text") = to_python(in, one.text));
}

void read(const Names& in, py::handle record, const char* argument, FlowCaution& into) {
  require_kind(record, "FlowCaution", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("text"), "text", into.text);
}

py::object to_python(const Names& in, const FlowStepTexts& one) {
  return record_type("FlowStepTexts")(
      py::arg("label") = to_python(in, one.label), py::arg("cautions") = to_python(in, one.cautions),
      py::arg("procedure") = to_python(in, one.procedure), py::arg("check") = to_python(in, one.check),
      py::arg("outcomes") = to_python(in, one.outcomes));
}

void read(const Names& in, py::handle record, const char* argument, FlowStepTexts& into) {
  require_kind(record, "FlowStepTexts", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("cautions"), "cautions", into.cautions);
  read(in, record.attr("procedure"), "procedure", into.procedure);
  read(in, record.attr("check"), "check", into.check);
  read(in, record.attr("outcomes"), "outcomes", into.outcomes);
}

py::object to_python(const Names& in, const FlowChartTexts& one) {
  return record_type("FlowChartTexts")(
      py::arg("title") = to_python(in, one.title), py::arg("safety") = to_python(in, one.safety),
      py::arg("currency") = to_python(in, one.currency), py::arg("invented") = to_python(in, one.invented),
      py::arg("cautions") = to_python(in, one.cautions), py::arg("tests") = to_python(in, one.tests),
      py::arg("repairs") = to_python(in, one.repairs), py::arg("set_ups") = to_python(in, one.set_ups),
      py::arg("hypotheses") = to_python(in, one.hypotheses), py::arg("hand_over") = to_python(in, one.hand_over),
      py::arg("live_with") = to_python(in, one.live_with), py::arg("notes") = to_python(in, one.notes));
}

void read(const Names& in, py::handle record, const char* argument, FlowChartTexts& into) {
  require_kind(record, "FlowChartTexts", argument);
  read(in, record.attr("title"), "title", into.title);
  read(in, record.attr("safety"), "safety", into.safety);
  read(in, record.attr("currency"), "currency", into.currency);
  read(in, record.attr("invented"), "invented", into.invented);
  read(in, record.attr("cautions"), "cautions", into.cautions);
  read(in, record.attr("tests"), "tests", into.tests);
  read(in, record.attr("repairs"), "repairs", into.repairs);
  read(in, record.attr("set_ups"), "set_ups", into.set_ups);
  read(in, record.attr("hypotheses"), "hypotheses", into.hypotheses);
  read(in, record.attr("hand_over"), "hand_over", into.hand_over);
  read(in, record.attr("live_with"), "live_with", into.live_with);
  read(in, record.attr("notes"), "notes", into.notes);
}

py::object to_python(const Names& in, const ReportSums& one) {
  return record_type("ReportSums")(
      py::arg("step_costs") = to_python(in, one.step_costs), py::arg("money") = to_python(in, one.money),
      py::arg("labour") = to_python(in, one.labour), py::arg("cost") = to_python(in, one.cost),
      py::arg("minutes") = to_python(in, one.minutes), py::arg("wait_minutes") = to_python(in, one.wait_minutes));
}

void read_options(const Names& in, const py::dict& given, RowScaling& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "normalise")) {
    read(in, value, "normalise", into.normalise);
  }
}

void read_options(const Names& in, const py::dict& given, SolverOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "memory_limit_bytes")) {
    read(in, value, "memory_limit_bytes", into.memory_limit_bytes);
  }
  if (const py::object value = option(given, "order_tries")) {
    read(in, value, "order_tries", into.order_tries);
  }
  if (const py::object value = option(given, "order_seed")) {
    read(in, value, "order_seed", into.order_seed);
  }
  if (const py::object value = option(given, "order_steps_per_entry")) {
    read(in, value, "order_steps_per_entry", into.order_steps_per_entry);
  }
  if (const py::object value = option(given, "whole_tree_entries")) {
    read(in, value, "whole_tree_entries", into.whole_tree_entries);
  }
  if (const py::object value = option(given, "cached_trees_bytes")) {
    read(in, value, "cached_trees_bytes", into.cached_trees_bytes);
  }
  if (const py::object value = option(given, "two_layer_multiplications")) {
    read(in, value, "two_layer_multiplications", into.two_layer_multiplications);
  }
  if (const py::object value = option(given, "max_conditioned_cases")) {
    read(in, value, "max_conditioned_cases", into.max_conditioned_cases);
  }
}

void read_options(const Names& in, const py::dict& given, RankOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "targets")) {
    read_variable(in, value, "targets", into.targets);
  }
  if (const py::object value = option(given, "tests")) {
    read_variable(in, value, "tests", into.tests);
  }
  if (const py::object value = option(given, "gain")) {
    read(in, value, "gain", into.gain);
  }
  if (const py::object value = option(given, "joint_only")) {
    read(in, value, "joint_only", into.joint_only);
  }
  if (const py::object value = option(given, "by")) {
    read(in, value, "by", into.by);
  }
  if (const py::object value = option(given, "effects")) {
    read(in, value, "effects", into.effects);
  }
  if (const py::object value = option(given, "leading")) {
    read(in, value, "leading", into.leading);
  }
  if (const py::object value = option(given, "joint_entries")) {
    read(in, value, "joint_entries", into.joint_entries);
  }
}

void read_options(const Names& in, const py::dict& given, LookAheadOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "targets")) {
    read_variable(in, value, "targets", into.ranking.targets);
  }
  if (const py::object value = option(given, "tests")) {
    read_variable(in, value, "tests", into.ranking.tests);
  }
  if (const py::object value = option(given, "gain")) {
    read(in, value, "gain", into.ranking.gain);
  }
  if (const py::object value = option(given, "joint_only")) {
    read(in, value, "joint_only", into.ranking.joint_only);
  }
  if (const py::object value = option(given, "by")) {
    read(in, value, "by", into.ranking.by);
  }
  if (const py::object value = option(given, "joint_entries")) {
    read(in, value, "joint_entries", into.ranking.joint_entries);
  }
  if (const py::object value = option(given, "means")) {
    read(in, value, "means", into.means);
  }
  if (const py::object value = option(given, "candidates")) {
    read(in, value, "candidates", into.candidates);
  }
}

void read_options(const Names& in, const py::dict& given, TestBatchOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "targets")) {
    read_variable(in, value, "targets", into.ranking.targets);
  }
  if (const py::object value = option(given, "tests")) {
    read_variable(in, value, "tests", into.ranking.tests);
  }
  if (const py::object value = option(given, "by")) {
    read(in, value, "by", into.ranking.by);
  }
  if (const py::object value = option(given, "joint_entries")) {
    read(in, value, "joint_entries", into.ranking.joint_entries);
  }
  if (const py::object value = option(given, "means")) {
    read(in, value, "means", into.means);
  }
  if (const py::object value = option(given, "access")) {
    read(in, value, "access", into.access);
  }
  if (const py::object value = option(given, "condition")) {
    read(in, value, "condition", into.condition);
  }
  if (const py::object value = option(given, "max_tests")) {
    read(in, value, "max_tests", into.max_tests);
  }
  if (const py::object value = option(given, "max_outcomes")) {
    read(in, value, "max_outcomes", into.max_outcomes);
  }
}

void read_options(const Names& in, const py::dict& given, ExplainOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "max_propagations")) {
    read(in, value, "max_propagations", into.max_propagations);
  }
}

void read_options(const Names& in, const py::dict& given, ConditioningOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "on")) {
    read_variable(in, value, "on", into.on);
  }
  if (const py::object value = option(given, "max_cases")) {
    read(in, value, "max_cases", into.max_cases);
  }
}

void read_options(const Names& in, const py::dict& given, SamplingOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "samples")) {
    read(in, value, "samples", into.samples);
  }
  if (const py::object value = option(given, "seed")) {
    read(in, value, "seed", into.seed);
  }
}

void read_options(const Names& in, const py::dict& given, BatchOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "threads")) {
    read(in, value, "threads", into.threads);
  }
}

void read_options(const Names& in, const py::dict& given, HypothesesOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "components")) {
    read_variable(in, value, "components", into.components);
  }
  if (const py::object value = option(given, "assumption")) {
    read(in, value, "assumption", into.assumption);
  }
  if (const py::object value = option(given, "most")) {
    read(in, value, "most", into.most);
  }
}

void read_options(const Names& in, const py::dict& given, CaseProblemOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "components")) {
    read_variable(in, value, "components", into.hypotheses.components);
  }
  if (const py::object value = option(given, "assumption")) {
    read(in, value, "assumption", into.hypotheses.assumption);
  }
  if (const py::object value = option(given, "max_hypotheses")) {
    read(in, value, "max_hypotheses", into.hypotheses.most);
  }
  if (const py::object value = option(given, "tests")) {
    read_variable(in, value, "tests", into.tests);
  }
  if (const py::object value = option(given, "means")) {
    read(in, value, "means", into.means);
  }
  if (const py::object value = option(given, "max_tests")) {
    read(in, value, "max_tests", into.max_tests);
  }
  if (const py::object value = option(given, "repairs_done")) {
    read_name(in, Kind::model_repair, value, "repairs_done", into.repairs_done);
  }
  if (const py::object value = option(given, "ends")) {
    read(in, value, "ends", into.ends);
  }
}

void read_options(const Names& in, const py::dict& given, AdviceRules& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "targets")) {
    read_variable(in, value, "targets", into.ranking.targets);
  }
  if (const py::object value = option(given, "tests")) {
    read_variable(in, value, "tests", into.ranking.tests);
  }
  if (const py::object value = option(given, "gain")) {
    read(in, value, "gain", into.ranking.gain);
  }
  if (const py::object value = option(given, "joint_only")) {
    read(in, value, "joint_only", into.ranking.joint_only);
  }
  if (const py::object value = option(given, "by")) {
    read(in, value, "by", into.ranking.by);
  }
  if (const py::object value = option(given, "effects")) {
    read(in, value, "effects", into.ranking.effects);
  }
  if (const py::object value = option(given, "leading")) {
    read(in, value, "leading", into.ranking.leading);
  }
  if (const py::object value = option(given, "joint_entries")) {
    read(in, value, "joint_entries", into.ranking.joint_entries);
  }
  if (const py::object value = option(given, "by_expected_cost")) {
    read(in, value, "by_expected_cost", into.by_expected_cost);
  }
  if (const py::object value = option(given, "min_fault_probability")) {
    read(in, value, "min_fault_probability", into.min_fault_probability);
  }
  if (const py::object value = option(given, "min_gain_bits")) {
    read(in, value, "min_gain_bits", into.min_gain_bits);
  }
  if (const py::object value = option(given, "max_questions")) {
    read(in, value, "max_questions", into.max_questions);
  }
  if (const py::object value = option(given, "explain")) {
    read(in, value, "explain", into.explain);
  }
}

void read_options(const Names& in, const py::dict& given, AdviceOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "targets")) {
    read_variable(in, value, "targets", into.rules.ranking.targets);
  }
  if (const py::object value = option(given, "tests")) {
    read_variable(in, value, "tests", into.rules.ranking.tests);
  }
  if (const py::object value = option(given, "gain")) {
    read(in, value, "gain", into.rules.ranking.gain);
  }
  if (const py::object value = option(given, "joint_only")) {
    read(in, value, "joint_only", into.rules.ranking.joint_only);
  }
  if (const py::object value = option(given, "by")) {
    read(in, value, "by", into.rules.ranking.by);
  }
  if (const py::object value = option(given, "effects")) {
    read(in, value, "effects", into.rules.ranking.effects);
  }
  if (const py::object value = option(given, "leading")) {
    read(in, value, "leading", into.rules.ranking.leading);
  }
  if (const py::object value = option(given, "joint_entries")) {
    read(in, value, "joint_entries", into.rules.ranking.joint_entries);
  }
  if (const py::object value = option(given, "by_expected_cost")) {
    read(in, value, "by_expected_cost", into.rules.by_expected_cost);
  }
  if (const py::object value = option(given, "min_fault_probability")) {
    read(in, value, "min_fault_probability", into.rules.min_fault_probability);
  }
  if (const py::object value = option(given, "min_gain_bits")) {
    read(in, value, "min_gain_bits", into.rules.min_gain_bits);
  }
  if (const py::object value = option(given, "max_questions")) {
    read(in, value, "max_questions", into.rules.max_questions);
  }
  if (const py::object value = option(given, "explain")) {
    read(in, value, "explain", into.rules.explain);
  }
  if (const py::object value = option(given, "means")) {
    read(in, value, "means", into.means);
  }
  if (const py::object value = option(given, "ends")) {
    read(in, value, "ends", into.ends);
  }
}

void read_options(const Names& in, const py::dict& given, PolicyTreeOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "min_probability")) {
    read(in, value, "min_probability", into.min_probability);
  }
  if (const py::object value = option(given, "max_nodes")) {
    read(in, value, "max_nodes", into.max_nodes);
  }
  if (const py::object value = option(given, "leading")) {
    read(in, value, "leading", into.leading);
  }
}

void read_options(const Names& in, const py::dict& given, FixedOrder& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "tests")) {
    read_name(in, Kind::test, value, "tests", into.tests);
  }
  if (const py::object value = option(given, "repair_at")) {
    read(in, value, "repair_at", into.repair_at);
  }
}

void read_options(const Names& in, const py::dict& given, SearchOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "max_steps")) {
    read(in, value, "max_steps", into.max_steps);
  }
  if (const py::object value = option(given, "max_situations")) {
    read(in, value, "max_situations", into.max_situations);
  }
  if (const py::object value = option(given, "tolerance")) {
    read(in, value, "tolerance", into.tolerance);
  }
  if (const py::object value = option(given, "max_nodes")) {
    read(in, value, "max_nodes", into.tree.max_nodes);
  }
  if (const py::object value = option(given, "leading")) {
    read(in, value, "leading", into.tree.leading);
  }
}

void read_options(const Names& in, const py::dict& given, RepairOrderOptions& into) {
  static_cast<void>(in);
  if (const py::object value = option(given, "max_in_sets")) {
    read(in, value, "max_in_sets", into.max_in_sets);
  }
  if (const py::object value = option(given, "max_steps")) {
    read(in, value, "max_steps", into.max_steps);
  }
}

py::dict option_defaults() {
  py::dict defaults;
  const Names in;
  {
    const RowScaling made;
    py::dict values;
    values["normalise"] = to_python(in, made.normalise);
    defaults["RowScaling"] = values;
  }
  {
    const SolverOptions made;
    py::dict values;
    values["memory_limit_bytes"] = to_python(in, made.memory_limit_bytes);
    values["order_tries"] = to_python(in, made.order_tries);
    values["order_seed"] = to_python(in, made.order_seed);
    values["order_steps_per_entry"] = to_python(in, made.order_steps_per_entry);
    values["whole_tree_entries"] = to_python(in, made.whole_tree_entries);
    values["cached_trees_bytes"] = to_python(in, made.cached_trees_bytes);
    values["two_layer_multiplications"] = to_python(in, made.two_layer_multiplications);
    values["max_conditioned_cases"] = to_python(in, made.max_conditioned_cases);
    defaults["SolverOptions"] = values;
  }
  {
    const RankOptions made;
    py::dict values;
    values["targets"] = to_python(in, made.targets);
    values["tests"] = to_python(in, made.tests);
    values["gain"] = to_python(in, made.gain);
    values["joint_only"] = to_python(in, made.joint_only);
    values["by"] = to_python(in, made.by);
    values["effects"] = to_python(in, made.effects);
    values["leading"] = to_python(in, made.leading);
    values["joint_entries"] = to_python(in, made.joint_entries);
    defaults["RankOptions"] = values;
  }
  {
    const LookAheadOptions made;
    py::dict values;
    values["targets"] = to_python(in, made.ranking.targets);
    values["tests"] = to_python(in, made.ranking.tests);
    values["gain"] = to_python(in, made.ranking.gain);
    values["joint_only"] = to_python(in, made.ranking.joint_only);
    values["by"] = to_python(in, made.ranking.by);
    values["joint_entries"] = to_python(in, made.ranking.joint_entries);
    values["means"] = to_python(in, made.means);
    values["candidates"] = to_python(in, made.candidates);
    defaults["LookAheadOptions"] = values;
  }
  {
    const TestBatchOptions made;
    py::dict values;
    values["targets"] = to_python(in, made.ranking.targets);
    values["tests"] = to_python(in, made.ranking.tests);
    values["by"] = to_python(in, made.ranking.by);
    values["joint_entries"] = to_python(in, made.ranking.joint_entries);
    values["means"] = to_python(in, made.means);
    values["access"] = to_python(in, made.access);
    values["condition"] = to_python(in, made.condition);
    values["max_tests"] = to_python(in, made.max_tests);
    values["max_outcomes"] = to_python(in, made.max_outcomes);
    defaults["TestBatchOptions"] = values;
  }
  {
    const ExplainOptions made;
    py::dict values;
    values["max_propagations"] = to_python(in, made.max_propagations);
    defaults["ExplainOptions"] = values;
  }
  {
    const ConditioningOptions made;
    py::dict values;
    values["on"] = to_python(in, made.on);
    values["max_cases"] = to_python(in, made.max_cases);
    defaults["ConditioningOptions"] = values;
  }
  {
    const SamplingOptions made;
    py::dict values;
    values["samples"] = to_python(in, made.samples);
    values["seed"] = to_python(in, made.seed);
    defaults["SamplingOptions"] = values;
  }
  {
    const BatchOptions made;
    py::dict values;
    values["threads"] = to_python(in, made.threads);
    defaults["BatchOptions"] = values;
  }
  {
    const HypothesesOptions made;
    py::dict values;
    values["components"] = to_python(in, made.components);
    values["assumption"] = to_python(in, made.assumption);
    values["most"] = to_python(in, made.most);
    defaults["HypothesesOptions"] = values;
  }
  {
    const CaseProblemOptions made;
    py::dict values;
    values["components"] = to_python(in, made.hypotheses.components);
    values["assumption"] = to_python(in, made.hypotheses.assumption);
    values["max_hypotheses"] = to_python(in, made.hypotheses.most);
    values["tests"] = to_python(in, made.tests);
    values["means"] = to_python(in, made.means);
    values["max_tests"] = to_python(in, made.max_tests);
    values["repairs_done"] = to_python(in, made.repairs_done);
    values["ends"] = to_python(in, made.ends);
    defaults["CaseProblemOptions"] = values;
  }
  {
    const AdviceRules made;
    py::dict values;
    values["targets"] = to_python(in, made.ranking.targets);
    values["tests"] = to_python(in, made.ranking.tests);
    values["gain"] = to_python(in, made.ranking.gain);
    values["joint_only"] = to_python(in, made.ranking.joint_only);
    values["by"] = to_python(in, made.ranking.by);
    values["effects"] = to_python(in, made.ranking.effects);
    values["leading"] = to_python(in, made.ranking.leading);
    values["joint_entries"] = to_python(in, made.ranking.joint_entries);
    values["by_expected_cost"] = to_python(in, made.by_expected_cost);
    values["min_fault_probability"] = to_python(in, made.min_fault_probability);
    values["min_gain_bits"] = to_python(in, made.min_gain_bits);
    values["max_questions"] = to_python(in, made.max_questions);
    values["explain"] = to_python(in, made.explain);
    defaults["AdviceRules"] = values;
  }
  {
    const AdviceOptions made;
    py::dict values;
    values["targets"] = to_python(in, made.rules.ranking.targets);
    values["tests"] = to_python(in, made.rules.ranking.tests);
    values["gain"] = to_python(in, made.rules.ranking.gain);
    values["joint_only"] = to_python(in, made.rules.ranking.joint_only);
    values["by"] = to_python(in, made.rules.ranking.by);
    values["effects"] = to_python(in, made.rules.ranking.effects);
    values["leading"] = to_python(in, made.rules.ranking.leading);
    values["joint_entries"] = to_python(in, made.rules.ranking.joint_entries);
    values["by_expected_cost"] = to_python(in, made.rules.by_expected_cost);
    values["min_fault_probability"] = to_python(in, made.rules.min_fault_probability);
    values["min_gain_bits"] = to_python(in, made.rules.min_gain_bits);
    values["max_questions"] = to_python(in, made.rules.max_questions);
    values["explain"] = to_python(in, made.rules.explain);
    values["means"] = to_python(in, made.means);
    values["ends"] = to_python(in, made.ends);
    defaults["AdviceOptions"] = values;
  }
  {
    const PolicyTreeOptions made;
    py::dict values;
    values["min_probability"] = to_python(in, made.min_probability);
    values["max_nodes"] = to_python(in, made.max_nodes);
    values["leading"] = to_python(in, made.leading);
    defaults["PolicyTreeOptions"] = values;
  }
  {
    const FixedOrder made;
    py::dict values;
    values["tests"] = to_python(in, made.tests);
    values["repair_at"] = to_python(in, made.repair_at);
    defaults["FixedOrder"] = values;
  }
  {
    const SearchOptions made;
    py::dict values;
    values["max_steps"] = to_python(in, made.max_steps);
    values["max_situations"] = to_python(in, made.max_situations);
    values["tolerance"] = to_python(in, made.tolerance);
    values["max_nodes"] = to_python(in, made.tree.max_nodes);
    values["leading"] = to_python(in, made.tree.leading);
    defaults["SearchOptions"] = values;
  }
  {
    const RepairOrderOptions made;
    py::dict values;
    values["max_in_sets"] = to_python(in, made.max_in_sets);
    values["max_steps"] = to_python(in, made.max_steps);
    defaults["RepairOrderOptions"] = values;
  }
  return defaults;
}

}  // namespace faultodds::python

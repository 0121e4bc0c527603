// Written by bindings/generate.py from include/faultodds and bindings/generator: not to be changed by hand.
// SPDX-License-Identifier: BSD-3-Clause
// Records, enumerations and options, to Python and from it.
#include "generated/records.hpp"

#include "record_kind.hpp"

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
  static RecordKind kind("ContextCost");
  return kind({{"when", to_python(in, one.when)},
               {"minutes", to_python(in, one.minutes)},
               {"money", to_python(in, one.money)},
               {"wait_minutes", to_python(in, one.wait_minutes)}});
}

py::object to_python(const Names& in, const Work& one) {
  static RecordKind kind("Work");
  return kind({{"minutes", to_python(in, one.minutes)},
               {"money", to_python(in, one.money)},
               {"access", to_python(in, one.access)},
               {"tools", to_python(in, one.tools)},
               {"skill", to_python(in, one.skill)},
               {"cautions", to_python(in, one.cautions)},
               {"source", to_python(in, one.source)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"conditions", to_python(in, one.conditions)},
               {"by_context", to_python(in, one.by_context)}});
}

py::object to_python(const Names& in, const Access& one) {
  static RecordKind kind("Access");
  return kind({{"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"description", to_python(in, one.description)},
               {"work", to_python(in, one.work)}});
}

py::object to_python(const Names& in, const Condition& one) {
  static RecordKind kind("Condition");
  return kind({{"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"description", to_python(in, one.description)},
               {"group", to_python(in, one.group)},
               {"at_start", to_python(in, one.at_start)},
               {"work", to_python(in, one.work)}});
}

py::object to_python(const Names& in, const RepairElsewhere& one) {
  static RecordKind kind("RepairElsewhere");
  return kind({{"times_ours", to_python(in, one.times_ours)}, {"other", to_python(in, one.other)}});
}

py::object to_python(const Names& in, const HandOver& one) {
  static RecordKind kind("HandOver");
  return kind({{"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"description", to_python(in, one.description)},
               {"money", to_python(in, one.money)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"tells", to_python(in, one.tells)},
               {"source", to_python(in, one.source)},
               {"repair", to_python(in, one.repair)}});
}

py::object to_python(const Names& in, const RepairCheck& one) {
  static RecordKind kind("RepairCheck");
  return kind({{"label", to_python(in, one.label)},
               {"procedure", to_python(in, one.procedure)},
               {"work", to_python(in, one.work)},
               {"false_cured", to_python(in, one.false_cured)},
               {"false_still_there", to_python(in, one.false_still_there)},
               {"source", to_python(in, one.source)}});
}

py::object to_python(const Names& in, const Comeback& one) {
  static RecordKind kind("Comeback");
  return kind({{"money", to_python(in, one.money)},
               {"minutes", to_python(in, one.minutes)},
               {"source", to_python(in, one.source)}});
}

py::object to_python(const Names& in, const LiveWith& one) {
  static RecordKind kind("LiveWith");
  return kind({{"money", to_python(in, one.money)}, {"source", to_python(in, one.source)}});
}

py::object to_python(const Names& in, const State& one) {
  static RecordKind kind("State");
  return kind({{"name", to_python(in, one.name)}, {"label", to_python(in, one.label.empty() ? one.name : one.label)}});
}

py::object to_python(const Names& in, const Band& one) {
  static RecordKind kind("Band");
  return kind({{"outcome", state_name(in, in.variable(), one.outcome)},
               {"from_", to_python(in, one.from)},
               {"below", to_python(in, one.below)}});
}

py::object to_python(const Names& in, const GaugeError& one) {
  static RecordKind kind("GaugeError");
  return kind({{"fixed", to_python(in, one.fixed)}, {"share", to_python(in, one.share)}});
}

py::object to_python(const Names& in, const NormalSpread& one) {
  static RecordKind kind("NormalSpread");
  return kind({{"mean", to_python(in, one.mean)}, {"sd", to_python(in, one.sd)}});
}

py::object to_python(const Names& in, const LognormalSpread& one) {
  static RecordKind kind("LognormalSpread");
  return kind({{"median", to_python(in, one.median)}, {"log_sd", to_python(in, one.log_sd)}});
}

py::object to_python(const Names& in, const UniformSpread& one) {
  static RecordKind kind("UniformSpread");
  return kind({{"from_", to_python(in, one.from)}, {"to", to_python(in, one.to)}});
}

py::object to_python(const Names& in, const Spread& one) {
  static RecordKind kind("Spread");
  return kind({{"outcome", state_name(in, in.variable(), one.outcome)}, {"shape", to_python(in, one.shape)}});
}

py::object to_python(const Names& in, const Reading& one) {
  static RecordKind kind("Reading");
  return kind({{"quantity", to_python(in, one.quantity)},
               {"unit", to_python(in, one.unit)},
               {"bands", to_python(in, one.bands)},
               {"source", to_python(in, one.source)},
               {"difference", to_python(in, one.difference)},
               {"gauge_error", to_python(in, one.gauge_error)},
               {"same_instrument", to_python(in, one.same_instrument)},
               {"at_least", to_python(in, one.at_least)},
               {"at_most", to_python(in, one.at_most)},
               {"spreads", to_python(in, one.spreads)}});
}

py::object to_python(const Names&, const Unclassified&) {
  static RecordKind kind("Unclassified");
  return kind({});
}

py::object to_python(const Names& in, const Context& one) {
  static RecordKind kind("Context");
  return kind({{"question", to_python(in, one.question)}});
}

py::object to_python(const Names& in, const Component& one) {
  static RecordKind kind("Component");
  return kind({{"system", to_python(in, one.system)}, {"remainder", to_python(in, one.remainder)}});
}

py::object to_python(const Names&, const Hidden&) {
  static RecordKind kind("Hidden");
  return kind({});
}

py::object to_python(const Names& in, const Symptom& one) {
  static RecordKind kind("Symptom");
  return kind({{"question", to_python(in, one.question)},
               {"complaint", to_python(in, one.complaint)},
               {"code", to_python(in, one.code)},
               {"conditions", to_python(in, one.conditions)}});
}

py::object to_python(const Names& in, const Test& one) {
  static RecordKind kind("Test");
  return kind({{"question", to_python(in, one.question)},
               {"work", to_python(in, one.work)},
               {"procedure", to_python(in, one.procedure)},
               {"reading", to_python(in, one.reading)},
               {"reveals", variable_name(in, one.reveals)},
               {"only_when", to_python(in, one.only_when)},
               {"not_when", to_python(in, one.not_when)}});
}

py::object to_python(const Names& in, const Variable& one) {
  static RecordKind kind("Variable");
  return kind({{"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"description", to_python(in, one.description)},
               {"what", to_python(in, one.what)},
               {"states", to_python(in, one.states)},
               {"parents", to_python(in, parents_of(in))},
               {"source", to_python(in, one.source)},
               {"properties", to_python(in, one.properties)}});
}

py::object to_python(const Names& in, const Term& one) {
  static RecordKind kind("Term");
  return kind({{"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"description", to_python(in, one.description)}});
}

py::object to_python(const Names& in, const Easing& one) {
  static RecordKind kind("Easing");
  return kind({{"from_", state_name(in, in.variable(), one.from)},
               {"to", state_name(in, in.variable(), one.to)},
               {"probability", to_python(in, one.probability)}});
}

py::object to_python(const Names& in, const Repair& one) {
  static RecordKind kind("Repair");
  return kind({{"name", to_python(in.about(one.component), one.name)},
               {"label", to_python(in.about(one.component), one.label.empty() ? one.name : one.label)},
               {"procedure", to_python(in.about(one.component), one.procedure)},
               {"component", variable_name(in, one.component)},
               {"mends", state_name(in, one.component, one.mends)},
               {"success", to_python(in.about(one.component), one.success)},
               {"work", to_python(in.about(one.component), one.work)},
               {"source", to_python(in.about(one.component), one.source)},
               {"partial", to_python(in.about(one.component), one.partial)},
               {"verification", to_python(in.about(one.component), one.verification)}});
}

py::object to_python(const Names& in, const Header& one) {
  static RecordKind kind("Header");
  return kind({{"name", to_python(in, one.name)},
               {"title", to_python(in, one.title)},
               {"version", to_python(in, one.version)},
               {"description", to_python(in, one.description)},
               {"authors", to_python(in, one.authors)},
               {"invented", to_python(in, one.invented)},
               {"safety", to_python(in, one.safety)},
               {"currency", to_python(in, one.currency)},
               {"labour_rate", to_python(in, one.labour_rate)},
               {"source", to_python(in, one.source)}});
}

py::object to_python(const Names& in, const ScaledRow& one) {
  static RecordKind kind("ScaledRow");
  return kind(
      {{"variable", to_python(in, one.variable)}, {"row", to_python(in, one.row)}, {"sum", to_python(in, one.sum)}});
}

py::object to_python(const Names& in, const CountedTwice& one) {
  static RecordKind kind("CountedTwice");
  return kind({{"test", variable_name(in, one.test)}, {"symptom", variable_name(in, one.symptom)}});
}

py::object to_python(const Names& in, const Progress& one) {
  static RecordKind kind("Progress");
  return kind({{"of", to_python(in, one.of)},
               {"done", to_python(in, one.done)},
               {"total", to_python(in, one.total == 0 ? std::nullopt : std::optional(one.total))},
               {"lower_bound", to_python(in, nothing_for_nan(one.lower_bound))},
               {"upper_bound", to_python(in, nothing_for_nan(one.upper_bound))}});
}

py::object to_python(const Names& in, const CostEstimate& one) {
  static RecordKind kind("CostEstimate");
  return kind({{"cliques", to_python(in, one.cliques)},
               {"width", to_python(in, one.width)},
               {"largest_clique", to_python(in, one.largest_clique)},
               {"entries", to_python(in, one.entries)},
               {"bytes", to_python(in, one.bytes)},
               {"operations", to_python(in, one.operations)}});
}

py::object to_python(const Names& in, const SolverOptions& one) {
  static RecordKind kind("SolverOptions");
  return kind({{"memory_limit_bytes", to_python(in, one.memory_limit_bytes)},
               {"order_tries", to_python(in, one.order_tries)},
               {"order_seed", to_python(in, one.order_seed)},
               {"order_steps_per_entry", to_python(in, one.order_steps_per_entry)},
               {"whole_tree_entries", to_python(in, one.whole_tree_entries)},
               {"cached_trees_bytes", to_python(in, one.cached_trees_bytes)},
               {"two_layer_multiplications", to_python(in, one.two_layer_multiplications)},
               {"max_conditioned_cases", to_python(in, one.max_conditioned_cases)}});
}

py::object to_python(const Names& in, const Claim& one) {
  static RecordKind kind("Claim");
  return kind({{"variable", variable_name(in, one.variable)}, {"states", state_name(in, one.variable, one.states)}});
}

py::object to_python(const Names& in, const FindingWeight& one) {
  static RecordKind kind("FindingWeight");
  return kind({{"variable", variable_name(in, one.variable)},
               {"label", variable_label(in, one.variable)},
               {"alone_bits", to_python(in, one.alone_bits)},
               {"left_out_bits", to_python(in, one.left_out_bits)},
               {"in_order_bits", to_python(in, one.in_order_bits)},
               {"probability_alone", to_python(in, one.probability_alone)},
               {"probability_left_out", to_python(in, one.probability_left_out)},
               {"probability_after", to_python(in, one.probability_after)}});
}

py::object to_python(const Names& in, const Evidence& one, const py::object& text) {
  static RecordKind kind("Evidence");
  return kind({{"variable", variable_name(in, one.claim.variable)},
               {"states", state_name(in, one.claim.variable, one.claim.states)},
               {"prior", to_python(in, one.prior)},
               {"posterior", to_python(in, one.posterior)},
               {"total_bits", to_python(in, one.total_bits)},
               {"findings", table_of(in, one.findings)},
               {"text", text}});
}

py::object to_python(const Names& in, const RareCause& one) {
  static RecordKind kind("RareCause");
  return kind({{"fault", to_python(in, Fault{one.component, one.state})}, {"bits", to_python(in, one.bits)}});
}

py::object to_python(const Names& in, const Conflict& one, const py::object& findings, const py::object& text) {
  static RecordKind kind("Conflict");
  return kind({{"bits", to_python(in, one.bits)},
               {"findings", findings},
               {"rare_cause", to_python(in, one.rare_cause)},
               {"text", text}});
}

py::object to_python(const Names& in, const InPlace& one) {
  static RecordKind kind("InPlace");
  return kind({{"access", to_python(in, one.access)}, {"conditions", to_python(in, one.conditions)}});
}

void read(const Names& in, py::handle record, const char* argument, InPlace& into) {
  require_kind(record, "InPlace", argument);
  read(in, record.attr("access"), "access", into.access);
  read(in, record.attr("conditions"), "conditions", into.conditions);
}

py::object to_python(const Names& in, const Means& one) {
  static RecordKind kind("Means");
  return kind({{"tools", to_python(in, one.tools)},
               {"skill", to_python(in, one.skill)},
               {"open_access", to_python(in, one.open_access)},
               {"closed_access", to_python(in, one.closed_access)},
               {"conditions", to_python(in, one.conditions)},
               {"stated_after", to_python(in, one.stated_after)},
               {"max_cost", to_python(in, one.max_cost)},
               {"max_minutes", to_python(in, one.max_minutes)},
               {"labour_rate", to_python(in, one.labour_rate)}});
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
  static RecordKind kind("FaultProbability");
  return kind({{"component", variable_name(in, one.component)},
               {"label", variable_label(in, one.component)},
               {"state", state_name(in, one.component, one.state)},
               {"state_label", state_label(in, one.component, one.state)},
               {"probability", to_python(in, one.probability)}});
}

void read(const Names& in, py::handle record, const char* argument, FaultProbability& into) {
  require_kind(record, "FaultProbability", argument);
  read_variable(in, record.attr("component"), "component", into.component);
  read_state(in, into.component, record.attr("state"), "state", into.state);
  read(in, record.attr("probability"), "probability", into.probability);
}

py::object to_python(const Names& in, const OutcomeForecast& one) {
  static RecordKind kind("OutcomeForecast");
  return kind({{"state", state_name(in, in.variable(), one.state)},
               {"label", state_label(in, in.variable(), one.state)},
               {"probability", to_python(in, one.probability)},
               {"leading", table_of(in, one.leading, "LeadingFaults")}});
}

py::object to_python(const Names& in, const TestForecast& one) {
  static RecordKind kind("TestForecast");
  return kind({{"test", variable_name(in, one.test)},
               {"label", variable_label(in, one.test)},
               {"gain_bits", to_python(in.about(one.test), one.gain_bits)},
               {"minutes", to_python(in.about(one.test), one.minutes)},
               {"money", to_python(in.about(one.test), one.money)},
               {"cost", to_python(in.about(one.test), one.cost)},
               {"gain_per_cost", to_python(in.about(one.test), one.gain_per_cost)},
               {"opens", to_python(in.about(one.test), one.opens)},
               {"outcomes", table_of(in.about(one.test), one.outcomes)},
               {"wait_minutes", to_python(in.about(one.test), one.wait_minutes)},
               {"brings", to_python(in.about(one.test), one.brings)},
               {"procedure", to_python(in, procedure_of(in, one.test))},
               {"cautions", to_python(in, cautions_of(in, one.test, one.opens, one.brings))}});
}

py::object to_python(const Names& in, const LeftOut& one) {
  static RecordKind kind("LeftOut");
  return kind({{"test", variable_name(in, one.test)},
               {"label", variable_label(in, one.test)},
               {"reason", to_python(in, one.reason)},
               {"gain_bits", to_python(in, nothing_for_nan(one.gain_bits))}});
}

py::object to_python(const Names& in, const Ranking& one) {
  static RecordKind kind("Ranking");
  return kind({{"gain", to_python(in, one.gain)},
               {"targets", variable_name(in, one.targets)},
               {"entropy_bits", to_python(in, one.entropy_bits)},
               {"entropy_is_bound", to_python(in, one.entropy_is_bound)},
               {"leading", table_of(in, one.leading, "LeadingFaults")},
               {"tests", table_of(in, one.tests)},
               {"left_out", table_of(in, one.left_out)},
               {"currency", to_python(in, in.model().header().currency)},
               {"safety", to_python(in, in.model().header().safety)}});
}

py::object to_python(const Names& in, const OutcomesUnder& one) {
  static RecordKind kind("OutcomesUnder");
  return kind({{"fault", to_python(in, one.fault)}, {"probabilities", to_python(in, one.probabilities)}});
}

py::object to_python(const Names& in, const FaultPair& one) {
  static RecordKind kind("FaultPair");
  return kind({{"first", to_python(in, one.first)},
               {"second", to_python(in, one.second)},
               {"overlap", to_python(in, one.overlap)}});
}

py::object to_python(const Names& in, const TestContrast& one) {
  static RecordKind kind("TestContrast");
  return kind({{"test", variable_name(in, one.test)},
               {"faults", table_of(in, one.faults)},
               {"pairs", table_of(in, one.pairs)}});
}

py::object to_python(const Names& in, const Fault& one) {
  static RecordKind kind("Fault");
  return kind({{"component", variable_name(in, one.component)},
               {"label", variable_label(in, one.component)},
               {"state", state_name(in, one.component, one.state)},
               {"state_label", state_label(in, one.component, one.state)}});
}

py::object to_python(const Names& in, const Hypothesis& one) {
  static RecordKind kind("Hypothesis");
  return kind({{"faults", to_python(in, one.faults)}, {"probability", to_python(in, one.probability)}});
}

py::object to_python(const Names& in, const Hypotheses& one) {
  static RecordKind kind("Hypotheses");
  return kind({{"components", variable_name(in, one.components)},
               {"assumption", to_python(in, one.assumption)},
               {"assumed", to_python(in, one.assumed)},
               {"list", table_of(in, one.list)},
               {"left_out", to_python(in, one.left_out)}});
}

py::object to_python(const Names& in, const EndCosts& one) {
  static RecordKind kind("EndCosts");
  return kind({{"hand_over", to_python(in, one.hand_over)},
               {"live_with", to_python(in, one.live_with)},
               {"comeback", to_python(in, one.comeback)}});
}

void read(const Names& in, py::handle record, const char* argument, EndCosts& into) {
  require_kind(record, "EndCosts", argument);
  read(in, record.attr("hand_over"), "hand_over", into.hand_over);
  read(in, record.attr("live_with"), "live_with", into.live_with);
  read(in, record.attr("comeback"), "comeback", into.comeback);
}

py::object to_python(const Names& in, const SetUp& one) {
  static RecordKind kind("SetUp");
  return kind({{"name", to_python(in, one.name)},
               {"cost", to_python(in, one.cost)},
               {"needs", name_at(in, Kind::set_up, one.needs)},
               {"group", to_python(in, one.group)},
               {"in_place", to_python(in, one.in_place)}});
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
  static RecordKind kind("TestAction");
  return kind({{"name", to_python(in, one.name)},
               {"cost", to_python(in, one.cost)},
               {"outcomes", to_python(in, one.outcomes)},
               {"table", to_python(in, outcome_rows(one))},
               {"set_ups", name_at(in, Kind::set_up, one.set_ups)}});
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
  static RecordKind kind("Verification");
  return kind({{"cost", to_python(in, one.cost)},
               {"false_cured", to_python(in, one.false_cured)},
               {"false_still_there", to_python(in, one.false_still_there)}});
}

void read(const Names& in, py::handle record, const char* argument, Verification& into) {
  require_kind(record, "Verification", argument);
  read(in, record.attr("cost"), "cost", into.cost);
  read(in, record.attr("false_cured"), "false_cured", into.false_cured);
  read(in, record.attr("false_still_there"), "false_still_there", into.false_still_there);
}

py::object to_python(const Names& in, const RepairAction& one) {
  static RecordKind kind("RepairAction");
  return kind({{"name", to_python(in, one.name)},
               {"cost", to_python(in, one.cost)},
               {"success", to_python(in, one.success)},
               {"set_ups", name_at(in, Kind::set_up, one.set_ups)},
               {"becomes", to_python(in, what_becomes(in, one))},
               {"verification", to_python(in, one.verification)}});
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
  static RecordKind kind("TroubleshootingProblem");
  return kind({{"hypotheses", to_python(in.about(one), one.hypotheses)},
               {"weights", to_python(in.about(one), one.weights)},
               {"set_ups", to_python(in.about(one), one.set_ups)},
               {"tests", to_python(in.about(one), one.tests)},
               {"repairs", to_python(in.about(one), one.repairs)},
               {"ends", to_python(in.about(one), one.ends)},
               {"repair_elsewhere", to_python(in.about(one), one.repair_elsewhere)}});
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
  static RecordKind kind("Step");
  return kind({{"kind", to_python(in, one.kind)}, {"name", to_python(in, step_name(in.problem(), one))}});
}

void read(const Names& in, py::handle record, const char* argument, Step& into) {
  require_kind(record, "Step", argument);
  read(in, record.attr("kind"), "kind", into.kind);
  read_step_index(in, record, into);
}

py::object to_python(const Names& in, const Situation& one) {
  static RecordKind kind("Situation");
  return kind({{"belief", to_python(in, one.belief)},
               {"tests_done", marked_names(in, Kind::test, one.tests_done)},
               {"repairs_done", marked_names(in, Kind::repair, one.repairs_done)},
               {"in_place", marked_names(in, Kind::set_up, one.in_place)}});
}

void read(const Names& in, py::handle record, const char* argument, Situation& into) {
  require_kind(record, "Situation", argument);
  read(in, record.attr("belief"), "belief", into.belief);
  read_marks(in, Kind::test, record.attr("tests_done"), "tests_done", into.tests_done);
  read_marks(in, Kind::repair, record.attr("repairs_done"), "repairs_done", into.repairs_done);
  read_marks(in, Kind::set_up, record.attr("in_place"), "in_place", into.in_place);
}

py::object to_python(const Names& in, const StepResult& one, const py::object& outcome) {
  static RecordKind kind("StepResult");
  return kind({{"outcome", outcome},
               {"probability", to_python(in, one.probability)},
               {"situation", to_python(in, one.situation)}});
}

py::object to_python(const Names& in, const CaseProblem& one, const py::object& texts) {
  static RecordKind kind("CaseProblem");
  return kind({{"problem", to_python(in, one.problem)},
               {"hypotheses", to_python(in, one.hypotheses)},
               {"rest_is_last", to_python(in, one.rest_is_last)},
               {"hand_over", name_at(in, Kind::hand_over, one.hand_over)},
               {"texts", texts}});
}

py::object to_python(const Names& in, const PolicyBranch& one) {
  static RecordKind kind("PolicyBranch");
  return kind({{"outcome", to_python(in, in.outcome(one.outcome))},
               {"probability", to_python(in, one.probability)},
               {"node", to_python(in, one.node)}});
}

void read(const Names& in, py::handle record, const char* argument, PolicyBranch& into) {
  require_kind(record, "PolicyBranch", argument);
  read_outcome(in, record, into);
  read(in, record.attr("probability"), "probability", into.probability);
  read(in, record.attr("node"), "node", into.node);
}

py::object to_python(const Names& in, const LeadingHypothesis& one) {
  static RecordKind kind("LeadingHypothesis");
  return kind(
      {{"hypothesis", name_at(in, Kind::hypothesis, one.hypothesis)}, {"probability", to_python(in, one.probability)}});
}

void read(const Names& in, py::handle record, const char* argument, LeadingHypothesis& into) {
  require_kind(record, "LeadingHypothesis", argument);
  read_name(in, Kind::hypothesis, record.attr("hypothesis"), "hypothesis", into.hypothesis);
  read(in, record.attr("probability"), "probability", into.probability);
}

py::object to_python(const Names& in, const PolicyNode& one) {
  static RecordKind kind("PolicyNode");
  return kind({{"kind", to_python(in, one.step.kind)},
               {"name", to_python(in, step_name(in.problem(), one.step))},
               {"label", to_python(in, in.label(one.step))},
               {"set_ups", name_at(in, Kind::set_up, one.set_ups)},
               {"step_cost", to_python(in, one.step_cost)},
               {"expected_cost", to_python(in, one.expected_cost)},
               {"lower_bound", to_python(in, one.lower_bound)},
               {"probability", to_python(in, one.probability)},
               {"branches", to_python(in, to_python(in.at(one.step), one.branches))},
               {"leading", to_python(in, one.leading)},
               {"probability_cured", to_python(in, one.probability_cured)}});
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
  static RecordKind kind("PolicyTree");
  return kind({{"nodes", table_of(in, one.nodes)}, {"problem", problem}, {"texts", texts}});
}

void read(const Names& in, py::handle record, const char* argument, PolicyTree& into) {
  require_kind(record, "PolicyTree", argument);
  read(in, record.attr("nodes"), "nodes", into.nodes);
}

py::object to_python(const Names& in, const OptimalPolicyTree& one, const py::object& policy_tree) {
  static RecordKind kind("OptimalPolicyTree");
  return kind({{"policy_tree", policy_tree},
               {"lower_bound", to_python(in, one.lower_bound)},
               {"upper_bound", to_python(in, one.upper_bound)},
               {"optimal", to_python(in, one.optimal)},
               {"steps", to_python(in, one.steps)},
               {"stopped", to_python(in, one.stopped)}});
}

py::object to_python(const Names& in, const PricedStep& one) {
  static RecordKind kind("PricedStep");
  return kind({{"kind", to_python(in, one.step.kind)},
               {"name", to_python(in, step_name(in.problem(), one.step))},
               {"label", to_python(in, in.label(one.step))},
               {"step_cost", to_python(in, one.step_cost)},
               {"expected_cost", to_python(in, one.expected_cost)},
               {"saves", to_python(in, one.saves)},
               {"gain_bits", to_python(in, one.gain_bits)}});
}

py::object to_python(const Names& in, const Weighing& one) {
  static RecordKind kind("Weighing");
  return kind(
      {{"steps", table_of(in, one.steps, "PricedSteps")}, {"proposed", to_python(in, one.steps.at(one.proposed))}});
}

py::object to_python(const Names& in, const RepairOrder& one) {
  static RecordKind kind("RepairOrder");
  return kind({{"repairs", name_at(in, Kind::repair, one.repairs)},
               {"end", to_python(in, one.end)},
               {"probability_left", to_python(in, one.probability_left)},
               {"expected_cost", to_python(in, one.expected_cost)},
               {"lower_bound", to_python(in, one.lower_bound)},
               {"best", to_python(in, one.best)},
               {"steps", to_python(in, one.steps)},
               {"stopped", to_python(in, one.stopped)}});
}

py::object to_python(const Names& in, const SecondTest& one) {
  static RecordKind kind("SecondTest");
  return kind({{"state", state_name(in, in.variable(), one.state)},
               {"state_label", state_label(in, in.variable(), one.state)},
               {"probability", to_python(in, one.probability)},
               {"test", variable_name(in, one.test)},
               {"label", variable_label(in, one.test)},
               {"gain_bits", to_python(in, one.gain_bits)},
               {"minutes", to_python(in, one.minutes)},
               {"cost", to_python(in, one.cost)},
               {"opens", to_python(in, one.opens)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"brings", to_python(in, one.brings)},
               {"procedure", to_python(in, procedure_of(in, one.test))},
               {"cautions", to_python(in, cautions_of(in, one.test, one.opens, one.brings))}});
}

py::object to_python(const Names& in, const TwoTests& one) {
  static RecordKind kind("TwoTests");
  return kind({{"first", variable_name(in, one.first)},
               {"label", variable_label(in, one.first)},
               {"first_gain_bits", to_python(in.about(one.first), one.first_gain_bits)},
               {"gain_bits", to_python(in.about(one.first), one.gain_bits)},
               {"minutes", to_python(in.about(one.first), one.minutes)},
               {"cost", to_python(in.about(one.first), one.cost)},
               {"gain_per_cost", to_python(in.about(one.first), one.gain_per_cost)},
               {"opens", to_python(in.about(one.first), one.opens)},
               {"second", table_of(in.about(one.first), one.second)},
               {"wait_minutes", to_python(in.about(one.first), one.wait_minutes)},
               {"brings", to_python(in.about(one.first), one.brings)},
               {"procedure", to_python(in, procedure_of(in, one.first))},
               {"cautions", to_python(in, cautions_of(in, one.first, one.opens, one.brings))}});
}

py::object to_python(const Names& in, const LookAhead& one) {
  static RecordKind kind("LookAhead");
  return kind({{"gain", to_python(in, one.gain)},
               {"targets", variable_name(in, one.targets)},
               {"tests", table_of(in, one.tests)},
               {"currency", to_python(in, in.model().header().currency)},
               {"safety", to_python(in, in.model().header().safety)}});
}

py::object to_python(const Names& in, const BatchedTest& one) {
  static RecordKind kind("BatchedTest");
  return kind({{"test", variable_name(in, one.test)},
               {"label", variable_label(in, one.test)},
               {"gain_bits", to_python(in, one.gain_bits)},
               {"cost", to_python(in, one.cost)},
               {"procedure", to_python(in, procedure_of(in, one.test))},
               {"cautions", to_python(in, cautions_of(in, one.test, in.opens(), in.brings()))}});
}

py::object to_python(const Names& in, const TestBatch& one) {
  static RecordKind kind("TestBatch");
  return kind({{"targets", variable_name(in, one.targets)},
               {"chosen", to_python(in, table_of(in.opening(one.opens, one.brings), one.chosen))},
               {"order", variable_name(in, one.order)},
               {"gain_bits", to_python(in, one.gain_bits)},
               {"minutes", to_python(in, one.minutes)},
               {"money", to_python(in, one.money)},
               {"cost", to_python(in, one.cost)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"gain_per_cost", to_python(in, one.gain_per_cost)},
               {"opens", to_python(in, one.opens)},
               {"brings", to_python(in, one.brings)},
               {"end", to_python(in, one.end)},
               {"left_out", table_of(in, one.left_out)},
               {"currency", to_python(in, in.model().header().currency)},
               {"safety", to_python(in, in.model().header().safety)}});
}

py::object to_python(const Names& in, const ConditionedPosteriors& one, const py::object& posteriors) {
  static RecordKind kind("ConditionedPosteriors");
  return kind({{"on", variable_name(in, one.on)},
               {"cases", to_python(in, one.cases)},
               {"log_evidence", to_python(in, one.log_evidence)},
               {"posteriors", posteriors}});
}

py::object to_python(const Names& in, const Measured& one) {
  static RecordKind kind("Measured");
  return kind({{"value", to_python(in, one.value)}, {"unit", to_python(in, one.unit)}});
}

void read(const Names& in, py::handle record, const char* argument, Measured& into) {
  require_kind(record, "Measured", argument);
  read(in, record.attr("value"), "value", into.value);
  read(in, record.attr("unit"), "unit", into.unit);
}

py::object to_python(const Names& in, const CombinedReading& one) {
  static RecordKind kind("CombinedReading");
  return kind({{"value", to_python(in, one.value)}, {"error", to_python(in, one.error)}});
}

py::object to_python(const Names& in, const Unit& one) {
  static RecordKind kind("Unit");
  return kind({{"symbol", to_python(in, one.symbol)},
               {"quantity", to_python(in, one.quantity)},
               {"numerator", to_python(in, one.numerator)},
               {"denominator", to_python(in, one.denominator)},
               {"zero", to_python(in, one.zero)}});
}

py::object to_python(const Names& in, const Estimate& one) {
  static RecordKind kind("Estimate");
  return kind({{"value", to_python(in, one.value)}, {"standard_error", to_python(in, one.standard_error)}});
}

py::object to_python(const Names& in, const AskStep& one) {
  static RecordKind kind("AskStep");
  return kind({{"variables", variable_name(in, one.variables)}});
}

void read(const Names& in, py::handle record, const char* argument, AskStep& into) {
  require_kind(record, "AskStep", argument);
  read_variable(in, record.attr("variables"), "variables", into.variables);
}

py::object to_python(const Names& in, const TestStep& one) {
  static RecordKind kind("TestStep");
  return kind({{"test", variable_name(in, one.test)}});
}

void read(const Names& in, py::handle record, const char* argument, TestStep& into) {
  require_kind(record, "TestStep", argument);
  read_variable(in, record.attr("test"), "test", into.test);
}

py::object to_python(const Names& in, const RepairStep& one) {
  static RecordKind kind("RepairStep");
  return kind({{"repair", name_at(in, Kind::model_repair, one.repair)}});
}

void read(const Names& in, py::handle record, const char* argument, RepairStep& into) {
  require_kind(record, "RepairStep", argument);
  read_name(in, Kind::model_repair, record.attr("repair"), "repair", into.repair);
}

py::object to_python(const Names& in, const HandOverStep& one) {
  static RecordKind kind("HandOverStep");
  return kind({{"hand_over", name_at(in, Kind::hand_over, one.hand_over)}});
}

void read(const Names& in, py::handle record, const char* argument, HandOverStep& into) {
  require_kind(record, "HandOverStep", argument);
  if (!record.attr("hand_over").is_none())
    read_name(in, Kind::hand_over, record.attr("hand_over"), "hand_over", into.hand_over.emplace());
}

py::object to_python(const Names&, const LiveWithStep&) {
  static RecordKind kind("LiveWithStep");
  return kind({});
}

void read(const Names&, py::handle record, const char* argument, LiveWithStep&) {
  require_kind(record, "LiveWithStep", argument);
}

py::object to_python(const Names& in, const NoStep& one) {
  static RecordKind kind("NoStep");
  return kind({{"reason", to_python(in, one.reason)}, {"fault", to_python(in, one.fault)}});
}

py::object to_python(const Names& in, const AdvisedOutcome& one) {
  static RecordKind kind("AdvisedOutcome");
  return kind({{"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"probability", to_python(in, one.probability)},
               {"leading", to_python(in, one.leading)}});
}

py::object to_python(const Names& in, const StepPrice& one) {
  static RecordKind kind("StepPrice");
  return kind({{"now", to_python(in, one.now)},
               {"in_the_end", to_python(in, one.in_the_end)},
               {"saves", to_python(in, one.saves)},
               {"gain_bits", to_python(in, one.gain_bits)}});
}

py::object to_python(const Names& in, const AdvisedStep& one) {
  static RecordKind kind("AdvisedStep");
  return kind({{"step", to_python(in, one.step)},
               {"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"procedure", to_python(in, one.procedure)},
               {"description", to_python(in, one.description)},
               {"question", to_python(in, one.question)},
               {"cautions", to_python(in, one.cautions)},
               {"opens", to_python(in, one.opens)},
               {"brings", to_python(in, one.brings)},
               {"tools", to_python(in, one.tools)},
               {"skill", to_python(in, one.skill)},
               {"cost_known", to_python(in, one.cost_known)},
               {"minutes", to_python(in, one.minutes)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"money", to_python(in, one.money)},
               {"cost", to_python(in, one.cost)},
               {"price", to_python(in, one.price)},
               {"gain_bits", to_python(in, one.gain_bits)},
               {"gain_per_cost", to_python(in, one.gain_per_cost)},
               {"settles", to_python(in, one.settles)},
               {"outcomes", table_of(in, one.outcomes)},
               {"reveals", variable_name(in, one.reveals)},
               {"mends", to_python(in, one.mends)},
               {"success", to_python(in, one.success)},
               {"check", to_python(in, one.check)},
               {"tells", to_python(in, one.tells)},
               {"charges_repair", to_python(in, one.charges_repair)}});
}

py::object to_python(const Names& in, const JobProgress& one) {
  static RecordKind kind("JobProgress");
  return kind({{"declined", variable_name(in, one.declined)},
               {"repairs_done", name_at(in, Kind::model_repair, one.repairs_done)},
               {"passed_over", to_python(in, one.passed_over)},
               {"over", to_python(in, one.over)}});
}

void read(const Names& in, py::handle record, const char* argument, JobProgress& into) {
  require_kind(record, "JobProgress", argument);
  read_variable(in, record.attr("declined"), "declined", into.declined);
  read_name(in, Kind::model_repair, record.attr("repairs_done"), "repairs_done", into.repairs_done);
  read(in, record.attr("passed_over"), "passed_over", into.passed_over);
  read(in, record.attr("over"), "over", into.over);
}

py::object to_python(const Names& in, const AdvisedFault& one) {
  static RecordKind kind("AdvisedFault");
  return kind({{"fault", to_python(in, one.fault)},
               {"label", to_python(in, one.label)},
               {"probability", to_python(in, one.probability)}});
}

py::object to_python(const Names& in, const AdvisedQuestion& one) {
  static RecordKind kind("AdvisedQuestion");
  return kind({{"variable", variable_name(in, one.variable)},
               {"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"question", to_python(in, one.question)},
               {"gain_bits", to_python(in, one.gain_bits)}});
}

py::object to_python(const Names& in, const AdvisedLeftOut& one) {
  static RecordKind kind("AdvisedLeftOut");
  return kind({{"test", variable_name(in, one.test)},
               {"name", to_python(in, one.name)},
               {"label", to_python(in, one.label.empty() ? one.name : one.label)},
               {"reason", to_python(in, one.reason)},
               {"gain_bits", to_python(in, one.gain_bits)}});
}

py::object to_python(const Names& in, const SpecialistBrief& one) {
  static RecordKind kind("SpecialistBrief");
  return kind({{"found", to_python(in, one.found)},
               {"left", to_python(in, one.left)},
               {"ruled_out", to_python(in, one.ruled_out)}});
}

py::object to_python(const Names& in, const Advice& one) {
  static RecordKind kind("Advice");
  return kind({{"proposed", to_python(in, one.proposed)},
               {"alternatives", table_of(in, one.alternatives)},
               {"cheaper", to_python(in, one.cheaper)},
               {"priced", to_python(in, one.priced)},
               {"led_by_cost", to_python(in, one.led_by_cost)},
               {"passed_over", to_python(in, one.passed_over)},
               {"likely", to_python(in, one.likely)},
               {"questions", table_of(in, one.questions)},
               {"leading", table_of(in, one.leading)},
               {"known", table_of(in, one.known)},
               {"left_out", table_of(in, one.left_out)},
               {"why", to_python(in, one.why)},
               {"brief", to_python(in, one.brief)},
               {"ranking", to_python(in, one.ranking)},
               {"currency", to_python(in, one.currency)},
               {"safety", to_python(in, one.safety)},
               {"invented", to_python(in, one.invented)}});
}

py::object to_python(const Names& in, const Charge& one) {
  static RecordKind kind("Charge");
  return kind({{"minutes", to_python(in, one.minutes)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"money", to_python(in, one.money)},
               {"labour", to_python(in, one.labour)},
               {"opens", to_python(in, one.opens)},
               {"brings", to_python(in, one.brings)}});
}

py::object to_python(const Names& in, const FindingEntry& one) {
  static RecordKind kind("FindingEntry");
  return kind({{"finding", to_python(in, one.finding)}});
}

py::object to_python(const Names& in, const ReadingEntry& one) {
  static RecordKind kind("ReadingEntry");
  return kind({{"test", variable_name(in, one.test)},
               {"readings", to_python(in, one.readings)},
               {"errors", to_python(in, one.errors)},
               {"text", to_python(in, one.text)},
               {"finding", to_python(in, one.finding)}});
}

py::object to_python(const Names& in, const RevealedEntry& one) {
  static RecordKind kind("RevealedEntry");
  return kind({{"test", variable_name(in, one.test)}, {"findings", to_python(in, one.findings)}});
}

py::object to_python(const Names& in, const DeclinedEntry& one) {
  static RecordKind kind("DeclinedEntry");
  return kind({{"test", variable_name(in, one.test)}, {"reason", to_python(in, one.reason)}});
}

py::object to_python(const Names& in, const CheckMade& one) {
  static RecordKind kind("CheckMade");
  return kind({{"result", to_python(in, one.result)}, {"charge", to_python(in, one.charge)}});
}

py::object to_python(const Names& in, const RepairEntry& one) {
  static RecordKind kind("RepairEntry");
  return kind({{"repair", name_at(in, Kind::model_repair, one.repair)}, {"check", to_python(in, one.check)}});
}

py::object to_python(const Names& in, const PartEntry& one) {
  static RecordKind kind("PartEntry");
  return kind({{"finding", to_python(in, one.finding)}});
}

py::object to_python(const Names& in, const InPlaceEntry& one) {
  static RecordKind kind("InPlaceEntry");
  return kind({{"seen", to_python(in, one.seen)}});
}

py::object to_python(const Names& in, const HandOverEntry& one) {
  static RecordKind kind("HandOverEntry");
  return kind({{"hand_over", name_at(in, Kind::hand_over, one.hand_over)}});
}

py::object to_python(const Names& in, const ConfirmedFault& one) {
  static RecordKind kind("ConfirmedFault");
  return kind({{"component", variable_name(in, one.component)},
               {"state", state_name(in, one.component, one.state)},
               {"by", to_python(in, one.by)}});
}

void read(const Names& in, py::handle record, const char* argument, ConfirmedFault& into) {
  require_kind(record, "ConfirmedFault", argument);
  read_variable(in, record.attr("component"), "component", into.component);
  read_state(in, into.component, record.attr("state"), "state", into.state);
  read(in, record.attr("by"), "by", into.by);
}

py::object to_python(const Names& in, const EndEntry& one) {
  static RecordKind kind("EndEntry");
  return kind({{"end", to_python(in, one.end)},
               {"confirmed", to_python(in, one.confirmed)},
               {"note", to_python(in, one.note)}});
}

py::object to_python(const Names& in, const Entry& one) {
  static RecordKind kind("Entry");
  return kind({{"kind", to_python(in, kind_of(one))},
               {"what", to_python(in, one.what)},
               {"charge", to_python(in, one.charge)},
               {"label", to_python(in, entry_label(in.model(), one))},
               {"text", to_python(in, entry_in_words(in.model(), one))}});
}

py::object to_python(const Names& in, const LedgerLine& one) {
  static RecordKind kind("LedgerLine");
  return kind({{"entry", to_python(in, one.entry)},
               {"is_check", to_python(in, one.is_check)},
               {"charge", to_python(in, one.charge)},
               {"money", to_python(in, one.money)},
               {"labour", to_python(in, one.labour)}});
}

py::object to_python(const Names& in, const JobLimits& one) {
  static RecordKind kind("JobLimits");
  return kind({{"budget", to_python(in, one.budget)}, {"deadline", to_python(in, one.deadline)}});
}

void read(const Names& in, py::handle record, const char* argument, JobLimits& into) {
  require_kind(record, "JobLimits", argument);
  read(in, record.attr("budget"), "budget", into.budget);
  read(in, record.attr("deadline"), "deadline", into.deadline);
}

py::object to_python(const Names& in, const Ledger& one) {
  static RecordKind kind("Ledger");
  return kind({{"lines", table_of(in, one.lines)},
               {"total", to_python(in, one.total)},
               {"money", to_python(in, one.money)},
               {"labour", to_python(in, one.labour)},
               {"in_place", to_python(in, one.in_place)},
               {"money_left", to_python(in, one.money_left)},
               {"minutes_left", to_python(in, one.minutes_left)}});
}

py::object to_python(const Names& in, const JobFact& one) {
  static RecordKind kind("JobFact");
  return kind({{"label", to_python(in, one.label)}, {"value", to_python(in, one.value)}});
}

void read(const Names& in, py::handle record, const char* argument, JobFact& into) {
  require_kind(record, "JobFact", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("value"), "value", into.value);
}

py::object to_python(const Names& in, const JobOptions& one) {
  static RecordKind kind("JobOptions");
  return kind({{"means", to_python(in, one.means)},
               {"ends", to_python(in, one.ends)},
               {"limits", to_python(in, one.limits)},
               {"about", to_python(in, one.about)}});
}

void read(const Names& in, py::handle record, const char* argument, JobOptions& into) {
  require_kind(record, "JobOptions", argument);
  read(in, record.attr("means"), "means", into.means);
  read(in, record.attr("ends"), "ends", into.ends);
  read(in, record.attr("limits"), "limits", into.limits);
  read(in, record.attr("about"), "about", into.about);
}

py::object to_python(const Names& in, const ReportCaution& one) {
  static RecordKind kind("ReportCaution");
  return kind({{"label", to_python(in, one.label)}, {"text", to_python(in, one.text)}});
}

void read(const Names& in, py::handle record, const char* argument, ReportCaution& into) {
  require_kind(record, "ReportCaution", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("text"), "text", into.text);
}

py::object to_python(const Names& in, const ReportStep& one) {
  static RecordKind kind("ReportStep");
  return kind({{"kind", to_python(in, one.kind)},
               {"label", to_python(in, one.label)},
               {"first", to_python(in, one.first)},
               {"found", to_python(in, one.found)},
               {"minutes", to_python(in, one.minutes)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"money", to_python(in, one.money)},
               {"labour", to_python(in, one.labour)},
               {"change", to_python(in, one.change)},
               {"note", to_python(in, one.note)}});
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
  static RecordKind kind("ReportFault");
  return kind({{"label", to_python(in, one.label)},
               {"probability", to_python(in, one.probability)},
               {"at_start", to_python(in, one.at_start)}});
}

void read(const Names& in, py::handle record, const char* argument, ReportFault& into) {
  require_kind(record, "ReportFault", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("probability"), "probability", into.probability);
  read(in, record.attr("at_start"), "at_start", into.at_start);
}

py::object to_python(const Names& in, const ReportOpenTest& one) {
  static RecordKind kind("ReportOpenTest");
  return kind({{"label", to_python(in, one.label)},
               {"settles", to_python(in, one.settles)},
               {"minutes", to_python(in, one.minutes)},
               {"money", to_python(in, one.money)},
               {"labour", to_python(in, one.labour)},
               {"reason", to_python(in, one.reason)}});
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
  static RecordKind kind("ReportHandOver");
  return kind({{"to", to_python(in, one.to)},
               {"fee", to_python(in, one.fee)},
               {"wait_minutes", to_python(in, one.wait_minutes)},
               {"what_to_tell", to_python(in, one.what_to_tell)}});
}

void read(const Names& in, py::handle record, const char* argument, ReportHandOver& into) {
  require_kind(record, "ReportHandOver", argument);
  read(in, record.attr("to"), "to", into.to);
  read(in, record.attr("fee"), "fee", into.fee);
  read(in, record.attr("wait_minutes"), "wait_minutes", into.wait_minutes);
  read(in, record.attr("what_to_tell"), "what_to_tell", into.what_to_tell);
}

py::object to_python(const Names& in, const JobReport& one) {
  static RecordKind kind("JobReport");
  return kind({{"title", to_python(in, one.title)},
               {"version", to_python(in, one.version)},
               {"invented", to_python(in, one.invented)},
               {"safety", to_python(in, one.safety)},
               {"currency", to_python(in, one.currency)},
               {"labour_rate", to_python(in, one.labour_rate)},
               {"about", to_python(in, one.about)},
               {"vehicle", to_python(in, one.vehicle)},
               {"complaint", to_python(in, one.complaint)},
               {"steps", to_python(in, one.steps)},
               {"conclusion", to_python(in, one.conclusion)},
               {"why", to_python(in, one.why)},
               {"faults", to_python(in, one.faults)},
               {"open_tests", to_python(in, one.open_tests)},
               {"hand_over", to_python(in, one.hand_over)},
               {"cautions", to_python(in, one.cautions)}});
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
  static RecordKind kind("ReportFaults");
  return kind({{"leading", to_python(in, one.leading)},
               {"ruled_out", to_python(in, one.ruled_out)},
               {"rare", to_python(in, one.rare)}});
}

py::object to_python(const Names& in, const Remark& one) {
  static RecordKind kind("Remark");
  return kind({{"severity", to_python(in, one.severity)},
               {"place", to_python(in, one.place)},
               {"found", to_python(in, one.found)},
               {"remedy", to_python(in, one.remedy)}});
}

py::object to_python(const Names& in, const FaultState& one) {
  static RecordKind kind("FaultState");
  return kind({{"component", variable_name(in, one.component)},
               {"label", variable_label(in, one.component)},
               {"state", state_name(in, one.component, one.state)},
               {"state_label", state_label(in, one.component, one.state)}});
}

py::object to_python(const Names& in, const AmbiguityGroups& one) {
  static RecordKind kind("AmbiguityGroups");
  return kind({{"alike", to_python(in, one.alike)}, {"undetectable", to_python(in, one.undetectable)}});
}

py::object to_python(const Names& in, const FlowCaution& one) {
  static RecordKind kind("FlowCaution");
  return kind({{"label", to_python(in, one.label)}, {"text", to_python(in, one.text)}});
}

void read(const Names& in, py::handle record, const char* argument, FlowCaution& into) {
  require_kind(record, "FlowCaution", argument);
  read(in, record.attr("label"), "label", into.label);
  read(in, record.attr("text"), "text", into.text);
}

py::object to_python(const Names& in, const FlowStepTexts& one) {
  static RecordKind kind("FlowStepTexts");
  return kind({{"label", to_python(in, one.label)},
               {"cautions", to_python(in, one.cautions)},
               {"procedure", to_python(in, one.procedure)},
               {"check", to_python(in, one.check)},
               {"outcomes", to_python(in, one.outcomes)}});
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
  static RecordKind kind("FlowChartTexts");
  return kind({{"title", to_python(in, one.title)},
               {"safety", to_python(in, one.safety)},
               {"currency", to_python(in, one.currency)},
               {"invented", to_python(in, one.invented)},
               {"cautions", to_python(in, one.cautions)},
               {"tests", to_python(in, one.tests)},
               {"repairs", to_python(in, one.repairs)},
               {"set_ups", to_python(in, one.set_ups)},
               {"hypotheses", to_python(in, one.hypotheses)},
               {"hand_over", to_python(in, one.hand_over)},
               {"live_with", to_python(in, one.live_with)},
               {"notes", to_python(in, one.notes)}});
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
  static RecordKind kind("ReportSums");
  return kind({{"step_costs", to_python(in, one.step_costs)},
               {"money", to_python(in, one.money)},
               {"labour", to_python(in, one.labour)},
               {"cost", to_python(in, one.cost)},
               {"minutes", to_python(in, one.minutes)},
               {"wait_minutes", to_python(in, one.wait_minutes)}});
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

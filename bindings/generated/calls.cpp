// Written by bindings/generate.py from include/faultodds and bindings/generator: not to be changed by hand.
// SPDX-License-Identifier: BSD-3-Clause
// Functions that are bound as their declarations say.
#include "faultodds/decision/evidence/counted_once.hpp"
#include "faultodds/decision/evidence/evidence.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/hypotheses.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"
#include "faultodds/inference/reading.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/job/ledger.hpp"
#include "faultodds/job/opening_questions.hpp"
#include "faultodds/model/lint.hpp"
#include "faultodds/model/unit.hpp"
#include "faultodds/report/job_report.hpp"
#include "generated/records.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

void bind_model_calls(py::module_& module) {
  module.def("_lint", [](const FaultModel& subject) {
    const Names in(subject);
    const auto made = unlocked([&] { return lint(subject); });
    return table_of(in, made);
  });
  module.def("_ambiguity_groups", [](const FaultModel& subject) {
    const Names in(subject);
    const auto made = unlocked([&] { return ambiguity_groups(subject); });
    return to_python(in, made);
  });
  module.def("_convert", [](py::handle value_given, py::handle from_given, py::handle to_given) {
    const Names in;
    double value{};
    read(in, value_given, "value", value);
    std::string from{};
    read(in, from_given, "from_", from);
    std::string to{};
    read(in, to_given, "to", to);
    const auto made = unlocked([&] { return convert(value, from, to); });
    return to_python(in, made);
  });
  module.def("_convert_difference", [](py::handle value_given, py::handle from_given, py::handle to_given) {
    const Names in;
    double value{};
    read(in, value_given, "value", value);
    std::string from{};
    read(in, from_given, "from_", from);
    std::string to{};
    read(in, to_given, "to", to);
    const auto made = unlocked([&] { return convert_difference(value, from, to); });
    return to_python(in, made);
  });
  module.def("_units", []() {
    const Names in;
    const auto made = unlocked([&] { return units(); });
    return table_of(in, made);
  });
  module.def("_find_unit", [](py::handle symbol_given) {
    const Names in;
    std::string symbol{};
    read(in, symbol_given, "symbol", symbol);
    const auto made = unlocked([&] { return find_unit(symbol); });
    return to_python(in, made);
  });
  module.def("_unit_of", [](py::handle symbol_given) {
    const Names in;
    std::string symbol{};
    read(in, symbol_given, "symbol", symbol);
    const auto made = unlocked([&] { return unit_of(symbol); });
    return to_python(in, made);
  });
  module.def("_units_of", [](py::handle quantity_given) {
    const Names in;
    std::string quantity{};
    read(in, quantity_given, "quantity", quantity);
    const auto made = unlocked([&] { return units_of(quantity); });
    return to_python(in, made);
  });
}

void bind_inference_calls(py::module_& module) {
  module.def("_estimate_cost", [](const FaultModel& subject, const py::dict& options_given) {
    const Names in(subject);
    const auto options = options_from<SolverOptions>(in, options_given);
    const auto made = unlocked([&] { return estimate_cost(subject, options, thread_stop()); });
    return to_python(in, made);
  });
  module.def("_parse_reading", [](py::handle text_given) {
    const Names in;
    std::string text{};
    read(in, text_given, "text", text);
    const auto made = unlocked([&] { return parse_reading(text); });
    return to_python(in, made);
  });
  module.def("_parse_readings", [](py::handle text_given) {
    const Names in;
    std::string text{};
    read(in, text_given, "text", text);
    const auto made = unlocked([&] { return parse_readings(text); });
    return to_python(in, made);
  });
  module.def("_combine_readings", [](const FaultModel& subject, py::handle variable_given, py::handle readings_given,
                                     py::handle errors_given) {
    const Names in(subject);
    VariableIndex variable{};
    read_variable(in, variable_given, "variable", variable);
    std::vector<Measured> readings{};
    read(in, readings_given, "readings", readings);
    RepeatedErrors errors{};
    read(in, errors_given, "errors", errors);
    const auto made = unlocked([&] { return combine_readings(subject, variable, readings, errors); });
    return to_python(in, made);
  });
  module.def("_finding_from_reading",
             [](const FaultModel& subject, py::handle variable_given, py::handle value_given, py::handle unit_given) {
               const Names in(subject);
               VariableIndex variable{};
               read_variable(in, variable_given, "variable", variable);
               double value{};
               read(in, value_given, "value", value);
               std::string unit{};
               read(in, unit_given, "unit", unit);
               const auto made = unlocked([&] { return finding_from_reading(subject, variable, value, unit); });
               return to_python(in, made);
             });
}

void bind_ranking_calls(py::module_& module) {
  module.def("_rank_tests", [](HeldCase& held, py::handle means_given, const py::dict& options_given) {
    const Names in(held.current.model());
    const auto options = options_from<RankOptions>(in, options_given);
    Means means{};
    if (!means_given.is_none()) read(in, means_given, "means", means);
    const auto made =
        locked(held, [&](const Case& subject) { return rank_tests(subject, options, means, subject.stop()); });
    return to_python(in, made);
  });
  module.def("_look_ahead", [](HeldCase& held, const py::dict& options_given) {
    const Names in(held.current.model());
    const auto options = options_from<LookAheadOptions>(in, options_given);
    const auto made = locked(held, [&](const Case& subject) { return look_ahead(subject, options, subject.stop()); });
    return to_python(in, made);
  });
  module.def("_best_batch", [](HeldCase& held, const py::dict& options_given) {
    const Names in(held.current.model());
    const auto options = options_from<TestBatchOptions>(in, options_given);
    const auto made = locked(held, [&](const Case& subject) { return best_batch(subject, options, subject.stop()); });
    return to_python(in, made);
  });
  module.def("_faults_in_question", [](HeldCase& held) {
    const Names in(held.current.model());
    const auto made = locked(held, [&](const Case& subject) { return faults_in_question(subject); });
    return variable_name(in, made);
  });
  module.def("_known_faults", [](HeldCase& held) {
    const Names in(held.current.model());
    const auto made = locked(held, [&](const Case& subject) { return known_faults(subject); });
    return variable_name(in, made);
  });
  module.def("_has_revealed", [](HeldCase& held, py::handle test_given) {
    const Names in(held.current.model());
    VariableIndex test{};
    read_variable(in, test_given, "test", test);
    const auto made = locked(held, [&](const Case& subject) { return has_revealed(subject, test); });
    return to_python(in, made);
  });
  module.def("_is_ruled_out", [](HeldCase& held, py::handle test_given) {
    const Names in(held.current.model());
    VariableIndex test{};
    read_variable(in, test_given, "test", test);
    const auto made = locked(held, [&](const Case& subject) { return is_ruled_out(subject, test); });
    return to_python(in, made);
  });
  module.def("_unmet_preconditions", [](HeldCase& held, py::handle test_given) {
    const Names in(held.current.model());
    VariableIndex test{};
    read_variable(in, test_given, "test", test);
    const auto made = locked(held, [&](const Case& subject) { return unmet_preconditions(subject, test); });
    return to_python(in, made);
  });
}

void bind_evidence_calls(py::module_& module) {
  module.def("_finding_in_words", [](const FaultModel& subject, py::handle finding_given) {
    const Names in(subject);
    Finding finding{};
    read(in, finding_given, "finding", finding);
    const auto made = unlocked([&] { return finding_in_words(subject, finding); });
    return to_python(in, made);
  });
  module.def("_counted_twice", [](const FaultModel& subject, py::handle findings_given) {
    const Names in(subject);
    std::vector<Finding> findings{};
    read(in, findings_given, "findings", findings);
    const auto made = unlocked([&] { return counted_twice(subject, findings); });
    return to_python(in, made);
  });
  module.def("_decibans", [](py::handle bits_given) {
    const Names in;
    double bits{};
    read(in, bits_given, "bits", bits);
    const auto made = unlocked([&] { return decibans(bits); });
    return to_python(in, made);
  });
  module.def("_overlap", [](py::handle p_given, py::handle q_given) {
    const Names in;
    std::vector<double> p{};
    read(in, p_given, "p", p);
    std::vector<double> q{};
    read(in, q_given, "q", q);
    const auto made = unlocked([&] { return overlap(p, q); });
    return to_python(in, made);
  });
  module.def("_contrast", [](HeldCase& held, py::handle test_given, py::handle faults_given) {
    const Names in(held.current.model());
    VariableIndex test{};
    read_variable(in, test_given, "test", test);
    std::vector<FaultProbability> faults{};
    read(in, faults_given, "faults", faults);
    const auto made =
        locked(held, [&](const Case& subject) { return contrast(subject, test, faults, subject.stop()); });
    return to_python(in, made);
  });
}

void bind_planning_calls(py::module_& module) {
  module.def("_hypotheses_of", [](HeldCase& held, const py::dict& options_given) {
    const Names in(held.current.model());
    const auto options = options_from<HypothesesOptions>(in, options_given);
    const auto made =
        locked(held, [&](const Case& subject) { return hypotheses_of(subject, options, subject.stop()); });
    return to_python(in, made);
  });
  module.def("_allows_one_fault", [](HeldCase& held, py::handle components_given) {
    const Names in(held.current.model());
    std::vector<VariableIndex> components{};
    read_variable(in, components_given, "components", components);
    const auto made =
        locked(held, [&](const Case& subject) { return allows_one_fault(subject, components, subject.stop()); });
    return to_python(in, made);
  });
  module.def("_start_of", [](py::handle given) {
    const HeldProblem held = problem_from(given);
    const Names in = held.names().reading();
    const auto made = unlocked([&] { return start_of(held.problem); });
    return to_python(in, made);
  });
  module.def("_perfect_information_cost", [](py::handle given, py::handle situation_given) {
    const HeldProblem held = problem_from(given);
    const Names in = held.names().reading();
    Situation situation{};
    read(in, situation_given, "situation", situation);
    const auto made = unlocked([&] { return perfect_information_cost(held.problem, situation); });
    return to_python(in, made);
  });
  module.def("_cost_lower_bound", [](py::handle given, py::handle situation_given) {
    const HeldProblem held = problem_from(given);
    const Names in = held.names().reading();
    Situation situation{};
    read(in, situation_given, "situation", situation);
    const auto made = unlocked([&] { return cost_lower_bound(held.problem, situation); });
    return to_python(in, made);
  });
  module.def("_p_over_c_is_best", [](py::handle given) {
    const HeldProblem held = problem_from(given);
    const Names in = held.names().reading();
    const auto made = unlocked([&] { return p_over_c_is_best(held.problem); });
    return to_python(in, made);
  });
  module.def("_best_repair_order", [](py::handle given, const py::dict& options_given) {
    const HeldProblem held = problem_from(given);
    const Names in = held.names().reading();
    const auto options = options_from<RepairOrderOptions>(in, options_given);
    const auto made = unlocked([&] { return best_repair_order(held.problem, options, thread_stop()); });
    return to_python(in, made);
  });
  module.def("_priced_repair_order", [](py::handle given, py::handle repairs_given) {
    const HeldProblem held = problem_from(given);
    const Names in = held.names().reading();
    std::vector<std::size_t> repairs{};
    read_name(in, Kind::repair, repairs_given, "repairs", repairs);
    const auto made = unlocked([&] { return priced_repair_order(held.problem, repairs); });
    return to_python(in, made);
  });
}

void bind_report_calls(py::module_& module) {
  module.def("_sums_of", [](py::handle report_given) {
    const Names in;
    JobReport report{};
    read(in, report_given, "report", report);
    const auto made = unlocked([&] { return sums_of(report); });
    return to_python(in, made);
  });
  module.def("_write_report_markdown", [](py::handle report_given) {
    const Names in;
    JobReport report{};
    read(in, report_given, "report", report);
    const auto made = unlocked([&] { return write_report_markdown(report); });
    return to_python(in, made);
  });
  module.def("_write_report_html", [](py::handle report_given) {
    const Names in;
    JobReport report{};
    read(in, report_given, "report", report);
    const auto made = unlocked([&] { return write_report_html(report); });
    return to_python(in, made);
  });
  module.def("_write_report_json", [](py::handle report_given) {
    const Names in;
    JobReport report{};
    read(in, report_given, "report", report);
    const auto made = unlocked([&] { return write_report_json(report); });
    return to_python(in, made);
  });
}

void bind_job_calls(py::module_& module) {
  module.def("_advise", [](HeldCase& held, py::handle progress_given, const py::dict& options_given) {
    const Names in(held.current.model());
    const auto options = options_from<AdviceOptions>(in, options_given);
    JobProgress progress{};
    if (!progress_given.is_none()) read(in, progress_given, "progress", progress);
    const auto made =
        locked(held, [&](const Case& subject) { return advise(subject, options, progress, subject.stop()); });
    return to_python(in, made);
  });
  module.def("_has_complaint", [](HeldCase& held) {
    const Names in(held.current.model());
    const auto made = locked(held, [&](const Case& subject) { return has_complaint(subject); });
    return to_python(in, made);
  });
  module.def("_open_facts", [](HeldCase& held) {
    const Names in(held.current.model());
    const auto made = locked(held, [&](const Case& subject) { return open_facts(subject); });
    return variable_name(in, made);
  });
  module.def("_open_complaints", [](HeldCase& held) {
    const Names in(held.current.model());
    const auto made = locked(held, [&](const Case& subject) { return open_complaints(subject); });
    return variable_name(in, made);
  });
  module.def("_opening_questions", [](HeldCase& held) {
    const Names in(held.current.model());
    const auto made = locked(held, [&](const Case& subject) { return opening_questions(subject); });
    return variable_name(in, made);
  });
  module.def("_in_cents", [](py::handle amount_given) {
    const Names in;
    double amount{};
    read(in, amount_given, "amount", amount);
    const auto made = unlocked([&] { return in_cents(amount); });
    return to_python(in, made);
  });
  module.def("_states_in_words", [](const FaultModel& subject, py::handle finding_given) {
    const Names in(subject);
    Finding finding{};
    read(in, finding_given, "finding", finding);
    const auto made = unlocked([&] { return states_in_words(subject, finding); });
    return to_python(in, made);
  });
  module.def("_check_in_words", [](py::handle result_given) {
    const Names in;
    CheckResult result{};
    read(in, result_given, "result", result);
    const auto made = unlocked([&] { return check_in_words(result); });
    return to_python(in, made);
  });
  module.def("_confirmed_by_in_words", [](py::handle by_given) {
    const Names in;
    ConfirmedBy by{};
    read(in, by_given, "by", by);
    const auto made = unlocked([&] { return confirmed_by_in_words(by); });
    return to_python(in, made);
  });
}

}  // namespace

void bind_calls(py::module_& module) {
  bind_model_calls(module);
  bind_inference_calls(module);
  bind_ranking_calls(module);
  bind_evidence_calls(module);
  bind_planning_calls(module);
  bind_report_calls(module);
  bind_job_calls(module);
}

}  // namespace faultodds::python

// The next test and the leading faults.
// SPDX-License-Identifier: BSD-3-Clause
#include <cmath>
#include <limits>
#include <set>

#include "bindings.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"

namespace faultodds::python {

namespace {

GainKind gain_kind_of(const std::string& text) {
  if (text == "joint") return GainKind::joint;
  if (text == "per_component") return GainKind::per_component;
  throw ArgumentError("gain", "got \"" + text + '"', "give \"joint\" or \"per_component\"");
}

RankBy rank_by_of(const std::string& text) {
  if (text == "gain_per_cost") return RankBy::gain_per_cost;
  if (text == "gain") return RankBy::gain;
  if (text == "cost") return RankBy::cost;
  if (text == "gain_per_minute") return RankBy::gain_per_minute;
  throw ArgumentError("by", "got \"" + text + '"', "give \"gain_per_cost\", \"gain\", \"cost\" or \"gain_per_minute\"");
}

py::object fault_record(const FaultModel& model, const FaultProbability& fault) {
  const Variable& component = model.variable(fault.component);
  const State& state = component.states.at(fault.state);
  return record_type("FaultProbability")(component.name, shown(component), state.name, shown(state), fault.probability);
}

py::object fault_records(const FaultModel& model, const std::vector<FaultProbability>& faults) {
  py::list records;
  for (const FaultProbability& fault : faults) records.append(fault_record(model, fault));
  return as_records(records, "LeadingFaults");
}

/// The cautions of a test, of the opening work and of the conditions it needs, each once, its own last.
py::tuple cautions_of(const FaultModel& model, std::size_t test, const std::vector<std::string>& opens,
                      const std::vector<std::string>& brings) {
  WorkCost cost;
  cost.opens = opens;
  cost.brings = brings;
  const std::vector<std::string> names = faultodds::cautions_of(model, model.variable(test).work, cost);
  const py::object kind = record_type("Term");
  py::list cautions;
  for (const std::string& name : names) {
    for (const Term& caution : model.parts().cautions) {
      if (caution.name != name) continue;
      cautions.append(kind(name, caution.label.empty() ? name : caution.label, caution.description));
    }
  }
  return py::tuple(cautions);
}

py::object outcome_records(const FaultModel& model, const TestForecast& forecast) {
  const py::object kind = record_type("OutcomeForecast");
  py::list records;
  for (const OutcomeForecast& outcome : forecast.outcomes) {
    const State& state = model.variable(forecast.test).states.at(outcome.state);
    records.append(kind(state.name, shown(state), outcome.probability, fault_records(model, outcome.leading)));
  }
  return as_records(records);
}

py::object test_records(const FaultModel& model, const std::vector<TestForecast>& forecasts) {
  const py::object kind = record_type("TestForecast");
  py::list records;
  for (const TestForecast& forecast : forecasts) {
    const Variable& test = model.variable(forecast.test);
    records.append(
        kind(test.name, shown(test), forecast.gain_bits, forecast.cost, forecast.gain_per_cost, forecast.minutes,
             forecast.money, forecast.wait_minutes, as_tuple(forecast.opens), as_tuple(forecast.brings), test.procedure,
             cautions_of(model, forecast.test, forecast.opens, forecast.brings), outcome_records(model, forecast)));
  }
  return as_records(records);
}

py::object left_out_records(const FaultModel& model, const std::vector<LeftOut>& left_out) {
  const py::object kind = record_type("LeftOut");
  py::list records;
  for (const LeftOut& left : left_out) {
    const Variable& test = model.variable(left.test);
    const auto gain = std::isnan(left.gain_bits) ? std::nullopt : std::optional(left.gain_bits);
    records.append(kind(test.name, shown(test), left.reason, or_none(gain)));
  }
  return as_records(records);
}

py::object ranking_record(const FaultModel& model, const Ranking& ranking) {
  return record_type("Ranking")(ranking.gain == GainKind::joint ? "joint" : "per_component",
                                names_as_tuple(model, ranking.targets), ranking.entropy_bits, ranking.entropy_is_bound,
                                fault_records(model, ranking.leading), test_records(model, ranking.tests),
                                left_out_records(model, ranking.left_out), model.header().currency,
                                model.header().safety);
}

py::object second_records(const FaultModel& model, const TwoTests& two) {
  const py::object kind = record_type("SecondTest");
  py::list records;
  for (const SecondTest& second : two.second) {
    const State& state = model.variable(two.first).states.at(second.state);
    if (second.test.has_value()) {
      const Variable& test = model.variable(*second.test);
      records.append(kind(state.name, shown(state), second.probability, test.name, shown(test), second.gain_bits,
                          second.cost, second.minutes, second.wait_minutes, as_tuple(second.opens),
                          as_tuple(second.brings), test.procedure,
                          cautions_of(model, *second.test, second.opens, second.brings)));
    } else {
      records.append(kind(state.name, shown(state), second.probability, py::none(), py::none(), 0.0, 0.0, 0.0, 0.0,
                          py::tuple(), py::tuple(), "", py::tuple()));
    }
  }
  return as_records(records);
}

py::object look_ahead_record(const FaultModel& model, const LookAhead& ahead) {
  const py::object kind = record_type("TwoTests");
  py::list records;
  for (const TwoTests& two : ahead.tests) {
    const Variable& first = model.variable(two.first);
    records.append(kind(first.name, shown(first), two.first_gain_bits, two.gain_bits, two.cost, two.gain_per_cost,
                        two.minutes, two.wait_minutes, as_tuple(two.opens), as_tuple(two.brings), first.procedure,
                        cautions_of(model, two.first, two.opens, two.brings), second_records(model, two)));
  }
  return record_type("LookAhead")(ahead.gain == GainKind::joint ? "joint" : "per_component",
                                  names_as_tuple(model, ahead.targets), as_records(records), model.header().currency,
                                  model.header().safety);
}

RankOptions options_of(const FaultModel& model, py::handle targets, py::handle tests, py::handle gain, py::handle by,
                       py::handle means) {
  RankOptions options;
  if (!targets.is_none()) options.targets = variables_of(model, targets, "targets");
  if (!tests.is_none()) options.tests = variables_of(model, tests, "tests");
  if (!gain.is_none()) {
    options.gain = gain_kind_of(name_of(gain, "gain"));
    options.joint_only = options.gain == GainKind::joint;
  }
  options.by = rank_by_of(name_of(by, "by"));
  options.means = means_of(means);
  return options;
}

py::object ranked(HeldCase& held, py::handle targets, py::handle tests, py::handle gain, py::handle by,
                  py::handle means, bool effects, py::handle leading) {
  const FaultModel& model = held.current.model();
  RankOptions options = options_of(model, targets, tests, gain, by, means);
  options.effects = effects;
  options.leading = count_of(leading, "leading");
  const Ranking ranking = locked(held, [&](const Case& current) { return rank_tests(current, options); });
  return ranking_record(model, ranking);
}

py::object looked_ahead(HeldCase& held, py::handle targets, py::handle tests, py::handle gain, py::handle by,
                        py::handle means, py::handle candidates) {
  const FaultModel& model = held.current.model();
  const LookAheadOptions options{options_of(model, targets, tests, gain, by, means),
                                 count_of(candidates, "candidates")};
  const LookAhead ahead = locked(held, [&](const Case& current) { return look_ahead(current, options); });
  return look_ahead_record(model, ahead);
}

const char* end_text(BatchEnd end) {
  switch (end) {
    case BatchEnd::no_test_left:
      return "no_test_left";
    case BatchEnd::not_worth_it:
      return "not_worth_it";
    case BatchEnd::max_tests:
      return "max_tests";
    case BatchEnd::max_outcomes:
      break;
  }
  return "max_outcomes";
}

py::object batch_record(const FaultModel& model, const TestBatch& batch) {
  const py::object kind = record_type("BatchedTest");
  py::list chosen;
  for (const BatchedTest& one : batch.chosen) {
    const Variable& test = model.variable(one.test);
    chosen.append(kind(test.name, shown(test), one.gain_bits, one.cost, test.procedure,
                       cautions_of(model, one.test, batch.opens, batch.brings)));
  }
  return record_type("TestBatch")(names_as_tuple(model, batch.targets), as_records(chosen),
                                  names_as_tuple(model, batch.order), batch.gain_bits, batch.cost, batch.gain_per_cost,
                                  batch.minutes, batch.money, batch.wait_minutes, as_tuple(batch.opens),
                                  as_tuple(batch.brings), end_text(batch.end), left_out_records(model, batch.left_out),
                                  model.header().currency, model.header().safety);
}

py::object batched(HeldCase& held, py::handle access, py::handle condition, py::handle targets, py::handle tests,
                   py::handle by, py::handle means, py::handle max_tests, py::handle max_outcomes) {
  const FaultModel& model = held.current.model();
  TestBatchOptions options;
  options.ranking = options_of(model, targets, tests, py::none(), by, means);
  if (!access.is_none()) options.access = name_of(access, "access");
  if (!condition.is_none()) options.condition = name_of(condition, "condition");
  options.max_tests = count_of(max_tests, "max_tests");
  options.max_outcomes = count_of(max_outcomes, "max_outcomes");
  const TestBatch batch = locked(held, [&](const Case& current) { return best_batch(current, options); });
  return batch_record(model, batch);
}

}  // namespace

void bind_decision(py::module_& module) {
  module.def("rank_tests", &ranked, py::arg("case"), py::kw_only(), py::arg("targets") = py::none(),
             py::arg("tests") = py::none(), py::arg("gain") = py::none(), py::arg("by") = "gain_per_cost",
             py::arg("means") = py::none(), py::arg("effects") = true, py::arg("leading") = 5,
             R"(Ranks the tests not yet done by what they are expected to tell for their cost.

targets: the faults in question, by the names of components; by default those that can account for an abnormal finding.
tests: to rank; by default every test without a finding. gain: "joint" for I(F; T | findings) of the joint state of the
targets (tests for which that is out of reach are left out), or "per_component" for the sum over them, in bits; None: joint
where it is in reach for every test, otherwise per component. The result says which it is. by: "gain_per_cost", "gain", "cost" or "gain_per_minute";
ties go to the cheaper test, then to model order. means: a Means; tests
beyond it are left out, and costs count what it says is open and in place. effects: work out what each outcome would do to the `leading` most
probable faults.

Returns a Ranking. The case is not changed, and the interpreter lock is released while computing. Raises UnknownName,
ArgumentError, TooLarge.)");
  module.def(
      "look_ahead", &looked_ahead, py::arg("case"), py::kw_only(), py::arg("targets") = py::none(),
      py::arg("tests") = py::none(), py::arg("gain") = py::none(), py::arg("by") = "gain_per_cost",
      py::arg("means") = py::none(), py::arg("candidates") = 10,
      R"(Looks two tests ahead: what the best tests are worth when the outcome of the first decides which comes second.

The `candidates` best tests of rank_tests (which takes the other arguments) are looked at, as the first and as the second
test. After each outcome of the first the second is the one that leads the ranking of the others, with the faults in question
kept and the access that the first has opened. Exact: the same as entering each outcome into a copy of the case.

Returns a LookAhead, its tests in the order of what `by` says of two tests. The case is not changed, and the interpreter
lock is released while computing. Raises UnknownName, ArgumentError, TooLarge.)");
  module.def(
      "best_batch", &batched, py::arg("case"), py::kw_only(), py::arg("access") = py::none(),
      py::arg("condition") = py::none(), py::arg("targets") = py::none(), py::arg("tests") = py::none(),
      py::arg("by") = "gain_per_cost", py::arg("means") = py::none(), py::arg("max_tests") = 6,
      py::arg("max_outcomes") = 64,
      R"(Tests to do together before any outcome is looked at: behind one access job, on one drive, or for one visit.

access: only tests behind this access job. condition: only tests that need this condition. The batch is put together
greedily: it begins with the best test with all its set-ups, and goes on with the one that makes the batch best, as long as
it grows better. What it tells is exact, from all combinations of outcomes (at most `max_outcomes`); a greedy set need
not be the best one. The other arguments are those of rank_tests; by: "gain_per_cost", "gain" or "gain_per_minute".

Returns a TestBatch. The case is not changed, and the interpreter lock is released while computing. Raises UnknownName,
ArgumentError, TooLarge.)");
  module.def(
      "faults_in_question",
      [](HeldCase& held) {
        const auto components = locked(held, [](const Case& current) { return faults_in_question(current); });
        return names_as_tuple(held.current.model(), components);
      },
      py::arg("case"), R"(Names of the components that can account for an abnormal finding; all if there is none.

Raises ArgumentError if the model has no components.)");
  module.def(
      "leading_faults",
      [](HeldCase& held, py::handle components, py::handle most) {
        const FaultModel& model = held.current.model();
        const std::size_t count = most.is_none() ? std::numeric_limits<std::size_t>::max() : count_of(most, "most");
        const bool chosen = !components.is_none();
        const auto named = chosen ? variables_of(model, components, "components") : std::vector<std::size_t>();
        const auto faults = locked(held, [&](const Case& current) {
          return leading_faults(current, chosen ? named : faults_in_question(current), count);
        });
        return fault_records(model, faults);
      },
      py::arg("case"), py::arg("components") = py::none(), py::arg("most") = py::none(),
      R"(Fault probabilities of the components named (by default the faults in question), most probable first.

Returns LeadingFaults, at most `most` of them; ties by model order. Raises UnknownName, ArgumentError.)");
}

}  // namespace faultodds::python

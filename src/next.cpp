// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <iostream>
#include <limits>
#include <memory>

#include "advice.hpp"
#include "advised_step.hpp"
#include "amounts.hpp"
#include "faultodds/io/model_file.hpp"
#include "findings.hpp"
#include "interrupt.hpp"
#include "next_options.hpp"
#include "program.hpp"
#include "readings.hpp"
#include "report.hpp"

namespace faultodds::program {
namespace {

struct NextOptions {
  std::string file;
  FindingTexts findings;
  RankTexts rank;
  EndCosts ends;
  std::size_t top = 5;
  Format format = Format::text;
};

Json faults_json(const FaultModel& model, const std::vector<FaultProbability>& faults) {
  Json list = Json::array();
  for (const FaultProbability& fault : faults) {
    const Variable& component = model.variable(fault.component);
    list.push_back({{"component", component.name},
                    {"state", component.states.at(fault.state).name},
                    {"probability", fault.probability}});
  }
  return list;
}

Json test_json(const Case& current, const Means& means, const TestForecast& forecast) {
  const FaultModel& model = current.model();
  const Variable& test = model.variable(forecast.test);
  Json outcomes = Json::object();
  Json effects = Json::object();
  for (const OutcomeForecast& outcome : forecast.outcomes) {
    const std::string& state = test.states.at(outcome.state).name;
    outcomes[state] = outcome.probability;
    effects[state] = faults_json(model, outcome.leading);
  }
  return {{"test", test.name},
          {"label", shown(test)},
          {"cautions", cautions_json(described(current, TestStep{forecast.test}, means).cautions)},
          {"procedure", as_test(test).procedure},
          {"gain_bits", forecast.gain_bits},
          {"cost", forecast.cost},
          {"gain_per_cost", forecast.gain_per_cost},
          {"minutes", forecast.minutes},
          {"money", forecast.money},
          {"wait_minutes", forecast.wait_minutes},
          {"opens", forecast.opens},
          {"brings", forecast.brings},
          {"outcomes", std::move(outcomes)},
          {"effects", std::move(effects)}};
}

/// What leads comes first, then by expected cost; tests that have none come last.
void sort_by_expected_cost(const Advice& advice, std::vector<TestForecast>& tests) {
  if (!advice.priced) {
    throw ArgumentError("--by", "expected-cost needs a complaint, and a model that says what handing over costs",
                        "add what was found with --finding, or give --hand-over COST", ErrorCode::nothing_given);
  }
  const auto cost_of_test = [&](const TestForecast& forecast) {
    const JobStep step = TestStep{forecast.test};
    if (advice.proposed.step == step) return -1.0;
    const auto at = std::find_if(advice.alternatives.begin(), advice.alternatives.end(),
                                 [&](const AdvisedStep& one) { return one.step == step && one.price; });
    return at == advice.alternatives.end() ? std::numeric_limits<double>::infinity() : at->price->in_the_end;
  };
  std::stable_sort(tests.begin(), tests.end(),
                   [&](const TestForecast& a, const TestForecast& b) { return cost_of_test(a) < cost_of_test(b); });
}

/// Names of the variables.
Json names_json(const FaultModel& model, const std::vector<VariableIndex>& variables) {
  Json names = Json::array();
  for (const VariableIndex variable : variables) names.push_back(model.variable(variable).name);
  return names;
}

Json next_json(const Case& current, const Advice& advice, const Means& means, std::size_t top) {
  const Ranking& ranking = advice.ranking;
  const FaultModel& model = current.model();
  Json tests = Json::array();
  for (const TestForecast& forecast : ranking.tests) {
    if (tests.size() == top) break;
    tests.push_back(test_json(current, means, forecast));
  }
  Json left_out = Json::array();
  for (const LeftOut& left : ranking.left_out) {
    left_out.push_back({{"test", model.variable(left.test).name},
                        {"reason", left.reason},
                        {"gain_bits", std::isfinite(left.gain_bits) ? Json(left.gain_bits) : Json()}});
  }
  Json json = {{"safety", model.header().safety},
               {"invented_data", model.header().invented},
               {"log_evidence", current.log_evidence()},
               {"gain", ranking.gain == GainKind::joint ? "joint" : "per-component"},
               {"entropy_bits", ranking.entropy_bits},
               {"entropy_is_bound", ranking.entropy_is_bound},
               {"targets", names_json(model, ranking.targets)},
               {"leading", faults_json(model, ranking.leading)},
               {"proposed", proposed_json(model, advice)},
               {"questions", questions_json(advice)},
               {"tests", std::move(tests)},
               {"left_out", std::move(left_out)}};
  if (advice.priced) json["choices"] = choices_json(advice);
  return json;
}

/// How to say what was found, once the test is done.
void show_how_to_answer(const Screen& screen, const Variable& test) {
  std::vector<std::string> outcomes;
  for (const State& state : test.states) outcomes.push_back(state.name);
  std::string reading;
  if (const std::optional<Reading>& measured = as_test(test).reading) {
    const std::string unit = measured->unit.empty() ? "" : ' ' + measured->unit;
    reading = "; or --reading \"" + test.name + "=NUMBER" + unit + '"';
  }
  screen.blank();
  screen.text("When done, add --finding \"" + test.name + "=STATE\" with one of: " + joined(outcomes) + reading, 0, 2);
}

void show_questions(const Screen& screen, const FaultModel& model, const AskStep& ask) {
  screen.heading("Ask first: nothing was found that is not as it should be");
  for (const VariableIndex variable : ask.variables) {
    const Variable& open = model.variable(variable);
    screen.text(asked(open) + "  [" + open.name + ']', 2, 2);
  }
}

/// The step that leads, with all that is to be known before it is taken.
void show_proposed(const Screen& screen, const FaultModel& model, const Advice& advice) {
  const AdvisedStep& step = advice.proposed;
  if (const auto* ask = std::get_if<AskStep>(&step.step)) {
    show_questions(screen, model, *ask);
  } else if (std::holds_alternative<TestStep>(step.step)) {
    show_test(screen, model, step);
    show_why(screen, advice, step);
  } else if (std::holds_alternative<RepairStep>(step.step)) {
    screen.heading("Next: repair now, " + percent(step.mends.value()) + " sure of the fault that this mends");
    show_repair(screen, model, step);
  } else if (std::holds_alternative<NoStep>(step.step)) {
    if (!advice.ranking.targets.empty()) screen.heading(step.label);
    if (!step.description.empty()) screen.text(step.description, 2);
  } else {
    screen.heading("Next: " + step_text(step));
    if (std::holds_alternative<HandOverStep>(step.step)) show_terms(screen, model, step);
  }
}

void show(const Screen& screen, const NextOptions& options, const Case& current, const Advice& advice) {
  const FaultModel& model = current.model();
  show_header(screen, model);
  show_findings(screen, current);
  show_readings(screen, model, options.findings.readings);
  if (!advice.ranking.leading.empty()) show_leading(screen, model, advice.ranking);
  if (advice.ranking.targets.empty()) {
    screen.heading("The state of every component is known: nothing is left to ask");
  }
  show_proposed(screen, model, advice);
  const auto* test = std::get_if<TestStep>(&advice.proposed.step);
  if (!advice.ranking.tests.empty() && (test == nullptr || options.top > 1)) {
    const std::string when = test == nullptr ? "Tests, as things are" : "After that, as things are";
    screen.heading(when + " (ranked by " + options.rank.by_in_words() + ')');
    show_tests(screen, model, advice.ranking, options.top, test == nullptr ? std::nullopt : std::optional(test->test));
    screen.text(
        "settles: the share of what is open about the cause that the test is expected to settle; bits: the same as an "
        "amount",
        2);
  }
  show_choices(screen, advice, 3);
  if (test != nullptr) show_how_to_answer(screen, model.variable(test->test));
  show_left_out(screen, advice);
}

int next(const NextOptions& options) {
  const FaultModel model = read_model(options.file);
  const Interruptible interruptible;
  Case current{Solver(model, {}, Interruptible::stop())};
  const StopScope scope(current, Interruptible::stop());
  current.add(read_findings(model, options.file, options.findings));
  const AdviceOptions wanted{.rules = {.ranking = rank_options(model, options.rank),
                                       .by_expected_cost = options.rank.by.empty() || options.rank.by_expected_cost(),
                                       .explain = false},
                             .means = means_of(model, options.rank),
                             .ends = options.ends};
  Advice advice = advise(current, wanted);
  if (options.rank.by_expected_cost()) sort_by_expected_cost(advice, advice.ranking.tests);
  if (options.format == Format::json) {
    const std::size_t top = options.top == 0 ? advice.ranking.tests.size() : options.top;
    print(next_json(current, advice, wanted.means, top));
  } else {
    show(Screen(std::cout, look_of_output()), options, current, advice);
  }
  return fine;
}

}  // namespace

void add_next(CLI::App& app, int& status) {
  auto options = std::make_shared<NextOptions>();
  CLI::App* command = app.add_subcommand("next", "Rank the tests by what they tell for their cost")->group("Commands");
  command->add_option("FILE", options->file, "Fault model or network (.json, .bif, .xml, .xmlbif, .uai; also .gz)")
      ->required();
  add_finding_options(*command, options->findings);
  add_rank_options(*command, options->rank);
  add_end_options(*command, options->ends);
  CLI::Option* top =
      command->add_option("--top", options->top, "Show this many tests (default: 5 as text, all as JSON)")
          ->check(CLI::Range(std::size_t{1}, std::size_t{1000000}))
          ->option_text("N");
  add_format(*command, options->format);
  command->footer(
      "Example:\n"
      "  faultodds next models/low-power-petrol.json \\\n"
      "    --finding low_power=present --finding code_p0171=present\n"
      "For a plain network, name the faults in question with --target and the\n"
      "variables that can be observed with --test.");
  command->callback([options, top, &status] {
    if (options->format == Format::json && top->count() == 0) options->top = 0;
    status = guarded(options->format, [&] { return next(*options); });
  });
}

}  // namespace faultodds::program

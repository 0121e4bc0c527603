// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cmath>
#include <iostream>
#include <limits>
#include <memory>

#include "advice.hpp"
#include "amounts.hpp"
#include "cost_choices.hpp"
#include "faultodds/io/model_file.hpp"
#include "findings.hpp"
#include "interrupt.hpp"
#include "next_options.hpp"
#include "program.hpp"
#include "readings.hpp"
#include "report.hpp"

namespace faultodds::program {
namespace {

struct Options {
  std::string file;
  FindingTexts findings;
  RankTexts rank;
  EndCosts ends;
  std::size_t top = 5;
  Format format = Format::text;
};

Json cautions_json(const FaultModel& model, const TestForecast& forecast) {
  Json cautions = Json::array();
  for (const std::string& name : cautions_of(model, forecast)) {
    const Term* term = find_term(model.parts().cautions, name);
    cautions.push_back({{"name", name},
                        {"label", term == nullptr ? "" : term->label},
                        {"text", term == nullptr ? "" : term->description}});
  }
  return cautions;
}

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

Json test_json(const FaultModel& model, const TestForecast& forecast) {
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
          {"cautions", cautions_json(model, forecast)},
          {"procedure", test.procedure},
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

/// Tests that the expected costs leave out, since they tell nothing about the hypotheses, come last.
void sort_by_expected_cost(Ranking& ranking, const std::optional<CostChoices>& costs) {
  if (!costs) {
    throw ArgumentError("--by", "expected-cost needs a complaint, and a model that says what handing over costs",
                        "add what was found with --finding, or give --hand-over COST");
  }
  const auto cost_of_test = [&](const TestForecast& forecast) {
    for (const PricedStep& step : costs->steps) {
      const bool is_it = step.step.kind == StepKind::test && costs->made.tests.at(step.step.index) == forecast.test;
      if (is_it) return step.expected_cost;
    }
    return std::numeric_limits<double>::infinity();
  };
  std::stable_sort(ranking.tests.begin(), ranking.tests.end(),
                   [&](const TestForecast& a, const TestForecast& b) { return cost_of_test(a) < cost_of_test(b); });
}

/// Names of the variables.
Json names_json(const FaultModel& model, const std::vector<std::size_t>& variables) {
  Json names = Json::array();
  for (const std::size_t variable : variables) names.push_back(model.variable(variable).name);
  return names;
}

Json ranking_json(const Case& current, const Ranking& ranking, std::size_t top,
                  const std::optional<CostChoices>& costs) {
  const FaultModel& model = current.model();
  Json tests = Json::array();
  for (const TestForecast& forecast : ranking.tests) {
    if (tests.size() == top) break;
    tests.push_back(test_json(model, forecast));
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
               {"tests", std::move(tests)},
               {"left_out", std::move(left_out)}};
  if (costs) json["choices"] = choices_json(model, *costs);
  return json;
}

void show(const Screen& screen, const Options& options, const Case& current, const Ranking& ranking,
          const std::optional<CostChoices>& costs) {
  const FaultModel& model = current.model();
  show_header(screen, model);
  show_findings(screen, current);
  show_readings(screen, model, options.findings.readings);
  if (!ranking.leading.empty()) show_leading(screen, model, ranking);
  if (ranking.targets.empty()) {
    screen.heading("The state of every component is known: nothing is left to ask");
  } else if (ranking.tests.empty()) {
    screen.heading("No test is left that tells anything about these faults");
  } else {
    const TestForecast& best = ranking.tests.front();
    show_test(screen, model, best);
    show_why(screen, model, ranking, best);
    if (ranking.tests.size() > 1 && options.top > 1) {
      screen.heading("After that, as things stand (ranked by " + options.rank.by_in_words() + ')');
      show_tests(screen, model, ranking, 1, options.top - 1);
      screen.text(
          "settles: the share of what is open about the cause that the test is expected to settle; bits: the same as "
          "an amount",
          2);
    }
    if (costs) show_choices(screen, model, *costs, 3, costs->proposed);
    std::vector<std::string> outcomes;
    for (const State& state : model.variable(best.test).states) outcomes.push_back(state.name);
    screen.blank();
    const Variable& test = model.variable(best.test);
    screen.text("When done, add --finding \"" + test.name + "=STATE\" with one of: " + joined(outcomes) +
                    (test.reading ? "; or --reading \"" + test.name + "=NUMBER" +
                                        (test.reading->unit.empty() ? "" : ' ' + test.reading->unit) + '"'
                                  : ""),
                0, 2);
  }
  show_left_out(screen, model, ranking);
}

int next(const Options& options) {
  const FaultModel model = read_model(options.file);
  const Interruptible interruptible;
  Case current{Solver(model, {}, Interruptible::stop())};
  const StopScope scope(current, Interruptible::stop());
  current.add(read_findings(model, options.file, options.findings));
  const RankOptions rank = rank_options(model, options.rank);
  Ranking ranking = rank_tests(current, rank);
  CaseProblemOptions weighing;
  weighing.hypotheses.components = rank.targets;
  weighing.tests = rank.tests;
  weighing.means = rank.means;
  weighing.ends = options.ends;
  const std::optional<CostChoices> costs = choices_of(current, std::move(weighing));
  if (options.rank.by_expected_cost()) sort_by_expected_cost(ranking, costs);
  if (options.format == Format::json) {
    print(ranking_json(current, ranking, options.top == 0 ? ranking.tests.size() : options.top, costs));
  } else {
    show(Screen(std::cout, look_of_output()), options, current, ranking, costs);
  }
  return fine;
}

}  // namespace

void add_next(CLI::App& app, int& status) {
  auto options = std::make_shared<Options>();
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

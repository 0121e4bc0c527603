// This library's part of peers.py: times the walk on one network in a loop of its own, and prints as JSON the walk, the
// posteriors at each of its steps, and the times.
//   faultodds_peer_loop NETWORK [SECONDS [--ranking]]
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <nlohmann/json.hpp>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "walkers.hpp"

namespace {

using namespace faultodds_benchmarks;
using Json = nlohmann::json;

double seconds_of(const auto& work) {
  const auto began = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
}

/// The least time of `work`, run again and again for this long, at least twice: the first run warms up.
double best_seconds(double spent, const auto& work) {
  double total = seconds_of(work);
  double best = std::numeric_limits<double>::infinity();
  do {
    const double once = seconds_of(work);
    best = std::min(best, once);
    total += once;
  } while (total < spent);
  return best;
}

/// Mean seconds of a step on the best of the walks; a walk ends as it began, so that the next one meets the same.
double seconds_a_step(double spent, std::size_t steps, const auto& take_step) {
  return best_seconds(spent,
                      [&] {
                        for (std::size_t i = 0; i < steps; ++i) take_step(i);
                      }) /
         static_cast<double>(steps);
}

Json walk_as_json(const faultodds::FaultModel& model, const std::vector<Step>& walk) {
  Json steps = Json::array();
  for (const Step& step : walk) {
    const faultodds::Variable& variable = model.variable(step.variable);
    steps.push_back({variable.name, step.state.has_value() ? Json(variable.states[*step.state].name) : Json(nullptr)});
  }
  return steps;
}

Json times_of_posteriors(const faultodds::Solver& solver, const std::vector<Step>& walk, double spent) {
  Json times;
  CaseWalker in_case(solver, walk);
  times["case"]["full"] = seconds_a_step(spent, walk.size(), [&](std::size_t i) { return in_case.full(i).size(); });
  times["case"]["incremental"] =
      seconds_a_step(spent, walk.size(), [&](std::size_t i) { return in_case.incremental(i).size(); });
  if (!solver.has_shared_tree()) return times;
  PropagationWalker in_place(solver, walk);
  times["in_place"]["full"] = seconds_a_step(spent, walk.size(), [&](std::size_t i) { return in_place.full(i); });
  times["in_place"]["incremental"] =
      seconds_a_step(spent, walk.size(), [&](std::size_t i) { return in_place.incremental(i); });
  return times;
}

Json posteriors_along(const faultodds::Solver& solver, const std::vector<Step>& walk) {
  Json along = Json::array();
  CaseWalker walker(solver, walk);
  for (std::size_t i = 0; i < walk.size(); ++i) along.push_back(walker.incremental(i));
  return along;
}

/// All leaves as tests, all roots as targets, no findings.
faultodds::RankOptions leaves_about_roots(const faultodds::FaultModel& model) {
  faultodds::RankOptions options;
  options.joint_only = true;
  options.effects = false;
  for (std::size_t variable = 0; variable < model.size(); ++variable) {
    if (model.parents(variable).empty()) options.targets.push_back(variable);
    if (model.children(variable).empty()) options.tests.push_back(variable);
  }
  return options;
}

Json names_of(const faultodds::FaultModel& model, const std::vector<faultodds::VariableIndex>& variables) {
  Json names = Json::array();
  for (const std::size_t variable : variables) names.push_back(model.variable(variable).name);
  return names;
}

Json time_ranking(const faultodds::Solver& solver, faultodds::RankOptions options, faultodds::GainKind gain,
                  double spent) {
  const faultodds::FaultModel& model = solver.model();
  options.gain = gain;
  Json result;
  result["seconds"] = best_seconds(spent, [&] { return faultodds::rank_tests(faultodds::Case(solver), options); });
  for (const faultodds::TestForecast& test : faultodds::rank_tests(faultodds::Case(solver), options).tests) {
    result["gain_bits"][model.variable(test.test).name] = test.gain_bits;
  }
  return result;
}

Json measure_ranking(const std::string& path, double spent) {
  const faultodds::Solver solver(faultodds::read_model(path));
  const faultodds::RankOptions options = leaves_about_roots(solver.model());
  return {{"tests", names_of(solver.model(), options.tests)},
          {"targets", names_of(solver.model(), options.targets)},
          {"joint", time_ranking(solver, options, faultodds::GainKind::joint, spent)},
          {"per_component", time_ranking(solver, options, faultodds::GainKind::per_component, spent)}};
}

Json measure(const std::string& path, double spent) {
  const faultodds::FaultModel model = faultodds::read_model(path);
  std::optional<faultodds::Solver> solver;
  Json report;
  report["compile_seconds"] = seconds_of([&] { solver.emplace(model); });
  const std::vector<Step> walk = make_walk(*solver);
  report["walk"] = walk_as_json(model, walk);
  for (const faultodds::Variable& variable : model.variables()) {
    Json states = Json::array();
    for (const faultodds::State& state : variable.states) states.push_back(state.name);
    report["variables"].push_back({variable.name, states});
  }
  report["seconds"] = times_of_posteriors(*solver, walk, spent);
  report["posteriors"] = posteriors_along(*solver, walk);
  if (solver->has_shared_tree()) report["kept_entries"] = kept_entries(*solver->shared_tree());
  return report;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 2) {
    std::cerr << "usage: faultodds_peer_loop NETWORK [SECONDS [--ranking]]\n";
    return 2;
  }
  const double spent = count > 2 ? std::atof(arguments[2]) : 0.5;
  try {
    if (count > 3 && std::string_view(arguments[3]) == "--ranking") {
      std::cout << measure_ranking(arguments[1], spent);
    } else {
      std::cout << measure(arguments[1], spent);
    }
  } catch (const faultodds::Error& error) {
    std::cerr << error.what() << '\n';
    return 1;
  }
  return 0;
}

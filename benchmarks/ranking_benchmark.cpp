// The next test: gains of all tests at once, beside entering every outcome into a copy of the case and asking again.
// SPDX-License-Identifier: BSD-3-Clause
#include <chrono>

#include "faultodds/decision/ranking/information.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;
using Clock = std::chrono::steady_clock;

// In a plain network nothing is called a component or a test: those that can be observed serve as tests, and in
// question are the variables without parents, or the parents of the tests.
faultodds::RankOptions options_for(const faultodds::Case& current, faultodds::GainKind gain, bool roots) {
  const faultodds::FaultModel& model = current.model();
  faultodds::RankOptions options;
  options.gain = gain;
  options.joint_only = true;
  options.effects = false;
  if (!model.with_role(faultodds::Role::component).empty()) return options;
  options.tests = observable(model);
  std::erase_if(options.tests, [&current](std::size_t test) { return current.finding_of(test) != nullptr; });
  std::vector<bool> in_question(model.size(), false);
  for (std::size_t variable = 0; variable < model.size(); ++variable) {
    if (roots && model.parents(variable).empty()) in_question[variable] = true;
  }
  for (const std::size_t test : options.tests) {
    if (roots) break;
    for (const std::size_t parent : model.parents(test)) in_question[parent] = true;
  }
  for (std::size_t variable = 0; variable < model.size(); ++variable) {
    if (in_question[variable]) options.targets.push_back(variable);
  }
  return options;
}

/// The same gains by entering each outcome: for gains per component all posteriors, otherwise the targets' joint
/// entropy. Returns how many outcomes were entered.
std::size_t enter_each_outcome(const faultodds::Case& current, const faultodds::Ranking& ranking,
                               double joint_entries) {
  std::size_t entered = 0;
  for (const faultodds::TestForecast& forecast : ranking.tests) {
    for (const faultodds::OutcomeForecast& outcome : forecast.outcomes) {
      if (outcome.probability <= 0.0) continue;
      std::vector<double> weights(forecast.outcomes.size(), 0.0);
      weights[outcome.state] = 1.0;
      faultodds::Case next = current;
      next.change({.variable = forecast.test, .weights = weights, .state = outcome.state});
      if (ranking.gain == faultodds::GainKind::joint) {
        benchmark::DoNotOptimize(faultodds::joint_entropy_bits(next, ranking.targets, joint_entries));
      } else {
        benchmark::DoNotOptimize(next.posteriors());
      }
      ++entered;
    }
  }
  return entered;
}

void rank(benchmark::State& state, const NamedFile& file, faultodds::GainKind gain, bool roots) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = case_with_findings(solver, 1);
  const faultodds::RankOptions options = options_for(current, gain, roots);
  faultodds::Ranking ranking;
  double seconds = 0.0;
  for (auto _ : state) {
    const auto began = Clock::now();
    ranking = faultodds::rank_tests(current, options);
    seconds += std::chrono::duration<double>(Clock::now() - began).count();
  }
  seconds /= static_cast<double>(state.iterations());
  const auto began = Clock::now();
  const std::size_t outcomes = enter_each_outcome(current, ranking, options.joint_entries);
  const double entering = std::chrono::duration<double>(Clock::now() - began).count();
  state.counters["tests"] = static_cast<double>(ranking.tests.size());
  state.counters["left_out"] = static_cast<double>(ranking.left_out.size());
  state.counters["outcomes"] = static_cast<double>(outcomes);
  state.counters["times_faster_than_entering"] = entering / seconds;
}

const bool per_component = for_each_model("ranking/per_component", [](benchmark::State& state, const NamedFile& file) {
  rank(state, file, faultodds::GainKind::per_component, true);
});
const bool joint = for_each_model("ranking/joint", [](benchmark::State& state, const NamedFile& file) {
  rank(state, file, faultodds::GainKind::joint, true);
});
const bool parents = for_each_model("ranking/joint_about_parents", [](benchmark::State& state, const NamedFile& file) {
  rank(state, file, faultodds::GainKind::joint, false);
});

const bool ahead = for_each_model("ranking/two_tests_ahead", [](benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = case_with_findings(solver, 1);
  const faultodds::LookAheadOptions options{options_for(current, faultodds::GainKind::joint, true)};
  for (auto _ : state) benchmark::DoNotOptimize(faultodds::look_ahead(current, options));
});

}  // namespace

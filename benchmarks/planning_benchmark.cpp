// Planning on the models of this repository: the problem of a case, its steps by expected cost, repairs that did not
// help, and the whole advice of a job.
//
// `at_complaint`: the first symptom is there, and nothing else is known. `later`: five tests more, each the one that
// tells most for its cost, with its most probable outcome.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <functional>
#include <optional>

#include "allocations.hpp"
#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/job/job.hpp"
#include "networks.hpp"
#include "walk.hpp"

namespace {

using namespace faultodds_benchmarks;

faultodds::Case at_complaint(const faultodds::Solver& solver) {
  faultodds::Case current(solver);
  const faultodds::FaultModel& model = solver.model();
  current.add(hard_finding(model, model.with_role(faultodds::Role::symptom)[0], 1));
  return current;
}

void add_likely_outcome(faultodds::Case& current, std::size_t test) {
  const std::vector<double> posterior = current.posterior(test);
  const auto likely = std::max_element(posterior.begin(), posterior.end());
  current.add(hard_finding(current.model(), test, static_cast<std::size_t>(likely - posterior.begin())));
}

faultodds::Case later(const faultodds::Solver& solver) {
  faultodds::Case current = at_complaint(solver);
  for (int i = 0; i < 5; ++i) {
    const faultodds::Ranking ranking = faultodds::rank_tests(current);
    if (ranking.tests.empty()) break;
    add_likely_outcome(current, ranking.tests.front().test);
  }
  return current;
}

using Start = faultodds::Case (*)(const faultodds::Solver&);

void count_allocations(benchmark::State& state, std::size_t before) {
  state.counters["allocations"] =
      benchmark::Counter(static_cast<double>(allocations_so_far() - before), benchmark::Counter::kAvgIterations);
}

/// With the assumption that advice makes.
faultodds::CaseProblem problem_for(const faultodds::Case& current) {
  faultodds::CaseProblemOptions options;
  if (!faultodds::allows_one_fault(current)) {
    options.hypotheses.assumption = faultodds::FaultAssumption::several_faults;
  }
  return faultodds::problem_of(current, options);
}

void make_problem(benchmark::State& state, const NamedFile& file, Start start) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = start(solver);
  benchmark::DoNotOptimize(problem_for(current));
  const std::size_t before = allocations_so_far();
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(problem_for(current));
  count_allocations(state, before);
}

void weigh(benchmark::State& state, const NamedFile& file, Start start) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = start(solver);
  const std::size_t before = allocations_so_far();
  for ([[maybe_unused]] auto _ : state) {
    const faultodds::CaseProblem made = problem_for(current);
    benchmark::DoNotOptimize(faultodds::weigh_steps(made.problem, faultodds::start_of(made.problem)));
  }
  count_allocations(state, before);
}

/// A repair of the most likely fault that has one which was not done yet.
std::optional<std::size_t> next_repair(const faultodds::Case& current, const std::vector<std::size_t>& done) {
  const auto components = current.model().with_role(faultodds::Role::component);
  for (const faultodds::FaultProbability& fault :
       faultodds::leading_faults(current, components, std::numeric_limits<std::size_t>::max())) {
    const std::vector<faultodds::Repair>& repairs = current.model().parts().repairs;
    for (std::size_t r = 0; r < repairs.size(); ++r) {
      const bool is_done = std::find(done.begin(), done.end(), r) != done.end();
      if (!is_done && faultodds::can_mend(repairs[r], fault.component, fault.state)) return r;
    }
  }
  return std::nullopt;
}

/// A repair, a check that says "still there", and the posteriors of all components after it; `earlier` repairs that
/// did not help came before.
void repair_in_vain(benchmark::State& state, const NamedFile& file, std::size_t earlier) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  std::vector<std::size_t> done;
  faultodds::Job job(solver);
  job.add(at_complaint(solver).findings().front());
  for (std::size_t i = 0; i < earlier; ++i) {
    const auto repair = next_repair(job.current(), done);
    if (!repair) return state.SkipWithError("there are fewer repairs");
    job.add_repair(*repair, faultodds::CheckResult::still_there);
    done.push_back(*repair);
  }
  const auto repair = next_repair(job.current(), done);
  if (!repair) return state.SkipWithError("there are fewer repairs");
  const auto components = solver.model().with_role(faultodds::Role::component);
  const std::size_t before = allocations_so_far();
  std::size_t bytes = 0;
  for ([[maybe_unused]] auto _ : state) {
    const std::size_t in_use = bytes_in_use();
    job.add_repair(*repair, faultodds::CheckResult::still_there);
    for (const std::size_t component : components) {
      benchmark::DoNotOptimize(job.current().posterior_view(component).data());
    }
    bytes = bytes_in_use() - in_use;
    job.undo();
  }
  count_allocations(state, before);
  state.counters["bytes"] = static_cast<double>(bytes);
}

void advise(benchmark::State& state, const NamedFile& file, Start start) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = start(solver);
  faultodds::AdviceOptions options;
  const std::size_t before = allocations_so_far();
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(faultodds::advise(current, options));
  count_allocations(state, before);
}

using Body = std::function<void(benchmark::State&, const NamedFile&)>;

void add(const std::string& title, const Body& body) {
  for (const NamedFile& file : model_files()) {
    if (file.path.extension() != ".json" || file.name == "tutorial") continue;
    benchmark::RegisterBenchmark((title + '/' + file.name).c_str(), [body, file](benchmark::State& state) {
      body(state, file);
    })->Unit(benchmark::kMillisecond);
  }
}

void add_both(const std::string& title, void (*body)(benchmark::State&, const NamedFile&, Start)) {
  add(title + "/at_complaint",
      [=](benchmark::State& state, const NamedFile& file) { body(state, file, at_complaint); });
  add(title + "/later", [=](benchmark::State& state, const NamedFile& file) { body(state, file, later); });
}

bool add_all() {
  add_both("planning/problem", make_problem);
  add_both("planning/weigh_steps", weigh);
  for (const std::size_t earlier : {0, 1, 3, 7}) {
    add("planning/repair_in_vain/" + std::to_string(earlier + 1),
        [=](benchmark::State& state, const NamedFile& file) { repair_in_vain(state, file, earlier); });
  }
  add_both("planning/advice", advise);
  return true;
}

const bool registered = add_all();

}  // namespace

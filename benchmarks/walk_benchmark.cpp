// Jobs on the models of this repository: what one further finding costs, and the advice after it.
//
// A job is a vehicle drawn from the model: what it has in context first, then a complaint, then tests and symptoms in
// random order, each with an outcome drawn from its posterior. Three ways to go through jobs:
// `again`: the same few jobs over and over; `mixed`: jobs never seen before, through one solver; `fresh`: each job
// through a solver of its own, so that nothing has been worked out before. Only what the title says is timed.
// SPDX-License-Identifier: BSD-3-Clause
#include <array>
#include <chrono>
#include <functional>
#include <memory>
#include <numeric>
#include <random>

#include "allocations.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/inference/batch.hpp"
#include "faultodds/inference/network/conditional_row.hpp"
#include "faultodds/inference/network/uniform.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"
#include "walk.hpp"

namespace {

using namespace faultodds_benchmarks;
using Clock = std::chrono::steady_clock;
using Job = std::vector<faultodds::Finding>;

constexpr std::size_t findings_in_a_job = 14;

std::size_t draw(std::span<const double> probabilities, std::mt19937_64& random) {
  double at = faultodds::detail::uniform(random());
  std::size_t state = 0;
  while (state + 1 < probabilities.size() && (at -= probabilities[state]) >= 0.0) ++state;
  while (probabilities[state] <= 0.0) --state;
  return state;
}

/// Two facts of context, one symptom that is present, and then whatever comes, as it would be found.
Job draw_job(const faultodds::Solver& solver, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const faultodds::FaultModel& model = solver.model();
  faultodds::Case current(solver);
  const auto enter = [&](std::size_t variable, std::size_t state) {
    current.add(hard_finding(model, variable, state));
  };
  std::vector<faultodds::VariableIndex> context = model.with_role(faultodds::Role::context);
  std::vector<faultodds::VariableIndex> symptoms = model.with_role(faultodds::Role::symptom);
  std::shuffle(context.begin(), context.end(), random);
  std::shuffle(symptoms.begin(), symptoms.end(), random);
  for (std::size_t i = 0; i < 2 && i < context.size(); ++i) {
    enter(context[i], draw(current.posterior(context[i]), random));
  }
  if (!symptoms.empty()) enter(symptoms[0], 1);
  std::vector<faultodds::VariableIndex> others = observable(model);
  std::shuffle(others.begin(), others.end(), random);
  for (const std::size_t variable : others) {
    if (current.findings().size() >= findings_in_a_job) break;
    if (current.finding_of(variable) == nullptr) enter(variable, draw(current.posterior(variable), random));
  }
  return current.findings();
}

enum class Way { again, mixed, fresh };

/// Times `work` after each finding of job after job, by the finding; `enter` says whether entering it counts.
template <typename Work>
void go_through_jobs(benchmark::State& state, const NamedFile& file, Way way, bool enter, Work work) {
  static constexpr std::size_t few = 3;
  const faultodds::FaultModel model = faultodds::read_model(file.path);
  faultodds::Solver solver(model);
  const faultodds::Solver drawing(model);
  std::vector<Job> jobs;
  for (std::size_t i = 0; i < few; ++i) jobs.push_back(draw_job(drawing, i));
  std::size_t number = 0;
  std::size_t allocated = 0;
  std::size_t steps = 0;
  const auto next_job = [&] {
    if (way == Way::again) return jobs[number++ % few];
    if (way == Way::fresh) solver = faultodds::Solver(model);
    return draw_job(drawing, ++number);
  };
  const auto run = [&](const Job& job) {
    faultodds::Case current(solver);
    double seconds = 0.0;
    for (const faultodds::Finding& finding : job) {
      if (!enter) current.add(finding);
      const std::size_t before = allocations_so_far();
      const auto begin = Clock::now();
      if (enter) current.add(finding);
      work(current);
      seconds += std::chrono::duration<double>(Clock::now() - begin).count();
      allocated += allocations_so_far() - before;
      ++steps;
    }
    return seconds / static_cast<double>(job.size());
  };
  if (way == Way::again) {
    for (std::size_t i = 0; i < few; ++i) run(next_job());
  }
  allocated = steps = 0;
  for ([[maybe_unused]] auto _ : state) state.SetIterationTime(run(next_job()));
  state.counters["allocations"] = static_cast<double>(allocated) / static_cast<double>(std::max<std::size_t>(1, steps));
}

void read_components(const faultodds::Case& current) {
  const std::vector<faultodds::Variable>& variables = current.model().variables();
  for (std::size_t v = 0; v < variables.size(); ++v) {
    if (variables[v].role() == faultodds::Role::component) benchmark::DoNotOptimize(current.posterior_view(v).data());
  }
}

void read_everything(const faultodds::Case& current) { benchmark::DoNotOptimize(current.posteriors()); }

void rank(const faultodds::Case& current) { benchmark::DoNotOptimize(faultodds::rank_tests(current)); }

void look_two_ahead(const faultodds::Case& current) {
  faultodds::LookAheadOptions options;
  options.candidates = 10;
  benchmark::DoNotOptimize(faultodds::look_ahead(current, options));
}

/// The complaint alone, as advice is asked for first.
template <auto work>
void at_complaint(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  faultodds::Case current(solver);
  const faultodds::FaultModel& model = solver.model();
  current.add(hard_finding(model, model.with_role(faultodds::Role::symptom)[0], 1));
  work(current);
  const std::size_t before = allocations_so_far();
  for ([[maybe_unused]] auto _ : state) work(current);
  state.counters["allocations"] =
      benchmark::Counter(static_cast<double>(allocations_so_far() - before), benchmark::Counter::kAvgIterations);
}

void read_and_compile(benchmark::State& state, const NamedFile& file) {
  const std::size_t before = allocations_so_far();
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(faultodds::Solver(faultodds::read_model(file.path)));
  state.counters["allocations"] =
      benchmark::Counter(static_cast<double>(allocations_so_far() - before), benchmark::Counter::kAvgIterations);
}

/// Bytes that a case with three findings adds, its junction tree included if nobody else has it; and without.
void memory_of_a_case(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  Job job = draw_job(solver, 0);
  job.resize(3);
  const faultodds::Solver fresh(solver.model());
  const std::size_t before = bytes_in_use();
  faultodds::Case first(fresh);
  first.add(job);
  read_components(first);
  const std::size_t between = bytes_in_use();
  faultodds::Case second(fresh);
  second.add(job);
  read_components(second);
  const std::size_t after = bytes_in_use();
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(second.log_evidence());
  state.counters["first"] = static_cast<double>(between - before);
  state.counters["further"] = static_cast<double>(after - between);
}

/// One vehicle drawn from the whole model: a state for each variable.
std::vector<std::int32_t> draw_vehicle(const faultodds::FaultModel& model, std::mt19937_64& random) {
  std::vector<std::int32_t> states(model.size(), 0);
  for (const std::size_t v : model.topological_order()) {
    std::vector<double> row(model.state_count(v));
    faultodds::detail::conditional_row(model, v, row,
                                       [&](std::size_t parent) { return static_cast<std::size_t>(states[parent]); });
    states[v] = static_cast<std::int32_t>(draw(row, random));
  }
  return states;
}

/// Which columns a row observes, chosen anew for each row or once for many.
std::vector<std::vector<std::size_t>> draw_patterns(std::size_t columns, std::size_t count, std::size_t observed) {
  std::mt19937_64 random(count);
  std::vector<std::vector<std::size_t>> patterns;
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<std::size_t> all(columns);
    std::iota(all.begin(), all.end(), std::size_t{0});
    std::shuffle(all.begin(), all.end(), random);
    all.resize(std::min(observed, columns));
    patterns.push_back(std::move(all));
  }
  return patterns;
}

/// Vehicles drawn from the model, each with 30 findings on symptoms, tests and context; all posteriors of components.
void answer_many(benchmark::State& state, const NamedFile& file, std::size_t rows_of_a_pattern) {
  static constexpr std::size_t count = 4000;
  static constexpr std::size_t observed = 30;
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::FaultModel& model = solver.model();
  faultodds::CaseRows rows;
  rows.count = count;
  rows.variables = observable(model);
  for (const std::size_t v : model.with_role(faultodds::Role::context)) rows.variables.push_back(v);
  const auto patterns = draw_patterns(rows.variables.size(), count / rows_of_a_pattern, observed);
  std::vector<std::int32_t> states(count * rows.variables.size(), faultodds::not_observed);
  std::mt19937_64 random(1);
  for (std::size_t row = 0; row < count; ++row) {
    const std::vector<std::int32_t> vehicle = draw_vehicle(model, random);
    for (const std::size_t column : patterns[row / rows_of_a_pattern]) {
      states[row * rows.variables.size() + column] = vehicle[rows.variables[column]];
    }
  }
  rows.states = states;
  const std::vector<faultodds::VariableIndex> components = model.with_role(faultodds::Role::component);
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(faultodds::answer_cases(solver, rows, components));
  state.counters["cases/s"] =
      benchmark::Counter(static_cast<double>(count), benchmark::Counter::kIsIterationInvariantRate);
}

using Body = void (*)(benchmark::State&, const NamedFile&);

void add(const std::string& title, const std::function<void(benchmark::State&, const NamedFile&)>& body, bool manual) {
  for (const NamedFile& file : model_files()) {
    if (file.path.extension() != ".json" || file.name == "tutorial") continue;
    auto* const made = benchmark::RegisterBenchmark((title + '/' + file.name).c_str(),
                                                    [body, file](benchmark::State& state) { body(state, file); });
    made->Unit(benchmark::kMillisecond);
    if (manual) made->UseManualTime();
  }
}

void add_ways(const std::string& title, bool enter, void (*work)(const faultodds::Case&)) {
  const std::array<std::pair<const char*, Way>, 3> ways{
      {{"again", Way::again}, {"mixed", Way::mixed}, {"fresh", Way::fresh}}};
  for (const auto& [name, way] : ways) {
    add(
        "walk/" + title + '/' + name,
        [=, way = way](benchmark::State& state, const NamedFile& file) {
          go_through_jobs(state, file, way, enter, work);
        },
        true);
  }
}

bool add_all() {
  add_ways("components", true, read_components);
  add_ways("everything", true, read_everything);
  add_ways("ranking", false, rank);
  add("walk/ranking/at_complaint", Body(at_complaint<rank>), false);
  add("walk/two_ahead/at_complaint", Body(at_complaint<look_two_ahead>), false);
  add("walk/read_and_compile", Body(read_and_compile), false);
  add("walk/memory", Body(memory_of_a_case), false);
  add(
      "walk/batch/any_pattern", [](auto& state, const NamedFile& file) { answer_many(state, file, 1); }, false);
  add(
      "walk/batch/hundred_alike", [](auto& state, const NamedFile& file) { answer_many(state, file, 100); }, false);
  return true;
}

const bool registered = add_all();

}  // namespace

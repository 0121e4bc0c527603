// The most probable sets of faults, and the most probable joint state of everything, after three findings.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/io/model_file.hpp"
#include "networks.hpp"

namespace {

using namespace faultodds_benchmarks;

constexpr std::size_t findings = 3;
constexpr std::size_t wanted = 5;

/// In a plain network, the first ten variables without parents.
std::vector<faultodds::VariableIndex> in_question(const faultodds::FaultModel& model) {
  static constexpr std::size_t most = 10;
  std::vector<faultodds::VariableIndex> variables;
  if (!model.with_role(faultodds::Role::component).empty()) return variables;
  for (std::size_t variable = 0; variable < model.size() && variables.size() < most; ++variable) {
    if (model.parents(variable).empty()) variables.push_back(variable);
  }
  return variables;
}

void sets_of_faults(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = case_with_findings(solver, findings);
  const std::vector<faultodds::VariableIndex> variables = in_question(solver.model());
  for (auto _ : state) {
    benchmark::DoNotOptimize(faultodds::explain(current, variables, wanted));
  }
}

void everything(benchmark::State& state, const NamedFile& file) {
  const faultodds::Solver solver(faultodds::read_model(file.path));
  const faultodds::Case current = case_with_findings(solver, findings);
  for (auto _ : state) {
    benchmark::DoNotOptimize(faultodds::most_probable_explanations(current, 1));
  }
}

const bool registered = for_each_model("explanations/sets_of_faults", sets_of_faults) &&
                        for_each_model("explanations/everything", everything);

}  // namespace

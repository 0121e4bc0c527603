// SPDX-License-Identifier: BSD-3-Clause
#include "walk.hpp"

#include <algorithm>
#include <random>
#include <utility>

#include "faultodds/inference/network/uniform.hpp"
#include "networks.hpp"

namespace faultodds_benchmarks {

namespace {

std::size_t drawn(const std::vector<double>& probabilities, double at) {
  std::size_t last_possible = 0;
  for (std::size_t state = 0; state < probabilities.size(); ++state) {
    if (probabilities[state] <= 0.0) continue;
    last_possible = state;
    at -= probabilities[state];
    if (at < 0.0) break;
  }
  return last_possible;
}

std::optional<std::size_t> max_probable_other(std::vector<double> probabilities, std::size_t state) {
  static constexpr double possible = 1e-9;
  probabilities[state] = 0.0;
  const auto best = std::max_element(probabilities.begin(), probabilities.end());
  if (*best < possible) return std::nullopt;
  return static_cast<std::size_t>(best - probabilities.begin());
}

}  // namespace

faultodds::Finding hard_finding(const faultodds::FaultModel& model, std::size_t variable, std::size_t state) {
  std::vector<double> weights(model.state_count(variable), 0.0);
  weights[state] = 1.0;
  return {.variable = variable, .weights = std::move(weights), .state = state};
}

std::vector<Step> make_walk(const faultodds::Solver& solver, std::size_t most, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::vector<faultodds::VariableIndex> variables = observable(solver.model());
  const std::size_t count = std::min(most, variables.size());
  for (std::size_t i = 0; i < count; ++i) std::swap(variables[i], variables[i + random() % (variables.size() - i)]);
  variables.resize(count);

  std::vector<Step> walk;
  faultodds::Case current(solver);
  for (const std::size_t variable : variables) {
    walk.push_back({variable, drawn(current.posterior(variable), faultodds::detail::uniform(random()))});
    current.add_finding(variable, *walk.back().state);
  }
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t known = *current.finding_of(variables[i])->state;
    current.take_back(variables[i]);
    const std::size_t state = max_probable_other(current.posterior(variables[i]), known).value_or(known);
    current.add_finding(variables[i], state);
    if (state != known) walk.push_back({variables[i], state});
  }
  for (const std::size_t variable : variables) walk.push_back({variable, std::nullopt});
  return walk;
}

std::vector<std::vector<faultodds::Finding>> findings_along(const faultodds::FaultModel& model,
                                                            const std::vector<Step>& walk) {
  std::vector<std::vector<faultodds::Finding>> along;
  std::vector<faultodds::Finding> findings;
  for (const Step& step : walk) {
    std::erase_if(findings, [&step](const faultodds::Finding& known) { return known.variable == step.variable; });
    if (step.state.has_value()) findings.push_back(hard_finding(model, step.variable, *step.state));
    along.push_back(findings);
  }
  return along;
}

}  // namespace faultodds_benchmarks

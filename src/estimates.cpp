// SPDX-License-Identifier: BSD-3-Clause
#include "estimates.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "advice.hpp"

namespace faultodds::program {
namespace {

/// Below so many effective samples the standard errors themselves are uncertain; common practice, no source.
constexpr double few_samples = 100.0;

Json estimate_json(const Estimate& estimate) {
  return {{"estimate", estimate.value}, {"standard_error", estimate.standard_error}};
}

/// "+- 0.3 %".
std::string error_text(const Look& look, const Estimate& estimate) {
  return (look.unicode ? "\u00b1 " : "+- ") +
         (estimate.standard_error > 0.0 ? percent(estimate.standard_error) : std::string("0 %"));
}

void show_faults(const Screen& screen, const FaultModel& model, std::span<const VariableIndex> variables,
                 const SampledPosteriors& sampled) {
  std::vector<BarRow> rows;
  for (const std::size_t v : variables) {
    if (model.variable(v).role() != Role::component) continue;
    for (std::size_t s = 1; s < model.state_count(v); ++s) {
      const Estimate& estimate = sampled.of_variable[v][s];
      rows.push_back({fault_text(model, v, s), estimate.value, error_text(screen.look(), estimate)});
    }
  }
  if (rows.empty()) return;
  std::stable_sort(rows.begin(), rows.end(), [](const BarRow& a, const BarRow& b) { return a.share > b.share; });
  screen.heading("Faults, estimate and standard error");
  screen.bars(rows);
}

void show_others(const Screen& screen, const FaultModel& model, std::span<const VariableIndex> variables,
                 const SampledPosteriors& sampled) {
  bool first = true;
  for (const std::size_t v : variables) {
    const Variable& variable = model.variable(v);
    if (variable.role() == Role::component) continue;
    if (first) screen.heading("All else, estimate and standard error");
    first = false;
    std::vector<std::string> states;
    for (std::size_t s = 0; s < variable.states.size(); ++s) {
      const Estimate& estimate = sampled.of_variable[v][s];
      states.push_back(shown(variable.states[s]) + ' ' + percent(estimate.value) + ' ' +
                       error_text(screen.look(), estimate));
    }
    screen.text(shown(variable) + ": " + joined(states), 2, 4);
  }
}

}  // namespace

CLI::Option* add_sample_options(CLI::App& command, SampleOptions& options) {
  CLI::Option* const sample =
      command
          .add_option("--sample", options.samples,
                      "Estimates from so many random samples, with standard errors, in place of the exact answer: for "
                      "models too large for memory")
          ->check(CLI::Range(std::size_t{1}, std::size_t{1'000'000'000}))
          ->option_text("COUNT");
  command.add_option("--seed", options.seed, "Of the samples: the same seed gives the same estimates (default: 1)")
      ->needs(sample)
      ->option_text("NUMBER");
  return sample;
}

Json estimates_json(const FaultModel& model, std::span<const VariableIndex> variables, const SampledPosteriors& sampled,
                    const SampleOptions& options) {
  Json estimates = Json::object();
  for (const std::size_t v : variables) {
    const Variable& variable = model.variable(v);
    Json states = Json::object();
    for (std::size_t s = 0; s < variable.states.size(); ++s) {
      states[variable.states[s].name] = estimate_json(sampled.of_variable[v][s]);
    }
    estimates[variable.name] = std::move(states);
  }
  return {{"samples", options.samples},
          {"seed", options.seed},
          {"effective_samples", sampled.effective_samples},
          {"log_evidence_estimate", estimate_json(sampled.log_evidence)},
          {"posterior_estimates", std::move(estimates)}};
}

void show_estimates(const Screen& screen, const FaultModel& model, std::span<const VariableIndex> variables,
                    const SampledPosteriors& sampled, const SampleOptions& options) {
  screen.heading("Estimates, not exact");
  screen.text("From " + counted(options.samples, "random sample") + " of seed " + std::to_string(options.seed) +
                  ", which are worth " + number(sampled.effective_samples, 0) +
                  " drawn straight from the answer. The right value is within two standard errors 19 times out of 20.",
              2);
  if (sampled.effective_samples < few_samples) {
    screen.text("These are few: trust neither the estimates nor their errors. Ask for more samples.", 2);
  }
  screen.text("Logarithm of the probability of all that was found (natural): " + number(sampled.log_evidence.value, 4) +
                  (screen.look().unicode ? " \u00b1 " : " +- ") + number(sampled.log_evidence.standard_error, 4),
              2, 2);
  show_faults(screen, model, variables, sampled);
  show_others(screen, model, variables, sampled);
}

}  // namespace faultodds::program

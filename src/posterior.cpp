// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <iostream>
#include <memory>

#include "advice.hpp"
#include "estimates.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/io/model_file.hpp"
#include "findings.hpp"
#include "interrupt.hpp"
#include "program.hpp"
#include "readings.hpp"
#include "report.hpp"
#include "why.hpp"

namespace faultodds::program {
namespace {

struct PosteriorOptions {
  std::string file;
  FindingTexts findings;
  std::vector<std::string> only;
  std::vector<std::string> why;
  std::size_t explain = 0;
  SampleOptions sample;
  Format format = Format::text;
};

struct Answer {
  std::vector<VariableIndex> shown;  ///< variables asked for, in the model's order
  std::vector<std::vector<double>> posteriors;
  Explanations explanations;
  std::vector<Claim> why;  ///< faults to account for
};

std::vector<VariableIndex> all_variables(const FaultModel& model) {
  std::vector<VariableIndex> all(model.size());
  for (std::size_t v = 0; v < all.size(); ++v) all[v] = v;
  return all;
}

/// Variables asked for, in the model's order.
std::vector<VariableIndex> variables_shown(const FaultModel& model, const std::vector<VariableIndex>& only) {
  return only.empty() ? all_variables(model) : only;
}

Answer work_out(const Case& current, const PosteriorOptions& options) {
  const FaultModel& model = current.model();
  Answer answer;
  const std::vector<VariableIndex> only = variables_named(model, options.only, "--only");
  answer.shown = variables_shown(model, only);
  for (const std::string& claim : options.why) answer.why.push_back(parse_claim(model, claim));
  if (options.explain > 0) answer.explanations = explain(current, only, options.explain);
  if (only.empty()) {
    answer.posteriors = current.posteriors();
  } else {
    answer.posteriors.resize(model.size());
    for (const VariableIndex variable : only) answer.posteriors[variable] = current.posterior(variable);
  }
  return answer;
}

Json explanation_json(const FaultModel& model, const std::vector<VariableIndex>& variables,
                      const Explanation& explanation) {
  Json states = Json::object();
  for (std::size_t i = 0; i < variables.size(); ++i) {
    const Variable& variable = model.variable(variables[i]);
    states[variable.name] = variable.states.at(explanation.states[i]).name;
  }
  return {{"probability", explanation.probability}, {"states", std::move(states)}};
}

Json answer_json(const Case& current, const PosteriorOptions& options, const Answer& answer) {
  const FaultModel& model = current.model();
  Json posteriors = Json::object();
  for (const std::size_t v : answer.shown) {
    const Variable& variable = model.variable(v);
    Json states = Json::object();
    for (std::size_t s = 0; s < variable.states.size(); ++s) states[variable.states[s].name] = answer.posteriors[v][s];
    posteriors[variable.name] = std::move(states);
  }
  Json json = {{"log_evidence", current.log_evidence()}, {"posteriors", std::move(posteriors)}};
  if (options.explain > 0) {
    Json list = Json::array();
    for (const Explanation& explanation : answer.explanations.best) {
      list.push_back(explanation_json(model, answer.explanations.variables, explanation));
    }
    json["explanations"] = std::move(list);
  }
  if (!answer.why.empty()) {
    Json list = Json::array();
    for (const Claim& claim : answer.why) list.push_back(why_json(current, claim));
    json["why"] = std::move(list);
  }
  return json;
}

/// "Fuel pump: worn, Coil: dead"; for plain networks "a = yes, b = no".
std::string explanation_text(const FaultModel& model, const std::vector<VariableIndex>& variables,
                             const Explanation& explanation) {
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < variables.size(); ++i) {
    const std::size_t v = variables[i];
    const std::size_t state = explanation.states[i];
    const bool is_component = model.variable(v).role() == Role::component;
    if (is_component && state > 0) parts.push_back(fault_text(model, v, state));
    if (!is_component) parts.push_back(shown(model.variable(v)) + " = " + shown(model.variable(v).states[state]));
  }
  return parts.empty() ? "no fault at all" : joined(parts, " + ");
}

void show_faults(const Screen& screen, const FaultModel& model, const Answer& answer) {
  std::vector<BarRow> rows;
  for (const std::size_t v : answer.shown) {
    if (model.variable(v).role() != Role::component) continue;
    for (std::size_t s = 1; s < model.state_count(v); ++s)
      rows.push_back({fault_text(model, v, s), answer.posteriors[v][s], {}});
  }
  if (rows.empty()) return;
  std::stable_sort(rows.begin(), rows.end(), [](const BarRow& a, const BarRow& b) { return a.share > b.share; });
  screen.heading("Faults");
  screen.bars(rows);
}

void show_role(const Screen& screen, const Case& current, const Answer& answer, Role role, const std::string& title) {
  const FaultModel& model = current.model();
  bool first = true;
  for (const std::size_t v : answer.shown) {
    const Variable& variable = model.variable(v);
    if (variable.role() != role) continue;
    if (first) screen.heading(title);
    first = false;
    const Finding* finding = current.finding_of(v);
    std::vector<std::string> states;
    for (std::size_t s = 0; s < variable.states.size(); ++s) {
      states.push_back(shown(variable.states[s]) + ' ' + percent(answer.posteriors[v][s]));
    }
    const bool settled = finding != nullptr && finding->state.has_value();
    screen.text(shown(variable) + ": " + (settled ? finding_text(model, *finding) + " (found)" : joined(states)), 2, 4);
  }
}

/// Every state of every variable that has no role.
void show_plain(const Screen& screen, const FaultModel& model, const Answer& answer) {
  std::vector<BarRow> rows;
  for (const std::size_t v : answer.shown) {
    const Variable& variable = model.variable(v);
    if (variable.role() != Role::unclassified) continue;
    for (std::size_t s = 0; s < variable.states.size(); ++s) {
      rows.push_back({shown(variable) + " = " + shown(variable.states[s]), answer.posteriors[v][s], {}});
    }
  }
  if (rows.empty()) return;
  screen.heading("Variables");
  screen.bars(rows);
}

void show(const Screen& screen, const Case& current, const PosteriorOptions& options, const Answer& answer) {
  const FaultModel& model = current.model();
  show_header(screen, model);
  show_findings(screen, current);
  if (!current.findings().empty()) {
    screen.text("Logarithm of the probability of all that was found (natural): " + number(current.log_evidence(), 6), 2,
                2);
  }
  show_readings(screen, model, options.findings.readings);
  if (!answer.explanations.best.empty()) {
    screen.heading("Best explanations");
    std::vector<BarRow> rows;
    for (const Explanation& explanation : answer.explanations.best) {
      rows.push_back(
          {explanation_text(model, answer.explanations.variables, explanation), explanation.probability, {}});
    }
    screen.bars(rows);
  }
  for (const Claim& claim : answer.why) show_why(screen, current, claim);
  show_faults(screen, model, answer);
  show_role(screen, current, answer, Role::hidden, "Hidden variables");
  show_role(screen, current, answer, Role::symptom, "Symptoms");
  show_role(screen, current, answer, Role::test, "Tests");
  show_role(screen, current, answer, Role::context, "Context");
  show_plain(screen, model, answer);
}

int estimate(const FaultModel& model, const std::vector<Finding>& findings, const PosteriorOptions& options) {
  const std::vector<VariableIndex> shown = variables_shown(model, variables_named(model, options.only, "--only"));
  SamplingOptions sampling;
  sampling.samples = options.sample.samples;
  sampling.seed = options.sample.seed;
  const SampledPosteriors sampled = sample_posteriors(model, findings, sampling, Interruptible::stop());
  if (options.format == Format::json) {
    print(estimates_json(model, shown, sampled, options.sample));
    return fine;
  }
  const Screen screen(std::cout, look_of_output());
  show_header(screen, model);
  show_findings(screen, model, findings);
  show_readings(screen, model, options.findings.readings);
  show_estimates(screen, model, shown, sampled, options.sample);
  return fine;
}

int answer_exactly(const FaultModel& model, const std::vector<Finding>& findings, const PosteriorOptions& options) {
  Case current{Solver(model, {}, Interruptible::stop())};
  const StopScope scope(current, Interruptible::stop());
  current.add(findings);
  const Answer answer = work_out(current, options);
  if (options.format == Format::json) {
    print(answer_json(current, options, answer));
  } else {
    show(Screen(std::cout, look_of_output()), current, options, answer);
  }
  return fine;
}

int posterior(const PosteriorOptions& options) {
  const FaultModel model = read_model(options.file);
  const std::vector<Finding> findings = read_findings(model, options.file, options.findings);
  const Interruptible interruptible;
  if (options.sample.samples > 0) return estimate(model, findings, options);
  try {
    return answer_exactly(model, findings, options);
  } catch (const TooLarge& large) {
    const int status = report(large, options.format);
    if (model.parts().potentials.empty()) {
      std::cerr << "With --sample 100000 this command estimates the probabilities instead.\n";
    }
    return status;
  }
}

}  // namespace

void add_posterior(CLI::App& app, int& status) {
  auto options = std::make_shared<PosteriorOptions>();
  CLI::App* command =
      app.add_subcommand("posterior", "Probabilities of all states from what was found")->group("Commands");
  command->add_option("FILE", options->file, "Fault model or network (.json, .bif, .xml, .xmlbif, .uai; also .gz)")
      ->required();
  add_finding_options(*command, options->findings);
  add_repeated(*command, "--only", options->only, "Show this variable only; may be given several times", "NAME");
  CLI::Option* const sample = add_sample_options(*command, options->sample);
  command
      ->add_option("--explain", options->explain, "Also the best explanations: sets of faults, the most probable first")
      ->check(CLI::Range(std::size_t{1}, std::size_t{1000000}))
      ->excludes(sample)
      ->option_text("COUNT");
  add_repeated(*command, "--why", options->why,
               "Also which findings count for and against this fault, and by how much; may be given several times",
               "COMPONENT[=STATE]")
      ->excludes(sample);
  add_format(*command, options->format);
  command->footer(
      "Example:\n"
      "  faultodds posterior models/low-power-petrol.json \\\n"
      "    --finding low_power=present --explain 3\n"
      "Variables and states of a .uai file are named by their index: --finding 3=1");
  command->callback([options, &status] { status = guarded(options->format, [&] { return posterior(*options); }); });
}

}  // namespace faultodds::program

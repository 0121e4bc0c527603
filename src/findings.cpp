// SPDX-License-Identifier: BSD-3-Clause
#include "findings.hpp"

#include <algorithm>
#include <functional>
#include <optional>
#include <utility>

#include "evidence_file.hpp"
#include "faultodds/decision/evidence/counted_once.hpp"
#include "faultodds/inference/finding_checks.hpp"
#include "faultodds/io/text_places.hpp"
#include "readings.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

/// A text split at one '=' whose left side is a known variable.
struct Split {
  VariableIndex variable;
  std::string_view rest;
};

std::string quoted_text(std::string_view text) { return '"' + std::string(text) + '"'; }

/// Every split at a '=' whose left side is a known name or trouble code. Throws UnknownName if there is none.
std::vector<Split> splits_of(const FaultModel& model, std::string_view text, const std::string& option,
                             const std::string& form) {
  if (text.find('=') == std::string_view::npos || text.front() == '=') {
    throw CLI::ValidationError(option, quoted_text(text) + " is not of the form " + form);
  }
  std::vector<Split> splits;
  for (std::size_t at = text.find('='); at != std::string_view::npos; at = text.find('=', at + 1)) {
    if (const auto variable = model.find(text.substr(0, at))) splits.push_back({*variable, text.substr(at + 1)});
  }
  if (splits.empty()) static_cast<void>(model.index_of(text.substr(0, text.find('='))));  // throws
  return splits;
}

/// The one finding that `read` makes of the splits. `read` returns nothing if a split does not fit; if none fits,
/// `explain` is called with the first split and must throw.
Finding only_reading(const FaultModel& model, std::string_view text, const std::vector<Split>& splits,
                     const std::function<std::optional<Finding>(const Split&)>& read,
                     const std::function<void(const Split&)>& explain) {
  std::optional<Finding> found;
  for (const Split& split : splits) {
    const std::optional<Finding> reading = read(split);
    if (!reading) continue;
    if (found) {
      throw ArgumentError("finding",
                          quoted_text(text) + " can be read as one of " +
                              quoted_text(model.variable(found->variable).name) + " and as one of " +
                              quoted_text(model.variable(reading->variable).name),
                          "give it in an --evidence file, where names and states are kept apart");
    }
    found = reading;
  }
  if (!found) explain(splits.front());
  return std::move(found).value();
}

std::optional<std::size_t> find_state(const Variable& variable, std::string_view name) {
  const auto found = std::find_if(variable.states.begin(), variable.states.end(),
                                  [name](const State& state) { return state.name == name; });
  if (found == variable.states.end()) return std::nullopt;
  return static_cast<std::size_t>(found - variable.states.begin());
}

/// Every way to read `text` as states separated by commas, each as weights.
void collect_state_sets(const Variable& variable, std::string_view text, std::vector<double>& weights,
                        std::vector<std::vector<double>>& sets) {
  for (std::size_t end = 0; end <= text.size(); ++end) {
    if (end < text.size() && text[end] != ',') continue;
    const auto state = find_state(variable, text.substr(0, end));
    if (!state) continue;
    const double before = std::exchange(weights[*state], 1.0);
    if (end < text.size()) {
      collect_state_sets(variable, text.substr(end + 1), weights, sets);
    } else if (std::find(sets.begin(), sets.end(), weights) == sets.end()) {
      sets.push_back(weights);
    }
    weights[*state] = before;
  }
}

std::vector<std::string_view> split_at_commas(std::string_view text) {
  std::vector<std::string_view> parts;
  std::size_t start = 0;
  for (std::size_t at = text.find(','); at != std::string_view::npos; at = text.find(',', start)) {
    parts.push_back(text.substr(start, at - start));
    start = at + 1;
  }
  parts.push_back(text.substr(start));
  return parts;
}

std::vector<double> parse_weights(std::string_view text) {
  std::vector<double> weights;
  for (const std::string_view part : split_at_commas(text)) {
    double value = 0.0;
    const NumberFault fault = read_number(trimmed(part), value);
    if (fault != NumberFault::none) {
      const Problem problem = number_problem(part, fault);
      throw CLI::ValidationError("--likelihood", problem.found + "; " + problem.remedy + ", one for each state");
    }
    weights.push_back(value);
  }
  return weights;
}

}  // namespace

CLI::Option* add_repeated(CLI::App& command, const std::string& name, std::vector<std::string>& values,
                          const std::string& description, const std::string& value_name) {
  return command.add_option(name, values, description)->allow_extra_args(false)->option_text(value_name + " ...");
}

void add_finding_options(CLI::App& command, FindingTexts& texts) {
  add_repeated(command, "--finding,-f", texts.hard,
               "What was found, by name or trouble code; may be given several times", "NAME=STATE");
  add_repeated(command, "--reading", texts.readings,
               "A number on a gauge, in any unit of its quantity; readings of one test are taken together",
               "NAME=\"43 psi\"");
  add_repeated(command, "--one-of", texts.one_of, "It is one of these states", "NAME=STATE,STATE");
  add_repeated(command, "--likelihood", texts.likelihoods,
               "An uncertain finding: the probability of what was seen, for each state, up to a common factor",
               "NAME=w1,w2,...");
  command
      .add_option(
          "--evidence", texts.file,
          "Findings in a file: JSON {\"NAME\": \"STATE\", \"NAME\": [weights]}, or UAI evidence for a .uai model")
      ->option_text("FILE");
}

Finding parse_finding(const FaultModel& model, std::string_view text) {
  const std::vector<Split> splits = splits_of(model, text, "--finding", "NAME=STATE");
  const auto read = [&](const Split& split) -> std::optional<Finding> {
    const auto state = find_state(model.variable(split.variable), split.rest);
    if (!state) return std::nullopt;
    return detail::hard_finding(model, split.variable, *state);
  };
  const auto explain = [&](const Split& split) { static_cast<void>(model.state_of(split.variable, split.rest)); };
  return only_reading(model, text, splits, read, explain);
}

Finding parse_one_of(const FaultModel& model, std::string_view text) {
  const std::vector<Split> splits = splits_of(model, text, "--one-of", "NAME=STATE,STATE");
  const auto read = [&](const Split& split) -> std::optional<Finding> {
    const Variable& variable = model.variable(split.variable);
    std::vector<double> weights(variable.states.size(), 0.0);
    std::vector<std::vector<double>> sets;
    collect_state_sets(variable, split.rest, weights, sets);
    if (sets.empty()) return std::nullopt;
    if (sets.size() > 1) {
      throw ArgumentError("one-of",
                          quoted_text(text) + " can be read as several sets of states, because some hold commas",
                          "give it in an --evidence file, as a list of states");
    }
    return Finding{split.variable, sets.front(), std::nullopt};
  };
  const auto explain = [&](const Split& split) {
    for (const std::string_view part : split_at_commas(split.rest)) {
      static_cast<void>(model.state_of(split.variable, part));
    }
    throw ArgumentError("one-of", quoted_text(text) + " names no set of states", "write NAME=STATE,STATE",
                        ErrorCode::nothing_given);
  };
  return only_reading(model, text, splits, read, explain);
}

Finding parse_likelihood(const FaultModel& model, std::string_view text) {
  const std::vector<Split> splits = splits_of(model, text, "--likelihood", "NAME=w1,w2,...");
  // Weights hold no '=', so that the last split is the one that leaves only weights.
  const Split& split = splits.back();
  Finding finding{split.variable, parse_weights(split.rest), std::nullopt};
  const std::size_t wanted = model.state_count(split.variable);
  if (finding.weights.size() != wanted) {
    std::vector<std::string> names;
    for (const State& state : model.variable(split.variable).states) names.push_back(state.name);
    throw ArgumentError(
        "likelihood of " + quoted_text(model.variable(split.variable).name), counted(finding.weights.size(), "weight"),
        "give " + std::to_string(wanted) + ", one for each state: " + joined(names), ErrorCode::wrong_size);
  }
  return finding;
}

std::vector<Finding> read_findings(const FaultModel& model, const std::string& model_file, const FindingTexts& texts) {
  std::vector<Finding> findings;
  if (!texts.file.empty()) findings = read_evidence_file(model, model_file, texts.file);
  for (const std::string& text : texts.hard) findings.push_back(parse_finding(model, text));
  for (const TestReadings& readings : parse_test_readings(model, texts.readings))
    findings.push_back(reading_finding(model, readings));
  for (const std::string& text : texts.one_of) findings.push_back(parse_one_of(model, text));
  for (const std::string& text : texts.likelihoods) findings.push_back(parse_likelihood(model, text));
  require_counted_once(model, findings);
  return findings;
}

std::vector<VariableIndex> variables_named(const FaultModel& model, std::span<const std::string> names,
                                           const std::string& option) {
  std::vector<VariableIndex> variables;
  for (const std::string& name : names) {
    const std::size_t variable = model.index_of(name);
    if (std::find(variables.begin(), variables.end(), variable) != variables.end()) {
      throw ArgumentError(option, quoted_text(name) + " comes twice", "name it once", ErrorCode::named_twice);
    }
    variables.push_back(variable);
  }
  return variables;
}

std::string labelled_finding(const FaultModel& model, const std::string& text) {
  for (std::size_t at = text.find('='); at != std::string::npos; at = text.find('=', at + 1)) {
    const auto variable = model.find(text.substr(0, at));
    if (!variable) continue;
    const auto state = find_state(model.variable(*variable), text.substr(at + 1));
    if (state)
      return shown(model.variable(*variable)) + ": " + shown(model.variable(*variable).states[*state]) + " [" + text +
             ']';
  }
  return text;
}

std::string finding_text(const FaultModel& model, const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  if (finding.state) return shown(variable.states[*finding.state]);
  const double most = *std::max_element(finding.weights.begin(), finding.weights.end());
  const bool is_set = std::all_of(finding.weights.begin(), finding.weights.end(),
                                  [most](double weight) { return weight == 0.0 || weight == most; });
  std::vector<std::string> parts;
  for (std::size_t s = 0; s < finding.weights.size(); ++s) {
    if (is_set && finding.weights[s] == 0.0) continue;
    const std::string state = shown(variable.states[s]);
    parts.push_back(is_set ? state : state + ' ' + number(finding.weights[s] / most, 3));
  }
  return is_set ? joined(parts, " or ") : "weighed: " + joined(parts);
}

}  // namespace faultodds::program

// SPDX-License-Identifier: BSD-3-Clause
#include "why.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "findings.hpp"

namespace faultodds::program {
namespace {

/// "+3.2", "rules it out", "-" if there is no weight.
std::string bits_text(const std::optional<double>& bits) {
  if (!bits) return "-";
  if (std::isinf(*bits)) return *bits > 0.0 ? "settles it" : "rules it out";
  return (*bits > 0.0 ? "+" : "") + fixed(*bits, 2);
}

Json bits_json(const std::optional<double>& bits) {
  if (!bits) return nullptr;
  if (std::isinf(*bits)) return *bits > 0.0 ? "infinity" : "-infinity";
  return *bits;
}

std::optional<double> in_decibans(const std::optional<double>& bits) {
  return bits ? std::optional(decibans(*bits)) : std::nullopt;
}

Json conflict_json(const FaultModel& model, const Conflict& found) {
  Json json = {{"bits", found.bits}, {"with_rest_bits", found.with_rest_bits}};
  if (found.rare_cause) {
    const Variable& component = model.variable(found.rare_cause->component);
    json["rare_cause"] = {{"component", component.name},
                          {"state", component.states.at(found.rare_cause->state).name},
                          {"bits", found.rare_cause->bits}};
  }
  return json;
}

}  // namespace

Claim parse_claim(const FaultModel& model, std::string_view text) {
  const auto alone = model.find(text);
  if (alone && model.variable(*alone).role() == Role::component) return not_sound(model, *alone);
  if (alone) {
    throw ArgumentError(std::string(text), "it is not a component, so none of its states is the sound one",
                        "name the state as well: " + std::string(text) + "=STATE");
  }
  if (text.find('=') == std::string_view::npos)
    static_cast<void>(model.index_of(text));  // throws: nobody is called that
  const Finding named = parse_finding(model, text);
  return {named.variable, {named.state.value()}};
}

void show_why(const Screen& screen, const Case& current, const Claim& claim) {
  const FaultModel& model = current.model();
  const Evidence evidence = weigh_evidence(current, claim);
  screen.heading("Why " + claim_in_words(model, claim));
  screen.text(explain_in_words(current, evidence), 2);
  const std::string clash = explain_in_words(current, conflict(current));
  if (!clash.empty()) screen.text(clash, 2);
  if (evidence.findings.empty()) return;
  std::vector<std::vector<std::string>> rows = {{"finding", "in order", "left out", "without"}};
  for (std::size_t i = 0; i < evidence.findings.size(); ++i) {
    const FindingWeight& weight = evidence.findings[i];
    rows.push_back({finding_in_words(model, current.findings()[i]), bits_text(weight.in_order_bits),
                    bits_text(weight.left_out_bits), percent(weight.probability_left_out)});
  }
  rows.push_back({"together", bits_text(evidence.total_bits), "", percent(evidence.prior)});
  screen.blank();
  screen.table(rows, 0);
  screen.text(
      "In bits: +1 doubles the odds, -1 halves them. In order: as the findings came in; left out: what each adds to "
      "all others; without: its probability without that finding.",
      2);
}

Json why_json(const Case& current, const Claim& claim) {
  const FaultModel& model = current.model();
  const Variable& variable = model.variable(claim.variable);
  const Evidence evidence = weigh_evidence(current, claim);
  const Conflict found = conflict(current);
  Json states = Json::array();
  for (const StateIndex state : claim.states) states.push_back(variable.states[state].name);
  Json findings = Json::array();
  for (std::size_t i = 0; i < evidence.findings.size(); ++i) {
    const FindingWeight& weight = evidence.findings[i];
    findings.push_back({{"variable", model.variable(weight.variable).name},
                        {"finding", describe(model, current.findings()[i])},
                        {"alone_bits", bits_json(weight.alone_bits)},
                        {"left_out_bits", bits_json(weight.left_out_bits)},
                        {"left_out_decibans", bits_json(in_decibans(weight.left_out_bits))},
                        {"in_order_bits", bits_json(weight.in_order_bits)},
                        {"probability_alone", weight.probability_alone},
                        {"probability_left_out", weight.probability_left_out},
                        {"probability_after", weight.probability_after}});
  }
  std::string words = explain_in_words(current, evidence);
  const std::string clash = explain_in_words(current, found);
  if (!clash.empty()) words += ' ' + clash;
  return {{"variable", variable.name},
          {"states", std::move(states)},
          {"prior", evidence.prior},
          {"posterior", evidence.posterior},
          {"total_bits", bits_json(evidence.total_bits)},
          {"total_decibans", bits_json(in_decibans(evidence.total_bits))},
          {"findings", std::move(findings)},
          {"conflict", conflict_json(model, found)},
          {"in_words", words}};
}

}  // namespace faultodds::program

// Bodies of evidence_words.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/model/stable_order.hpp"
#include "faultodds/model/wording.hpp"

namespace faultodds {
namespace detail {

/// Findings by what each moves, as places in Evidence::findings.
struct FindingsBySide {
  std::vector<std::size_t> pro;     ///< the weightiest first
  std::vector<std::size_t> contra;  ///< the weightiest first
  std::size_t minor = 0;            ///< how many move the odds by less than a quarter
};

inline FindingsBySide sides_of(const Evidence& evidence) {
  const double least = std::log2(1.25);
  FindingsBySide sides;
  const auto bits = [&](std::size_t place) { return evidence.findings[place].left_out_bits.value_or(0.0); };
  for (std::size_t i = 0; i < evidence.findings.size(); ++i) {
    if (std::abs(bits(i)) < least) {
      ++sides.minor;
    } else {
      (bits(i) > 0.0 ? sides.pro : sides.contra).push_back(i);
    }
  }
  const auto heavier = [&](std::size_t a, std::size_t b) { return std::abs(bits(a)) > std::abs(bits(b)); };
  sort_stably(sides.pro, heavier);
  sort_stably(sides.contra, heavier);
  return sides;
}

/// Tells of a claim and its findings.
class EvidenceWords {
 public:
  EvidenceWords(const Case& current, const Evidence& evidence)
      : case_(current), evidence_(evidence), sides_(sides_of(evidence)) {}

  [[nodiscard]] std::string paragraph() const {
    std::string text = how_probable();
    if (evidence_.findings.empty() || !evidence_.total_bits) return text;
    text += side(" For it", sides_.pro) + side(" Against it", sides_.contra);
    if (sides_.pro.empty() && sides_.contra.empty()) return text + nothing_weighs();
    if (sides_.minor > 0) {
      text += sides_.minor == 1 ? " One other finding hardly matters."
                                : " " + std::to_string(sides_.minor) + " other findings hardly matter.";
    }
    return text;
  }

 private:
  static constexpr std::size_t max_named = 3;

  [[nodiscard]] std::string name(std::size_t place) const {
    return '"' + finding_in_words(case_.model(), case_.findings()[place]) + '"';
  }

  [[nodiscard]] std::string how_probable() const {
    const std::string claim = claim_in_words(case_.model(), evidence_.claim);
    const std::string before = wording::percent(evidence_.prior);
    if (evidence_.findings.empty()) return claim + " has a probability of " + before + "; nothing has been found yet.";
    if (!evidence_.total_bits) {
      return claim + (evidence_.prior > 0.0 ? " is certain" : " cannot be") + ", whatever is found.";
    }
    const double bits = *evidence_.total_bits;
    if (std::isinf(bits)) {
      return claim + (bits > 0.0 ? " is certain" : " is ruled out") +
             "; before anything was found its probability was " + before + '.';
    }
    return claim + " has a probability of " + wording::percent(evidence_.posterior) +
           "; before anything was found it was " + before + '.';
  }

  [[nodiscard]] std::string side(const std::string& begin, const std::vector<std::size_t>& places) const {
    if (places.empty()) return {};
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < std::min(max_named, places.size()); ++i) {
      const std::string without = wording::percent(evidence_.findings[places[i]].probability_left_out);
      parts.push_back(name(places[i]) + (i == 0 ? " (without it " : " (") + without + ')');
    }
    const std::size_t more = places.size() - parts.size();
    return begin + (places.size() > 1 ? ", above all: " : ": ") + wording::joined(parts, ", then ") +
           (more > 0 ? ", and " + std::to_string(more) + " more" : "") + '.';
  }

  /// If no finding would be missed: because nothing moved, or because several say the same.
  [[nodiscard]] std::string nothing_weighs() const {
    if (std::abs(*evidence_.total_bits) < std::log2(1.25)) return " Nothing of what was found moves it much.";
    if (std::isinf(*evidence_.total_bits)) return " More than one finding says so by itself.";
    const bool up = *evidence_.total_bits > 0.0;
    const auto bits = [up](const FindingWeight& weight) { return weight.alone_bits.value_or(0.0) * (up ? 1.0 : -1.0); };
    const auto best = std::max_element(evidence_.findings.begin(), evidence_.findings.end(),
                                       [&](const auto& a, const auto& b) { return bits(a) < bits(b); });
    return " Several findings say the same, so that none alone would be missed; " +
           name(static_cast<std::size_t>(best - evidence_.findings.begin())) + " by itself would put it at " +
           wording::percent(best->probability_alone) + '.';
  }

  const Case& case_;
  const Evidence& evidence_;
  FindingsBySide sides_;
};

/// "6 times as often".
inline std::string times_in_words(double bits) {
  const double times = std::exp2(bits);
  if (!(times < 1000.0)) return "more than a thousand times as often";
  return wording::number(times, times < 9.95 ? 1 : 0) + " times as often";
}

inline std::string fault_in_words(const FaultModel& model, const FaultProbability& fault) {
  return claim_in_words(model, {fault.component, {fault.state}});
}

/// The outcome whose probabilities under two faults differ most.
inline std::size_t telling_outcome(const std::vector<double>& a, const std::vector<double>& b) {
  std::size_t best = 0;
  for (std::size_t o = 1; o < a.size(); ++o) {
    if (std::abs(a[o] - b[o]) > std::abs(a[best] - b[best])) best = o;
  }
  return best;
}

/// Numbers of another case would be said of findings that they do not belong to.
inline void check_of_case(const char* argument, std::size_t findings, const Case& current) {
  if (findings == current.findings().size()) return;
  throw ArgumentError(argument, std::to_string(findings) + " findings",
                      "give what was worked out for this case, which has " + std::to_string(current.findings().size()),
                      ErrorCode::wrong_size);
}

inline void check_contrast(const FaultModel& model, const TestContrast& found) {
  const std::size_t outcomes = model.state_count(found.test);
  for (const OutcomesUnder& under : found.faults) {
    check_state(model, under.fault.component, under.fault.state);
    if (under.probabilities.empty() || under.probabilities.size() == outcomes) continue;
    throw ArgumentError("found.faults", std::to_string(under.probabilities.size()) + " outcomes of a fault",
                        "the test has " + std::to_string(outcomes), ErrorCode::wrong_size);
  }
  for (const FaultPair& pair : found.pairs) {
    const bool known = pair.first < found.faults.size() && pair.second < found.faults.size();
    if (known && !found.faults[pair.first].probabilities.empty() && !found.faults[pair.second].probabilities.empty()) {
      continue;
    }
    throw ArgumentError("found.pairs", "a pair of faults that are not both listed as possible",
                        "give places among found.faults", ErrorCode::index_out_of_range);
  }
}

}  // namespace detail

inline std::string finding_in_words(const FaultModel& model, const Finding& finding) {
  detail::check_finding(model, finding);
  const Variable& variable = model.variable(finding.variable);
  const double most = *std::max_element(finding.weights.begin(), finding.weights.end());
  const bool is_set = std::all_of(finding.weights.begin(), finding.weights.end(),
                                  [most](double weight) { return weight == 0.0 || weight == most; });
  std::vector<std::string> parts;
  for (std::size_t s = 0; s < finding.weights.size(); ++s) {
    if (is_set && finding.weights[s] == 0.0) continue;
    const std::string& state = shown(variable.states[s]);
    parts.push_back(is_set ? state : state + ' ' + wording::number(finding.weights[s] / most, 3));
  }
  return shown(variable) + ": " +
         (is_set ? wording::joined(parts, " or ") : "weighed, " + wording::joined(parts, ", "));
}

inline std::string claim_in_words(const FaultModel& model, const Claim& claim) {
  for (const StateIndex state : claim.states) detail::check_state(model, claim.variable, state);
  const Variable& variable = model.variable(claim.variable);
  const bool sound_in = std::find(claim.states.begin(), claim.states.end(), std::size_t{0}) != claim.states.end();
  const bool any_fault = variable.role() == Role::component && !sound_in && claim.states.size() > 1 &&
                         claim.states.size() + 1 == variable.states.size();
  if (any_fault) return shown(variable) + ": any fault";
  std::vector<std::string> states;
  for (const StateIndex state : claim.states) states.push_back(shown(variable.states[state]));
  return shown(variable) + ": " + wording::joined(states, " or ");
}

inline std::string explain_in_words(const Case& current, const Evidence& evidence) {
  detail::check_of_case("evidence.findings", evidence.findings.size(), current);
  return detail::EvidenceWords(current, evidence).paragraph();
}

inline std::string explain_in_words(const Case& current, const Conflict& found) {
  constexpr double min_bits = 1.0;
  detail::check_of_case("found.with_rest_bits", found.with_rest_bits.size(), current);
  if (found.bits < min_bits || found.with_rest_bits.empty()) return {};
  const auto worst = std::max_element(found.with_rest_bits.begin(), found.with_rest_bits.end());
  const auto place = static_cast<std::size_t>(worst - found.with_rest_bits.begin());
  std::string text = "The findings do not fit together: if they were unrelated, they would occur together " +
                     detail::times_in_words(found.bits) + ". The worst fit is \"" +
                     finding_in_words(current.model(), current.findings()[place]) + "\": check that again.";
  if (found.rare_cause && found.rare_cause->bits >= found.bits) {
    text += " Otherwise a rare fault would explain it: " +
            claim_in_words(current.model(), {found.rare_cause->component, {found.rare_cause->state}}) + '.';
  }
  return text;
}

inline std::string explain_in_words(const FaultModel& model, const TestContrast& found) {
  constexpr double same = 1.0 - 1e-6;  // overlap of faults that the test does not tell apart
  detail::check_contrast(model, found);
  const Variable& test = model.variable(found.test);
  if (found.pairs.empty()) return {};
  const FaultPair& best = found.pairs.front();
  if (best.overlap >= same) return shown(test) + " does not tell these faults apart.";
  const OutcomesUnder& a = found.faults[best.first];
  const OutcomesUnder& b = found.faults[best.second];
  const std::size_t outcome = detail::telling_outcome(a.probabilities, b.probabilities);
  std::string text = shown(test) + " best tells " + detail::fault_in_words(model, a.fault) + " from " +
                     detail::fault_in_words(model, b.fault) + ": \"" + shown(test.states[outcome]) +
                     "\" is expected in " + wording::percent(a.probabilities[outcome]) + " of cases with the one and " +
                     wording::percent(b.probabilities[outcome]) + " with the other.";
  const auto alike =
      std::find_if(found.pairs.begin(), found.pairs.end(), [](const FaultPair& pair) { return pair.overlap >= same; });
  if (alike == found.pairs.end()) return text;
  return text + " It does not tell " + detail::fault_in_words(model, found.faults[alike->first].fault) + " from " +
         detail::fault_in_words(model, found.faults[alike->second].fault) + '.';
}

}  // namespace faultodds

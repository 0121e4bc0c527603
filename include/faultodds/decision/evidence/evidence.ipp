// Bodies of evidence.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <string>
#include <utility>

#include "faultodds/decision/evidence/evidence.hpp"

namespace faultodds {
namespace detail {

inline void check_claim(const FaultModel& model, const Claim& claim) {
  const Variable& variable = model.variable(claim.variable);
  std::vector<bool> named(variable.states.size(), false);
  for (const StateIndex state : claim.states) {
    if (state >= named.size()) {
      throw ArgumentError(variable.name, "state index " + std::to_string(state),
                          "it has " + std::to_string(named.size()) + " states", ErrorCode::index_out_of_range);
    }
    if (named[state])
      throw ArgumentError(variable.name, "a state named twice", "name each state once", ErrorCode::named_twice);
    named[state] = true;
  }
  if (claim.states.empty() || claim.states.size() == named.size()) {
    throw ArgumentError(variable.name, claim.states.empty() ? "a claim of no state" : "a claim of all states",
                        "name some of its states and leave some out", ErrorCode::nothing_given);
  }
}

/// Probability of a claim and its odds, as base-2 logarithm: minus infinity if it is impossible.
struct Odds {
  double probability = 0.0;
  double log2 = 0.0;
};

inline Odds odds_of(const Case& current, const Claim& claim) {
  const std::vector<double> posterior = current.posterior(claim.variable);
  std::vector<bool> wanted(posterior.size(), false);
  for (const StateIndex state : claim.states) wanted[state] = true;
  double holds = 0.0;
  double fails = 0.0;
  for (std::size_t s = 0; s < posterior.size(); ++s) (wanted[s] ? holds : fails) += posterior[s];
  return {holds, std::log2(holds / fails)};
}

/// Change of the odds; nothing if they were settled before.
inline std::optional<double> change_of(const Odds& before, const Odds& after) {
  if (!std::isfinite(before.log2)) return std::nullopt;
  return after.log2 - before.log2;
}

/// Gives a copy of a case other findings: some of its own, which are possible together because all are.
class CasePart {
 public:
  explicit CasePart(const Case& whole) : all_(whole.findings()), part_(whole), scope_(part_, whole.stop()) {}

  const Case& of(std::vector<Finding> findings) {
    if (!part_.try_findings(std::move(findings))) throw_clash(part_.solver(), all_, part_.stop());
    return part_;
  }
  const Case& without(std::size_t place) {
    std::vector<Finding> rest = all_;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(place));
    return of(std::move(rest));
  }
  const Case& first(std::size_t count) { return of({all_.begin(), all_.begin() + static_cast<std::ptrdiff_t>(count)}); }
  const Case& only(std::size_t place) { return of({all_[place]}); }

 private:
  const std::vector<Finding>& all_;
  Case part_;
  StopScope scope_;
};

inline std::optional<RareCause> rare_cause(const Case& whole, const Case& empty) {
  std::optional<RareCause> best;
  for (const VariableIndex component : whole.model().with_role(Role::component)) {
    const std::vector<double> before = empty.posterior(component);
    const std::vector<double> after = whole.posterior(component);
    for (std::size_t s = 1; s < after.size(); ++s) {
      if (!(after[s] > 0.0 && before[s] > 0.0)) continue;
      const double bits = std::log2(after[s] / before[s]);
      if (!best || bits > best->bits) best = RareCause{component, s, bits};
    }
  }
  return best;
}

}  // namespace detail

inline Claim not_sound(const FaultModel& model, VariableIndex component) {
  Claim claim{component, {}};
  for (std::size_t s = 1; s < model.state_count(component); ++s) claim.states.push_back(s);
  return claim;
}

inline double decibans(double bits) { return bits * 10.0 * std::numbers::ln2 / std::numbers::ln10; }

inline Evidence weigh_evidence(const Case& current, const Claim& claim, const Stop& stop) {
  const StopScope scope(current, stop);
  detail::check_claim(current.model(), claim);
  const std::vector<Finding>& findings = current.findings();
  detail::CasePart part(current);
  const detail::Odds prior = detail::odds_of(part.of({}), claim);
  const detail::Odds posterior = detail::odds_of(current, claim);
  Evidence evidence{claim, prior.probability, posterior.probability, detail::change_of(prior, posterior), {}};
  detail::Odds before = prior;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const bool last = i + 1 == findings.size();
    const detail::Odds after = last ? posterior : detail::odds_of(part.first(i + 1), claim);
    const detail::Odds rest = last ? before : detail::odds_of(part.without(i), claim);
    const detail::Odds alone = i == 0 ? after : detail::odds_of(part.only(i), claim);
    evidence.findings.push_back({findings[i].variable, detail::change_of(prior, alone),
                                 detail::change_of(rest, posterior), detail::change_of(before, after),
                                 alone.probability, rest.probability, after.probability});
    before = after;
  }
  return evidence;
}

inline Conflict conflict(const Case& current, const Stop& stop) {
  const StopScope scope(current, stop);
  detail::CasePart part(current);
  const std::vector<Finding>& findings = current.findings();
  const double none = part.of({}).log_evidence();
  const double all = current.log_evidence() - none;
  Conflict found;
  double sum = 0.0;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const double alone = part.only(i).log_evidence() - none;
    const double rest = part.without(i).log_evidence() - none;
    sum += alone;
    found.with_rest_bits.push_back((alone + rest - all) / std::numbers::ln2);
  }
  found.bits = findings.empty() ? 0.0 : (sum - all) / std::numbers::ln2;
  if (!findings.empty()) found.rare_cause = detail::rare_cause(current, part.of({}));
  return found;
}

}  // namespace faultodds

// Bodies of case.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <locale>
#include <sstream>
#include <utility>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/relevance.hpp"

namespace faultodds {
namespace detail {

inline ClashingFinding clashing(const FaultModel& model, const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  ClashingFinding made{finding.variable, variable.name, {}, {}, describe(model, finding)};
  if (finding.state) made.state = variable.states[*finding.state].name;
  for (std::size_t s = 0; s < finding.weights.size(); ++s) {
    made.weights.emplace_back(variable.states[s].name, finding.weights[s]);
  }
  return made;
}

[[noreturn]] inline void throw_clash(const Solver& solver, std::span<const Finding> findings, const Stop& stop) {
  std::vector<ClashingFinding> clash;
  for (const std::size_t index : smallest_clash(solver, findings, stop)) {
    clash.push_back(clashing(solver.model(), findings[index]));
  }
  throw ImpossibleFindings(std::move(clash));
}

}  // namespace detail

inline Case::Case(Solver solver) : solver_(std::move(solver)) {}

inline Case::Case(Case&& other) noexcept
    : solver_(other.solver_),
      findings_(std::exchange(other.findings_, {})),
      engine_(std::exchange(other.engine_, std::nullopt)) {}

inline Case& Case::operator=(Case&& other) noexcept {
  Case moved(std::move(other));
  solver_ = moved.solver_;
  std::swap(findings_, moved.findings_);
  std::swap(engine_, moved.engine_);
  return *this;
}

inline void Case::add_finding(Name variable, Name state) {
  const std::size_t index = model().index_of(variable);
  add_finding(index, model().state_of(index, state));
}

inline void Case::add_finding(VariableIndex variable, StateIndex state) { add_one_of(variable, std::array{state}); }

inline void Case::add_one_of(VariableIndex variable, std::span<const StateIndex> states) {
  add(detail::set_finding(model(), variable, states));
}

inline void Case::add_likelihood(Name variable, std::span<const double> weights) {
  add_likelihood(model().index_of(variable), weights);
}

inline void Case::add_likelihood(VariableIndex variable, std::span<const double> weights) {
  add(Finding{variable, {weights.begin(), weights.end()}, std::nullopt});
}

inline void Case::add(Finding finding) { add(std::span<const Finding>(&finding, 1)); }

inline void Case::add(std::span<const Finding> findings) {
  const std::size_t before = findings_.size();
  const auto drop = [&] { findings_.resize(before); };
  try {
    for (const Finding& finding : findings) {
      detail::check_finding(model(), finding);
      if (const Finding* known = finding_of(finding.variable); known != nullptr) {
        throw ArgumentError(model().variable(finding.variable).name,
                            "there is a finding already: " + describe(model(), *known),
                            "take it back first, or change it", ErrorCode::already_found);
      }
      findings_.push_back(finding);
    }
  } catch (...) {
    drop();
    throw;
  }
  settle_or(drop);
}

inline void Case::change(Finding finding) {
  detail::check_finding(model(), finding);
  const auto same = [&](const Finding& known) { return known.variable == finding.variable; };
  const auto known = std::find_if(findings_.begin(), findings_.end(), same);
  if (known == findings_.end()) return add(std::move(finding));
  std::swap(*known, finding);
  settle_or([&] { std::swap(*known, finding); });
}

inline bool Case::try_findings(std::vector<Finding> findings) {
  detail::check_findings(model(), findings);
  std::swap(findings_, findings);
  const auto swap_back = [&] { std::swap(findings_, findings); };
  if (settle(swap_back)) return true;
  swap_back();
  return false;
}

inline void Case::take_back(VariableIndex variable) {
  const auto same = [&](const Finding& known) { return known.variable == variable; };
  const auto known = std::find_if(findings_.begin(), findings_.end(), same);
  if (known == findings_.end()) return;
  const auto place = known - findings_.begin();
  Finding taken = std::move(*known);
  findings_.erase(known);
  settle_or([&] { findings_.insert(findings_.begin() + place, std::move(taken)); });
}

inline void Case::take_back_to(std::size_t count) {
  if (count >= findings_.size()) return;
  const auto kept = findings_.begin() + static_cast<std::ptrdiff_t>(count);
  std::vector<Finding> taken(std::make_move_iterator(kept), std::make_move_iterator(findings_.end()));
  findings_.resize(count);
  settle_or([&] {
    findings_.insert(findings_.end(), std::make_move_iterator(taken.begin()), std::make_move_iterator(taken.end()));
  });
}

inline const Finding* Case::finding_of(VariableIndex variable) const {
  return faultodds::finding_of(findings_, variable);
}

/// Whether the findings, changed just now, can all be true. False, and where it throws, the form is made anew when
/// somebody asks; `undo`, which is to put the old findings back, is called only where it throws.
template <typename Undo>
bool Case::settle(const Undo& undo) {
  try {
    settle_engine();
    if (std::isfinite(log_evidence())) return true;
  } catch (...) {
    undo();
    forget_engine();
    throw;
  }
  forget_engine();
  return false;
}

/// The same, and where they cannot all be true, the old ones are put back and the clash is thrown.
template <typename Undo>
void Case::settle_or(const Undo& undo) {
  if (settle(undo)) return;
  const std::vector<Finding> clashing = findings_;
  undo();
  detail::throw_clash(solver_, clashing, stop());
}

/// Brings the engine of the case in line with the findings.
inline void Case::settle_engine() const {
  const std::shared_ptr<const JunctionTree>& whole = solver_.shared_tree();
  if (whole == nullptr) {
    take_shape(shape_, model(), solver_.always_wanted(), findings_);
    return detail::choose_engine(engine_, solver_, shape_, findings_, stop());
  }
  if (!engine_.has_value()) engine_.emplace(detail::TreeEngine(model(), whole));
  detail::TreeEngine& tree = std::get<detail::TreeEngine>(*engine_);
  tree.stop_by(stop());
  tree.enter(findings_);
}

inline void Case::forget_engine() const { engine_.reset(); }

inline void Case::stop_by(const Stop& stop) const {
  stop_.set(stop);
  if (engine_.has_value()) std::visit([&](auto& engine) { engine.stop_by(stop); }, *engine_);
}

inline StopScope::StopScope(const Case& current, const Stop& stop) : case_(current), before_(current.stop()) {
  if (stop.is_set()) case_.stop_by(stop);
}

inline StopScope::~StopScope() { case_.stop_by(before_); }

inline double Case::log_evidence() const {
  if (!engine_.has_value()) settle_engine();
  return std::visit([](auto& engine) { return engine.log_evidence(); }, *engine_);
}

inline void Case::require_possible() const {
  if (!std::isfinite(log_evidence())) detail::throw_clash(solver_, findings_, stop());
}

/// By variable: where the engine, which is there already, has its marginal.
inline std::span<const std::size_t> Case::slot_of() const {
  return std::visit([](const auto& engine) { return std::span<const std::size_t>(engine.slot_of()); }, *engine_);
}

inline BatchedReweighing Case::batched_reweighing() const {
  if (!engine_.has_value()) settle_engine();
  BatchedReweighing made(
      std::visit([&](const auto& engine) { return detail::AnyReweighing(engine.reweighing()); }, *engine_));
  made.stop_by(stop());
  return made;
}

inline std::vector<double> Case::posterior(Name variable) const { return posterior(model().index_of(variable)); }

inline std::vector<double> Case::posterior(VariableIndex variable) const {
  const std::span<const double> view = posterior_view(variable);
  return {view.begin(), view.end()};
}

inline std::span<const double> Case::posterior_view(VariableIndex variable) const {
  require_possible();
  const std::size_t states = model().state_count(variable);
  const Finding* finding = finding_of(variable);
  if (finding != nullptr && finding->state.has_value()) {
    aside_.assign(states, 0.0);
    aside_[*finding->state] = 1.0;
    return aside_;
  }
  const std::size_t slot = slot_of()[variable];
  if (slot != no_slot) {
    return std::visit([&](auto& engine) { return std::span<const double>(engine.marginal(slot)); }, *engine_);
  }
  aside_ = finding != nullptr ? weighed_posterior(*finding) : predict(variable);
  return aside_;
}

/// Of a weighed variable that is no cause: P(state | findings) goes with its weight and P(findings with that state in
/// its place).
inline std::vector<double> Case::weighed_posterior(const Finding& finding) const {
  std::vector<Finding> findings = findings_;
  Finding& chosen = findings[static_cast<std::size_t>(&finding - findings_.data())];
  std::vector<double> posterior;
  double sum = 0.0;
  for (std::size_t s = 0; s < finding.weights.size(); ++s) {
    posterior.push_back(0.0);
    if (finding.weights[s] == 0.0) continue;
    chosen = detail::hard_finding(model(), finding.variable, s);
    const double log_ratio = detail::log_evidence_of(solver_, findings, stop()) - log_evidence();
    posterior.back() = finding.weights[s] * std::exp(log_ratio);
    sum += posterior.back();
  }
  for (double& probability : posterior) probability /= sum;
  return posterior;
}

inline std::string describe(const FaultModel& model, const Finding& finding) {
  detail::check_finding(model, finding);
  const Variable& variable = model.variable(finding.variable);
  if (finding.state.has_value()) return variable.name + "=" + variable.states[*finding.state].name;
  const bool is_set = std::all_of(finding.weights.begin(), finding.weights.end(),
                                  [](double weight) { return weight == 0.0 || weight == 1.0; });
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << variable.name << (is_set ? " in {" : "~(");
  bool first = true;
  for (std::size_t s = 0; s < finding.weights.size(); ++s) {
    if (is_set && finding.weights[s] == 0.0) continue;
    text << (first ? "" : ", ");
    first = false;
    if (is_set) {
      text << variable.states[s].name;
    } else {
      text << finding.weights[s];
    }
  }
  text << (is_set ? "}" : ")");
  return text.str();
}

}  // namespace faultodds

#include "faultodds/inference/clash.ipp"
#include "faultodds/inference/engine/joints.ipp"
#include "faultodds/inference/engine/prediction.ipp"

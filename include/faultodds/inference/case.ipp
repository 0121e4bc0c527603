// Bodies of case.hpp.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <locale>
#include <sstream>
#include <utility>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/relevance.hpp"
#include "faultodds/inference/variable_elimination.hpp"

namespace faultodds {
namespace detail {

inline void check_finding(const FaultModel& model, const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  if (finding.weights.size() != variable.states.size()) {
    throw ArgumentError(variable.name, std::to_string(finding.weights.size()) + " weights",
                        "give one for each of its " + std::to_string(variable.states.size()) + " states");
  }
  double sum = 0.0;
  for (const double weight : finding.weights) {
    if (!std::isfinite(weight) || weight < 0.0) {
      throw ArgumentError(variable.name, "weight " + std::to_string(weight), "weights are finite and not negative");
    }
    sum += weight;
  }
  if (sum <= 0.0) throw ArgumentError(variable.name, "all weights are zero", "at least one state must be possible");
}

inline Finding set_finding(const FaultModel& model, std::size_t variable, std::span<const std::size_t> states) {
  Finding finding{variable, std::vector<double>(model.state_count(variable), 0.0), std::nullopt};
  for (const std::size_t state : states) {
    if (state >= finding.weights.size()) {
      throw ArgumentError(model.variable(variable).name, "state index " + std::to_string(state),
                          "it has " + std::to_string(finding.weights.size()) + " states");
    }
    finding.weights[state] = 1.0;
  }
  if (states.size() == 1) finding.state = states[0];
  return finding;
}

/// Components and context, which every plan of a case holds, so that their posteriors need no further work.
inline std::vector<std::size_t> always_wanted(const FaultModel& model) {
  std::vector<std::size_t> wanted = model.with_role(Role::context);
  const std::vector<std::size_t> components = model.with_role(Role::component);
  wanted.insert(wanted.end(), components.begin(), components.end());
  return wanted;
}

inline std::vector<Presence> presence_for(const FaultModel& model, std::vector<std::size_t> wanted,
                                          std::span<const Finding> findings) {
  std::vector<std::size_t> absent;
  for (const Finding& finding : findings) {
    wanted.push_back(finding.variable);
    if (finding.state == std::size_t{0}) absent.push_back(finding.variable);
  }
  return relevant(model, wanted, absent);
}

inline std::shared_ptr<const Plan> make_case_plan(const Solver& solver, std::span<const Presence> presence) {
  Network network = expand(solver.model(), presence);
  static constexpr std::size_t quick_tries = 4;
  static constexpr double quick_entries = 1 << 14;  // smaller trees are not worth a longer search
  const SolverOptions& options = solver.options();
  EliminationOrder order = order_of(network, {std::min(options.order_tries, quick_tries), options.order_seed});
  if (order.total_entries > quick_entries) order = order_of(network, effort_of(options));
  return std::make_shared<const Plan>(std::move(network), order.order, solver.options().memory_limit_bytes,
                                      solver.options().checkpoint);
}

/// Natural logarithm of P(findings), without a case.
inline double log_evidence_of(const Solver& solver, std::span<const Finding> findings) {
  std::shared_ptr<const Plan> plan = solver.whole_plan();
  if (plan == nullptr) plan = make_case_plan(solver, presence_for(solver.model(), {}, findings));
  Propagation propagation(plan);
  for (const Finding& finding : findings) {
    const std::size_t slot = plan->slot_of()[finding.variable];
    if (slot != no_slot) propagation.set_weights(slot, finding.weights);
  }
  return propagation.log_evidence();
}

[[noreturn]] inline void throw_clash(const Solver& solver, std::span<const Finding> findings) {
  std::vector<std::string> clash;
  for (const std::size_t index : smallest_clash(solver, findings)) {
    clash.push_back(describe(solver.model(), findings[index]));
  }
  throw ImpossibleFindings(std::move(clash));
}

}  // namespace detail

inline Case::Case(Solver solver) : solver_(std::move(solver)) {}

inline void Case::add_finding(std::string_view variable, std::string_view state) {
  const std::size_t index = model().index_of(variable);
  add_finding(index, model().state_of(index, state));
}

inline void Case::add_finding(std::size_t variable, std::size_t state) { add_one_of(variable, std::array{state}); }

inline void Case::add_one_of(std::size_t variable, std::span<const std::size_t> states) {
  add(detail::set_finding(model(), variable, states));
}

inline void Case::add_likelihood(std::string_view variable, std::span<const double> weights) {
  add_likelihood(model().index_of(variable), weights);
}

inline void Case::add_likelihood(std::size_t variable, std::span<const double> weights) {
  add(Finding{variable, {weights.begin(), weights.end()}, std::nullopt});
}

inline void Case::add(Finding finding) { add(std::span<const Finding>(&finding, 1)); }

inline void Case::add(std::span<const Finding> findings) {
  std::vector<Finding> all = findings_;
  for (const Finding& finding : findings) {
    detail::check_finding(model(), finding);
    const auto same = [&](const Finding& known) { return known.variable == finding.variable; };
    if (const auto known = std::find_if(all.begin(), all.end(), same); known != all.end()) {
      throw ArgumentError(model().variable(finding.variable).name,
                          "there is a finding already: " + describe(model(), *known),
                          "take it back first, or change it");
    }
    all.push_back(finding);
  }
  replace_findings(std::move(all));
}

inline void Case::change(Finding finding) {
  detail::check_finding(model(), finding);
  std::vector<Finding> all = findings_;
  const auto same = [&](const Finding& known) { return known.variable == finding.variable; };
  if (const auto known = std::find_if(all.begin(), all.end(), same); known != all.end()) {
    *known = std::move(finding);
  } else {
    all.push_back(std::move(finding));
  }
  replace_findings(std::move(all));
}

inline bool Case::try_findings(std::vector<Finding> findings) {
  for (std::size_t i = 0; i < findings.size(); ++i) {
    detail::check_finding(model(), findings[i]);
    const std::span<const Finding> before(findings.data(), i);
    if (faultodds::finding_of(before, findings[i].variable) == nullptr) continue;
    throw ArgumentError(model().variable(findings[i].variable).name, "two findings", "give one for each variable");
  }
  return exchange_findings(findings);
}

inline void Case::take_back(std::size_t variable) {
  std::vector<Finding> all = findings_;
  std::erase_if(all, [&](const Finding& known) { return known.variable == variable; });
  replace_findings(std::move(all));
}

inline void Case::take_back_to(std::size_t count) {
  if (count >= findings_.size()) return;
  replace_findings({findings_.begin(), findings_.begin() + static_cast<std::ptrdiff_t>(count)});
}

inline const Finding* Case::finding_of(std::size_t variable) const {
  return faultodds::finding_of(findings_, variable);
}

inline void Case::replace_findings(std::vector<Finding> findings) {
  if (!exchange_findings(findings)) detail::throw_clash(solver_, findings);
}

/// Takes these findings in exchange for its own. False where they cannot all be true; then, and where it throws,
/// nothing is exchanged, and the propagation is made anew when somebody asks.
inline bool Case::exchange_findings(std::vector<Finding>& findings) {
  std::swap(findings_, findings);
  try {
    settle_plan();
    if (std::isfinite(propagation().log_evidence())) return true;
  } catch (...) {
    std::swap(findings_, findings);
    propagation_.reset();
    throw;
  }
  std::swap(findings_, findings);
  propagation_.reset();
  return false;
}

/// Brings the plan and the weights in it in line with the findings.
inline void Case::settle_plan() const {
  const std::shared_ptr<const Plan>& whole = solver_.whole_plan();
  if (whole == nullptr) {
    std::vector<Presence> presence = detail::presence_for(model(), detail::always_wanted(model()), findings_);
    if (!propagation_.has_value() || presence != presence_) {
      propagation_.emplace(detail::make_case_plan(solver_, presence));
      presence_ = std::move(presence);
    }
  } else if (!propagation_.has_value()) {
    propagation_.emplace(whole);
    presence_.assign(model().size(), Presence::present);
  }
  const Plan& plan = propagation_->plan();
  std::vector<const Finding*> of_slot(plan.state_counts().size(), nullptr);
  for (const Finding& finding : findings_) {
    const std::size_t slot = plan.slot_of()[finding.variable];
    if (slot != no_slot) of_slot[slot] = &finding;
  }
  for (std::size_t slot = 0; slot < of_slot.size(); ++slot) {
    if (of_slot[slot] == nullptr) {
      propagation_->clear_weights(slot);
    } else {
      propagation_->set_weights(slot, of_slot[slot]->weights);
    }
  }
}

inline Propagation& Case::propagation() const {
  if (!propagation_.has_value()) settle_plan();
  return *propagation_;
}

inline void Case::require_possible() const {
  if (!std::isfinite(propagation().log_evidence())) detail::throw_clash(solver_, findings_);
}

inline double Case::log_evidence() const { return propagation().log_evidence(); }

inline std::vector<double> Case::posterior(std::string_view variable) const {
  return posterior(model().index_of(variable));
}

inline std::vector<double> Case::posterior(std::size_t variable) const {
  require_possible();
  const std::size_t states = model().state_count(variable);
  if (const Finding* finding = finding_of(variable); finding != nullptr && finding->state.has_value()) {
    std::vector<double> certain(states, 0.0);
    certain[*finding->state] = 1.0;
    return certain;
  }
  Propagation& current = propagation();
  const std::size_t slot = current.plan().slot_of()[variable];
  if (slot == no_slot) return predict(variable);
  const std::span<const double> marginal = current.marginal(slot);
  return {marginal.begin(), marginal.end()};
}

inline std::vector<std::vector<double>> Case::posteriors() const {
  require_possible();
  propagation().read_all();
  std::vector<std::vector<double>> all;
  all.reserve(model().size());
  for (std::size_t variable = 0; variable < model().size(); ++variable) all.push_back(posterior(variable));
  return all;
}

/// The posterior of a variable outside the plan. Nothing found hangs on it, so it follows from its parents.
inline std::vector<double> Case::predict(std::size_t variable) const {
  if (auto result = predict_from_clique(variable); result.has_value()) return *result;
  if (auto result = predict_noisy(variable); result.has_value()) return *result;
  return eliminate_joint(std::array{variable});
}

/// Where one clique holds all parents: sum of P(parents | findings) P(variable | parents).
inline std::optional<std::vector<double>> Case::predict_from_clique(std::size_t variable) const {
  static constexpr double most_entries = 1 << 12;
  if (detail::table_entries(model(), variable) > most_entries) return std::nullopt;
  const FullTable table = written_out(model(), variable);
  std::vector<std::size_t> scope;
  for (const std::size_t parent : table.parents) scope.push_back(propagation().plan().slot_of()[parent]);
  if (std::find(scope.begin(), scope.end(), no_slot) != scope.end()) return std::nullopt;
  const std::vector<double> parents = propagation().joint_in_clique(scope);
  if (parents.empty()) return std::nullopt;
  std::vector<double> result(table.rows.columns(), 0.0);
  for (std::size_t row = 0; row < parents.size(); ++row) {
    for (std::size_t s = 0; s < result.size(); ++s) result[s] += parents[row] * table.rows(row, s);
  }
  return result;
}

/// P(effect <= y | findings) = E[P_leak(<= y) prod_i P_i(<= y | cause i)].
inline std::optional<std::vector<double>> Case::predict_noisy(std::size_t variable) const {
  const auto* noisy = std::get_if<NoisyMax>(&model().variable(variable).distribution);
  if (noisy == nullptr) return std::nullopt;
  const auto links = detail::acting_links(*noisy, findings_, propagation().plan().slot_of());
  if (!links.has_value()) return std::nullopt;
  Reweighing weighing = reweighing();
  std::vector<double> up_to;
  double leak = 0.0;
  for (std::size_t y = 0; y + 1 < noisy->leak.size(); ++y) {
    leak += noisy->leak[y];
    up_to.push_back(leak * weighing.expectation(detail::up_to(*links, y)));
  }
  return detail::single_states(up_to);
}

inline std::optional<JointPosterior> Case::joint_at_hand(std::span<const std::size_t> variables) const {
  require_possible();
  for (std::size_t i = 0; i < variables.size(); ++i) {
    const auto here = variables.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(variables.begin(), here, variables[i]) != here) {
      throw ArgumentError(model().variable(variables[i]).name, "named twice in a joint", "name each variable once");
    }
  }
  std::vector<std::size_t> scope;
  for (const std::size_t variable : variables) {
    static_cast<void>(model().variable(variable));  // range check
    scope.push_back(propagation().plan().slot_of()[variable]);
  }
  if (std::find(scope.begin(), scope.end(), no_slot) != scope.end()) return std::nullopt;
  std::vector<double> probabilities = propagation().joint_in_clique(scope);
  if (probabilities.empty()) return std::nullopt;
  return JointPosterior{{variables.begin(), variables.end()}, std::move(probabilities)};
}

inline JointPosterior Case::joint(std::span<const std::size_t> variables) const {
  if (auto at_hand = joint_at_hand(variables); at_hand.has_value()) return *std::move(at_hand);
  return {{variables.begin(), variables.end()}, eliminate_joint(variables)};
}

inline std::vector<double> Case::eliminate_joint(std::span<const std::size_t> variables) const {
  double bytes = sizeof(double);
  for (const std::size_t variable : variables) bytes *= static_cast<double>(model().state_count(variable));
  if (bytes > solver_.options().memory_limit_bytes) {
    throw TooLarge("the joint of " + std::to_string(variables.size()) + " variables", bytes,
                   solver_.options().memory_limit_bytes, "ask for fewer at once, or for each by itself");
  }
  std::vector<std::size_t> wanted(variables.begin(), variables.end());
  std::vector<Presence> presence = detail::presence_for(model(), wanted, findings_);
  for (const std::size_t variable : variables) presence[variable] = Presence::present;
  Network network = expand(model(), presence);
  for (const Finding& finding : findings_) {
    const std::size_t slot = network.slot_of[finding.variable];
    if (slot != no_slot) network.factors.push_back({{slot}, finding.weights});
  }
  std::vector<std::size_t> keep;
  for (const std::size_t variable : variables) keep.push_back(network.slot_of[variable]);
  double log_scale = 0.0;
  Potential table = eliminate(std::move(network.factors), network.state_counts, keep,
                              solver_.options().memory_limit_bytes, &log_scale);
  double sum = 0.0;
  for (const double value : table.values) sum += value;
  for (double& value : table.values) value /= sum;
  return std::move(table.values);
}

inline std::string describe(const FaultModel& model, const Finding& finding) {
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

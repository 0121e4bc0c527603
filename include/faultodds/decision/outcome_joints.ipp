// Bodies of outcome_joints.hpp.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/decision/outcome_joints.hpp"
#include "faultodds/decision/separation.hpp"

namespace faultodds {
namespace detail {

class OutcomeJoints {
 public:
  OutcomeJoints(const Case& current, std::size_t test, std::span<const std::size_t> variables)
      : case_(current), model_(current.model()), test_(test), variables_(variables), joints_(variables.size()) {}

  std::vector<std::vector<double>> run() {
    if (!by_weights()) by_findings();
    return std::move(joints_);
  }

 private:
  using WeightList = std::vector<Reweighing::Weights>;

  /// Where nothing found or asked for hangs on the test and all concerned is in the plan: P(outcome | parents) as
  /// weights on the parents.
  bool by_weights() {
    if (!is_barren(case_, test_) || ancestors_of(model_, {variables_.begin(), variables_.end()})[test_]) return false;
    Reweighing reweighing = case_.reweighing();
    for (const std::size_t variable : variables_) {
      if (variable == test_ || !reweighing.can_weigh(variable)) return false;
    }
    const Variable& test = model_.variable(test_);
    if (const auto* noisy = std::get_if<NoisyMax>(&test.distribution); noisy != nullptr) {
      const auto links = reweighing.acting_links(*noisy);
      if (!links.has_value()) return false;
      by_running_maximum(reweighing, *noisy, *links);
      return true;
    }
    if (model_.parents(test_).size() != 1 || !reweighing.can_weigh(model_.parents(test_)[0])) return false;
    const FullTable table = written_out(model_, test_);
    for (std::size_t outcome = 0; outcome < test.states.size(); ++outcome) {
      Reweighing::Weights weights{table.parents[0], {}};
      for (std::size_t row = 0; row < table.rows.rows(); ++row) weights.of_state.push_back(table.rows(row, outcome));
      append(weighted_marginals(reweighing, {std::move(weights)}, 1.0));
    }
    return true;
  }

  /// P(effect = y, x) = P(effect <= y, x) - P(effect <= y - 1, x).
  void by_running_maximum(Reweighing& reweighing, const NoisyMax& noisy, const std::vector<const Link*>& links) {
    double leak = 0.0;
    std::vector<std::vector<double>> before;
    for (std::size_t y = 0; y < noisy.leak.size(); ++y) {
      leak += noisy.leak[y];
      const bool last = y + 1 == noisy.leak.size();
      WeightList weights;
      if (!last) {
        for (const Link* link : links) weigh(weights, link->cause, up_to(*link, y));
      }
      std::vector<std::vector<double>> now = weighted_marginals(reweighing, weights, last ? 1.0 : leak);
      std::vector<std::vector<double>> gained = now;
      for (std::size_t i = 0; i < before.size(); ++i) {
        for (std::size_t s = 0; s < gained[i].size(); ++s) gained[i][s] = std::max(0.0, gained[i][s] - before[i][s]);
      }
      append(gained);
      before = std::move(now);
    }
  }

  /// By variable: `factor` x E[weights] x the posterior under the weights.
  std::vector<std::vector<double>> weighted_marginals(Reweighing& reweighing, const WeightList& weights,
                                                      double factor) {
    const double mean = factor * reweighing.expectation(weights);
    std::vector<std::vector<double>> result;
    for (const std::size_t variable : variables_) {
      result.emplace_back(model_.state_count(variable), 0.0);
      if (mean == 0.0) continue;
      const std::span<const double> marginal = reweighing.marginal(variable);
      for (std::size_t s = 0; s < marginal.size(); ++s) result.back()[s] = mean * marginal[s];
    }
    return result;
  }

  void by_findings() {
    const std::vector<double> outcomes = case_.posterior(test_);
    for (std::size_t outcome = 0; outcome < outcomes.size(); ++outcome) {
      std::vector<std::vector<double>> joint;
      for (const std::size_t variable : variables_) joint.emplace_back(model_.state_count(variable), 0.0);
      if (outcomes[outcome] > 0.0) {
        Case next = case_;
        next.change(set_finding(model_, test_, std::array{outcome}));
        for (std::size_t i = 0; i < variables_.size(); ++i) {
          joint[i] = next.posterior(variables_[i]);
          for (double& p : joint[i]) p *= outcomes[outcome];
        }
      }
      append(joint);
    }
  }

  void append(const std::vector<std::vector<double>>& of_outcome) {
    for (std::size_t i = 0; i < joints_.size(); ++i) {
      joints_[i].insert(joints_[i].end(), of_outcome[i].begin(), of_outcome[i].end());
    }
  }

  const Case& case_;
  const FaultModel& model_;
  std::size_t test_;
  std::span<const std::size_t> variables_;
  std::vector<std::vector<double>> joints_;
};

}  // namespace detail

inline std::vector<std::vector<double>> outcome_joints(const Case& current, std::size_t test,
                                                       std::span<const std::size_t> variables) {
  return detail::OutcomeJoints(current, test, variables).run();
}

}  // namespace faultodds

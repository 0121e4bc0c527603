// Bodies of outcome_joints.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "faultodds/decision/ranking/outcome_joints.hpp"
#include "faultodds/decision/ranking/outcome_products.hpp"

namespace faultodds {
namespace detail {

/// Outcome joints of many tests, some dozens of products at a time.
class JointsByProducts {
 public:
  JointsByProducts(const Case& current, BatchedReweighing& batch, std::span<const VariableIndex> tests,
                   std::span<const VariableIndex> variables)
      : case_(current), batch_(batch), tests_(tests), variables_(variables), joints_(tests.size()) {}

  std::vector<OutcomeJoints> run() {
    can_want_ =
        std::all_of(variables_.begin(), variables_.end(), [this](std::size_t v) { return batch_.can_weigh(v); });
    for (std::size_t t = 0; t < tests_.size(); ++t) {
      std::optional<OutcomeProducts> form;
      if (can_want_) form = outcome_products(case_, batch_, tests_[t]);
      if (!form.has_value()) {
        joints_[t] = by_findings(tests_[t]);
        continue;
      }
      waiting_products_ += form->products.size();
      waiting_.push_back({t, *std::move(form)});
      if (waiting_products_ >= at_a_time) run_waiting();
    }
    run_waiting();
    return std::move(joints_);
  }

 private:
  static constexpr std::size_t at_a_time = 64;  // products
  struct Waiting {
    std::size_t test;  // its place among the tests
    OutcomeProducts form;
  };

  void run_waiting() {
    if (waiting_.empty()) return;
    batch_.start(waiting_products_);
    std::size_t product = 0;
    for (const Waiting& waiting : waiting_) {
      for (const OutcomeProducts::Product& of_outcome : waiting.form.products) {
        for (const Reweighing::Weights& weights : of_outcome.weights) {
          batch_.weigh(product, weights.variable, weights.of_state);
        }
        ++product;
      }
    }
    for (const VariableIndex variable : variables_) batch_.want(variable);
    if (!batch_.fits()) {
      for (const Waiting& waiting : waiting_) joints_[waiting.test] = by_findings(tests_[waiting.test]);
    } else {
      batch_.run();
      read_waiting();
    }
    waiting_.clear();
    waiting_products_ = 0;
  }

  /// Rounding below zero becomes zero.
  static std::vector<double> not_negative(std::vector<double> values) {
    for (double& value : values) value = std::max(0.0, value);
    return values;
  }

  void read_waiting() {
    std::size_t first = 0;
    for (const Waiting& waiting : waiting_) {
      const std::vector<OutcomeProducts::Product>& products = waiting.form.products;
      OutcomeJoints& joints = joints_[waiting.test];
      std::vector<double> values;
      for (std::size_t p = 0; p < products.size(); ++p) {
        values.push_back(products[p].factor * batch_.expectation(first + p));
      }
      joints.outcomes = not_negative(by_outcome(waiting.form, values, {1.0}));
      for (const VariableIndex variable : variables_) {
        const std::span<const double> rest = batch_.posterior(variable);
        values.clear();
        for (std::size_t p = 0; p < products.size(); ++p) {
          for (std::size_t s = 0; s < rest.size(); ++s) {
            values.push_back(products[p].factor * batch_.joint(first + p, variable, s));
          }
        }
        joints.with.push_back(not_negative(by_outcome(waiting.form, values, {rest.begin(), rest.end()})));
      }
      first += products.size();
    }
  }

  [[nodiscard]] OutcomeJoints by_findings(VariableIndex test) const {
    OutcomeJoints joints{case_.posterior(test), {}};
    joints.with.resize(variables_.size());
    for (std::size_t outcome = 0; outcome < joints.outcomes.size(); ++outcome) {
      const double probability = joints.outcomes[outcome];
      std::optional<Case> next;
      if (probability > 0.0) {
        next = case_;
        next->change(hard_finding(case_.model(), test, outcome));
      }
      for (std::size_t i = 0; i < variables_.size(); ++i) {
        std::vector<double> joint(case_.model().state_count(variables_[i]), 0.0);
        if (next.has_value()) joint = next->posterior(variables_[i]);
        for (const double p : joint) joints.with[i].push_back(probability * p);
      }
    }
    return joints;
  }

  const Case& case_;
  BatchedReweighing& batch_;
  std::span<const VariableIndex> tests_;
  std::span<const VariableIndex> variables_;
  bool can_want_ = false;
  std::vector<Waiting> waiting_;
  std::size_t waiting_products_ = 0;
  std::vector<OutcomeJoints> joints_;
};

inline bool have_products(const Case& current, BatchedReweighing& batch, std::span<const VariableIndex> tests,
                          std::span<const VariableIndex> variables) {
  batch.start(1);
  for (const VariableIndex variable : variables) {
    if (!batch.can_weigh(variable)) return false;
    batch.want(variable);
  }
  for (const VariableIndex test : tests) {
    const std::optional<OutcomeProducts> form = outcome_products(current, batch, test);
    if (!form.has_value()) return false;
    for (const OutcomeProducts::Product& product : form->products) {
      for (const Reweighing::Weights& weights : product.weights) batch.want(weights.variable);
    }
  }
  return batch.fits();
}

}  // namespace detail

inline std::vector<OutcomeJoints> outcome_joints(const Case& current, std::span<const VariableIndex> tests,
                                                 std::span<const VariableIndex> variables) {
  BatchedReweighing batch = current.batched_reweighing();
  return outcome_joints(current, batch, tests, variables);
}

inline std::vector<OutcomeJoints> outcome_joints(const Case& current, BatchedReweighing& batch,
                                                 std::span<const VariableIndex> tests,
                                                 std::span<const VariableIndex> variables) {
  return detail::JointsByProducts(current, batch, tests, variables).run();
}

}  // namespace faultodds

// Expectations of many products side by side, on a case split up by the joint states of a few variables.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "faultodds/inference/engine/conditioned_branches.hpp"

namespace faultodds::detail {

/// The part of BatchedReweighing (which see) that works on branches: each product is worked out in every branch, where
/// weights on the cutset are plain factors.
class ConditionedReweighing {
 public:
  explicit ConditionedReweighing(std::shared_ptr<const ConditionedBranches> branches);

  [[nodiscard]] std::span<const std::size_t> slot_of() const noexcept { return branches_->slot_of; }
  [[nodiscard]] std::size_t state_count(std::size_t variable) const {
    return branches_->solver.model().state_count(variable);
  }
  void stop_by(const Stop& stop) { stop_.set(stop); }
  void give(std::span<const Reweighing::Weights> weights);
  void start(std::size_t products);
  void weigh(std::size_t product, std::size_t variable, std::span<const double> weights);
  void want(std::size_t variable);
  [[nodiscard]] bool fits();
  void run();
  [[nodiscard]] double expectation(std::size_t product) const { return expectations_[product]; }
  [[nodiscard]] double joint(std::size_t product, std::size_t variable, std::size_t state) const {
    return joints_.at(variable)[product * state_count(variable) + state];
  }
  [[nodiscard]] double expectation_alone(std::span<const Reweighing::Weights> weights);
  [[nodiscard]] std::span<const double> posterior(std::size_t variable);
  [[nodiscard]] bool in_one_clique(std::span<const VariableIndex> variables);
  [[nodiscard]] std::vector<double> joint_in_clique(std::span<const VariableIndex> variables);

 private:
  using Direct = std::variant<TreeReweighing, TwoLayerReweighing>;

  struct Weighed {
    std::size_t product;
    std::size_t variable;
    std::vector<double> weights;
  };
  struct Split {
    double factor = 1.0;                      // of the weights on the cutset
    std::vector<Reweighing::Weights> others;  // on other variables
  };

  template <class Work>
  void in_branch(std::size_t branch, const Work& work);
  [[nodiscard]] Split split(std::size_t branch, std::span<const Reweighing::Weights> weights) const;
  template <class Batch>
  void prepare(Batch& batch);
  [[nodiscard]] std::vector<double> factors(std::size_t branch) const;
  template <class Batch>
  void add_run(Batch& batch, std::size_t branch);

  std::shared_ptr<const ConditionedBranches> branches_;
  std::vector<std::optional<Direct>> kept_;  // by branch, if its engine is kept
  std::vector<double> shares_;               // by branch, under the given weights
  std::vector<Reweighing::Weights> given_;
  std::size_t products_ = 0;
  std::vector<Weighed> weighed_;
  std::vector<std::size_t> wanted_;
  std::vector<double> expectations_;
  std::map<std::size_t, std::vector<double>> joints_;      // by wanted variable: [product][state]
  std::map<std::size_t, std::vector<double>> posteriors_;  // by variable, those that were asked for
  OwnStop stop_;
};

static_assert(BatchEngine<ConditionedReweighing>);

}  // namespace faultodds::detail

#include "faultodds/inference/engine/conditioned_reweighing.ipp"

// SPDX-License-Identifier: BSD-3-Clause
#include "walkers.hpp"

#include <utility>

namespace faultodds_benchmarks {

namespace {

std::vector<faultodds::Finding> finding_of_each(const faultodds::FaultModel& model, const std::vector<Step>& walk) {
  std::vector<faultodds::Finding> findings;
  for (const Step& step : walk) findings.push_back(hard_finding(model, step.variable, step.state.value_or(0)));
  return findings;
}

}  // namespace

CaseWalker::CaseWalker(const faultodds::Solver& solver, const std::vector<Step>& walk)
    : walk_(walk),
      findings_(finding_of_each(solver.model(), walk)),
      along_(findings_along(solver.model(), walk)),
      current_(solver) {}

std::vector<std::vector<double>> CaseWalker::incremental(std::size_t step) {
  if (walk_[step].state.has_value()) {
    current_.change(findings_[step]);
  } else {
    current_.take_back(walk_[step].variable);
  }
  return current_.posteriors();
}

std::vector<std::vector<double>> CaseWalker::full(std::size_t step) const {
  faultodds::Case fresh(current_.solver());
  fresh.add(along_[step]);
  return fresh.posteriors();
}

PropagationWalker::PropagationWalker(const faultodds::Solver& solver, const std::vector<Step>& walk)
    : walk_(walk),
      findings_(finding_of_each(solver.model(), walk)),
      along_(findings_along(solver.model(), walk)),
      propagation_(solver.shared_tree()) {}

void PropagationWalker::enter(const faultodds::Finding& finding) {
  propagation_.set_weights(propagation_.tree().slot_of()[finding.variable], finding.weights);
}

double PropagationWalker::read() {
  const double log_evidence = propagation_.log_evidence();
  propagation_.read_all();
  return log_evidence;
}

double PropagationWalker::incremental(std::size_t step) {
  if (walk_[step].state.has_value()) {
    enter(findings_[step]);
  } else {
    propagation_.clear_weights(propagation_.tree().slot_of()[walk_[step].variable]);
  }
  return read();
}

double PropagationWalker::full(std::size_t step) {
  propagation_.clear_all();
  for (const faultodds::Finding& finding : along_[step]) enter(finding);
  return read();
}

double kept_entries(const faultodds::JunctionTree& tree) {
  double entries = 0.0;
  for (const faultodds::JunctionTree::Node& node : tree.nodes())
    entries += static_cast<double>(node.layout.table_size());
  return entries;
}

}  // namespace faultodds_benchmarks

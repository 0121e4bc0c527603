// Models of two layers: independent components, and noisy-OR effects of many of them. Against enumeration if small,
// and, beyond the reach of enumeration, against the sum that Quickscore takes over all subsets of the findings that are
// present (D. Heckerman, A tractable inference algorithm for diagnosing multiple diseases, UAI 1989), in numbers of 113
// bits.
// SPDX-License-Identifier: BSD-3-Clause
#include "../../benchmarks/two_layer.hpp"

#include <gtest/gtest.h>

#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"

namespace {

using namespace faultodds;
using Number = boost::multiprecision::cpp_bin_float_quad;

struct Posteriors {
  Number evidence = 0;
  std::vector<Number> faulty;  // by component: with the findings
};

/// P(findings) = sum over subsets S of the present ones of (-1)^|S| P(all of S and all absent ones are absent), where
/// each P is a product over the components; with a component faulty, the same with its factor for sound left out.
class Quickscore {
 public:
  Quickscore(const FaultModel& model, const std::vector<Finding>& findings) : model_(model), findings_(findings) {
    for (const std::size_t component : model.with_role(Role::component)) {
      faulty_.push_back(std::get<FullTable>(model.variable(component).distribution).rows(0, 1));
    }
    for (const Finding& finding : findings) {
      if (*finding.state == 1) present_.push_back(finding.variable);
    }
  }

  Posteriors sum() const {
    Posteriors result{0, std::vector<Number>(faulty_.size(), 0)};
    for (std::size_t subset = 0; subset < std::size_t{1} << present_.size(); ++subset) {
      Number leaks = 1;
      std::vector<Number> absent_if_faulty(faulty_.size(), 1);
      std::size_t taken = 0;
      for (const Finding& finding : findings_) {
        if (*finding.state == 1 && (subset >> taken++ & 1) == 0) continue;
        if (*finding.state == 1) leaks = -leaks;
        const NoisyMax& noisy = std::get<NoisyMax>(model_.variable(finding.variable).distribution);
        leaks *= noisy.leak[0];
        for (const Link& link : noisy.links) absent_if_faulty[link.cause] *= link.effect(1, 0);
      }
      Number product = leaks;
      for (std::size_t c = 0; c < faulty_.size(); ++c) product *= factor(c, absent_if_faulty[c]);
      result.evidence += product;
      for (std::size_t c = 0; c < faulty_.size(); ++c) {
        result.faulty[c] += product / factor(c, absent_if_faulty[c]) * faulty_[c] * absent_if_faulty[c];
      }
    }
    return result;
  }

 private:
  [[nodiscard]] Number factor(std::size_t component, const Number& absent_if_faulty) const {
    return 1 - faulty_[component] + faulty_[component] * absent_if_faulty;
  }

  const FaultModel& model_;
  const std::vector<Finding>& findings_;
  std::vector<Number> faulty_;  // priors
  std::vector<VariableIndex> present_;
};

TEST(TwoLayers, SmallModelsEqualEnumeration) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const FaultModel model = benchmarks::two_layer_model({8, 6, 2, 8, seed});
    const std::vector<Finding> findings = benchmarks::drawn_findings(model, 3, 1, seed);
    SolverOptions options;
    options.whole_tree_entries = 0.0;
    Case current(Solver(model, options));
    current.add(findings);
    const support::Enumeration right(model);
    EXPECT_NEAR(current.log_evidence(), std::log(right.evidence(findings)), 1e-10);
    for (std::size_t v = 0; v < model.size(); ++v) {
      support::expect_near(current.posterior(v), right.joint(findings, {v}), 1e-10);
    }
  }
}

TEST(TwoLayers, MediumModelsEqualQuickscore) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const FaultModel model = benchmarks::two_layer_model({60, 120, 2, 12, seed});
    const std::vector<Finding> findings = benchmarks::drawn_findings(model, 9, 20, seed);
    Case current{Solver(model)};
    current.add(findings);
    ASSERT_FALSE(current.solver().has_shared_tree());
    const Posteriors right = Quickscore(model, findings).sum();
    EXPECT_NEAR(current.log_evidence(), static_cast<double>(log(right.evidence)), 1e-10);
    for (const std::size_t component : model.with_role(Role::component)) {
      EXPECT_NEAR(current.posterior(component)[1], static_cast<double>(right.faulty[component] / right.evidence),
                  1e-10);
    }
  }
}

}  // namespace

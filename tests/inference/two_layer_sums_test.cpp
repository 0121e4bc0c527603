// Cases of two layers by sums over who accounts for what: against enumeration of all joint states if that is
// possible, and against junction trees, which share nothing with them but the model.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/two_layer/two_layer_sums.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/inference/case.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;
using support::Dice;

constexpr double tolerance = 1e-10;

struct Shape {
  std::size_t causes = 5;
  std::size_t max_states = 3;
  std::size_t effects = 4;
  std::size_t max_links = 5;
  double certain = 0.2;   // of links and leaks: they act always or never
  double mildest = 1e-3;  // of links and leaks
};

/// Independent components and a context; noisy-MAX effects of them, some behind a gate; an examination of each.
class RandomTwoLayers {
 public:
  RandomTwoLayers(Dice& dice, const Shape& shape) : dice_(dice), shape_(shape) {
    parts_.header.name = "two-layers";
    add("context", Context{}, 2).distribution = FullTable{{}, Table(2, {0.7, 0.3})};
    for (std::size_t c = 0; c < shape.causes; ++c) {
      const std::size_t states = dice.between(2, shape.max_states);
      std::vector<double> prior(states, 0.0);
      for (std::size_t s = 1; s < states; ++s) prior[s] = 0.15 * dice.uniform() + 1e-3;
      prior[0] = 1.0;
      for (std::size_t s = 1; s < states; ++s) prior[0] -= prior[s];
      add("part" + std::to_string(c), Component{}, states).distribution = FullTable{{}, Table(states, prior)};
    }
    for (std::size_t e = 0; e < shape.effects; ++e) add_effect(e);
    for (std::size_t c = 1; c <= shape.causes; c += 2) {
      std::vector<double> detection(parts_.variables[c].states.size() - 1, 0.8);
      add("look" + std::to_string(c), Test{}, 2).distribution =
          Examination{.component = c, .detection = detection, .false_alarm = 0.05};
    }
  }

  ModelParts take() { return std::move(parts_); }

 private:
  Variable& add(std::string name, const RoleFacts& what, std::size_t states) {
    Variable variable;
    variable.name = std::move(name);
    variable.what = what;
    for (std::size_t s = 0; s < states; ++s) variable.states.push_back({"s" + std::to_string(s), ""});
    parts_.variables.push_back(std::move(variable));
    return parts_.variables.back();
  }

  /// What a cause, or the leak, alone would bring about.
  std::vector<double> row(std::size_t states) {
    std::vector<double> values(states, 0.0);
    if (dice_.chance(shape_.certain)) {
      values[dice_.below(states)] = 1.0;
      return values;
    }
    double sum = 0.0;
    for (double& value : values) sum += value = dice_.uniform() + shape_.mildest;
    for (double& value : values) value /= sum;
    return values;
  }

  void add_effect(std::size_t number) {
    const std::size_t states = dice_.between(2, 3);
    NoisyMax noisy;
    noisy.leak = row(states);
    std::vector<VariableIndex> causes;
    for (std::size_t c = 1; c <= shape_.causes; ++c) causes.push_back(c);
    for (const std::size_t cause : dice_.some_of(causes, dice_.between(2, shape_.max_links))) {
      Link link;
      link.cause = cause;
      std::vector<double> values(states, 0.0);
      values[0] = 1.0;
      for (std::size_t s = 1; s < parts_.variables[cause].states.size(); ++s) {
        const std::vector<double> of_state = row(states);
        values.insert(values.end(), of_state.begin(), of_state.end());
      }
      link.effect = Table(states, std::move(values));
      const double kind = dice_.uniform();
      if (kind < 0.2) link.only_when = {{0, {dice_.below(2)}}};
      noisy.links.push_back(link);
      if (kind > 0.9) {  // once more in one context
        link.only_when = {{0, {0}}};
        noisy.links.push_back(std::move(link));
      }
    }
    add("sign" + std::to_string(number), dice_.chance(0.5) ? RoleFacts(Symptom{}) : Test{}, states).distribution =
        std::move(noisy);
  }

  Dice& dice_;
  Shape shape_;
  ModelParts parts_;
};

/// The context, and with some chance each of the others: hard, or weighed if that leaves two layers.
std::vector<Finding> random_findings(Dice& dice, const FaultModel& model, double chance) {
  std::vector<Finding> findings;
  for (std::size_t v = 0; v < model.size(); ++v) {
    const std::size_t states = model.state_count(v);
    const bool is_component = model.variable(v).role() == Role::component;
    if (v != 0 && !dice.chance(is_component ? 0.15 : chance)) continue;
    Finding finding{.variable = v, .weights = std::vector<double>(states, 0.0), .state = std::nullopt};
    if (v != 0 && (states == 2 || is_component) && dice.chance(0.25)) {
      for (double& weight : finding.weights) weight = dice.uniform() + 1e-3;
    } else {
      finding.state = dice.below(states);
      finding.weights[*finding.state] = 1.0;
    }
    findings.push_back(std::move(finding));
  }
  return findings;
}

SolverOptions by_two_layer() {
  SolverOptions options;
  options.whole_tree_entries = 0.0;
  return options;
}

SolverOptions by_trees() {
  SolverOptions options = by_two_layer();
  options.two_layer_multiplications = 0.0;
  return options;
}

bool takes_two_layer(const Case& current) {
  std::vector<VariableIndex> wanted = current.model().with_role(Role::component);
  wanted.push_back(0);
  const CaseShape shape = shape_of_case(current.model(), wanted, current.findings());
  return !current.solver().has_shared_tree() &&
         detail::cheap_two_layer(current.solver(), shape, current.findings(), {}).has_value();
}

/// Everything that a case can be asked for.
void expect_alike(const Case& covers, const Case& tree) {
  EXPECT_NEAR(covers.log_evidence(), tree.log_evidence(), tolerance);
  support::expect_near(covers.posteriors(), tree.posteriors(), tolerance);
  const FaultModel& model = covers.model();
  for (std::size_t v = 0; v < model.size(); ++v) {
    support::expect_near(covers.posterior(v), tree.posterior(v), tolerance);
  }
  const std::vector<VariableIndex> pair{1, 2};
  support::expect_near(covers.joint(pair).probabilities, tree.joint(pair).probabilities, tolerance);
  for (const GainKind kind : {GainKind::joint, GainKind::per_component}) {
    RankOptions options;
    options.targets = {1, 2, 3, 4};
    options.gain = kind;
    options.by = RankBy::gain;
    for (std::size_t v = 5; v < model.size(); ++v) {
      if (covers.finding_of(v) == nullptr) options.tests.push_back(v);
    }
    if (options.tests.empty()) continue;
    std::vector<double> by_two_layer(model.size(), 0.0);
    std::vector<double> by_tree(model.size(), 0.0);
    for (const TestForecast& test : rank_tests(covers, options).tests) by_two_layer[test.test] = test.gain_bits;
    for (const TestForecast& test : rank_tests(tree, options).tests) by_tree[test.test] = test.gain_bits;
    support::expect_near(by_two_layer, by_tree, tolerance);
  }
}

TEST(TwoLayerSums, SmallModelsEqualEnumeration) {
  Dice dice(1);
  std::size_t compared = 0;
  for (std::size_t round = 0; round < support::rounds(60); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    const FaultModel model(RandomTwoLayers(dice, {4, 3, 4, 4}).take());
    const support::Enumeration right(model);
    const std::vector<Finding> findings = random_findings(dice, model, 0.7);
    const double evidence = right.evidence(findings);
    Case current(Solver(model, by_two_layer()));
    if (evidence <= 0.0) {
      EXPECT_THROW(current.add(findings), ImpossibleFindings);
      continue;
    }
    current.add(findings);
    compared += takes_two_layer(current) ? 1 : 0;
    EXPECT_NEAR(current.log_evidence(), std::log(evidence), tolerance);
    for (std::size_t v = 0; v < model.size(); ++v) {
      support::expect_near(current.posterior(v), right.joint(findings, {v}), tolerance);
    }
  }
  EXPECT_GE(compared, support::rounds(60) / 3);
}

TEST(TwoLayerSums, SayTheSameAsCliqueTrees) {
  Dice dice(2);
  std::size_t compared = 0;
  for (std::size_t round = 0; round < support::rounds(30); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    const FaultModel model(RandomTwoLayers(dice, {12, 4, 14, 6, 0.1}).take());
    Case covers(Solver(model, by_two_layer()));
    Case tree(Solver(model, by_trees()));
    const std::vector<Finding> findings = random_findings(dice, model, 0.6);
    if (!tree.try_findings(findings)) {
      EXPECT_FALSE(covers.try_findings(findings));
      continue;
    }
    ASSERT_TRUE(covers.try_findings(findings));
    ASSERT_FALSE(takes_two_layer(tree));
    compared += takes_two_layer(covers) ? 1 : 0;
    expect_alike(covers, tree);
  }
  EXPECT_GE(compared, support::rounds(30) / 3);
}

// The states of such causes are carried along, and their links taken in parts.
TEST(TwoLayerSums, CausesOfManyEffectsSayTheSameToo) {
  Dice dice(3);
  for (std::size_t round = 0; round < support::rounds(6); ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    const FaultModel model(RandomTwoLayers(dice, {5, 4, 14, 5, 0.0}).take());
    std::vector<Finding> findings;
    for (std::size_t v = 0; v < model.size(); ++v) {
      const bool is_sign = model.variable(v).name.starts_with("sign");
      if (v != 0 && (!is_sign || v % 5 == 0)) continue;
      findings.push_back(
          {.variable = v, .weights = std::vector<double>(model.state_count(v), 0.0), .state = is_sign ? 1U : 0U});
      findings.back().weights[*findings.back().state] = 1.0;
    }
    Case covers(Solver(model, by_two_layer()));
    Case tree(Solver(model, by_trees()));
    covers.add(findings);
    tree.add(findings);
    EXPECT_TRUE(takes_two_layer(covers));
    expect_alike(covers, tree);
  }
}

TEST(TwoLayerSums, NameTheClashOfImpossibleFindings) {
  Dice dice(4);
  ModelParts parts = RandomTwoLayers(dice, {8, 2, 3, 8, 0.0}).take();
  NoisyMax& sign = std::get<NoisyMax>(parts.variables[9].distribution);
  sign.leak = {1.0};
  sign.leak.resize(parts.variables[9].states.size(), 0.0);
  for (const bool covers : {true, false}) {
    Case current(Solver(FaultModel(parts), covers ? by_two_layer() : by_trees()));
    current.add_finding(VariableIndex{0}, 0);
    for (std::size_t c = 1; c <= 8; ++c) current.add_finding(c, 0);
    const double before = current.log_evidence();
    try {
      current.add_finding(9, 1);
      FAIL() << "no cause is left";
    } catch (const ImpossibleFindings& error) {
      EXPECT_GE(error.clash().size(), 2U);
      EXPECT_EQ(error.clash().back(), "sign0=s1");
    }
    EXPECT_EQ(current.log_evidence(), before);
  }
}

TEST(TwoLayerSums, AnswerWhereATreeDoesNotFit) {
  Dice dice(5);
  const FaultModel model(RandomTwoLayers(dice, {30, 3, 14, 30, 0.0}).take());
  const std::vector<Finding> findings = [&] {
    std::vector<Finding> all{{.variable = 0, .weights = {1.0, 0.0}, .state = 0}};
    for (std::size_t v = 31; v < 45; ++v) {
      all.push_back({.variable = v, .weights = std::vector<double>(model.state_count(v), 0.0), .state = 1});
      all.back().weights[1] = 1.0;
    }
    return all;
  }();
  SolverOptions trees = by_trees();
  trees.memory_limit_bytes = 64.0 * 1024 * 1024;
  Case tree(Solver(model, trees));
  EXPECT_THROW(tree.add(findings), TooLarge);
  SolverOptions little = trees;
  little.two_layer_multiplications = 1e5;
  Case covers(Solver(model, little));
  covers.add(findings);
  EXPECT_FALSE(takes_two_layer(covers));  // they are not cheap
  EXPECT_TRUE(std::isfinite(covers.log_evidence()));
}

TEST(TwoLayerSums, CanBeStopped) {
  Dice dice(6);
  SolverOptions options = by_two_layer();
  bool stop = false;
  StopOptions polled;
  polled.poll = [&stop] {
    if (stop) throw Stopped("stopped");
  };
  Case current(Solver(FaultModel(RandomTwoLayers(dice, {12, 3, 8, 6, 0.0}).take()), options));
  const StopScope scope(current, Stop(polled));
  current.add_finding(VariableIndex{0}, 0);
  current.add_finding(13, 1);
  ASSERT_TRUE(takes_two_layer(current));
  const double before = current.log_evidence();
  stop = true;
  EXPECT_THROW(current.add_finding(14, 1), Stopped);
  stop = false;
  EXPECT_EQ(current.log_evidence(), before);
}

// Nothing underflows: an effect that hardly ever comes is left to the tree.
TEST(TwoLayerSums, LeaveToTreesWhatIsNextToImpossible) {
  Dice dice(7);
  ModelParts parts = RandomTwoLayers(dice, {8, 2, 3, 8, 0.0}).take();
  for (std::size_t v = 9; v < 12; ++v) {
    NoisyMax& sign = std::get<NoisyMax>(parts.variables[v].distribution);
    std::erase_if(sign.links, [](const Link& link) { return !link.only_when.empty(); });
    for (Link& link : sign.links) link.only_when = {{0, {1}}};
    sign.leak.assign(sign.leak.size(), 0.0);
    sign.leak[0] = 1.0;
    sign.leak[1] = 1e-20;
  }
  Case current(Solver(FaultModel(std::move(parts)), by_two_layer()));
  current.add_finding(VariableIndex{0}, 0);
  for (std::size_t v = 9; v < 12; ++v) current.add_finding(v, 1);
  EXPECT_NEAR(current.log_evidence(), std::log(0.7) - 60.0 * std::log(10.0), 1e-9);
  EXPECT_FALSE(takes_two_layer(current));
}

}  // namespace

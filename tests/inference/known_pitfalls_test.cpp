// Kinds of failure that users of graphical-model software have reported in public, each as a small case with the value
// worked by hand beside it.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <string>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "support/build.hpp"
#include "support/compare.hpp"

namespace {

using namespace faultodds;
using support::Builder;

const std::vector<std::string> zero_one = {"0", "1"};

TEST(KnownPitfalls, ContradictoryFindingsAreAnErrorThatNamesThem) {
  Builder builder;
  const std::size_t a = builder.variable("A", {"y", "n"}, {}, {0.2, 0.8});
  builder.variable("B", {"y", "n"}, {a}, {1.0, 0.0, 0.0, 1.0});
  Case current{Solver(builder.model())};
  current.add_finding("A", "y");
  try {
    current.add_finding("B", "n");
    FAIL() << "a copy differed from its original";
  } catch (const ImpossibleFindings& impossible) {
    EXPECT_EQ(impossible.clash(), (std::vector<std::string>{"A=y", "B=n"}));
  }
  // The failed call left nothing behind; what is possible is not refused.
  EXPECT_EQ(current.posterior("B"), (std::vector<double>{1.0, 0.0}));
  current.add_finding("B", "y");
  EXPECT_EQ(current.posterior("A"), (std::vector<double>{1.0, 0.0}));
  current.take_back_to(0);
  EXPECT_EQ(current.posterior("A")[0], 0.2);
  EXPECT_NEAR(current.log_evidence(), 0.0, 1e-15);
}

TEST(KnownPitfalls, EqualTablesCountEachForItself) {
  Builder builder;
  const std::size_t h = builder.variable("H", zero_one, {}, {0.99, 0.01});
  for (const char* name : {"T1", "T2"}) builder.variable(name, {"-", "+"}, {h}, {0.9, 0.1, 0.1, 0.9});
  Case current{Solver(builder.model())};
  current.add_finding("T1", "+");
  current.add_finding("T2", "+");
  EXPECT_NEAR(current.posterior(h)[1], 0.0081 / 0.0180, 1e-14);  // 0.45; one of them alone would give 0.0833
}

TEST(KnownPitfalls, NothingHangsOnTheOrderOfNames) {
  // All 6 orders of declaration of X -> Y -> Z, with the findings and the joint asked for in both orders.
  std::vector<std::size_t> place = {0, 1, 2};
  do {
    std::array<std::string, 3> names;
    names[place[0]] = "X", names[place[1]] = "Y", names[place[2]] = "Z";
    Builder builder;
    for (const std::string& name : names) {
      if (name == "X") builder.variable(name, zero_one, {}, {0.7, 0.3});
      if (name == "Y") builder.variable(name, zero_one, {place[0]}, {0.8, 0.2, 0.1, 0.9});
      if (name == "Z") builder.variable(name, zero_one, {place[1]}, {0.6, 0.4, 0.3, 0.7});
    }
    const Solver solver(builder.model());
    Case forth{solver};
    forth.add_finding("Y", "1");
    forth.add_finding("X", "0");
    Case back{solver};
    back.add_finding("X", "0");
    back.add_finding("Y", "1");
    EXPECT_EQ(forth.log_evidence(), back.log_evidence());
    EXPECT_NEAR(std::exp(forth.log_evidence()), 0.14, 1e-15);
    const JointPosterior xy = Case{solver}.joint(std::array<VariableIndex, 2>{place[0], place[1]});
    const JointPosterior yx = Case{solver}.joint(std::array<VariableIndex, 2>{place[1], place[0]});
    EXPECT_NEAR(xy.probabilities[1], 0.14, 1e-15);
    EXPECT_NEAR(xy.probabilities[2], 0.03, 1e-15);
    for (std::size_t x = 0; x < 2; ++x) {
      for (std::size_t y = 0; y < 2; ++y) EXPECT_EQ(xy.probabilities[x * 2 + y], yx.probabilities[y * 2 + x]);
    }
  } while (std::next_permutation(place.begin(), place.end()));
}

TEST(KnownPitfalls, LikelihoodIsNotANewMarginalAndHasNoScale) {
  Builder builder;
  const std::size_t a = builder.variable("A", zero_one, {}, {0.9, 0.1});
  const Solver solver(builder.model());
  for (const std::array<double, 2>& weights :
       {std::array{0.2, 0.8}, std::array{1.0, 4.0}, std::array{1e-200, 4e-200}}) {
    Case current{solver};
    current.add_likelihood(a, weights);
    EXPECT_NEAR(current.posterior(a)[1], 4.0 / 13.0, 1e-14);
  }
}

TEST(KnownPitfalls, QuestionsDoNotChangeTheModel) {
  Builder builder;
  const std::size_t a = builder.variable("A", zero_one, {}, {0.9, 0.1});
  const std::size_t b = builder.variable("B", zero_one, {a}, {0.9, 0.1, 0.1, 0.9});
  const Solver solver(builder.model());
  Case plain{solver};
  const std::vector<double> before = plain.posterior(b);
  EXPECT_NEAR(before[1], 0.18, 1e-15);
  for (int repeat = 0; repeat < 2; ++repeat) {
    Case weighed{solver};
    weighed.add_likelihood(a, std::array{0.2, 0.8});
    EXPECT_NEAR(weighed.posterior(b)[1], 4.5 / 13.0, 1e-14);
    EXPECT_NEAR(weighed.posterior(b)[1], 4.5 / 13.0, 1e-14);
  }
  EXPECT_EQ(plain.posterior(b), before);
  EXPECT_EQ(Case{solver}.posterior(b), before);
  EXPECT_EQ(solver.model().size(), 2U);
}

TEST(KnownPitfalls, LoopsAreExact) {
  Builder builder;
  const std::size_t a = builder.variable("A", zero_one, {}, {0.5, 0.5});
  const std::size_t b = builder.variable("B", zero_one, {a}, {1.0, 0.0, 0.0, 1.0});
  const std::size_t c = builder.variable("C", zero_one, CountOf{{{a, {1}}, {b, {1}}}, 1});
  Case current{Solver(builder.model())};
  EXPECT_NEAR(current.posterior(c)[1], 0.5, 1e-15);  // not 0.75
  current.add_finding(c, 1);
  EXPECT_NEAR(current.posterior(a)[1], 1.0, 1e-15);
}

TEST(KnownPitfalls, PartialObservationsHaveAProbability) {
  Builder builder;
  const std::size_t x = builder.variable("X", zero_one, {}, {0.7, 0.3});
  const std::size_t y = builder.variable("Y", zero_one, {x}, {0.8, 0.2, 0.1, 0.9});
  const Solver solver(builder.model());
  Case current{solver};
  EXPECT_NEAR(current.log_evidence(), 0.0, 1e-15);
  current.add_finding(y, 1);
  EXPECT_NEAR(current.log_evidence(), std::log(0.41), 1e-14);
  current.change(Finding{.variable = y, .weights = {1.0, 0.0}, .state = 0});
  EXPECT_NEAR(current.log_evidence(), std::log(0.59), 1e-14);
}

// A table of 2^41 or 2^71 numbers is refused before it is made; the second does not fit 64 bits.
TEST(KnownPitfalls, HugeTablesAreRefusedBeforeTheyAreMade) {
  for (const std::size_t parents : {40U, 70U}) {
    Builder builder;
    NoisyMax noisy{{1.0, 0.0}, {}};
    for (std::size_t i = 0; i < parents; ++i) {
      noisy.links.push_back({.cause = builder.component("p" + std::to_string(i), 0.1),
                             .effect = Table(2, {1.0, 0.0, 0.5, 0.5}),
                             .only_when = {},
                             .source = {}});
    }
    const std::size_t child = builder.variable("child", zero_one, std::move(noisy));
    const FaultModel model = builder.model();
    try {
      static_cast<void>(written_out(model, child));
      FAIL() << "a table of 2^" << parents + 1 << " numbers was written out";
    } catch (const TooLarge& refused) {
      EXPECT_NEAR(std::log2(refused.bytes()), static_cast<double>(parents) + 4.0, 1e-9);
      EXPECT_NE(std::string(refused.what()).find("child"), std::string::npos);
    }
    // As noisy-OR the same model is no trouble. P(absent) = (1 - 0.1 * 0.5)^n.
    EXPECT_NEAR(Case{Solver(model)}.posterior(child)[0], std::pow(0.95, static_cast<double>(parents)), 1e-12);
  }
}

TEST(KnownPitfalls, ThirtyFiveParentsOfOneStateAreNoTrouble) {
  Builder builder;
  std::vector<VariableIndex> parents;
  for (std::size_t i = 0; i < 35; ++i)
    parents.push_back(builder.variable("p" + std::to_string(i), {"only"}, {}, {1.0}));
  const std::size_t child = builder.variable("child", zero_one, parents, {0.25, 0.75});
  Case current{Solver(builder.model())};
  EXPECT_NEAR(current.posterior(child)[1], 0.75, 1e-15);
  current.add_finding("p17", "only");
  EXPECT_NEAR(current.log_evidence(), 0.0, 1e-15);
}

// Star: a root with 10 states and 100 children with 5: 100 cliques of 50 entries, width 1.
TEST(KnownPitfalls, CostIsKnownBeforehand) {
  Builder builder;
  const std::size_t root =
      builder.variable("root", {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9"}, {}, std::vector<double>(10, 0.1));
  for (std::size_t i = 0; i < 100; ++i) {
    builder.variable("c" + std::to_string(i), {"a", "b", "c", "d", "e"}, {root}, std::vector<double>(50, 0.2));
  }
  const FaultModel model = builder.model();
  const CostEstimate cost = estimate_cost(model);
  EXPECT_EQ(cost.width, 1U);
  EXPECT_EQ(cost.largest_clique, 50.0);
  EXPECT_GE(cost.cliques, 100U);
  EXPECT_GE(cost.entries, 5000.0);
  EXPECT_LT(cost.entries, 7500.0) << "a few relays over the root's 10 states may come on top";
  EXPECT_GT(cost.operations, cost.entries);
  SolverOptions tight;
  tight.memory_limit_bytes = 10'000.0;
  tight.two_layer_multiplications = 0.0;            // which need no tree for such a star
  const std::array<StateIndex, 2> either = {0, 1};  // one state alone would be a weight on the root
  EXPECT_THROW(
      {
        const Solver solver(model, tight);
        static_cast<void>(Case{solver}.posterior(root));
        Case current{solver};
        for (std::size_t c = 1; c <= 100; ++c) current.add_one_of(c, either);
      },
      TooLarge);
}

// 60 causes and 200 effects of three each: the whole tree would be as wide as the causes are many, but a case with two
// findings concerns few of them. Their tables are small enough to be written out, which must not hide that they are
// noisy.
TEST(KnownPitfalls, SmallNoisyEffectsDoNotBringTheWholeTree) {
  Builder builder;
  for (std::size_t c = 0; c < 60; ++c) builder.component("c" + std::to_string(c), 0.01);
  std::vector<VariableIndex> effects;
  for (std::size_t e = 0; e < 200; ++e) {
    NoisyMax noisy{{0.99, 0.01}, {}};
    for (std::size_t i = 1; i <= 3; ++i)
      noisy.links.push_back({.cause = (7 * e + i * (1 + e % 13)) % 60,
                             .effect = Table(2, {1.0, 0.0, 0.2, 0.8}),
                             .only_when = {},
                             .source = {}});
    effects.push_back(builder.variable("e" + std::to_string(e), {"absent", "present"}, std::move(noisy)));
  }
  const Solver solver(builder.model());
  EXPECT_FALSE(solver.has_shared_tree());
  Case current(solver);
  current.add_finding(effects[0], 1);
  current.add_finding(effects[1], 0);
  // P(present) = 1 - 0.99 (1 - 0.01 * 0.8)^3, from the definition of noisy-OR; the links of effect 1 are other causes.
  EXPECT_NEAR(std::exp(Case(solver).log_evidence()), 1.0, 1e-12);
  const double absent = 0.99 * std::pow(1.0 - 0.01 * 0.8, 3);
  EXPECT_NEAR(std::exp(current.log_evidence()), (1.0 - absent) * absent, 1e-12);
}

// 20 variables of five states: marginals are 100 numbers; the joint would be 5^20 and is refused with its size.
TEST(KnownPitfalls, JointsAreAskedForAndRefusedBySize) {
  Builder builder;
  std::vector<VariableIndex> all;
  for (std::size_t i = 0; i < 20; ++i) {
    all.push_back(builder.variable("v" + std::to_string(i), {"a", "b", "c", "d", "e"}, {}, {0.1, 0.2, 0.3, 0.3, 0.1}));
  }
  const Case current{Solver(builder.model())};
  std::size_t numbers = 0;
  for (const std::vector<double>& row : current.posteriors()) numbers += row.size();
  EXPECT_EQ(numbers, 100U);
  try {
    static_cast<void>(current.joint(all));
    FAIL() << "a joint of 5^20 states was made";
  } catch (const TooLarge& refused) {
    EXPECT_NEAR(refused.bytes(), 8.0 * 95367431640625.0, 1.0);
  }
}

TEST(KnownPitfalls, ManyCasesGiveWhatEachGivesAlone) {
  Builder builder;
  const std::size_t a = builder.variable("A", zero_one, {}, {0.9, 0.1});
  const std::size_t b = builder.variable("B", zero_one, {a}, {0.9, 0.1, 0.1, 0.9});
  const Solver solver(builder.model());
  const std::array<double, 2> right = {0.01 / 0.82, 0.5};
  std::array<double, 2> first = {-1.0, -1.0};
  for (std::size_t i = 0; i < 100'000; ++i) {
    const std::size_t state = i % 3 == 1 ? 0 : 1;
    Case current{solver};
    current.add_finding(b, state);
    const double found = current.posterior(a)[1];
    if (first[state] < 0.0) first[state] = found;
    ASSERT_EQ(found, first[state]) << "case " << i;
  }
  EXPECT_NEAR(first[0], right[0], 1e-15);
  EXPECT_NEAR(first[1], right[1], 1e-15);
}

TEST(KnownPitfalls, StateNamesThatLookLikeNumbersAreNames) {
  Builder builder;
  builder.variable("V", {"1", "2", "3"}, {}, {0.5, 0.3, 0.2});
  Case current{Solver(builder.model())};
  current.add_finding("V", "1");
  EXPECT_EQ(current.findings()[0].state, std::size_t{0});
  current.take_back_to(0);
  try {
    current.add_finding("V", "4");
    FAIL() << "state 4 was accepted";
  } catch (const UnknownName& unknown) {
    EXPECT_EQ(unknown.owner(), "V");
    EXPECT_EQ(unknown.name(), "4");
  }
}

TEST(KnownPitfalls, NoisyOrWithLeak) {
  Builder builder;
  const std::size_t first = builder.component("first", 0.3);
  const std::size_t second = builder.component("second", 0.4);
  const std::size_t effect = builder.variable(
      "effect", zero_one,
      NoisyMax{{0.99, 0.01},
               {{.cause = first, .effect = Table(2, {1.0, 0.0, 0.2, 0.8}), .only_when = {}, .source = {}},
                {.cause = second, .effect = Table(2, {1.0, 0.0, 0.5, 0.5}), .only_when = {}, .source = {}}}});
  const Solver solver(builder.model());
  const std::array<double, 4> right = {0.01, 0.505, 0.802, 0.901};  // by (first, second)
  for (std::size_t f = 0; f < 2; ++f) {
    for (std::size_t s = 0; s < 2; ++s) {
      Case current{solver};
      current.add_finding(first, f);
      current.add_finding(second, s);
      EXPECT_NEAR(current.posterior(effect)[1], right[2 * f + s], 1e-15);
    }
  }
}

TEST(KnownPitfalls, ThirtyCausesOfANoisyOr) {
  Builder builder;
  NoisyMax noisy{{1.0, 0.0}, {}};
  for (std::size_t i = 0; i < 30; ++i) {
    noisy.links.push_back({.cause = builder.component("c" + std::to_string(i), 0.1),
                           .effect = Table(2, {1.0, 0.0, 0.5, 0.5}),
                           .only_when = {},
                           .source = {}});
  }
  const std::size_t effect = builder.variable("effect", zero_one, std::move(noisy));
  for (const double whole : {0.0, 1e9}) {
    SolverOptions options;
    options.whole_tree_entries = whole;
    Case current{Solver(builder.model(), options)};
    const double present = 1.0 - std::pow(0.95, 30);
    EXPECT_NEAR(current.posterior(effect)[1], present, 1e-12);
    current.add_finding(effect, 1);
    for (const std::size_t cause : {0U, 13U, 29U}) {
      EXPECT_NEAR(current.posterior(cause)[1], 0.1 * (1.0 - 0.5 * std::pow(0.95, 29)) / present, 1e-12);
    }
    // Found absent, the effect speaks about each cause by itself: 0.1 * 0.5 / 0.95.
    current.change(Finding{.variable = effect, .weights = {1.0, 0.0}, .state = 0});
    EXPECT_NEAR(current.posterior(std::size_t{13})[1], 0.05 / 0.95, 1e-14);
    EXPECT_NEAR(current.log_evidence(), 30.0 * std::log(0.95), 1e-12);
  }
}

TEST(KnownPitfalls, OneOfSeveralStates) {
  Builder builder;
  const std::size_t w = builder.variable("W", {"s", "r", "x"}, {}, {0.5, 0.3, 0.2});
  const std::size_t e = builder.variable("E", {"low", "high"}, {w}, {0.9, 0.1, 0.5, 0.5, 0.1, 0.9});
  const Solver solver(builder.model());
  Case current{solver};
  EXPECT_NEAR(current.posterior(e)[1], 0.38, 1e-15);
  current.add_one_of(w, std::array<StateIndex, 2>{0, 1});
  support::expect_near(current.posterior(w), {0.625, 0.375, 0.0}, 1e-15);
  EXPECT_NEAR(current.posterior(e)[1], 0.25, 1e-15);
  EXPECT_NEAR(current.log_evidence(), std::log(0.8), 1e-14);
  Case all{solver};
  all.add_one_of(w, std::array<StateIndex, 3>{0, 1, 2});
  support::expect_near(all.posterior(w), {0.5, 0.3, 0.2}, 1e-15);
  Case none{solver};
  EXPECT_THROW(none.add_one_of(w, {}), ArgumentError);
}

TEST(KnownPitfalls, LongWorkCanBeStopped) {
  Builder builder;
  const std::size_t a = builder.variable("A", zero_one, {}, {0.9, 0.1});
  builder.variable("B", zero_one, {a}, {0.9, 0.1, 0.1, 0.9});
  std::atomic<bool> stop{false};
  StopOptions pressed;
  pressed.flag = &stop;
  Case current{Solver(builder.model())};
  const StopScope scope(current, Stop(pressed));
  stop = true;
  EXPECT_THROW(current.add_finding("B", "1"), Stopped);
  stop = false;
  EXPECT_TRUE(current.findings().empty());
  current.add_finding("B", "1");
  EXPECT_NEAR(current.posterior(a)[1], 0.5, 1e-15);
}

}  // namespace

// Worked examples of textbooks and papers. Numbers quoted to the digits of the source; every one of them is also
// checked against enumeration of all joint states, so that a digit recalled wrongly would show.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/inference/explanations.hpp"
#include "support/build.hpp"
#include "support/compare.hpp"
#include "support/enumeration.hpp"

namespace {

using namespace faultodds;
using support::Builder;

const std::vector<std::string> no_yes = {"no", "yes"};
using Findings = std::vector<std::pair<std::string, std::string>>;

/// P(variable=state | findings), the same by both methods.
double probability(const FaultModel& model, const std::string& variable, const std::string& state,
                   const Findings& findings) {
  Case current{Solver(model)};
  for (const auto& [name, seen] : findings) current.add_finding(name, seen);
  const support::Enumeration oracle(model);
  support::expect_near(current.posteriors(), oracle.posteriors(current.findings()), 1e-12);
  EXPECT_NEAR(current.log_evidence(), std::log(oracle.evidence(current.findings())), 1e-12);
  const std::size_t index = model.index_of(variable);
  return current.posterior(index)[model.state_of(index, state)];
}

/// P(findings).
double probability(const FaultModel& model, const Findings& findings) {
  Case current{Solver(model)};
  for (const auto& [name, seen] : findings) current.add_finding(name, seen);
  return std::exp(current.log_evidence());
}

// Lauritzen & Spiegelhalter, "Local computations with probabilities on graphical structures and their application to
// expert systems", J. R. Statist. Soc. B 50 (1988), section 2 (model) and table of marginals.
FaultModel chest_clinic() {
  Builder b;
  const std::size_t asia = b.variable("asia", no_yes, {}, {0.99, 0.01});
  const std::size_t smoker = b.variable("smoker", no_yes, {}, {0.5, 0.5});
  const std::size_t tuberculosis = b.variable("tuberculosis", no_yes, {asia}, {0.99, 0.01, 0.95, 0.05});
  const std::size_t cancer = b.variable("lung cancer", no_yes, {smoker}, {0.99, 0.01, 0.9, 0.1});
  const std::size_t bronchitis = b.variable("bronchitis", no_yes, {smoker}, {0.7, 0.3, 0.4, 0.6});
  const std::size_t either = b.variable("either", no_yes, CountOf{{{tuberculosis, {1}}, {cancer, {1}}}, 1});
  b.variable("x-ray", no_yes, {either}, {0.95, 0.05, 0.02, 0.98});
  b.variable("dyspnoea", no_yes, {either, bronchitis}, {0.9, 0.1, 0.2, 0.8, 0.3, 0.7, 0.1, 0.9});
  return b.model();
}

TEST(Textbook, ChestClinic) {
  const FaultModel model = chest_clinic();
  EXPECT_NEAR(probability(model, "tuberculosis", "yes", {}), 0.0104, 1e-12);
  EXPECT_NEAR(probability(model, "lung cancer", "yes", {}), 0.055, 1e-12);
  EXPECT_NEAR(probability(model, "bronchitis", "yes", {}), 0.45, 1e-12);
  EXPECT_NEAR(probability(model, "either", "yes", {}), 1.0 - 0.9896 * 0.945, 1e-12);
  EXPECT_NEAR(probability(model, "x-ray", "yes", {}), 0.98 * 0.064828 + 0.05 * 0.935172, 1e-12);
  EXPECT_NEAR(probability(model, "dyspnoea", "yes", {}), 0.4360, 5e-5);
  // The patient of the paper: has been to Asia, has dyspnoea.
  const Findings patient = {{"asia", "yes"}, {"dyspnoea", "yes"}};
  EXPECT_NEAR(probability(model, "tuberculosis", "yes", patient), 0.0878, 5e-5);
  EXPECT_NEAR(probability(model, "lung cancer", "yes", patient), 0.0995, 5e-5);
  EXPECT_NEAR(probability(model, "bronchitis", "yes", patient), 0.8114, 5e-5);
}

// Russell & Norvig, "Artificial Intelligence: A Modern Approach", 3rd ed. 2010, figure 14.2 and section 14.4.
TEST(Textbook, Burglary) {
  Builder b;
  const std::size_t burglary = b.variable("burglary", no_yes, {}, {0.999, 0.001});
  const std::size_t earthquake = b.variable("earthquake", no_yes, {}, {0.998, 0.002});
  const std::size_t alarm =
      b.variable("alarm", no_yes, {burglary, earthquake}, {0.999, 0.001, 0.71, 0.29, 0.06, 0.94, 0.05, 0.95});
  b.variable("john calls", no_yes, {alarm}, {0.95, 0.05, 0.1, 0.9});
  b.variable("mary calls", no_yes, {alarm}, {0.99, 0.01, 0.3, 0.7});
  const FaultModel model = b.model();
  EXPECT_NEAR(probability(model, "burglary", "yes", {{"john calls", "yes"}, {"mary calls", "yes"}}), 0.284, 5e-4);
  EXPECT_NEAR(
      probability(
          model,
          {{"john calls", "yes"}, {"mary calls", "yes"}, {"alarm", "yes"}, {"burglary", "no"}, {"earthquake", "no"}}),
      0.000628, 5e-7);
}

// Russell & Norvig 2010, figure 14.12: P(rain | sprinkler) = <0.3, 0.7>; the further numbers follow from the same
// tables.
TEST(Textbook, Sprinkler) {
  Builder b;
  const std::size_t cloudy = b.variable("cloudy", no_yes, {}, {0.5, 0.5});
  const std::size_t sprinkler = b.variable("sprinkler", no_yes, {cloudy}, {0.5, 0.5, 0.9, 0.1});
  const std::size_t rain = b.variable("rain", no_yes, {cloudy}, {0.8, 0.2, 0.2, 0.8});
  b.variable("wet grass", no_yes, {sprinkler, rain}, {1.0, 0.0, 0.1, 0.9, 0.1, 0.9, 0.01, 0.99});
  const FaultModel model = b.model();
  EXPECT_NEAR(probability(model, "rain", "yes", {{"sprinkler", "yes"}}), 0.3, 1e-12);
  EXPECT_NEAR(probability(model, {{"wet grass", "yes"}}), 0.6471, 1e-12);
  EXPECT_NEAR(probability(model, "sprinkler", "yes", {{"wet grass", "yes"}}), 0.2781 / 0.6471, 1e-12);
  EXPECT_NEAR(probability(model, "rain", "yes", {{"wet grass", "yes"}}), 0.4581 / 0.6471, 1e-12);
  EXPECT_NEAR(probability(model, "sprinkler", "yes", {{"wet grass", "yes"}, {"rain", "yes"}}), 0.1945, 5e-5);
}

// Jensen & Nielsen, "Bayesian Networks and Decision Graphs", 2nd ed. 2007, section 2.3: a car that does not start.
TEST(Textbook, CarStart) {
  Builder b;
  const std::size_t fuel = b.variable("fuel", {"yes", "no"}, {}, {0.98, 0.02});
  const std::size_t plugs = b.variable("plugs", {"clean", "foul"}, {}, {0.96, 0.04});
  b.variable("gauge", {"full", "half", "empty"}, {fuel}, {0.39, 0.60, 0.01, 0.001, 0.001, 0.998});
  b.variable("start", {"yes", "no"}, {fuel, plugs}, {0.99, 0.01, 0.01, 0.99, 0.0, 1.0, 0.0, 1.0});
  const FaultModel model = b.model();
  EXPECT_NEAR(probability(model, "plugs", "foul", {{"start", "no"}}), 0.5806, 5e-5);
  EXPECT_NEAR(probability(model, "fuel", "no", {{"start", "no"}}), 0.2932, 5e-5);
  // By hand: fuel or no fuel, foul plugs; over the same for both states of the plugs.
  const double foul = 0.98 * 0.60 * 0.04 * 0.99 + 0.02 * 0.001 * 0.04;
  const double clean = 0.98 * 0.60 * 0.96 * 0.01 + 0.02 * 0.001 * 0.96;
  const double found_foul = probability(model, "plugs", "foul", {{"start", "no"}, {"gauge", "half"}});
  EXPECT_NEAR(found_foul, foul / (foul + clean), 1e-12);
  EXPECT_NEAR(found_foul, 0.804, 5e-4);
  // The most probable joint state of fuel and plugs once the car does not start: fuel, and foul plugs.
  Case current{Solver(model)};
  current.add_finding("start", "no");
  const Explanations found = explain(current, std::vector<VariableIndex>{fuel, plugs}, 1);
  EXPECT_EQ(found.best[0].states, (std::vector<StateIndex>{0, 1}));
  EXPECT_NEAR(found.best[0].probability, 0.98 * 0.04 * 0.99 / (0.98 * (0.96 * 0.01 + 0.04 * 0.99) + 0.02), 1e-12);
}

// Koller & Friedman, "Probabilistic Graphical Models" (2009), figure 3.4 and section 3.2.1.
TEST(Textbook, Student) {
  Builder b;
  const std::size_t difficulty = b.variable("difficulty", {"easy", "hard"}, {}, {0.6, 0.4});
  const std::size_t intelligence = b.variable("intelligence", {"low", "high"}, {}, {0.7, 0.3});
  const std::size_t grade = b.variable("grade", {"1", "2", "3"}, {intelligence, difficulty},
                                       {0.3, 0.4, 0.3, 0.05, 0.25, 0.7, 0.9, 0.08, 0.02, 0.5, 0.3, 0.2});
  b.variable("sat", {"low", "high"}, {intelligence}, {0.95, 0.05, 0.2, 0.8});
  b.variable("letter", {"weak", "strong"}, {grade}, {0.1, 0.9, 0.4, 0.6, 0.99, 0.01});
  const FaultModel model = b.model();
  EXPECT_NEAR(probability(model, "letter", "strong", {}), 0.502, 5e-4);
  EXPECT_NEAR(probability(model, "letter", "strong", {{"intelligence", "low"}}), 0.389, 5e-4);
  EXPECT_NEAR(probability(model, "letter", "strong", {{"intelligence", "low"}, {"difficulty", "easy"}}), 0.513, 5e-4);
  EXPECT_NEAR(probability(model, "intelligence", "high", {{"grade", "3"}}), 0.079, 5e-4);
  EXPECT_NEAR(probability(model, "difficulty", "hard", {{"grade", "3"}}), 0.629, 5e-4);
  EXPECT_NEAR(probability(model, "intelligence", "high", {{"letter", "weak"}}), 0.14, 5e-3);
  EXPECT_NEAR(probability(model, "intelligence", "high", {{"grade", "3"}, {"sat", "high"}}), 0.578, 5e-4);
  EXPECT_NEAR(probability(model, "difficulty", "hard", {{"grade", "3"}, {"sat", "high"}}), 0.76, 5e-3);
}

// Korb & Nicholson, "Bayesian Artificial Intelligence", 2nd ed. 2011, section 2.2: metastatic cancer.
TEST(Textbook, LungCancer) {
  Builder b;
  const std::size_t pollution = b.variable("pollution", {"low", "high"}, {}, {0.9, 0.1});
  const std::size_t smoker = b.variable("smoker", no_yes, {}, {0.7, 0.3});
  const std::size_t cancer =
      b.variable("cancer", no_yes, {pollution, smoker}, {0.999, 0.001, 0.97, 0.03, 0.98, 0.02, 0.95, 0.05});
  b.variable("x-ray", {"negative", "positive"}, {cancer}, {0.8, 0.2, 0.1, 0.9});
  b.variable("dyspnoea", no_yes, {cancer}, {0.7, 0.3, 0.35, 0.65});
  const FaultModel model = b.model();
  EXPECT_NEAR(probability(model, "cancer", "yes", {}), 0.0116, 5e-5);
  EXPECT_NEAR(probability(model, "x-ray", "positive", {}), 0.208, 5e-4);
  EXPECT_NEAR(probability(model, "cancer", "yes", {{"dyspnoea", "yes"}}), 0.0249, 5e-5);
}

// Eddy, "Probabilistic reasoning in clinical medicine" (in Kahneman, Slovic & Tversky 1982): prevalence 1 %, detection
// 80 %, false alarms 9.6 %; a positive finding leaves 7 to 8 %.
TEST(Textbook, BaseRates) {
  Builder b;
  const std::size_t component = b.component("lesion", 0.01);
  b.variable("picture", {"negative", "positive"},
             Examination{.component = component, .detection = {0.8}, .false_alarm = 0.096}, faultodds::Test{});
  EXPECT_NEAR(probability(b.model(), "lesion", "faulty", {{"picture", "positive"}}), 0.008 / (0.008 + 0.09504), 1e-12);
  EXPECT_NEAR(probability(b.model(), "lesion", "faulty", {{"picture", "positive"}}), 0.0776, 5e-5);
}

// Selvin, "A problem in probability" (letter to The American Statistician, 1975): three doors.
TEST(Textbook, ThreeDoors) {
  Builder b;
  const std::vector<std::string> doors = {"1", "2", "3"};
  const std::size_t car = b.variable("car", doors, {}, {1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0});
  b.variable("opened", doors, {car}, {0.0, 0.5, 0.5, 0.0, 0.0, 1.0, 0.0, 1.0, 0.0});  // door 1 was chosen
  EXPECT_NEAR(probability(b.model(), "car", "2", {{"opened", "3"}}), 2.0 / 3.0, 1e-12);
  EXPECT_NEAR(probability(b.model(), "car", "1", {{"opened", "3"}}), 1.0 / 3.0, 1e-12);
}

// Noisy-OR: Pearl, "Probabilistic Reasoning in Intelligent Systems" (1988), section 4.3.2; the table of inhibitions for
// fever (cold 0.6, flu 0.2, malaria 0.1) is that of Russell & Norvig 2010, section 14.3.
TEST(Textbook, NoisyOrOfFever) {
  Builder b;
  const std::size_t cold = b.component("cold", 0.5);
  const std::size_t flu = b.component("flu", 0.5);
  const std::size_t malaria = b.component("malaria", 0.5);
  b.variable("fever", no_yes,
             NoisyMax{{1.0, 0.0},
                      {{.cause = cold, .effect = Table(2, {1.0, 0.0, 0.6, 0.4}), .only_when = {}, .source = {}},
                       {.cause = flu, .effect = Table(2, {1.0, 0.0, 0.2, 0.8}), .only_when = {}, .source = {}},
                       {.cause = malaria, .effect = Table(2, {1.0, 0.0, 0.1, 0.9}), .only_when = {}, .source = {}}}});
  const FaultModel model = b.model();
  const double no_fever[2][2][2] = {{{1.0, 0.1}, {0.2, 0.02}}, {{0.6, 0.06}, {0.12, 0.012}}};
  const std::vector<std::string> states = {"sound", "faulty"};
  for (std::size_t c = 0; c < 2; ++c) {
    for (std::size_t f = 0; f < 2; ++f) {
      for (std::size_t m = 0; m < 2; ++m) {
        const Findings causes = {{"cold", states[c]}, {"flu", states[f]}, {"malaria", states[m]}};
        EXPECT_NEAR(probability(model, "fever", "no", causes), no_fever[c][f][m], 1e-12);
      }
    }
  }
}

// Graded effects: P(Y <= y | causes) is the product of the causes' own (Diez, "Parameter adjustment in Bayes networks:
// the generalized noisy OR-gate", UAI 1993).
TEST(Textbook, NoisyMaxMultipliesCumulativeProbabilities) {
  Builder b;
  const std::size_t pump = b.component("pump", 0.5);
  const std::size_t filter = b.component("filter", 0.5);
  const std::size_t loss = b.variable(
      "loss", {"none", "mild", "severe"},
      NoisyMax{{0.9, 0.08, 0.02},
               {{.cause = pump, .effect = Table(3, {1.0, 0.0, 0.0, 0.2, 0.3, 0.5}), .only_when = {}, .source = {}},
                {.cause = filter, .effect = Table(3, {1.0, 0.0, 0.0, 0.5, 0.4, 0.1}), .only_when = {}, .source = {}}}});
  Case current{Solver(b.model())};
  current.add_finding("pump", "faulty");
  current.add_finding("filter", "faulty");
  const std::vector<double> found = current.posterior(loss);
  EXPECT_NEAR(found[0], 0.9 * 0.2 * 0.5, 1e-14);
  EXPECT_NEAR(found[0] + found[1], 0.98 * 0.5 * 0.9, 1e-14);
}

}  // namespace

// Preconditions of tests: a test is left out of rankings and policies until they are met.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/ranking/preconditions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"
#include "faultodds/io/model_json.hpp"

namespace {

using namespace faultodds;

/// A turbocharged or naturally aspirated engine; the frame has codes as precondition, the pressure test the engine and
/// a look.
FaultModel engine() {
  return read_model_json(R"({"format": "faultodds-model", "format_version": 1, "name": "engine", "labour_rate": 60,
    "context": [{"name": "induction", "label": "induction", "states": [{"name": "natural"},
                 {"name": "turbo", "label": "turbocharged"}], "prior": 0.5}],
    "components": [{"name": "hose", "table": {"given": ["induction"], "rows": [
                     {"when": {"induction": "natural"}, "p": 0}, {"when": {"induction": "turbo"}, "p": 0.2}]}},
                   {"name": "pump", "prior": 0.1}, {"name": "coil", "prior": 0.1}],
    "symptoms": [{"name": "weak", "complaint": true, "noisy_or": {"causes": [{"of": "hose", "strength": 0.9},
                   {"of": "pump", "strength": 0.9}, {"of": "coil", "strength": 0.6}]}},
                 {"name": "code_a", "noisy_or": {"leak": 0.02, "causes": [{"of": "pump", "strength": 0.7}]}},
                 {"name": "code_b", "noisy_or": {"leak": 0.02, "causes": [{"of": "coil", "strength": 0.7}]}}],
    "tests": [{"name": "codes", "label": "stored codes", "minutes": 5, "money": 0, "reveals": ["code_a", "code_b"],
               "states": [{"name": "none", "label": "none"}, {"name": "fuel", "label": "fuel codes"},
                          {"name": "spark", "label": "spark codes"}],
               "table": {"given": ["pump", "coil"], "rows": [
                 {"when": {"pump": "faulty"}, "p": {"fuel": 0.7, "spark": 0.1}},
                 {"when": {"pump": "sound", "coil": "faulty"}, "p": {"spark": 0.7}}], "otherwise": {"fuel": 0.02}}},
              {"name": "frame", "minutes": 1, "money": 0, "only_when": {"codes": ["fuel", "spark"]},
               "examines": {"component": "pump", "detects": 0.8, "false_alarm": 0.2}},
              {"name": "dwell", "minutes": 1, "money": 0, "only_when": {"codes": "spark"},
               "examines": {"component": "coil", "detects": 0.9, "false_alarm": 0.1}},
              {"name": "look", "minutes": 2, "money": 0, "not_when": {"codes": "spark", "induction": "natural"},
               "examines": {"component": "hose", "detects": 0.5, "false_alarm": 0.05}},
              {"name": "pressure", "minutes": 20, "money": 0, "only_when": {"induction": "turbo", "look": "good"},
               "examines": {"component": "hose", "detects": 0.98, "false_alarm": 0.01}}],
    "repairs": [{"name": "new_pump", "component": "pump", "minutes": 30, "money": 90},
                {"name": "new_coil", "component": "coil", "minutes": 10, "money": 60}],
    "hand_overs": [{"name": "specialist", "money": 400}]})");
}

class Preconditions : public ::testing::Test {
 protected:
  [[nodiscard]] Case vehicle(std::initializer_list<std::pair<const char*, const char*>> findings) const {
    Case current(solver);
    for (const auto& [variable, state] : findings) current.add_finding(variable, state);
    return current;
  }
  [[nodiscard]] std::string words(const Case& current, const char* test) const {
    return unmet_preconditions(current, model.index_of(test));
  }
  [[nodiscard]] std::vector<std::string> ranked(const Case& current, const RankOptions& options = {}) const {
    std::vector<std::string> names;
    for (const TestForecast& forecast : rank_tests(current, options).tests)
      names.push_back(model.variable(forecast.test).name);
    std::sort(names.begin(), names.end());
    return names;
  }
  [[nodiscard]] std::vector<std::string> planned(const Case& current) const {
    std::vector<std::string> names;
    for (const std::size_t test : problem_of(current).tests) names.push_back(model.variable(test).name);
    return names;
  }

  FaultModel model = engine();
  Solver solver{model};
};

using Names = std::vector<std::string>;

TEST_F(Preconditions, KeepATestOutUntilTheyAreFound) {
  EXPECT_EQ(ranked(vehicle({{"weak", "present"}})), (Names{"codes", "look"}));
  EXPECT_EQ(ranked(vehicle({{"weak", "present"}, {"codes", "fuel"}})), (Names{"frame", "look"}));
  EXPECT_EQ(ranked(vehicle({{"weak", "present"}, {"codes", "spark"}})), (Names{"dwell", "frame"}));
  EXPECT_EQ(ranked(vehicle({{"weak", "present"}, {"codes", "none"}})), (Names{"look"}));
}

TEST_F(Preconditions, AllGatesMustBeOpen) {
  EXPECT_EQ(words(vehicle({}), "pressure"), "only when induction: turbocharged; and look: good");
  EXPECT_EQ(words(vehicle({{"induction", "turbo"}}), "pressure"), "only when look: good");
  EXPECT_EQ(words(vehicle({{"look", "good"}}), "pressure"), "only when induction: turbocharged");
  EXPECT_EQ(words(vehicle({{"look", "bad"}}), "pressure"),
            "only when induction: turbocharged; and look: good (found: bad)");
  const Case both = vehicle({{"weak", "present"}, {"induction", "turbo"}, {"look", "good"}});
  EXPECT_EQ(words(both, "pressure"), "");
  EXPECT_EQ(ranked(both), (Names{"codes", "pressure"}));
}

TEST_F(Preconditions, SayWhatHasToBeKnownFirst) {
  EXPECT_EQ(words(vehicle({}), "frame"), "only when stored codes: any but none");
  EXPECT_EQ(words(vehicle({{"codes", "none"}}), "frame"), "only when stored codes: any but none (found: none)");
  EXPECT_EQ(words(vehicle({}), "dwell"), "only when stored codes: spark codes");
  EXPECT_EQ(words(vehicle({}), "look"), "");
}

TEST_F(Preconditions, RuleATestOutByAnyOneFindingButNotBefore) {
  EXPECT_EQ(words(vehicle({{"codes", "fuel"}, {"induction", "turbo"}}), "look"), "");
  EXPECT_EQ(words(vehicle({{"codes", "spark"}}), "look"), "not when stored codes: spark codes (found: spark codes)");
  EXPECT_EQ(words(vehicle({{"induction", "natural"}}), "look"), "not when induction: natural (found: natural)");
  EXPECT_TRUE(is_ruled_out(vehicle({{"induction", "natural"}}), model.index_of("look")));
  EXPECT_FALSE(is_ruled_out(vehicle({{"induction", "turbo"}}), model.index_of("look")));
  EXPECT_FALSE(is_ruled_out(vehicle({}), model.index_of("frame")));  // that precondition is only unmet
}

TEST_F(Preconditions, TakeWhatIsRevealedForTheTestThatRevealsIt) {
  const Case some = vehicle({{"code_a", "present"}});
  EXPECT_EQ(words(some, "frame"), "");
  EXPECT_EQ(words(some, "dwell"),
            "only when stored codes: spark codes");  // which codes they are is not said in general
  const Case none = vehicle({{"code_a", "absent"}, {"code_b", "absent"}});
  EXPECT_EQ(words(none, "frame"), "only when stored codes: any but none (found: none)");
  EXPECT_EQ(words(none, "dwell"), "only when stored codes: spark codes (found: none)");
  EXPECT_EQ(words(vehicle({{"code_a", "absent"}}), "frame"), "only when stored codes: any but none");
}

TEST_F(Preconditions, AreNotMetByWhatOnlyWeighsTheStates) {
  Case current = vehicle({{"induction", "turbo"}});
  current.add_likelihood("look", std::array{0.99, 0.01});
  EXPECT_EQ(words(current, "pressure"), "only when look: good");
}

TEST_F(Preconditions, ForgoNothingOnceTheTestIsRuledOut) {
  const auto left = [&](const Case& current) {
    const Ranking ranking = rank_tests(current);
    const auto at = std::find_if(ranking.left_out.begin(), ranking.left_out.end(),
                                 [&](const LeftOut& entry) { return entry.test == model.index_of("frame"); });
    EXPECT_NE(at, ranking.left_out.end());
    return *at;
  };
  const LeftOut unmet = left(vehicle({{"weak", "present"}}));
  EXPECT_EQ(unmet.reason, "only when stored codes: any but none");
  RankOptions options;  // the same test without a gate, in a model of its own
  ModelParts free = model.parts();
  free.variables[model.index_of("frame")].test().only_when.clear();
  Case current{Solver(FaultModel(free))};
  current.add_finding("weak", "present");
  options.tests = {model.index_of("frame")};
  EXPECT_NEAR(unmet.gain_bits, rank_tests(current, options).tests.at(0).gain_bits, 1e-12);
  EXPECT_GT(unmet.gain_bits, 0.01);
  EXPECT_EQ(left(vehicle({{"weak", "present"}, {"codes", "none"}})).gain_bits, 0.0);
}

TEST_F(Preconditions, KeepATestOutEvenIfItIsNamed) {
  RankOptions options;
  options.tests = {model.index_of("frame"), model.index_of("look")};
  EXPECT_EQ(ranked(vehicle({{"weak", "present"}}), options), (Names{"look"}));
  EXPECT_EQ(ranked(vehicle({{"weak", "present"}, {"code_b", "present"}}), options), (Names{"frame", "look"}));
}

TEST_F(Preconditions, KeepATestOutOfPoliciesAndBatches) {
  EXPECT_EQ(planned(vehicle({{"weak", "present"}})), (Names{"codes", "look"}));
  EXPECT_EQ(planned(vehicle({{"weak", "present"}, {"codes", "fuel"}})), (Names{"frame", "look"}));
  const TestBatch batch = best_batch(vehicle({{"weak", "present"}}));
  for (const BatchedTest& chosen : batch.chosen)
    EXPECT_EQ(words(vehicle({}), model.variable(chosen.test).name.c_str()), "");
}

TEST_F(Preconditions, AreUnmetAgainIfARepairMadeTheFindingOutOfDate) {
  const Case before = vehicle({{"weak", "present"}, {"codes", "fuel"}, {"look", "good"}, {"induction", "turbo"}});
  EXPECT_EQ(words(before, "frame"), "");
  const Repaired after = after_repair(before, 0);  // a new pump: the codes are to be read again, the hose is as it was
  EXPECT_EQ(unmet_preconditions(after.current, model.index_of("frame")), "only when stored codes: any but none");
  EXPECT_EQ(unmet_preconditions(after.current, model.index_of("pressure")), "");
}

}  // namespace

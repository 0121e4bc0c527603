// Every public call of model/ and inference/ with indices, sizes and weights that do not fit: all are refused, none
// reads beyond memory. Worth most under the address sanitizer.
// SPDX-License-Identifier: BSD-3-Clause
#include <array>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "faultodds/inference/batch.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/reading.hpp"
#include "faultodds/inference/sampling.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/model/lint.hpp"
#include "fuzz/wrong_values.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::no_index;
using support::other_size;
using support::refuses;
using support::wrong_weight;

class WrongArguments : public ::testing::Test {
 protected:
  static constexpr std::size_t times = 60;

  WrongArguments()
      : model_(read_model(FAULTODDS_SOURCE_DIR "/models/tutorial.json")), solver_(model_), current_(solver_) {
    current_.add_finding("dark", "present");
    right_ = current_.posteriors();
  }
  ~WrongArguments() override { EXPECT_EQ(current_.posteriors(), right_); }

  std::size_t variable() { return dice_.below(model_.size()); }
  std::size_t no_variable() { return no_index(dice_, model_.size()); }

  Finding wrong_finding() { return support::wrong_finding(dice_, model_); }

  Dice dice_{1};
  FaultModel model_;
  Solver solver_;
  Case current_;
  std::vector<std::vector<double>> right_;
};

TEST_F(WrongArguments, ToAModel) {
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    refuses("variable", [&] { static_cast<void>(model_.variable(nobody)); });
    refuses("state_count", [&] { static_cast<void>(model_.state_count(nobody)); });
    refuses("state_of", [&] { static_cast<void>(model_.state_of(nobody, "present")); });
    refuses("state_of", [&] { static_cast<void>(model_.state_of(variable(), "nothing of the kind")); });
    refuses("index_of", [&] { static_cast<void>(model_.index_of(std::string(dice_.below(40), 'x'))); });
    refuses("parents", [&] { static_cast<void>(model_.parents(nobody)); });
    refuses("children", [&] { static_cast<void>(model_.children(nobody)); });
    refuses("written_out", [&] { static_cast<void>(written_out(model_, nobody)); });
  }
}

TEST_F(WrongArguments, ToACase) {
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    const std::size_t known = variable();
    const std::size_t states = model_.state_count(known);
    refuses("add_finding", [&] { current_.add_finding(nobody, 0); });
    refuses("add_finding", [&] { current_.add_finding(known, no_index(dice_, states)); });
    refuses("add_finding", [&] { current_.add_finding("dark", "blinding"); });
    refuses("add_one_of", [&] { current_.add_one_of(nobody, std::array<StateIndex, 1>{0}); });
    refuses("add_one_of", [&] { current_.add_one_of(known, std::array<StateIndex, 2>{0, no_index(dice_, states)}); });
    refuses("add_one_of", [&] { current_.add_one_of(known, {}); });
    refuses("add_likelihood",
            [&] { current_.add_likelihood(known, std::vector<double>(other_size(dice_, states), 0.5)); });
    refuses("add_likelihood", [&] { current_.add_likelihood(nobody, std::vector<double>(states, 0.5)); });
    refuses("add", [&] { current_.add(wrong_finding()); });
    refuses("change", [&] { current_.change(wrong_finding()); });
    refuses("try_findings", [&] { static_cast<void>(current_.try_findings({wrong_finding()})); });
    current_.take_back(nobody);
    current_.take_back_to(no_index(dice_, current_.findings().size()));
    EXPECT_EQ(current_.finding_of(nobody), nullptr);
    refuses("posterior", [&] { static_cast<void>(current_.posterior(nobody)); });
    refuses("posterior_view", [&] { static_cast<void>(current_.posterior_view(nobody)); });
    refuses("joint", [&] { static_cast<void>(current_.joint(std::vector<VariableIndex>{known, nobody})); });
    refuses("joint", [&] { static_cast<void>(current_.joint(std::vector<VariableIndex>{known, known})); });
    refuses("joint_at_hand", [&] { static_cast<void>(current_.joint_at_hand(std::vector<VariableIndex>{nobody})); });
    refuses("describe", [&] { static_cast<void>(describe(model_, wrong_finding())); });
    refuses("smallest_clash", [&] {
      static_cast<void>(smallest_clash(solver_, std::vector{wrong_finding(), wrong_finding()}));
    });
  }
}

TEST_F(WrongArguments, ToABatchOfProducts) {
  BatchedReweighing batch = current_.batched_reweighing();
  const std::size_t known = model_.index_of("battery");
  const std::size_t states = model_.state_count(known);
  ASSERT_TRUE(batch.can_weigh(known));
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    const std::vector<double> fitting(states, 0.5);
    const std::vector<double> odd(other_size(dice_, states), 0.5);
    batch.start(3);
    EXPECT_FALSE(batch.can_weigh(nobody));
    refuses("weigh", [&] { batch.weigh(0, nobody, fitting); });
    refuses("weigh", [&] { batch.weigh(no_index(dice_, 3), known, fitting); });
    refuses("weigh", [&] { batch.weigh(0, known, odd); });
    refuses("want", [&] { batch.want(nobody); });
    refuses("give", [&] { batch.give(std::vector<Reweighing::Weights>{{nobody, fitting}}); });
    refuses("give", [&] { batch.give(std::vector<Reweighing::Weights>{{known, odd}}); });
    batch.start(3);
    refuses("expectation", [&] { static_cast<void>(batch.expectation(0)); });  // before a run
    batch.want(known);
    batch.run();
    refuses("expectation", [&] { static_cast<void>(batch.expectation(no_index(dice_, 3))); });
    refuses("joint", [&] { static_cast<void>(batch.joint(no_index(dice_, 3), known, 0)); });
    refuses("joint", [&] { static_cast<void>(batch.joint(0, nobody, 0)); });
    refuses("joint", [&] { static_cast<void>(batch.joint(0, known, no_index(dice_, states))); });
    refuses("joint", [&] { static_cast<void>(batch.joint(0, model_.index_of("bulb"), 0)); });  // was not wanted
    refuses("posterior", [&] { static_cast<void>(batch.posterior(nobody)); });
    refuses("joint_in_clique", [&] { static_cast<void>(batch.joint_in_clique(std::vector<VariableIndex>{nobody})); });
    refuses("in_one_clique", [&] { static_cast<void>(batch.in_one_clique(std::vector<VariableIndex>{nobody})); });
  }
}

TEST_F(WrongArguments, ToWorkOnManyCases) {
  const std::vector<VariableIndex> asked{0};
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t known = variable();
    const std::size_t states = model_.state_count(known);
    const std::size_t count = 1 + dice_.below(5);
    const std::vector<std::int32_t> none(count, not_observed);
    const std::vector<double> weights(count * states, 0.5);
    const auto answers = [&](const CaseRows& rows) { static_cast<void>(answer_cases(solver_, rows, asked)); };
    refuses("variables", [&] { answers({count, {no_variable()}, none, {}}); });
    refuses("states", [&] { answers({other_size(dice_, count), {known}, none, {}}); });
    refuses("states", [&] { answers({count, {known, known}, none, {}}); });
    std::vector<std::int32_t> wrong = none;
    wrong[dice_.below(count)] = dice_.chance(0.5) ? -2 : static_cast<std::int32_t>(states + dice_.below(9));
    refuses("states", [&] { answers({count, {known}, wrong, {}}); });
    refuses("likelihoods", [&] { answers({other_size(dice_, count), {}, {}, {{known, weights}}}); });
    refuses("likelihoods", [&] { answers({count, {}, {}, {{no_variable(), weights}}}); });
    std::vector<double> negative = weights;
    negative[dice_.below(negative.size())] = -1.0;
    refuses("likelihoods", [&] { answers({count, {}, {}, {{known, negative}}}); });
    refuses("asked", [&] {
      static_cast<void>(answer_cases(solver_, {count, {known}, none, {}}, std::vector<VariableIndex>{no_variable()}));
    });
  }
}

TEST_F(WrongArguments, ToExplanationsAndEstimates) {
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    refuses("explain", [&] { static_cast<void>(explain(current_, std::vector<VariableIndex>{nobody}, 1)); });
    const Explanation explanation{std::vector<StateIndex>(other_size(dice_, 2)), 0.5};
    refuses("faults_of", [&] { static_cast<void>(faults_of(model_, std::vector<VariableIndex>{0, 1}, explanation)); });
    const Explanation beyond{{no_index(dice_, model_.state_count(0))}, 0.5};
    refuses("faults_of", [&] { static_cast<void>(faults_of(model_, std::vector<VariableIndex>{0}, beyond)); });
    refuses("sampling", [&] { static_cast<void>(sample_posteriors(model_, std::vector{wrong_finding()}, {10, 1})); });
    refuses("conditioning",
            [&] { static_cast<void>(posteriors_by_conditioning(solver_, std::vector{wrong_finding()})); });
    refuses("conditioning", [&] { static_cast<void>(posteriors_by_conditioning(solver_, {}, {{nobody}, 16})); });
  }
}

TEST_F(WrongArguments, ToReadings) {
  std::size_t measured = 0;
  while (measured < model_.size() && !as_test(model_.variable(measured)).reading) ++measured;
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t nobody = no_variable();
    refuses("finding_from_reading", [&] { static_cast<void>(finding_from_reading(model_, nobody, 12.0, "V")); });
    refuses("combine_readings", [&] {
      static_cast<void>(combine_readings(model_, nobody, std::vector<Measured>{{12.0, "V"}}));
    });
    if (measured == model_.size()) continue;
    refuses("combine_readings", [&] { static_cast<void>(combine_readings(model_, measured, {})); });
    const double no_number = std::numeric_limits<double>::quiet_NaN();
    refuses("finding_from_reading", [&] { static_cast<void>(finding_from_reading(model_, measured, no_number, "")); });
  }
}

TEST_F(WrongArguments, LeaveWhatWasMovedFromWhole) {
  Case moved_from = current_;
  const Case taken = std::move(moved_from);
  EXPECT_EQ(taken.posteriors(), right_);
  EXPECT_TRUE(moved_from.findings().empty());  // NOLINT(bugprone-use-after-move)
  EXPECT_EQ(moved_from.posteriors(), Case(solver_).posteriors());
  moved_from.add_finding("dark", "present");
  EXPECT_EQ(moved_from.posteriors(), right_);
  Case assigned(solver_);
  assigned = std::move(moved_from);
  EXPECT_EQ(assigned.posteriors(), right_);
  EXPECT_TRUE(moved_from.findings().empty());  // NOLINT(bugprone-use-after-move)

  Solver solver = solver_;
  const Solver with_solver = std::move(solver);
  EXPECT_EQ(solver.model().size(), with_solver.model().size());  // NOLINT(bugprone-use-after-move)
  FaultModel model = model_;
  const FaultModel with_model = std::move(model);
  EXPECT_EQ(model, with_model);  // NOLINT(bugprone-use-after-move)
}

}  // namespace

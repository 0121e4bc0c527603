// Every public call of job/ with indices, sizes, names and amounts that do not fit: all are refused, none reads beyond
// memory, and the job stays as it was. Worth most under the address sanitizer.
// SPDX-License-Identifier: BSD-3-Clause
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/io/job_json.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/job/report_data.hpp"
#include "fuzz/wrong_values.hpp"
#include "job/workshop.hpp"

namespace {

using namespace faultodds;
using support::Dice;
using support::no_index;
using support::other_size;
using support::refuses;
using support::survives;
using support::wrong_weight;

class WrongJobs : public ::testing::Test {
 protected:
  static constexpr std::size_t times = 30;

  WrongJobs() : job_(support::long_job()) {
    job_.undo_to(10);  // a repair is behind it, and it has not ended
    before_ = write_job(job_);
    right_ = support::bits_of(job_.current());
  }
  ~WrongJobs() override {
    EXPECT_EQ(write_job(job_), before_);
    EXPECT_EQ(support::bits_of(job_.current()), right_);
  }

  [[nodiscard]] const FaultModel& model() const { return job_.model(); }
  std::size_t variable() { return dice_.below(model().size()); }
  std::size_t no_variable() { return no_index(dice_, model().size()); }
  std::size_t no_repair() { return no_index(dice_, model().parts().repairs.size()); }
  std::size_t no_hand_over() { return no_index(dice_, model().parts().hand_overs.size()); }
  std::string no_name() { return std::string(1 + dice_.below(30), 'x'); }

  Finding wrong_finding() { return support::wrong_finding(dice_, model()); }

  /// Entries that fit no model of this size, of each kind that can be wrong.
  std::vector<EntryKind> wrong_entries() {
    const std::size_t component = model().index_of("hose");
    ConfirmedFault nobody{.component = no_variable()};
    ConfirmedFault sound{.component = component, .state = dice_.below(2) * no_index(dice_, 2)};
    return {FindingEntry{wrong_finding()},
            ReadingEntry{.test = no_variable(), .readings = {{.value = 1.0, .unit = "kPa"}}, .text = {}, .finding = {}},
            RevealedEntry{.test = no_variable(), .findings = {}},
            RevealedEntry{.test = model().index_of("read_codes"), .findings = {wrong_finding()}},
            DeclinedEntry{.test = no_variable(), .reason = {}},
            RepairEntry{.repair = no_repair(), .check = {}},
            PartEntry{wrong_finding()},
            InPlaceEntry{{.access = {no_name()}, .conditions = {}}},
            InPlaceEntry{{.access = {}, .conditions = {no_name()}}},
            HandOverEntry{no_hand_over()},
            EndEntry{.end = JobEnd::cured, .confirmed = {nobody}, .note = {}},
            EndEntry{.end = JobEnd::cured, .confirmed = {sound}, .note = {}}};
  }

  Dice dice_{3};
  Job job_;
  std::string before_;
  std::vector<std::vector<double>> right_;
};

TEST_F(WrongJobs, InEntries) {
  for (std::size_t i = 0; i < times; ++i) {
    for (const EntryKind& wrong : wrong_entries()) {
      const std::string what = "entry " + std::string(kind_of(Entry{.what = wrong, .charge = {}}));
      refuses("record " + what, [&] { job_.record(wrong); });
      refuses("restore " + what, [&] { job_.restore({.what = wrong, .charge = {}}); });
      refuses("a job with " + what, [&] { Job(job_.solver(), {}, {{.what = wrong, .charge = {}}}); });
    }
    const std::size_t nobody = no_variable();
    refuses("add", [&] { job_.add(wrong_finding()); });
    refuses("add_finding", [&] { job_.add_finding(nobody, 0); });
    refuses("add_finding", [&] { job_.add_finding(0, no_index(dice_, model().state_count(0))); });
    refuses("add_finding", [&] { job_.add_finding(no_name(), "present"); });
    refuses("add_reading", [&] { job_.add_reading(nobody, "41 psi"); });
    refuses("add_reading", [&] { job_.add_reading("pressure", no_name()); });
    refuses("add_readings", [&] { job_.add_readings(model().index_of("pressure"), {}); });
    refuses("add_readings", [&] {
      job_.add_readings(model().index_of("pressure"), {{std::numeric_limits<double>::quiet_NaN(), "kPa"}});
    });
    refuses("add_revealed", [&] { job_.add_revealed(nobody, {}); });
    refuses("add_revealed", [&] { job_.add_revealed("read_codes", std::vector<std::string>{no_name()}); });
    refuses("decline", [&] { job_.decline(nobody, "no time"); });
    refuses("add_repair", [&] { job_.add_repair(no_repair()); });
    refuses("hand_over", [&] { job_.hand_over(no_hand_over()); });
    refuses("findings_before", [&] { static_cast<void>(job_.findings_before(no_index(dice_, 11))); });
    refuses("replaced_by", [&] { static_cast<void>(job_.replaced_by(no_index(dice_, 10))); });
    refuses("undo_to", [&] { job_.undo_to(no_index(dice_, 11)); });
  }
}

TEST_F(WrongJobs, InCharges) {
  for (std::size_t i = 0; i < times; ++i) {
    const double wrong = wrong_weight(dice_);
    const FindingEntry leak{detail::hard_finding(model(), model().index_of("leak"), 0)};
    std::vector<Charge> charges(4);
    charges[0].minutes = wrong;
    charges[1].wait_minutes = wrong;
    charges[2].money = wrong;
    charges[3].labour = wrong;
    for (const Charge& charge : charges) {
      const Entry entry{.what = leak, .charge = charge};
      refuses("restore", [&] { job_.restore(entry); });
      refuses("ledger_of", [&] { static_cast<void>(ledger_of(model(), std::vector{entry}, {})); });
    }
    refuses("ledger_of", [&] { static_cast<void>(ledger_of(model(), {}, {}, {.budget = wrong})); });
    refuses("ledger_of", [&] { static_cast<void>(ledger_of(model(), {}, {}, {.deadline = wrong})); });
    Charge charge;  // a saved job may name what another version of the model called otherwise
    charge.opens = charge.brings = {no_name()};
    survives("ledger_of", [&] {
      const Entry entry{.what = leak, .charge = charge};
      static_cast<void>(ledger_of(model(), std::vector{entry}, {}));
    });
    Work work;
    work.access = {no_name()};
    refuses("charge_of", [&] { static_cast<void>(charge_of(job_.current(), work, {})); });
  }
}

TEST_F(WrongJobs, InOptions) {
  for (std::size_t i = 0; i < times; ++i) {
    const double wrong = wrong_weight(dice_);
    const std::string name = no_name();
    for (const JobOptions& options :
         {JobOptions{.means = {.tools = std::vector{name}}}, JobOptions{.means = {.skill = name}},
          JobOptions{.means = {.open_access = {name}}}, JobOptions{.means = {.conditions = {name}}},
          JobOptions{.means = {.max_cost = wrong}}, JobOptions{.means = {.labour_rate = wrong}},
          JobOptions{.ends = {.hand_over = wrong}}, JobOptions{.ends = {.live_with = wrong}},
          JobOptions{.ends = {.comeback = wrong}}, JobOptions{.limits = {.budget = wrong}},
          JobOptions{.limits = {.deadline = wrong}}, JobOptions{.advice = {.ranking = {.targets = {no_variable()}}}},
          JobOptions{.advice = {.ranking = {.tests = {no_variable()}}}}}) {
      refuses("set_options", [&] { job_.set_options(options); });
      refuses("a job", [&] { Job(job_.solver(), options); });
      if (options.limits == JobLimits{}) {
        refuses("advise", [&] {
          const AdviceOptions given{.rules = options.advice, .means = options.means, .ends = options.ends};
          static_cast<void>(advise(job_.current(), given));
        });
      }
    }
  }
}

TEST_F(WrongJobs, InSteps) {
  const Case& current = job_.current();
  const Ranking ranking = rank_tests(current);
  ASSERT_FALSE(ranking.tests.empty());
  for (std::size_t i = 0; i < times; ++i) {
    const Fault nobody{.component = no_variable(), .state = 1};
    const Fault no_fault{.component = 0, .state = no_index(dice_, model().state_count(0))};
    for (const JobStep& step :
         {JobStep(AskStep{{no_variable()}}), JobStep(TestStep{no_variable()}), JobStep(RepairStep{no_repair()}),
          JobStep(HandOverStep{no_hand_over()}), JobStep(NoStep{NoStepReason::no_repair, std::nullopt}),
          JobStep(NoStep{NoStepReason::beyond_means, nobody}),
          JobStep(NoStep{NoStepReason::nothing_tells, no_fault})}) {
      refuses("described " + std::string(kind_of(step)), [&] { static_cast<void>(described(current, step, {})); });
      survives("advise", [&] { static_cast<void>(advise(current, {}, {.passed_over = {step}})); });
    }
    refuses("described", [&] { static_cast<void>(described(current, TestStep{0}, {.open_access = {no_name()}})); });
    TestForecast forecast = ranking.tests.front();
    forecast.outcomes.front().state = no_index(dice_, model().state_count(forecast.test));
    refuses("described", [&] { static_cast<void>(described(current, forecast, ranking, {})); });
    forecast.test = no_variable();
    refuses("described", [&] { static_cast<void>(described(current, forecast, ranking, {})); });
    refuses("advise", [&] { static_cast<void>(advise(current, {}, {.declined = {no_variable()}})); });
    refuses("advise", [&] { static_cast<void>(advise(current, {}, {.repairs_done = {no_repair()}})); });
  }
}

TEST_F(WrongJobs, InWordsAndReports) {
  const Ranking ranking = rank_tests(job_.current());
  ASSERT_FALSE(ranking.leading.empty());
  for (std::size_t i = 0; i < times; ++i) {
    for (const EntryKind& wrong : wrong_entries()) {
      const Entry entry{.what = wrong, .charge = {}};
      survives("entry_label", [&] { static_cast<void>(entry_label(model(), entry)); });
      survives("entry_in_words", [&] { static_cast<void>(entry_in_words(model(), entry)); });
      survives("test_done", [&] { static_cast<void>(test_done(model(), entry)); });
      survives("ledger_of", [&] { static_cast<void>(ledger_of(model(), std::vector{entry}, {})); });
    }
    refuses("states_in_words", [&] { static_cast<void>(states_in_words(model(), wrong_finding())); });
    refuses("check_of", [&] { static_cast<void>(check_of(model(), no_repair())); });
    Ranking wrong = ranking;
    wrong.leading.front().component = no_variable();
    survives("report_of", [&] { static_cast<void>(report_of(job_, wrong)); });
    wrong = ranking;
    wrong.tests.assign(1, {});
    wrong.tests.front().test = no_variable();
    wrong.tests.front().gain_bits = 1.0;
    refuses("report_of", [&] { static_cast<void>(report_of(job_, wrong)); });
  }
}

}  // namespace

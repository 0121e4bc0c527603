// Jobs: entries in order and the case after them, undo to the bits, refusals that leave everything as it was.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/job/job.hpp"

#include <gtest/gtest.h>

#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "faultodds/io/model_file.hpp"
#include "job/random_job.hpp"
#include "job/workshop.hpp"

namespace {

using namespace faultodds;
using support::bits_of;
using support::long_job;
using Names = std::vector<std::string>;

/// The message of what `call` throws.
template <class Exception, class Call>
std::string message_of(const Call& call) {
  try {
    call();
  } catch (const Exception& error) {
    return error.what();
  }
  return "nothing was thrown";
}

/// Why a call is refused; ErrorCode::argument too if it is not.
ErrorCode code_of(const std::function<void()>& call) {
  try {
    call();
  } catch (const Error& error) {
    return error.code();
  }
  ADD_FAILURE() << "it was not refused";
  return ErrorCode::argument;
}

TEST(Job, TheCaseAfterTheEntriesIsThatOfTheirFindings) {
  Job job(support::workshop());
  job.add_finding("layout", "vee");
  job.add_finding("puddle", "present");
  job.add_revealed("read_codes", Names{"code_1"});
  job.add_reading("pressure", "41 psi");
  Case by_hand{Solver(support::workshop())};
  by_hand.add_finding("layout", "vee");
  by_hand.add_finding("puddle", "present");
  by_hand.add_finding("code_1", "present");
  by_hand.add_finding("code_2", "absent");
  by_hand.add(finding_from_reading(by_hand.model(), "pressure", 41.0, "psi"));
  EXPECT_EQ(job.current().findings(), by_hand.findings());
  EXPECT_EQ(bits_of(job.current()), bits_of(by_hand));
}

TEST(Job, ARepairIsThatOfAfterRepair) {
  Job job(support::workshop());
  job.add_finding("puddle", "present");
  job.add_repair("replace_pump", CheckResult::still_there);
  Case before{Solver(support::workshop())};
  before.add_finding("puddle", "present");
  Repaired after = after_repair(before, 0);
  after.current.add_finding(after.check, 1);
  EXPECT_EQ(bits_of(job.current()), bits_of(after.current));
  EXPECT_EQ(job.repairs(), std::vector<RepairIndex>{0});
  EXPECT_EQ(job.last_check(), CheckResult::still_there);
  job.add_repair("replace_hose");
  EXPECT_EQ(job.last_check(), std::nullopt) << "the last repair was not checked";
  EXPECT_EQ(job.cured(), after_repair(after, 1).current.posterior(
                             job.model().parents(*job.model().find("check_after_replace_hose")).front())[0]);
}

TEST(Job, EntriesKeepWhatWasSaidAndTyped) {
  const Job job = long_job();
  const std::vector<Entry>& entries = job.entries();
  ASSERT_EQ(entries.size(), 12U);
  Names kinds;
  for (const Entry& entry : entries) kinds.emplace_back(kind_of(entry));
  EXPECT_EQ(kinds, (Names{"finding", "finding", "revealed", "declined", "reading", "in_place", "finding", "repair",
                          "part", "repair", "hand_over", "end"}));
  const auto& reading = std::get<ReadingEntry>(entries[4].what);
  EXPECT_EQ(reading.text, "41 psi; 283 kPa");
  EXPECT_EQ(reading.readings, (std::vector<Measured>{{41.0, "psi"}, {283.0, "kPa"}}));
  EXPECT_EQ(std::get<DeclinedEntry>(entries[3].what).reason, "no time");
  EXPECT_EQ(std::get<EndEntry>(entries[11].what).confirmed.front().by, ConfirmedBy::sight);
  EXPECT_EQ(job.handed_over(), std::size_t{0});
  EXPECT_TRUE(job.has_ended());
}

TEST(Job, ALaterFindingTakesThePlaceOfTheEarlier) {
  Job job(support::workshop());
  job.add_finding("leak", "good");
  job.add_finding("puddle", "present");
  const auto before = bits_of(job.current());
  job.add_finding("leak", "bad");
  ASSERT_EQ(job.current().findings().size(), 2U);
  EXPECT_EQ(job.current().findings().front().state, std::size_t{1}) << "in the place of the earlier one";
  ASSERT_TRUE(job.replaced_by(2).has_value());
  EXPECT_EQ(job.replaced_by(2)->state, std::size_t{0});
  EXPECT_FALSE(job.replaced_by(1).has_value());
  const std::optional<Entry> undone = job.undo();
  ASSERT_TRUE(undone.has_value());
  EXPECT_EQ(std::get<FindingEntry>(undone->what).finding.state, std::size_t{1});
  EXPECT_EQ(bits_of(job.current()), before);
}

TEST(Job, DeclinedTestsComeBackOnceTheyAreDone) {
  Job job(support::workshop());
  job.decline("pressure", "no gauge");
  job.decline("level", "too hot");
  job.decline("pressure", "still no gauge");
  EXPECT_EQ(job.declined(),
            (std::vector<VariableIndex>{job.model().index_of("pressure"), job.model().index_of("level")}));
  job.add_reading("pressure", "41 psi");
  EXPECT_EQ(job.declined(), std::vector<VariableIndex>{job.model().index_of("level")});
  job.undo();
  EXPECT_EQ(job.declined().size(), 2U);
}

TEST(Job, UndoToAnyEntryGivesTheBitsOfNeverHavingDoneIt) {
  const Job whole = long_job();
  for (std::size_t count = 0; count <= whole.entries().size(); ++count) {
    Job back = whole;
    back.undo_to(count);
    const std::vector<Entry> first(whole.entries().begin(),
                                   whole.entries().begin() + static_cast<std::ptrdiff_t>(count));
    const Job never(whole.solver(), {}, first);
    ASSERT_EQ(back.entries(), never.entries());
    EXPECT_EQ(bits_of(back.current()), bits_of(never.current())) << count;
    EXPECT_EQ(back.ledger(), never.ledger()) << count;
    EXPECT_EQ(back.repairs(), never.repairs());
    EXPECT_EQ(back.declined(), never.declined());
    for (std::size_t i = 0; i <= count; ++i) EXPECT_EQ(back.findings_before(i), whole.findings_before(i));
  }
  EXPECT_THROW(Job(whole).undo_to(13), ArgumentError);
  Job empty(support::workshop());
  EXPECT_EQ(empty.undo(), std::nullopt);
}

TEST(Job, WorkGoesOnAfterUndo) {
  Job job = long_job();
  job.undo_to(8);
  job.add_finding("hose", "sound");
  job.add_repair("replace_hose", CheckResult::still_there);
  Job straight(job.solver(), {}, {job.entries().begin(), job.entries().begin() + 8});
  straight.add_finding("hose", "sound");
  straight.add_repair("replace_hose", CheckResult::still_there);
  EXPECT_EQ(bits_of(job.current()), bits_of(straight.current()));
  EXPECT_EQ(job.ledger(), straight.ledger());
}

TEST(Job, ACodeAndTheOutcomeOfTheTestThatReadItAreNotBothTaken) {
  Job job(support::workshop());
  job.add_finding("code_1", "present");
  const auto before = bits_of(job.current());
  const std::string message = message_of<ArgumentError>([&] { job.add_finding("read_codes", "some"); });
  EXPECT_EQ(code_of([&] { job.add_finding("read_codes", "some"); }), ErrorCode::counted_twice);
  EXPECT_NE(message.find("read_codes"), std::string::npos) << message;
  EXPECT_NE(message.find("code_1"), std::string::npos) << message;
  EXPECT_NE(message.find("one by one"), std::string::npos) << "the remedy: " << message;
  EXPECT_EQ(bits_of(job.current()), before);
  EXPECT_EQ(job.entries().size(), 1U);
  job.add_revealed("read_codes", {});
  EXPECT_EQ(job.current().findings().size(), 2U) << "the other code is not there";
}

TEST(Job, WhatATestRevealsTakesThePlaceOfItsOutcome) {
  Job job(support::workshop());
  job.add_finding("read_codes", "some");
  EXPECT_THROW(job.add_finding("code_1", "present"), ArgumentError);
  const auto with_outcome = bits_of(job.current());
  job.add_revealed("read_codes", Names{"code_1"});
  EXPECT_EQ(job.current().finding_of(job.model().index_of("read_codes")), nullptr);
  Case codes{Solver(support::workshop())};
  codes.add_finding("code_1", "present");
  codes.add_finding("code_2", "absent");
  EXPECT_EQ(bits_of(job.current()), bits_of(codes));
  job.undo();
  EXPECT_EQ(bits_of(job.current()), with_outcome);
}

TEST(Job, AnEndedJobTakesNothingButUndo) {
  Job job = long_job();
  EXPECT_EQ(code_of([&] { job.add_finding("puddle", "absent"); }), ErrorCode::job_has_ended);
  EXPECT_EQ(code_of([&] { job.close(JobEnd::given_up); }), ErrorCode::job_has_ended);
  job.undo();
  EXPECT_FALSE(job.has_ended());
  EXPECT_NO_THROW(job.decline("level", "no time"));
}

TEST(Job, WhatTheOptionsRankAsATestCanBeDeclined) {
  JobOptions options;
  Job job(support::workshop());
  options.advice.ranking.tests = {job.model().index_of("puddle")};
  job.set_options(options);
  job.decline("puddle", "nobody has looked");
  EXPECT_EQ(job.declined(), options.advice.ranking.tests);
  job.set_options({});
  EXPECT_EQ(code_of([&] { job.decline("puddle", "nobody has looked"); }), ErrorCode::wrong_role);
  Job restored(support::workshop());
  restored.restore(job.entries().front());
  EXPECT_EQ(restored.declined(), job.declined()) << "as it was accepted at the time";
}

TEST(Job, WhatIsRefusedChangesNothing) {
  Job job(support::workshop());
  job.add_finding("puddle", "present");
  const auto before = bits_of(job.current());
  const std::vector<Entry> entries = job.entries();
  const std::size_t none = 1000;
  EXPECT_THROW(job.add_finding("pudle", "present"), UnknownName);
  EXPECT_THROW(job.add_finding("puddle", "there"), UnknownName);
  EXPECT_EQ(code_of([&] { job.add_finding(none, 0); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.add_finding(0, none); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.add({none, {1.0}, {}}); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.add({0, {1.0}, {}}); }), ErrorCode::wrong_size) << "two states, one weight";
  EXPECT_EQ(code_of([&] { job.add({0, {0.0, 1.0}, std::size_t{0}}); }), ErrorCode::contradictory);
  EXPECT_EQ(code_of([&] { job.add_reading("pressure", "41"); }), ErrorCode::wrong_reading) << "psi or kPa?";
  EXPECT_EQ(code_of([&] { job.add_reading("leak", "41 psi"); }), ErrorCode::wrong_reading)
      << "no reading belongs to it";
  EXPECT_EQ(code_of([&] { job.add_readings(none, {}); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.add_revealed(none, {}); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.add_revealed("leak", {}); }), ErrorCode::nothing_given) << "it reveals nothing";
  EXPECT_EQ(code_of([&] { job.add_revealed("read_codes", Names{"puddle"}); }), ErrorCode::not_revealed);
  EXPECT_EQ(code_of([&] { job.add_repair("replace_bonnet"); }), ErrorCode::unknown_name);
  EXPECT_EQ(code_of([&] { job.add_repair(none); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.hand_over("nobody"); }), ErrorCode::unknown_name);
  EXPECT_EQ(code_of([&] { job.hand_over(none); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.decline("lvl", "no time"); }), ErrorCode::unknown_name);
  EXPECT_EQ(code_of([&] { job.decline(none, "no time"); }), ErrorCode::index_out_of_range);
  for (const char* no_test : {"hose", "layout", "puddle"})
    EXPECT_EQ(code_of([&] { job.decline(no_test, "no time"); }), ErrorCode::wrong_role) << no_test;
  EXPECT_EQ(code_of([&] { job.close(JobEnd::cured, {{none, 1, ConfirmedBy::sight}}); }), ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] {
              job.close(JobEnd::cured, {{job.model().index_of("hose"), 0, ConfirmedBy::sight}});
            }),
            ErrorCode::index_out_of_range);
  EXPECT_EQ(code_of([&] { job.record(PartEntry{job.current().findings().front()}); }), ErrorCode::wrong_role);
  JobOptions options;
  options.limits.budget = -1.0;
  EXPECT_THROW(job.set_options(options), ArgumentError);
  options = {};
  options.means.tools = Names{"spanner"};
  EXPECT_THROW(job.set_options(options), UnknownName);
  EXPECT_EQ(job.entries(), entries);
  EXPECT_EQ(job.options(), JobOptions{});
  EXPECT_EQ(bits_of(job.current()), before);
}

TEST(Job, FindingsThatClashAreNamedAndChangeNothing) {
  // A repair that never fails, and a check that says so: the fault cannot be there any more.
  Job job(read_model_json(R"({"format": "faultodds-model", "format_version": 1, "name": "sure", "version": "1",
    "components": [{"name": "fuse", "prior": 0.1}],
    "symptoms": [{"name": "dark", "complaint": true, "noisy_or": {"leak": 0, "causes": [{"of": "fuse", "strength": 1}]}}],
    "repairs": [{"name": "new_fuse", "component": "fuse", "success": 1, "minutes": 1, "money": 1}]})"));
  job.add_finding("dark", "present");
  const auto before = bits_of(job.current());
  EXPECT_THROW(job.add_finding("fuse", "sound"), ImpossibleFindings);
  EXPECT_THROW(job.add_repair("new_fuse", CheckResult::still_there), ImpossibleFindings);
  EXPECT_EQ(job.entries().size(), 1U);
  EXPECT_TRUE(job.repairs().empty());
  EXPECT_EQ(bits_of(job.current()), before);
  job.add_repair("new_fuse", CheckResult::cured);
  EXPECT_EQ(job.cured(), 1.0);
}

TEST(Job, AdviceIsThatOfItsCaseAndProgress) {
  Job job(support::workshop());
  EXPECT_TRUE(std::holds_alternative<AskStep>(job.advice().proposed.step)) << "nothing was found yet";
  job.add_finding("puddle", "present");
  EXPECT_EQ(job.advice().proposed.step,
            advise(job.current(), {.means = job.means_now()}, job.progress()).proposed.step);
  EXPECT_EQ(&job.advice(), &job.advice()) << "kept until the job changes";
  job.add_finding("hose", "faulty");
  const JobStep mend = RepairStep{job.model().index_of_repair("replace_hose")};
  EXPECT_EQ(job.advice().proposed.step, mend);
  job.pass_over(mend);
  EXPECT_TRUE(std::holds_alternative<TestStep>(job.advice().proposed.step)) << "test on all the same";
  job.decline("pressure", "no gauge");
  EXPECT_EQ(job.progress().declined, job.declined());
  job.undo();
  EXPECT_EQ(job.advice().proposed.step, mend) << "undo ends what was passed over";
  job.hand_over("shop");
  EXPECT_TRUE(job.progress().over);
  EXPECT_TRUE(std::holds_alternative<NoStep>(job.advice().proposed.step));
}

TEST(Job, NoStepCostsMoreThanIsLeftOfTheBudget) {
  JobOptions options;
  options.limits.budget = 60.0;
  Job job(support::workshop(), options);
  job.add_finding("puddle", "present");
  job.add_finding("leak", "good");  // 44 EUR
  for (const AdvisedStep& step : job.advice().alternatives) {
    const bool is_work = std::holds_alternative<RepairStep>(step.step) || std::holds_alternative<TestStep>(step.step);
    EXPECT_TRUE(!is_work || step.cost <= 16.0) << step.label;
  }
}

TEST(Job, WhatIsStoppedChangesNothing) {
  Job job = long_job();
  job.undo_to(8);
  const auto before = bits_of(job.current());
  {
    const StopScope scope(job.current(), Stop::after(0.0));
    EXPECT_THROW(job.add_finding("hose", "faulty"), Stopped);
    EXPECT_THROW(job.add_repair("replace_hose"), Stopped);
    EXPECT_THROW(job.undo_to(3), Stopped);
  }
  EXPECT_EQ(job.entries().size(), 8U);
  EXPECT_EQ(bits_of(job.current()), before);
  EXPECT_NO_THROW(job.undo_to(3));
}

TEST(Job, RandomJobsOnTheShippedModelsAreUndoneToTheBit) {
  for (const char* const file :
       {"tutorial.json", "low-power-diesel.json", "low-power-petrol.json", "no-start-petrol.json"}) {
    const Solver solver(read_model(std::string(FAULTODDS_SOURCE_DIR "/models/") + file));
    support::Dice dice(7);
    Job job(solver);
    std::vector<std::vector<std::vector<double>>> bits = {bits_of(job.current())};
    std::vector<Ledger> ledgers = {job.ledger()};
    for (std::size_t i = 0; i < support::rounds(14); ++i) {
      support::random_entry(dice, job, 2);
      if (job.entries().size() < bits.size()) continue;
      bits.push_back(bits_of(job.current()));
      ledgers.push_back(job.ledger());
    }
    ASSERT_GT(job.entries().size(), 5U) << file;
    for (std::size_t count = job.entries().size(); count-- > 0;) {
      job.undo_to(count);
      EXPECT_EQ(bits_of(job.current()), bits[count]) << file << ' ' << count;
      EXPECT_EQ(job.ledger(), ledgers[count]) << file << ' ' << count;
    }
  }
}

}  // namespace

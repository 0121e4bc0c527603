// Jobs as JSON: what is read answers as what was written, to the bit; what does not fit is refused with its place.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/job_json.hpp"

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "faultodds/io/json_document.hpp"
#include "faultodds/io/model_file.hpp"
#include "job/random_job.hpp"
#include "job/workshop.hpp"

namespace {

using namespace faultodds;
using support::bits_of;
using support::long_job;

void expect_same(const Job& read, const Job& written) {
  EXPECT_EQ(read.entries(), written.entries());
  EXPECT_EQ(read.options(), written.options());
  EXPECT_EQ(read.current().findings(), written.current().findings());
  EXPECT_EQ(bits_of(read.current()), bits_of(written.current()));
  EXPECT_EQ(read.ledger(), written.ledger());
  EXPECT_EQ(read.repairs(), written.repairs());
  EXPECT_EQ(read.declined(), written.declined());
  EXPECT_EQ(write_job(read), write_job(written));
}

JobOptions all_options() {
  JobOptions options;
  options.means = {.tools = std::vector<std::string>{"gauge"},
                   .skill = "learner",
                   .open_access = {"lift"},
                   .closed_access = {"undertray"},
                   .conditions = {"hot"},
                   .stated_after = 2,
                   .max_cost = 99.5,
                   .max_minutes = 1.0 / 3.0,
                   .labour_rate = 61.7};
  options.ends = {.hand_over = 210.1, .live_with = 50.0, .comeback = 0.1 + 0.2};
  options.advice.ranking.targets = {3, 2};
  options.advice.ranking.tests = {7};
  options.advice.ranking.gain = GainKind::per_component;
  options.advice.ranking.joint_only = true;
  options.advice.ranking.by = RankBy::gain_per_minute;
  options.advice.ranking.effects = false;
  options.advice.ranking.leading = 2;
  options.advice.ranking.joint_entries = 4096.5;
  options.advice.by_expected_cost = false;
  options.advice.min_fault_probability = 0.9;
  options.advice.min_gain_bits = 0.01;
  options.advice.max_questions = 0;
  options.advice.explain = false;
  options.limits = {.budget = 500.0, .deadline = 4321.0};
  options.about = {{"Order", "47\"11"}, {"Grüße", "\u00e9"}};
  return options;
}

/// The document of a job, changed by `change`, as text.
template <class Change>
std::string changed(const Job& job, const Change& change) {
  std::vector<Problem> problems;
  Json document = parse_json(write_job(job), {}, problems);
  change(document);
  return laid_out(document);
}

/// The first problem of reading a text.
Problem problem_of(const std::string& text, const Solver& solver, JobReading how = {}) {
  try {
    static_cast<void>(read_job(text, solver, how, "a.job.json"));
  } catch (const ModelError& error) {
    EXPECT_EQ(error.file(), "a.job.json");
    return error.problems().front();
  }
  ADD_FAILURE() << "it was read: " << text;
  return {};
}

TEST(JobJson, EveryKindOfEntryComesBackToTheBit) {
  const Job job = long_job(all_options());
  expect_same(read_job(write_job(job), job.solver()), job);
  const Job plain(support::workshop());
  expect_same(read_job(write_job(plain), plain.solver()), plain);
}

TEST(JobJson, WeightsAndReadingsComeBackToTheBit) {
  Job job(support::workshop());
  job.add({job.model().index_of("leak"), {0.1 + 0.2, 1.0 / 3.0}, std::nullopt});
  job.add({job.model().index_of("puddle"), {0.0, 2.5}, std::size_t{1}});
  job.add_readings(job.model().index_of("pressure"), {{40.6, "psi"}, {2.81, "bar"}}, RepeatedErrors::same_instrument);
  const Job read = read_job(write_job(job), job.solver());
  expect_same(read, job);
  const auto& reading = std::get<ReadingEntry>(read.entries().back().what);
  EXPECT_EQ(reading.readings.front(), (Measured{40.6, "psi"}));
  EXPECT_EQ(reading.text, "40.6 psi; 2.81 bar");
}

TEST(JobJson, WorkGoesOnAfterReading) {
  Job job = long_job();
  job.undo_to(9);
  Job read = read_job(write_job(job), job.solver());
  for (Job* const one : {&job, &read}) {
    one->add_repair("replace_hose", CheckResult::still_there);
    one->undo_to(6);
    one->add_finding("level", "good");
  }
  expect_same(read, job);
}

TEST(JobJson, RandomJobsOnTheShippedModelsComeBackToTheBit) {
  for (const char* const file :
       {"tutorial.json", "low-power-diesel.json", "low-power-petrol.json", "no-start-petrol.json"}) {
    const Solver solver(read_model(std::string(FAULTODDS_SOURCE_DIR "/models/") + file));
    support::Dice dice(11);
    for (std::size_t round = 0; round < support::rounds(2); ++round) {
      Job job(solver);
      for (std::size_t i = 0; i < 12; ++i) support::random_entry(dice, job, 1);
      ASSERT_FALSE(job.entries().empty());
      expect_same(read_job(write_job(job), solver), job);
    }
  }
}

TEST(JobJson, KindsAreCalledAsTheEntriesAre) {
  const Job job = long_job();
  std::vector<Problem> problems;
  const Json document = parse_json(write_job(job), {}, problems);
  for (std::size_t i = 0; i < job.entries().size(); ++i) {
    EXPECT_EQ(document.at("entries").at(i).at("kind"), kind_of(job.entries()[i]));
  }
}

TEST(JobJson, ChargesAreThoseOfTheTimeEvenWithADearerModel) {
  const Job job = long_job();
  ModelParts dearer = support::workshop().parts();
  dearer.header.version = "4";
  dearer.header.labour_rate = 90.0;
  for (Variable& variable : dearer.variables) {
    if (variable.role() == Role::test) variable.test().work.money = 77.0;
  }
  const Solver solver{FaultModel(dearer)};
  const Problem refused = problem_of(write_job(job), solver);
  EXPECT_EQ(refused.place, "model.version");
  EXPECT_NE(refused.found.find("version 3"), std::string::npos);
  const Job read = read_job(write_job(job), solver, {.other_version = true});
  EXPECT_EQ(read.ledger(), job.ledger());
}

TEST(JobJson, AModelChangedUnderTheSameVersionIsNoticed) {
  const Job job = long_job();
  ModelParts parts = support::workshop().parts();
  std::get<NoisyMax>(parts.variables[FaultModel(parts).index_of("puddle")].distribution).leak = {0.97, 0.03};
  const Solver solver{FaultModel(parts)};
  EXPECT_EQ(problem_of(write_job(job), solver).place, "model.content");
  EXPECT_EQ(read_job(write_job(job), solver, {.other_version = true}).entries(), job.entries());
  EXPECT_NE(content_check(solver.model()), content_check(job.solver().model()));
  EXPECT_EQ(content_check(support::workshop()), content_check(job.solver().model()));
}

TEST(JobJson, ContentCheckIsWorkedOutOnceForAModelAndItsCopies) {
  const FaultModel model = support::workshop();
  const FaultModel copy = model;
  const std::string check = content_check(model);
  EXPECT_EQ(copy.kept_content().get([] { return std::string("worked out again"); }), check);
  const detail::KeptText kept;
  EXPECT_THROW(static_cast<void>(kept.get([]() -> std::string { throw Error(ErrorCode::model, "not now"); })), Error);
  EXPECT_EQ(kept.get([] { return std::string("now"); }), "now");
}

TEST(JobJson, ContentCheckIsFnv1a) {
  // Test vectors of the FNV reference code, from memory, confirmed by an independent computation in Python.
  EXPECT_EQ(detail::fnv1a(""), 0xcbf29ce484222325U);
  EXPECT_EQ(detail::fnv1a("a"), 0xaf63dc4c8601ec8cU);
  EXPECT_EQ(detail::fnv1a("foobar"), 0x85944171f73967e8U);
}

TEST(JobJson, TellsWhatItIsAndWhichModelItAsksFor) {
  const Job job = long_job();
  const std::string text = write_job(job);
  EXPECT_TRUE(is_job(text));
  EXPECT_FALSE(is_job("{}"));
  EXPECT_FALSE(is_job("[1]"));
  EXPECT_EQ(model_of_job(text), (JobModel{"workshop", "3", content_check(job.solver().model())}));
  EXPECT_THROW(static_cast<void>(model_of_job("{}")), ModelError);
}

TEST(JobJson, WhatDoesNotFitIsRefusedWithItsPlace) {
  const Job job = long_job();
  const Solver& solver = job.solver();
  const auto place = [&](const auto& change) { return problem_of(changed(job, change), solver).place; };
  const auto at = [](const char* pointer, Json value) {
    return [=](Json& document) { document[Json::json_pointer(pointer)] = value; };
  };
  EXPECT_EQ(place(at("/format", "faultodds-model")), "format");
  EXPECT_EQ(place(at("/format_version", 2)), "format_version");
  EXPECT_EQ(place(at("/model/name", "other")), "model.name");
  EXPECT_EQ(place(at("/colour", "red")), "colour");
  EXPECT_EQ(place([](Json& document) { document.erase("entries"); }), "");
  EXPECT_EQ(place([](Json& document) { document.erase("model"); }), "");
  EXPECT_EQ(place(at("/options/budget", "much")), "options.budget");
  EXPECT_EQ(place(at("/options/means/skil", "learner")), "options.means.skil");
  EXPECT_EQ(place(at("/options/advice/by", "luck")), "options.advice.by");
  EXPECT_EQ(place(at("/options/advice/leading", -1)), "options.advice.leading");
  EXPECT_EQ(place(at("/options/advice/targets", {"pmup"})), "options.advice.targets[0]");
  EXPECT_EQ(place(at("/entries/0/kind", "guess")), "entries[0].kind");
  EXPECT_EQ(place(at("/entries/0/state", "oval")), "entries[0].state");
  EXPECT_EQ(place(at("/entries/0/variable", "layuot")), "entries[0].variable");
  EXPECT_EQ(place(at("/entries/0/colour", "red")), "entries[0].colour");
  EXPECT_EQ(place(at("/entries/2/findings/0/variable", "puddle")), "entries[2]");
  EXPECT_EQ(place(at("/entries/4/readings/0/unit", "furlong")), "entries[4]");
  EXPECT_EQ(place(at("/entries/4/readings/0/value", "41")), "entries[4].readings[0].value");
  EXPECT_EQ(place(at("/entries/6/charge/minutes", -1)), "entries[6]");
  EXPECT_EQ(place(at("/entries/7/repair", "replace_bonnet")), "entries[7].repair");
  EXPECT_EQ(place(at("/entries/7/check/result", "dry")), "entries[7].check.result");
  EXPECT_EQ(place(at("/entries/10/to", "nobody")), "entries[10].to");
  EXPECT_EQ(place(at("/entries/11/confirmed/0/by", "hearsay")), "entries[11].confirmed[0].by");
  EXPECT_EQ(place([](Json& document) { document["entries"].push_back(document["entries"][0]); }), "entries[12]")
      << "the job has ended";
}

}  // namespace

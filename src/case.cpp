// SPDX-License-Identifier: BSD-3-Clause
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <filesystem>
#include <iostream>
#include <memory>
#include <utility>

#include "amounts.hpp"
#include "bench.hpp"
#include "faultodds/io/job_json.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/text_file.hpp"
#include "findings.hpp"
#include "next_options.hpp"
#include "program.hpp"
#include "report.hpp"

namespace faultodds::program {
namespace {

struct CaseOptions {
  std::string file;
  std::string save;
  bool no_save = false;
  bool other_version = false;
  RankTexts rank;
  EndCosts ends;
  std::optional<double> budget;
  std::optional<double> deadline;
};

/// A file name of its own for a case that begins now.
std::string new_case_file(const std::string& model_file) {
  std::filesystem::path stem = std::filesystem::path(model_file).filename();
  while (stem.has_extension()) stem = stem.stem();
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  localtime_r(&now, &parts);
  char text[32] = {};
  const std::size_t length = std::strftime(text, sizeof text, "%Y%m%d-%H%M%S", &parts);
  const std::string start = stem.string() + '-' + std::string(text, length);
  std::string file = start + ".case.json";
  for (int i = 2; std::filesystem::exists(file); ++i) file = start + '-' + std::to_string(i) + ".case.json";
  return file;
}

/// A saved case in place of its fault model is an easy slip, so it is met with the way to go on.
void refuse_saved_case(const std::string& file) {
  if (std::filesystem::path(file).extension() != ".json" || !is_job(read_text_file(file))) return;
  throw ArgumentError("FILE", "\"" + file + "\" is a saved case",
                      "give the fault model it was made with, and --save " + file);
}

/// Says how the answers of a case made with another version of the model are taken over.
void refuse_other_version(const FaultModel& model, const std::string& text, const std::string& file) {
  const JobModel made_with = model_of_job(text, file);
  const Header& header = model.header();
  if (made_with.name != header.name) return;  // read_job says so
  if (made_with.version == header.version && made_with.content == content_check(model)) return;
  const std::string this_one =
      made_with.version == header.version ? ", this one says something else" : ", this is version " + header.version;
  throw ModelError(
      {{"model.version", "the case was made with version " + made_with.version + " of the model" + this_one,
        "give that version, or add --other-version to take its answers over, or start a new case with "
        "another file for --save"}},
      file);
}

/// The job to work on: that of the file, or a new one. What is in place now was seen just now.
Job job_of(const CaseOptions& options, const FaultModel& model, JobOptions wanted) {
  const Solver solver(model);
  if (options.save.empty() || !std::filesystem::exists(options.save)) return Job(solver, std::move(wanted));
  const std::string text = read_text_file(options.save);
  if (!options.other_version) refuse_other_version(model, text, options.save);
  Job job = read_job(text, solver, {options.other_version}, options.save);
  const InPlace seen{wanted.means.open_access, wanted.means.conditions};
  wanted.means.open_access = job.options().means.open_access;
  wanted.means.conditions = job.options().means.conditions;
  wanted.about = job.options().about;
  job.set_options(std::move(wanted));
  const InPlace now = job.ledger().in_place;
  const auto holds = [](const std::vector<std::string>& all, const std::string& name) {
    return std::find(all.begin(), all.end(), name) != all.end();
  };
  const bool is_news =
      !std::all_of(seen.access.begin(), seen.access.end(), [&](const auto& one) { return holds(now.access, one); }) ||
      !std::all_of(seen.conditions.begin(), seen.conditions.end(),
                   [&](const auto& one) { return holds(now.conditions, one); });
  if (is_news && !job.has_ended()) job.add_in_place(seen);
  return job;
}

int work_on(const CaseOptions& options) {
  refuse_saved_case(options.file);
  const FaultModel model = read_model(options.file);
  JobOptions wanted{.means = means_of(model, options.rank),
                    .ends = options.ends,
                    .limits = {.budget = options.budget, .deadline = options.deadline},
                    .advice = {.ranking = rank_options(model, options.rank),
                               .by_expected_cost = options.rank.by.empty() || options.rank.by_expected_cost()}};
  Keeping keeping{options.save, "faultodds case " + options.file + " --save", false};
  Job job = job_of(options, model, std::move(wanted));
  if (!options.save.empty()) {
    // An unwritable place shows before any question; a job that was read stays as it is.
    if (!std::filesystem::exists(options.save)) write_text_file(options.save, write_job(job));
    keeping.kept = true;
  } else if (!options.no_save) {
    keeping.file = new_case_file(options.file);
  }
  const Screen screen(std::cout, look_of_output());
  Bench(Questions(std::cin, screen, isatty(STDIN_FILENO) == 0), std::move(job), std::move(keeping)).run();
  return fine;
}

}  // namespace

void add_case(CLI::App& app, int& status) {
  auto options = std::make_shared<CaseOptions>();
  CLI::App* command =
      app.add_subcommand("case", "At the bench: asks, proposes tests, explains each answer")->group("Commands");
  command->add_option("FILE", options->file, "Fault model (.json; also .gz)")->required();
  CLI::Option* save = command
                          ->add_option("--save", options->save,
                                       "Keep the case in this file, and go on with it where it is there already "
                                       "(default: a new file in this folder)")
                          ->option_text("CASE.json");
  command->add_flag("--no-save", options->no_save, "Keep the case nowhere")->excludes(save);
  command->add_flag("--other-version", options->other_version, "Go on with a case of another version of the model");
  add_rank_options(*command, options->rank, "expected-cost where the model says what ending a case costs");
  add_end_options(*command, options->ends);
  command->add_option("--budget", options->budget, "Money for the whole case; work beyond what is left is left out")
      ->check(amount())
      ->option_text("MONEY");
  command
      ->add_option("--deadline", options->deadline,
                   "Minutes for the whole case, waiting included; work beyond what is left is left out")
      ->check(amount())
      ->option_text("MINUTES");
  command->footer(
      "Example:\n"
      "  faultodds case models/low-power-petrol.json --save monday.case.json\n"
      "Everything is chosen by number; ? lists all that can be typed. Works over a\n"
      "pipe too, one answer a line.");
  command->callback([options, &status] { status = guarded(Format::text, [&] { return work_on(*options); }); });
}

}  // namespace faultodds::program

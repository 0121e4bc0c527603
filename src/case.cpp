// SPDX-License-Identifier: BSD-3-Clause
#include <unistd.h>

#include <chrono>
#include <ctime>
#include <filesystem>
#include <iostream>
#include <memory>

#include "amounts.hpp"
#include "bench.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/text_file.hpp"
#include "findings.hpp"
#include "next_options.hpp"
#include "program.hpp"
#include "report.hpp"

namespace faultodds::program {
namespace {

struct Options {
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

/// A saved case where its fault model belongs is an easy slip, so it is met with the way to go on.
void refuse_saved_case(const std::string& file) {
  if (std::filesystem::path(file).extension() != ".json" || !is_written_case(read_text_file(file))) return;
  throw ArgumentError("FILE", "\"" + file + "\" is a saved case",
                      "give the fault model it was made with, and --save " + file);
}

int work_on(const Options& options) {
  refuse_saved_case(options.file);
  const FaultModel model = read_model(options.file);
  CaseLog log{Case{Solver(model)}};
  BenchOptions bench{rank_options(model, options.rank), options.rank.by.empty() || options.rank.by_expected_cost(),
                     options.ends, options.budget, options.deadline};
  Keeping keeping{options.save, "faultodds case " + options.file + " --save", false};
  if (!options.save.empty() && std::filesystem::exists(options.save)) {
    read_case(log, read_text_file(options.save), options.save, options.other_version);
    keeping.kept = true;
  } else if (!options.save.empty()) {
    write_text_file(options.save, written_case(log));  // an unwritable place shows before any question
    keeping.kept = true;
  } else if (!options.no_save) {
    keeping.file = new_case_file(options.file);
  }
  bench.ranking.means.stated_after = log.current().findings().size();
  const Screen screen(std::cout, look_of_output());
  Bench(Questions(std::cin, screen, isatty(STDIN_FILENO) == 0), std::move(log), std::move(bench), std::move(keeping))
      .run();
  return fine;
}

}  // namespace

void add_case(CLI::App& app, int& status) {
  auto options = std::make_shared<Options>();
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

// SPDX-License-Identifier: BSD-3-Clause
#include "plan_options.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <map>
#include <utility>

#include "faultodds/model/names.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

const std::map<std::string, PlanFormat>& extensions() {
  static const std::map<std::string, PlanFormat> known = {{".txt", PlanFormat::text},    {".json", PlanFormat::json},
                                                          {".md", PlanFormat::markdown}, {".dot", PlanFormat::dot},
                                                          {".svg", PlanFormat::svg},     {".html", PlanFormat::html},
                                                          {".gv", PlanFormat::dot},      {".htm", PlanFormat::html}};
  return known;
}

/// An option whose words mean values; the help shows the words in their order.
template <class Value>
void add_choice(CLI::App& command, const std::string& name, const std::vector<std::pair<std::string, Value>>& choices,
                const std::function<void(Value)>& take, const std::string& description) {
  std::vector<std::string> words;
  for (const auto& choice : choices) words.push_back(choice.first);
  command
      .add_option_function<std::string>(
          name,
          [choices, take](const std::string& word) {
            for (const auto& choice : choices) {
              if (choice.first == word) take(choice.second);
            }
          },
          description)
      ->check(CLI::IsMember(words))
      ->option_text(joined(words, "|"))
      ->trigger_on_parse();
}

CLI::Validator share() {
  return {[](std::string& text) {
            double value = 0.0;
            const bool is_share = CLI::detail::lexical_cast(text, value) && value >= 0.0 && value <= 1.0;
            return is_share ? std::string()
                            : "\"" + printable(text) + "\" is no probability; give a number from 0 to 1";
          },
          "", "share"};
}

void add_search(CLI::App& command, PlanOptions& options) {
  add_choice<FaultAssumption>(
      command, "--assume",
      {{"one-fault", FaultAssumption::one_fault}, {"several-faults", FaultAssumption::several_faults}},
      [&options](FaultAssumption value) { options.assume = value; },
      "How many faults may be present at once (default: one-fault)");
  add_choice<PlanSearch>(
      command, "--search",
      {{"greedy", PlanSearch::greedy}, {"look-ahead", PlanSearch::look_ahead}, {"optimal", PlanSearch::optimal}},
      [&options](PlanSearch value) { options.search = value; },
      "By information for its cost, as long as that pays (default); by money, some steps ahead, which is slower and a "
      "little better; or for the least expected cost, which says how far from it the policy tree can be");
  command.add_option("--depth", options.depth, "Steps that look-ahead looks ahead (default: 2)")
      ->check(CLI::Range(std::size_t{1}, std::size_t{4}))
      ->option_text("N");
  command.add_option("--steps", options.steps, "Situations that the optimal search works out (default: 20000)")
      ->check(CLI::Range(std::size_t{0}, std::size_t{100'000'000}))
      ->option_text("N");
  command
      .add_option("--time-limit", options.time_limit,
                  "Seconds after which the optimal search ends with the best found so far, as it does on Ctrl-C "
                  "(default: none)")
      ->check(CLI::Range(0.0, 1e9))
      ->option_text("SECONDS");
  command.add_flag("--progress", options.progress,
                   "Show on standard error how the bounds of the optimal search close (default: if that is a "
                   "terminal)");
  command
      .add_option("--max-hypotheses", options.max_hypotheses,
                  "Possible causes to tell apart; the rest counts as one (default: 64)")
      ->check(CLI::Range(std::size_t{1}, std::size_t{10'000}))
      ->option_text("N");
  command
      .add_option("--max-tests", options.max_tests, "Tests to plan with, the most telling for their cost (default: 24)")
      ->check(CLI::Range(std::size_t{0}, std::size_t{10'000}))
      ->option_text("N");
}

void add_order(CLI::App& command, PlanOptions& options) {
  command
      .add_option("--order", options.order,
                  "A fixed order of tests, as workshops teach it, to compare with: what it costs to follow it and mend "
                  "what is found")
      ->delimiter(',')
      ->expected(1, -1)
      ->option_text("TEST,TEST,...");
  command
      .add_option("--repair-at", options.repair_at,
                  "Probability of cure from which the fixed order makes a repair (default: 0.5)")
      ->check(share())
      ->option_text("P");
}

void add_output(CLI::App& command, PlanOptions& options) {
  command
      .add_option("--fold", options.fold,
                  "Branches that fewer cases come to than this end in \"then ask the solver\" (default: 0.02; 0: none)")
      ->check(share())
      ->option_text("P");
  add_choice<PlanFormat>(
      command, "--format",
      {{"text", PlanFormat::text},
       {"json", PlanFormat::json},
       {"markdown", PlanFormat::markdown},
       {"dot", PlanFormat::dot},
       {"svg", PlanFormat::svg},
       {"html", PlanFormat::html}},
      [&options](PlanFormat value) { options.format = value; },
      "Default: what the extension of --out says, otherwise text; svg and html are pages of A4");
  command
      .add_option("--out", options.out, "File to write; several pages of SVG become FILE-1.svg, FILE-2.svg and so on")
      ->option_text("FILE");
  command.add_flag("--force", options.force, "Replace the files if they exist already");
}

}  // namespace

PlanFormat PlanOptions::written_format() const {
  if (format) return *format;
  const auto found = extensions().find(lower_case(std::filesystem::path(out).extension().string()));
  return found == extensions().end() ? PlanFormat::text : found->second;
}

void add_plan_options(CLI::App& command, PlanOptions& options) {
  command.add_option("FILE", options.file, "Fault model or network (.json, .bif, .xml, .xmlbif, .uai; also .gz)")
      ->required();
  add_finding_options(command, options.findings);
  add_rank_options(command, options.ranking);
  // A policy tree goes by money.
  for (const char* unused : {"--by", "--gain"}) command.remove_option(command.get_option(unused));
  add_search(command, options);
  add_end_options(command, options.ends);
  add_order(command, options);
  add_output(command, options);
}

void check_plan_options(const PlanOptions& options) {
  if (options.depth && options.search != PlanSearch::look_ahead) {
    throw CLI::ValidationError("--depth", "it goes with --search look-ahead");
  }
  if (options.steps && options.search != PlanSearch::optimal) {
    throw CLI::ValidationError("--steps", "it goes with --search optimal");
  }
  if (options.time_limit && options.search != PlanSearch::optimal) {
    throw CLI::ValidationError("--time-limit", "it goes with --search optimal");
  }
  if (options.progress && options.search != PlanSearch::optimal) {
    throw CLI::ValidationError("--progress", "it goes with --search optimal");
  }
  if (options.repair_at == 0.0) throw CLI::ValidationError("--repair-at", "0 would repair at once; give more than 0");
  const std::string extension = lower_case(std::filesystem::path(options.out).extension().string());
  if (!options.out.empty() && !options.format && !extensions().contains(extension)) {
    throw CLI::ValidationError("--out",
                               "its extension does not say the format; add --format, or end it in .txt, .json, "
                               ".md, .dot, .svg or .html");
  }
}

CaseProblemOptions problem_options(const FaultModel& model, const PlanOptions& options) {
  CaseProblemOptions made;
  RankOptions ranking = rank_options(model, options.ranking);
  made.hypotheses = {std::move(ranking.targets), options.assume, options.max_hypotheses};
  made.tests = std::move(ranking.tests);
  made.means = means_of(model, options.ranking);
  made.max_tests = options.max_tests;
  made.ends = options.ends;
  return made;
}

}  // namespace faultodds::program

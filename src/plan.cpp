// SPDX-License-Identifier: BSD-3-Clause
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>
#include <sstream>

#include "advice.hpp"
#include "bounds_shown.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/io/json_document.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/model/wording.hpp"
#include "faultodds/report/flow_chart.hpp"
#include "faultodds/report/flow_chart_of_case.hpp"
#include "interrupt.hpp"
#include "plan_chart.hpp"
#include "plan_options.hpp"
#include "program.hpp"
#include "report.hpp"

namespace faultodds::program {
namespace {

/// The policy tree found, and what other ways would cost.
struct FoundPlan {
  PolicyTree policy_tree;
  std::string search;  ///< in words
  double lower_bound = 0.0;
  bool optimal = false;
  bool stopped = false;  ///< by Ctrl-C or the time limit, before its end
  RepairOrder repairs_alone;
  std::optional<double> order;
  std::optional<double> hand_over;  ///< at once
  std::optional<double> live_with;
};

/// What is folded anyway is not worked out to the last test: that would take most of the time and change little.
PolicyTreeOptions tree_options(const PlanOptions& options) {
  return {.min_probability = std::max(1e-4, options.fold / 4.0), .max_nodes = 1'000'000, .leading = 3};
}

/// Ctrl-C and the time limit end it with the best found so far.
OptimalPolicyTree search_for_the_best(const TroubleshootingProblem& problem, const PlanOptions& options,
                                      const std::string& currency) {
  SearchOptions search;
  if (options.steps) search.max_steps = *options.steps;
  const bool on_terminal = isatty(STDERR_FILENO) != 0;
  BoundsShown bounds(on_terminal, currency);
  StopOptions stop;
  stop.seconds = options.time_limit;
  if (on_terminal || options.progress) stop.progress = [&bounds](const Progress& progress) { bounds.show(progress); };
  OptimalPolicyTree found = optimal_policy_tree(problem, search, Interruptible::stop(std::move(stop)));
  bounds.end();
  return found;
}

void find_policy_tree(const TroubleshootingProblem& problem, const PlanOptions& options, const std::string& currency,
                      FoundPlan& plan) {
  switch (options.search) {
    case PlanSearch::greedy:
      plan.search = "by information for its cost";
      plan.policy_tree = greedy_policy_tree(problem, tree_options(options), Interruptible::stop());
      break;
    case PlanSearch::look_ahead: {
      const std::size_t depth = options.depth.value_or(2);
      plan.search = counted(depth, "step") + " ahead";
      plan.policy_tree = look_ahead_policy_tree(problem, depth, tree_options(options), Interruptible::stop());
      break;
    }
    case PlanSearch::optimal: {
      OptimalPolicyTree found = search_for_the_best(problem, options, currency);
      plan.search = found.optimal ? "the best there is" : "the best one found in " + counted(found.steps, "step");
      plan.optimal = found.optimal;
      plan.stopped = found.stopped;
      plan.lower_bound = found.lower_bound;
      plan.policy_tree = std::move(found.policy_tree);
      return;
    }
  }
  plan.lower_bound = plan.policy_tree.nodes.front().lower_bound;
}

/// The problem with the tests of the fixed order among those planned with.
CaseProblem problem_with_order(const Case& current, const PlanOptions& options, std::vector<std::size_t>& order) {
  const FaultModel& model = current.model();
  CaseProblemOptions wanted = problem_options(model, options);
  CaseProblem made = problem_of(current, wanted);
  const std::vector<VariableIndex> variables = variables_named(model, options.order, "--order");
  const auto is_missing = [&](VariableIndex test) {
    return std::find(made.tests.begin(), made.tests.end(), test) == made.tests.end();
  };
  if (std::any_of(variables.begin(), variables.end(), is_missing)) {
    wanted.tests = made.tests;
    std::copy_if(variables.begin(), variables.end(), std::back_inserter(wanted.tests), is_missing);
    wanted.max_tests = wanted.tests.size();
    made = problem_of(current, wanted);
  }
  for (const VariableIndex test : variables) {
    const auto at = std::find(made.tests.begin(), made.tests.end(), test);
    if (at == made.tests.end()) {
      throw ArgumentError(
          "--order",
          '"' + model.variable(test).name +
              "\" tells nothing about the faults in question, was done already, is no test or is beyond "
              "the limits",
          "leave it out of the order");
    }
    order.push_back(static_cast<std::size_t>(at - made.tests.begin()));
  }
  return made;
}

FoundPlan make_plan(const CaseProblem& made, const PlanOptions& options, const std::vector<std::size_t>& order,
                    const std::string& currency) {
  FoundPlan plan;
  find_policy_tree(made.problem, options, currency, plan);
  plan.repairs_alone = p_over_c_order(made.problem);
  const Situation start = start_of(made.problem);
  if (made.problem.ends.hand_over) plan.hand_over = step_cost(made.problem, start, {StepKind::hand_over, 0});
  if (made.problem.ends.live_with) plan.live_with = step_cost(made.problem, start, {StepKind::live_with, 0});
  if (!order.empty()) {
    plan.order =
        fixed_order_policy_tree(made.problem, {order, options.repair_at}, tree_options(options)).expected_cost();
  }
  return plan;
}

/// What each way is expected to cost to the end of the case, the plan's own first.
std::vector<std::pair<std::string, double>> ways(const FoundPlan& plan) {
  std::vector<std::pair<std::string, double>> list = {
      {"these steps (" + plan.search + ')', plan.policy_tree.expected_cost()}};
  if (plan.order) list.emplace_back("the fixed order of tests", *plan.order);
  if (!plan.repairs_alone.repairs.empty()) {
    list.emplace_back("without a test: " + counted(plan.repairs_alone.repairs.size(), "repair") +
                          " by probability over cost, then the end",
                      plan.repairs_alone.expected_cost);
  }
  if (plan.hand_over) list.emplace_back("handing over at once", *plan.hand_over);
  if (plan.live_with) list.emplace_back("leaving it as it is", *plan.live_with);
  return list;
}

std::string bound_text(const FoundPlan& plan, const std::string& currency) {
  if (plan.optimal) return "No other order of these tests and repairs costs less.";
  return std::string(plan.stopped ? "The search was stopped before its end. " : "") +
         "No order of these tests and repairs can cost less than " + wording::exact_money(plan.lower_bound, currency) +
         '.';
}

void show(const Screen& screen, const PlanOptions& options, const Case& current, const FoundPlan& plan,
          const FlowChartTexts& texts) {
  show_header(screen, current.model());
  show_findings(screen, current);
  screen.heading("Assumptions");
  for (const std::string& note : texts.notes) screen.text(note, 2);
  screen.heading("Expected cost to the end of the case");
  std::vector<std::vector<std::string>> rows = {{"", "by way of"}};
  for (const auto& [way, cost] : ways(plan)) rows.push_back({wording::exact_money(cost, texts.currency), way});
  screen.table(rows, 1);
  screen.text(bound_text(plan, texts.currency), 2);
  show_chart(screen, folded(plan.policy_tree, options.fold), texts);
  screen.blank();
  screen.text(
      "Percentages say how often an outcome is expected there. What is rare ends in \"then ask the solver\": enter "
      "what "
      "was found so far with --finding.");
}

Json plan_json(const PlanOptions& options, const CaseProblem& made, const FoundPlan& plan,
               const FlowChartTexts& texts) {
  Json tests = Json::array();
  for (const TestAction& test : made.problem.tests) tests.push_back(test.name);
  Json repairs = Json::array();
  for (const RepairAction& repair : made.problem.repairs) repairs.push_back(repair.name);
  const auto optional = [](const std::optional<double>& value) { return value ? Json(*value) : Json(); };
  std::vector<Problem> problems;
  const std::string chart = write_flow_chart_json(folded(plan.policy_tree, options.fold), texts);
  return {{"safety", texts.safety},
          {"invented_data", texts.invented},
          {"assumption", options.assume == FaultAssumption::one_fault ? "one-fault" : "several-faults"},
          {"assumed", made.hypotheses.assumed},
          {"hypotheses", made.problem.hypotheses},
          {"left_out", made.hypotheses.left_out},
          {"tests", std::move(tests)},
          {"repairs", std::move(repairs)},
          {"search", plan.search},
          {"expected_cost", plan.policy_tree.expected_cost()},
          {"lower_bound", plan.lower_bound},
          {"optimal", plan.optimal},
          {"stopped", plan.stopped},
          {"other_ways",
           {{"fixed_order", optional(plan.order)},
            {"repairs_alone", plan.repairs_alone.expected_cost},
            {"hand_over", optional(plan.hand_over)},
            {"live_with", optional(plan.live_with)}}},
          {"chart", parse_json(chart, "", problems)}};
}

/// Where the pages go: one to the file itself, several to FILE-1, FILE-2, ...
std::vector<std::filesystem::path> files_for(const std::filesystem::path& out, std::size_t pages) {
  if (pages == 1) return {out};
  std::vector<std::filesystem::path> files;
  for (std::size_t page = 1; page <= pages; ++page) {
    std::filesystem::path name = out.stem();
    name += '-' + std::to_string(page);
    name += out.extension();
    files.push_back(out.parent_path() / name);
  }
  return files;
}

void write_pages(const PlanOptions& options, const std::vector<std::string>& pages) {
  if (options.out.empty()) {
    if (pages.size() > 1) {
      throw ArgumentError("--format svg", "the chart takes " + counted(pages.size(), "page"),
                          "name a file with --out, or take --format html, which holds all pages");
    }
    std::cout << pages.front();
    return;
  }
  const std::vector<std::filesystem::path> files = files_for(options.out, pages.size());
  for (const std::filesystem::path& file : files) {
    if (!options.force && std::filesystem::is_regular_file(file)) {
      throw ModelError({{"", "the file exists already", "choose another name, or add --force to replace it"}},
                       file.string());
    }
  }
  for (std::size_t page = 0; page < pages.size(); ++page) write_text_file(files[page], pages[page]);
  const Screen screen(std::cout, look_of_output());
  for (const std::filesystem::path& file : files) screen.text("wrote " + file.string());
}

/// The plan in the format asked for, a page an entry.
std::vector<std::string> written(const PlanOptions& options, const Case& current, const CaseProblem& made,
                                 const FoundPlan& plan) {
  FlowChartTexts texts = flow_chart_texts(current, made);
  const PlanFormat format = options.written_format();
  if (format == PlanFormat::text) {
    std::ostringstream text;
    show(Screen(text, options.out.empty() ? look_of_output() : Look{}), options, current, plan, texts);
    return {text.str()};
  }
  if (format == PlanFormat::json) return {laid_out(plan_json(options, made, plan, texts))};
  const auto all_ways = ways(plan);
  for (std::size_t i = 1; i < all_ways.size(); ++i) {
    const auto& [way, cost] = all_ways[i];
    texts.notes.push_back("Instead, " + way + ": " + wording::exact_money(cost, texts.currency) + '.');
  }
  const PolicyTree chart = folded(plan.policy_tree, options.fold);
  switch (format) {
    case PlanFormat::markdown:
      return {write_flow_chart_markdown(chart, texts)};
    case PlanFormat::dot:
      return {write_flow_chart_dot(chart, texts)};
    case PlanFormat::html:
      return {write_flow_chart_html(chart, texts)};
    default:
      return write_flow_chart_svg(chart, texts);
  }
}

int run_plan(const PlanOptions& options) {
  const FaultModel model = read_model(options.file);
  const Interruptible interruptible;
  Case current{Solver(model, {}, Interruptible::stop())};
  const StopScope scope(current, Interruptible::stop());
  current.add(read_findings(model, options.file, options.findings));
  std::vector<std::size_t> order;
  const CaseProblem made = problem_with_order(current, options, order);
  write_pages(options, written(options, current, made, make_plan(made, options, order, model.header().currency)));
  return fine;
}

}  // namespace

void add_plan(CLI::App& app, int& status) {
  auto options = std::make_shared<PlanOptions>();
  CLI::App* command = app.add_subcommand("plan", "Work out all steps to the end of the case, as a list or a flow chart")
                          ->group("Commands");
  add_plan_options(*command, *options);
  command->footer(
      "Examples:\n"
      "  faultodds plan models/low-power-petrol.json \\\n"
      "    --finding low_power=present\n"
      "  faultodds plan models/tutorial.json --finding dark=present \\\n"
      "    --search optimal --out lamp.svg");
  command->callback([options, &status] {
    check_plan_options(*options);
    const Format errors = options->written_format() == PlanFormat::json ? Format::json : Format::text;
    status = guarded(errors, [&] { return run_plan(*options); });
  });
}

}  // namespace faultodds::program

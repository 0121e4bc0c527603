// Solves large diagnosis networks exactly, and prints what each took.
//   faultodds_hard_networks [--check] FOLDER [NAME...]
// Networks are the files NAME.uai or NAME.uai.gz in FOLDER, all of them if no NAME is given. Findings come from
// NAME.uai.evid beside it; without that file a network is solved twice, without findings and with findings drawn from
// the network itself. --check works out log P(findings) and some posteriors by eliminating variables, too, which shares
// neither the order nor the tables, and prints the largest difference. Each network has a process of its own, so that
// its peak memory can be told. Times are processor times; estimate and kept are what estimate_cost() predicts for the
// tables and what the compiled junction tree holds of them, without what is impossible.
// SPDX-License-Identifier: BSD-3-Clause
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <random>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/inference/network/expansion.hpp"
#include "faultodds/inference/network/uniform.hpp"
#include "faultodds/inference/network/variable_elimination.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/uai.hpp"

namespace {

using namespace faultodds;
namespace fs = std::filesystem;

constexpr double memory_limit = 20.0 * 1024 * 1024 * 1024;
constexpr double mebibyte = 1024.0 * 1024.0;

/// Of the processor, which other work on the machine does not lengthen.
class Stopwatch {
 public:
  /// Seconds of this process since the last call, or since this was made.
  double lap() {
    const double now = seconds();
    return now - std::exchange(began_, now);
  }

 private:
  static double seconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    const auto of = [](const timeval& time) {
      return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    return of(usage.ru_utime) + of(usage.ru_stime);
  }

  double began_ = seconds();
};

/// Resident memory at its highest so far.
double peak_bytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) * 1024.0;
}

Finding hard_finding(const FaultModel& model, std::size_t variable, std::size_t state) {
  Finding finding{
      .variable = variable, .weights = std::vector<double>(model.state_count(variable), 0.0), .state = state};
  finding.weights[state] = 1.0;
  return finding;
}

/// States of all variables of a Bayesian network, drawn from it.
std::vector<StateIndex> draw(const FaultModel& model, std::mt19937_64& random) {
  std::vector<StateIndex> states(model.size(), 0);
  for (const std::size_t variable : model.topological_order()) {
    const FullTable table = written_out(model, variable);
    std::size_t row = 0;
    for (const std::size_t parent : table.parents) row = row * model.state_count(parent) + states[parent];
    double rest = detail::uniform(random());
    while (states[variable] + 1 < model.state_count(variable) && rest >= table.rows(row, states[variable])) {
      rest -= table.rows(row, states[variable]);
      ++states[variable];
    }
  }
  return states;
}

/// One vehicle drawn from the network, a quarter of whose effects without further effects were looked at.
std::vector<Finding> drawn_findings(const FaultModel& model, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const std::vector<StateIndex> states = draw(model, random);
  std::vector<Finding> findings;
  for (std::size_t variable = 0; variable < model.size(); ++variable) {
    if (model.children(variable).empty() && random() % 4 == 0) {
      findings.push_back(hard_finding(model, variable, states[variable]));
    }
  }
  return findings;
}

/// The network with the findings put into its tables.
std::vector<Potential> reduced_factors(const Network& network, std::span<const Finding> findings, double& log_scale) {
  std::vector<Potential> factors;
  for (Potential factor : network.factors) {
    for (const Finding& finding : findings) {
      const std::size_t slot = network.slot_of[finding.variable];
      if (std::find(factor.scope.begin(), factor.scope.end(), slot) == factor.scope.end()) continue;
      factor = fix_state(factor, slot, *finding.state, network.state_counts);
    }
    if (factor.scope.empty()) {
      log_scale += std::log(factor.values[0]);
    } else {
      factors.push_back(std::move(factor));
    }
  }
  return factors;
}

/// The largest difference between what `solved` answers and what eliminating variables gives: log P(findings), and the
/// posteriors of a few variables.
double difference_from_elimination(const Case& solved) {
  static constexpr std::size_t max_posteriors = 3;
  const FaultModel& model = solved.model();
  const Network network = expand(model, std::vector<Presence>(model.size(), Presence::present));
  double log_scale = 0.0;
  const std::vector<Potential> factors = reduced_factors(network, solved.findings(), log_scale);
  double rest = 0.0;
  const Potential sum = eliminate(factors, network.state_counts, {}, memory_limit, &rest);
  double worst = std::abs(log_scale + rest + std::log(sum.values[0]) - solved.log_evidence());
  std::mt19937_64 random(model.size());
  for (std::size_t i = 0; i < max_posteriors; ++i) {
    const std::size_t variable = static_cast<std::size_t>(random() % model.size());
    if (solved.finding_of(variable) != nullptr) continue;
    const std::size_t kept[] = {network.slot_of[variable]};
    Potential table = eliminate(factors, network.state_counts, kept, memory_limit);
    double total = 0.0;
    for (const double value : table.values) total += value;
    const std::vector<double> posterior = solved.posterior(variable);
    for (std::size_t s = 0; s < posterior.size(); ++s) {
      worst = std::max(worst, std::abs(table.values[s] / total - posterior[s]));
    }
  }
  return worst;
}

void print_heading() {
  std::printf("%-14s %9s %8s %12s %18s %7s %8s %8s %9s %9s %9s  %s\n", "network", "variables", "findings", "entries",
              "log P(findings)", "read s", "compile s", "answer s", "estimate", "kept MiB", "peak MiB", "difference");
}

void solve(const std::string& name, const fs::path& network, bool with_findings, bool check) {
  Stopwatch watch;
  const FaultModel model = read_uai(read_text_file(network), network.string());
  const double reading = watch.lap();
  SolverOptions options;
  options.memory_limit_bytes = memory_limit;
  const Solver solver(model, options);
  if (!solver.has_shared_tree()) throw TooLarge(name, estimate_cost(model, options).bytes, memory_limit, "");
  const double compiling = watch.lap();
  std::vector<Finding> findings;
  const fs::path evidence = network.parent_path() / (name + ".uai.evid");
  if (with_findings && fs::exists(evidence)) {
    for (const auto& [variable, state] : read_uai_evidence(read_text_file(evidence), model, evidence.string())) {
      findings.push_back(hard_finding(model, variable, state));
    }
  } else if (with_findings) {
    findings = drawn_findings(model, 1);
  }
  watch.lap();
  Case current(solver);
  current.add(findings);
  const std::vector<std::vector<double>> posteriors = current.posteriors();
  const double answering = watch.lap();
  const double peak = peak_bytes();
  const CostEstimate cost = estimate_cost(model, options);
  std::printf("%-14s %9zu %8zu %12.0f %18.12f %7.2f %8.2f %8.3f %9.1f %9.1f %9.1f  ", name.c_str(), model.size(),
              findings.size(), cost.entries, current.log_evidence(), reading, compiling, answering,
              cost.bytes / mebibyte, solver.shared_tree()->bytes() / mebibyte, peak / mebibyte);
  std::printf(check ? "%.1e\n" : "not asked\n", check ? difference_from_elimination(current) : 0.0);
}

/// In a process of its own. False if it failed.
bool solve_apart(const std::string& name, const fs::path& network, bool with_findings, bool check) {
  std::fflush(stdout);
  const pid_t child = fork();
  if (child == 0) {
    int status = 0;
    try {
      solve(name, network, with_findings, check);
    } catch (const std::exception& error) {
      std::printf("%-14s %s\n", name.c_str(), error.what());
      status = 1;
    }
    std::fflush(stdout);
    _exit(status);
  }
  int status = 1;
  return child > 0 && waitpid(child, &status, 0) == child && status == 0;
}

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    const std::string file = entry.path().filename().string();
    for (const std::string ending : {".uai", ".uai.gz"}) {
      if (file.ends_with(ending)) names.push_back(file.substr(0, file.size() - ending.size()));
    }
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

int main(int count, char** arguments) {
  std::vector<std::string> rest(arguments + 1, arguments + count);
  const bool check = std::erase(rest, "--check") > 0;
  if (rest.empty() || !fs::is_directory(rest[0])) {
    std::fprintf(stderr, "use: faultodds_hard_networks [--check] FOLDER [NAME...]\n");
    return 2;
  }
  const fs::path folder = rest[0];
  std::vector<std::string> names(rest.begin() + 1, rest.end());
  if (names.empty()) names = names_in(folder);
  print_heading();
  bool all_solved = true;
  for (const std::string& name : names) {
    fs::path network = folder / (name + ".uai.gz");
    if (!fs::exists(network)) network = folder / (name + ".uai");
    if (!fs::exists(folder / (name + ".uai.evid"))) all_solved = solve_apart(name, network, false, check) && all_solved;
    all_solved = solve_apart(name, network, true, check) && all_solved;
  }
  return all_solved ? 0 : 1;
}

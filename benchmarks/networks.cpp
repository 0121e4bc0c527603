// SPDX-License-Identifier: BSD-3-Clause
#include "networks.hpp"

#include <algorithm>
#include <cstdlib>

namespace faultodds_benchmarks {

std::vector<NamedFile> model_files() {
  namespace fs = std::filesystem;
  std::vector<NamedFile> files;
  const auto add = [&files](const fs::path& folder, const std::string& ending) {
    for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
      const std::string name = entry.path().filename().string();
      if (name.ends_with(ending)) files.push_back({name.substr(0, name.size() - ending.size()), entry.path()});
    }
  };
  add(fs::path(FAULTODDS_SOURCE_DIR) / "models", ".json");
  std::erase_if(files, [](const NamedFile& file) { return file.name.ends_with(".schema"); });
  if (const char* networks = std::getenv("FAULTODDS_NETWORKS")) add(networks, ".bif.gz");
  std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
  return files;
}

std::vector<faultodds::VariableIndex> observable(const faultodds::FaultModel& model) {
  std::vector<faultodds::VariableIndex> found = model.with_role(faultodds::Role::symptom);
  const std::vector<faultodds::VariableIndex> tests = model.with_role(faultodds::Role::test);
  found.insert(found.end(), tests.begin(), tests.end());
  if (!found.empty()) return found;
  for (std::size_t variable = 0; variable < model.size(); ++variable) {
    if (model.children(variable).empty()) found.push_back(variable);
  }
  return found;
}

faultodds::Finding rarest_finding(const faultodds::Case& current, std::size_t variable) {
  const std::vector<double> posterior = current.posterior(variable);
  std::size_t rarest = 0;
  for (std::size_t state = 1; state < posterior.size(); ++state) {
    const bool rarer = posterior[state] < posterior[rarest] || posterior[rarest] <= 0.0;
    if (posterior[state] > 0.0 && rarer) rarest = state;
  }
  std::vector<double> weights(posterior.size(), 0.0);
  weights[rarest] = 1.0;
  return {.variable = variable, .weights = weights, .state = rarest};
}

faultodds::Case case_with_findings(const faultodds::Solver& solver, std::size_t count) {
  faultodds::Case current(solver);
  const std::vector<faultodds::VariableIndex> variables = observable(solver.model());
  const std::size_t wanted = std::min(count, variables.size());
  for (std::size_t i = 0; i < wanted; ++i) {
    current.add(rarest_finding(current, variables[i * variables.size() / wanted]));
  }
  return current;
}

}  // namespace faultodds_benchmarks

// A model at the bench: findings in, what leads and what to test next out. For statements of the trade as tests.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/io/model_file.hpp"

namespace support {

using namespace faultodds;
using Findings = std::initializer_list<std::pair<std::string_view, std::string_view>>;

class Workbench {
 public:
  /// `file` is the name of a model in the folder models/.
  explicit Workbench(const std::string& file)
      : solver_(read_model(std::string(FAULTODDS_SOURCE_DIR "/models/") + file)) {}

  [[nodiscard]] const FaultModel& model() const { return solver_.model(); }

  [[nodiscard]] Case vehicle(Findings findings) const {
    Case made(solver_);
    for (const auto& [variable, state] : findings) made.add_finding(variable, state);
    return made;
  }

  /// Probability that a component has any fault.
  [[nodiscard]] double suspicion(const Case& current, std::string_view component) const {
    return 1.0 - current.posterior(component)[0];
  }

  [[nodiscard]] double fault(const Case& current, std::string_view component, std::string_view state) const {
    return current.posterior(component)[model().state_of(model().index_of(component), state)];
  }

  /// The most suspicious components, any fault of each counted together.
  [[nodiscard]] std::vector<std::string> suspects(const Case& current, std::size_t most) const {
    std::vector<std::pair<double, std::string>> all;
    for (const std::size_t component : model().with_role(Role::component)) {
      all.emplace_back(-(1.0 - current.posterior(component)[0]), model().variable(component).name);
    }
    std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min(most, all.size()); ++i) names.push_back(all[i].second);
    return names;
  }

  /// Summed suspicion of the components of a system, the expected number of its faults.
  [[nodiscard]] double suspicion_of_system(const Case& current, std::string_view system) const {
    double sum = 0.0;
    for (const std::size_t component : model().with_role(Role::component)) {
      if (model().variable(component).component().system == system) sum += 1.0 - current.posterior(component)[0];
    }
    return sum;
  }

  /// The ranking by gain for its cost, about the named components, or all in question if none is named. Tests named
  /// in `done` are passed over, as one does with reading codes if the codes themselves were entered.
  [[nodiscard]] std::vector<TestForecast> ranked(const Case& current,
                                                 std::initializer_list<std::string_view> about = {},
                                                 std::initializer_list<std::string_view> done = {}) const {
    RankOptions options;
    options.effects = false;
    for (const std::string_view name : about) options.targets.push_back(model().index_of(name));
    std::vector<TestForecast> tests = rank_tests(current, options).tests;
    std::erase_if(tests, [&](const TestForecast& forecast) {
      return std::find(done.begin(), done.end(), model().variable(forecast.test).name) != done.end();
    });
    return tests;
  }

  [[nodiscard]] std::vector<std::string> names(const std::vector<TestForecast>& tests, std::size_t most) const {
    std::vector<std::string> result;
    for (std::size_t i = 0; i < std::min(most, tests.size()); ++i) {
      result.push_back(model().variable(tests[i].test).name);
    }
    return result;
  }

  /// Place of a test in a ranking, the best one 0; the number of tests if it is missing.
  [[nodiscard]] std::size_t place(const std::vector<TestForecast>& tests, std::string_view test) const {
    const std::size_t index = model().index_of(test);
    const auto found = std::find_if(tests.begin(), tests.end(), [&](const auto& t) { return t.test == index; });
    return static_cast<std::size_t>(found - tests.begin());
  }

 private:
  Solver solver_;
};

[[nodiscard]] inline bool among(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace support

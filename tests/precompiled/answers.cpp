// Posteriors, log P(findings) and gains of model files, as text. Built once with the headers and once with the
// precompiled library, which must give the same.
//   answers FILE...                 writes the answers to standard output
//   answers --against TEXT FILE...  compares with the answers in TEXT; exit status 1 if one differs by more than
//   1e-12
// SPDX-License-Identifier: BSD-3-Clause
#include <cmath>
#include <fstream>
#include <iostream>
#include <span>
#include <string>
#include <vector>

#include "faultodds/faultodds.hpp"
#include "faultodds/io/model_file.hpp"

namespace {

using namespace faultodds;

struct Answer {
  std::string place;
  double value = 0.0;
};

void add_answers_of_case(const Case& vehicle, const std::string& name, std::vector<Answer>& answers) {
  answers.push_back({name + "/log_evidence", vehicle.log_evidence()});
  const std::vector<std::vector<double>> posteriors = vehicle.posteriors();
  for (std::size_t variable = 0; variable < posteriors.size(); ++variable) {
    for (const double p : posteriors[variable]) {
      answers.push_back({name + '/' + vehicle.model().variable(variable).name, p});
    }
  }
  RankOptions options;
  options.effects = false;
  for (const TestForecast& test : rank_tests(vehicle, options).tests) {
    answers.push_back({name + "/gain/" + vehicle.model().variable(test.test).name, test.gain_bits});
  }
}

// A vehicle of which nothing is known, and one with the model's first symptom.
std::vector<Answer> answers_of(const std::string& file) {
  std::vector<Answer> answers;
  const Solver solver(read_model(file));
  add_answers_of_case(Case(solver), file, answers);
  Case vehicle(solver);
  vehicle.add_finding(solver.model().with_role(Role::symptom).at(0), std::size_t{1});
  add_answers_of_case(vehicle, file + "/with_symptom", answers);
  return answers;
}

bool agree(const std::vector<Answer>& answers, const std::string& text) {
  std::ifstream stream(text);
  std::size_t wrong = 0;
  for (const Answer& answer : answers) {
    Answer other;
    stream >> other.place >> other.value;
    if (stream && other.place == answer.place && std::abs(other.value - answer.value) <= 1e-12) continue;
    std::cerr << answer.place << ": " << answer.value << " here, " << other.place << ": " << other.value << " there\n";
    ++wrong;
  }
  std::string rest;
  const bool all_read = !(stream >> rest);
  std::cerr << answers.size() << " answers compared, " << wrong << " differ\n";
  return wrong == 0 && all_read && !answers.empty();
}

}  // namespace

int main(int count, char** values) {
  const std::span<char*> arguments(values, static_cast<std::size_t>(count));
  const bool compare = count > 2 && std::string(arguments[1]) == "--against";
  std::vector<Answer> answers;
  for (const char* file : arguments.subspan(compare ? 3 : 1)) {
    const std::vector<Answer> more = answers_of(file);
    answers.insert(answers.end(), more.begin(), more.end());
  }
  if (compare) return agree(answers, arguments[2]) ? 0 : 1;
  std::cout.precision(17);
  for (const Answer& answer : answers) std::cout << answer.place << ' ' << answer.value << '\n';
  return 0;
}

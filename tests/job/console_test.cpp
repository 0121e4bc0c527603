// The same job by the library alone and at the console: the same findings, the same proposed steps, the same costs.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/io/job_json.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/job/job.hpp"
#include "faultodds/job/report_data.hpp"
#include "faultodds/report/job_report.hpp"

namespace {

using namespace faultodds;
namespace fs = std::filesystem;

/// A step that the library proposed: what the console must show for it.
struct Proposal {
  std::string text;       ///< "Next test: bulb continuity"
  double in_the_end = 0;  ///< expected cost
};

/// A job that follows the advice to its end, and the answers that do the same at the console.
class Walk {
 public:
  Walk(const Solver& solver, const std::string& complaint) : job_(solver) {
    const FaultModel& model = solver.model();
    for (const std::size_t fact : open_facts(job_.current())) {
      job_.add_finding(fact, 0);
      script_.emplace_back("1");
    }
    job_.add_finding(model.index_of(complaint), 1);
    script_.push_back(model.variable(model.index_of(complaint)).name);
    while (take_step()) continue;
  }

  [[nodiscard]] const Job& job() const { return job_; }
  [[nodiscard]] const std::vector<std::string>& script() const { return script_; }
  [[nodiscard]] const std::vector<Proposal>& proposals() const { return proposals_; }

 private:
  /// False at the end of the job.
  bool take_step() {
    const AdvisedStep step = job_.advice().proposed;
    proposals_.push_back({"", step.price.value().in_the_end});
    if (const auto* test = std::get_if<TestStep>(&step.step)) return answer(*test, step);
    if (const auto* repair = std::get_if<RepairStep>(&step.step)) return do_repair(*repair);
    proposals_.back().text = std::holds_alternative<HandOverStep>(step.step) ? "Advice: hand over: " + step.label
                                                                             : "Advice: leave the complaint as it is";
    if (const auto* over = std::get_if<HandOverStep>(&step.step)) {
      job_.hand_over(over->hand_over.value());
      script_.insert(script_.end(), {"v " + step.name, "yes"});
    }
    return false;
  }

  /// The most probable outcome; where symptoms are revealed, none of them.
  bool answer(const TestStep& test, const AdvisedStep& step) {
    proposals_.back().text = "Next test: " + step.label;
    if (!step.reveals.empty()) {
      job_.add_revealed(step.name, {}, true);
      script_.emplace_back("none");
      return true;
    }
    const auto most = std::max_element(
        step.outcomes.begin(), step.outcomes.end(),
        [](const AdvisedOutcome& a, const AdvisedOutcome& b) { return a.probability < b.probability; });
    job_.add_finding(test.test, most->state);
    script_.push_back(std::to_string(most->state + 1));
    return true;
  }

  /// The first repair does not help, the second does.
  bool do_repair(const RepairStep& step) {
    proposals_.back().text = "Advice: repair now";
    const bool cured = !job_.repairs().empty();
    job_.add_repair(step.repair, cured ? CheckResult::cured : CheckResult::still_there);
    script_.insert(script_.end(), {"r", "yes", cured ? "1" : "2"});
    return !cured;
  }

  Job job_;
  std::vector<std::string> script_;
  std::vector<Proposal> proposals_;
};

/// A folder of the test's own that is gone at the end: tests run beside each other.
class Folder {
 public:
  explicit Folder(const std::string& test) : path_(fs::temp_directory_path() / ("faultodds_console_" + test)) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

/// All blanks and line ends as one blank.
std::string on_one_line(const std::string& text) {
  std::istringstream words(text);
  std::string line, word;
  while (words >> word) line += word + ' ';
  return line;
}

/// The expected costs of the rows marked as proposed, in order.
std::vector<double> marked_costs(const std::string& transcript) {
  std::vector<double> costs;
  std::istringstream lines(transcript);
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("  >  ")) continue;
    std::istringstream words(line.substr(line.find_last_not_of(' ') - std::min<std::size_t>(14, line.size() - 1)));
    std::string word, number;
    while (words >> word) {
      if (word.find_first_not_of("0123456789.") == std::string::npos) number = word;
    }
    costs.push_back(std::stod(number));
  }
  return costs;
}

class Console : public testing::TestWithParam<std::pair<std::string, std::string>> {};

TEST_P(Console, TakesTheJobTheWayTheLibraryDoes) {
  const auto& [name, complaint] = GetParam();
  const std::string model_file = FAULTODDS_SOURCE_DIR "/models/" + name;
  const Solver solver(read_model(model_file));
  const Walk walk(solver, complaint);
  const Folder folder(std::to_string(getpid()) + '_' + complaint);
  std::string answers;
  for (const std::string& answer : walk.script()) answers += answer + '\n';
  const JobReport report = report_of(walk.job());
  const std::vector<std::pair<std::string, std::string>> reports = {{"report.md", write_report_markdown(report)},
                                                                    {"report.html", write_report_html(report)},
                                                                    {"report.json", write_report_json(report)}};
  for (const auto& [file, text] : reports) answers += "report " + folder.file(file) + '\n';
  answers += "q\n";
  write_text_file(folder.file("answers"), answers);
  const std::string command = std::string(FAULTODDS_PROGRAM_FILE) + " case " + model_file + " --save " +
                              folder.file("job.json") + " < " + folder.file("answers") + " > " +
                              folder.file("transcript");
  ASSERT_EQ(std::system(command.c_str()), 0);
  const Job at_console = read_job(read_text_file(folder.file("job.json")), solver);
  EXPECT_EQ(at_console.entries(), walk.job().entries());
  EXPECT_EQ(at_console.ledger(), walk.job().ledger());
  EXPECT_EQ(at_console.current().log_evidence(), walk.job().current().log_evidence());
  for (const auto& [file, text] : reports) EXPECT_EQ(read_text_file(folder.file(file)), text) << file;
  const std::string transcript = read_text_file(folder.file("transcript"));
  const std::string line = on_one_line(transcript);
  std::size_t at = 0;
  for (const Proposal& proposal : walk.proposals()) {
    at = line.find(proposal.text, at);
    ASSERT_NE(at, std::string::npos) << proposal.text << "\n" << transcript;
    at += proposal.text.size();
  }
  const std::vector<double> costs = marked_costs(transcript);
  ASSERT_GE(costs.size(), walk.proposals().size());
  for (std::size_t i = 0; i < walk.proposals().size(); ++i) {
    const double expected = walk.proposals()[i].in_the_end;
    EXPECT_NEAR(costs[i], expected, expected < 10.0 ? 0.0051 : 0.51);
  }
}

INSTANTIATE_TEST_SUITE_P(Walks, Console,
                         testing::Values(std::pair("tutorial.json", "dark"), std::pair("tutorial.json", "flickers"),
                                         std::pair("tutorial.json", "dim")),
                         [](const auto& one) {
                           std::string name = one.param.first + "_" + one.param.second;
                           std::erase_if(name, [](char c) { return std::isalnum(static_cast<unsigned char>(c)) == 0; });
                           return name;
                         });

}  // namespace

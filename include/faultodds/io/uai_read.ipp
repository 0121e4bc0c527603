// Reading UAI models and evidence. Part of uai.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <charconv>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/io/network_tables.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/uai.hpp"
#include "faultodds/model/validate.hpp"

namespace faultodds {
namespace detail {

/// Words between blanks, with their places.
class UaiWords {
 public:
  UaiWords(std::string_view text, TextProblems& problems) : text_(text), problems_(problems) { skip_blanks(); }

  [[nodiscard]] bool at_end() const noexcept { return position_ >= text_.size(); }
  [[nodiscard]] std::size_t offset() const noexcept { return position_; }
  /// An upper bound of the words that are left.
  [[nodiscard]] std::size_t max_left() const noexcept { return (text_.size() - position_ + 1) / 2; }

  [[nodiscard]] std::string_view take() {
    const std::size_t start = position_;
    while (position_ < text_.size() && !is_blank(text_[position_])) ++position_;
    const std::string_view word = text_.substr(start, position_ - start);
    skip_blanks();
    return word;
  }

  /// A whole number of at most `most`. Throws ModelError: nothing behind a wrong count can be understood.
  [[nodiscard]] std::size_t take_count(const std::string& what, std::size_t most, const std::string& right) {
    const std::size_t at = position_;
    if (at_end()) fail(at, "the text ends where " + what + " should be", right);
    const std::string_view word = take();
    std::size_t count = 0;
    const auto result = std::from_chars(word.data(), word.data() + word.size(), count);
    if (result.ec != std::errc() || result.ptr != word.data() + word.size() || count > most) {
      fail(at, '"' + std::string(word.substr(0, 40)) + "\" is where " + what + " should be", right);
    }
    return count;
  }

  [[noreturn]] void fail(std::size_t offset, std::string found, std::string remedy) {
    problems_.add(offset, std::move(found), std::move(remedy));
    problems_.throw_if_any();
    throw ModelError({}, problems_.file());
  }

 private:
  [[nodiscard]] static bool is_blank(char c) { return c == ' ' || (c >= '\t' && c <= '\r'); }
  void skip_blanks() {
    while (position_ < text_.size() && is_blank(text_[position_])) ++position_;
  }

  std::string_view text_;
  TextProblems& problems_;
  std::size_t position_ = 0;
};

class UaiReader {
 public:
  UaiReader(std::string_view text, const std::string& file, RowScaling policy)
      : policy_(policy), problems_(text, file), words_(text, problems_) {}

  [[nodiscard]] FaultModel read() {
    const std::size_t start = words_.offset();
    const std::string_view kind = words_.at_end() ? std::string_view() : words_.take();
    bayes_ = kind == "BAYES";
    if (!bayes_ && kind != "MARKOV") {
      words_.fail(start, '"' + std::string(kind.substr(0, 40)) + "\" is at the start",
                  "a UAI model starts with BAYES or MARKOV");
    }
    read_variables();
    read_scopes();
    for (std::size_t f = 0; f < factors_.size() && !problems_.full(); ++f) read_factor(f);
    if (!problems_.full() && !words_.at_end()) {
      problems_.add(words_.offset(), "there is more text behind the last table",
                    "remove it, or mend the number of factors");
    }
    if (bayes_ && !problems_.full()) check_tables();
    problems_.throw_if_any();
    return FaultModel(std::move(parts_), policy_, problems_.file());
  }

 private:
  struct Factor {
    std::vector<VariableIndex> scope;
    std::size_t offset = 0;
    bool sound = true;
  };

  void read_variables() {
    const std::size_t count = words_.take_count("the number of variables", words_.max_left(),
                                                "write how many variables there are, and the states of each");
    // Far more states than the text has numbers are a slip, or an attack on memory.
    const std::size_t max_states = std::max<std::size_t>(1'000'000, words_.max_left());
    parts_.variables.resize(count);
    for (std::size_t v = 0; v < count; ++v) {
      Variable& variable = parts_.variables[v];
      variable.name = std::to_string(v);
      const std::size_t at = words_.offset();
      const std::size_t states = words_.take_count("the number of states of variable " + variable.name, max_states,
                                                   "write a whole number of at least 1");
      if (states == 0) problems_.add(at, "variable " + variable.name + " has no states", "a variable has at least one");
      states_ += states;
      if (states_ > max_states) {
        words_.fail(at, "the variables have more than " + std::to_string(max_states) + " states together",
                    "split the network");
      }
      for (std::size_t s = 0; s < states; ++s) variable.states.push_back({std::to_string(s), {}});
      if (!bayes_) variable.distribution = Unweighted{};
    }
    problems_.throw_if_any();
    table_of_.resize(count);
  }

  void read_scopes() {
    const std::size_t count =
        words_.take_count("the number of factors", words_.max_left(), "write how many factors follow");
    const std::size_t variables = parts_.variables.size();
    const std::string range = "variables are numbered from 0 to " + std::to_string(variables - 1);
    factors_.resize(count);
    for (Factor& factor : factors_) {
      factor.offset = words_.offset();
      const std::size_t size =
          words_.take_count("the number of variables of a factor", std::min(variables, words_.max_left()),
                            "it is at most " + std::to_string(variables));
      for (std::size_t i = 0; i < size; ++i) {
        const std::size_t at = words_.offset();
        factor.scope.push_back(words_.take_count("a variable of a factor", variables - 1, range));
        if (std::find(factor.scope.begin(), factor.scope.end() - 1, factor.scope.back()) == factor.scope.end() - 1)
          continue;
        problems_.add(at, "variable " + std::to_string(factor.scope.back()) + " is listed twice in one factor",
                      "name each variable once");
        factor.sound = false;
      }
      if (bayes_) claim(factor);
      if (problems_.full()) problems_.throw_if_any();
    }
  }

  /// Notes that a factor is the table of the last variable of its scope.
  void claim(Factor& factor) {
    if (factor.scope.empty()) {
      problems_.add(factor.offset, "a factor without variables in a BAYES file",
                    "each factor is the table of a variable");
      factor.sound = false;
      return;
    }
    std::optional<std::size_t>& before = table_of_[factor.scope.back()];
    if (before) {
      problems_.add(factor.offset,
                    "a second table of variable " + std::to_string(factor.scope.back()) + " (the first is in " +
                        problems_.line(*before) + ')',
                    "the last variable of a factor is the one its table is about, and each has one table");
      factor.sound = false;
    }
    before = factor.offset;
  }

  void read_factor(std::size_t f) {
    Factor& factor = factors_[f];
    std::vector<std::size_t> sizes;
    for (const std::size_t v : factor.scope) sizes.push_back(parts_.variables[v].states.size());
    const std::string title = "the table of factor " + std::to_string(f);
    const std::size_t entries = factor.sound ? budget_.take(title, sizes) : 0;
    const std::size_t at = words_.offset();
    const std::size_t count =
        words_.take_count("the number of entries of factor " + std::to_string(f), words_.max_left(),
                          "write how many numbers follow, no more than are there");
    if (factor.sound && count != entries) {
      problems_.add(at, title + " announces " + counted(count, "number"),
                    "its variables call for " + std::to_string(entries));
      factor.sound = false;
    }
    std::vector<double> values = read_numbers(count);
    if (factor.sound) store(factor, f, at, std::move(values));
  }

  [[nodiscard]] std::vector<double> read_numbers(std::size_t count) {
    std::vector<double> values;
    values.reserve(count);
    while (values.size() < count && !problems_.full()) {
      const std::size_t at = words_.offset();
      if (words_.at_end()) words_.fail(at, "the text ends within a table", "write all its numbers");
      const std::string_view word = words_.take();
      double value = 0.0;
      if (const NumberFault fault = read_number(word, value); fault != NumberFault::none) {
        Problem problem = number_problem(word, fault);
        problems_.add(at, std::move(problem.found), std::move(problem.remedy));
      }
      values.push_back(value);
    }
    return values;
  }

  void store(const Factor& factor, std::size_t f, std::size_t offset, std::vector<double> values) {
    if (bayes_) {
      const std::size_t child = factor.scope.back();
      FullTable table{{factor.scope.begin(), factor.scope.end() - 1},
                      Table(parts_.variables[child].states.size(), std::move(values))};
      check_rows_at(parts_.variables, child, table, policy_, offset, problems_);
      parts_.variables[child].distribution = std::move(table);
      return;
    }
    std::vector<Problem> found;
    Potential potential{{factor.scope.begin(), factor.scope.end()}, std::move(values)};
    check_potential(parts_, potential, "", found);
    for (Problem& problem : found) {
      problems_.add(offset, "the table of factor " + std::to_string(f) + ": " + problem.found,
                    std::move(problem.remedy));
    }
    parts_.potentials.push_back(std::move(potential));
  }

  void check_tables() {
    std::vector<std::size_t> offsets;
    for (std::size_t v = 0; v < table_of_.size(); ++v) {
      offsets.push_back(table_of_[v].value_or(0));
      if (!table_of_[v]) {
        problems_.add(0, "variable " + std::to_string(v) + " has no table",
                      "the last variable of a factor is the one its table is about, and each has one table");
      }
      if (problems_.full()) return;
    }
    check_cycles_at(parts_, offsets, problems_);
  }

  const RowScaling policy_;
  TextProblems problems_;
  UaiWords words_;
  TableBudget budget_;
  ModelParts parts_;
  std::vector<Factor> factors_;
  std::vector<std::optional<std::size_t>> table_of_;
  std::size_t states_ = 0;
  bool bayes_ = false;
};

/// The numbers of an evidence file, each with its place and its line, blank ones not counted.
struct UaiEvidence {
  struct Number {
    std::size_t value = 0;
    std::size_t offset = 0;
    std::size_t line = 0;
  };
  std::vector<Number> numbers;
  std::size_t lines = 0;

  UaiEvidence(std::string_view text, TextProblems& problems) {
    UaiWords words(text, problems);
    std::size_t end = 0;
    while (!words.at_end()) {
      const std::size_t at = words.offset();
      const bool new_line = numbers.empty() || text.substr(end, at - end).find('\n') != std::string_view::npos;
      if (new_line) ++lines;
      end = at;
      numbers.push_back({words.take_count("a number of the evidence", static_cast<std::size_t>(-1),
                                          "evidence files hold whole numbers: counts, variables, states"),
                         at, lines - 1});
    }
  }

  /// Whether it holds so many samples, a line each, behind their number on a line of its own.
  [[nodiscard]] bool holds_samples(std::size_t samples) const {
    if (lines != samples + 1 || numbers.front().value != samples || numbers[1].line == 0) return false;
    std::size_t at = 1;
    for (std::size_t line = 1; line < lines; ++line) {
      const std::size_t start = at;
      while (at < numbers.size() && numbers[at].line == line) ++at;
      if ((at - start) % 2 == 0 || numbers[start].value != (at - start) / 2) return false;
    }
    return true;
  }
};

}  // namespace detail

inline FaultModel read_uai(std::string_view text, const std::string& file, RowScaling policy) {
  return detail::UaiReader(checked_utf8(text, file), file, policy).read();
}

inline std::vector<UaiFinding> read_uai_evidence(std::string_view text, const FaultModel& model,
                                                 const std::string& file) {
  text = checked_utf8(text, file);
  TextProblems problems(text, file);
  const detail::UaiEvidence evidence(text, problems);
  const auto& numbers = evidence.numbers;
  if (numbers.empty()) problems.add(0, "there is no evidence", "write 0 if nothing was observed");
  problems.throw_if_any();

  // With an odd number of numbers the first counts the findings; with an even one it counts the samples.
  const std::size_t samples = numbers.front().value;
  const bool several = samples >= 2 && evidence.holds_samples(samples);
  if (several) problems.add(0, "the file holds " + std::to_string(samples) + " samples", "write one file for each");
  const std::size_t count_at = numbers.size() % 2 == 0 ? 1 : 0;
  if (!several && count_at == 1 && samples != 1) {
    problems.add(0, "the file holds " + std::to_string(samples) + " samples or an odd number out",
                 "write the count of the findings, then a variable and a state for each");
  }
  problems.throw_if_any();
  const std::size_t count = numbers[count_at].value;
  const std::size_t left = numbers.size() - count_at - 1;
  if (count != left / 2) {
    problems.add(numbers[count_at].offset,
                 std::to_string(count) + " findings are announced and " + std::to_string(left / 2) + " follow",
                 "both must be the same");
  }

  std::vector<UaiFinding> findings;
  std::vector<bool> seen(model.size(), false);
  for (std::size_t i = count_at + 1; i + 1 < numbers.size(); i += 2) {
    const auto [variable, offset, line] = numbers[i];
    const std::size_t state = numbers[i + 1].value;
    if (variable >= model.size()) {
      problems.add(offset, "there is no variable " + std::to_string(variable),
                   "the model has " + detail::counted(model.size(), "variable") + ", numbered from 0");
    } else if (state >= model.state_count(variable)) {
      problems.add(numbers[i + 1].offset,
                   "variable " + std::to_string(variable) + " has no state " + std::to_string(state),
                   "it has " + detail::counted(model.state_count(variable), "state") + ", numbered from 0");
    } else if (seen[variable]) {
      problems.add(offset, "variable " + std::to_string(variable) + " is observed twice", "keep one of its findings");
    } else {
      seen[variable] = true;
    }
    findings.emplace_back(variable, state);
  }
  problems.throw_if_any();
  return findings;
}

}  // namespace faultodds

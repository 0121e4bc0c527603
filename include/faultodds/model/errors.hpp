// The family of exceptions. Each carries its facts as fields, and a message that names the place and the remedy.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "faultodds/model/index.hpp"

namespace faultodds {

/// One thing wrong with a model or a file: where it is, what was found there, and what would be right.
struct Problem {
  std::string place;   ///< JSON path ("components.fuel_pump.prior"), or "line 12, column 3", or a variable's name
  std::string found;   ///< what was found there
  std::string remedy;  ///< what would be right

  bool operator==(const Problem&) const = default;
};

namespace detail {

/// Adds one to the list. Kept out of line and marked as rare, so that the many places where something can be wrong cost
/// little to compile.
[[gnu::cold, gnu::noinline]] inline void add_problem(std::vector<Problem>& problems, std::string_view place,
                                                     std::string_view found, std::string_view remedy) {
  problems.push_back({std::string(place), std::string(found), std::string(remedy)});
}

}  // namespace detail

/// What went wrong, for whoever words it in another language or acts on it. The facts are fields of the exceptions.
enum class ErrorCode : std::uint8_t {
  model,                 ///< ModelError
  unknown_name,          ///< UnknownName
  argument,              ///< ArgumentError, as are the next ones: none of these
  named_twice,           ///< the same variable, state, test or step is named more than once
  already_found,         ///< the variable has a finding already
  index_out_of_range,    ///< a variable, state, test, repair, row or node that does not exist
  wrong_size,            ///< too few or too many numbers for what they are about
  wrong_number,          ///< not finite, negative, no probability, or beyond what is allowed
  nothing_given,         ///< something is needed and nothing is there
  not_offered,           ///< a step that the problem does not offer, or that was done already
  one_fault_impossible,  ///< the findings need more than one fault
  wrong_reading,         ///< a reading that makes no sense for its test
  contradictory,         ///< a finding that names one state and weighs others
  counted_twice,         ///< findings that count the same evidence twice: what a test showed, and its outcome
  not_revealed,          ///< what the test does not reveal
  wrong_role,            ///< a variable of another role than is needed: a component, a test
  job_has_ended,         ///< nothing but undo is possible
  impossible_findings,   ///< ImpossibleFindings
  too_large,             ///< TooLarge
  stopped,               ///< Stopped by the flag of the call or by a callback
  time_limit,            ///< Stopped: the time of the call is over
  effort_spent,          ///< Stopped: the work that was allowed is done
};

/// The name of a code, as it is written above.
[[nodiscard]] constexpr std::string_view name_of(ErrorCode code) noexcept {
  constexpr std::string_view names[] = {
      "model",         "unknown_name",  "argument",      "named_twice", "already_found",        "index_out_of_range",
      "wrong_size",    "wrong_number",  "nothing_given", "not_offered", "one_fault_impossible", "wrong_reading",
      "contradictory", "counted_twice", "not_revealed",  "wrong_role",  "job_has_ended",        "impossible_findings",
      "too_large",     "stopped",       "time_limit",    "effort_spent"};
  return names[static_cast<std::size_t>(code)];
}

/// Base of all exceptions that this library throws on purpose.
class Error : public std::runtime_error {
 public:
  Error(ErrorCode code, const std::string& text) : std::runtime_error(text), code_(code) {}

  [[nodiscard]] ErrorCode code() const noexcept { return code_; }

 private:
  ErrorCode code_;
};

/// A fault model, or a file that should hold one, is wrong. Lists everything found, not only the first problem.
class ModelError : public Error {
 public:
  explicit ModelError(std::vector<Problem> problems, std::string file = {})
      : Error(ErrorCode::model, describe(problems, file)), problems_(std::move(problems)), file_(std::move(file)) {}

  [[nodiscard]] const std::vector<Problem>& problems() const noexcept { return problems_; }
  /// The file's name, empty for a model made in memory.
  [[nodiscard]] const std::string& file() const noexcept { return file_; }

 private:
  static std::string describe(const std::vector<Problem>& problems, const std::string& file) {
    std::string text;
    for (const Problem& problem : problems) {
      if (!text.empty()) text += '\n';
      if (!file.empty()) text += file + ": ";
      if (!problem.place.empty()) text += problem.place + ": ";
      text += problem.found;
      if (!problem.remedy.empty()) text += "; " + problem.remedy;
    }
    return text;
  }

  std::vector<Problem> problems_;
  std::string file_;
};

/// A name that the model does not know. Offers the nearest known ones, or lists what is known.
class UnknownName : public Error {
 public:
  /// `known` are all names of the kind, for the message if none is near.
  UnknownName(std::string kind, std::string name, std::vector<std::string> nearest, std::string owner = {},
              const std::vector<std::string>& known = {})
      : Error(ErrorCode::unknown_name, describe(kind, name, nearest, owner, known)),
        kind_(std::move(kind)),
        name_(std::move(name)),
        owner_(std::move(owner)),
        nearest_(std::move(nearest)) {}

  /// What was looked for: "variable", "state", ...
  [[nodiscard]] const std::string& kind() const noexcept { return kind_; }
  [[nodiscard]] const std::string& name() const noexcept { return name_; }
  /// The variable whose state was looked for; empty otherwise.
  [[nodiscard]] const std::string& owner() const noexcept { return owner_; }
  [[nodiscard]] const std::vector<std::string>& nearest() const noexcept { return nearest_; }

 private:
  static std::string describe(const std::string& kind, const std::string& name, const std::vector<std::string>& nearest,
                              const std::string& owner, const std::vector<std::string>& known) {
    constexpr std::size_t max_listed = 12;
    std::string text = owner.empty() ? "no " + kind + " is named \"" + name + '"'
                                     : '"' + owner + "\" has no " + kind + " \"" + name + '"';
    for (std::size_t i = 0; i < nearest.size(); ++i) text += (i == 0 ? "; did you mean \"" : ", \"") + nearest[i] + '"';
    if (!nearest.empty()) return text + '?';
    if (known.size() > max_listed) return text + "; none of the " + std::to_string(known.size()) + " known is like it";
    for (std::size_t i = 0; i < known.size(); ++i) text += (i == 0 ? "; known: \"" : ", \"") + known[i] + '"';
    return text;
  }

  std::string kind_;
  std::string name_;
  std::string owner_;
  std::vector<std::string> nearest_;
};

/// A finding, or an argument of a call, that makes no sense by itself: weights that are negative or all zero, an
/// index out of range, an empty set of states.
class ArgumentError : public Error {
 public:
  ArgumentError(std::string argument, std::string found, std::string remedy, ErrorCode code = ErrorCode::argument)
      : Error(code, argument + ": " + found + "; " + remedy),
        argument_(std::move(argument)),
        found_(std::move(found)),
        remedy_(std::move(remedy)) {}

  [[nodiscard]] const std::string& argument() const noexcept { return argument_; }
  [[nodiscard]] const std::string& found() const noexcept { return found_; }
  [[nodiscard]] const std::string& remedy() const noexcept { return remedy_; }

 private:
  std::string argument_;
  std::string found_;
  std::string remedy_;
};

/// One of the findings that clash.
struct ClashingFinding {
  VariableIndex variable;                               ///< its index in the model
  std::string name;                                     ///< of the variable
  std::string state;                                    ///< of a hard finding; otherwise empty
  std::vector<std::pair<std::string, double>> weights;  ///< by the names of the states
  std::string text;                                     ///< "name=state", "name in {a, b}" or "name~(0.2, 0.8)"

  bool operator==(const ClashingFinding&) const = default;
};

/// The findings cannot all be true. Names a smallest set of them that clash: without any one of these, the rest are
/// possible.
class ImpossibleFindings : public Error {
 public:
  explicit ImpossibleFindings(std::vector<ClashingFinding> findings)
      : Error(ErrorCode::impossible_findings, describe(texts_of(findings))),
        findings_(std::move(findings)),
        clash_(texts_of(findings_)) {}

  [[nodiscard]] const std::vector<ClashingFinding>& findings() const noexcept { return findings_; }
  /// The same as text, "name=state" each.
  [[nodiscard]] const std::vector<std::string>& clash() const noexcept { return clash_; }

 private:
  static std::vector<std::string> texts_of(const std::vector<ClashingFinding>& findings) {
    std::vector<std::string> texts;
    for (const ClashingFinding& finding : findings) texts.push_back(finding.text);
    return texts;
  }

  static std::string describe(const std::vector<std::string>& clash) {
    std::string text = clash.size() == 1 ? "this finding cannot be true under the model: "
                                         : "these findings cannot all be true under the model: ";
    for (std::size_t i = 0; i < clash.size(); ++i) text += (i == 0 ? "" : ", ") + clash[i];
    return text + (clash.size() == 1 ? "; take it back, or mend the model's zeros"
                                     : "; take one of them back, or mend the model's zeros");
  }

  std::vector<ClashingFinding> findings_;
  std::vector<std::string> clash_;
};

/// The work would need more memory than the limit. Thrown before anything is allocated.
class TooLarge : public Error {
 public:
  /// Bytes are doubles because an honest estimate can exceed every integer type.
  TooLarge(const std::string& what, double bytes, double limit_bytes, const std::string& remedy)
      : Error(ErrorCode::too_large, what + describe(bytes, limit_bytes) + remedy),
        what_for_(what),
        bytes_(bytes),
        limit_bytes_(limit_bytes),
        remedy_(remedy) {}

  /// What would need so much.
  [[nodiscard]] const std::string& what_for() const noexcept { return what_for_; }
  [[nodiscard]] const std::string& remedy() const noexcept { return remedy_; }

  [[nodiscard]] double bytes() const noexcept { return bytes_; }
  [[nodiscard]] double limit_bytes() const noexcept { return limit_bytes_; }

 private:
  /// With as many digits as tell the two apart.
  static std::string describe(double bytes, double limit_bytes) {
    int digits = 1;
    const auto text = [&](double amount) { return readable(amount, digits); };
    while (digits < 6 && bytes != limit_bytes && text(bytes) == text(limit_bytes)) ++digits;
    if (bytes != limit_bytes && text(bytes) == text(limit_bytes)) {
      return " needs slightly more than the limit of " + readable(limit_bytes, 1) + "; ";
    }
    return " needs about " + text(bytes) + ", the limit is " + text(limit_bytes) + "; ";
  }

  static std::string readable(double bytes, int digits) {
    static constexpr const char* units[] = {"B", "KiB", "MiB", "GiB", "TiB", "PiB", "EiB"};
    std::size_t unit = 0;
    while (bytes >= 1024.0 && unit + 1 < std::size(units)) {
      bytes /= 1024.0;
      ++unit;
    }
    if (bytes >= 1e15) return "more than 1e15 " + std::string(units[unit]);
    if (bytes >= 1024.0) digits = 1;  // beyond the largest unit
    std::int64_t scale = 1;
    for (int i = 0; i < digits; ++i) scale *= 10;
    const std::int64_t scaled = std::llround(bytes * static_cast<double>(scale));
    std::string fraction = std::to_string(scale + scaled % scale).substr(1);
    fraction.erase(fraction.find_last_not_of('0') + 1);
    return std::to_string(scaled / scale) + (fraction.empty() ? "" : "." + fraction) + ' ' + units[unit];
  }

  std::string what_for_;
  double bytes_;
  double limit_bytes_;
  std::string remedy_;
};

/// A long computation was stopped by its caller or by its time limit. Nothing was changed.
class Stopped : public Error {
 public:
  explicit Stopped(const std::string& text, ErrorCode code = ErrorCode::stopped) : Error(code, text) {}
};

}  // namespace faultodds

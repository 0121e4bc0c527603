// The family of exceptions. Each carries its facts as fields, and a message that names the place and the remedy.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace faultodds {

/// One thing wrong with a model or a file: where it is, what was found there, and what would be right.
struct Problem {
  std::string place;   ///< JSON path ("components.fuel_pump.prior"), or "line 12, column 3", or a variable's name
  std::string found;   ///< what was found there
  std::string remedy;  ///< what would be right

  bool operator==(const Problem&) const = default;
};

/// Base of all exceptions that this library throws on purpose.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A fault model, or a file that should hold one, is wrong. Lists everything found, not only the first problem.
class ModelError : public Error {
 public:
  explicit ModelError(std::vector<Problem> problems, std::string file = {})
      : Error(describe(problems, file)), problems_(std::move(problems)), file_(std::move(file)) {}

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
      : Error(describe(kind, name, nearest, owner, known)),
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
  ArgumentError(std::string argument, const std::string& found, const std::string& remedy)
      : Error(argument + ": " + found + "; " + remedy), argument_(std::move(argument)) {}

  [[nodiscard]] const std::string& argument() const noexcept { return argument_; }

 private:
  std::string argument_;
};

/// The findings cannot all be true. Names a smallest set of them that clash: without any one of these, the rest are
/// possible.
class ImpossibleFindings : public Error {
 public:
  /// `clash` holds the findings as text, "name=state" each.
  explicit ImpossibleFindings(std::vector<std::string> clash) : Error(describe(clash)), clash_(std::move(clash)) {}

  [[nodiscard]] const std::vector<std::string>& clash() const noexcept { return clash_; }

 private:
  static std::string describe(const std::vector<std::string>& clash) {
    std::string text = clash.size() == 1 ? "this finding cannot be true under the model: "
                                         : "these findings cannot all be true under the model: ";
    for (std::size_t i = 0; i < clash.size(); ++i) text += (i == 0 ? "" : ", ") + clash[i];
    return text + (clash.size() == 1 ? "; take it back, or mend the model's zeros"
                                     : "; take one of them back, or mend the model's zeros");
  }

  std::vector<std::string> clash_;
};

/// The work would need more memory than the limit. Thrown before anything is allocated.
class TooLarge : public Error {
 public:
  /// Bytes are doubles because an honest estimate can exceed every integer type.
  TooLarge(const std::string& what, double bytes, double limit_bytes, const std::string& remedy)
      : Error(what + " needs about " + readable(bytes) + ", the limit is " + readable(limit_bytes) + "; " + remedy),
        bytes_(bytes),
        limit_bytes_(limit_bytes) {}

  [[nodiscard]] double bytes() const noexcept { return bytes_; }
  [[nodiscard]] double limit_bytes() const noexcept { return limit_bytes_; }

 private:
  static std::string readable(double bytes) {
    static constexpr const char* units[] = {"B", "KiB", "MiB", "GiB", "TiB", "PiB", "EiB"};
    std::size_t unit = 0;
    while (bytes >= 1024.0 && unit + 1 < std::size(units)) {
      bytes /= 1024.0;
      ++unit;
    }
    if (bytes >= 1e15) return "more than 1e15 " + std::string(units[unit]);
    const std::int64_t tenths = std::llround(bytes * 10.0);
    return std::to_string(tenths / 10) + (tenths % 10 == 0 ? "" : "." + std::to_string(tenths % 10)) + ' ' +
           units[unit];
  }

  double bytes_;
  double limit_bytes_;
};

/// A long computation was stopped by its caller or by its time limit. Nothing was changed.
class Stopped : public Error {
 public:
  using Error::Error;
};

}  // namespace faultodds

// A case at the bench with all that was answered, in order: undone step by step, saved, resumed.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "faultodds/decision/planning/repaired.hpp"

namespace faultodds::program {

/// One answer: a finding, all that a test revealed, or a test that was declined.
struct Step {
  std::size_t variable = 0;        ///< means nothing where the vehicle was handed over
  std::optional<Finding> finding;  ///< nothing: declined, told by `revealed`, or no finding at all
  std::vector<Finding> revealed;   ///< findings of symptoms that doing this test made known
  std::string reading;             ///< the numbers behind `finding`, where it was made of some: "43 psi"
  std::string reason;              ///< of a declined test: "skipped", "could not"
  std::optional<Finding> before;   ///< the finding of this variable that the step replaced
  /// A repair that was done, by index; then `variable` is the check after it, and `finding` what that said, if it was
  /// made.
  std::optional<std::size_t> repair = std::nullopt;
  /// The case was handed over: to which of the model's hand-overs, by index.
  std::optional<std::size_t> hand_over = std::nullopt;

  /// Nothing but an outcome that was not to be had.
  [[nodiscard]] bool is_declined() const { return !reason.empty(); }
};

class CaseLog {
 public:
  explicit CaseLog(Case empty) : started_with_(empty.solver()), books_{std::move(empty), 0, {}, {}, {}} {}

  /// The solver before any repair.
  [[nodiscard]] const Solver& started_with() const noexcept { return started_with_; }

  [[nodiscard]] const Case& current() const noexcept { return books_.current; }
  /// With the repairs done written in; the indices and names of its first variables are those of the model.
  [[nodiscard]] const FaultModel& model() const noexcept { return current().model(); }
  /// Done so far, by index.
  [[nodiscard]] const std::vector<std::size_t>& repairs() const noexcept { return books_.repairs; }

  [[nodiscard]] const std::vector<Step>& steps() const noexcept { return steps_; }
  /// Tests that were declined and have no finding since.
  [[nodiscard]] std::vector<std::size_t> declined() const;

  /// Takes the finding, in place of an earlier one of its variable; `reading` is what it was made of, if numbers.
  /// Throws what Case::change throws; nothing is changed then.
  void record(const Finding& finding, std::string reading = {});
  /// Takes what the test revealed, in one step; the test itself gets no finding. Throws what Case::add throws; nothing
  /// is changed then.
  void record_revealed(std::size_t test, std::vector<Finding> findings);
  void decline(std::size_t variable, std::string reason);
  /// Takes a repair as done, and what the check after it said (0: cured, 1: still there), if it was made. Throws what
  /// after_repair and Case::add throw; nothing is changed then.
  void record_repair(std::size_t repair, std::optional<std::size_t> check);
  /// The vehicle went to this hand-over of the model, by index. What is found there can follow.
  void record_hand_over(std::size_t hand_over);
  /// Takes the last step back and returns it; nothing where there is none.
  std::optional<Step> undo();

 private:
  Solver started_with_;
  Repaired books_;
  std::vector<Repaired> before_repairs_;  // one for each repair done
  std::vector<Step> steps_;
};

/// What a step is about: a variable, the repair that was done, or to whom the vehicle went.
[[nodiscard]] const std::string& step_label(const FaultModel& model, const Step& step);

/// The case as text of a case file.
[[nodiscard]] std::string written_case(const CaseLog& log);

/// Whether a text is a case file, of any version.
[[nodiscard]] bool is_written_case(std::string_view text);

/// Takes the steps of a case file into `log`, which must be empty. Throws ModelError where the text is no case file,
/// was made with another model, or with another version of it and `other_version` is false; UnknownName, ArgumentError
/// and ImpossibleFindings where a step does not fit the model.
void read_case(CaseLog& log, std::string_view text, const std::string& file, bool other_version);

}  // namespace faultodds::program

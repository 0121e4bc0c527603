// An entry of a job: what was found, done, declined or confirmed, and what was charged for it at the time.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "faultodds/decision/work/cost.hpp"
#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/reading.hpp"

namespace faultodds {

/// What a piece of work or a fee cost when it was entered, set-ups included.
struct Charge {
  double minutes = 0.0;             ///< somebody worked
  double wait_minutes = 0.0;        ///< the vehicle waited and nobody worked
  double money = 0.0;               ///< parts, material, fees, in the model's currency
  double labour = 0.0;              ///< minutes at the labour rate, in money
  std::vector<std::string> opens;   ///< access jobs opened for it, by name, in order
  std::vector<std::string> brings;  ///< conditions brought about for it, by name, in order

  /// Money and labour.
  [[nodiscard]] double cost() const noexcept { return money + labour; }

  bool operator==(const Charge&) const = default;
};

/// What was observed of a context, a symptom (a trouble code among them) or a test; the role of the variable says
/// which. The outcome of a test is charged as its work.
struct FindingEntry {
  Finding finding;

  bool operator==(const FindingEntry&) const = default;
};

/// Numbers measured by a test, with their units. Charged as the work of the test.
struct ReadingEntry {
  VariableIndex test;
  std::vector<Measured> readings;
  RepeatedErrors errors = RepeatedErrors::as_in_model;
  std::string text;  ///< as it was typed, or the readings written out: "43 psi; 44 psi"
  Finding finding;   ///< what the readings make under the model

  bool operator==(const ReadingEntry&) const = default;
};

/// The symptoms that a test made known, one by one; the test itself gets no finding. Charged as the work of the test.
struct RevealedEntry {
  VariableIndex test;
  std::vector<Finding> findings;

  bool operator==(const RevealedEntry&) const = default;
};

/// A test that was not done, and why. Not charged.
struct DeclinedEntry {
  VariableIndex test;
  std::string reason;  ///< "no gauge"

  bool operator==(const DeclinedEntry&) const = default;
};

/// What the check after a repair says of the complaint.
enum class CheckResult : std::uint8_t { cured, still_there };

/// The check after a repair, with its own charge.
struct CheckMade {
  CheckResult result = CheckResult::cured;
  Charge charge;

  bool operator==(const CheckMade&) const = default;
};

/// A repair that was carried out. Charged as its work; the check after it has its charge with it.
struct RepairEntry {
  RepairIndex repair;              ///< index into the model's repairs
  std::optional<CheckMade> check;  ///< nothing: it was not checked

  bool operator==(const RepairEntry&) const = default;
};

/// The state of a component that somebody has looked at. Not charged: the model knows no price for it.
struct PartEntry {
  Finding finding;

  bool operator==(const PartEntry&) const = default;
};

/// Access seen to be open and conditions seen to be in place. Not charged.
struct InPlaceEntry {
  InPlace seen;

  bool operator==(const InPlaceEntry&) const = default;
};

/// The vehicle went to a specialist. What is found there may follow. Charged as the fee.
struct HandOverEntry {
  HandOverIndex hand_over;  ///< index into the model's hand-overs

  bool operator==(const HandOverEntry&) const = default;
};

/// How a job ended.
enum class JobEnd : std::uint8_t { cured, handed_over, lived_with, given_up };

/// How it is known that a fault was the cause.
enum class ConfirmedBy : std::uint8_t { sight, test, repair, specialist };

/// A fault that was there, and how that is known.
struct ConfirmedFault {
  VariableIndex component;
  StateIndex state = 1;  ///< an unsound one
  ConfirmedBy by = ConfirmedBy::sight;

  bool operator==(const ConfirmedFault&) const = default;
};

/// The end of the job. It is a record, not evidence: the case stays as it was. Not charged.
struct EndEntry {
  JobEnd end = JobEnd::cured;
  std::vector<ConfirmedFault> confirmed;  ///< none: nothing was confirmed
  std::string note;

  bool operator==(const EndEntry&) const = default;
};

using EntryKind = std::variant<FindingEntry, ReadingEntry, RevealedEntry, DeclinedEntry, RepairEntry, PartEntry,
                               InPlaceEntry, HandOverEntry, EndEntry>;

/// One entry of a job.
struct Entry {
  EntryKind what;
  Charge charge;

  bool operator==(const Entry&) const = default;
};

/// "finding", "reading", "revealed", "declined", "repair", "part", "in_place", "hand_over" or "end".
[[nodiscard]] std::string_view kind_of(const Entry& entry);

/// The test whose work the entry is; nothing for other entries.
[[nodiscard]] std::optional<VariableIndex> test_done(const FaultModel& model, const Entry& entry);

/// The check that belongs to a repair: its own, otherwise that of the model; null if neither names one. Throws
/// ArgumentError if the model has no such repair.
[[nodiscard]] const RepairCheck* check_of(const FaultModel& model, RepairIndex repair);

namespace detail {

/// Throws ArgumentError unless `index` is that of one of `count` things.
void require_index(const std::string& argument, std::size_t index, std::size_t count);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/job/entry.ipp"

// The ledger of a job: money and minutes of each entry as they were at the time, what they add up to, and what is in
// place at the vehicle now.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "faultodds/job/entry.hpp"

namespace faultodds {

/// An amount in hundredths, the nearest; halves away from zero, and what misses one by rounding of doubles is one.
/// Throws ArgumentError if it is not finite or beyond 1e13.
[[nodiscard]] std::int64_t in_cents(double amount);

/// Work that was done or a fee that was paid.
struct LedgerLine {
  std::size_t entry = 0;  ///< index of the entry of the job
  bool is_check = false;  ///< the check after the repair of that entry, not the repair itself
  Charge charge;
  std::int64_t money = 0;   ///< charge.money in hundredths of the currency
  std::int64_t labour = 0;  ///< charge.labour in hundredths

  /// Money and labour, in hundredths.
  [[nodiscard]] std::int64_t cost() const noexcept { return money + labour; }

  bool operator==(const LedgerLine&) const = default;
};

/// What is meant to be spent on a job.
struct JobLimits {
  std::optional<double> budget{};    ///< money for the whole job, labour included; nothing: no limit
  std::optional<double> deadline{};  ///< minutes for the whole job, waiting included; nothing: no limit

  bool operator==(const JobLimits&) const = default;
};

/// What was paid and how long it took, what is left, and what is in place.
struct Ledger {
  std::vector<LedgerLine> lines;       ///< a line for each test, repair, check and hand-over, in order
  Charge total;                        ///< sums of the amounts; everything that was opened and brought about, in order
  std::int64_t money = 0;              ///< sum of the lines' hundredths, so that a bill adds up
  std::int64_t labour = 0;             ///< the same
  InPlace in_place;                    ///< at the vehicle now
  std::optional<double> money_left;    ///< of the budget, at least 0; nothing: no budget
  std::optional<double> minutes_left;  ///< of the deadline, at least 0; nothing: no deadline

  /// Money and labour, in hundredths.
  [[nodiscard]] std::int64_t cost() const noexcept { return money + labour; }
  /// Minutes of work and waiting.
  [[nodiscard]] double time() const noexcept { return total.minutes + total.wait_minutes; }

  bool operator==(const Ledger&) const = default;
};

/// The ledger of these entries. `at_start` is what was in place before the first one. Set-ups are paid once: each
/// charge says what it opened and brought about, and what is in place follows (after_work). Throws ArgumentError if
/// an amount is not finite or negative, or a limit is.
[[nodiscard]] Ledger ledger_of(const FaultModel& model, std::span<const Entry> entries, InPlace at_start,
                               const JobLimits& limits = {});

/// What work costs in a case with this in place, as a charge. Throws as cost_of does.
[[nodiscard]] Charge charge_of(const Case& current, const Work& work, const InPlace& in_place,
                               std::optional<double> labour_rate = {});

namespace detail {

/// Throws ArgumentError if an amount is negative or not finite.
void require_amount(double amount, const std::string& place);
void require_limits(const JobLimits& limits);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/job/ledger.ipp"

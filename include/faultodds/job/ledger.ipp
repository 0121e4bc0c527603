// Bodies of ledger.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "faultodds/job/ledger.hpp"

namespace faultodds {
namespace detail {

inline void require_amount(double amount, const std::string& place) {
  if (std::isfinite(amount) && amount >= 0.0) return;
  throw ArgumentError(place, "it is " + std::to_string(amount), "give a finite number that is not negative",
                      ErrorCode::wrong_number);
}

inline void require_amounts(const Charge& charge, const std::string& place) {
  require_amount(charge.minutes, place + ".minutes");
  require_amount(charge.wait_minutes, place + ".wait_minutes");
  require_amount(charge.money, place + ".money");
  require_amount(charge.labour, place + ".labour");
}

inline void require_limits(const JobLimits& limits) {
  require_amount(limits.budget.value_or(0.0), "budget");
  require_amount(limits.deadline.value_or(0.0), "deadline");
}

/// Goes through the entries of a job in order.
class LedgerWriter {
 public:
  LedgerWriter(const FaultModel& model, InPlace at_start) : model_(model) { ledger_.in_place = std::move(at_start); }

  void write(std::size_t index, const Entry& entry) {
    const std::string place = "entries[" + std::to_string(index) + "].charge";
    if (const auto* repair = std::get_if<RepairEntry>(&entry.what)) {
      write_line(index, false, entry.charge, place);
      if (repair->check && check_of(model_, repair->repair) != nullptr)
        write_line(index, true, repair->check->charge, "entries[" + std::to_string(index) + "].check.charge");
    } else if (std::holds_alternative<HandOverEntry>(entry.what) || test_done(model_, entry)) {
      write_line(index, false, entry.charge, place);
    } else if (const auto* in_place = std::get_if<InPlaceEntry>(&entry.what)) {
      put_in_place(in_place->seen.access, in_place->seen.conditions);
    }
  }

  [[nodiscard]] Ledger take(const JobLimits& limits) {
    const auto left = [](const std::optional<double>& all, double used) {
      return all ? std::optional(std::max(0.0, *all - used)) : std::nullopt;
    };
    ledger_.money_left = left(limits.budget, ledger_.total.cost());
    ledger_.minutes_left = left(limits.deadline, ledger_.time());
    return std::move(ledger_);
  }

 private:
  void put_in_place(const std::vector<std::string>& opens, const std::vector<std::string>& brings) {
    WorkCost done;
    done.opens = opens;
    done.brings = brings;
    ledger_.in_place = after_work(model_, std::move(ledger_.in_place), done);
  }

  void write_line(std::size_t entry, bool is_check, const Charge& charge, const std::string& place) {
    require_amounts(charge, place);
    const LedgerLine line{entry, is_check, charge, in_cents(charge.money), in_cents(charge.labour)};
    Charge& total = ledger_.total;
    total.minutes += charge.minutes;
    total.wait_minutes += charge.wait_minutes;
    total.money += charge.money;
    total.labour += charge.labour;
    total.opens.insert(total.opens.end(), charge.opens.begin(), charge.opens.end());
    total.brings.insert(total.brings.end(), charge.brings.begin(), charge.brings.end());
    ledger_.money += line.money;
    ledger_.labour += line.labour;
    put_in_place(charge.opens, charge.brings);
    ledger_.lines.push_back(line);
  }

  const FaultModel& model_;
  Ledger ledger_;
};

}  // namespace detail

inline std::int64_t in_cents(double amount) {
  constexpr double most = 1e13;
  if (!std::isfinite(amount) || std::abs(amount) > most) {
    throw ArgumentError("amount", "it is " + std::to_string(amount), "give a finite number of at most 1e13",
                        ErrorCode::wrong_number);
  }
  constexpr double rounding_of_doubles = 1e-12;
  return std::llround(amount * 100.0 * (1.0 + rounding_of_doubles));
}

inline Ledger ledger_of(const FaultModel& model, std::span<const Entry> entries, InPlace at_start,
                        const JobLimits& limits) {
  detail::require_limits(limits);
  detail::LedgerWriter writer(model, std::move(at_start));
  for (std::size_t i = 0; i < entries.size(); ++i) writer.write(i, entries[i]);
  return writer.take(limits);
}

inline Charge charge_of(const Case& current, const Work& work, const InPlace& in_place,
                        std::optional<double> labour_rate) {
  const double rate = labour_rate.value_or(current.model().header().labour_rate);
  WorkCost cost = cost_of(current, work, in_place, rate);
  return {.minutes = cost.minutes,
          .wait_minutes = cost.wait_minutes,
          .money = cost.money,
          .labour = cost.minutes / 60.0 * rate,
          .opens = std::move(cost.opens),
          .brings = std::move(cost.brings)};
}

}  // namespace faultodds

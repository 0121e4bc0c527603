// Checks of the readings of tests. Part of validate.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <unordered_set>
#include <variant>
#include <vector>

#include "faultodds/model/row_sum.hpp"
#include "faultodds/model/validate.hpp"
#include "faultodds/model/variable.hpp"

namespace faultodds::detail {

/// Checks the reading of one test.
class ReadingCheck {
 public:
  ReadingCheck(const Variable& variable, const Reading& reading, const std::string& place,
               std::vector<Problem>& problems)
      : variable_(variable), reading_(reading), place_(place), problems_(problems) {}

  void run() {
    const bool limits_stand = check_limits();
    if (limits_stand) check_overlaps();
    const bool range_stands = check_range();
    if (limits_stand && range_stands) check_limits_in_range();
    check_error();
    check_spreads();
  }

 private:
  void add(std::string_view found, std::string_view remedy) { add_problem(problems_, place_, found, remedy); }

  [[nodiscard]] std::string outcome(std::size_t index) const {
    return index < variable_.states.size() ? quoted(variable_.states[index].name) : std::to_string(index);
  }
  static double low(const Band& band) { return band.from.value_or(-std::numeric_limits<double>::infinity()); }
  static double high(const Band& band) { return band.below.value_or(std::numeric_limits<double>::infinity()); }

  void check_outcome(std::size_t index, const std::string& what) {
    if (index < variable_.states.size()) return;
    add(what + " has the outcome index " + std::to_string(index),
        "it has " + counted(variable_.states.size(), "outcome"));
  }

  /// Whether they can be compared.
  bool check_limits() {
    for (const Band& band : reading_.bands) {
      check_outcome(band.outcome, "a limit of its reading");
      if ((band.from && !std::isfinite(*band.from)) || (band.below && !std::isfinite(*band.below)) ||
          !(low(band) < high(band))) {
        add("the limits of " + outcome(band.outcome) + " run from " + shortest_form(low(band)) + " to below " +
                shortest_form(high(band)),
            "limits are finite numbers, the lower one first; leave an open end out");
        return false;
      }
    }
    return true;
  }

  void check_overlaps() {
    const std::vector<Band>& bands = reading_.bands;
    for (std::size_t i = 0; i < bands.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (low(bands[i]) < high(bands[j]) && low(bands[j]) < high(bands[i])) {
          add("the limits of " + outcome(bands[j].outcome) + " and " + outcome(bands[i].outcome) + " overlap",
              "a reading belongs to one outcome: from <= reading < below");
        }
      }
    }
  }

  /// Whether limits can be compared with it.
  bool check_range() {
    const double least = reading_.at_least.value_or(-std::numeric_limits<double>::infinity());
    const double most = reading_.at_most.value_or(std::numeric_limits<double>::infinity());
    const bool finite = (!reading_.at_least || std::isfinite(least)) && (!reading_.at_most || std::isfinite(most));
    if (finite && least < most) return true;
    add("its reading is at least " + shortest_form(least) + " and at most " + shortest_form(most),
        "a range has finite ends, the lower one first; leave an open end out");
    return false;
  }

  void check_limits_in_range() {
    for (const Band& band : reading_.bands) {
      for (const std::optional<double>& limit : {band.from, band.below}) {
        if (!limit) continue;
        const bool inside =
            (!reading_.at_least || *reading_.at_least <= *limit) && (!reading_.at_most || *limit <= *reading_.at_most);
        if (inside) continue;
        add("the limit " + shortest_form(*limit) + " of " + outcome(band.outcome) +
                " lies outside of the range of its "
                "reading",
            "limits lie between at_least and at_most");
      }
    }
  }

  void check_error() {
    if (!reading_.gauge_error) {
      if (reading_.same_instrument) {
        add("repeated readings are to carry the same error, but it has no gauge error",
            "give a gauge error, or leave that out");
      }
      return;
    }
    const auto [fixed, share] = *reading_.gauge_error;
    const bool sound = std::isfinite(fixed) && fixed >= 0.0 && share >= 0.0 && share < 1.0 && fixed + share > 0.0;
    if (sound) return;
    add("its gauge error is " + shortest_form(fixed) + " plus " + shortest_form(share) + " of the reading",
        "it is a standard deviation: a fixed part of at least 0, a share from 0 to below 1, and one of them above 0");
  }

  void check_spreads() {
    if (reading_.spreads.empty()) return;
    std::unordered_set<std::size_t> seen;
    for (const Spread& spread : reading_.spreads) {
      check_outcome(spread.outcome, "a spread of its reading");
      if (!seen.insert(spread.outcome).second)
        add("it has two spreads of " + outcome(spread.outcome), "give one spread for each outcome");
      std::visit([&](const auto& shape) { check_shape(shape, "the spread of " + outcome(spread.outcome)); },
                 spread.shape);
    }
    for (std::size_t s = 0; s < variable_.states.size(); ++s) {
      if (!seen.contains(s))
        add("it has spreads, but none of " + outcome(s), "give one spread for each outcome, or none at all");
    }
  }

  void check_shape(const NormalSpread& shape, const std::string& what) {
    if (std::isfinite(shape.mean) && std::isfinite(shape.sd) && shape.sd > 0.0) return;
    add(what + " has the mean " + shortest_form(shape.mean) + " and the sd " + shortest_form(shape.sd),
        "both are finite numbers, and the sd is above 0");
  }

  void check_shape(const LognormalSpread& shape, const std::string& what) {
    const bool sound = std::isfinite(shape.median) && std::isfinite(shape.log_sd);
    if (sound && shape.median > 0.0 && shape.log_sd > 0.0) return;
    add(what + " has the median " + shortest_form(shape.median) + " and the log_sd " + shortest_form(shape.log_sd),
        "both are finite numbers above 0");
  }

  void check_shape(const UniformSpread& shape, const std::string& what) {
    if (std::isfinite(shape.from) && std::isfinite(shape.to) && shape.from < shape.to) return;
    add(what + " runs from " + shortest_form(shape.from) + " to " + shortest_form(shape.to),
        "both are finite numbers, the lower one first");
  }

  const Variable& variable_;
  const Reading& reading_;
  const std::string& place_;
  std::vector<Problem>& problems_;
};

}  // namespace faultodds::detail

// Two tests in a row: what the best tests are worth when the outcome of the first may decide which one comes second.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"

namespace faultodds {

struct LookAheadOptions {
  RankOptions ranking{};        ///< for the first test and, with the targets of the first, for the second
  Means means{};                ///< tests beyond them are left out
  std::size_t candidates = 10;  ///< that many best tests of the ranking are looked at, as the first and as the second
};

/// The test to follow one outcome of the first: the best of the other candidates, by the measure of the ranking.
struct SecondTest {
  StateIndex state;                   ///< the outcome of the first test
  double probability = 0.0;           ///< of that outcome
  std::optional<VariableIndex> test;  ///< nothing if no candidate is left that can be ranked
  double gain_bits = 0.0;             ///< of the second test, after that outcome
  double minutes = 0.0;               ///< with set-ups, what the first test has put in place left out
  double cost = 0.0;                  ///< as in a ranking
  std::vector<std::string> opens;     ///< access jobs the second test would open
  double wait_minutes = 0.0;          ///< the vehicle waits and nobody works
  std::vector<std::string> brings{};  ///< conditions the second test would bring about
};

/// A first test, and what is expected of it and the second one together.
struct TwoTests {
  VariableIndex first;
  double first_gain_bits = 0.0;       ///< of the first test alone
  double gain_bits = 0.0;             ///< expected of both
  double minutes = 0.0;               ///< expected of both
  double cost = 0.0;                  ///< expected of both
  double gain_per_cost = 0.0;         ///< of those
  std::vector<std::string> opens;     ///< access jobs the first test would open
  std::vector<SecondTest> second;     ///< by outcome of the first, those that can come
  double wait_minutes = 0.0;          ///< expected of both
  std::vector<std::string> brings{};  ///< conditions the first test would bring about
};

/// First tests in the order of what two tests in a row are worth.
struct LookAhead {
  GainKind gain = GainKind::joint;
  std::vector<VariableIndex> targets;
  std::vector<TwoTests> tests;  ///< by what the ranking goes by, worked out for two tests; ties as in a ranking
};

/// Looks two tests ahead: I(F; T1 | findings) + sum over outcomes t of P(t | findings) I(F; T2(t) | findings, t), where
/// T2(t) comes first in the ranking of the other candidates after t. Exact, the same as entering each outcome into a
/// copy of the case and ranking; the targets stay those of the first ranking. If all candidates depend on them through
/// their own tables, and the first's outcomes are products of weights, no outcome is entered: gains after an outcome
/// come from numbers that are linear in the measure on the faults. Costs that depend on a context not found yet are
/// expected over what is known of it before either test. Throws as rank_tests does, and ArgumentError if there are
/// no candidates.
[[nodiscard]] LookAhead look_ahead(const Case& current, const LookAheadOptions& options = {}, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/ranking/look_ahead.ipp"

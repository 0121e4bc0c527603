// What a test separates: how probable its outcomes are under each of some faults, side by side.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"

namespace faultodds {

/// The outcomes of a test if one fault is present; other faults may be present too.
struct OutcomesUnder {
  FaultProbability fault;             ///< with its probability given the findings
  std::vector<double> probabilities;  ///< P(outcome | fault, findings), by outcome; empty if the fault is impossible
};

/// Two faults, by their places in the list, and how far a test tells them apart.
struct FaultPair {
  std::size_t first = 0;
  std::size_t second = 0;
  /// Bhattacharyya coefficient of the outcomes under the two: 1 if the test cannot tell them apart, 0 if it
  /// always can. With it, the probability of taking one for the other is at most sqrt(P1 P2) overlap (Kailath 1967,
  /// "The divergence and Bhattacharyya distance measures in signal selection").
  double overlap = 1.0;
};

/// How a test tells faults apart.
struct TestContrast {
  VariableIndex test;
  std::vector<OutcomesUnder> faults;  ///< as they were named
  /// Of the possible ones, those told apart best first; of equal ones (within 1e-9) those with the larger product of
  /// probabilities.
  std::vector<FaultPair> pairs;
};

/// Compares the outcomes of `test` under faults, of which only component and state are read: those of
/// Ranking::leading, say. Throws ArgumentError if the test has a finding already, or a state does not exist;
/// Stopped.
[[nodiscard]] TestContrast contrast(const Case& current, VariableIndex test, std::span<const FaultProbability> faults,
                                    const Stop& stop = {});

/// Sum over outcomes of sqrt(p q), from 0 to 1 (Bhattacharyya 1943). Throws ArgumentError if the sizes differ.
[[nodiscard]] double overlap(std::span<const double> p, std::span<const double> q);

}  // namespace faultodds

#include "faultodds/decision/evidence/evidence_of_test.ipp"

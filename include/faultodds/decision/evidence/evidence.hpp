// Why a posterior is what it is: the weight of each finding, and which findings go badly with the rest.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {

/// That a variable is in one of these states: a fault is a component in one unsound state.
struct Claim {
  VariableIndex variable;
  std::vector<StateIndex> states;  ///< some of its states, not all

  bool operator==(const Claim&) const = default;
};

/// That a component is not sound, whatever its fault: all states but the first.
[[nodiscard]] Claim not_sound(const FaultModel& model, VariableIndex component);

/// What one finding does to a claim. A weight of evidence is the change of the base-2 logarithm of the odds, in bits:
/// one bit doubles the odds (Good 1950, chapter 6, in decibans). It is infinite if the finding settles the claim,
/// and nothing if the claim was settled without it: then there are no odds to be moved. What is less probable than
/// the smallest double counts as impossible.
struct FindingWeight {
  VariableIndex variable;               ///< that it was found on
  std::optional<double> alone_bits;     ///< this finding alone against none
  std::optional<double> left_out_bits;  ///< all findings against all but this one
  std::optional<double> in_order_bits;  ///< the findings up to this one against those before it
  double probability_alone = 0.0;       ///< P(claim | this finding)
  double probability_left_out = 0.0;    ///< P(claim | all findings but this one)
  double probability_after = 0.0;       ///< P(claim | the findings up to this one)
};

/// The weight of each finding for a claim.
struct Evidence {
  Claim claim;
  double prior = 0.0;                   ///< P(claim), without a finding
  double posterior = 0.0;               ///< P(claim | all findings)
  std::optional<double> total_bits;     ///< sum of the weights in order
  std::vector<FindingWeight> findings;  ///< in the order they were made
};

/// The weight of each finding of the case for a claim. Three propagations for each finding. Throws ArgumentError if the
/// claim names no state, a state twice, a state that does not exist, or all states; TooLarge;
/// Stopped.
[[nodiscard]] Evidence weigh_evidence(const Case& current, const Claim& claim, const Stop& stop = {});

/// Decibans (ten times the base-10 logarithm of the odds) from bits.
[[nodiscard]] double decibans(double bits);

/// A fault under which findings that go badly together are expected.
struct RareCause {
  VariableIndex component;
  StateIndex state;
  double bits = 0.0;  ///< log2 P(fault | findings) / P(fault): they conflict by so much less if it is present
};

/// How badly the findings go together: log2 [prod P(f_i) / P(f_1, ..., f_n)], in bits. Above zero they are less
/// probable together than if they had nothing to do with one another, while effects of one fault are more probable
/// together (Jensen, Chamberlain, Nordahl & Jensen 1991, "Analysis in HUGIN of data conflict"). Weights of likelihood
/// findings may have any scale.
struct Conflict {
  double bits = 0.0;
  std::vector<double> with_rest_bits;  ///< by finding: log2 [P(f) P(the rest) / P(all)]
  /// The fault of a component that takes most away from the conflict: if it takes all of it, the findings may stem
  /// from a rare fault instead of a mistake. Nothing without components or without findings.
  std::optional<RareCause> rare_cause;
};

/// How badly the findings of a case go together. Two propagations a finding. Throws TooLarge; Stopped.
[[nodiscard]] Conflict conflict(const Case& current, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/evidence/evidence.ipp"

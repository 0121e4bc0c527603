// Variables of a fault model: what they are, and what the trade needs to know about them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "faultodds/model/table.hpp"
#include "faultodds/model/work.hpp"

namespace faultodds {

/// What a variable represents. `unclassified` is for plain networks from interchange files.
enum class Role : std::uint8_t { unclassified, context, component, hidden, symptom, test };

/// A state: its name is what files and calls use, its label is for people (empty: the name serves).
struct State {
  std::string name;
  std::string label;

  bool operator==(const State&) const = default;
};

/// The part of a reading's scale that makes an outcome: from <= reading < below; an absent end is open.
struct Band {
  StateIndex outcome;
  std::optional<double> from;
  std::optional<double> below;

  bool operator==(const Band&) const = default;
};

/// Standard deviation of what a gauge shows about the true value: `fixed`, in the unit of the reading, plus `share` of
/// what it shows, as the accuracies of meters are stated.
struct GaugeError {
  double fixed = 0.0;
  double share = 0.0;

  bool operator==(const GaugeError&) const = default;
};

/// Normal with mean and standard deviation, in the unit of the reading.
struct NormalSpread {
  double mean = 0.0;
  double sd = 1.0;

  bool operator==(const NormalSpread&) const = default;
};

/// The natural logarithm is normal: about that of `median`, with the standard deviation `log_sd`.
struct LognormalSpread {
  double median = 1.0;
  double log_sd = 1.0;

  bool operator==(const LognormalSpread&) const = default;
};

/// Even between two ends.
struct UniformSpread {
  double from = 0.0;
  double to = 1.0;

  bool operator==(const UniformSpread&) const = default;
};

/// How the true values of vehicles with one outcome are spread.
struct Spread {
  StateIndex outcome;
  std::variant<NormalSpread, LognormalSpread, UniformSpread> shape;

  bool operator==(const Spread&) const = default;
};

/// A measured quantity, and what makes outcomes of it: limits that cut its scale, or a spread for each outcome.
struct Reading {
  std::string quantity;
  std::string unit;  ///< SI-style symbol, such as kPa, V, ohm, g/s (see model/unit.hpp)
  std::vector<Band> bands;
  std::string source;
  bool difference = false;  ///< a difference: of temperatures, 1 degC is then 1 K
  std::optional<GaugeError> gauge_error{};
  bool same_instrument = false;      ///< repeated readings carry the same error, instead of an error each
  std::optional<double> at_least{};  ///< numbers below are impossible: the gauge, its unit or the sign is wrong
  std::optional<double> at_most{};
  std::vector<Spread> spreads{};  ///< none, or one for each outcome; they then take the place of the limits

  bool operator==(const Reading&) const = default;
};

/// A discrete variable. State 0 is the sound, normal or absent one wherever there is such a thing.
struct Variable {
  std::string name;
  std::string label;
  std::string description;
  Role role = Role::unclassified;
  std::vector<State> states;
  Distribution distribution;
  std::string source;                   ///< where the numbers of the distribution come from
  std::vector<std::string> properties;  ///< free notes of interchange files, kept as they are

  std::string system;                   ///< component: the part of the vehicle it belongs to
  bool remainder = false;               ///< component: means "not any listed fault"
  std::string question;                 ///< symptom, context, test: how to ask for it at the bench
  bool complaint = false;               ///< symptom: what a customer may come in with
  std::string code;                     ///< symptom: the trouble code that it is
  std::vector<std::string> conditions;  ///< symptom: when it shows ("hot", "under load")
  Work work;                            ///< test: cost and demands
  std::string procedure;                ///< test: how it is done, in one line
  std::optional<Reading> reading;       ///< test: the measured quantity behind the outcomes
  std::vector<VariableIndex> reveals;   ///< test: symptoms that become known by doing it, by index
  std::vector<Gate> only_when{};        ///< test: what has to be found before it makes sense; all must hold
  std::vector<Gate> not_when{};         ///< test: what rules it out once it is found; any does

  bool operator==(const Variable&) const = default;
};

/// The label if there is one, otherwise the name.
[[nodiscard]] inline const std::string& shown(const Variable& variable) {
  return variable.label.empty() ? variable.name : variable.label;
}
[[nodiscard]] inline const std::string& shown(const State& state) {
  return state.label.empty() ? state.name : state.label;
}

}  // namespace faultodds

// Variables of a fault model: what they are, and what the trade needs to know about them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "faultodds/model/table.hpp"
#include "faultodds/model/work.hpp"

namespace faultodds {

/// What a variable represents. `unclassified` is for plain networks from interchange files.
enum class Role : std::uint8_t { unclassified, context, component, hidden, symptom, test };

/// The name of a role, as it is written above.
[[nodiscard]] constexpr std::string_view name_of(Role role) noexcept {
  constexpr std::string_view names[] = {"unclassified", "context", "component", "hidden", "symptom", "test"};
  return names[static_cast<std::size_t>(role)];
}

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

/// A variable of a plain network: nothing is known of what it represents.
struct Unclassified {
  bool operator==(const Unclassified&) const = default;
};

/// A fact known beforehand that shifts priors.
struct Context {
  std::string question;  ///< how to ask for it at the bench

  bool operator==(const Context&) const = default;
};

/// A part or system that can be faulty; its first state is the sound one.
struct Component {
  std::string system;      ///< the part of the vehicle it belongs to
  bool remainder = false;  ///< means "not any listed fault"

  bool operator==(const Component&) const = default;
};

/// A variable between causes and what is seen of them, which nobody finds out directly.
struct Hidden {
  bool operator==(const Hidden&) const = default;
};

/// Something noticed at no cost: the complaint, a smell, a stored trouble code.
struct Symptom {
  std::string question;                 ///< how to ask for it at the bench
  bool complaint = false;               ///< what a customer may come in with
  std::string code;                     ///< the trouble code that it is
  std::vector<std::string> conditions;  ///< when it shows ("hot", "under load")

  bool operator==(const Symptom&) const = default;
};

/// Something one can do at a cost; its states are the outcomes it can end in.
struct Test {
  std::string question;                ///< how to ask for its outcome at the bench
  Work work;                           ///< cost and demands
  std::string procedure;               ///< how it is done, in one line
  std::optional<Reading> reading;      ///< the measured quantity behind the outcomes
  std::vector<VariableIndex> reveals;  ///< symptoms that become known by doing it
  std::vector<Gate> only_when;         ///< what has to be found before it makes sense; all must hold
  std::vector<Gate> not_when;          ///< what rules it out once it is found; any does

  bool operator==(const Test&) const = default;
};

/// What a variable is, with all that belongs to its role alone; in the order of `Role`.
using RoleFacts = std::variant<Unclassified, Context, Component, Hidden, Symptom, Test>;

/// A discrete variable. State 0 is the sound, normal or absent one wherever there is such a thing.
struct Variable {
  std::string name;
  std::string label;
  std::string description;
  RoleFacts what;
  std::vector<State> states;
  Distribution distribution;
  std::string source;                   ///< where the numbers of the distribution come from
  std::vector<std::string> properties;  ///< free notes of interchange files, kept as they are

  [[nodiscard]] Role role() const noexcept { return static_cast<Role>(what.index()); }

  /// What it is as a variable of this role. Throws ArgumentError if it has another one.
  [[nodiscard]] const Context& context() const;
  [[nodiscard]] const Component& component() const;
  [[nodiscard]] const Symptom& symptom() const;
  [[nodiscard]] const Test& test() const;
  [[nodiscard]] Context& context();
  [[nodiscard]] Component& component();
  [[nodiscard]] Symptom& symptom();
  [[nodiscard]] Test& test();

  /// How to ask for it at the bench; empty if the model does not say, or for a role that nobody is asked about.
  [[nodiscard]] const std::string& question() const noexcept;

  bool operator==(const Variable&) const = default;
};

/// What it is as a test. Any variable can be ranked as one: a variable of another role costs nothing as a test, reveals
/// nothing and makes sense at any time.
[[nodiscard]] const Test& as_test(const Variable& variable) noexcept;

/// Whether it is the component that means "not any listed fault".
[[nodiscard]] bool is_remainder(const Variable& variable) noexcept;

/// The label if there is one, otherwise the name.
[[nodiscard]] inline const std::string& shown(const Variable& variable) {
  return variable.label.empty() ? variable.name : variable.label;
}
[[nodiscard]] inline const std::string& shown(const State& state) {
  return state.label.empty() ? state.name : state.label;
}

/// Its question if there is one, otherwise what is shown of it.
[[nodiscard]] inline const std::string& asked(const Variable& variable) {
  const std::string& question = variable.question();
  return question.empty() ? shown(variable) : question;
}

}  // namespace faultodds

#include "faultodds/model/variable.ipp"

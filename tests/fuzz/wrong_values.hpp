// Values that fit nothing, and what a call must make of them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <gtest/gtest.h>

#include <cstdint>
#include <exception>
#include <limits>
#include <string>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/model/errors.hpp"
#include "support/random_model.hpp"

namespace support {

/// An index that something of this size does not have.
inline std::size_t no_index(Dice& dice, std::size_t size) {
  const std::size_t far[] = {size,
                             size + 1,
                             size + dice.below(1000),
                             std::size_t{1} << 32U,
                             std::numeric_limits<std::size_t>::max(),
                             std::numeric_limits<std::size_t>::max() / 8};
  return far[dice.below(std::size(far))];
}

/// Another size than this one.
inline std::size_t other_size(Dice& dice, std::size_t size) {
  const std::size_t sizes[] = {0, size / 2, size + 1, size + 2 + dice.below(50)};
  const std::size_t made = sizes[dice.below(std::size(sizes))];
  return made == size ? size + 1 : made;
}

inline double wrong_weight(Dice& dice) {
  const double wrong[] = {-1.0, -1e-300, std::numeric_limits<double>::quiet_NaN(),
                          std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  return wrong[dice.below(std::size(wrong))];
}

/// A finding that cannot be right: a variable or a state that does not exist, too few weights, negative ones.
inline Finding wrong_finding(Dice& dice, const FaultModel& model) {
  const std::size_t known = dice.below(model.size());
  const std::size_t states = model.state_count(known);
  Finding finding{known, std::vector<double>(states, 1.0), std::nullopt};
  switch (dice.below(7)) {
    case 0:
      finding.variable = no_index(dice, model.size());
      break;
    case 1:
      finding.weights.resize(other_size(dice, states), 1.0);
      break;
    case 2:
      finding.weights[dice.below(states)] = wrong_weight(dice);
      break;
    case 3:
      finding.weights.assign(states, 0.0);
      break;
    case 4:
      finding.state = no_index(dice, states);
      break;
    case 5:
      finding.state = dice.below(states);  // while other states have weights
      break;
    default:
      finding.weights.assign(states, 0.0);
      finding.weights[0] = 1.0;
      finding.state = 1;
  }
  return finding;
}

/// The call must throw ArgumentError or UnknownName, and nothing else.
template <class Call>
void refuses(const std::string& what, const Call& call) {
  try {
    call();
    ADD_FAILURE() << what << ": was not refused";
  } catch (const ArgumentError&) {
  } catch (const UnknownName&) {
  } catch (const std::exception& error) {
    ADD_FAILURE() << what << ": " << error.what();
  }
}

/// The call may do its work or throw an exception of the library.
template <class Call>
void survives(const std::string& what, const Call& call) {
  try {
    call();
  } catch (const Error&) {
  } catch (const std::exception& error) {
    ADD_FAILURE() << what << ": " << error.what();
  }
}

}  // namespace support

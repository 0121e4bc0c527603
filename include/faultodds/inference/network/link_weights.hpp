// What the links of noisy-MAX effects say, cumulated: written out once for a model.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds::detail {

/// P_i(effect <= y | state of cause i) for every link i of every noisy-MAX table.
class LinkWeights {
 public:
  explicit LinkWeights(const FaultModel& model);

  /// Of a link of this variable's table: one number for each state of its cause.
  [[nodiscard]] std::span<const double> up_to(std::size_t variable, std::size_t link, std::size_t y) const {
    const Place& place = places_[first_[variable] + link];
    return std::span(values_).subspan(place.begin + y * place.states, place.states);
  }

 private:
  struct Place {
    std::size_t begin = 0;
    std::size_t states = 0;
  };

  std::vector<std::size_t> first_;  // by variable: its first link
  std::vector<Place> places_;       // by link
  std::vector<double> values_;      // [link][y][state]
};

}  // namespace faultodds::detail

#include "faultodds/inference/network/link_weights.ipp"

// Body of link_weights.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <variant>

#include "faultodds/inference/network/link_weights.hpp"

namespace faultodds::detail {

inline LinkWeights::LinkWeights(const FaultModel& model) {
  for (const Variable& variable : model.variables()) {
    first_.push_back(places_.size());
    const auto* noisy = std::get_if<NoisyMax>(&variable.distribution);
    if (noisy == nullptr) continue;
    for (const Link& link : noisy->links) {
      const std::size_t states = link.effect.rows();
      places_.push_back({values_.size(), states});
      values_.resize(values_.size() + states * noisy->leak.size());
      double* const begin = values_.data() + places_.back().begin;
      for (std::size_t s = 0; s < states; ++s) {
        double sum = 0.0;
        for (std::size_t y = 0; y < noisy->leak.size(); ++y) {
          sum += link.effect(s, y);
          begin[y * states + s] = sum;
        }
      }
    }
  }
}

}  // namespace faultodds::detail

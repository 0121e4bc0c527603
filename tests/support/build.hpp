// Small models in a few lines.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace support {

using namespace faultodds;

class Builder {
 public:
  /// A variable with any distribution. Returns its index, as all of these do.
  std::size_t variable(const std::string& name, const std::vector<std::string>& states, Distribution distribution,
                       const RoleFacts& what = {}) {
    Variable made;
    made.name = name;
    made.what = what;
    for (const std::string& state : states) made.states.push_back({state, ""});
    made.distribution = std::move(distribution);
    parts_.variables.push_back(std::move(made));
    return parts_.variables.size() - 1;
  }

  /// A variable with a full table, row by row, the last parent running fastest.
  std::size_t variable(const std::string& name, const std::vector<std::string>& states,
                       const std::vector<VariableIndex>& parents, const std::vector<double>& rows,
                       const RoleFacts& what = {}) {
    return variable(name, states, FullTable{parents, Table(states.size(), rows)}, what);
  }

  std::size_t component(const std::string& name, double faulty) {
    return variable(name, {"sound", "faulty"}, {}, {1.0 - faulty, faulty}, Component{});
  }

  ModelParts& parts() { return parts_; }
  [[nodiscard]] FaultModel model() const { return FaultModel(parts_); }

 private:
  ModelParts parts_;
};

}  // namespace support

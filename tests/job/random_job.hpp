// Entries of all kinds on any model, drawn from a seed.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/job/job.hpp"
#include "support/random_model.hpp"

namespace support {

using namespace faultodds;

inline void random_finding(Dice& dice, Job& job) {
  const std::size_t size = job.solver().model().size();
  const std::size_t variable = dice.below(size);
  const std::size_t states = job.model().state_count(variable);
  if (dice.chance(0.8)) return job.add_finding(variable, dice.chance(0.6) ? 0 : dice.below(states));
  Finding weighed{.variable = variable, .weights = {}, .state = std::nullopt};
  for (std::size_t s = 0; s < states; ++s) weighed.weights.push_back(0.05 + dice.uniform());
  job.add(std::move(weighed));
}

/// A number near the limits, so that readings weigh as well as decide.
inline void random_reading(Dice& dice, Job& job) {
  std::vector<VariableIndex> measured;
  for (const std::size_t test : job.model().with_role(Role::test)) {
    const std::optional<Reading>& reading = as_test(job.model().variable(test)).reading;
    if (reading && !reading->bands.empty()) measured.push_back(test);
  }
  if (measured.empty()) return;
  const std::size_t test = measured[dice.below(measured.size())];
  const Reading& reading = *job.model().variable(test).test().reading;
  const Band& band = reading.bands[dice.below(reading.bands.size())];
  const double limit = band.from.value_or(band.below.value_or(1.0));
  job.add_readings(test, {{limit * (0.97 + 0.06 * dice.uniform()), reading.unit}});
}

inline void random_revealed(Dice& dice, Job& job) {
  for (const std::size_t test : job.model().with_role(Role::test)) {
    const Variable& variable = job.model().variable(test);
    const std::vector<VariableIndex>& reveals = variable.test().reveals;
    if (reveals.empty()) continue;
    std::vector<std::string> there;
    for (const std::size_t symptom : reveals) {
      if (dice.chance(0.1)) there.push_back(job.model().variable(symptom).name);
    }
    return job.add_revealed(variable.name, there, dice.chance(0.5));
  }
}

/// Records an entry of a random kind; nothing if the model refuses what was drawn. At most `most_repairs` repairs.
inline void random_entry(Dice& dice, Job& job, std::size_t most_repairs) {
  const ModelParts& parts = job.model().parts();
  const double kind = dice.uniform();
  try {
    if (kind < 0.5) {
      random_finding(dice, job);
    } else if (kind < 0.65) {
      random_reading(dice, job);
    } else if (kind < 0.72) {
      random_revealed(dice, job);
    } else if (kind < 0.8 && !parts.repairs.empty() && job.repairs().size() < most_repairs) {
      const std::optional<CheckResult> said[] = {std::nullopt, CheckResult::cured, CheckResult::still_there};
      job.add_repair(dice.below(parts.repairs.size()), said[dice.below(3)]);
    } else if (kind < 0.86 && !parts.access.empty()) {
      job.add_in_place({{parts.access[dice.below(parts.access.size())].name}, {}});
    } else if (kind < 0.92 && !parts.hand_overs.empty()) {
      job.hand_over(dice.below(parts.hand_overs.size()));
    } else {
      job.decline(dice.below(job.solver().model().size()), "for no \"reason\"");
    }
  } catch (const ImpossibleFindings&) {
  } catch (const ArgumentError&) {
  }
}

}  // namespace support

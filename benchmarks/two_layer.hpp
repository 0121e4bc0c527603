// Invented diagnosis models of two layers, from a seed: independent components, and symptoms and tests that are
// noisy-ORs of some of them. All of their numbers are drawn, so they describe no vehicle.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <random>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "faultodds/inference/finding.hpp"
#include "faultodds/inference/network/uniform.hpp"
#include "faultodds/model/fault_model.hpp"

namespace benchmarks {

struct TwoLayers {
  std::size_t components = 200;
  std::size_t effects = 400;
  std::size_t fewest_causes = 2;  ///< of an effect
  std::size_t max_causes = 30;
  std::uint64_t seed = 1;
};

/// Random numbers that are the same on every platform.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : engine_(seed) {}

  double between(double low, double high) { return low + (high - low) * faultodds::detail::uniform(engine_()); }
  std::size_t below(std::size_t end) { return static_cast<std::size_t>(engine_() % end); }
  /// `count` different ones of the numbers below `end`, in random order.
  std::vector<std::size_t> some_below(std::size_t end, std::size_t count) {
    std::vector<std::size_t> all(end);
    for (std::size_t i = 0; i < end; ++i) all[i] = i;
    for (std::size_t i = 0; i < count; ++i) std::swap(all[i], all[i + below(end - i)]);
    all.resize(count);
    return all;
  }

 private:
  std::mt19937_64 engine_;
};

/// Components come first, then the effects, each a test. Priors from 0.1 % to 2 %, strengths from 0.1 to 0.95, leaks
/// from 0.1 % to 1 %.
inline faultodds::FaultModel two_layer_model(const TwoLayers& shape) {
  using namespace faultodds;
  Draw draw(shape.seed);
  ModelParts parts;
  parts.header.name = "two-layers-" + std::to_string(shape.components) + "-" + std::to_string(shape.effects);
  const auto add = [&parts](std::string name, const RoleFacts& what, const char* first,
                            const char* second) -> Variable& {
    Variable variable;
    variable.name = std::move(name);
    variable.what = what;
    variable.states = {{first, ""}, {second, ""}};
    parts.variables.push_back(std::move(variable));
    return parts.variables.back();
  };
  for (std::size_t c = 0; c < shape.components; ++c) {
    const double prior = draw.between(0.001, 0.02);
    add("part_" + std::to_string(c), Component{}, "sound", "faulty").distribution =
        FullTable{{}, Table(2, {1.0 - prior, prior})};
  }
  for (std::size_t e = 0; e < shape.effects; ++e) {
    const std::size_t most = std::min(shape.max_causes, shape.components);
    const std::size_t causes = shape.fewest_causes + draw.below(most - shape.fewest_causes + 1);
    const double leak = draw.between(0.001, 0.01);
    NoisyMax noisy;
    noisy.leak = {1.0 - leak, leak};
    for (const std::size_t cause : draw.some_below(shape.components, causes)) {
      const double strength = draw.between(0.1, 0.95);
      noisy.links.push_back(
          {.cause = cause, .effect = Table(2, {1.0, 0.0, 1.0 - strength, strength}), .only_when = {}, .source = {}});
    }
    add("sign_" + std::to_string(e), Test{}, "absent", "present").distribution = std::move(noisy);
  }
  return FaultModel(std::move(parts));
}

inline faultodds::Finding hard_finding(std::size_t variable, std::size_t state) {
  faultodds::Finding finding{.variable = variable, .weights = std::vector<double>(2, 0.0), .state = state};
  finding.weights[state] = 1.0;
  return finding;
}

/// Findings of a vehicle drawn from the model: `present` and `absent` of its effects, chosen at random. Vehicles are
/// drawn until one shows that many.
inline std::vector<faultodds::Finding> drawn_findings(const faultodds::FaultModel& model, std::size_t present,
                                                      std::size_t absent, std::uint64_t seed) {
  using namespace faultodds;
  Draw draw(seed);
  for (;;) {
    std::vector<StateIndex> states(model.size(), 0);
    std::vector<std::size_t> shown, not_shown;
    for (std::size_t v = 0; v < model.size(); ++v) {
      double sound = 1.0;
      if (const auto* noisy = std::get_if<NoisyMax>(&model.variable(v).distribution); noisy != nullptr) {
        sound = noisy->leak[0];
        for (const Link& link : noisy->links) sound *= link.effect(states[link.cause], 0);
      } else {
        sound = std::get<FullTable>(model.variable(v).distribution).rows(0, 0);
      }
      states[v] = draw.between(0.0, 1.0) < sound ? 0 : 1;
      if (model.variable(v).role() == Role::test) (states[v] == 1 ? shown : not_shown).push_back(v);
    }
    if (shown.size() < present || not_shown.size() < absent) continue;
    std::vector<Finding> findings;
    for (const std::size_t i : draw.some_below(shown.size(), present)) findings.push_back(hard_finding(shown[i], 1));
    for (const std::size_t i : draw.some_below(not_shown.size(), absent)) {
      findings.push_back(hard_finding(not_shown[i], 0));
    }
    return findings;
  }
}

}  // namespace benchmarks

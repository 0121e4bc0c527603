// Small fault models as JSON texts, and checks of what is read from them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cstdint>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "faultodds/io/model_json.hpp"

namespace faultodds::testing {

/// A model around some members.
inline std::string model_with(const std::string& members) {
  return R"({"format": "faultodds-model", "format_version": 1, "name": "m", )" + members + "}";
}

/// `table` as the distribution of a symptom with the states absent, mild, severe; beside it a context of three states
/// and two components.
inline std::string symptom_with(const std::string& table) {
  return model_with(
      R"("context": [{"name": "band", "states": ["low", "middle", "high"], "prior": {"low": 0.2, "middle": 0.5, "high": 0.3}}],
    "components": [{"name": "pump", "states": ["sound", "worn", "dead"], "prior": {"worn": 0.02, "dead": 0.01}}, {"name": "coil", "prior": 0.1}],
    "symptoms": [{"name": "smell", "states": ["absent", "mild", "severe"], )" +
      table + "}]");
}

inline ModelError refusal(const std::string& text, RowScaling policy = {}) {
  try {
    static_cast<void>(read_model_json(text, "m.json", policy));
  } catch (const ModelError& error) {
    return error;
  }
  ADD_FAILURE() << "accepted: " << text;
  return ModelError({});
}

inline void expect_problem(const std::string& text, const std::string& place, const std::vector<std::string>& words) {
  const ModelError error = refusal(text);
  const auto fits = [&](const Problem& problem) {
    const std::string all = problem.found + "; " + problem.remedy;
    return problem.place == place &&
           std::ranges::all_of(words, [&](const std::string& word) { return all.find(word) != std::string::npos; });
  };
  EXPECT_TRUE(std::ranges::any_of(error.problems(), fits))
      << error.what() << "\nwanted at " << place << ": " << words.front();
  EXPECT_EQ(error.file(), "m.json");
}

/// The problem is the only one.
inline void expect_single_problem(const std::string& text, const std::string& place,
                                  const std::vector<std::string>& words) {
  expect_problem(text, place, words);
  EXPECT_EQ(refusal(text).problems().size(), 1U) << refusal(text).what();
}

inline bool same_bits(std::span<const double> a, std::span<const double> b) {
  return std::ranges::equal(
      a, b, [](double x, double y) { return std::bit_cast<std::uint64_t>(x) == std::bit_cast<std::uint64_t>(y); });
}

inline bool same_bits(const Distribution& a, const Distribution& b) {
  if (a.index() != b.index()) return false;
  if (const auto* table = std::get_if<FullTable>(&a)) {
    return same_bits(table->rows.values(), std::get<FullTable>(b).rows.values());
  }
  if (const auto* noisy = std::get_if<NoisyMax>(&a)) {
    const auto& other = std::get<NoisyMax>(b);
    return same_bits(noisy->leak, other.leak) &&
           std::ranges::equal(noisy->links, other.links, [](const Link& x, const Link& y) {
             return same_bits(x.effect.values(), y.effect.values());
           });
  }
  if (const auto* examination = std::get_if<Examination>(&a)) {
    return same_bits(examination->detection, std::get<Examination>(b).detection);
  }
  return true;
}

inline void expect_round_trip(const FaultModel& model) {
  const std::string text = write_model_json(model);
  const FaultModel again = read_model_json(text);
  EXPECT_EQ(again, model) << text;
  EXPECT_TRUE(again.scaled_rows().empty());
  for (std::size_t v = 0; v < model.size(); ++v) {
    EXPECT_TRUE(same_bits(again.variable(v).distribution, model.variable(v).distribution)) << model.variable(v).name;
  }
  EXPECT_EQ(write_model_json(again), text);
}

}  // namespace faultodds::testing
